//! The audit of a test order: which faults it tells apart, which it does not, which kind of test is missing.
//!
//! In: signatures and the ids of the tests in order. Out: pairs always, depends, never separated; ambiguity
//! groups by repair; for each the cheapest known test that would split it; a better order.

use super::better::{self, Step};
use super::class::{Classes, HEALTHY};
use super::plan::LEAST_MINUTES;
use super::probe::Technique;
use super::separate::Seen;
use super::signature::{Row, Signatures};
use super::tell::Telling;
use crate::circuit::Site;

/// What an order can and cannot tell apart.
#[derive(Clone, Debug, PartialEq)]
pub struct Audit {
    /// Pairs of faults with different repairs (the healthy circuit counts as one), by how they are separated.
    pub pairs: Pairs,
    /// Ambiguity groups of two repairs or more, weightiest first.
    pub groups: Vec<Group>,
    /// Faults that no test of the order can ever see.
    pub unseen: Vec<Unseen>,
    /// Kinds of test that would split a group and are not in the order, each once, cheapest first.
    pub missing: Vec<Missing>,
    /// Part of all pairs by weight that the order separates (a pair that depends counts half), 0 to 1.
    pub separated: f64,
    /// A better order over all tests known.
    pub better: Vec<Step>,
    /// What the better order separates, as [`Self::separated`].
    pub better_separated: f64,
}

/// Counts of pairs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Pairs {
    /// Separated whatever the tolerances.
    pub always: usize,
    /// On resistance or tolerances.
    pub depends: usize,
    /// Not separated by any test of the order.
    pub never: usize,
}

/// Faults that no test of the order separates.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Their repairs, weightiest first.
    pub repairs: Vec<String>,
    /// Their names.
    pub faults: Vec<String>,
    /// They look like a healthy circuit, too.
    pub looks_healthy: bool,
    /// The test that would split it.
    pub split_by: Option<Missing>,
    /// Weight by priors.
    pub weight: f64,
}

/// A fault an order cannot see.
#[derive(Clone, Debug, PartialEq)]
pub struct Unseen {
    /// Its name.
    pub fault: String,
    /// Its repair.
    pub repair: String,
    /// Only up to this series resistance, ohm; none where it is never seen at all.
    pub below: Option<f64>,
}

/// A kind of test that is missing from an order.
#[derive(Clone, Debug, PartialEq)]
pub struct Missing {
    /// The kind.
    pub technique: Technique,
    /// The known test of it that tells most for its minutes, by probe; none where the circuit's tests know none.
    pub probe: Option<usize>,
    /// Whether it tells every two repairs of the group apart, whatever the tolerances; else it depends.
    pub splits: Seen,
    /// The repairs it splits.
    pub repairs: Vec<String>,
}

/// Audits the tests named, in any order; names that are no test are ignored.
pub fn audit(signatures: &Signatures, order: &[String]) -> Audit {
    let classes = Classes::of(signatures);
    let telling = Telling::of(signatures);
    let in_order: Vec<usize> = (0..signatures.probes.len())
        .filter(|probe| order.contains(&signatures.probes[*probe].test))
        .collect();
    let joint = telling.joint(&in_order);
    let mut groups: Vec<Group> = clusters(signatures.rows.len(), &joint)
        .into_iter()
        .filter_map(|rows| group(signatures, &classes, &telling, &in_order, &rows))
        .collect();
    groups.sort_by(|a, b| b.weight.total_cmp(&a.weight));
    groups = without_repeats(groups);
    let better = better::better_order(signatures);
    Audit {
        pairs: pairs(signatures, &joint),
        unseen: unseen(signatures, &joint),
        missing: missing(signatures, &groups),
        separated: better::separated(&classes, &joint),
        better_separated: better.last().map_or(0.0, |step| step.separated),
        groups,
        better,
    }
}

