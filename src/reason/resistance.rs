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
    /// From the least to the most that was typed can stand for.
    pub(crate) typed: Option<Interval>,
}

impl Signatures {
    /// Where observations read good, by what each of them alone leaves. A reading that is off bounds nothing: at the
    /// edge of their tolerances parts read off with any resistance.
    pub(crate) fn shown(&self, observations: &[Observation], each: &[Set]) -> Vec<Shown> {
        let numbers = |one: &&(&Observation, &Set)| one.0.reading.is_shown();
        let pairs: Vec<(&Observation, &Set)> = observations.iter().zip(each).collect();
        let told = pairs.iter().filter(numbers);
        told.flat_map(|(one, left)| {
            let typed = match one.reading {
                Observed::Value { number, within } => Some(Interval {
                    low: number - within,
                    high: number + within,
                }),
                _ => None,
            };
            let shown = self.shown_at(one.probe, |row| left.contains(row));
            shown.map(move |shown| Shown { typed, ..shown })
        })
        .filter(|shown| shown.good)
        .collect()
    }

    /// How many times the resistance that always shows can hide where the last digit typed reaches beyond the band. A reading
    /// follows `(a + b x) / (1 + c x)`: it has moved by the width of the band where it always shows, and moves by ever less
    /// towards its end, which a coarse digit may hold, too.
    fn hides(&self, sight: Sight, one: &Shown) -> f64 {
        let good = self.good_in(one.variant);
        let spans = good.map_or(&[][..], |row| &self.rows[row].bands[one.probe].intervals);
        let ([first, .., last] | [first @ last], Some(typed)) = (spans, one.typed) else {
            return 1.0;
        };
        let width = last.high - first.low;
        let beyond = match 0.0 < sight.moves {
            true => typed.high - last.high,
            false => first.low - typed.low,
        };
        let left = sight.moves.abs() - 1.5 * width;
        match beyond {
            ..=0.0 => 1.0,
            beyond if left <= beyond => f64::INFINITY,
            beyond if left.is_infinite() => 1.0 + beyond / width,
            beyond => (1.0 + beyond / width) * left / (left - beyond),
        }
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
                typed: None,
            })
    }

    /// Some rows of it where a probe did not read good: resistances that never show there are left out.
    pub fn off_at(&self, probe: usize, wanted: impl Fn(&Row) -> bool) -> Self {
        let shown: Vec<Shown> = self.shown_at(probe, |_| false).collect();
        let narrowed = |(place, row): (usize, &Row)| match self.narrowed(place, &shown) {
            Some((_, true)) => None,
            Some((span, false)) => Some(Row {
                resistance: Some(span),
                ..row.clone()
            }),
            None => Some(row.clone()),
        };
        let rows = self.rows.iter().enumerate();
        let rows = rows.filter(|(_, row)| wanted(row)).filter_map(narrowed);
        self.with(rows.collect())
    }

    /// The same with other rows.
    pub fn with(&self, rows: Vec<Row>) -> Self {
        Self {
            probes: self.probes.clone(),
            rows,
            sights: self.sights.clone(),
            unsure: self.unsure.clone(),
            forced: self.forced.clone(),
        }
    }

    /// The resistance that some rows can have, all together; none where one of them is no resistance. A row that what
    /// was shown leaves nothing of stands at the very edge of a stretch of readings only, and does not widen it.
    pub(crate) fn resistance_of(
        &self,
        rows: impl Iterator<Item = usize>,
        shown: &[Shown],
    ) -> Option<Interval> {
        let mut hull: Option<Interval> = None;
        let mut edge: Option<Interval> = None;
        for row in rows {
            let (own, empty) = self.narrowed(row, shown)?;
            let kept = if empty { &mut edge } else { &mut hull };
            *kept = Some(kept.map_or(own, |kept| Interval {
                low: kept.low.min(own.low),
                high: kept.high.max(own.high),
            }));
        }
        hull.or(edge)
    }

    /// The part of a row's resistance that what was shown leaves, and whether that is nothing: then its nearest end.
    pub(crate) fn narrowed(&self, row: usize, shown: &[Shown]) -> Option<(Interval, bool)> {
        let row = &self.rows[row];
        let mut own = row.resistance?;
        let mut empty = false;
        for one in shown.iter().filter(|one| one.variant == row.variant) {
            let Some(sight) = self.sight(row, one.probe) else {
                continue;
            };
            let Some(bound) = (if one.good { sight.always } else { sight.first }) else {
                continue;
            };
            let hides = self.hides(sight, one);
            let is_low = one.good == is_load(row.kind);
            let bound = match is_low {
                true => bound / hides,
                false => bound * hides,
            };
            let within = bound.clamp(own.low, own.high);
            if is_low {
                empty |= own.high <= bound;
                own.low = within;
            } else {
                empty |= bound <= own.low;
                own.high = within;
            }
        }
        Some((own, empty))
    }

    fn sight(&self, row: &Row, probe: usize) -> Option<Sight> {
        let sights = self.sights.get(row.sights?)?;
        sights.by_probe.get(probe).copied()
    }
}
