//! The connector's face: outline, key, pins with big letters, roles, and where test leads go.
//!
//! In: a [`Face`] and [`Marks`]. Out: SVG.

use super::cell::{Cell, LINE, PIN, label_lines, role_lines};
use super::leads::{self, Marks, Stand};
use super::svg::{Drawing, Element, Picture, circle, label, outlined, rectangle};
use crate::card::{Shape, Side};

/// What is drawn, in plain values.
#[derive(Clone)]
pub(in crate::publish) struct Face {
    /// Outline.
    pub(in crate::publish) shape: Shape,
    /// Rows (or rings, the outermost first) of pins as seen.
    pub(in crate::publish) rows: Vec<Vec<FacePin>>,
    /// Where the key sits.
    pub(in crate::publish) keying: Option<Side>,
    /// What is looked at, in words.
    pub(in crate::publish) view: String,
    /// Words under the drawing, or empty.
    pub(in crate::publish) note: String,
}

/// A place as drawn.
#[derive(Clone)]
pub(in crate::publish) enum FacePin {
    /// A pin of the circuit.
    Own {
        /// As printed on the connector.
        label: String,
        /// What it does.
        role: String,
    },
    /// Another circuit's pin, by its label.
    Other(String),
    /// A place without a contact.
    Empty,
}

impl FacePin {
    /// As printed on the connector; empty where there is none.
    pub(super) fn label(&self) -> &str {
        match self {
            Self::Own { label, .. } | Self::Other(label) => label,
            Self::Empty => "",
        }
    }

    /// What it does, of a pin of the circuit.
    pub(super) fn role(&self) -> &str {
        match self {
            Self::Own { role, .. } => role,
            Self::Other(_) | Self::Empty => "",
        }
    }

    fn is_own(&self, named: &str) -> bool {
        matches!(self, Self::Own { label, .. } if label == named)
    }
}

/// How much is drawn.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(in crate::publish) enum Detail {
    /// Pins with their roles.
    Full,
    /// Pins alone, for a second drawing of the same connector.
    Small,
    /// As that, without the words that stand beside it.
    Bare,
}

/// Room for the key and the lead marks around the outline.
const MARGIN: f64 = 16.0;
/// Room for jumpers between a pin and its role.
const LANES: f64 = 12.0;

/// A pin in place.
struct Placed<'a> {
    pin: &'a FacePin,
    x: f64,
    y: f64,
}

/// The drawing.
pub(in crate::publish) fn draw(face: &Face, marks: &Marks, detail: Detail) -> Drawing {
    // Jumpers pass between a pin and its role.
    let lanes = match marks.bridges.is_empty() {
        true => 0.0,
        false => LANES,
    };
    let mut cell = Cell::for_face(face, detail, lanes);
    if face.shape == Shape::Round && 0.0 < lanes {
        // A load's resistor stands between two pins of a ring.
        cell.width = cell.width.max(cell.pin + 30.0);
    }
    let (placed, width, height) = match face.shape {
        Shape::Rectangular => in_rows(face, &cell),
        Shape::Round => in_rings(face, &cell),
    };
    let mut elements = vec![outline(face.shape, width, height)];
    elements.extend(face.keying.map(|side| key(side, width, height)));
    for place in &placed {
        elements.extend(pin(place, face.shape, detail, &cell));
    }
    let mut foot = height + 2.0 * MARGIN;
    if !face.note.is_empty() && detail == Detail::Small {
        let middle = MARGIN + width / 2.0;
        elements.push(label(middle, foot + 9.0, 12.5, &face.note));
        foot += 16.0;
    }
    // Pins of a ring stand close towards its middle, so a mark keeps to the outside.
    let is_left = |x: f64| face.shape == Shape::Round && x < MARGIN + width / 2.0 - 1.0;
    let drawn = leads::draw(marks, foot, detail, |label| {
        let place = placed.iter().find(|place| place.pin.is_own(label))?;
        Some(Stand {
            x: place.x,
            y: place.y,
            across: cell.pin / 2.0,
            down: PIN / 2.0,
            mark: cell.mark(is_left(place.x)),
            is_point: false,
        })
    });
    elements.extend(drawn.elements);
    Picture {
        title: &face.view,
        describes: &describe(face, marks),
        width: (width + 2.0 * MARGIN).max(drawn.width),
        height: drawn.foot,
    }
    .sized(elements)
}

