//! The report of an audited test order.

use super::words::{seen, technique};
use crate::reason::Missing;
use crate::sheet::Sheet;
use serde::Serialize;

/// The answer of `order`.
#[derive(Debug, Serialize)]
pub struct OrderReport<'a> {
    card: &'a str,
    order: Vec<&'a str>,
    groups: Vec<&'a [String]>,
    pairs: PairsReport,
    better: Vec<&'a str>,
    missing: Vec<MissingReport<'a>>,
    /// Part of all pairs by weight that the order separates, and that the better one would.
    separated: f64,
    better_separated: f64,
    better_minutes: f64,
    unseen: Vec<UnseenReport<'a>>,
}

#[derive(Debug, Serialize)]
struct PairsReport {
    always: usize,
    depends: usize,
    never: usize,
}

#[derive(Debug, Serialize)]
struct MissingReport<'a> {
    kind: &'static str,
    /// Null where no test known to the card is of this kind.
    test: Option<&'a str>,
    splits: &'static str,
    repairs: &'a [String],
}

#[derive(Debug, Serialize)]
struct UnseenReport<'a> {
    fault: &'a str,
    repair: &'a str,
    /// Ohms up to which it is not seen; null where it never is.
    below: Option<f64>,
    /// What would show one that is never seen at all.
    by: Option<MissingReport<'a>>,
}

impl<'a> OrderReport<'a> {
    /// What the card's order can tell apart.
    pub fn of(sheet: &'a Sheet) -> Self {
        let audit = &sheet.reasoning.audit;
        let in_order = sheet.tests.iter().take(sheet.in_order);
        Self {
            card: &sheet.card,
            order: in_order.map(|test| test.id.as_str()).collect(),
            groups: audit
                .groups
                .iter()
                .map(|one| one.repairs.as_slice())
                .collect(),
            pairs: PairsReport {
                always: audit.pairs.always,
                depends: audit.pairs.depends,
                never: audit.pairs.never,
            },
            better: audit.better.iter().map(|step| step.test.as_str()).collect(),
            missing: audit
                .missing
                .iter()
                .map(|one| MissingReport::of(sheet, one))
                .collect(),
            separated: audit.separated,
            better_separated: audit.better_separated,
            better_minutes: audit.better.iter().map(|step| step.minutes).sum(),
            unseen: audit
                .unseen
                .iter()
                .map(|one| UnseenReport {
                    fault: &one.fault,
                    repair: &one.repair,
                    below: one.below,
                    by: one.by.as_ref().map(|by| MissingReport::of(sheet, by)),
                })
                .collect(),
        }
    }
}

impl<'a> MissingReport<'a> {
    fn of(sheet: &'a Sheet, one: &'a Missing) -> Self {
        let probes = &sheet.reasoning.signatures.probes;
        Self {
            kind: technique(one.technique),
            test: one
                .probe
                .and_then(|at| probes.get(at))
                .map(|probe| probe.test.as_str()),
            splits: seen(one.splits),
            repairs: &one.repairs,
        }
    }
}
