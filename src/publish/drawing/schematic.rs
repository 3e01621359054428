//! The circuit as a drawing: module at the left, wires, connector, part at the right.
//!
//! In: a [`Plan`] of rows and branches. Out: SVG. A row is one node: a horizontal line, through the
//! connector where it has a pin. A branch hangs between two rows; crossing lines meet only where a dot is.
//! Shapes are those of IEC 60617; the description says them in words.

use super::schematic_pen::{ARROW, Pen};
use super::svg::{Drawing, Element, Picture, label, outlined, path, rectangle};

/// What is drawn, in plain values.
pub(in crate::publish) struct Plan {
    /// From the top down.
    pub(in crate::publish) rows: Vec<Row>,
    /// In the module, each in its column, from the left.
    pub(in crate::publish) module: Half,
    /// In the part.
    pub(in crate::publish) part: Half,
    /// All of it, in words.
    pub(in crate::publish) describes: String,
    /// What the left side is: `module`.
    pub(in crate::publish) left: &'static str,
}

/// What hangs between the rows on one side.
#[derive(Default)]
pub(in crate::publish) struct Half {
    /// Branches.
    pub(in crate::publish) branches: Vec<Branch>,
    /// Columns they take.
    pub(in crate::publish) columns: usize,
}

/// One node.
#[derive(Default)]
pub(in crate::publish) struct Row {
    /// What the module's end of it is.
    pub(in crate::publish) left: Option<Terminal>,
    /// True where the part's end of it is the body.
    pub(in crate::publish) grounded: bool,
    /// Its pin, where it goes through the connector.
    pub(in crate::publish) pin: Option<PinRow>,
}

/// A pin and its wire.
pub(in crate::publish) struct PinRow {
    /// As printed on the connector.
    pub(in crate::publish) label: String,
    /// Letters of the wire, or empty.
    pub(in crate::publish) wire: String,
}

/// The end of a row.
pub(in crate::publish) enum Terminal {
    /// A supply, with its volts.
    Supply(String),
    /// Ground.
    Ground,
    /// Where the module reads.
    Input,
}

/// Parts in a line between two rows.
pub(in crate::publish) struct Branch {
    /// The upper row.
    pub(in crate::publish) from: usize,
    /// The lower row.
    pub(in crate::publish) to: usize,
    /// From the top down; none for a plain wire.
    pub(in crate::publish) symbols: Vec<Symbol>,
    /// Its column.
    pub(in crate::publish) column: usize,
}

/// A part of a branch.
pub(in crate::publish) struct Symbol {
    /// Its shape.
    pub(in crate::publish) shape: Shape,
    /// What it is called in the list beside: `R1`.
    pub(in crate::publish) tag: String,
}

/// The shapes.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::publish) enum Shape {
    /// A rectangle.
    Resistor,
    /// A rectangle with a line across it.
    Varying,
    /// A rectangle with an arrow from the row of this number.
    Sliding(usize),
    /// An open contact.
    Switch,
    /// A triangle and a bar; true where current goes down.
    Diode(bool),
    /// A circle with a bar across; true where current goes down.
    Sink(bool),
    /// A circle with the line through it.
    Source,
}

const COLUMN: f64 = 40.0;
/// From where rows begin at the left to the module's edge, with the widest of what stands there: `input`.
const START: f64 = 52.0;
/// Width of a letter at 12 px, a generous mean of common sans-serif faces.
const LETTER: f64 = 7.2;
/// The connector.
const CONNECTOR: f64 = 30.0;
/// Between two rows that nothing hangs between.
const GAP: f64 = 30.0;
/// Height of a part with its wires.
const PART: f64 = 36.0;
/// The first row: below the names of module, connector and part.
const TOP: f64 = 42.0;

/// Places in the drawing.
struct Places {
    /// Heights of the rows.
    rows: Vec<f64>,
    /// Where rows begin at the left.
    start: f64,
    /// Right edge of the module.
    module: f64,
    /// From there to the contacts.
    wire: f64,
    /// Left edge of the part.
    part: f64,
    /// From there to the middle of its first column.
    inside: f64,
    width: f64,
}