fn in_rows<'a>(face: &'a Face, cell: &Cell) -> (Vec<Placed<'a>>, f64, f64) {
    let columns = face.rows.iter().map(Vec::len).max().unwrap_or(0).max(1);
    let width = columns as f64 * cell.width + 12.0;
    let height = face.rows.len().max(1) as f64 * cell.height + 12.0;
    let mut placed = Vec::new();
    for (row, pins) in face.rows.iter().enumerate() {
        let left = MARGIN + (width - pins.len() as f64 * cell.width) / 2.0;
        for (column, pin) in pins.iter().enumerate() {
            placed.push(Placed {
                pin,
                x: left + (column as f64 + 0.5) * cell.width,
                y: MARGIN + 14.0 + row as f64 * cell.height + cell.above + PIN / 2.0,
            });
        }
    }
    (placed, width, height)
}

fn in_rings<'a>(face: &'a Face, cell: &Cell) -> (Vec<Placed<'a>>, f64, f64) {
    let step = cell.width.max(cell.height);
    let rings = ring_radii(&face.rows, step);
    let radius = rings.first().copied().unwrap_or(0.0) + step / 2.0 + 6.0;
    let centre = MARGIN + radius;
    // Pin and role together are centred on the ring.
    let lift = (cell.height - PIN - 14.0) / 2.0;
    let mut placed = Vec::new();
    for (pins, ring) in face.rows.iter().zip(rings) {
        for (index, pin) in pins.iter().enumerate() {
            let (x, y) = on_ring(index, pins.len(), ring);
            placed.push(Placed {
                pin,
                x: centre + x,
                y: centre + y - lift,
            });
        }
    }
    (placed, 2.0 * radius, 2.0 * radius)
}

/// Radius of each ring, the outermost first: pins of a ring stand a cell apart, and so do rings.
fn ring_radii(rings: &[Vec<FacePin>], step: f64) -> Vec<f64> {
    let mut radii: Vec<f64> = Vec::new();
    for pins in rings.iter().rev() {
        let half_turn = std::f64::consts::PI / pins.len().max(2) as f64;
        let apart = step / 2.0 / half_turn.sin_cos().0;
        radii.push(match radii.last() {
            None if pins.len() <= 1 => 0.0,
            None => apart.max(step / 2.0),
            Some(inner) => apart.max(inner + step),
        });
    }
    radii.reverse();
    radii
}

/// Clockwise from the top; two pins stand left and right.
fn on_ring(index: usize, count: usize, radius: f64) -> (f64, f64) {
    let start = if count == 2 { 0.5 } else { 0.25 };
    let turn = index as f64 / count as f64 - start;
    let (sine, cosine) = (turn * std::f64::consts::TAU).sin_cos();
    (radius * cosine, radius * sine)
}

fn outline(shape: Shape, width: f64, height: f64) -> Element {
    let shape = match shape {
        Shape::Rectangular => rectangle(MARGIN, MARGIN, width, height).number("rx", 10.0),
        Shape::Round => circle(MARGIN + width / 2.0, MARGIN + height / 2.0, width / 2.0),
    };
    outlined(shape, 2.5)
}

/// A solid bar outside the outline, on the side of the key or latch.
fn key(side: Side, width: f64, height: f64) -> Element {
    let (long, thick) = (36.0, 9.0);
    let (middle_x, middle_y) = (MARGIN + width / 2.0, MARGIN + height / 2.0);
    let bar = match side {
        Side::Top => rectangle(middle_x - long / 2.0, MARGIN - thick, long, thick),
        Side::Bottom => rectangle(middle_x - long / 2.0, MARGIN + height, long, thick),
        Side::Left => rectangle(MARGIN - thick, middle_y - long / 2.0, thick, long),
        Side::Right => rectangle(MARGIN + width, middle_y - long / 2.0, thick, long),
    };
    bar.word("fill", "currentColor")
}

