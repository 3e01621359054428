//! The verdict: what the readings so far establish, what they rest on, what they cannot rule out.
//!
//! In: signatures and observations. Out: a claim no stronger than the rows left allow. A repair is
//! established only when the healthy circuit is out and every fault left shares it; a thing is proven good
//! only when every fault of it is out, but for what is too slight to show, which is named.

use super::class::{Classes, HEALTHY};
use super::evidence::{Observation, Observed};
use super::outcome::{Worth, worth};
use super::plan::rank_probes;
use super::probe::ProbeKind;
use super::proof::{Open, Proven, open, proven};
use super::set::Set;
use super::signature::Signatures;
use crate::circuit::Site;

/// What the readings so far say.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// The claim.
    pub establishes: Establishes,
    /// What is proven good, in the order of the signatures.
    pub proven: Vec<Proven>,
    /// Observations the claim needs, ascending: without any of them more would be possible.
    pub rests_on: Vec<usize>,
    /// Observations it does not rest on, and why.
    pub set_aside: Vec<SetAside>,
    /// What stays possible all the same.
    pub cannot_rule_out: Vec<Open>,
}

/// The claim of a verdict.
#[derive(Clone, Debug, PartialEq)]
pub enum Establishes {
    /// Nothing: no reading yet has ruled anything out.
    NothingYet,
    /// No single fault fits, and no healthy circuit: see the conflict of the suspects.
    NothingFits,
    /// Every reading is what a healthy circuit gives. Faults that would read the same are left.
    HealthySoFar {
        /// Repairs left, but for what is too slight to show.
        left: Vec<String>,
        /// Where they sit.
        sites: Vec<Site>,
    },
    /// There is a fault, and this repair mends it.
    Repair {
        /// The repair.
        repair: String,
        /// Where.
        sites: Vec<Site>,
    },
    /// There is a fault; all that is left sits in one place.
    Place {
        /// The place.
        site: Site,
        /// Repairs left.
        repairs: Vec<String>,
    },
    /// There is a fault; no reading that remains tells these apart: one group.
    NotSeparable {
        /// Repairs of the group.
        repairs: Vec<String>,
        /// Where they sit.
        sites: Vec<Site>,
    },
    /// There is a fault; further tests can tell these apart.
    Several {
        /// Repairs left.
        repairs: Vec<String>,
        /// Where they sit.
        sites: Vec<Site>,
    },
}

/// An observation the verdict does not rest on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SetAside {
    /// Which.
    pub observation: usize,
    /// Why.
    pub why: Aside,
}

/// Why an observation is set aside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aside {
    /// Derived: it need not follow the pin, so neither its value nor its standing still proves anything.
    Derived {
        /// A probe with the same hook-up whose value is raw, or that forces a value inside the range it follows.
        instead: Option<usize>,
    },
    /// The jumper goes to where the open input rests: no change was to be expected.
    NoChangeExpected,
    /// Where the open input rests is not known, so the reading fits either way.
    DependsOnRest,
    /// It could not be done.
    NotMeasured,
    /// It says nothing the others do not say.
    NothingNew,
}

/// What the observations establish.
pub fn verdict(signatures: &Signatures, observations: &[Observation]) -> Verdict {
    let classes = Classes::of(signatures);
    let (left, each) = signatures.left_by_all(observations);
    let shown = signatures.shown(observations, &each);
    let probes: Vec<usize> = observations.iter().map(|one| one.probe).collect();
    let faint = signatures.faint(&left, &shown, &probes);
    let rests_on = needed(signatures, observations, &each, &left);
    let establishes = claim(signatures, &classes, observations, (&left, &faint));
    let fits = !left.is_empty();
    Verdict {
        proven: if fits {
            by_good_readings(signatures, observations, &each, &left)
        } else {
            Vec::new()
        },
        cannot_rule_out: open(signatures, &faint, &shown, &establishes),
        set_aside: set_aside(signatures, observations, &each, &rests_on),
        rests_on,
        establishes,
    }
}

/// What good readings prove. A reading that shows a fault clears the others as its cause, and no more:
/// nothing is proven good that no good reading has put to work. Readings that are good each for another answer to
/// what a card leaves open (where the open input rests) are not good together, and prove nothing.
fn by_good_readings(
    signatures: &Signatures,
    observations: &[Observation],
    each: &[Set],
    overall: &Set,
) -> Vec<Proven> {
    let healthy = |set: &Set| set.iter().any(|row| signatures.rows[row].fault.is_none());
    let mut left = Set::full(signatures.rows.len());
    let good = observations.iter().zip(each);
    let good = good.filter(|(one, set)| one.reading.is_shown() && healthy(set));
    let (good, each): (Vec<Observation>, Vec<Set>) =
        good.map(|(one, set)| (*one, set.clone())).unzip();
    each.iter().for_each(|set| left.keep(set));
    if !healthy(&left) {
        return Vec::new();
    }
    let probes: Vec<usize> = good.iter().map(|one| one.probe).collect();
    let shown = signatures.shown(&good, &each);
    // What is suspected for what read off is no slight exception.
    let fault = !healthy(overall);
    let suspected = |row: &usize| fault && overall.contains(*row);
    let faint = signatures.faint(&left, &shown, &probes);
    let faint = Set::of(
        signatures.rows.len(),
        faint.iter().filter(|row| !suspected(row)),
    );
    proven(signatures, (&left, &faint), &shown)
}

