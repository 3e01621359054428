//! A better order: greedy over all tests known, by what each newly separates per minute.
//!
//! In: signatures. Out: tests in order, the conditional ones kept conditional and after their condition.
//! Measure: the chance that two causes drawn by prior have different repairs and are told apart
//! (quadratic entropy over repairs); a pair that depends counts half.

use super::class::Classes;
use super::plan::LEAST_MINUTES;
use super::probe::When;
use super::separate::Seen;
use super::signature::Signatures;
use super::tell::Telling;

/// One test of a better order.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// The test.
    pub test: String,
    /// Only after another test read so.
    pub when: Option<When>,
    /// Minutes over all its readings.
    pub minutes: f64,
    /// Part of all pairs by weight separated up to here, 0 to 1.
    pub separated: f64,
}

/// A test that newly separates less than this part of all pairs is left out.
pub(crate) const LEAST_GAIN: f64 = 0.001;

struct Candidate {
    test: String,
    when: Option<When>,
    probes: Vec<usize>,
    minutes: f64,
}

/// The better order.
pub fn better_order(signatures: &Signatures) -> Vec<Step> {
    let classes = Classes::of(signatures);
    order(signatures, &classes, &Telling::of(signatures))
}

/// As [`better_order`], where the separations are worked out already.
pub(crate) fn order(signatures: &Signatures, classes: &Classes, telling: &Telling) -> Vec<Step> {
    let pairs = Pairs::of(classes);
    let mut waiting: Vec<(Candidate, Vec<f64>)> = candidates(signatures)
        .into_iter()
        .map(|one| {
            let told = pairs.told(telling, &one.probes);
            (one, told)
        })
        .collect();
    let mut so_far = vec![0.0; pairs.weights.len()];
    let mut reached = 0.0;
    let mut steps: Vec<Step> = Vec::new();
    while let Some((place, gain)) = best(&pairs, &waiting, &so_far, &steps) {
        let (one, told) = waiting.remove(place);
        for (kept, new) in so_far.iter_mut().zip(told) {
            *kept = f64::max(*kept, new);
        }
        reached += gain;
        steps.push(Step {
            test: one.test,
            when: one.when,
            minutes: one.minutes,
            separated: reached,
        });
    }
    steps
}

/// All pairs of rows with different repairs, and their part of the weight of all.
struct Pairs<'c> {
    classes: &'c Classes,
    weights: Vec<f64>,
}

impl<'c> Pairs<'c> {
    fn of(classes: &'c Classes) -> Self {
        let mut weights = Vec::new();
        for a in 0..classes.of.len() {
            for b in (0..a).filter(|b| classes.of[a] != classes.of[*b]) {
                weights.push(classes.weight[a] * classes.weight[b]);
            }
        }
        let all: f64 = weights.iter().sum();
        if all > 0.0 {
            weights.iter_mut().for_each(|weight| *weight /= all);
        }
        Self { classes, weights }
    }

    /// How far some probes together tell each pair.
    fn told(&self, telling: &Telling, probes: &[usize]) -> Vec<f64> {
        let of = &self.classes.of;
        let mut told = Vec::with_capacity(self.weights.len());
        for (a, row) in telling.joint(probes).into_iter().enumerate() {
            let others = row.into_iter().enumerate();
            told.extend(
                others
                    .filter(|(b, _)| of[a] != of[*b])
                    .map(|(_, seen)| seen.worth()),
            );
        }
        told
    }
}

fn candidates(signatures: &Signatures) -> Vec<Candidate> {
    let mut candidates: Vec<Candidate> = Vec::new();
    for (place, probe) in signatures.probes.iter().enumerate() {
        match candidates.iter_mut().find(|one| one.test == probe.test) {
            Some(one) => {
                one.probes.push(place);
                one.minutes += probe.minutes;
            }
            None => candidates.push(Candidate {
                test: probe.test.clone(),
                when: probe.when.clone(),
                probes: vec![place],
                minutes: probe.minutes,
            }),
        }
    }
    candidates
}

/// The candidate that gains most per minute, the first of equals, and its gain; conditional ones wait for
/// their condition.
fn best(
    pairs: &Pairs,
    waiting: &[(Candidate, Vec<f64>)],
    so_far: &[f64],
    steps: &[Step],
) -> Option<(usize, f64)> {
    let ready = |one: &Candidate| {
        one.when
            .as_ref()
            .is_none_or(|when| steps.iter().any(|step| step.test == when.test))
    };
    let mut best: Option<(f64, usize, f64)> = None;
    for (place, (one, told)) in waiting.iter().enumerate() {
        if !ready(one) {
            continue;
        }
        let new = pairs.weights.iter().zip(told.iter().zip(so_far));
        let gain: f64 = new
            .map(|(weight, (told, had))| weight * (told - had).max(0.0))
            .sum();
        let rate = gain / one.minutes.max(LEAST_MINUTES);
        if gain >= LEAST_GAIN && best.is_none_or(|(most, _, _)| rate > most) {
            best = Some((rate, place, gain));
        }
    }
    best.map(|(_, place, gain)| (place, gain))
}

/// Part of all pairs with different repairs, by weight, that are separated; 1 where there are none.
pub(crate) fn separated(classes: &Classes, joint: &[Vec<Seen>]) -> f64 {
    let (mut told, mut all) = (0.0, 0.0);
    for (a, row) in joint.iter().enumerate() {
        for (b, seen) in row.iter().enumerate() {
            if classes.of[a] == classes.of[b] {
                continue;
            }
            let weight = classes.weight[a] * classes.weight[b];
            all += weight;
            told += weight * seen.worth();
        }
    }
    if all > 0.0 { told / all } else { 1.0 }
}
