//! A word looked for to the words of the index it can mean: itself, words that go on from it, words a slip
//! away; each with what it counts.
//!
//! Slips are looked for only where nothing else is found, grow with the length of the word, and never touch
//! codes, colour letters, numbers and values.

use super::fields::Field;
use super::fold::Shape;
use super::open::{Column, Search};
use super::query::Sought;
use super::slips::Slips;
use super::values;
use super::years::{begun, held, meet};
use tantivy::postings::TermInfo;

/// A word of the index that a word looked for can mean.
#[derive(Clone, Debug)]
pub(super) struct Found {
    pub(super) term: TermInfo,
    /// Place of its column.
    pub(super) column: usize,
    pub(super) text: String,
    pub(super) weight: f64,
    /// How many pages have it or one of those found with it.
    pub(super) pages: f64,
}

/// How far to look.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Reach {
    /// For slips only where nothing else is found.
    Near,
    /// For codes whose meaning says a word, too: no card has all words by itself.
    Codes,
    /// For slips of all words that do not stand here: the words were found, and not together.
    Far,
}

/// Words that go on from a start, at most, in one column.
const MOST: usize = 120;
/// What a whole word that means the same counts.
const SAME: f64 = 0.75;
/// What a range of years counts that holds a year.
const HELD: f64 = 0.9;

impl Search {
    /// What a word can mean.
    pub(super) fn found(&self, sought: &Sought, is_typed: bool, reach: Reach) -> Vec<Found> {
        let mut found: Vec<Found> = Vec::new();
        for (at, column) in self.searched() {
            // Four digits that are a code here are that code, or a year.
            let is_code = found
                .first()
                .is_some_and(|one| one.weight == 1.0 && one.column == Field::Codes.at());
            let is_other = sought.shape == Shape::Number && column.field > Field::Place;
            let own = match column.field {
                _ if is_code && is_other && reach == Reach::Near => Vec::new(),
                Field::Pairs => Vec::new(),
                Field::Codes => codes(column, sought),
                Field::Values => numbers(column, sought),
                _ => written(column, sought, is_typed),
            };
            take(&mut found, at, own);
        }
        let plain = sought.shape == Shape::Plain && is_typed;
        // A word that stands here is no slip of another.
        let is_here = || found.iter().any(|one| one.weight == 1.0);
        if plain && !self.in_lessons && (found.is_empty() || (reach == Reach::Far && !is_here())) {
            self.slips(sought, &mut found);
        }
        if sought.shape == Shape::Plain && reach != Reach::Near {
            found.extend(self.lent(&found));
        }
        found
    }

    /// Whether pages have a word, whole, anywhere.
    pub(super) fn has_word(&self, text: &str) -> bool {
        let has = |column: &Column| matches!(column.terms.get(text), Ok(Some(_)));
        self.searched().any(|(_, column)| has(column))
    }

    /// The columns that are searched now, each with its place.
    pub(super) fn searched(&self) -> impl Iterator<Item = (usize, &Column)> {
        let all = self.columns.iter().enumerate();
        all.filter(|(_, column)| (column.field == Field::Lesson) == self.in_lessons)
    }

    /// Words of one stem with another ending: `slipped` and `slipping`.
    fn of_stem(&self, stem: &str, found: &mut Vec<Found>) {
        for (at, column) in self.searched() {
            if matches!(column.field, Field::Pairs | Field::Codes | Field::Values) {
                continue;
            }
            let mut own = Own::new();
            let known = |text: &str| found.iter().any(|one| one.column == at && one.text == text);
            going_on(column, stem, &mut own, |text| {
                (!known(text)).then(|| 0.5 * share(stem, text))
            });
            take(found, at, own);
        }
    }

    /// Words of the same stem; else words a slip away; else words that go on from one a slip away.
    fn slips(&self, sought: &Sought, found: &mut Vec<Found>) {
        let Some(most) = slips_allowed(&sought.text) else {
            return;
        };
        let before = found.len();
        if let Some(stem) = stem(&sought.start) {
            self.of_stem(stem, found);
        }
        if found.len() > before || !sought.may_slip {
            return;
        }
        let near = Slips::of(&sought.text, most);
        self.near(&near, found, |text| slip_weight(&sought.text, text));
        if found.len() == before && sought.start.chars().count() >= 5 {
            let near = Slips::going_on(&sought.start, 1);
            self.near(&near, found, |text| 0.25 * share(&sought.start, text));
        }
    }

