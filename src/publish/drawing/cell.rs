//! The room that a pin takes on a connector's face, with its role and the mark of a lead.
//!
//! In: a [`Face`]. Out: one [`Cell`] for all its pins.

use super::connector::{Detail, Face, FacePin};
use super::leads::MARK;
use crate::card::Shape;

/// Side of the square of a pin, in CSS pixels; one with a long label is wider.
pub(super) const PIN: f64 = 34.0;
/// Width of a letter of such a label, bold at 11 px, a generous mean of common sans-serif faces.
const SMALL: f64 = 7.6;
/// Height of a line of role text.
pub(super) const LINE: f64 = 14.0;
/// Width of a letter of role text, a generous mean of common sans-serif faces at 12.5 px.
const LETTER: f64 = 7.0;

/// The room of one pin with its role.
pub(super) struct Cell {
    /// The pin's own width.
    pub(super) pin: f64,
    /// Of the pin with what stands around it.
    pub(super) width: f64,
    /// Of the pin with what stands around it.
    pub(super) height: f64,
    /// Above a pin, for a lead's mark where it would cover neighbours beside it.
    pub(super) above: f64,
    /// Between a pin and its role.
    pub(super) lanes: f64,
    /// Whether pins stand there without their roles.
    pub(super) is_crowded: bool,
}

/// Places in a row from which on the drawing keeps to the pins: with a role under each it would be too small to read.
const CROWDED: usize = 7;
/// Width of a pin there, if its label has two letters at most: eight of them fit a phone's screen as large as they are.
const NARROW: f64 = 28.0;
/// Room above a pin there for the mark of a lead.
const ABOVE: f64 = 18.0;

impl Face {
    fn is_crowded(&self) -> bool {
        self.shape == Shape::Rectangular && self.rows.iter().any(|row| CROWDED <= row.len())
    }
}

impl Cell {
    /// The cell that fits every pin of a face.
    pub(super) fn for_face(face: &Face, detail: Detail, lanes: f64) -> Self {
        let labels = face.rows.iter().flatten().map(FacePin::label);
        let lines = labels.flat_map(label_lines);
        let own = lines.map(|line| line.chars().count()).max().unwrap_or(0);
        let pin = match own {
            0..=4 => PIN,
            letters => letters as f64 * SMALL + 8.0,
        };
        if face.is_crowded() {
            let pin = if own <= 2 { NARROW } else { pin };
            return Self {
                pin,
                width: pin + 4.0,
                height: ABOVE + PIN + 6.0 + lanes,
                above: ABOVE,
                lanes: 0.0,
                is_crowded: true,
            };
        }
        if detail != Detail::Full {
            return Self {
                pin,
                width: pin + 14.0,
                height: PIN + 14.0,
                above: 0.0,
                lanes: 0.0,
                is_crowded: false,
            };
        }
        let pins = || face.rows.iter().flatten();
        let longest = pins()
            .flat_map(|pin| pin.role().split_whitespace())
            .map(|word| word.chars().count())
            .max()
            .unwrap_or(0);
        let lines = pins()
            .map(|pin| role_lines(pin.role()).len())
            .max()
            .unwrap_or(0);
        Self {
            pin,
            width: (longest as f64 * LETTER + 8.0).max(pin + 18.0),
            height: PIN + 14.0 + lanes + lines as f64 * LINE,
            above: 0.0,
            lanes,
            is_crowded: false,
        }
    }

    /// From a pin's middle to that of a lead's mark: off its upper corner, where pins stand close on its upper edge, so that
    /// it leaves the label free, and whose it is can be seen.
    pub(super) fn mark(&self, is_left: bool) -> (f64, f64) {
        match (self.is_crowded, is_left) {
            (true, _) => (0.0, 3.0 - PIN / 2.0 - MARK),
            (_, true) => (-self.pin / 2.0 - 3.0, -PIN / 2.0 - 3.0),
            (_, false) => (self.pin / 2.0 + 3.0, -PIN / 2.0 - 3.0),
        }
    }
}

/// A long label in two lines, cut after the sign in it that parts a connector from its pin.
pub(super) fn label_lines(label: &str) -> Vec<&str> {
    if label.chars().count() <= 4 {
        return vec![label];
    }
    let sign = label.rfind(['-', '/', '.', ':', ' ']);
    let middle = || label.char_indices().nth(label.chars().count() / 2);
    let cut = sign
        .map(|at| at + 1)
        .filter(|at| *at < label.len())
        .or_else(|| middle().map(|(at, _)| at));
    match cut {
        Some(at) => vec![&label[..at], &label[at..]],
        None => vec![label],
    }
}

/// At most two lines: the first word, then the rest.
pub(super) fn role_lines(role: &str) -> Vec<&str> {
    match role.split_once(' ') {
        Some((first, rest)) => vec![first, rest],
        None if role.is_empty() => Vec::new(),
        None => vec![role],
    }
}
