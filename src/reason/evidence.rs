//! Evidence: what was read, and whether a circuit could have given it.
//!
//! In: an observation at a probe. Out: the rows it leaves. Elimination is by bands only and hard;
//! what cannot be held against a row leaves it standing.

use super::set::Set;
use super::signature::Signatures;
use super::span;
use super::tell::same_readings;

/// One thing read at one probe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Observation {
    /// Which probe.
    pub probe: usize,
    /// What was read.
    pub reading: Observed,
}

/// What was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Observed {
    /// A number in the probe's base unit, known to ± `within` (half of the last digit typed).
    Value {
        /// The number.
        number: f64,
        /// Half of the last digit typed, or 0.
        within: f64,
    },
    /// The ohmmeter's overload sign.
    NoPath,
    /// The value did not move when the jumper was placed.
    NoChange,
    /// The test could not be done.
    CannotMeasure,
}

impl Observed {
    /// A number taken as it is.
    pub fn value(number: f64) -> Self {
        Self::Value {
            number,
            within: 0.0,
        }
    }
}

impl Signatures {
    /// Whether this row could have given this observation. True wherever nothing speaks against it:
    /// an unknown probe, a number that is none, a derived value that need not follow the pin.
    pub fn fits(&self, row: usize, observation: &Observation) -> bool {
        if self.has_moved(observation) && self.stays(row, observation.probe) {
            return false;
        }
        let Some(band) = self.telling(row, observation.probe) else {
            return true;
        };
        match observation.reading {
            Observed::Value { number, within } => {
                !number.is_finite() || span::admits(band, number, within.max(0.0))
            }
            Observed::NoPath => band.no_path,
            Observed::NoChange => match self.telling_before(row, observation.probe) {
                Some(before) => !span::disjoint(before, band),
                // Brought from outside into the range in which the value follows, it moves.
                None => !self.is_forced_in_range(observation.probe),
            },
            Observed::CannotMeasure => true,
        }
    }

    /// Whether a derived value read what it is brought to by a load: typed only where it moved there.
    fn has_moved(&self, observation: &Observation) -> bool {
        let Observed::Value { number, within } = observation.reading else {
            return false;
        };
        let healthy = self.healthy(observation.probe);
        self.is_forced_in_range(observation.probe)
            && span::admits(&healthy, number, within.max(0.0))
    }

    /// Whether the module sees no difference when the probe's load is placed: a value that does not follow the pin
    /// stays then, whatever it shows.
    fn stays(&self, row: usize, probe: usize) -> bool {
        let row = &self.rows[row];
        let before = row.before.get(probe).and_then(Option::as_ref);
        let after = row.bands.get(probe);
        before.zip(after).is_some_and(|(a, b)| same_readings(a, b))
    }

    /// Rows that one observation leaves.
    pub(crate) fn left_by(&self, observation: &Observation) -> Set {
        let fitting = (0..self.rows.len()).filter(|row| self.fits(*row, observation));
        Set::of(self.rows.len(), fitting)
    }

    /// Rows that all observations leave, and for each observation those it leaves alone.
    pub(crate) fn left_by_all(&self, observations: &[Observation]) -> (Set, Vec<Set>) {
        let each: Vec<Set> = observations.iter().map(|one| self.left_by(one)).collect();
        let mut left = Set::full(self.rows.len());
        for set in &each {
            left.keep(set);
        }
        (left, each)
    }
}
