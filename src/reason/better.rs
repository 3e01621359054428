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
const LEAST_GAIN: f64 = 0.001;

struct Candidate {
    test: String,
    when: Option<When>,
    probes: Vec<usize>,
    minutes: f64,
}

/// The better order.
pub fn better_order(signatures: &Signatures) -> Vec<Step> {
    let classes = Classes::of(signatures);
    let telling = Telling::of(signatures);
    let mut waiting = candidates(signatures);
    let joints: Vec<Vec<Vec<Seen>>> = waiting
        .iter()
        .map(|one| telling.joint(&one.probes))
        .collect();
    let mut waiting_joints = joints;
    let mut so_far = telling.joint(&[]);
    let mut reached = 0.0;
    let mut steps: Vec<Step> = Vec::new();
    while let Some((place, value)) = best(
        &classes,
        &waiting,
        &waiting_joints,
        &so_far,
        reached,
        &steps,
    ) {
        let one = waiting.remove(place);
        add(&mut so_far, &waiting_joints.remove(place));
        reached = value;
        steps.push(Step {
            test: one.test,
            when: one.when,
            minutes: one.minutes,
            separated: value,
        });
    }
    steps
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

/// The candidate that gains most per minute, the first of equals; conditional ones wait for their condition.
fn best(
    classes: &Classes,
    waiting: &[Candidate],
    joints: &[Vec<Vec<Seen>>],
    so_far: &[Vec<Seen>],
    reached: f64,
    steps: &[Step],
) -> Option<(usize, f64)> {
    let mut best: Option<(f64, usize, f64)> = None;
    for (place, one) in waiting.iter().enumerate() {
        let ready = one
            .when
            .as_ref()
            .is_none_or(|when| steps.iter().any(|step| step.test == when.test));
        if !ready {
            continue;
        }
        let mut with = so_far.to_vec();
        add(&mut with, &joints[place]);
        let value = separated(classes, &with);
        let rate = (value - reached) / one.minutes.max(LEAST_MINUTES);
        if value - reached >= LEAST_GAIN && best.is_none_or(|(most, _, _)| rate > most) {
            best = Some((rate, place, value));
        }
    }
    best.map(|(_, place, value)| (place, value))
}

fn add(so_far: &mut [Vec<Seen>], new: &[Vec<Seen>]) {
    for (kept, own) in so_far.iter_mut().zip(new) {
        for (kept, own) in kept.iter_mut().zip(own) {
            *kept = (*kept).min(*own);
        }
    }
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
