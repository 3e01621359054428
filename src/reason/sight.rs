//! Sight: from which series resistance a probe can see a fault, and from which it always does.
//!
//! In: a circuit whose resistance can be swept, the healthy band, the range.
//! Out: resistances. Method: the nominal reading follows `(a + b R) / (1 + c R)` (one resistance in a linear
//! circuit), so three points give where it has moved so far; a band moves with it, so it begins to show when
//! the reading has moved by what counts as seen, and always does when it has moved by the width of the band.
//! That last is held against the band itself before it is believed. Where a band is no single interval, the
//! bands themselves are searched.

use super::crossing::{Aim, CLOSE, LOOKS, crossing};
use super::separate::{SAME, Seen};
use super::span;
use crate::circuit::{Band, Bands, CircuitError, Reading, Sweep};
use crate::quantity::{Interval, maths};

/// From where a resistance shows: a series resistance above, a load below.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Sight {
    /// Up to (a load: down to) this it never shows, ohm; beyond it depends on the tolerances. None where it
    /// never shows at all.
    pub first: Option<f64>,
    /// From here a circuit whose parts are all nominal reads outside the healthy band, ohm.
    pub nominal: Option<f64>,
    /// From here it always shows, ohm. None where it never always does.
    pub always: Option<f64>,
    /// How far the reading of nominal parts moves to its loud end, where it moves by `(a + b R) / (1 + c R)`; else 0.
    pub moves: f64,
}

/// Which end of its range a resistance shows at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Loud {
    /// The high end: it lies in series.
    High,
    /// The low end: it is a load.
    Low,
}

impl Loud {
    /// A resistance on a scale that grows towards the loud end and spans the same range.
    pub(crate) fn turned(self, ohms: f64, range: Interval) -> f64 {
        match self {
            Self::High => ohms,
            Self::Low => range.low * range.high / ohms,
        }
    }
}

/// A step that is small enough for a line to be taken as straight.
const STEP: f64 = CLOSE * CLOSE;
/// Ratio of the resistances at which a reading that may turn is looked at.
const TURN: f64 = 3.0;
/// How near the nominal reading is brought to where it is wanted, as a part of how far it moves.
const NEARLY: f64 = 0.02;
/// How many times as far the nominal reading is brought at most from one look at a band to the next.
const MOST: f64 = 4.0;

/// A fault at one hook-up, to be asked.
pub(crate) struct Asked<'a, 'n> {
    /// Resistances it may have.
    pub(crate) range: Interval,
    /// Where it shows.
    pub(crate) loud: Loud,
    /// What the healthy circuit reads.
    pub(crate) healthy: &'a Band,
    /// The circuit with the fault, its resistance free to move.
    pub(crate) sweep: &'a mut Sweep<'n>,
    /// Bands known so far.
    pub(crate) bands: &'a Bands,
}

impl Asked<'_, '_> {
    /// Finds the crossings, for readings that move one way as the resistance goes towards its loud end. The
    /// quiet end of the range reads as the healthy circuit does.
    pub(crate) fn sight(&mut self) -> Result<Sight, CircuitError> {
        let (loud, range) = (self.loud, self.range);
        let back = |ohms: f64| loud.turned(ohms, range);
        let sight = match self.by_readings()? {
            Some(sight) => sight,
            None => self.by_bands()?,
        };
        let always = match sight.always {
            Some(from) if !self.stays_clear(from)? => None,
            always => always,
        };
        Ok(Sight {
            first: sight.first.map(back),
            nominal: sight.nominal.map(back),
            always: always.map(back),
            // One that may turn moves by no rule.
            moves: if self.sweep.may_turn() {
                0.0
            } else {
                sight.moves
            },
        })
    }

    fn read_turned(&mut self, ohms: f64) -> Reading {
        self.sweep.reading(self.loud.turned(ohms, self.range))
    }

    fn band_turned(&mut self, ohms: f64) -> Result<Band, CircuitError> {
        let ohms = self.loud.turned(ohms, self.range);
        let exact = Interval {
            low: ohms,
            high: ohms,
        };
        self.sweep.band(exact, self.bands)
    }

    fn marks(&self) -> [f64; 3] {
        let Interval { low, high } = self.range;
        [low, maths::sqrt(low * high), high]
    }

