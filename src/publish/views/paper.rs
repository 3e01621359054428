//! The sheet of paper of a card: how large its letters are, and what stands on it besides what always does.
//!
//! In: what is told on a card's page. Out: words by which the style of paper shows it. Always there: the drawing of the
//! connector with its caption, cautions by name, pins, circuit, and every test with what a good circuit reads. The rest comes
//! as far as it fits. Heights are counted in millimetres from letters and drawings, in the order of the page, on the lower
//! of the two sheets (Letter) with the narrower columns (A4); a test prints every card and holds them to it.

use super::card::FirstTest;
use super::drawn::CircuitView;
use super::order::TestView;
use crate::card::Card;
use crate::sheet::Sheet;

/// What a sheet is made of.
pub(super) struct OnPaper<'a> {
    pub(super) card: &'a Card,
    pub(super) sheet: &'a Sheet,
    pub(super) first: &'a FirstTest,
    pub(super) drawn: Option<&'a CircuitView>,
    pub(super) order: &'a [TestView],
    pub(super) sources: &'a [String],
}

/// What was found to fit.
#[derive(Clone, Copy)]
pub(super) struct Paper {
    size: &'static Size,
    shows: Shows,
    /// How many tests of the order, from the first on, tell what wrong readings mean.
    pub(super) told: usize,
}

/// What stands there besides; what is needed least stands first, and is the first to go when a sheet is full.
#[derive(Clone, Copy)]
struct Shows {
    sources: bool,
    notes: bool,
    legend: bool,
    /// Cautions in full, not by name alone.
    cautions: bool,
}

/// Letters of a sheet, in millimetres where nothing else is said.
struct Size {
    name: &'static str,
    /// Height of a letter's square.
    letter: f64,
    /// Height of a line.
    line: f64,
    /// Width of a column.
    column: f64,
    /// Height of the sheet between its margins.
    height: f64,
}

/// Points of type in millimetres.
const POINT: f64 = 25.4 / 72.0;

/// As the style of paper has them, the largest first; none is under eight points.
const SIZES: [Size; 3] = [
    Size::of("roomy", 9.6, 1.25, 93.0, 263.4),
    Size::of("usual", 8.2, 1.2, 93.0, 263.4),
    Size::of("dense", 8.01, 1.15, 94.0, 267.4),
];

/// Part of a letter's height that it is wide, with what is lost at the ends of lines; counted on prints.
const WIDE: f64 = 0.5;
/// CSS pixels of a drawing on paper, where drawings are nine tenths of their size.
const PIXEL: f64 = 0.9 * 25.4 / 96.0;
/// Room that words beside a drawing need at least.
const BESIDE: f64 = 32.0;
/// Part of a column that is counted on: letters are wider in one face than in another.
const COUNTED: f64 = 0.955;

impl Paper {
    /// The largest letters with all that there is; where that is too much, the smallest with what fits.
    pub(super) fn of(page: &OnPaper) -> Self {
        let all = Shows {
            notes: true,
            sources: true,
            legend: true,
            cautions: true,
        };
        let tests = page.order.len();
        let whole = SIZES.iter().map(|size| Self {
            size,
            shows: all,
            told: tests,
        });
        let full = |shows: Shows, told: usize| Self {
            size: &SIZES[2],
            shows,
            told,
        };
        let least = Shows {
            notes: false,
            sources: false,
            ..all
        };
        let fewer = [
            Shows {
                notes: true,
                ..least
            },
            Shows {
                sources: true,
                ..least
            },
            least,
        ];
        let told = (0..tests).rev().map(|told| full(least, told));
        let last = [
            Shows {
                legend: false,
                ..least
            },
            Shows {
                legend: false,
                cautions: false,
                ..least
            },
        ];
        let mut tries = whole
            .chain(fewer.map(|shows| full(shows, tests)))
            .chain(told)
            .chain(last.map(|shows| full(shows, 0)));
        let fits = tries.find(|paper| paper.fits(page));
        fits.unwrap_or_else(|| full(last[1], 0))
    }

