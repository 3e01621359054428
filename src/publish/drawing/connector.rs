//! The connector's face: outline, key, pins with big letters, roles, and where test leads go.
//!
//! In: a [`Face`] and [`Marks`]. Out: SVG. Leads are told by letter and shape (R in a circle, B in a
//! square) before colour.

use super::svg::{Element, Picture, circle, label, outlined, rectangle};
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

/// A pin as drawn.
#[derive(Clone)]
pub(in crate::publish) struct FacePin {
    /// As printed on the connector.
    pub(in crate::publish) label: String,
    /// What it does.
    pub(in crate::publish) role: String,
}

/// Where the leads of a test go: a pin's label, or words for a place off the connector.
#[derive(Clone, Default)]
pub(in crate::publish) struct Marks {
    /// Red lead.
    pub(in crate::publish) red: Option<Spot>,
    /// Black lead.
    pub(in crate::publish) black: Option<Spot>,
}

/// The place of a lead.
#[derive(Clone)]
pub(in crate::publish) enum Spot {
    /// On the pin of this label.
    Pin(String),
    /// Elsewhere, in a few words.
    Elsewhere(String),
}

/// How much is drawn.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(in crate::publish) enum Detail {
    /// Pins with their roles.
    Full,
    /// Pins alone, for a second drawing of the same connector.
    Small,
}

/// Side of the square of a pin, in CSS pixels.
const PIN: f64 = 34.0;
/// Room for the key and the lead marks around the outline.
const MARGIN: f64 = 14.0;
/// Height of a line of role text.
const LINE: f64 = 14.0;
/// Width of a letter of role text, a generous mean of common sans-serif faces at 12.5 px.
const LETTER: f64 = 7.0;
/// Radius of a lead mark.
const MARK: f64 = 10.0;

/// A pin in place.
struct Placed<'a> {
    pin: &'a FacePin,
    x: f64,
    y: f64,
}

/// The drawing; `id` must be unique on the page.
pub(in crate::publish) fn draw(face: &Face, marks: &Marks, detail: Detail, id: &str) -> String {
    let cell = Cell::for_face(face, detail);
    let (placed, width, height) = match face.shape {
        Shape::Rectangular => in_rows(face, &cell),
        Shape::Round => in_rings(face, &cell),
    };
    let mut elements = vec![outline(face.shape, width, height)];
    elements.extend(face.keying.map(|side| key(side, width, height)));
    for place in &placed {
        elements.extend(pin(place, face.shape, detail));
    }
    for (lead, spot) in [(Lead::Red, &marks.red), (Lead::Black, &marks.black)] {
        let Some(Spot::Pin(label)) = spot else {
            continue;
        };
        if let Some(place) = placed.iter().find(|place| place.pin.label == *label) {
            let corner = PIN / 2.0 - 1.0;
            // Pins of a ring stand close towards its middle, so a mark keeps to the outside.
            let inward = face.shape == Shape::Round && place.x < MARGIN + width / 2.0 - 1.0;
            let aside = if inward { -corner } else { corner };
            elements.push(mark(lead, place.x + aside, place.y - corner));
        }
    }
    let mut foot = height + 2.0 * MARGIN;
    if !face.note.is_empty() {
        let middle = MARGIN + width / 2.0;
        elements.push(label(middle, foot + 9.0, 12.5, &face.note));
        foot += 16.0;
    }
    let (off, foot) = off_connector(marks, foot);
    elements.extend(off);
    Picture {
        id,
        title: &face.view,
        describes: &describe(face, marks),
        width: (width + 2.0 * MARGIN).max(off_width(marks)),
        height: foot,
    }
    .of(elements)
}

/// The room of one pin with its role.
struct Cell {
    width: f64,
    height: f64,
}

impl Cell {
    fn for_face(face: &Face, detail: Detail) -> Self {
        if detail == Detail::Small {
            return Self {
                width: PIN + 14.0,
                height: PIN + 14.0,
            };
        }
        let pins = || face.rows.iter().flatten();
        let longest = pins()
            .flat_map(|pin| pin.role.split_whitespace())
            .map(|word| word.chars().count())
            .max()
            .unwrap_or(0);
        let lines = pins()
            .map(|pin| role_lines(&pin.role).len())
            .max()
            .unwrap_or(0);
        Self {
            width: (longest as f64 * LETTER + 8.0).max(PIN + 18.0),
            height: PIN + 14.0 + lines as f64 * LINE,
        }
    }
}