/// The drawing.
pub(in crate::publish) fn draw(plan: &Plan, title: &str) -> Drawing {
    let places = places(plan);
    let foot = places.rows.last().copied().unwrap_or(TOP) + 26.0;
    let mut pen = Pen::default();
    for (number, row) in plan.rows.iter().enumerate() {
        pen.row(plan, &places, number, row);
    }
    for (half, module) in [(&plan.module, true), (&plan.part, false)] {
        for branch in &half.branches {
            pen.branch(plan, &places, branch, module);
        }
    }
    let middle = (places.module + places.wire + places.part) / 2.0 - 8.0;
    let mut elements = vec![
        frame(2.0, places.module, foot),
        frame(places.part, places.width - 2.0, foot),
        label((2.0 + places.module) / 2.0, 13.0, 12.5, plan.left),
        label(middle, 13.0, 12.5, "pins"),
        label((places.part + places.width) / 2.0, 13.0, 12.5, "part"),
        outlined(path(&pen.lines), 1.8),
        path(&pen.solid).word("fill", "currentColor"),
    ];
    elements.extend(pen.texts);
    Picture {
        title,
        describes: &plan.describes,
        width: places.width,
        height: foot + 4.0,
    }
    .sized(elements)
}

fn frame(left: f64, right: f64, foot: f64) -> Element {
    let frame = rectangle(left, 19.0, right - left, foot - 19.0).number("rx", 4.0);
    outlined(frame, 1.0).word("stroke-dasharray", "5 3")
}

fn places(plan: &Plan) -> Places {
    let supplies = plan.rows.iter().filter_map(|row| match &row.left {
        Some(Terminal::Supply(volts)) => Some(volts.chars().count()),
        _ => None,
    });
    let start = supplies.fold(START, |start: f64, letters| {
        start.max(letters as f64 * LETTER + 22.0)
    });
    let module = start + COLUMN * plan.module.columns as f64 + 4.0;
    let pins = || plan.rows.iter().filter_map(|row| row.pin.as_ref());
    let wire = pins().map(PinRow::wire_room).fold(0.0, f64::max);
    let connector = pins().map(PinRow::label_room).fold(CONNECTOR, f64::max);
    let part = module + wire + connector;
    let inside = if plan.leans_on_edge() { 32.0 } else { 22.0 };
    let grounded = plan.rows.iter().any(|row| row.grounded);
    let columns = plan.part.columns.max(1) as f64;
    let width = part + inside - 12.0 + COLUMN * columns + if grounded { 18.0 } else { 2.0 };
    let mut gaps = vec![GAP; plan.rows.len().saturating_sub(1)];
    let mut branches: Vec<&Branch> = plan
        .module
        .branches
        .iter()
        .chain(&plan.part.branches)
        .collect();
    branches.sort_by_key(|branch| branch.to - branch.from);
    for branch in branches {
        let needs = PART * branch.symbols.len() as f64 + 10.0;
        let between = &mut gaps[branch.from..branch.to];
        let missing = needs - between.iter().sum::<f64>();
        if let (true, Some(last)) = (missing > 0.0, between.last_mut()) {
            *last += missing;
        }
    }
    let mut rows = vec![TOP];
    for gap in gaps {
        let above = rows.last().copied().unwrap_or(TOP);
        rows.push(above + gap);
    }
    Places {
        rows,
        start,
        module,
        wire,
        part,
        inside,
        width,
    }
}

impl Places {
    fn column(&self, branch: &Branch, module: bool) -> f64 {
        let start = match module {
            true => self.start + 14.0,
            false => self.part + self.inside,
        };
        start + COLUMN * branch.column as f64
    }
}

impl Pen {
    /// One node's line with its ends, contact and dots.
    fn row(&mut self, plan: &Plan, places: &Places, number: usize, row: &Row) {
        let y = places.rows[number];
        let (left, right) = (
            ends(plan, places, number, true),
            ends(plan, places, number, false),
        );
        let from = match &row.left {
            Some(_) => Some(places.start - 8.0),
            None if row.pin.is_some() => left.first().copied().or(Some(places.module - 6.0)),
            None => left.first().copied(),
        };
        let inner = match &row.pin {
            Some(_) => Some(places.module + places.wire),
            None => left.last().copied(),
        };
        if let (Some(from), Some(inner)) = (from, inner) {
            self.line((from, y), (inner, y));
        }
        let outer = match row.grounded {
            true => Some(places.width - 14.0),
            false => right.last().copied(),
        };
        let from = match &row.pin {
            Some(_) => Some(places.part - 12.0),
            None => right.first().copied(),
        };
        if let (Some(from), Some(outer)) = (from, outer) {
            self.line((from, y), (outer, y));
        }
        for x in left.iter().chain(&right) {
            let corner = Some(*x) == outer || (row.left.is_none() && left.first() == Some(x));
            if !corner || plan.branches_at(number, *x, places) > 1 {
                self.dot(*x, y);
            }
        }
        if row.grounded {
            self.ground(places.width - 14.0, y);
        }
        if let Some(pin) = &row.pin {
            self.contact(pin, places.module, places.wire, y);
        }
        if let Some(terminal) = &row.left {
            self.terminal(terminal, places.start - 8.0, y);
        }
    }

