//! A better order: greedy over all tests known, by what each newly separates per minute.
//!
//! In: signatures. Out: tests in order, the conditional ones kept conditional and after their condition.
//! Measure: the chance that two causes drawn by prior have different repairs and are told apart
//! (quadratic entropy over repairs); a pair that depends counts half.

use super::class::Classes;
use super::plan::LEAST_MINUTES;
use super::probe::When;
use super::separate::Seen;
use super::set::Set;
use super::signature::Signatures;
use super::tell::{Joint, Telling};

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
    /// What it tells apart.
    told: Joint,
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
    let mut waiting = candidates(signatures, telling);
    let mut so_far = telling.joint(&[]);
    let mut reached = 0.0;
    let mut steps: Vec<Step> = Vec::new();
    while let Some(place) = best(&pairs, &mut waiting, &so_far, &steps) {
        let one = waiting.remove(place);
        so_far.join(&one.told);
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

/// All pairs of rows with different repairs, by weight. Rows of one repair that no probe tells apart are one.
struct Pairs {
    /// For each row those before it that it makes a pair with.
    others: Vec<Set>,
    /// Of each row.
    weights: Vec<f64>,
    /// Of all pairs.
    all: f64,
}

impl Pairs {
    fn of(classes: &Classes, telling: &Telling) -> Self {
        let first = telling.first_alike(classes);
        let count = first.len();
        let mut weights = vec![0.0; count];
        for (row, first) in first.iter().enumerate() {
            weights[*first] += classes.weight[row];
        }
        let is_own = |row: &usize| first[*row] == *row;
        let others = |row: usize| {
            let before = (0..row).filter(|b| is_own(&row) && is_own(b));
            Set::of(count, before.filter(|b| classes.of[row] != classes.of[*b]))
        };
        let mut pairs = Self {
            others: (0..count).map(others).collect(),
            weights,
            all: 1.0,
        };
        let (none, every) = (Set::empty(count), Set::full(count));
        pairs.all = pairs.weigh(|_| (&every, &none));
        pairs
    }

    /// The weight of the pairs of each row with what is told from it and was not before.
    fn weigh<'s>(&self, told: impl Fn(usize) -> (&'s Set, &'s Set)) -> f64 {
        let rows = self.others.iter().zip(&self.weights).enumerate();
        let each = rows.map(|(row, (others, weight))| {
            let (told, had) = told(row);
            let new = told.beyond(had, others);
            weight * new.map(|other| self.weights[other]).sum::<f64>()
        });
        each.sum()
    }

    /// Part of all pairs, by weight, that is told newly.
    fn gain(&self, told: &Joint, so_far: &Joint) -> f64 {
        if self.all <= 0.0 {
            return 0.0;
        }
        let at_all = self.weigh(|row| (&told.0[row].at_all, &so_far.0[row].at_all));
        let always = self.weigh(|row| (&told.0[row].always, &so_far.0[row].always));
        let sometimes = Seen::Depends.worth();
        (sometimes * at_all + (Seen::Always.worth() - sometimes) * always) / self.all
    }
}

fn candidates(signatures: &Signatures, telling: &Telling) -> Vec<Candidate> {
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
                told: Joint(Vec::new()),
                gain: f64::INFINITY,
            }),
        }
    }
    for one in &mut candidates {
        one.told = telling.joint(&one.probes);
    }
    candidates
}

/// The candidate that gains most per minute, the first of equals; conditional ones wait for their condition. What a
/// test newly separates only falls as others are done before it, so those are looked at again first that could gain
/// most, until none left could gain more.
fn best(pairs: &Pairs, waiting: &mut [Candidate], so_far: &Joint, steps: &[Step]) -> Option<usize> {
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
pub(crate) fn separated(classes: &Classes, joint: &Joint) -> f64 {
    let (mut told, mut all) = (0.0, 0.0);
    for (a, own) in joint.0.iter().enumerate() {
        for b in (0..a).filter(|b| classes.of[a] != classes.of[*b]) {
            let weight = classes.weight[a] * classes.weight[b];
            all += weight;
            told += weight * own.seen(b).worth();
        }
    }
    if all > 0.0 { told / all } else { 1.0 }
}
