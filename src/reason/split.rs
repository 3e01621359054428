//! Splitting an ambiguity group: which tests, in or outside what is known, tell its repairs apart.
//!
//! In: rows that an order does not separate. Out: tests, each by what it adds to those before it; where no
//! known test splits anything, the kind of test that could, by where the faults sit. Never: orders.

use super::better::LEAST_GAIN;
use super::class::Classes;
use super::faint::is_load;
use super::plan::LEAST_MINUTES;
use super::probe::{Probe, Technique};
use super::separate::Seen;
use super::signature::Signatures;
use super::tell::Telling;
use crate::circuit::Site;

/// A kind of test that is missing from an order.
#[derive(Clone, Debug, PartialEq)]
pub struct Missing {
    /// The kind.
    pub technique: Technique,
    /// The known test of it that tells most for its minutes, by probe; none where the circuit's tests know none.
    pub probe: Option<usize>,
    /// Whether it always splits what it splits, or that depends on tolerances.
    pub splits: Seen,
    /// The repairs among which it splits.
    pub repairs: Vec<String>,
}

/// Probes outside the order that split the rows by repair: again and again the one that newly splits most
/// for its minutes, until none splits any more.
pub(crate) fn splits(
    signatures: &Signatures,
    classes: &Classes,
    telling: &Telling,
    in_order: &[usize],
    rows: &[usize],
) -> Vec<Missing> {
    let mut pairs: Vec<(usize, usize, Seen)> = Vec::new();
    for (place, a) in rows.iter().enumerate() {
        let others = rows[place + 1..].iter();
        pairs.extend(
            others
                .filter(|b| classes.of[*a] != classes.of[**b])
                .map(|b| (*a, *b, Seen::Never)),
        );
    }
    let weight = |a: usize, b: usize| classes.weight[a] * classes.weight[b];
    let least = LEAST_GAIN * pairs.iter().map(|(a, b, _)| weight(*a, *b)).sum::<f64>();
    let mut found = Vec::new();
    loop {
        let gain = |probe: usize| -> f64 {
            let new = |(a, b, so_far): &(usize, usize, Seen)| {
                let better = telling.apart(*a, *b, probe).worth() - so_far.worth();
                weight(*a, *b) * better.max(0.0)
            };
            pairs.iter().map(new).sum()
        };
        let best = (0..signatures.probes.len())
            .filter(|probe| !in_order.contains(probe))
            .map(|probe| (gain(probe), probe))
            .filter(|(gain, _)| *gain > least)
            .map(|(gain, probe)| {
                (
                    gain / signatures.probes[probe].minutes.max(LEAST_MINUTES),
                    probe,
                )
            })
            .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)));
        let Some((_, probe)) = best else {
            return found;
        };
        found.push(one_split(signatures, classes, telling, &mut pairs, probe));
    }
}

/// What a probe newly splits; the pairs are brought up to date.
fn one_split(
    signatures: &Signatures,
    classes: &Classes,
    telling: &Telling,
    pairs: &mut [(usize, usize, Seen)],
    probe: usize,
) -> Missing {
    let mut rows = Vec::new();
    let mut all = Vec::new();
    for (a, b, so_far) in pairs.iter_mut() {
        let seen = telling.apart(*a, *b, probe);
        if seen < *so_far {
            *so_far = seen;
            rows.extend([*a, *b]);
            all.push(seen);
        }
    }
    Missing {
        technique: signatures.probes[probe].technique,
        probe: Some(probe),
        splits: Seen::over(all),
        repairs: classes.repairs(&classes.set_of(rows)),
    }
}

/// What would show a fault that an order never sees: the quickest test outside it, one that always does first; where no
/// known test does, the kind of test that could, if the card has none of that kind.
pub(crate) fn shows(
    signatures: &Signatures,
    telling: &Telling,
    in_order: &[usize],
    (fault, healthy): (&[usize], &[usize]),
) -> Option<Missing> {
    let row = &signatures.rows[*fault.first()?];
    let one = |row: usize, probe: usize| {
        Seen::over(healthy.iter().map(|good| telling.apart(row, *good, probe)))
    };
    let all = |probe: usize| Seen::best(fault.iter().map(|row| one(*row, probe)));
    let outside = (0..signatures.probes.len()).filter(|probe| !in_order.contains(probe));
    let found = outside
        .map(|probe| (all(probe), probe))
        .filter(|(seen, _)| *seen != Seen::Never)
        .min_by(|a, b| {
            let minutes = |probe: usize| signatures.probes[probe].minutes;
            a.0.cmp(&b.0).then(minutes(a.1).total_cmp(&minutes(b.1)))
        });
    let technique = match (found, &row.site) {
        (Some((_, probe)), _) => signatures.probes[probe].technique,
        (None, Some(Site::Module)) if row.subject.starts_with("module input") => {
            Technique::ScanValue
        }
        (None, Some(Site::Part)) => Technique::MeasurePart,
        (None, Some(Site::Contact(_))) => Technique::VoltsBackProbed,
        (None, Some(Site::Wire(_))) => Technique::MeasureHarness,
        (None, _) => return None,
    };
    let has = |probe: &Probe| probe.technique == technique;
    if found.is_none() && signatures.probes.iter().any(has) {
        return None;
    }
    Some(Missing {
        technique,
        probe: found.map(|(_, probe)| probe),
        splits: found.map_or(Seen::Depends, |(seen, _)| seen),
        repairs: vec![row.repair.clone()],
    })
}

/// The kind of test that could split a group when no test known does, by where its faults sit.
pub(crate) fn unknown_split(
    signatures: &Signatures,
    rows: &[usize],
    repairs: &[String],
) -> Option<Missing> {
    let is_short = |row: &&usize| is_load(signatures.rows[**row].kind);
    let at_wire = |row: &usize| matches!(signatures.rows[*row].site, Some(Site::Wire(_)));
    let count = |test: fn(&Site) -> bool| {
        // No ohms along a wire tell what it touches.
        let hits = rows
            .iter()
            .filter(|row| !is_short(row) || signatures.rows[**row].site == Some(Site::Part))
            .filter(|row| signatures.rows[**row].site.as_ref().is_some_and(test));
        hits.count()
    };
    let some = |test: fn(&Site) -> bool| (1..rows.len()).contains(&count(test));
    let technique = if some(|site| matches!(site, Site::Part)) {
        Technique::MeasurePart
    } else if some(|site| matches!(site, Site::Contact(_))) {
        Technique::VoltsBackProbed
    } else if 0 < count(|site| matches!(site, Site::Wire(_))) {
        Technique::MeasureHarness
    } else if rows.iter().any(|row| is_short(&row) && at_wire(row)) {
        Technique::MeasureInsulation
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
