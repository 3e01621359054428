//! Telling: for every probe, which pairs of rows it separates; worked out once, then looked up.
//!
//! In: signatures. Out: always, depends, never for a pair at a probe or over several probes. Rows that
//! read alike at a probe share one entry. A test that is only done after another separates a pair always
//! only where the other always calls for it.

use super::at_once;
use super::class::Classes;
use super::probe::{Condition, When};
use super::separate::Seen;
use super::shows::Shows;
use super::signature::Signatures;
use crate::circuit::{Band, FLOATING_SHOWS};
use std::collections::HashMap;

/// Separation of all pairs of rows by probe.
pub(crate) struct Telling {
    probes: Vec<Table>,
    rows: usize,
}

/// One probe: the kind of each row (its band, and whether the probe is called for), and how two kinds are
/// separated.
struct Table {
    kind_of: Vec<usize>,
    kinds: usize,
    apart: Vec<Seen>,
}

impl Telling {
    /// Works out every probe.
    pub(crate) fn of(signatures: &Signatures) -> Self {
        let probes: Vec<usize> = (0..signatures.probes.len()).collect();
        Self {
            probes: at_once::each(&probes, |probe| Table::of(signatures, *probe)),
            rows: signatures.rows.len(),
        }
    }

    /// Whether a probe separates two rows.
    pub(crate) fn apart(&self, a: usize, b: usize, probe: usize) -> Seen {
        let table = &self.probes[probe];
        table.against(a)[table.kind_of[b]]
    }

    /// Whether several probes together separate each pair; entry `[a][b]` for `b < a`.
    pub(crate) fn joint(&self, probes: &[usize]) -> Vec<Vec<Seen>> {
        let mut joint: Vec<Vec<Seen>> = (0..self.rows).map(|a| vec![Seen::Never; a]).collect();
        for table in probes.iter().map(|probe| &self.probes[*probe]) {
            for (row, own) in joint.iter_mut().enumerate() {
                let against = table.against(row);
                for (best, kind) in own.iter_mut().zip(&table.kind_of) {
                    *best = (*best).min(against[*kind]);
                }
            }
        }
        joint
    }

    /// Whether several probes together separate rows from others, pair by pair.
    pub(crate) fn over(&self, pairs: &[(usize, Vec<usize>)], probes: &[usize]) -> Vec<Seen> {
        let count = pairs.iter().map(|(_, others)| others.len()).sum();
        let mut over = vec![Seen::Never; count];
        for table in probes.iter().map(|probe| &self.probes[*probe]) {
            let mut left = over.as_mut_slice();
            for (row, others) in pairs {
                let against = table.against(*row);
                let (own, rest) = left.split_at_mut(others.len());
                for (best, other) in own.iter_mut().zip(others) {
                    *best = (*best).min(against[table.kind_of[*other]]);
                }
                left = rest;
            }
        }
        over
    }

    /// For every row the first row with its repair that no probe at all could tell from it.
    pub(crate) fn first_alike(&self, classes: &Classes) -> Vec<usize> {
        let mut first: HashMap<Vec<usize>, usize> = HashMap::new();
        (0..self.rows)
            .map(|row| {
                let kinds = self.probes.iter().map(|table| table.kind_of[row]);
                let look = kinds.chain([classes.of[row]]).collect();
                *first.entry(look).or_insert(row)
            })
            .collect()
    }
}

impl Table {
    fn of(signatures: &Signatures, probe: usize) -> Self {
        let called_for = called_for(signatures, probe);
        let mut kinds: Vec<(Option<Shows>, Seen)> = Vec::new();
        let kind_of = called_for
            .into_iter()
            .enumerate()
            .map(|(row, called)| {
                let shows = signatures.telling(row, probe);
                let same = |other: &(Option<Shows>, Seen)| {
                    let alike = match (other.0, shows) {
                        (Some(other), Some(shows)) => other.same(shows),
                        (None, None) => true,
                        _ => false,
                    };
                    alike && other.1 == called
                };
                kinds.iter().position(same).unwrap_or_else(|| {
                    kinds.push((shows, called));
                    kinds.len() - 1
                })
            })
            .collect();
        let mut apart = vec![Seen::Never; kinds.len() * kinds.len()];
        for (a, one) in kinds.iter().enumerate() {
            for (b, other) in kinds.iter().enumerate().take(a + 1) {
                let seen = called(told(one.0, other.0), one.1, other.1);
                apart[a * kinds.len() + b] = seen;
                apart[b * kinds.len() + a] = seen;
            }
        }
        Self {
            kind_of,
            kinds: kinds.len(),
            apart,
        }
    }

