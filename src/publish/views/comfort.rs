//! Light and units: what a reader can choose for this phone.

use crate::publish::units::Both;
use serde::Serialize;

/// The page.
#[derive(Serialize)]
pub(super) struct ComfortPage {
    parts: [Part; 2],
    samples: Vec<Both>,
}

/// One thing to choose.
#[derive(Serialize)]
struct Part {
    name: &'static str,
    title: &'static str,
    choices: &'static [Choice],
}

/// A choice; an empty key is what holds where nothing was chosen.
#[derive(Serialize)]
struct Choice {
    key: &'static str,
    title: &'static str,
}

const fn choice(key: &'static str, title: &'static str) -> Choice {
    Choice { key, title }
}

const LIGHT: [Choice; 4] = [
    choice("", "As the phone is set"),
    choice("day", "Day"),
    choice("night", "Night"),
    choice("high", "High contrast"),
];
const UNITS: [Choice; 2] = [choice("", "C, kPa, mm²"), choice("us", "F, psi, AWG")];

/// The page, the same for every deck.
pub(super) fn view() -> ComfortPage {
    ComfortPage {
        parts: [
            Part {
                name: "light",
                title: "Light",
                choices: &LIGHT,
            },
            Part {
                name: "units",
                title: "Units",
                choices: &UNITS,
            },
        ],
        samples: ["20 C", "100 kPa", "0.5 mm²"].map(Both::of).to_vec(),
    }
}
