//! What a circuit is drawn with: lines, dots, ends of rows, contacts and the shapes of IEC 60617.
//!
//! In: places. Out: one path of lines, one of filled shapes, and texts, so that a drawing stays small.

use super::schematic::{PinRow, Shape, Terminal};
use super::svg::{Element, label};
use std::fmt::Write;

/// Room for the letters of a wire, from the module's edge to the connector, at least.
const WIRE: f64 = 46.0;
/// From where a wire meets its contact to the middle of the pin's label.
const LABEL: f64 = 10.0;
/// Width of a bold letter at 13 px, a generous mean of common sans-serif faces.
const BOLD: f64 = 8.4;
/// Width of a letter at 12 px, likewise; wires are told in capitals.
const CAPITAL: f64 = 8.6;
/// From the middle of a sliding resistor to its arrow's foot.
pub(super) const ARROW: f64 = 14.0;

impl PinRow {
    /// How long its wire is drawn, so that the letters of the wire end where the pin's label begins.
    pub(super) fn wire_room(&self) -> f64 {
        let letters = WIRE / 2.0 + self.wire.chars().count() as f64 * CAPITAL / 2.0;
        WIRE.max(letters - LABEL + self.half_label() + 2.0)
    }

    /// From where its wire meets the contact to where its label ends.
    pub(super) fn label_room(&self) -> f64 {
        LABEL + self.half_label() + 3.0
    }

    fn half_label(&self) -> f64 {
        self.label.chars().count() as f64 * BOLD / 2.0
    }
}

/// Collects lines in one path and filled shapes in another, so that a drawing stays small.
#[derive(Default)]
pub(super) struct Pen {
    /// Steps of all lines.
    pub(super) lines: String,
    /// Steps of all filled shapes.
    pub(super) solid: String,
    /// Letters.
    pub(super) texts: Vec<Element>,
}

impl Pen {
    /// Writing to a text can't fail.
    pub(super) fn line(&mut self, from: (f64, f64), to: (f64, f64)) {
        let _ = write!(self.lines, "M{:.0} {:.0}", from.0, from.1);
        let _ = match (from.0 == to.0, from.1 == to.1) {
            (true, _) => write!(self.lines, "V{:.0}", to.1),
            (_, true) => write!(self.lines, "H{:.0}", to.0),
            _ => write!(self.lines, "L{:.0} {:.0}", to.0, to.1),
        };
    }

    fn lines(&mut self, steps: &str, at: (f64, f64)) {
        let _ = write!(self.lines, "M{:.0} {:.0}{steps}", at.0, at.1);
    }

    pub(super) fn dot(&mut self, x: f64, y: f64) {
        let _ = write!(
            self.solid,
            "M{:.0} {y:.0}a2.8 2.8 0 1 0 5.6 0a2.8 2.8 0 1 0-5.6 0",
            x - 2.8
        );
    }

    /// A socket and a pin: an arc open to the part, and a bar in it.
    pub(super) fn contact(&mut self, pin: &PinRow, module: f64, wire: f64, y: f64) {
        let x = module + wire;
        self.lines("a5 5 0 0 0 0 10", (x + 5.0, y - 5.0));
        let _ = write!(self.solid, "M{:.0} {:.0}h14v4h-14z", x + 4.0, y - 2.0);
        let name = label(x + LABEL, y - 8.0, 13.0, &pin.label).word("font-weight", "700");
        self.texts.push(name);
        if !pin.wire.is_empty() {
            self.texts
                .push(label(module + WIRE / 2.0, y - 4.0, 12.0, &pin.wire));
        }
    }

    pub(super) fn terminal(&mut self, terminal: &Terminal, x: f64, y: f64) {
        match terminal {
            Terminal::Supply(volts) => {
                self.lines("a3 3 0 1 0-6 0a3 3 0 1 0 6 0", (x, y));
                self.texts
                    .push(label((x - 4.0) / 2.0, y + 4.5, 12.0, volts));
            }
            Terminal::Ground => self.ground(x, y),
            Terminal::Input => {
                self.lines("h-36v-18h36z", (x, y + 9.0));
                self.texts.push(label(x - 18.0, y + 4.5, 12.0, "input"));
            }
        }
    }

    /// A stem and three strokes, each shorter.
    pub(super) fn ground(&mut self, x: f64, y: f64) {
        self.lines("v7m-7 0h14m-11 4h8m-6 4h4", (x, y));
    }

    /// A part of 24 units, its top at `y`.
    pub(super) fn symbol(&mut self, shape: Shape, x: f64, y: f64) {
        match shape {
            Shape::Resistor | Shape::Sliding(_) => self.lines("h10v24h-10z", (x - 5.0, y)),
            Shape::Varying => {
                self.lines("h10v24h-10z", (x - 5.0, y));
                self.lines("h4l14-20", (x - 13.0, y + 22.0));
            }
            Shape::Switch => self.lines("v5m-8 1l8 12v6", (x, y)),
            Shape::Diode(down) => {
                let steps = match down {
                    true => "v5m-6 0h12l-6 12zm-6 12h12m-6 0v7",
                    false => "v7m-6 0h12m-6 0l6 12h-12zm0 12v5",
                };
                self.lines(steps, (x, y));
            }
            Shape::Sink(down) => {
                self.lines(
                    "v2a10 10 0 1 0 0 20a10 10 0 1 0 0-20m-10 10h20m-10 10v2",
                    (x, y),
                );
                let arrow = if down {
                    "v8m-3-4l3 4 3-4"
                } else {
                    "v-8m-3 4l3-4 3 4"
                };
                self.lines(arrow, (x - 15.0, if down { y + 8.0 } else { y + 16.0 }));
            }
            Shape::Source => self.lines("v24m0-22a10 10 0 1 0 0 20a10 10 0 1 0 0-20", (x, y)),
        }
    }

    /// The slider's arrow into a body at `x`, from its row.
    pub(super) fn slide(&mut self, x: f64, aside: f64, y: f64, row: f64) {
        let foot = x + aside * ARROW;
        if row != y {
            self.line((foot, row), (foot, y));
        }
        self.line((foot, y), (x + aside * 5.0, y));
        let _ = write!(
            self.solid,
            "M{:.0} {y:.0}l{:.0}-3.5v7z",
            x + aside * 5.0,
            aside * 6.0
        );
    }
}