    /// Whether cautions stand by name alone.
    pub(super) fn lacks_cautions(&self) -> bool {
        !self.shows.cautions
    }

    /// For the page: the size, then what is shown besides.
    pub(super) fn words(&self) -> String {
        let Shows {
            notes,
            sources,
            legend,
            cautions,
        } = self.shows;
        let besides = [
            (notes, "notes"),
            (sources, "sources"),
            (legend, "legend"),
            (cautions, "cautions"),
        ];
        let besides = besides.iter().filter(|(shown, _)| *shown);
        let besides = besides.map(|(_, word)| *word);
        let words: Vec<&str> = std::iter::once(self.size.name).chain(besides).collect();
        words.join(" ")
    }

    /// Two columns, filled from the top with blocks that are not broken.
    fn fits(&self, page: &OnPaper) -> bool {
        let room = COUNTED * (self.size.height - self.size.frame(page.card));
        let mut left = [room, room].into_iter();
        let mut column = left.next();
        for block in self.blocks(page) {
            while let Some(room) = column
                && room < block
            {
                column = left.next();
            }
            let Some(room) = &mut column else {
                return false;
            };
            *room -= block;
        }
        true
    }

    /// Heights of what stands on the sheet, from the top down.
    fn blocks(&self, page: &OnPaper) -> Vec<f64> {
        let (size, shows) = (self.size, self.shows);
        let mut blocks = vec![size.first(page.first)];
        for caution in &page.sheet.cautions {
            let says = match shows.cautions {
                true => letters(&caution.says),
                false => 0,
            };
            let told = letters(&caution.title) + 2 + says;
            blocks.push(size.text(told, size.column - 5.0) + 0.6 * size.letter);
        }
        if !shows.cautions {
            blocks.push(size.line);
        }
        blocks.extend(size.pins(page));
        if let Some(drawn) = page.drawn {
            let legend = match shows.legend {
                true => size.legend(drawn),
                false => 0.0,
            };
            blocks.push(size.circuit(drawn) + legend);
        }
        for (number, test) in page.order.iter().enumerate() {
            let head = if number == 0 { size.heading() } else { 0.0 };
            blocks.push(head + size.test(test, number < self.told));
        }
        if self.told < page.order.len() {
            blocks.push(2.0 * size.line);
        }
        if shows.notes && !page.card.notes.is_empty() {
            blocks.push(size.heading());
            let notes = page.card.notes.split('\n').filter(|line| !line.is_empty());
            blocks.extend(
                notes.map(|line| size.text(letters(line), size.column) + 0.4 * size.letter),
            );
        }
        blocks.push(size.facts(page, shows.sources));
        blocks
    }
}

fn letters(text: &str) -> usize {
    text.chars().count()
}

impl Size {
    const fn of(name: &'static str, points: f64, line: f64, column: f64, height: f64) -> Self {
        let letter = points * POINT;
        Self {
            name,
            letter,
            line: letter * line,
            column,
            height,
        }
    }

    /// Text of so many letters in this width.
    fn text(&self, letters: usize, width: f64) -> f64 {
        let in_line = (width / (WIDE * self.letter)).floor().max(1.0);
        (letters as f64 / in_line).ceil() * self.line
    }

    /// A heading with what stands around it.
    fn heading(&self) -> f64 {
        1.9 * self.letter
    }

    /// The head of the sheet (the code's square beside title and codes), and its foot.
    fn frame(&self, card: &Card) -> f64 {
        /// Width of both columns, less the code's square.
        const TITLE: f64 = 164.0;
        let title = self.text(letters(&card.title.value), TITLE / 1.5) * 1.5;
        2.0 * self.letter + title + 13.0 + 2.0 * self.line + 0.5 * self.letter
    }