    fn branch(&mut self, plan: &Plan, places: &Places, branch: &Branch, module: bool) {
        let x = places.column(branch, module);
        let (top, foot) = (places.rows[branch.from], places.rows[branch.to]);
        let slider = branch.symbols.iter().find_map(|symbol| match symbol.shape {
            Shape::Sliding(row) => Some(places.rows[row]),
            _ => None,
        });
        let count = branch.symbols.len() as f64;
        let middle = match slider {
            Some(y) if top + 18.0 < y && y < foot - 18.0 && count == 1.0 => y,
            _ => clear_of_rows(&places.rows[branch.from..=branch.to], PART * count),
        };
        let mut y = middle - PART * count / 2.0;
        let mut wire = top;
        for symbol in &branch.symbols {
            let (above, below) = (y + 6.0, y + PART - 6.0);
            self.line((x, wire), (x, above));
            self.symbol(symbol.shape, x, above);
            // Beside the part, on the other side than a slider's arrow.
            let aside = match symbol.shape {
                Shape::Sliding(row) => -17.0 * plan.aside(branch, row, module),
                Shape::Sink(_) | Shape::Source => 19.0,
                _ => 16.0,
            };
            self.texts
                .push(label(x + aside, y + PART / 2.0 + 4.0, 12.0, &symbol.tag));
            if let Shape::Sliding(row) = symbol.shape {
                let aside = plan.aside(branch, row, module);
                self.slide(x, aside, (above + below) / 2.0, places.rows[row]);
            }
            wire = below;
            y += PART;
        }
        self.line((x, wire), (x, foot));
    }
}

/// The middle of a branch's parts: in the gap between two rows where one is high enough, so that no line goes
/// through a part and its letters; the nearest to the middle of all.
fn clear_of_rows(rows: &[f64], needs: f64) -> f64 {
    let (Some(top), Some(foot)) = (rows.first(), rows.last()) else {
        return TOP;
    };
    let middle = (top + foot) / 2.0;
    let gaps = rows.windows(2).filter(|gap| gap[1] - gap[0] + 8.0 >= needs);
    let middles = gaps.map(|gap| (gap[0] + gap[1]) / 2.0);
    let nearest = |one: &f64, other: &f64| (one - middle).abs().total_cmp(&(other - middle).abs());
    middles.min_by(nearest).unwrap_or(middle)
}

/// Where branches meet a row on one side, from the left, each once.
fn ends(plan: &Plan, places: &Places, row: usize, module: bool) -> Vec<f64> {
    let half = if module { &plan.module } else { &plan.part };
    let mut ends = Vec::new();
    for branch in &half.branches {
        let x = places.column(branch, module);
        if [branch.from, branch.to].contains(&row) {
            ends.push(x);
        }
        let slides = |symbol: &Symbol| symbol.shape == Shape::Sliding(row);
        if branch.symbols.iter().any(slides) {
            ends.push(x + plan.aside(branch, row, module) * ARROW);
        }
    }
    ends.sort_by(f64::total_cmp);
    ends.dedup();
    ends
}

impl Plan {
    /// Whether the part's first column has a name at its left, towards the part's edge.
    fn leans_on_edge(&self) -> bool {
        let first = self.part.branches.iter().filter(|one| one.column == 0);
        let mut named = first.flat_map(|one| one.symbols.iter().map(move |symbol| (one, symbol)));
        named.any(|(branch, symbol)| {
            matches!(symbol.shape, Shape::Sliding(row) if 0.0 < self.aside(branch, row, false))
        })
    }

    /// On which side of its body a slider's arrow stands: towards the pin, or towards what it leads to inside.
    fn aside(&self, branch: &Branch, row: usize, module: bool) -> f64 {
        let to_pin = if module { 1.0 } else { -1.0 };
        if self.rows[row].pin.is_some() {
            return to_pin;
        }
        let half = if module { &self.module } else { &self.part };
        let later = |one: &&Branch| one.column > branch.column && [one.from, one.to].contains(&row);
        if half.branches.iter().any(|one| later(&one)) {
            1.0
        } else {
            -1.0
        }
    }

    /// How many branches meet a row at one place.
    fn branches_at(&self, row: usize, x: f64, places: &Places) -> usize {
        let meets = |branch: &&Branch, module: bool| {
            [branch.from, branch.to].contains(&row) && places.column(branch, module) == x
        };
        let module = self.module.branches.iter().filter(|one| meets(one, true));
        let part = self.part.branches.iter().filter(|one| meets(one, false));
        module.count() + part.count()
    }
}
