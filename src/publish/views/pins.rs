//! The table of pins: each with its role, its wire and its volts to good ground.
//!
//! In: a sheet. Out: a line a pin. Where a test reads an unplugged pin in a state that the table's volts leave out (a relay
//! that is on), both stand there.

use crate::card::{Key, Plug, colours_of};
use crate::circuit::Band;
use crate::publish::words;
use crate::quantity::{Dimension, Interval};
use crate::sheet::{PinSheet, Sheet, TestSheet};
use serde::Serialize;

/// A pin and its wire.
#[derive(Serialize)]
pub(super) struct PinLine {
    label: String,
    role: String,
    letters: String,
    words: String,
    colours: Vec<&'static str>,
    unplugged: String,
    plugged: String,
}

/// The lead's place that is no pin.
const GROUND: &str = "good ground";

/// Letters of a pin's label up to which it stands in a narrow column.
const SHORT: usize = 3;

/// A line a pin.
pub(super) fn lines(sheet: &Sheet) -> Vec<PinLine> {
    sheet.pins.iter().map(|pin| pin_line(sheet, pin)).collect()
}

/// Whether a label takes more room than most connectors print.
pub(super) fn has_long_labels(sheet: &Sheet) -> bool {
    let mut pins = sheet.pins.iter();
    pins.any(|pin| SHORT < pin.label.chars().count())
}

fn pin_line(sheet: &Sheet, pin: &PinSheet) -> PinLine {
    let volts = |band: &Option<Band>| {
        band.as_ref()
            .map(|band| words::band_on_page(band, Dimension::Voltage))
            .unwrap_or_default()
    };
    let slides = sheet
        .signal
        .as_ref()
        .is_some_and(|signal| signal.pin == pin.label);
    PinLine {
        label: pin.label.clone(),
        role: pin.role.clone(),
        letters: pin.wire.clone(),
        words: pin.wire_words.clone(),
        colours: colours_of(&pin.wire)
            .into_iter()
            .map(|one| one.letters)
            .collect(),
        unplugged: unplugged(sheet, pin, volts(&pin.unplugged)),
        plugged: match &pin.plugged {
            Some(band) if slides => volts(&Some(through(band))),
            band => volts(band),
        },
    }
}

/// Volts of an unplugged pin, with those of the states that a test names: a relay that is on feeds the wire.
fn unplugged(sheet: &Sheet, pin: &PinSheet, volts: String) -> String {
    let to_ground = |test: &&TestSheet| {
        let leads = test.leads.as_ref();
        let there =
            leads.is_some_and(|leads| leads.red.short == pin.label && leads.black.short == GROUND);
        there && test.plug == Plug::Unplugged && test.key == Key::On && test.links.is_empty()
    };
    let tests = sheet.tests.iter().filter(to_ground);
    let states = tests.flat_map(|test| test.expected.iter().map(move |one| (test, one)));
    let states = states.filter(|(_, one)| {
        !one.state.is_empty() && pin.unplugged.as_ref().is_some_and(|any| *any != one.band)
    });
    let mut all = vec![volts];
    for (test, one) in states {
        let told = format!(
            "{}: {}",
            one.state,
            words::expected_on_page(one, test.dimension)
        );
        if !all.contains(&told) {
            all.push(told);
        }
    }
    all.join("; ")
}

/// A signal that slides from point to point reads everything between its lowest and its highest.
fn through(band: &Band) -> Band {
    let (Some(first), Some(last)) = (band.intervals.first(), band.intervals.last()) else {
        return band.clone();
    };
    let whole = Interval {
        low: first.low,
        high: last.high,
    };
    Band {
        intervals: vec![whole],
        ..band.clone()
    }
}
