//! Checking a typed order: does it leave an open signal wire together with a dead part or module input?
//!
//! In: a card with an order of its own, and what is reasoned about it. Out: advice that names the test
//! which would split them. Silent on a family's order, and where no known test would help.

use super::types::Reasoning;
use crate::card::Card;
use crate::circuit::Site;
use crate::circuit::fault::FaultKind;
use crate::finding::{Finding, kinds};
use crate::reason::{Group, Row};

/// Advises a test for the first group that needs one.
pub(super) fn check_order(card: &Card, reasoning: &Reasoning, findings: &mut Vec<Finding>) {
    let Some(first) = card.order.first() else {
        return;
    };
    let advice = reasoning
        .audit
        .groups
        .iter()
        .find_map(|group| split(reasoning, group));
    findings.extend(advice.map(|(one, other, test)| {
        kinds::ambiguous_order(first.place.clone(), one, other, Some(test))
    }));
}

/// The open wire, what it can't be told from, and the test that would tell them apart.
fn split<'a>(reasoning: &'a Reasoning, group: &'a Group) -> Option<(&'a str, &'a str, &'a str)> {
    let rows = || {
        let all = reasoning.signatures.rows.iter();
        all.filter(|row| group.faults.contains(&row.name))
    };
    let open =
        rows().filter(|row| row.kind == Some(FaultKind::Open) && is_signal_wire(reasoning, row));
    let dead = |open: &Row| rows().find(|row| row.repair != open.repair && is_part_or_input(row));
    let (open, dead) = open.filter_map(|open| Some((open, dead(open)?))).next()?;
    let split = group.split_by.iter().find(|missing| {
        missing.probe.is_some()
            && [open, dead]
                .iter()
                .all(|row| missing.repairs.contains(&row.repair))
    })?;
    let test = reasoning.signatures.probes.get(split.probe?)?;
    Some((&open.name, &dead.name, &test.test))
}

/// The wire of a role that a module input reads.
fn is_signal_wire(reasoning: &Reasoning, row: &Row) -> bool {
    let Some(Site::Wire(role)) = &row.site else {
        return false;
    };
    let input = format!("module input {role}");
    let mut rows = reasoning.signatures.rows.iter();
    rows.any(|other| other.subject == input)
}

fn is_part_or_input(row: &Row) -> bool {
    match row.site {
        Some(Site::Part) => true,
        Some(Site::Module) => row.subject.starts_with("module input"),
        _ => false,
    }
}
