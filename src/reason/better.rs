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
    let pairs = Pairs::of(classes, telling);
    let mut waiting: Vec<(Candidate, Vec<Seen>)> = candidates(signatures)
        .into_iter()
        .map(|one| {
            let told = pairs.told(telling, &one.probes);
            (one, told)
        })
        .collect();
    let mut so_far = vec![Seen::Never; pairs.weights.len()];
    let mut reached = 0.0;
    let mut steps: Vec<Step> = Vec::new();
    while let Some((place, gain)) = best(&pairs, &waiting, &so_far, &steps) {
        let (one, told) = waiting.remove(place);
        for (kept, new) in so_far.iter_mut().zip(told) {
            *kept = new.min(*kept);
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

/// All pairs of rows with different repairs, and their part of the weight of all. Rows of one repair that no
/// probe tells apart are one.
struct Pairs {
    rows: Vec<usize>,
    class: Vec<usize>,
    weights: Vec<f64>,
}

impl Pairs {
    fn of(classes: &Classes, telling: &Telling) -> Self {
        let first = telling.first_alike(classes);
        let mut weight = vec![0.0; first.len()];
        for (row, first) in first.iter().enumerate() {
            weight[*first] += classes.weight[row];
        }
        let mut rows: Vec<usize> = (0..first.len()).collect();
        rows.retain(|row| first[*row] == *row);
        let class: Vec<usize> = rows.iter().map(|row| classes.of[*row]).collect();
        let mut weights = Vec::new();
        for a in 0..rows.len() {
            for b in (0..a).filter(|b| class[a] != class[*b]) {
                weights.push(weight[rows[a]] * weight[rows[b]]);
            }
        }
        let all: f64 = weights.iter().sum();
        if all > 0.0 {
            weights.iter_mut().for_each(|weight| *weight /= all);
        }
        Self {
            rows,
            class,
            weights,
        }
    }

    /// How far some probes together tell each pair.
    fn told(&self, telling: &Telling, probes: &[usize]) -> Vec<Seen> {
        let mut told = Vec::with_capacity(self.weights.len());
        for (a, row) in telling.joint_of(&self.rows, probes).into_iter().enumerate() {
            let others = row.into_iter().zip(&self.class);
            told.extend(
                others
                    .filter(|(_, class)| self.class[a] != **class)
                    .map(|(seen, _)| seen),
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
    waiting: &[(Candidate, Vec<Seen>)],
    so_far: &[Seen],
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
            .filter(|(_, (told, had))| told < had)
            .map(|(weight, (told, had))| weight * (told.worth() - had.worth()))
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