    fn near(&self, near: &Slips, found: &mut Vec<Found>, weight: impl Fn(&str) -> f64) {
        for (at, column) in self.searched() {
            if matches!(column.field, Field::Pairs | Field::Codes | Field::Values) {
                continue;
            }
            let known = |text: &str, found: &[Found]| {
                found.iter().any(|one| one.column == at && one.text == text)
            };
            let Ok(mut stream) = column.terms.search(near).into_stream() else {
                continue;
            };
            let mut own = Vec::new();
            while let Some((key, term)) = stream.next() {
                let Ok(text) = std::str::from_utf8(key) else {
                    continue;
                };
                if !known(text, found) && own.len() < MOST {
                    own.push((text.to_owned(), term.clone(), weight(text)));
                }
            }
            take(found, at, own);
        }
    }
}

/// Terms of a column with what each counts.
type Own = Vec<(String, TermInfo, f64)>;

/// Adds a column's terms; those that were only stretched to are as rare as all of them together.
fn take(found: &mut Vec<Found>, column: usize, own: Own) {
    let of =
        |weight: f64| move |(_, _, own): &&(String, TermInfo, f64)| (*own < 1.0) == (weight < 1.0);
    let together = |weight: f64| -> f64 {
        let own = own.iter().filter(of(weight));
        own.map(|(_, term, _)| f64::from(term.doc_freq)).sum()
    };
    let (whole, stretched) = (together(1.0), together(0.0));
    for (text, term, weight) in own {
        found.push(Found {
            pages: if weight < 1.0 { stretched } else { whole },
            term,
            column,
            text,
            weight,
        });
    }
}

/// The word itself.
fn exact(column: &Column, text: &str, weight: f64, own: &mut Own) {
    if let Ok(Some(term)) = column.terms.get(text) {
        own.push((text.to_owned(), term, weight));
    }
}

/// Words that go on from a start, if `fits`.
fn going_on(column: &Column, start: &str, own: &mut Own, fits: impl Fn(&str) -> Option<f64>) {
    let end = format!("{start}\u{10ffff}");
    let range = column.terms.range().ge(start).lt(&end);
    let Ok(mut stream) = range.into_stream() else {
        return;
    };
    let mut left = MOST;
    while let Some((key, term)) = stream.next() {
        let Ok(text) = std::str::from_utf8(key) else {
            continue;
        };
        if let Some(weight) = fits(text) {
            own.push((text.to_owned(), term.clone(), weight));
            left -= 1;
        }
        if left == 0 {
            return;
        }
    }
}

/// Codes: exact, and from a start while it is typed; four digits are looked for behind each letter.
fn codes(column: &Column, sought: &Sought) -> Own {
    let mut own = Own::new();
    let text = sought.text.as_str();
    let starts: Vec<String> = match sought.shape {
        Shape::Code => vec![text.to_owned()],
        Shape::Number if begins_code(text) => vec![text.to_owned()],
        Shape::Number if (2..=4).contains(&text.len()) && begins_code(&format!("p{text}")) => {
            ["p", "c", "b", "u"]
                .map(|letter| format!("{letter}{text}"))
                .into()
        }
        _ => return own,
    };
    for start in &starts {
        exact(column, start, 1.0, &mut own);
    }
    if own.is_empty() && sought.is_open {
        for start in &starts {
            going_on(column, start, &mut own, |_| Some(0.5));
        }
    }
    own
}

/// The first letters of a code, digits among them.
fn begins_code(text: &str) -> bool {
    match text.as_bytes() {
        [system, kind, rest @ ..] => {
            b"pcbu".contains(system)
                && (b'0'..=b'3').contains(kind)
                && rest.len() <= 3
                && rest.iter().all(u8::is_ascii_hexdigit)
        }
        _ => false,
    }
}

