//! Conflict: readings that no single fault gives together, and what would make them consistent.
//!
//! In: what each observation leaves. Out: the smallest set of observations that conflict, and the ways
//! out: which one (or two) would have to read otherwise, how, and what would fit then.

use super::class::{Classes, HEALTHY};
use super::evidence::Observation;
use super::set::Set;
use super::signature::Signatures;
use crate::circuit::Band;

/// Why no single fault, and no healthy circuit, fits.
#[derive(Clone, Debug, PartialEq)]
pub struct Conflict {
    /// Observations that cannot stand together, as few as found; one where a reading fits nothing by itself.
    pub between: Vec<usize>,
    /// Ways out, by a single observation in doubt where that is enough, else by two.
    pub ways_out: Vec<WayOut>,
}

/// Observations to take again, and what would fit if they read otherwise.
#[derive(Clone, Debug, PartialEq)]
pub struct WayOut {
    /// Observations in doubt.
    pub doubt: Vec<usize>,
    /// What each of them would have to read.
    pub would_read: Vec<Band>,
    /// A healthy circuit fits the others.
    pub healthy: bool,
    /// Repairs that fit the others.
    pub repairs: Vec<String>,
}

/// Describes a conflict; `each` is what every observation leaves by itself.
pub(crate) fn conflict(
    signatures: &Signatures,
    classes: &Classes,
    observations: &[Observation],
    each: &[Set],
) -> Conflict {
    let count = each.len();
    let way = |doubt: &[usize]| way_out(signatures, classes, observations, each, doubt);
    let mut ways_out: Vec<WayOut> = (0..count).filter_map(|one| way(&[one])).collect();
    if ways_out.is_empty() {
        ways_out = pairs(count).filter_map(|pair| way(&pair)).collect();
    }
    Conflict {
        between: smallest(signatures, each),
        ways_out,
    }
}

fn pairs(count: usize) -> impl Iterator<Item = [usize; 2]> {
    (0..count).flat_map(move |a| (a + 1..count).map(move |b| [a, b]))
}

fn way_out(
    signatures: &Signatures,
    classes: &Classes,
    observations: &[Observation],
    each: &[Set],
    doubt: &[usize],
) -> Option<WayOut> {
    let others = (0..each.len()).filter(|place| !doubt.contains(place));
    let left = together(signatures, each, others);
    if left.is_empty() {
        return None;
    }
    let standing = classes.set_of(left.iter());
    let would_read = doubt
        .iter()
        .map(|place| {
            let probe = observations[*place].probe;
            Band::union(
                left.iter()
                    .filter_map(|row| signatures.rows[row].bands.get(probe)),
            )
        })
        .collect();
    Some(WayOut {
        doubt: doubt.to_vec(),
        would_read,
        healthy: standing.contains(HEALTHY),
        repairs: classes.repairs(&standing),
    })
}

/// Rows that all of some observations leave.
fn together(signatures: &Signatures, each: &[Set], places: impl Iterator<Item = usize>) -> Set {
    let mut left = Set::full(signatures.rows.len());
    for place in places {
        left.keep(&each[place]);
    }
    left
}

/// The smallest conflicting set up to three; beyond, one from which nothing can be left out.
fn smallest(signatures: &Signatures, each: &[Set]) -> Vec<usize> {
    let count = each.len();
    let conflicts =
        |places: &[usize]| together(signatures, each, places.iter().copied()).is_empty();
    let triples = || pairs(count).flat_map(|[a, b]| (b + 1..count).map(move |c| [a, b, c]));
    (0..count)
        .map(|one| vec![one])
        .chain(pairs(count).map(Vec::from))
        .chain(triples().map(Vec::from))
        .find(|places| conflicts(places))
        .unwrap_or_else(|| {
            let mut kept: Vec<usize> = (0..count).collect();
            for place in 0..count {
                let without: Vec<usize> =
                    kept.iter().copied().filter(|own| *own != place).collect();
                if conflicts(&without) {
                    kept = without;
                }
            }
            kept
        })
}
