//! Evidence: what was read, and whether a circuit could have given it.
//!
//! In: an observation at a probe. Out: the rows it leaves. Elimination is by bands only and hard;
//! what cannot be held against a row leaves it standing.

use super::set::Set;
use super::shows::{Shows, same_readings};
use super::signature::Signatures;
use super::span;
use crate::circuit::Band;

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
        let probe = observation.probe;
        let shows = self.telling(row, probe);
        let has = |wanted: fn(&Band) -> bool| {
            let band = shows.and_then(|shows| shows.band);
            band.is_none_or(wanted)
        };
        match observation.reading {
            Observed::Value { number, within } => {
                !number.is_finite() || self.can_read((row, probe), shows, (number, within.max(0.0)))
            }
            Observed::Floating => has(|band| band.floating),
            Observed::NoPath => has(|band| band.no_path),
            Observed::NoChange if self.is_forced_in_range(probe) => {
                shows.is_none_or(|shows| shows.still)
            }
            Observed::NoChange => match (self.telling_before(row, probe), shows) {
                (
                    Some(before),
                    Some(Shows {
                        band: Some(band), ..
                    }),
                ) => !span::disjoint(before, band),
                _ => true,
            },
            Observed::CannotMeasure => true,
        }
    }

    /// Whether a row can show a number, where this is what it shows.
    fn can_read(
        &self,
        (row, probe): (usize, usize),
        shows: Option<Shows>,
        (number, within): (f64, f64),
    ) -> bool {
        let good = || span::admits(&self.healthy(probe), number, within);
        match shows {
            Some(Shows {
                band: Some(band), ..
            }) => span::admits(band, number, within) && !(self.cannot_move(row, probe) && good()),
            // It shows some substitute, but never what a good circuit does.
            Some(Shows { band: None, .. }) => !good(),
            // A load brings a good circuit's value into its range; where the pin of this row may be in or out of it then,
            // the tool shows the pin or some substitute, but what a good circuit shows only where the pin has that.
            None if self.is_forced_in_range(probe) => {
                let band = self.rows.get(row).and_then(|row| row.bands.get(probe));
                band.is_none_or(|band| span::admits(band, number, within) || !good())
            }
            None => true,
        }
    }

    /// Whether the module sees no difference when the load is placed: what a good circuit shows there is typed only
    /// where the value moved to it.
    fn cannot_move(&self, row: usize, probe: usize) -> bool {
        let row = &self.rows[row];
        let before = row.before.get(probe).and_then(Option::as_ref);
        self.is_forced_in_range(probe)
            && before
                .zip(row.bands.get(probe))
                .is_some_and(|(a, b)| same_readings(a, b))
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
        self.of_one_variant(left.iter().filter(|row| self.rows[*row].fault.is_none()))
    }

    /// Whether some rows are all of one variant.
    pub fn of_one_variant(&self, rows: impl Iterator<Item = usize>) -> bool {
        let mut variants = rows.map(|row| self.rows[row].variant);
        let first = variants.next();
        variants.all(|variant| Some(variant) == first)
    }

    /// Rows of good circuits that observations leave: one where they settle which variant it is; all where they leave
    /// none.
    pub fn good_rows(&self, observations: &[Observation]) -> Vec<usize> {
        let all = || (0..self.rows.len()).filter(|row| self.rows[*row].fault.is_none());
        let (left, _) = self.left_by_all(observations);
        let own: Vec<usize> = all().filter(|row| left.contains(*row)).collect();
        if own.is_empty() { all().collect() } else { own }
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
        self.spare_by_state(observations, &mut each);
        let mut left = Set::full(self.rows.len());
        for set in &each {
            left.keep(set);
        }
        (left, each)
    }
}