fn claim(
    signatures: &Signatures,
    classes: &Classes,
    observations: &[Observation],
    (left, faint): (&Set, &Set),
) -> Establishes {
    let standing = classes.set_of(left.iter());
    if *left == Set::full(signatures.rows.len()) {
        return Establishes::NothingYet;
    }
    if left.is_empty() {
        return Establishes::NothingFits;
    }
    if standing.contains(HEALTHY) {
        let plain = || left.iter().filter(|row| !faint.contains(*row));
        return Establishes::HealthySoFar {
            left: classes.repairs(&classes.set_of(plain())),
            sites: sites(signatures, plain()),
        };
    }
    let mut repairs = classes.repairs(&standing);
    let mut sites = sites(signatures, left.iter());
    match (repairs.len(), sites.len()) {
        (1, _) => Establishes::Repair {
            repair: repairs.remove(0),
            sites,
        },
        (_, 1) => Establishes::Place {
            site: sites.remove(0),
            repairs,
        },
        _ if rank_probes(signatures, observations).is_empty() => {
            Establishes::NotSeparable { repairs, sites }
        }
        _ => Establishes::Several { repairs, sites },
    }
}

fn sites(signatures: &Signatures, rows: impl Iterator<Item = usize>) -> Vec<Site> {
    let mut sites: Vec<Site> = rows
        .filter_map(|row| signatures.rows[row].site.clone())
        .collect();
    sites.sort_unstable();
    sites.dedup();
    sites
}

/// Observations without which more rows would stand: dropped one by one, derived first, then the latest.
fn needed(
    signatures: &Signatures,
    observations: &[Observation],
    each: &[Set],
    left: &Set,
) -> Vec<usize> {
    let mut kept: Vec<usize> = (0..observations.len()).collect();
    let mut dropping = kept.clone();
    dropping.sort_unstable_by_key(|place| {
        let kind = signatures
            .probes
            .get(observations[*place].probe)
            .map(|probe| probe.kind);
        let derived = matches!(kind, Some(ProbeKind::Derived { .. }));
        (!derived, std::cmp::Reverse(*place))
    });
    for place in dropping {
        let mut without = Set::full(signatures.rows.len());
        for other in kept.iter().filter(|other| **other != place) {
            without.keep(&each[*other]);
        }
        if without == *left {
            kept.retain(|other| *other != place);
        }
    }
    kept
}

fn set_aside(
    signatures: &Signatures,
    observations: &[Observation],
    each: &[Set],
    rests_on: &[usize],
) -> Vec<SetAside> {
    let all = Set::full(signatures.rows.len());
    (0..observations.len())
        .filter(|place| !rests_on.contains(place))
        .map(|observation| SetAside {
            observation,
            why: why_aside(
                signatures,
                &observations[observation],
                each[observation] == all,
            ),
        })
        .collect()
}

fn why_aside(signatures: &Signatures, observation: &Observation, rules_out_none: bool) -> Aside {
    match (observation.reading, worth(signatures, observation.probe)) {
        (Observed::CannotMeasure, _) => Aside::NotMeasured,
        (_, Worth::Derived) => Aside::Derived {
            instead: instead_of_derived(signatures, observation.probe),
        },
        (_, Worth::NoChangeExpected) => Aside::NoChangeExpected,
        (_, Worth::DependsOnRest) if rules_out_none => Aside::DependsOnRest,
        _ => Aside::NothingNew,
    }
}

/// A raw value with the same jumper, else a probe of the same kind whose healthy reading is inside the range.
fn instead_of_derived(signatures: &Signatures, probe: usize) -> Option<usize> {
    let own = signatures.probes.get(probe)?;
    let raw = signatures.probes.iter().position(|other| {
        other.kind == ProbeKind::Raw
            && other.hookup.observe == own.hookup.observe
            && other.hookup.links == own.hookup.links
            && other.hookup.mated == own.hookup.mated
    });
    raw.or_else(|| {
        (0..signatures.probes.len()).find(|other| {
            *other != probe
                && signatures.probes[*other].kind == own.kind
                && signatures.probes[*other].hookup.observe == own.hookup.observe
                && !signatures.probes[*other].hookup.links.is_empty()
                && (0..signatures.rows.len())
                    .filter(|row| signatures.rows[*row].fault.is_none())
                    .all(|row| signatures.telling(row, *other).is_some())
        })
    })
}
