//! The plan: which probe to read next.
//!
//! In: signatures and what was read. Out: probes by expected drop in entropy over repairs, per minute,
//! with how each would split what is left. Weights are priors; a healthy circuit is one of the outcomes.

use super::cells::{self, RawCell, Reads};
use super::class::{Classes, HEALTHY};
use super::evidence::{Observation, Observed};
use super::outcome::{Worth, worth};
use super::probe::{Condition, When};
use super::set::Set;
use super::signature::Signatures;
use super::span;

/// A probe worth reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Next {
    /// Which probe.
    pub probe: usize,
    /// Expected drop in entropy over repairs (healthy is one), bits.
    pub bits: f64,
    /// Minutes it takes.
    pub minutes: f64,
    /// How it splits what is left: likeliest reading first.
    pub branches: Vec<Branch>,
}

/// One way a probe can read, and what would be left then.
#[derive(Clone, Debug, PartialEq)]
pub struct Branch {
    /// The reading.
    pub reads: Reads,
    /// How likely, by priors.
    pub chance: f64,
    /// A healthy circuit would be left.
    pub healthy: bool,
    /// Repairs that would be left.
    pub repairs: Vec<String>,
}

/// A gain below this many bits is not worth a minute of anybody.
const LEAST_BITS: f64 = 0.01;
/// Minutes counted at least, so that a test entered as costing nothing does not outbid all others without end.
pub(crate) const LEAST_MINUTES: f64 = 0.1;

/// Chooses probes over one set of signatures.
#[derive(Clone, Debug)]
pub struct Planner<'s> {
    signatures: &'s Signatures,
    classes: Classes,
}

impl<'s> Planner<'s> {
    /// Numbers the repairs once.
    pub fn of(signatures: &'s Signatures) -> Self {
        Self {
            signatures,
            classes: Classes::of(signatures),
        }
    }

    /// What it chooses over.
    pub fn signatures(&self) -> &'s Signatures {
        self.signatures
    }

    /// As [`rank_probes`].
    pub fn rank(&self, observations: &[Observation]) -> Vec<Next> {
        let (signatures, classes) = (self.signatures, &self.classes);
        let (left, _) = signatures.left_by_all(observations);
        let before = classes.entropy(left.iter());
        let mut ranked: Vec<Next> = (0..signatures.probes.len())
            .filter(|probe| observations.iter().all(|one| one.probe != *probe))
            .filter(|probe| may_do(signatures, observations, *probe))
            .filter_map(|probe| weigh(signatures, classes, &left, before, probe))
            .collect();
        ranked.sort_by(|a, b| per_minute(b).total_cmp(&per_minute(a)));
        ranked
    }
}

/// The best probe to read next, none where no probe left would tell anything.
pub fn next_probe(signatures: &Signatures, observations: &[Observation]) -> Option<Next> {
    rank_probes(signatures, observations).into_iter().next()
}

/// All probes worth reading, best first by bits per minute; ties in the order of the probes.
/// Left out: those read already, those whose condition is not met, and jumpers to where the open input rests.
pub fn rank_probes(signatures: &Signatures, observations: &[Observation]) -> Vec<Next> {
    Planner::of(signatures).rank(observations)
}

fn per_minute(next: &Next) -> f64 {
    next.bits / next.minutes.max(LEAST_MINUTES)
}

fn weigh(
    signatures: &Signatures,
    classes: &Classes,
    left: &Set,
    before: f64,
    probe: usize,
) -> Option<Next> {
    let cells = cells::cut(signatures, classes, probe, left.iter());
    // A row whose reading may be anything stands whatever is read.
    let anything: Vec<usize> = left
        .iter()
        .filter(|row| signatures.telling(*row, probe).is_none())
        .collect();
    let standing = |cell: &RawCell| -> Vec<usize> {
        let own = cell.rows.iter().map(|(row, _)| *row);
        own.chain(anything.iter().copied()).collect()
    };
    let total: f64 = cells.iter().map(RawCell::mass).sum();
    if total <= 0.0 {
        return None;
    }
    let after: f64 = cells
        .iter()
        .map(|cell| cell.mass() / total * classes.entropy(standing(cell)))
        .sum();
    let bits = before - after;
    (bits >= LEAST_BITS).then(|| Next {
        probe,
        bits,
        minutes: signatures.probes[probe].minutes,
        branches: branches(classes, &cells, total, standing),
    })
}

fn branches(
    classes: &Classes,
    cells: &[RawCell],
    total: f64,
    standing: impl Fn(&RawCell) -> Vec<usize>,
) -> Vec<Branch> {
    let mut branches: Vec<Branch> = cells
        .iter()
        .map(|cell| {
            let left = classes.set_of(standing(cell));
            Branch {
                reads: cell.reads,
                chance: cell.mass() / total,
                healthy: left.contains(HEALTHY),
                repairs: classes.repairs(&left),
            }
        })
        .collect();
    branches.sort_by(|a, b| b.chance.total_cmp(&a.chance));
    branches
}

/// Whether a probe is to be read now: its condition is met, and it can show something.
pub fn may_do(signatures: &Signatures, observations: &[Observation], probe: usize) -> bool {
    worth(signatures, probe) != Worth::NoChangeExpected
        && signatures.probes[probe]
            .when
            .as_ref()
            .is_none_or(|when| is_met(signatures, observations, when))
}

/// Whether an observation meets the condition: any reading of the named test that lies so.
fn is_met(signatures: &Signatures, observations: &[Observation], when: &When) -> bool {
    observations.iter().any(|one| {
        let named = signatures
            .probes
            .get(one.probe)
            .is_some_and(|probe| probe.test == when.test);
        let healthy = signatures.healthy(one.probe);
        named
            && match one.reading {
                Observed::Value { number, within } => lies(number, within, when.is, &healthy),
                Observed::NoPath => match when.is {
                    Condition::High | Condition::Off => !healthy.no_path,
                    Condition::Good => healthy.no_path,
                    Condition::Low => false,
                },
                Observed::NoChange | Observed::CannotMeasure => false,
            }
    })
}

fn lies(number: f64, within: f64, condition: Condition, healthy: &crate::circuit::Band) -> bool {
    let good = span::admits(healthy, number, within);
    let spans = &healthy.intervals;
    match condition {
        Condition::Good => good,
        Condition::Off => !good,
        Condition::Low => !good && spans.first().is_some_and(|span| number < span.low),
        Condition::High => !good && spans.last().is_some_and(|span| number > span.high),
    }
}
