//! Expected readings: what a good circuit reads at each test, state by state.

use super::order;
use crate::publish::units::Both;
use crate::publish::words;
use crate::quantity::{Dimension, write_interval};
use crate::sheet::{Expected, Sheet, TestSheet};
use serde::Serialize;

/// What a test reads in one state.
#[derive(Serialize)]
pub(super) struct ReadsLine {
    state: String,
    both: Both,
    computed: String,
    stated: String,
}

/// All readings of the order: tests that read the same in every state, then the others by state.
#[derive(Serialize)]
pub(super) struct ExpectedReadings {
    in_any_state: Vec<AnyState>,
    by_state: Vec<OneState>,
    tests_by_state: Vec<TestHead>,
}

/// A test and where it stands on the page.
#[derive(Serialize)]
struct TestHead {
    test: String,
    anchor: String,
    hookup: String,
}

/// A test that reads the same in every state of the part.
#[derive(Serialize)]
struct AnyState {
    head: TestHead,
    computed: String,
    stated: String,
}

/// A state and what the tests that depend on it read, in the order of `tests_by_state`.
#[derive(Serialize)]
struct OneState {
    state: String,
    both: Both,
    readings: Vec<Reading>,
}

/// What one test reads in one state; empty where it is not done in that state.
#[derive(Serialize)]
struct Reading {
    test: String,
    computed: String,
    stated: String,
}

impl ReadsLine {
    /// Letters on paper: of the state with what is computed, and of what the card states.
    pub(super) fn letters(&self) -> [usize; 2] {
        /// `card: `
        const NAMED: usize = 6;
        let count = |text: &str| text.chars().count();
        let stated = match count(&self.stated) {
            0 => 0,
            letters => NAMED + letters,
        };
        [count(&self.state) + 1 + count(&self.computed), stated]
    }

    /// Every state of a test; one line where they all read the same.
    pub(super) fn all(test: &TestSheet) -> Vec<Self> {
        let line = |expected: &Expected| Self {
            state: expected.state.clone(),
            both: Both::of(&expected.state),
            computed: words::expected_on_page(expected, test.dimension),
            stated: stated(expected),
        };
        let mut lines: Vec<Self> = test.expected.iter().map(line).collect();
        let alike = |line: &Self| line.computed == lines[0].computed && line.stated.is_empty();
        if 1 < lines.len() && lines.iter().all(alike) {
            lines.truncate(1);
            lines[0].state.clear();
        }
        lines
    }
}

/// The readings of the tests in the order.
pub(super) fn view(sheet: &Sheet) -> ExpectedReadings {
    let in_order = &sheet.tests[..sheet.in_order.min(sheet.tests.len())];
    let mut readings = ExpectedReadings {
        in_any_state: Vec::new(),
        by_state: Vec::new(),
        tests_by_state: Vec::new(),
    };
    for test in in_order {
        let lines = ReadsLine::all(test);
        match lines.as_slice() {
            [only] if only.state.is_empty() => readings.in_any_state.push(AnyState {
                head: TestHead::of(test),
                computed: only.computed.clone(),
                stated: only.stated.clone(),
            }),
            _ => readings.add_by_state(test, lines),
        }
    }
    readings
}

impl ExpectedReadings {
    /// A column of the table by state; states keep the order in which tests name them.
    fn add_by_state(&mut self, test: &TestSheet, lines: Vec<ReadsLine>) {
        let before = self.tests_by_state.len();
        self.tests_by_state.push(TestHead::of(test));
        let blank = |head: &TestHead| Reading {
            test: head.test.clone(),
            computed: String::new(),
            stated: String::new(),
        };
        for line in &lines {
            if !self.by_state.iter().any(|row| row.state == line.state) {
                let readings = self.tests_by_state[..before].iter().map(blank).collect();
                self.by_state.push(OneState {
                    state: line.state.clone(),
                    both: Both::of(&line.state),
                    readings,
                });
            }
        }
        for row in &mut self.by_state {
            let mut reading = blank(&self.tests_by_state[before]);
            if let Some(line) = lines.iter().find(|line| line.state == row.state) {
                reading.computed.clone_from(&line.computed);
                reading.stated.clone_from(&line.stated);
            }
            row.readings.push(reading);
        }
    }
}

impl TestHead {
    fn of(test: &TestSheet) -> Self {
        let hookup = words::hookup(test.plug, test.key);
        let places = places(test);
        Self {
            test: test.title.clone(),
            anchor: order::anchor(test),
            hookup: match places.is_empty() {
                true => hookup,
                false => format!("{hookup}, {places}"),
            },
        }
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