/// Values: with the unit exact, without one under every unit, thousands and thousandths too.
fn numbers(column: &Column, sought: &Sought) -> Own {
    let mut own = Own::new();
    exact(column, &sought.text, 1.0, &mut own);
    // Nobody writes a value `0420`.
    let is_code =
        sought.text.len() > 1 && sought.text.starts_with('0') && !sought.text.contains('.');
    if sought.shape == Shape::Number && values::is_number(&sought.text) && !is_code {
        for (power, weight) in [(0, 0.9), (3, 0.6), (-3, 0.6)] {
            let Some(number) = values::moved(&sought.text, power) else {
                continue;
            };
            let unit = |text: &str| {
                let rest = &text[number.len()..];
                let only =
                    !rest.starts_with(|letter: char| letter.is_ascii_digit() || letter == '.');
                (only && !rest.is_empty()).then_some(weight)
            };
            going_on(column, &number, &mut own, unit);
        }
    }
    own
}

/// Words: exact, and going on from what was typed of them.
fn written(column: &Column, sought: &Sought, is_typed: bool) -> Own {
    let mut own = Own::new();
    exact(
        column,
        &sought.text,
        if is_typed { 1.0 } else { SAME },
        &mut own,
    );
    if is_typed && matches!(column.field, Field::Title | Field::Names | Field::Place) {
        holding(column, sought, &mut own);
    }
    let start = sought.start.as_str();
    let least = match (sought.is_open, sought.shape) {
        _ if !is_typed => return own,
        (_, Shape::Value | Shape::Code | Shape::Years) => return own,
        (true, Shape::Number) => 2,
        (false, Shape::Number) => return own,
        (true, _) => 1,
        (false, _) => 3,
    };
    let letters = start.chars().count();
    let names = matches!(column.field, Field::Title | Field::Names);
    if letters < least || (letters < 2 && !names) {
        return own;
    }
    let worth = if sought.is_open { 0.8 } else { 0.6 };
    going_on(column, start, &mut own, |text| {
        let is_new = text != sought.text && (sought.shape != Shape::Number || held(text).is_none());
        is_new.then(|| worth * share(start, text))
    });
    own
}

/// Years of vehicles, where years are looked for: ranges that hold them.
fn holding(column: &Column, sought: &Sought, own: &mut Own) {
    let whole = held(&sought.text);
    let begun = || begun(&sought.text).filter(|_| sought.is_open);
    let Some(years) = whole.clone().or_else(begun) else {
        return;
    };
    let weight = if whole.is_some() { HELD } else { 0.7 * HELD };
    let range = column.terms.range().ge("0").lt(":");
    let Ok(mut stream) = range.into_stream() else {
        return;
    };
    while let Some((key, term)) = stream.next() {
        let Ok(text) = std::str::from_utf8(key) else {
            continue;
        };
        let is_held = held(text).is_some_and(|held| meet(&held, &years));
        if is_held && text != sought.text {
            own.push((text.to_owned(), term.clone(), weight));
        }
    }
}

/// What stays of an English word without the ending of a verb, where that is enough to go by.
fn stem(word: &str) -> Option<&str> {
    let short = word
        .strip_suffix("ing")
        .or_else(|| word.strip_suffix("ed"))?;
    let twice = matches!(short.as_bytes(), [.., one, other] if one == other);
    let stem = if twice {
        &short[..short.len() - 1]
    } else {
        short
    };
    (stem.is_ascii() && stem.len() >= 4).then_some(stem)
}

/// How much of a word was typed: all of it 1, nothing a half.
fn share(start: &str, whole: &str) -> f64 {
    let count = |text: &str| u32::try_from(text.chars().count()).map_or(1.0, f64::from);
    0.5 + 0.5 * (count(start) / count(whole).max(1.0)).min(1.0)
}

/// Slips allowed in a word of this length.
pub(super) fn slips_allowed(text: &str) -> Option<u8> {
    match text.chars().count() {
        0..4 => None,
        4..8 => Some(1),
        _ => Some(2),
    }
}

/// What a word a slip away counts: less with each slip, less where the first letter is another.
fn slip_weight(typed: &str, text: &str) -> f64 {
    let weight = match strsim::osa_distance(typed, text) {
        0 | 1 => 0.5,
        _ => 0.3,
    };
    match typed.chars().next() == text.chars().next() {
        true => weight,
        false => weight * 0.7,
    }
}
