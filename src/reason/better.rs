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
    /// How far it tells each pair.
    told: Vec<Seen>,
    /// What it newly separated when last looked at; since then it can only have become less.
    gain: f64,
}

impl Candidate {
    fn rate(&self) -> f64 {
        self.gain / self.minutes.max(LEAST_MINUTES)
    }
}

/// The better order.
pub fn better_order(signatures: &Signatures) -> Vec<Step> {
    let classes = Classes::of(signatures);
    order(signatures, &classes, &Telling::of(signatures))
}

/// As [`better_order`], where the separations are worked out already.
pub(crate) fn order(signatures: &Signatures, classes: &Classes, telling: &Telling) -> Vec<Step> {
    let pairs = Pairs::of(classes, telling);
    let mut waiting = candidates(signatures);
    for one in &mut waiting {
        one.told = telling.over(&pairs.rows, &one.probes);
    }
    let mut so_far = vec![Seen::Never; pairs.weights.len()];
    let mut reached = 0.0;
    let mut steps: Vec<Step> = Vec::new();
    while let Some(place) = best(&pairs, &mut waiting, &so_far, &steps) {
        let one = waiting.remove(place);
        for (kept, new) in so_far.iter_mut().zip(one.told) {
            *kept = new.min(*kept);
        }
        reached += one.gain;
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
    /// Rows, each with those before it that it makes a pair with.
    rows: Vec<(usize, Vec<usize>)>,
    /// Pair by pair.
    weights: Vec<f64>,
}

impl Pairs {
    fn of(classes: &Classes, telling: &Telling) -> Self {
        let first = telling.first_alike(classes);
        let mut weight = vec![0.0; first.len()];
        for (row, first) in first.iter().enumerate() {
            weight[*first] += classes.weight[row];
        }
        let mut own: Vec<usize> = (0..first.len()).collect();
        own.retain(|row| first[*row] == *row);
        let others = |(count, a): (usize, &usize)| {
            let before = own[..count].iter().copied();
            let others = before.filter(|b| classes.of[*a] != classes.of[*b]);
            (*a, others.collect::<Vec<usize>>())
        };
        let rows: Vec<(usize, Vec<usize>)> = own.iter().enumerate().map(others).collect();
        let each = rows.iter();
        let each = each.flat_map(|(a, others)| others.iter().map(|b| weight[*a] * weight[*b]));
        let mut weights: Vec<f64> = each.collect();
        let all: f64 = weights.iter().sum();
        if all > 0.0 {
            weights.iter_mut().for_each(|weight| *weight /= all);
        }
        Self { rows, weights }
    }

    /// Part of all pairs, by weight, that is told newly.
    fn gain(&self, told: &[Seen], so_far: &[Seen]) -> f64 {
        let new = self.weights.iter().zip(told.iter().zip(so_far));
        new.filter(|(_, (told, had))| told < had)
            .map(|(weight, (told, had))| weight * (told.worth() - had.worth()))
            .sum()
    }
}

fn candidates(signatures: &Signatures) -> Vec<Candidate> {
    let mut candidates: Vec<Candidate> = Vec::new();
    for (place, probe) in signatures.probes.iter().enumerate() {
        match candidates.iter_mut().find(|one| one.test == probe.test) {
            Some(one) => {
                one.probes.push(place);
                one.minutes = one.minutes.max(probe.minutes);
            }
            None => candidates.push(Candidate {
                test: probe.test.clone(),
                when: probe.when.clone(),
                probes: vec![place],
                minutes: probe.minutes,
                told: Vec::new(),
                gain: f64::INFINITY,
            }),
        }
    }
    candidates
}

/// The candidate that gains most per minute, the first of equals; conditional ones wait for their condition. What a
/// test newly separates only falls as others are done before it, so those are looked at again first that could gain
/// most, until none left could gain more.
fn best(
    pairs: &Pairs,
    waiting: &mut [Candidate],
    so_far: &[Seen],
    steps: &[Step],
) -> Option<usize> {
    let ready = |one: &Candidate| {
        one.when
            .as_ref()
            .is_none_or(|when| steps.iter().any(|step| step.test == when.test))
    };
    let mut places: Vec<usize> = (0..waiting.len()).collect();
    places.retain(|place| ready(&waiting[*place]));
    places.sort_by(|a, b| waiting[*b].rate().total_cmp(&waiting[*a].rate()));
    let mut best: Option<(f64, usize)> = None;
    for place in places {
        let one = &mut waiting[place];
        if best.is_some_and(|(most, _)| one.rate() < most) {
            break;
        }
        one.gain = pairs.gain(&one.told, so_far);
        let first = |(most, before): (f64, usize)| {
            most < one.rate() || (most == one.rate() && place < before)
        };
        if one.gain >= LEAST_GAIN && best.is_none_or(first) {
            best = Some((one.rate(), place));
        }
    }
    best.map(|(_, place)| place)
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
