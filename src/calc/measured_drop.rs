//! A measured drop: the resistance it tells, held against what such a piece may drop.
//!
//! In: volts across a piece and the current through it. Out: ohms, watts, a verdict.

use super::given::Given;
use super::limit;
use super::shape::{Alternative, Answer, Calculator, Input, Kind, Refusal, shown};
use crate::quantity::Dimension::{Current, Power, Resistance, Voltage};

/// A piece of a circuit and the largest drop that common practice accepts over it, volts.
struct Piece {
    word: Alternative,
    volts: f64,
}

const fn piece(key: &'static str, label: &'static str, volts: f64) -> Piece {
    Piece {
        word: Alternative { key, label },
        volts,
    }
}

/// Common practice of the trade, no source; no standard text was found for any of them.
const PIECES: [Piece; 12] = [
    piece("connection", "one connection, 0.1 V", 0.1),
    piece("switch", "switch or relay contact, 0.2 V", 0.2),
    piece("heavy-switch", "contact for high current, 0.3 V", 0.3),
    piece("wire", "wire run, 0.2 V", 0.2),
    piece("heavy-cable", "one cable for high current, 0.2 V", 0.2),
    piece(
        "ground",
        "ground side of a power circuit, 0.2 V (0.1 V is good)",
        0.2,
    ),
    piece("starter-feed", "starter feed while cranking, 0.5 V", 0.5),
    piece(
        "starter-ground",
        "starter ground while cranking, 0.3 V",
        0.3,
    ),
    piece(
        "sensor-ground",
        "sensor ground to battery minus, 0.1 V (0.05 V is good)",
        0.1,
    ),
    piece("module-ground", "module ground, 0.1 V", 0.1),
    piece("module-feed", "module feed, 0.3 V", 0.3),
    piece("whole", "whole power circuit, 0.5 V", 0.5),
];

const WORDS: [Alternative; 12] = {
    let mut words = [PIECES[0].word; 12];
    let mut at = 0;
    while at < words.len() {
        words[at] = PIECES[at].word;
        at += 1;
    }
    words
};

/// Resistance from a measured drop.
pub(super) const MEASURED_DROP: Calculator = Calculator {
    name: "measured-drop",
    title: "Resistance from a measured drop",
    says: "what resistance a measured drop and its current tell, and whether such a piece may drop so much",
    group: "Wires",
    inputs: &[
        Input::quantity("drop", "Measured drop", Voltage, (0.0, 1e5))
            .says("across the piece, while the current flows")
            .needed(),
        Input::quantity("current", "Current then", Current, (1e-6, 1e5)).needed(),
        Input::of("piece", "Across what", Kind::Choice(&WORDS), "").default("whole"),
        Input::quantity("limit", "Largest acceptable drop", Voltage, (1e-6, 1e4))
            .says("instead of the one of common practice"),
        limit::WHOSE,
    ],
    formula: "R = V / I\nP = V I",
    source: "Ohm's law; limits: common practice of the trade, no standard",
    range: "from 1 µA; a drop of 0 V gives 0 ohm. Without current every cable drops nothing: load the \
            circuit first",
    example: &[("drop", "0.20 V"), ("current", "10 A"), ("piece", "wire")],
    work,
};

fn work(given: &Given) -> Result<Answer, Refusal> {
    let (drop, current) = (given.need("drop")?, given.need("current")?);
    let piece = PIECES
        .iter()
        .find(|piece| piece.word.key == given.choice("piece"))
        .unwrap_or(&PIECES[11]);
    let whose = match (given.text("whose"), given.get("limit")) {
        ("", None) => "common practice, no standard",
        ("", Some(_)) => "as typed",
        (whose, _) => whose,
    };
    let volts = given.get("limit").unwrap_or(piece.volts);
    let limit = limit::Limit {
        volts,
        note: format!("the limit of {} is: {whose}", shown(volts, Voltage)),
    };
    let (ohms, watts) = (drop / current, drop * current);
    let mut answer = Answer::default();
    answer.quantity("resistance", "Implied resistance", ohms, Resistance);
    answer.quantity("loss", "Turned into heat there", watts, Power);
    answer.words("verdict", "Verdict", limit::verdict(drop, &limit));
    answer.quantity("left", "Left of the limit", volts - drop, Voltage);
    answer.quantity(
        "most",
        "Most it may have at this current",
        volts / current,
        Resistance,
    );
    answer.step(format!(
        "R = {} / {} = {}",
        shown(drop, Voltage),
        shown(current, Current),
        shown(ohms, Resistance)
    ));
    answer.step(format!(
        "P = {} x {} = {}",
        shown(drop, Voltage),
        shown(current, Current),
        shown(watts, Power)
    ));
    answer.note(limit.note);
    Ok(answer)
}