fn pin(place: &Placed, shape: Shape, detail: Detail, cell: &Cell) -> Vec<Element> {
    let Placed { pin, x, y } = place;
    let body = rectangle(x - cell.pin / 2.0, y - PIN / 2.0, cell.pin, PIN);
    let body = match shape {
        Shape::Rectangular => body.number("rx", 4.0),
        Shape::Round if PIN < cell.pin => body.number("rx", PIN / 2.0),
        Shape::Round => circle(*x, *y, PIN / 2.0),
    };
    let letters = pin.label().chars().count();
    if matches!(pin, FacePin::Empty) {
        return Vec::new();
    }
    if let FacePin::Other(name) = pin {
        // There to count places by: thin, with small letters.
        let lines = label_lines(name).into_iter().enumerate();
        let first = y + 4.0 - if letters <= 4 { 0.0 } else { 6.5 };
        let letter = |(line, words)| label(*x, first + line as f64 * 13.0, 11.0, words);
        let outline = outlined(body, 0.7).word("stroke-dasharray", "3 3");
        return std::iter::once(outline).chain(lines.map(letter)).collect();
    }
    let is_digit = |letter: char| letter.is_ascii_digit();
    let size = match letters {
        2 if cell.is_crowded => 17.0,
        0 | 1 => 20.0,
        2 if pin.label().chars().all(is_digit) => 20.0,
        2 | 3 => 15.0,
        _ => 11.0,
    };
    let lines = label_lines(pin.label());
    let first = y + size * 0.36 - (lines.len() - 1) as f64 * 6.5;
    let letter = |(line, words): (usize, &str)| {
        label(*x, first + line as f64 * 13.0, size, words).word("font-weight", "700")
    };
    let mut elements = vec![outlined(body, 1.8)];
    elements.extend(lines.into_iter().enumerate().map(letter));
    if detail == Detail::Full && !cell.is_crowded {
        for (line, words) in role_lines(pin.role()).into_iter().enumerate() {
            let foot = y + PIN / 2.0 + cell.lanes + LINE * (line as f64 + 1.0);
            elements.push(label(*x, foot, 12.5, words));
        }
    }
    elements
}

/// Places side by side that are no business of the card are told together.
fn told(row: &[FacePin]) -> Vec<String> {
    let mut told: Vec<String> = Vec::new();
    let strange = |pin: &FacePin| !matches!(pin, FacePin::Own { .. });
    for run in row.chunk_by(|one, other| strange(one) && strange(other)) {
        told.push(match run {
            [FacePin::Own { label, role }] => format!("{label} {role}").trim().to_owned(),
            [FacePin::Other(label)] => format!("{label} of another circuit"),
            [_] => "an empty place".to_owned(),
            others => format!("{} places of no concern here", others.len()),
        });
    }
    told
}

/// All the drawing says, in words.
fn describe(face: &Face, marks: &Marks) -> String {
    let mut sentences = Vec::new();
    for (number, row) in face.rows.iter().enumerate() {
        let pins = told(row);
        let place = match (face.shape, number) {
            (Shape::Rectangular, _) if face.rows.len() == 1 => "Left to right".to_owned(),
            (Shape::Rectangular, number) => format!("Row {}, left to right", number + 1),
            (Shape::Round, 0) if row.len() == 2 => "Left, then right".to_owned(),
            (Shape::Round, 0) => "Clockwise from the top".to_owned(),
            (Shape::Round, number) => format!("Ring {}, clockwise from the top", number + 1),
        };
        sentences.push(format!("{place}: {}.", pins.join(", ")));
    }
    sentences.extend(leads::sentences(marks));
    sentences.join(" ")
}
