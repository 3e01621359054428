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
    /// Minutes it takes, pulling the plug or putting it back included.
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

/// Minutes for pulling a plug or putting it back (judgement, no source).
const PLUG_MINUTES: f64 = 1.0;

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
        let (left, _) = self.signatures.left_by_all(observations);
        let mut ranked: Vec<Next> = self
            .weighed(&left, observations, |_| true)
            .map(|(probe, weighed)| Next {
                probe,
                bits: weighed.bits,
                minutes: self.minutes(probe, observations),
                branches: weighed.branches(&self.classes),
            })
            .collect();
        let rate = |next: &Next| per_minute(next.bits, next.minutes);
        ranked.sort_unstable_by(|a, b| rate(b).total_cmp(&rate(a)).then(a.probe.cmp(&b.probe)));
        ranked
    }

    /// The first probe of [`rank_probes`] among those wanted, where these rows are left.
    pub fn best(
        &self,
        left: impl IntoIterator<Item = usize>,
        observations: &[Observation],
        wanted: impl Fn(usize) -> bool,
    ) -> Option<usize> {
        let left = Set::of(self.signatures.rows.len(), left);
        let mut best: Option<(f64, usize)> = None;
        for (probe, weighed) in self.weighed(&left, observations, wanted) {
            let rate = per_minute(weighed.bits, self.minutes(probe, observations));
            if best.is_none_or(|(most, _)| most < rate) {
                best = Some((rate, probe));
            }
        }
        best.map(|(_, probe)| probe)
    }

    /// Minutes a probe takes after these observations: plugging in or pulling the plug comes on top.
    fn minutes(&self, probe: usize, observations: &[Observation]) -> f64 {
        let mated = |probe: usize| Some(self.signatures.probes.get(probe)?.hookup.mated);
        let before = observations.last().and_then(|last| mated(last.probe));
        let moves = before.is_some_and(|before| mated(probe) != Some(before));
        self.signatures.probes[probe].minutes + if moves { PLUG_MINUTES } else { 0.0 }
    }

    /// Every probe wanted that is worth reading after these observations.
    fn weighed(
        &self,
        left: &Set,
        observations: &[Observation],
        wanted: impl Fn(usize) -> bool,
    ) -> impl Iterator<Item = (usize, Weighed)> {
        let signatures = self.signatures;
        let before = self.classes.entropy(left.iter());
        (0..signatures.probes.len())
            .filter(move |probe| wanted(*probe))
            .filter(|probe| observations.iter().all(|one| one.probe != *probe))
            .filter(|probe| may_do(signatures, observations, *probe))
            .filter_map(move |probe| {
                let loose = |row: &usize| signatures.is_loose(*row, probe, observations);
                let weighed = weigh(signatures, &self.classes, (left, before), probe, loose)?;
                Some((probe, weighed))
            })
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

fn per_minute(bits: f64, minutes: f64) -> f64 {
    bits / minutes.max(LEAST_MINUTES)
}

/// A probe's cells, and what reading it would tell.
struct Weighed {
    bits: f64,
    cells: Vec<RawCell>,
    total: f64,
    /// Rows that stand whatever is read, since their reading may be anything.
    anything: Vec<usize>,
}

impl Weighed {
    fn standing(&self, cell: &RawCell) -> impl Iterator<Item = usize> {
        let own = cell.rows.iter().map(|(row, _)| *row);
        own.chain(self.anything.iter().copied())
    }

    fn branches(&self, classes: &Classes) -> Vec<Branch> {
        let each = self.cells.iter().map(|cell| {
            let left = classes.set_of(self.standing(cell));
            Branch {
                reads: cell.reads,
                chance: cell.mass() / self.total,
                healthy: left.contains(HEALTHY),
                repairs: classes.repairs(&left),
            }
        });
        let mut branches: Vec<Branch> = each.collect();
        branches.sort_by(|a, b| b.chance.total_cmp(&a.chance));
        branches
    }
}

/// None where reading the probe is not worth it.
fn weigh(
    signatures: &Signatures,
    classes: &Classes,
    (left, before): (&Set, f64),
    probe: usize,
    loose: impl Fn(&usize) -> bool,
) -> Option<Weighed> {
    let anything = |row: &usize| loose(row) || signatures.telling(*row, probe).is_none();
    let (anything, held): (Vec<usize>, Vec<usize>) = left.iter().partition(anything);
    let cells = cells::cut(signatures, classes, probe, held.into_iter());
    let total: f64 = cells.iter().map(RawCell::mass).sum();
    if total <= 0.0 {
        return None;
    }
    let mut weighed = Weighed {
        bits: 0.0,
        cells,
        total,
        anything,
    };
    let after: f64 = weighed
        .cells
        .iter()
        .map(|cell| cell.mass() / total * classes.entropy(weighed.standing(cell)))
        .sum();
    weighed.bits = before - after;
    (LEAST_BITS <= weighed.bits).then_some(weighed)
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
                Observed::Floating => match when.is {
                    Condition::Low | Condition::Off => !healthy.floating,
                    Condition::Good => healthy.floating,
                    Condition::High => false,
                },
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
