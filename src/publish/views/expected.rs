//! Expected readings: what a good circuit reads at each test, state by state.

use super::order;
use crate::publish::words;
use crate::quantity::{Dimension, write_interval};
use crate::sheet::{Expected, Sheet, TestSheet};
use serde::Serialize;

/// What a test reads in one state.
#[derive(Serialize)]
pub(super) struct ReadsLine {
    state: String,
    computed: String,
    stated: String,
}

/// A state of the part and what every test reads in it.
#[derive(Serialize)]
pub(super) struct StateReadings {
    state: String,
    readings: Vec<StateReading>,
}

/// What one test reads.
#[derive(Serialize)]
struct StateReading {
    test: String,
    anchor: String,
    hookup: String,
    places: String,
    computed: String,
    stated: String,
}

impl ReadsLine {
    /// Every state of a test.
    pub(super) fn all(test: &TestSheet) -> Vec<Self> {
        test.expected
            .iter()
            .map(|expected| Self {
                state: expected.state.clone(),
                computed: words::band_on_page(&expected.band, test.dimension),
                stated: stated(expected),
            })
            .collect()
    }
}

/// Readings grouped by state, in the order in which tests come to them; any state first.
pub(super) fn by_state(sheet: &Sheet) -> Vec<StateReadings> {
    let mut states: Vec<StateReadings> = Vec::new();
    for test in &sheet.tests[..sheet.in_order.min(sheet.tests.len())] {
        for expected in &test.expected {
            let reading = state_reading(test, expected);
            match states
                .iter_mut()
                .find(|known| known.state == expected.state)
            {
                Some(known) => known.readings.push(reading),
                None => states.push(StateReadings {
                    state: expected.state.clone(),
                    readings: vec![reading],
                }),
            }
        }
    }
    states.sort_by_key(|known| !known.state.is_empty());
    states
}

fn state_reading(test: &TestSheet, expected: &Expected) -> StateReading {
    StateReading {
        test: test.title.clone(),
        anchor: order::anchor(test),
        hookup: words::hookup(test.plug, test.key),
        places: places(test),
        computed: words::band_on_page(&expected.band, test.dimension),
        stated: stated(expected),
    }
}

/// Between which points, in the fewest words: `1 to 3`, or the scan value.
fn places(test: &TestSheet) -> String {
    match (&test.leads, &test.scan) {
        (Some(leads), _) => format!("{} to {}", leads.red.short, leads.black.short),
        (None, Some(scan)) => format!("scan: {scan}"),
        (None, None) => String::new(),
    }
}

fn stated(expected: &Expected) -> String {
    expected
        .stated
        .map(|band| words::together(&write_interval(band, Dimension::Voltage)))
        .unwrap_or_default()
}
