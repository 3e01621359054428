//! Units a reader can choose: temperature in C or F, pressure in kPa or psi, wires in mm² or AWG.
//!
//! In: a value as a card or a page says it. Out: the same in both systems; pages carry both, and style shows the one
//! chosen. Never: bands of volts and ohms, which are the same everywhere.

use super::words::{keep_units, together};
use crate::quantity::{Dimension, maths, read_quantity};
use serde::Serialize;

/// Pascal a psi.
const PSI: f64 = 6894.757;

/// A value as metric readers and as others have it; the second is empty where they are alike.
#[derive(Clone, Default, Serialize)]
pub(super) struct Both {
    /// As metric readers have it, or as all do.
    pub(super) si: String,
    /// As others have it.
    pub(super) us: String,
}

impl Both {
    /// A value with its unit, or any other text, which is the same to all.
    pub(super) fn of(text: &str) -> Self {
        let read = |dimension| read_quantity(text, dimension).map(|read| read.number).ok();
        let turned = None
            .or_else(|| read(Dimension::Temperature).map(|number| temperature(text, number)))
            .or_else(|| read(Dimension::Pressure).map(|number| pressure(text, number)))
            .or_else(|| read(Dimension::Area).map(|number| wire(text, number)));
        match turned {
            Some((si, us)) => Self {
                si: together(&si),
                us: together(&us),
            },
            None => Self {
                si: keep_units(text),
                us: String::new(),
            },
        }
    }

    /// Letters of the longer form.
    pub(super) fn letters(&self) -> usize {
        let both = [&self.si, &self.us].map(|text| text.chars().count());
        both.into_iter().max().unwrap_or(0)
    }

    /// A state of the part as it goes on in a sentence: `at 20 C`; one that says `by …` or `at …` itself stays as it is.
    pub(super) fn place(state: &str) -> Self {
        let bare = state.strip_prefix("at ").unwrap_or(state);
        if bare.is_empty() || bare.starts_with("by ") {
            return Self::of(bare);
        }
        let Self { si, us } = Self::of(bare);
        let at = |text: String| match text.is_empty() {
            true => text,
            false => format!("at {text}"),
        };
        Self {
            si: at(si),
            us: at(us),
        }
    }
}

/// The author's own words stand as they are; the other system is rounded.
fn temperature(text: &str, celsius: f64) -> (String, String) {
    match text.trim_end().ends_with(['F', 'f']) {
        true => (format!("{celsius:.0} C"), text.to_owned()),
        false => (text.to_owned(), format!("{:.0} F", celsius * 1.8 + 32.0)),
    }
}

fn pressure(text: &str, pascal: f64) -> (String, String) {
    match text.to_lowercase().contains("psi") {
        true => (
            format!("{} kPa", three_digits(pascal / 1e3)),
            text.to_owned(),
        ),
        false => (
            text.to_owned(),
            format!("{} psi", three_digits(pascal / PSI)),
        ),
    }
}

/// The gauge nearest in area (ASTM B258: 0.127 mm at 36, 39 steps to 92 times that).
fn wire(text: &str, square_metres: f64) -> (String, String) {
    if text.to_uppercase().contains("AWG") {
        return (
            format!("{} mm²", three_digits(square_metres * 1e6)),
            text.to_owned(),
        );
    }
    let millimetres = maths::sqrt(4.0 * square_metres / core::f64::consts::PI) * 1e3;
    let gauge = 36.0 - 39.0 * maths::ln(millimetres / 0.127) / maths::ln(92.0);
    let gauge = match gauge.round() {
        small if small < 0.5 => format!("{:.0}/0", 1.0 - small),
        large => format!("{large:.0}"),
    };
    (text.to_owned(), format!("about {gauge} AWG"))
}

fn three_digits(number: f64) -> String {
    let digits: f64 = format!("{number:.2e}").parse().unwrap_or(number);
    digits.to_string()
}
