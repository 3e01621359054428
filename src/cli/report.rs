//! The shapes of `--json` answers: one shape a noun, SI units, bands as `[low, high]`.
//! Keys may be added; those here stay.

use super::Ending;
use super::report_reason::seen;
use super::words::{counted, listed, nominal, unit};
use crate::circuit::Band;
use crate::finding::{Finding, Severity};
use crate::quantity::Dimension;
use crate::reason::{FaultSeen, Seen};
use crate::sheet::{Sheet, TestSheet};
use serde::Serialize;

/// How many findings of each severity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub(super) struct Counts {
    pub(super) error: usize,
    pub(super) warning: usize,
    pub(super) advice: usize,
}

impl Counts {
    pub(super) fn of(findings: &[Finding]) -> Self {
        let number = |severity| {
            findings
                .iter()
                .filter(|f| f.kind.severity == severity)
                .count()
        };
        Self {
            error: number(Severity::Error),
            warning: number(Severity::Warning),
            advice: number(Severity::Advice),
        }
    }

    pub(super) fn any(self) -> bool {
        self.error + self.warning + self.advice > 0
    }

    /// Only errors stand in the way.
    pub(super) fn ending(self) -> Ending {
        match self.error {
            0 => Ending::Fine,
            _ => Ending::Errors,
        }
    }
}

impl std::fmt::Display for Counts {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let parts: Vec<String> = [
            (self.error, "error", "errors"),
            (self.warning, "warning", "warnings"),
            (self.advice, "piece of advice", "pieces of advice"),
        ]
        .into_iter()
        .filter(|(number, ..)| *number > 0)
        .map(|(number, one, many)| counted(number, one, many))
        .collect();
        match parts.as_slice() {
            [] => f.write_str("no findings"),
            parts => f.write_str(&listed(parts)),
        }
    }
}

/// The answer of `inspect`.
#[derive(Debug, Serialize)]
pub(super) struct InspectReport<'a> {
    findings: Vec<FindingReport<'a>>,
}

#[derive(Debug, Serialize)]
struct FindingReport<'a> {
    kind: &'static str,
    severity: &'static str,
    file: &'a str,
    line: usize,
    column: usize,
    message: &'a str,
    hint: Option<&'a str>,
}

impl<'a> InspectReport<'a> {
    pub(super) fn of(findings: &'a [Finding]) -> Self {
        let report = |finding: &'a Finding| FindingReport {
            kind: finding.kind.code,
            severity: match finding.kind.severity {
                Severity::Error => "error",
                Severity::Warning => "warning",
                Severity::Advice => "advice",
            },
            file: &finding.place.file,
            line: finding.place.line,
            column: finding.place.column,
            message: &finding.message,
            hint: finding.hint.as_deref(),
        };
        Self {
            findings: findings.iter().map(report).collect(),
        }
    }
}

/// The answer of `publish`.
#[derive(Clone, Copy, Debug, Serialize)]
pub(super) struct PublishReport {
    pub(super) pages: usize,
    pub(super) cards: usize,
    pub(super) bytes: u64,
    pub(super) seconds: f64,
    pub(super) findings: Counts,
}

/// The answer of `expect`.
#[derive(Debug, Serialize)]
pub(super) struct ExpectReport<'a> {
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
    faults: Vec<FaultReport<'a>>,
}

/// A fault at a test, over all states of the part.
#[derive(Debug, Serialize)]
struct FaultReport<'a> {
    fault: &'a str,
    repair: &'a str,
    says: &'a str,
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
    pub(super) fn of(sheet: &'a Sheet, tests: &[usize], fault: Option<&'a str>) -> Self {
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
                })
                .collect(),
            faults: faults(sheet, at),
        }
    }
}

/// Every fault at one test; where one state of the part always shows it, so does the test.
fn faults(sheet: &Sheet, test: usize) -> Vec<FaultReport<'_>> {
    let reasoning = &sheet.reasoning;
    let probes = (0..reasoning.outcomes.len()).filter(|probe| reasoning.of_test[*probe] == test);
    let outcomes: Vec<_> = probes.map(|probe| &reasoning.outcomes[probe]).collect();
    let Some(first) = outcomes.first() else {
        return Vec::new();
    };
    let says = |fault: &str| {
        let row = reasoning
            .signatures
            .rows
            .iter()
            .find(|row| row.name == fault);
        row.map_or("", |row| row.says.as_str())
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
            fault: &one.name,
            repair: &one.repair,
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
        intervals.sort_by(|a, b| a[0].total_cmp(&b[0]));
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