/// Groups of rows linked by pairs that are never separated.
fn clusters(count: usize, joint: &[Vec<Seen>]) -> Vec<Vec<usize>> {
    let mut cluster_of: Vec<usize> = (0..count).collect();
    for (a, row) in joint.iter().enumerate() {
        for (b, seen) in row.iter().enumerate().take(a) {
            if *seen == Seen::Never && cluster_of[a] != cluster_of[b] {
                let (from, to) = (cluster_of[a], cluster_of[b]);
                for cluster in cluster_of.iter_mut().filter(|cluster| **cluster == from) {
                    *cluster = to;
                }
            }
        }
    }
    (0..count)
        .map(|cluster| {
            (0..count)
                .filter(|row| cluster_of[*row] == cluster)
                .collect()
        })
        .filter(|rows: &Vec<usize>| !rows.is_empty())
        .collect()
}

fn group(
    signatures: &Signatures,
    classes: &Classes,
    telling: &Telling,
    in_order: &[usize],
    rows: &[usize],
) -> Option<Group> {
    let standing = classes.set_of(rows.iter().copied());
    let looks_healthy = standing.contains(HEALTHY);
    // Series resistance too small to show looks healthy in every circuit: named as unseen, no group.
    let rows: Vec<usize> = rows
        .iter()
        .copied()
        .filter(|row| signatures.rows[*row].fault.is_some())
        .filter(|row| !(looks_healthy && signatures.is_faint(&signatures.rows[*row])))
        .collect();
    let mut own: Vec<(f64, usize)> = classes
        .set_of(rows.iter().copied())
        .iter()
        .map(|class| {
            let weight = rows.iter().filter(|row| classes.of[**row] == class);
            (weight.map(|row| classes.weight[*row]).sum(), class)
        })
        .collect();
    if own.len() < 2 {
        return None;
    }
    own.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    let mut faults: Vec<String> = rows
        .iter()
        .map(|row| signatures.rows[*row].name.clone())
        .collect();
    faults.dedup();
    let repairs: Vec<String> = own
        .iter()
        .map(|(_, class)| classes.names[*class].clone())
        .collect();
    Some(Group {
        split_by: split(signatures, classes, telling, in_order, &rows)
            .or_else(|| unknown_split(signatures, &rows, &repairs)),
        repairs,
        faults,
        looks_healthy,
        weight: own.iter().map(|(weight, _)| weight).sum(),
    })
}

/// The probe outside the order that splits most of the rows by repair for its minutes.
fn split(
    signatures: &Signatures,
    classes: &Classes,
    telling: &Telling,
    in_order: &[usize],
    rows: &[usize],
) -> Option<Missing> {
    let crossing = || {
        rows.iter().enumerate().flat_map(|(place, a)| {
            rows[place + 1..]
                .iter()
                .filter(|b| classes.of[*a] != classes.of[**b])
                .map(|b| (*a, *b))
        })
    };
    let rate = |probe: usize| {
        let told =
            |(a, b)| classes.weight[a] * classes.weight[b] * telling.apart(a, b, probe).worth();
        crossing().map(told).sum::<f64>() / signatures.probes[probe].minutes.max(LEAST_MINUTES)
    };
    let (_, probe) = (0..signatures.probes.len())
        .filter(|probe| !in_order.contains(probe))
        .map(|probe| (rate(probe), probe))
        .filter(|(rate, _)| *rate > 0.0)
        .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)))?;
    let split = crossing().filter(|(a, b)| telling.apart(*a, *b, probe) != Seen::Never);
    Some(Missing {
        technique: signatures.probes[probe].technique,
        probe: Some(probe),
        splits: Seen::over(crossing().map(|(a, b)| telling.apart(a, b, probe))),
        repairs: classes.repairs(&classes.set_of(split.flat_map(|(a, b)| [a, b]))),
    })
}

/// The kind of test that could split a group when no test known does, by where its faults sit.
fn unknown_split(signatures: &Signatures, rows: &[usize], repairs: &[String]) -> Option<Missing> {
    let sits = |test: fn(&Site) -> bool| {
        let hits = rows
            .iter()
            .filter(|row| signatures.rows[**row].site.as_ref().is_some_and(test));
        let count = hits.count();
        count > 0 && count < rows.len()
    };
    let technique = if sits(|site| matches!(site, Site::Part)) {
        Technique::MeasurePart
    } else if sits(|site| matches!(site, Site::Contact(_))) {
        Technique::VoltsBackProbed
    } else if sits(|site| matches!(site, Site::Wire(_))) {
        Technique::MeasureHarness
    } else {
        return None;
    };
    Some(Missing {
        technique,
        probe: None,
        splits: Seen::Depends,
        repairs: repairs.to_vec(),
    })
}