    /// By nominal readings; none where a reading is no number or the band no single interval.
    fn by_readings(&mut self) -> Result<Option<Sight>, CircuitError> {
        let Some(healthy) = plain(self.healthy) else {
            return Ok(None);
        };
        let mut looks = Vec::new();
        for ohms in self.marks() {
            let Reading::Value(value) = self.read_turned(ohms) else {
                return Ok(None);
            };
            looks.push((ohms, value));
        }
        let width = healthy.high - healthy.low;
        let rest = looks[0].1;
        let moves = looks[2].1 - rest;
        // The quiet end of a wide resistance, a worn switch, is the edge of what is good, not its middle.
        let shifted = match self.healthy.nominal {
            Some(Reading::Value(middle)) => (rest - middle).abs(),
            _ => 0.0,
        };
        let mut nominal = Nominal {
            asked: self,
            looks,
            rest,
        };
        let near = (1.0 - SAME) * width / 4.0;
        let first = nominal.moved_by((1.0 - SAME) * width, Aim::Before(near))?;
        let out = |value: &f64| (value - healthy.high).max(healthy.low - value);
        let outside = nominal.crossing(out, Aim::After(near))?;
        let always = match outside {
            Some(_) => nominal.always((width - shifted).max(near))?,
            None => None,
        };
        Ok(Some(Sight {
            first,
            nominal: outside,
            always,
            moves,
        }))
    }

    /// By the bands themselves.
    fn by_bands(&mut self) -> Result<Sight, CircuitError> {
        let healthy = self.healthy;
        let [low, middle, high] = self.marks();
        let top = self.band_turned(high)?;
        if Seen::against_healthy(&top, healthy) == Seen::Never {
            return Ok(Sight::default());
        }
        let moves = match (top.nominal, healthy.nominal) {
            (Some(Reading::Value(top)), Some(Reading::Value(rest))) => top - rest,
            (Some(Reading::NoPath), _) => f64::INFINITY,
            _ => 0.0,
        };
        // A reading that turns back is good again at the end.
        let stays_clear = 0.0 < clears(&top, healthy);
        let mut looks = vec![
            (low, healthy.clone()),
            (middle, self.band_turned(middle)?),
            (high, top),
        ];
        let mut at = |ohms| self.band_turned(ohms);
        let slack = (1.0 - SAME) * healthy.width();
        let before = Aim::Before(slack / 2.0);
        let first = crossing(&mut looks, &mut at, |band| peeps(band, healthy), before)?;
        let after = Aim::After(slack);
        let always = match stays_clear {
            true => crossing(&mut looks, &mut at, |band| clears(band, healthy), after)?,
            false => None,
        };
        let out = |band: &Band| match band.nominal {
            Some(reading) => outside(healthy, reading),
            None => -1.0,
        };
        let nominal = crossing(&mut looks, &mut at, out, after)?;
        Ok(Sight {
            first,
            nominal,
            always,
            moves,
        })
    }

    /// Whether bands stay clear of the healthy one from a resistance on, as far as they are looked at. One that turns may be
    /// good again further on, and on its way from one side to the other it passes through.
    fn stays_clear(&mut self, from: f64) -> Result<bool, CircuitError> {
        let (mut ohms, high) = (from, self.range.high);
        while self.sweep.may_turn() && ohms < high {
            ohms = high.min(TURN * ohms);
            if clears(&self.band_turned(ohms)?, self.healthy) <= 0.0 {
                return Ok(false);
            }
        }
        Ok(true)
    }
}

/// The nominal reading of a fault as its resistance grows, and what it tells of the band around it.
struct Nominal<'o, 'a, 'n> {
    asked: &'o mut Asked<'a, 'n>,
    /// What was read so far.
    looks: Vec<(f64, f64)>,
    /// What it reads at the quiet end.
    rest: f64,
}

