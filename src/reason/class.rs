//! Classes of rows: the healthy circuit, and one a repair.
//!
//! In: signatures. Out: small numbers for repairs, so that sets of them are cheap. Never: strings in loops.

use super::set::Set;
use super::signature::Signatures;
use crate::quantity::maths;

/// The class of the healthy circuit.
pub(crate) const HEALTHY: usize = 0;

/// Weight of "nothing wrong here" against all faults together when tests are chosen: one complaint in
/// five has its cause elsewhere (judgement, no source). It chooses tests; it eliminates nothing.
const HEALTHY_WEIGHT: f64 = 0.25;

/// The repair of every row as a number, and the weight of every row.
#[derive(Clone, Debug)]
pub(crate) struct Classes {
    /// Class of each row.
    pub(crate) of: Vec<usize>,
    /// Names of the classes; the first is empty and stands for healthy.
    pub(crate) names: Vec<String>,
    /// Weight of each row: priors of faults sum to 1, healthy rows to [`HEALTHY_WEIGHT`].
    pub(crate) weight: Vec<f64>,
}

impl Classes {
    /// Numbers the repairs in the order of the rows.
    pub(crate) fn of(signatures: &Signatures) -> Self {
        let mut names = vec![String::new()];
        let mut of = Vec::with_capacity(signatures.rows.len());
        for row in &signatures.rows {
            if row.fault.is_none() {
                of.push(HEALTHY);
                continue;
            }
            let known = names.iter().rposition(|name| *name == row.repair);
            of.push(known.unwrap_or(names.len()));
            if known.is_none() {
                names.push(row.repair.clone());
            }
        }
        let weight = weights(signatures, &of);
        Self { of, names, weight }
    }

    /// Number of classes.
    pub(crate) fn count(&self) -> usize {
        self.names.len()
    }

    /// The classes of some rows.
    pub(crate) fn set_of(&self, rows: impl IntoIterator<Item = usize>) -> Set {
        Set::of(
            self.count(),
            rows.into_iter().filter_map(|row| self.of.get(row).copied()),
        )
    }

    /// Names of the repairs in a set of classes, healthy left out.
    pub(crate) fn repairs(&self, set: &Set) -> Vec<String> {
        set.iter()
            .filter(|class| *class != HEALTHY)
            .filter_map(|class| self.names.get(class).cloned())
            .collect()
    }

    /// Entropy over classes in bits: `-sum p log2 p`, with `p` by the weight of the rows given.
    pub(crate) fn entropy(&self, rows: impl IntoIterator<Item = usize>) -> f64 {
        let mut sums = vec![0.0; self.count()];
        let mut total = 0.0;
        for row in rows {
            sums[self.of[row]] += self.weight[row];
            total += self.weight[row];
        }
        if total <= 0.0 {
            return 0.0;
        }
        -sums
            .iter()
            .filter(|sum| **sum > 0.0)
            .map(|sum| {
                let part = sum / total;
                part * maths::ln(part) / std::f64::consts::LN_2
            })
            .sum::<f64>()
    }
}

fn weights(signatures: &Signatures, of: &[usize]) -> Vec<f64> {
    let sane = |prior: f64| {
        if prior.is_finite() {
            prior.max(0.0)
        } else {
            0.0
        }
    };
    let mut healthy = 0.0;
    let mut faulty = 0.0;
    for (row, class) in signatures.rows.iter().zip(of) {
        match *class {
            HEALTHY => healthy += 1.0,
            _ => faulty += sane(row.prior),
        }
    }
    let part = |prior: f64| {
        if faulty > 0.0 {
            sane(prior) / faulty
        } else {
            0.0
        }
    };
    signatures
        .rows
        .iter()
        .zip(of)
        .map(|(row, class)| match *class {
            HEALTHY => HEALTHY_WEIGHT / healthy,
            _ => part(row.prior),
        })
        .collect()
}
