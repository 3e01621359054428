//! Separation: can one probe tell two circuits apart, and does a test see a fault at all.
//!
//! In: two bands. Out: always, depends, never. Rule: always where no reading fits both; never where
//! practically every reading of each fits the other; depends in between.

use super::shows::Shows;
use super::span;
use crate::circuit::Band;

/// Three-valued answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Seen {
    /// Whatever the tolerances and the resistance.
    Always,
    /// On the resistance, the tolerances or the variant.
    Depends,
    /// No reading tells.
    Never,
}

/// Bands that cover each other this far count as the same: the rest is luck of tolerances, not a test.
pub(crate) const SAME: f64 = 0.95;

/// Two faults whose bands cover each other this far are one group: a reading tells them at most one time in five,
/// at the very edges.
const ALIKE: f64 = 0.8;

impl Seen {
    /// Whether two circuits can be told apart by one reading.
    pub(crate) fn apart(a: Shows, b: Shows) -> Self {
        if a.disjoint(b) {
            Self::Always
        } else if a.covered(b) >= ALIKE && b.covered(a) >= ALIKE {
            Self::Never
        } else {
            Self::Depends
        }
    }

    /// Whether a fault's reading shows that the circuit is not healthy: a fault whose whole band lies
    /// inside the healthy one is never seen, however narrow it is.
    pub(crate) fn against_healthy(fault: &Band, healthy: &Band) -> Self {
        if span::disjoint(fault, healthy) {
            Self::Always
        } else if span::covered(fault, healthy) >= SAME {
            Self::Never
        } else {
            Self::Depends
        }
    }

    /// What a separation counts in sums: a pair that depends is told apart half the time.
    pub(crate) fn worth(self) -> f64 {
        match self {
            Self::Always => 1.0,
            Self::Depends => 0.5,
            Self::Never => 0.0,
        }
    }

    /// Over several rows of one fault: always or never only where all agree.
    pub(crate) fn over(all: impl IntoIterator<Item = Self>) -> Self {
        let mut all = all.into_iter();
        let Some(first) = all.next() else {
            return Self::Never;
        };
        if all.all(|next| next == first) {
            first
        } else {
            Self::Depends
        }
    }

    /// Over several probes of one order: one that always separates is enough.
    pub(crate) fn best(all: impl IntoIterator<Item = Self>) -> Self {
        all.into_iter().min().unwrap_or(Self::Never)
    }
}