impl Nominal<'_, '_, '_> {
    fn crossing(
        &mut self,
        measure: impl Fn(&f64) -> f64,
        aim: Aim,
    ) -> Result<Option<f64>, CircuitError> {
        let (asked, rest) = (&mut *self.asked, self.rest);
        let mut at = |ohms| Ok(value(asked.read_turned(ohms), rest));
        crossing(&mut self.looks, &mut at, measure, aim)
    }

    /// Where the reading has moved so far.
    fn moved_by(&mut self, far: f64, aim: Aim) -> Result<Option<f64>, CircuitError> {
        let rest = self.rest;
        self.crossing(|value| (value - rest).abs() - far, aim)
    }

    /// How far the reading has moved at a resistance.
    fn moved(&mut self, ohms: f64) -> f64 {
        let ohms = ohms.max(self.asked.range.low);
        (value(self.asked.read_turned(ohms), self.rest) - self.rest).abs()
    }

    /// The least resistance, to a few percent, whose band is clear of the healthy one; none where even that of the
    /// top of the range is not. The gap between the bands grows as the nominal reading moves: it is minus the width
    /// of the band at first, and between two looks it is taken as straight.
    fn always(&mut self, width: f64) -> Result<Option<f64>, CircuitError> {
        let Interval { low, high: top } = self.asked.range;
        let (mut covered, mut clear) = (Look::of(low, 0.0, -width), None::<Look>);
        let mut far = width;
        for turn in 0..LOOKS {
            let wanted = self.moved_by(far, Aim::After(far * NEARLY))?;
            let most = clear.map_or(top, |clear| clear.ohms);
            let inside = |ohms: &f64| covered.ohms < *ohms && (*ohms < most || clear.is_none());
            let ohms = match wanted.filter(inside) {
                Some(ohms) if turn % 3 < 2 => ohms,
                _ if clear.is_some() => maths::sqrt(covered.ohms * most),
                _ => top,
            };
            let gap = clears(&self.asked.band_turned(ohms)?, self.asked.healthy);
            let look = Look::of(ohms, self.moved(ohms), gap);
            // A step before it would not be clear, where the reading does not jump: no need to look there.
            let before = self.moved(ohms / STEP);
            let straight = look.moved <= before * STEP * STEP;
            let just = straight && 0.0 < gap && covered.gap_at(look, before) <= 0.0;
            if 0.0 < gap {
                clear = Some(look);
            } else if ohms == top {
                return Ok(None);
            } else {
                covered = look;
            }
            if let Some(clear) = clear.filter(|own| just || own.ohms <= covered.ohms * CLOSE) {
                return Ok(Some(clear.ohms));
            }
            let closes = match clear {
                Some(clear) => covered.closes(clear),
                None => Look::of(low, 0.0, -width).closes(look),
            };
            far = closes.min(look.moved * MOST) * (1.0 + NEARLY);
        }
        Ok(clear.map(|clear| clear.ohms))
    }
}

/// A look at a band: where, how far the nominal reading has moved there, the gap to the healthy band.
#[derive(Clone, Copy)]
struct Look {
    ohms: f64,
    moved: f64,
    gap: f64,
}

impl Look {
    fn of(ohms: f64, moved: f64, gap: f64) -> Self {
        Self { ohms, moved, gap }
    }

    /// How far the reading has moved where the gap closes, on a straight line to another look.
    fn closes(self, other: Self) -> f64 {
        let part = self.gap / (self.gap - other.gap);
        if part.is_finite() && 0.0 < part {
            self.moved + part * (other.moved - self.moved)
        } else {
            f64::INFINITY
        }
    }

    /// The gap where the reading has moved so far, on a straight line to another look.
    fn gap_at(self, other: Self, moved: f64) -> f64 {
        self.gap + (other.gap - self.gap) * (moved - self.moved) / (other.moved - self.moved)
    }
}

/// A reading as a number; one that is none has not moved.
fn value(reading: Reading, rest: f64) -> f64 {
    match reading {
        Reading::Value(value) => value,
        Reading::Floating | Reading::NoPath => rest,
    }
}

/// Above zero when a band peeps out of the healthy one far enough to count as seen.
fn peeps(band: &Band, healthy: &Band) -> f64 {
    match (plain(band), plain(healthy)) {
        (Some(band), Some(healthy)) => {
            let out = (healthy.low - band.low).max(band.high - healthy.high);
            out - (1.0 - SAME) * (healthy.high - healthy.low)
        }
        _ => sign(Seen::against_healthy(band, healthy) != Seen::Never),
    }
}

/// Above zero when a band is clear of the healthy one.
fn clears(band: &Band, healthy: &Band) -> f64 {
    match (plain(band), plain(healthy)) {
        (Some(band), Some(healthy)) => (band.low - healthy.high).max(healthy.low - band.high),
        _ => sign(span::disjoint(band, healthy)),
    }
}

/// How far a reading lies outside a band; below zero inside.
fn outside(band: &Band, reading: Reading) -> f64 {
    match (reading, band.intervals.as_slice()) {
        (Reading::Value(value), [only]) => (value - only.high).max(only.low - value),
        (Reading::Value(value), spans) => sign(
            spans
                .iter()
                .all(|span| value < span.low || span.high < value),
        ),
        (Reading::Floating, _) => sign(!band.floating),
        (Reading::NoPath, _) => sign(!band.no_path),
    }
}

fn plain(band: &Band) -> Option<Interval> {
    match band.intervals.as_slice() {
        [only] if !band.floating && !band.no_path => Some(*only),
        _ => None,
    }
}

fn sign(yes: bool) -> f64 {
    if yes { 1.0 } else { -1.0 }
}
