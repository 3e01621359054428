//! The loop of a power circuit: supply, parts that drop volts, load.
//!
//! In: a [`DropLoop`] of plain words. Out: SVG. The words beside it say the same.

use super::svg::{Element, Picture, circle, label, line, outlined, rectangle};

/// What is drawn.
pub(in crate::publish) struct DropLoop {
    /// Volts of the supply.
    pub(in crate::publish) supply: String,
    /// Volts left at the load.
    pub(in crate::publish) load: String,
    /// Each part and its volts, as the current meets them.
    pub(in crate::publish) parts: Vec<(String, String)>,
    /// What it is.
    pub(in crate::publish) title: String,
    /// All it says, in words.
    pub(in crate::publish) describes: String,
}

const WIDTH: f64 = 288.0;
const HEIGHT: f64 = 168.0;
/// The wires at the left, the right, the top and the foot.
const LEFT: f64 = 30.0;
const RIGHT: f64 = 256.0;
const TOP: f64 = 20.0;
const FOOT: f64 = 130.0;
const MIDDLE: f64 = 75.0;
/// Height of a part.
const PART: f64 = 24.0;

/// The drawing.
pub(in crate::publish) fn draw(shape: &DropLoop) -> String {
    let (there, back) = shape.parts.split_at(shape.parts.len().div_ceil(2));
    let mut elements = supply_and_load(shape);
    elements.extend(side(there, TOP));
    let back: Vec<(String, String)> = back.iter().rev().cloned().collect();
    elements.extend(side(&back, FOOT));
    let picture = Picture {
        title: &shape.title,
        describes: &shape.describes,
        width: WIDTH,
        height: HEIGHT,
    };
    picture.of(elements)
}

fn supply_and_load(shape: &DropLoop) -> Vec<Element> {
    let (above, below) = (MIDDLE - 26.0, MIDDLE + 26.0);
    vec![
        wire((LEFT, TOP), (LEFT, above)),
        outlined(circle(LEFT, MIDDLE, 26.0), 2.0),
        label(LEFT, MIDDLE + 4.0, 12.0, &shape.supply),
        label(LEFT - 16.0, above - 2.0, 14.0, "+"),
        label(LEFT - 16.0, below + 10.0, 14.0, "–"),
        wire((LEFT, below), (LEFT, FOOT)),
        wire((RIGHT, TOP), (RIGHT, above)),
        outlined(
            rectangle(RIGHT - 29.0, above, 58.0, 52.0).number("rx", 3.0),
            2.0,
        ),
        label(RIGHT, MIDDLE - 4.0, 12.0, "load"),
        label(RIGHT, MIDDLE + 14.0, 12.0, &shape.load),
        wire((RIGHT, below), (RIGHT, FOOT)),
    ]
}

/// The wire of one side with its parts in it.
fn side(parts: &[(String, String)], y: f64) -> Vec<Element> {
    let gap = 8.0;
    let room = RIGHT - LEFT - 12.0;
    let count = parts.len().max(1) as f64;
    let width = ((room - gap * (count + 1.0)) / count).min(84.0);
    let step = room / count;
    let mut elements = Vec::new();
    let mut from = LEFT;
    for (at, (name, volts)) in parts.iter().enumerate() {
        let left = LEFT + 6.0 + step * (at as f64 + 0.5) - width / 2.0;
        elements.push(wire((from, y), (left, y)));
        elements.push(outlined(
            rectangle(left, y - PART / 2.0, width, PART).number("rx", 3.0),
            1.5,
        ));
        let middle = left + width / 2.0;
        elements.push(label(middle, y + 4.0, 12.0, name));
        elements.push(label(middle, y + PART / 2.0 + 15.0, 12.0, volts));
        from = left + width;
    }
    elements.push(wire((from, y), (RIGHT, y)));
    elements
}

fn wire(from: (f64, f64), to: (f64, f64)) -> Element {
    line(from, to)
        .number("stroke-width", 2.0)
        .word("stroke-linecap", "round")
}