    /// The connector with what the first test reads: beside the drawing where there is room, else below it.
    fn first(&self, first: &FirstTest) -> f64 {
        let inside = self.column - 1.2 * self.letter;
        let (width, height) = (first.size.0 * PIXEL, first.size.1 * PIXEL);
        let shrunk = (inside / width).min(1.0);
        let (width, height) = (width * shrunk, height * shrunk);
        let (told, reads) = first.letters();
        let words = |width: f64| {
            let readings = reads as f64 * 1.9 * self.letter;
            2.8 * self.letter + self.text(told, width) + readings
        };
        let besides = inside - width - 0.4 * self.letter;
        let both = match besides < BESIDE {
            true => height + words(inside),
            false => height.max(words(besides)),
        };
        both + self.text(letters(&first.caption), inside) + 1.6 * self.letter
    }

    /// The table of pins: its head with the first row, then each row.
    fn pins(&self, page: &OnPaper) -> Vec<f64> {
        let head = self.heading() + self.text(160, self.column) + 1.4 * self.line;
        let rows = page.sheet.pins.iter().map(|pin| {
            let role = self.text(letters(&pin.role), 0.17 * self.column);
            let wire = self.text(letters(&pin.wire_words) + 9, 0.2 * self.column);
            let volts = [&pin.unplugged, &pin.plugged].into_iter().flatten();
            let states = volts.map(|band| band.intervals.len()).max().unwrap_or(1);
            let volts = states as f64 * self.line;
            1.2 * role.max(wire).max(volts) + 0.35 * self.letter
        });
        std::iter::once(head).chain(rows).collect()
    }

    fn circuit(&self, drawn: &CircuitView) -> f64 {
        let (width, height) = (drawn.size.0 * PIXEL, drawn.size.1 * PIXEL);
        let height = height * (self.column / width).min(1.0);
        let under = match drawn.under.is_empty() {
            true => 0.0,
            false => self.text(letters(&drawn.under) + 12, self.column),
        };
        self.heading() + height + under
    }

    /// Two beside each other.
    fn legend(&self, drawn: &CircuitView) -> f64 {
        let half = self.column / 2.0 - 2.0;
        let each = drawn.parts.iter();
        let all: f64 = each
            .map(|part| letters(&part.tag) + letters(&part.name) + letters(&part.value) + 3)
            .map(|told| self.text(told, half))
            .sum();
        all / 2.0 + 0.5 * self.line + 0.6 * self.letter
    }

    fn test(&self, test: &TestView, means: bool) -> f64 {
        /// Part of a state's cell that its words fill: a value is not broken.
        const FILLED: f64 = 0.85;
        let told = test.letters();
        let width = self.column - 1.6 * self.letter;
        let line = |letters: usize, margin: f64| match letters {
            0 => 0.0,
            letters => self.text(letters, width) + margin * self.letter,
        };
        let cell = FILLED * (width / 2.0 - 1.5);
        let reads = match told.reads.as_slice() {
            [[computed, stated]] => self.text(computed + stated + 16, width),
            // Two states beside each other, the higher of both.
            states => {
                let of_state = |[computed, stated]: &[usize; 2]| {
                    self.text(*computed, cell) + self.text(*stated, cell)
                };
                let pairs = states.chunks(2);
                let highest = |pair: &[[usize; 2]]| pair.iter().map(of_state).fold(0.0, f64::max);
                pairs.map(|pair| highest(pair) + 0.15 * self.letter).sum()
            }
        };
        let means = if means { told.means } else { 0 };
        let when = match told.when {
            0 => 0,
            when => when + 11,
        };
        let cautions = told.cautions.iter().map(|one| line(*one, 0.4));
        let words = line(when, 0.2) + line(told.steps, 0.0) + line(means, 0.2);
        1.9 * self.letter + words + reads + cautions.sum::<f64>()
    }

    /// What it fits, and where its values come from.
    fn facts(&self, page: &OnPaper, sources: bool) -> f64 {
        let width = self.column - 7.0 * self.letter;
        let fits = page.card.fits.iter();
        let fits: usize = fits.map(|one| letters(&one.value) + 2).sum();
        let sources = page.sources.iter().filter(|_| sources);
        let sources: f64 = sources.map(|one| self.text(letters(one), width)).sum();
        self.heading() + self.text(fits, width) + sources
    }
}