    /// How every kind is separated from a row.
    fn against(&self, row: usize) -> &[Seen] {
        &self.apart[self.kind_of[row] * self.kinds..][..self.kinds]
    }
}

/// A probe that is not always called for separates at best sometimes.
fn called(seen: Seen, a: Seen, b: Seen) -> Seen {
    match (a, b) {
        (Seen::Always, Seen::Always) => seen,
        (Seen::Never, Seen::Never) => Seen::Never,
        _ => seen.max(Seen::Depends),
    }
}

/// A reading that may be anything tells nothing from nothing.
pub(crate) fn told(a: Option<Shows>, b: Option<Shows>) -> Seen {
    match (a, b) {
        (Some(a), Some(b)) => Seen::apart(a, b),
        _ => Seen::Never,
    }
}

/// For each row whether the probe's condition calls for it.
fn called_for(signatures: &Signatures, probe: usize) -> Vec<Seen> {
    let rows = 0..signatures.rows.len();
    match &signatures.probes[probe].when {
        None => rows.map(|_| Seen::Always).collect(),
        Some(when) => {
            let named: Vec<(usize, Band)> = (0..signatures.probes.len())
                .filter(|other| signatures.probes[*other].test == when.test)
                .map(|other| (other, signatures.healthy(other)))
                .collect();
            rows.map(|row| calls(signatures, row, &named, when))
                .collect()
        }
    }
}

fn calls(signatures: &Signatures, row: usize, named: &[(usize, Band)], when: &When) -> Seen {
    Seen::best(
        named
            .iter()
            .map(|(probe, healthy)| match signatures.telling(row, *probe) {
                Some(shows) => meets(shows, healthy, when.is),
                None => Seen::Depends,
            }),
    )
}

/// Whether what is shown lies so against the healthy band. Of a value that stands still it is not known which side.
fn meets(shows: Shows, healthy: &Band, condition: Condition) -> Seen {
    let good = Shows {
        band: Some(healthy),
        still: false,
    };
    let off = if shows.disjoint(good) {
        Seen::Always
    } else if shows.covered(good) >= 1.0 {
        Seen::Never
    } else {
        Seen::Depends
    };
    let sided = |side: fn(f64, (f64, f64)) -> bool| match shows.band {
        Some(band) if !shows.still => beyond(band, healthy, off, side),
        _ => Seen::Depends,
    };
    match condition {
        Condition::Off => off,
        Condition::Good => match off {
            Seen::Always => Seen::Never,
            Seen::Never => Seen::Always,
            Seen::Depends => Seen::Depends,
        },
        Condition::Low => sided(|own, edge| own < edge.0),
        Condition::High => sided(|own, edge| own > edge.1),
    }
}

/// Of a band that is off, how much lies on the side asked for. A floating lead reads low of anything positive.
fn beyond(band: &Band, healthy: &Band, off: Seen, side: fn(f64, (f64, f64)) -> bool) -> Seen {
    let (Some(first), Some(last)) = (healthy.intervals.first(), healthy.intervals.last()) else {
        return off;
    };
    let edge = (first.low, last.high);
    let mut ends: Vec<f64> = band
        .intervals
        .iter()
        .flat_map(|own| [own.low, own.high])
        .collect();
    if band.floating {
        ends.extend([FLOATING_SHOWS.low, FLOATING_SHOWS.high]);
    }
    if band.no_path {
        ends.push(f64::INFINITY);
    }
    let on_side = ends.iter().filter(|end| side(**end, edge)).count();
    if on_side == 0 {
        Seen::Never
    } else if on_side == ends.len() {
        Seen::Always
    } else {
        Seen::Depends
    }
}
