//! Turns: which test of the card's order comes next, and readings of tests that were not due.
//!
//! In: a sheet and the readings taken. Out: a test; a sentence for each reading of a test that is done only after
//! another one, where nothing says that it was so. Never: sets a reading aside; it was measured, and counts.

use super::taken::Taken;
use super::types::Sheet;
use crate::circuit::FLOATING_SHOWS;
use crate::reason::{Condition, Observation, Observed, When, may_do};

/// The first test of the card's order that was neither read nor skipped and whose condition is met.
pub fn in_turn(sheet: &Sheet, taken: &[Taken], skipped: &[usize]) -> Option<usize> {
    let observations: Vec<Observation> = taken.iter().map(|one| one.observation).collect();
    let reasoning = &sheet.reasoning;
    let done = |probe: &usize| {
        skipped.contains(probe) || observations.iter().any(|one| one.probe == *probe)
    };
    let is_due = |test: &usize| {
        let mut own =
            (0..reasoning.of_test.len()).filter(|probe| reasoning.of_test[*probe] == *test);
        let mut any = own.clone();
        !any.any(|probe| done(&probe))
            && own.any(|probe| may_do(&reasoning.signatures, &observations, probe))
    };
    (0..sheet.in_order.min(sheet.tests.len())).find(is_due)
}

/// What is to be said of each reading whose test has a condition that the other readings do not show to hold.
pub fn out_of_turn(sheet: &Sheet, taken: &[Taken]) -> Vec<String> {
    let probes = &sheet.reasoning.signatures.probes;
    let remark = |one: &Taken| {
        let probe = probes.get(one.observation.probe)?;
        let when = probe.when.as_ref()?;
        let other = taken.iter().find(|other| {
            let at = probes.get(other.observation.probe);
            at.is_some_and(|at| at.test == when.test)
        });
        let title = |id: &str| {
            let test = sheet.tests.iter().find(|test| test.id == id);
            test.map_or_else(String::new, |test| format!("“{}”", test.title))
        };
        let found = match other {
            None => "no reading of that was given",
            Some(other) if holds(sheet, other, when) => return None,
            Some(_) => "it was not",
        };
        let own = sheet.tests.iter().find(|test| test.id == probe.test)?;
        Some(format!(
            "{} is done only when {}; {found}. Its reading counts all the same.",
            title(&probe.test),
            own.when
        ))
    };
    taken.iter().filter_map(remark).collect()
}

/// Whether a reading may lie as the condition says; one that could not be taken may lie anywhere.
fn holds(sheet: &Sheet, other: &Taken, when: &When) -> bool {
    let probe = other.observation.probe;
    let healthy = sheet.reasoning.signatures.healthy(probe);
    let (Some(first), Some(last)) = (healthy.intervals.first(), healthy.intervals.last()) else {
        return true;
    };
    let (low, high) = match other.observation.reading {
        Observed::Value { number, within } if number.is_finite() => {
            (number - within, number + within)
        }
        Observed::Floating => (FLOATING_SHOWS.low, FLOATING_SHOWS.high),
        Observed::NoPath => (f64::INFINITY, f64::INFINITY),
        _ => return true,
    };
    let below = low < first.low || high <= FLOATING_SHOWS.high;
    let above = last.high < high;
    match when.is {
        Condition::Low => below,
        Condition::High => above,
        Condition::Off => below || above,
        Condition::Good => low <= last.high && first.low <= high,
    }
}
