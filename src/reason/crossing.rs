//! Crossings: where something that grows with a resistance passes zero.
//!
//! In: looks so far, how to look again, a measure. Out: a resistance a little to the side aimed at. Method: a reading
//! follows `(a + b R) / (1 + c R)` (one resistance in a linear circuit), so three points give where it passes; halving on
//! a logarithmic scale where they do not. Never: what is looked at.

use crate::circuit::CircuitError;
use crate::quantity::maths;

/// How close a crossing is closed in, as a ratio of resistances: two digits are all a reader can use.
pub(super) const CLOSE: f64 = 1.06;
/// Looks at one crossing at most.
pub(super) const LOOKS: usize = 24;

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
    points.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
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
