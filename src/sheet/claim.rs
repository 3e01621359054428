//! The claim of a verdict as a sentence.
//!
//! In: a verdict and the suspects it leaves. Out: one sentence. Never: a claim stronger than the verdict's.

use crate::circuit::Site;
use crate::reason::{Aside, Establishes, SetAside, Suspect, Verdict};

/// Repairs named in one sentence.
const NAMED: usize = 4;

/// The claim as a sentence; repairs are named the commonest first, as among the suspects.
pub(super) fn claim(found: &Verdict, left: &[Suspect]) -> String {
    let ranked = |repairs: &[String]| -> Vec<String> {
        let all = left.iter().map(|one| one.repair.clone());
        all.filter(|repair| repairs.contains(repair)).collect()
    };
    let derived = |one: &SetAside| matches!(one.why, Aside::Derived { .. });
    let every = match found.set_aside.iter().any(derived) {
        true => "Every reading that proves anything",
        false => "Every reading",
    };
    match &found.establishes {
        Establishes::NothingYet => "The readings so far rule nothing out.".to_owned(),
        Establishes::NothingFits => {
            "No single fault, and no good circuit, gives these readings together.".to_owned()
        }
        Establishes::HealthySoFar { left: same, .. } if same.is_empty() => {
            format!(
                "{every} is what a good circuit gives, and no fault that stays would show otherwise."
            )
        }
        Establishes::HealthySoFar { left: same, .. } => format!(
            "{every} so far is what a good circuit gives. These faults would read the same: {}.",
            some(&ranked(same))
        ),
        Establishes::Repair { repair, .. } => {
            format!("There is a fault, and one repair is left: {repair}.")
        }
        Establishes::Place { site, repairs } => format!(
            "There is a fault, and it sits in {}: {}.",
            place(site),
            alternatives(&ranked(repairs))
        ),
        Establishes::NotSeparable { repairs, .. } => format!(
            "There is a fault. It is one of a group that no further test here tells apart: {}.",
            alternatives(&ranked(repairs))
        ),
        Establishes::Several { repairs, .. } => format!(
            "There is a fault. These readings leave one group of {} repairs, which further tests can split: {}.",
            repairs.len(),
            some(&ranked(repairs))
        ),
    }
}

fn place(site: &Site) -> String {
    match site {
        Site::Module => "the module".to_owned(),
        Site::ModuleGround => "the module's own ground".to_owned(),
        Site::Wire(role) => format!("the {role} wire"),
        Site::Contact(role) => format!("the {role} contact"),
        Site::Part => "the part".to_owned(),
        Site::Supply => "the battery and its feeds".to_owned(),
    }
}

/// `a, or b, or c`: all of them.
fn alternatives(repairs: &[String]) -> String {
    repairs.join("; or ")
}

/// The first few, and how many more.
pub(super) fn some(repairs: &[String]) -> String {
    let shown = alternatives(&repairs[..repairs.len().min(NAMED)]);
    match repairs.len().saturating_sub(NAMED) {
        0 => shown,
        more => format!("{shown}; or {more} more"),
    }
}