/// At most two lines: the first word, then the rest.
fn role_lines(role: &str) -> Vec<&str> {
    match role.split_once(' ') {
        Some((first, rest)) => vec![first, rest],
        None if role.is_empty() => Vec::new(),
        None => vec![role],
    }
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
                y: MARGIN + 6.0 + row as f64 * cell.height + PIN / 2.0 + 8.0,
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
        let apart = pins.len() as f64 * step / std::f64::consts::TAU;
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

fn pin(place: &Placed, shape: Shape, detail: Detail) -> Vec<Element> {
    let Placed { pin, x, y } = place;
    let body = match shape {
        Shape::Rectangular => rectangle(x - PIN / 2.0, y - PIN / 2.0, PIN, PIN).number("rx", 4.0),
        Shape::Round => circle(*x, *y, PIN / 2.0),
    };
    let size = match pin.label.chars().count() {
        0..=2 => 20.0,
        3 => 15.0,
        _ => 11.0,
    };
    let letter = label(*x, y + size * 0.36, size, &pin.label).word("font-weight", "700");
    let mut elements = vec![outlined(body, 1.8), letter];
    if detail == Detail::Full {
        for (line, words) in role_lines(&pin.role).into_iter().enumerate() {
            let foot = y + PIN / 2.0 + LINE * (line as f64 + 1.0);
            elements.push(label(*x, foot, 12.5, words));
        }
    }
    elements
}

/// A test lead.
#[derive(Clone, Copy)]
enum Lead {
    Red,
    Black,
}

/// The lead's letter in its shape; white on both fills keeps over 6:1.
fn mark(lead: Lead, x: f64, y: f64) -> Element {
    let (body, fill, letter) = match lead {
        Lead::Red => (circle(x, y, MARK), "#a8201a", "+"),
        Lead::Black => {
            let body = rectangle(x - MARK, y - MARK, 2.0 * MARK, 2.0 * MARK);
            (body, "#16191a", "−")
        }
    };
    let body = body
        .word("fill", fill)
        .word("stroke", "#fff")
        .number("stroke-width", 1.5);
    let letter = Element::new("text")
        .number("x", x)
        .number("y", y + 4.6)
        .number("font-size", 13.0)
        .word("font-weight", "700")
        .word("text-anchor", "middle")
        .word("fill", "#fff")
        .text(letter);
    Element::new("g").child(body).child(letter)
}

/// Leads that go elsewhere stand under the connector with their words; also the drawing's foot.
fn off_connector(marks: &Marks, mut foot: f64) -> (Vec<Element>, f64) {
    let mut elements = Vec::new();
    for (lead, spot) in [(Lead::Red, &marks.red), (Lead::Black, &marks.black)] {
        let Some(Spot::Elsewhere(words)) = spot else {
            continue;
        };
        elements.push(mark(lead, MARGIN + MARK, foot + MARK));
        let words = Element::new("text")
            .number("x", MARGIN + 2.0 * MARK + 6.0)
            .number("y", foot + MARK + 4.6)
            .number("font-size", 13.0)
            .word("fill", "currentColor")
            .text(words);
        elements.push(words);
        foot += 2.0 * MARK + 6.0;
    }
    (elements, foot)
}

fn off_width(marks: &Marks) -> f64 {
    [&marks.red, &marks.black]
        .into_iter()
        .filter_map(|spot| match spot {
            Some(Spot::Elsewhere(words)) => Some(words.chars().count() as f64 * LETTER),
            _ => None,
        })
        .fold(0.0, |widest: f64, width| {
            widest.max(2.0 * MARGIN + 2.0 * MARK + 8.0 + width)
        })
}

/// All the drawing says, in words.
fn describe(face: &Face, marks: &Marks) -> String {
    let mut sentences = Vec::new();
    for (number, row) in face.rows.iter().enumerate() {
        let pins: Vec<String> = row
            .iter()
            .map(|pin| format!("{} {}", pin.label, pin.role).trim().to_owned())
            .collect();
        let place = match (face.shape, number) {
            (Shape::Rectangular, _) if face.rows.len() == 1 => "Left to right".to_owned(),
            (Shape::Rectangular, number) => format!("Row {}, left to right", number + 1),
            (Shape::Round, 0) if row.len() == 2 => "Left, then right".to_owned(),
            (Shape::Round, 0) => "Clockwise from the top".to_owned(),
            (Shape::Round, number) => format!("Ring {}, clockwise from the top", number + 1),
        };
        sentences.push(format!("{place}: {}.", pins.join(", ")));
    }
    for (lead, spot) in [("Red", &marks.red), ("Black", &marks.black)] {
        match spot {
            Some(Spot::Pin(pin)) => sentences.push(format!("{lead} lead on pin {pin}.")),
            Some(Spot::Elsewhere(words)) => sentences.push(format!("{lead} lead on {words}.")),
            None => {}
        }
    }
    sentences.join(" ")
}
