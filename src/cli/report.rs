//! The shapes of the `--json` answers that only a terminal gives; the others stand in `report`.
//! Keys may be added; those here stay.

use super::Ending;
use super::words::{counted, listed};
use crate::finding::{Finding, Severity};
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
