//! Sight: from which series resistance a probe can see a fault, and from which it always does.
//!
//! In: a circuit whose resistance can be swept, the healthy band, the range.
//! Out: resistances. Method: the nominal reading follows `(a + b R) / (1 + c R)` (one resistance in a linear
//! circuit), so three points give where it has moved so far; a band moves with it, so it begins to show when
//! the reading has moved by what counts as seen, and always does when it has moved by the width of the band.
//! That last is held against the band itself before it is believed. Where a band is no single interval, the
//! bands themselves are searched.

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

/// How close a crossing is closed in, as a ratio of resistances: two digits are all a reader can use.
const CLOSE: f64 = 1.06;
/// Looks at one crossing at most.
const LOOKS: usize = 24;

/// Steps from where a band should be clear: a few percent where it nearly was, then more.
const STEPS: [f64; 5] = [1.06, 1.25, 2.0, 4.0, 16.0];

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
        Ok(Sight {
            first: sight.first.map(back),
            nominal: sight.nominal.map(back),
            always: sight.always.map(back),
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
        let moved = |value: &f64| (value - rest).abs();
        let seen = (1.0 - SAME) * width;
        let mut at = |ohms| match self.read_turned(ohms) {
            Reading::Value(value) => Ok(value),
            Reading::Floating | Reading::NoPath => Ok(rest),
        };
        let near = seen / 4.0;
        let first = crossing(&mut looks, &mut at, |v| moved(v) - seen, Aim::Before(near))?;
        let outside = |value: &f64| (value - healthy.high).max(healthy.low - value);
        let nominal = crossing(&mut looks, &mut at, outside, Aim::After(near))?;
        let whole = crossing(&mut looks, &mut at, |v| moved(v) - width, Aim::After(near))?;
        let always = match whole.or(nominal) {
            Some(start) => self.held_against_bands(start)?,
            None => None,
        };
        Ok(Some(Sight {
            first,
            nominal,
            always,
        }))
    }

    /// The first resistance a step beyond a start whose band is clear of the healthy one; the top of the range
    /// where none of the steps' is. The start itself is hardly ever clear: bands widen as they move.
    fn held_against_bands(&mut self, start: f64) -> Result<Option<f64>, CircuitError> {
        let (top, healthy) = (self.range.high, self.healthy);
        let mut clear = |ohms| Ok(clears(&self.band_turned(ohms)?, healthy) > 0.0);
        let mut steps = STEPS.map(|step| start * step).into_iter();
        let first = steps.next().filter(|first| *first < top);
        if let Some(first) = first
            && clear(first)?
        {
            return Ok(Some(first));
        }
        if !clear(top)? {
            return Ok(None);
        }
        for ohms in steps {
            if ohms < top && clear(ohms)? {
                return Ok(Some(ohms));
            }
        }
        Ok(Some(top))
    }

    /// By the bands themselves.
    fn by_bands(&mut self) -> Result<Sight, CircuitError> {
        let healthy = self.healthy;
        let [low, middle, high] = self.marks();
        let top = self.band_turned(high)?;
        if Seen::against_healthy(&top, healthy) == Seen::Never {
            return Ok(Sight::default());
        }
        let mut looks = vec![
            (low, healthy.clone()),
            (middle, self.band_turned(middle)?),
            (high, top),
        ];
        let mut at = |ohms| self.band_turned(ohms);
        let slack: f64 = (1.0 - SAME)
            * healthy
                .intervals
                .iter()
                .map(|span| span.high - span.low)
                .sum::<f64>();
        let before = Aim::Before(slack / 2.0);
        let first = crossing(&mut looks, &mut at, |band| peeps(band, healthy), before)?;
        let after = Aim::After(slack);
        let always = crossing(&mut looks, &mut at, |band| clears(band, healthy), after)?;
        let out = |band: &Band| match band.nominal {
            Some(reading) => outside(healthy, reading),
            None => -1.0,
        };
        let nominal = crossing(&mut looks, &mut at, out, after)?;
        Ok(Sight {
            first,
            nominal,
            always,
        })
    }
}

/// On which side of a crossing to end, and how far off it a measure may be there.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Aim {
    /// Where the measure has not passed zero yet.
    Before(f64),
    /// Where it has.
    After(f64),
}

/// Where a growing measure of what is looked at passes zero, a little to the side aimed at. `looks` is what
/// was looked at before, both ends of the range among it; new looks are added. None where it never passes.
pub(crate) fn crossing<Look>(
    looks: &mut Vec<(f64, Look)>,
    at: &mut impl FnMut(f64) -> Result<Look, CircuitError>,
    measure: impl Fn(&Look) -> f64,
    aim: Aim,
) -> Result<Option<f64>, CircuitError> {
    let mut points: Vec<(f64, f64)> = looks
        .iter()
        .map(|(ohms, look)| (*ohms, measure(look)))
        .collect();
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    for turn in 0..LOOKS {
        let Some(place) = points.iter().position(|(_, value)| *value > 0.0) else {
            return Ok(None);
        };
        let high = points[place];
        let low = place.checked_sub(1).map_or(high, |below| points[below]);
        let (end, reached) = match aim {
            Aim::Before(off) => (low.0, -off <= low.1),
            Aim::After(off) => (high.0, high.1 <= off),
        };
        if reached || high.0 <= low.0 * CLOSE || turn + 1 == LOOKS {
            return Ok(Some(end));
        }
        let third = points
            .get(place + 1)
            .or(place.checked_sub(2).and_then(|two| points.get(two)));
        let next = step((low, high, third.copied()), aim, turn);
        let look = at(next)?;
        points.insert(place, (next, measure(&look)));
        looks.push((next, look));
    }
    Ok(None)
}

/// A resistance and a measure there.
type Mark = (f64, f64);

/// Where to look next: where three points put the measure half as far off as it may be; halfway on a
/// logarithmic scale where they do not tell.
fn step((low, high, third): (Mark, Mark, Option<Mark>), aim: Aim, turn: usize) -> f64 {
    let halfway = maths::sqrt(low.0 * high.0);
    // Every third look halves, so that a bend in the curve cannot hold the search up.
    if turn % 3 == 2 {
        return halfway;
    }
    let wanted = match aim {
        Aim::Before(off) => -off / 2.0,
        Aim::After(off) => off / 2.0,
    };
    let off = |mark: Mark| (mark.0, mark.1 - wanted);
    let inside = |ohms: &f64| low.0 < *ohms && *ohms < high.0;
    third
        .and_then(|third| mobius_root(off(low), off(high), off(third)))
        .filter(inside)
        .unwrap_or(halfway)
}

/// Root of `y = (a + b R) / (1 + c R)` through three points.
fn mobius_root(p: (f64, f64), q: (f64, f64), r: (f64, f64)) -> Option<f64> {
    // b (Rq - Rp) - c (Rq yq - Rp yp) = yq - yp, and the same with r: two equations for b and c.
    let (m11, m12, v1) = (q.0 - p.0, p.0 * p.1 - q.0 * q.1, q.1 - p.1);
    let (m21, m22, v2) = (r.0 - p.0, p.0 * p.1 - r.0 * r.1, r.1 - p.1);
    let det = m11 * m22 - m12 * m21;
    let b = (v1 * m22 - m12 * v2) / det;
    let c = (m11 * v2 - v1 * m21) / det;
    let a = p.1 - b * p.0 + c * p.0 * p.1;
    let root = -a / b;
    (root.is_finite() && root > 0.0).then_some(root)
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
