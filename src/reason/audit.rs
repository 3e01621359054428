//! The audit of a test order: which faults it tells apart, which it does not, which kind of test is missing.
//!
//! In: signatures and the ids of the tests in order. Out: pairs always, depends, never separated; ambiguity
//! groups by repair; for each the cheapest known test that would split it; a better order.

use super::better::{self, Step};
use super::class::{Classes, HEALTHY};
use super::separate::Seen;
use super::set::Set;
use super::signature::{Row, Signatures};
use super::split::{Missing, shows, splits, unknown_split};
use super::tell::{Joint, Telling};

/// What an order can and cannot tell apart.
#[derive(Clone, Debug, Default, PartialEq)]
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

/// A better order is worth a line from this part of all pairs on.
const WORTH_TELLING: f64 = 0.005;

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
    /// The tests that would split it, each by what it adds to those before.
    pub split_by: Vec<Missing>,
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
    /// What would show a fault that is never seen at all.
    pub by: Option<Missing>,
}

impl Audit {
    /// Whether the better order tells so much more apart that it is worth a line.
    pub fn is_bettered(&self) -> bool {
        WORTH_TELLING <= self.better_separated - self.separated
    }
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
    let unseen = unseen(signatures, &telling, &in_order, &joint);
    let better = better::order(signatures, &classes, &telling);
    Audit {
        pairs: pairs(signatures, &classes, &joint),
        missing: missing(signatures, &groups, &unseen),
        unseen,
        separated: better::separated(&classes, &joint),
        better_separated: better.last().map_or(0.0, |step| step.separated),
        groups,
        better,
    }
}

/// Groups of rows linked by pairs that are never separated.
fn clusters(count: usize, joint: &Joint) -> Vec<Vec<usize>> {
    let all = Set::full(count);
    let mut cluster_of: Vec<usize> = (0..count).collect();
    for (a, told) in joint.0.iter().enumerate() {
        for b in all.beyond(&told.at_all, &all).take_while(|b| *b < a) {
            if cluster_of[a] != cluster_of[b] {
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
    if standing.iter().filter(|class| *class != HEALTHY).count() < 2 {
        return None;
    }
    let all = Set::of(signatures.rows.len(), rows.iter().copied());
    let faint = signatures.faint(&all, &[], &[]);
    // Series resistance too small to show looks healthy in every circuit: named as unseen, no group.
    let rows: Vec<usize> = rows
        .iter()
        .copied()
        .filter(|row| signatures.rows[*row].fault.is_some())
        .filter(|row| !(looks_healthy && faint.contains(*row)))
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
    let mut split_by = splits(signatures, classes, telling, in_order, &rows);
    if split_by.is_empty() {
        split_by.extend(unknown_split(signatures, &rows, &repairs));
    }
    Some(Group {
        split_by,
        repairs,
        faults,
        looks_healthy,
        weight: own.iter().map(|(weight, _)| weight).sum(),
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

fn missing(signatures: &Signatures, groups: &[Group], unseen: &[Unseen]) -> Vec<Missing> {
    let minutes = |one: &Missing| {
        one.probe
            .map_or(f64::INFINITY, |probe| signatures.probes[probe].minutes)
    };
    let mut missing: Vec<Missing> = Vec::new();
    let of_groups = groups.iter().flat_map(|group| group.split_by.clone());
    let of_unseen = unseen.iter().filter_map(|one| one.by.clone());
    for one in of_groups.chain(of_unseen) {
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
fn pairs(signatures: &Signatures, classes: &Classes, joint: &Joint) -> Pairs {
    // Fault numbers from one, healthy as nought: a square of what is known of each pair so far.
    let place = |row: &Row| row.fault.map_or(0, |fault| fault + 1);
    let places: Vec<usize> = signatures.rows.iter().map(place).collect();
    let side = 1 + places.iter().max().unwrap_or(&0);
    let mut known: Vec<Option<Seen>> = vec![None; side * side];
    for (a, told) in joint.0.iter().enumerate() {
        for b in (0..a).filter(|b| classes.of[a] != classes.of[*b]) {
            let (one, other) = (places[a].min(places[b]), places[a].max(places[b]));
            let (kept, seen) = (&mut known[one * side + other], told.seen(b));
            *kept = Some(kept.map_or(seen, |kept| Seen::over([kept, seen])));
        }
    }
    let mut pairs = Pairs::default();
    for seen in known.iter().flatten() {
        match seen {
            Seen::Always => pairs.always += 1,
            Seen::Depends => pairs.depends += 1,
            Seen::Never => pairs.never += 1,
        }
    }
    pairs
}

/// Faults that no probe of the order tells from any healthy row, or only from some resistance on.
fn unseen(
    signatures: &Signatures,
    telling: &Telling,
    in_order: &[usize],
    joint: &Joint,
) -> Vec<Unseen> {
    let rows = &signatures.rows;
    let all = || 0..rows.len();
    let healthy: Vec<usize> = all().filter(|row| rows[*row].fault.is_none()).collect();
    let hidden = |row: &usize| {
        let never = |good: &usize| joint.apart(*row, *good) == Seen::Never;
        !healthy.is_empty() && healthy.iter().all(never)
    };
    let mut unseen: Vec<Unseen> = Vec::new();
    for (place, row) in rows.iter().enumerate() {
        let known = unseen.iter().any(|other| other.fault == row.name);
        if row.fault.is_none() || known || !hidden(&place) {
            continue;
        }
        let own: Vec<usize> = all()
            .filter(|other| rows[*other].name == row.name)
            .collect();
        let never = own.iter().all(hidden);
        let below = own.iter().filter(|row| hidden(row));
        let below = below.filter_map(|row| Some(rows[*row].resistance?.high));
        unseen.push(Unseen {
            fault: row.name.clone(),
            repair: row.repair.clone(),
            below: below.reduce(f64::max).filter(|_| !never),
            by: match never {
                true => shows(signatures, telling, in_order, (&own, &healthy)),
                false => None,
            },
        });
    }
    unseen
}
