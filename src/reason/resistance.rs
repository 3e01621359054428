//! Resistance: how much of it a fault can have where a probe read good, or did not.
//!
//! In: rows left standing, what was shown. Out: stretches of resistance. A row is a whole segment of a resistance, which
//! may reach from one that no probe sees to one that every probe does; where a probe read good it lies below (a
//! load: above) what always shows there, where it did not it lies above (below) what never does. Never: readings.

use super::evidence::{Observation, Observed};
use super::faint::is_load;
use super::set::Set;
use super::sight::Sight;
use super::signature::{Row, Signatures};
use crate::quantity::Interval;

/// Whether a probe read what the healthy circuit of a variant reads.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Shown {
    /// Which probe.
    pub(crate) probe: usize,
    /// Which variant.
    pub(crate) variant: usize,
    /// It read good.
    pub(crate) good: bool,
}

impl Signatures {
    /// Where observations read good, by what each of them alone leaves. A reading that is off bounds nothing: at the
    /// edge of their tolerances parts read off with any resistance.
    pub(crate) fn shown(&self, observations: &[Observation], each: &[Set]) -> Vec<Shown> {
        let numbers = |one: &&(&Observation, &Set)| {
            matches!(one.0.reading, Observed::Value { .. } | Observed::NoPath)
        };
        let pairs: Vec<(&Observation, &Set)> = observations.iter().zip(each).collect();
        let told = pairs.iter().filter(numbers);
        told.flat_map(|(one, left)| self.shown_at(one.probe, |row| left.contains(row)))
            .filter(|shown| shown.good)
            .collect()
    }

    /// What a reading at a probe shows of every variant, by whether its healthy row gives such a reading.
    pub(crate) fn shown_at(
        &self,
        probe: usize,
        gives: impl Fn(usize) -> bool,
    ) -> impl Iterator<Item = Shown> {
        let rows = self.rows.iter().enumerate();
        rows.filter(|(_, row)| row.fault.is_none())
            .filter(move |(place, _)| self.telling(*place, probe).is_some())
            .map(move |(place, row)| Shown {
                probe,
                variant: row.variant,
                good: gives(place),
            })
    }

    /// The resistance that some rows can have, all together; none where one of them is no resistance.
    pub(crate) fn resistance_of(
        &self,
        rows: impl Iterator<Item = usize>,
        shown: &[Shown],
    ) -> Option<Interval> {
        let mut hull: Option<Interval> = None;
        for row in rows {
            let own = self.narrowed(row, shown)?;
            hull = Some(hull.map_or(own, |hull| Interval {
                low: hull.low.min(own.low),
                high: hull.high.max(own.high),
            }));
        }
        hull
    }

    /// The part of a row's resistance that what was shown leaves.
    pub(crate) fn narrowed(&self, row: usize, shown: &[Shown]) -> Option<Interval> {
        let row = &self.rows[row];
        let mut own = row.resistance?;
        for one in shown.iter().filter(|one| one.variant == row.variant) {
            let Some(sight) = self.sight(row, one.probe) else {
                continue;
            };
            let bound = if one.good { sight.always } else { sight.first };
            let Some(bound) = bound.map(|bound| bound.clamp(own.low, own.high)) else {
                continue;
            };
            if one.good == is_load(row.kind) {
                own.low = bound;
            } else {
                own.high = bound;
            }
        }
        Some(own)
    }

    fn sight(&self, row: &Row, probe: usize) -> Option<Sight> {
        let own = |sights: &&super::FaultSights| {
            Some(sights.fault) == row.fault && sights.variant == row.variant
        };
        let sights = self.sights.iter().find(own)?;
        sights.by_probe.get(probe).copied()
    }
}
