//! The report of a sheet: what every test reads on a sound circuit and with each fault.

use super::measured::MeasuredReport;
use super::words::{nominal, seen, unit};
use crate::circuit::Band;
use crate::quantity::Dimension;
use crate::reason::{FaultSeen, Seen};
use crate::sheet::{Sheet, TestSheet};
use serde::Serialize;

/// The answer of `expect`.
#[derive(Debug, Serialize)]
pub struct ExpectReport<'a> {
    card: &'a str,
    /// The fault asked for, by name; null where none was.
    fault: Option<&'a str>,
    tests: Vec<TestReport<'a>>,
}

#[derive(Debug, Serialize)]
struct TestReport<'a> {
    test: &'a str,
    observes: &'static str,
    unit: &'static str,
    healthy: BandReport,
    states: Vec<StateReport<'a>>,
    measured: Vec<MeasuredReport>,
    faults: Vec<FaultReport>,
}

/// A fault at a test, over all states of the part.
#[derive(Debug, Serialize)]
struct FaultReport {
    fault: String,
    repair: String,
    says: String,
    seen: &'static str,
    #[serde(flatten)]
    band: BandReport,
}

#[derive(Debug, Serialize)]
struct StateReport<'a> {
    state: &'a str,
    #[serde(flatten)]
    band: BandReport,
    stated: Option<[f64; 2]>,
    /// What a scan tool shows where its value does not follow the pin.
    #[serde(skip_serializing_if = "str::is_empty")]
    instead: &'a str,
}

/// A band; `nominal` is null where the reading is no number, or differs between states.
#[derive(Debug, Serialize)]
struct BandReport {
    nominal: Option<f64>,
    bands: Vec<[f64; 2]>,
    floating: bool,
    no_path: bool,
}

impl<'a> ExpectReport<'a> {
    /// These tests of a sheet, by place.
    pub fn of(sheet: &'a Sheet, tests: &[usize], fault: Option<&'a str>) -> Self {
        Self {
            card: &sheet.card,
            fault,
            tests: tests.iter().map(|at| TestReport::of(sheet, *at)).collect(),
        }
    }
}

impl<'a> TestReport<'a> {
    fn of(sheet: &'a Sheet, at: usize) -> Self {
        let test = &sheet.tests[at];
        let bands: Vec<&Band> = test
            .expected
            .iter()
            .map(|expected| &expected.band)
            .collect();
        Self {
            test: &test.id,
            observes: observes(test),
            unit: unit(test.dimension),
            healthy: BandReport::of_all(&bands),
            states: test
                .expected
                .iter()
                .map(|expected| StateReport {
                    state: &expected.state,
                    band: BandReport::of_all(&[&expected.band]),
                    stated: expected.stated.map(|stated| [stated.low, stated.high]),
                    instead: &expected.instead,
                })
                .collect(),
            measured: MeasuredReport::of_test(sheet, at),
            faults: faults(sheet, at),
        }
    }
}

/// Every fault at one test; where one state of the part always shows it, so does the test.
fn faults(sheet: &Sheet, test: usize) -> Vec<FaultReport> {
    let reasoning = &sheet.reasoning;
    let probes = (0..reasoning.of_test.len()).filter(|probe| reasoning.of_test[*probe] == test);
    let outcomes: Vec<_> = probes.filter_map(|probe| sheet.outcome(probe)).collect();
    let Some(first) = outcomes.first() else {
        return Vec::new();
    };
    let says = |fault: &str| {
        let row = reasoning
            .signatures
            .rows
            .iter()
            .find(|row| row.name == fault);
        row.map_or_else(String::new, |row| row.says.clone())
    };
    let report = |one: &'_ FaultSeen| -> (Seen, BandReport) {
        let all = outcomes.iter().flat_map(|outcome| &outcome.faults);
        let own: Vec<&FaultSeen> = all.filter(|other| other.fault == one.fault).collect();
        let bands: Vec<&Band> = own.iter().map(|one| &one.band).collect();
        (
            Seen::best(own.iter().map(|one| one.seen)),
            BandReport::of_all(&bands),
        )
    };
    let each = first.faults.iter().map(|one| {
        let (best, band) = report(one);
        FaultReport {
            fault: one.name.clone(),
            repair: one.repair.clone(),
            says: says(&one.name),
            seen: seen(best),
            band,
        }
    });
    each.collect()
}

impl BandReport {
    /// All readings of these bands together, intervals joined where they touch.
    fn of_all(bands: &[&Band]) -> Self {
        let mut intervals: Vec<[f64; 2]> = bands
            .iter()
            .flat_map(|band| &band.intervals)
            .map(|interval| [interval.low, interval.high])
            .collect();
        intervals.sort_unstable_by(|a, b| a[0].total_cmp(&b[0]));
        let mut joined: Vec<[f64; 2]> = Vec::new();
        for next in intervals {
            match joined.last_mut() {
                Some(last) if next[0] <= last[1] => last[1] = last[1].max(next[1]),
                _ => joined.push(next),
            }
        }
        Self {
            nominal: match bands {
                [one] => nominal(one),
                _ => None,
            },
            bands: joined,
            floating: bands.iter().any(|band| band.floating),
            no_path: bands.iter().any(|band| band.no_path),
        }
    }
}

fn observes(test: &TestSheet) -> &'static str {
    match test.dimension {
        _ if test.scan.is_some() => "scan",
        Dimension::Voltage => "volts",
        Dimension::Resistance => "ohms",
        Dimension::Current => "amps",
        Dimension::Frequency => "hertz",
        _ => "ratio",
    }
}
