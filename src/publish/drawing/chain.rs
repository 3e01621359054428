//! A chain of resistors from a supply to its minus, with the volts across each.
//!
//! In: a [`Chain`] of plain words. Out: SVG. The words beside it say the same.

use super::svg::{Picture, label, line, outlined, rectangle, words};

/// What is drawn.
pub(in crate::publish) struct Chain {
    /// Volts across the whole chain.
    pub(in crate::publish) supply: String,
    /// Each resistor and the volts across it, from the plus down.
    pub(in crate::publish) parts: Vec<(String, String)>,
    /// What it is.
    pub(in crate::publish) title: String,
    /// All it says, in words.
    pub(in crate::publish) describes: String,
}

const WIDTH: f64 = 288.0;
/// The chain's place from the left.
const AXIS: f64 = 60.0;
/// Height of one resistor with the wire to the next.
const STEP: f64 = 58.0;
/// Height of the body alone.
const BODY: f64 = 36.0;
const TOP: f64 = 24.0;

/// The drawing.
pub(in crate::publish) fn draw(chain: &Chain) -> String {
    let mut elements = vec![label(AXIS, 14.0, 13.0, &chain.supply)];
    let mut y = TOP;
    for (ohms, volts) in &chain.parts {
        let body = y + (STEP - BODY) / 2.0;
        elements.push(line((AXIS, y), (AXIS, body)).number("stroke-width", 2.0));
        elements.push(outlined(
            rectangle(AXIS - 9.0, body, 18.0, BODY).number("rx", 2.0),
            2.0,
        ));
        elements.push(line((AXIS, body + BODY), (AXIS, y + STEP)).number("stroke-width", 2.0));
        elements.push(words(AXIS + 20.0, body + 14.0, 13.0, ohms));
        elements.push(words(
            AXIS + 20.0,
            body + 31.0,
            13.0,
            &format!("{volts} across it"),
        ));
        y += STEP;
    }
    elements.push(label(AXIS, y + 16.0, 13.0, "0 V"));
    let picture = Picture {
        title: &chain.title,
        describes: &chain.describes,
        width: WIDTH,
        height: y + 22.0,
    };
    picture.of(elements)
}