/// Leaves out groups whose repairs all stand in a group kept before with the same split.
fn without_repeats(groups: Vec<Group>) -> Vec<Group> {
    let mut kept: Vec<Group> = Vec::new();
    for group in groups {
        let repeats = kept.iter().any(|other| {
            other.looks_healthy == group.looks_healthy
                && group
                    .repairs
                    .iter()
                    .all(|repair| other.repairs.contains(repair))
        });
        if !repeats {
            kept.push(group);
        }
    }
    kept
}

fn missing(signatures: &Signatures, groups: &[Group]) -> Vec<Missing> {
    let minutes = |one: &Missing| {
        one.probe
            .map_or(f64::INFINITY, |probe| signatures.probes[probe].minutes)
    };
    let mut missing: Vec<Missing> = Vec::new();
    for one in groups.iter().filter_map(|group| group.split_by.clone()) {
        match missing
            .iter_mut()
            .find(|other| other.technique == one.technique)
        {
            Some(other) => {
                let new = one
                    .repairs
                    .into_iter()
                    .filter(|repair| !other.repairs.contains(repair));
                let new: Vec<String> = new.collect();
                other.repairs.extend(new);
                other.probe = other.probe.or(one.probe);
            }
            None => missing.push(one),
        }
    }
    missing.sort_by(|a, b| minutes(a).total_cmp(&minutes(b)));
    missing
}

/// Faults by number, healthy as none; pairs of one repair are no pair.
fn pairs(signatures: &Signatures, joint: &[Vec<Seen>]) -> Pairs {
    let mut seen_of: std::collections::BTreeMap<(Option<usize>, Option<usize>), Seen> =
        std::collections::BTreeMap::new();
    for (a, row) in joint.iter().enumerate() {
        for (b, seen) in row.iter().enumerate().take(a) {
            let (one, other) = (&signatures.rows[a], &signatures.rows[b]);
            if same_repair(one, other) {
                continue;
            }
            let key = (one.fault.min(other.fault), one.fault.max(other.fault));
            seen_of
                .entry(key)
                .and_modify(|kept| *kept = Seen::over([*kept, *seen]))
                .or_insert(*seen);
        }
    }
    let mut pairs = Pairs::default();
    for seen in seen_of.values() {
        match seen {
            Seen::Always => pairs.always += 1,
            Seen::Depends => pairs.depends += 1,
            Seen::Never => pairs.never += 1,
        }
    }
    pairs
}

fn same_repair(a: &Row, b: &Row) -> bool {
    match (a.fault, b.fault) {
        (None, None) => true,
        (Some(_), Some(_)) => a.repair == b.repair,
        _ => false,
    }
}

/// The higher of two bounds; none is no bound.
fn higher(a: Option<f64>, b: Option<f64>) -> Option<f64> {
    Some(a?.max(b?))
}

/// Rows that no probe of the order tells from any healthy row.
fn unseen(signatures: &Signatures, joint: &[Vec<Seen>]) -> Vec<Unseen> {
    let healthy: Vec<usize> = (0..signatures.rows.len())
        .filter(|row| signatures.rows[*row].fault.is_none())
        .collect();
    let between = |a: usize, b: usize| joint[a.max(b)][a.min(b)];
    let mut unseen: Vec<Unseen> = Vec::new();
    for (place, row) in signatures
        .rows
        .iter()
        .enumerate()
        .filter(|(_, row)| row.fault.is_some())
    {
        if healthy.is_empty()
            || healthy
                .iter()
                .any(|own| between(place, *own) != Seen::Never)
        {
            continue;
        }
        let below = row.resistance.map(|span| span.high);
        match unseen.iter_mut().find(|other| other.fault == row.name) {
            Some(other) => other.below = higher(other.below, below),
            None => unseen.push(Unseen {
                fault: row.name.clone(),
                repair: row.repair.clone(),
                below,
            }),
        }
    }
    unseen
}
