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
    /// The voltmeter drifts about nothing: the lead hangs free.
    Floating,
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

impl Observed {
    /// Whether the meter or the tool showed something that can be held against a band.
    pub(crate) fn is_shown(self) -> bool {
        match self {
            Self::Value { number, .. } => number.is_finite(),
            Self::Floating | Self::NoPath => true,
            Self::NoChange | Self::CannotMeasure => false,
        }
    }
}

impl Signatures {
    /// Whether this row could have given this observation. True wherever nothing speaks against it:
    /// an unknown probe, a number that is none, a derived value that need not follow the pin.
    pub fn fits(&self, row: usize, observation: &Observation) -> bool {
        if let Some((number, within)) = self.moved_to(observation) {
            return self.moves_to(row, observation.probe, number, within);
        }
        let Some(band) = self.telling(row, observation.probe) else {
            return true;
        };
        match observation.reading {
            Observed::Value { number, within } => {
                !number.is_finite() || span::admits(band, number, within.max(0.0))
            }
            Observed::Floating => band.floating,
            Observed::NoPath => band.no_path,
            Observed::NoChange => match self.telling_before(row, observation.probe) {
                Some(before) => !span::disjoint(before, band),
                // Brought from outside into the range in which the value follows, it moves.
                None => !self.is_forced_in_range(observation.probe),
            },
            Observed::CannotMeasure => true,
        }
    }

    /// The number that a derived value was brought to by a load, where it is what a good circuit shows there: typed only
    /// where it moved to it.
    fn moved_to(&self, observation: &Observation) -> Option<(f64, f64)> {
        let Observed::Value { number, within } = observation.reading else {
            return None;
        };
        let within = within.max(0.0);
        let good = || span::admits(&self.healthy(observation.probe), number, within);
        let forced = number.is_finite() && self.is_forced_in_range(observation.probe);
        (forced && good()).then_some((number, within))
    }

    /// Whether a row's derived value can have moved to a number. One that the module sees no difference for stays; one
    /// that is outside the range in which it follows before and after shows the same substitute both times.
    fn moves_to(&self, row: usize, probe: usize, number: f64, within: f64) -> bool {
        let bands = &self.rows[row];
        let before = bands.before.get(probe).and_then(Option::as_ref);
        let (Some(before), Some(after)) = (before, bands.bands.get(probe)) else {
            return true;
        };
        let followed = || self.follows_in_part(probe, before);
        !same_readings(before, after) && (span::admits(after, number, within) || followed())
    }
    /// Rows that one observation leaves.
    pub(crate) fn left_by(&self, observation: &Observation) -> Set {
        let fitting = (0..self.rows.len()).filter(|row| self.fits(*row, observation));
        Set::of(self.rows.len(), fitting)
    }

    /// Whether it is known which variant it is, from readings that do not hang on it: of no more than one is a good
    /// circuit left.
    fn is_settled(&self, observations: &[Observation], each: &[Set]) -> bool {
        let sure = observations.iter().zip(each);
        let sure = sure.filter(|(one, _)| !self.unsure.contains(&one.probe));
        let mut left = Set::full(self.rows.len());
        sure.for_each(|(_, set)| left.keep(set));
        let healthy = left.iter().filter(|row| self.rows[*row].fault.is_none());
        let mut variants = healthy.map(|row| self.rows[row].variant);
        let first = variants.next();
        variants.all(|variant| Some(variant) == first)
    }

    /// Rows that all observations leave, and for each observation those it leaves alone.
    pub(crate) fn left_by_all(&self, observations: &[Observation]) -> (Set, Vec<Set>) {
        let mut each: Vec<Set> = observations.iter().map(|one| self.left_by(one)).collect();
        if !self.is_settled(observations, &each) {
            for (one, set) in observations.iter().zip(&mut each) {
                if self.unsure.contains(&one.probe) {
                    *set = Set::full(self.rows.len());
                }
            }
        }
        let mut left = Set::full(self.rows.len());
        for set in &each {
            left.keep(set);
        }
        (left, each)
    }
}
