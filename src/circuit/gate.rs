//! Gates: the part of a circuit's box in which powered switches can be as a pattern says.
//!
//! In: a [`Circuit`], a [`Space`], a pattern. Out: a smaller space or none. Never: readings.

use super::climb::{Climb, HALVINGS, Side, Spot};
use super::compile::Circuit;
use super::question::Question;
use super::space::Space;
use crate::quantity::maths;
use std::borrow::Cow;

/// The part of the box that may give every gated switch what this pattern says it has; none where no point
/// does. Each switch is asked by itself and only parameters with wide limits are cut, so a band over the
/// result may be wider than the truth, never narrower.
pub(super) fn allowed<'s>(
    circuit: &mut Circuit,
    space: &'s Space,
    pattern: usize,
) -> Option<Cow<'s, Space>> {
    let question = circuit.question;
    let mut allowed = Some(Cow::Borrowed(space));
    for (bit, branch) in circuit.gated.clone().into_iter().enumerate() {
        let Some(gate) = circuit.branches[branch].gate() else {
            continue;
        };
        let Some(space) = allowed.as_ref() else { break };
        circuit.question = Question::Margin(gate);
        let side = if pattern >> bit & 1 == 0 {
            Side::Most
        } else {
            Side::Least
        };
        let cut = reaching_zero(&mut Climb::new(circuit, space, pattern), side);
        allowed = cut.map(Cow::Owned);
    }
    circuit.question = question;
    allowed
}

/// The part of the box where the margin can reach zero from this side with the other parameters at their
/// best.
fn reaching_zero(climb: &mut Climb, side: Side) -> Option<Space> {
    let (least, most) = climb.corners()?;
    let (best, worst) = match side {
        Side::Most => (most, least),
        Side::Least => (least, most),
    };
    if side.beyond(0.0, best.value) {
        return None;
    }
    let mut space = climb.space.clone();
    if !side.beyond(0.0, worst.value) {
        return Some(space);
    }
    for slot in climb.free.clone() {
        if !climb.wide(slot) {
            continue;
        }
        let (low, high) = (climb.space.low[slot], climb.space.high[slot]);
        let (good, bad) = if best.point[slot] == low {
            (low, high)
        } else {
            (high, low)
        };
        let Some(border) = border(climb, &best, slot, (good, bad), side) else {
            continue;
        };
        if good < border {
            space.high[slot] = border;
        } else {
            space.low[slot] = border;
        }
        space.nominal[slot] = space.nominal[slot].clamp(space.low[slot], space.high[slot]);
    }
    Some(space)
}

/// A value of one parameter just beyond which the margin stays on the wrong side of zero; none where it
/// never does.
fn border(
    climb: &mut Climb,
    best: &Spot,
    slot: usize,
    (mut good, mut bad): (f64, f64),
    side: Side,
) -> Option<f64> {
    let wrong = |spot: &Spot| side.beyond(0.0, spot.value);
    if !climb.look_with(best, slot, bad).is_some_and(|s| wrong(&s)) {
        return None;
    }
    for _ in 0..HALVINGS {
        let middle = if 0.0 < good.min(bad) {
            maths::sqrt(good * bad)
        } else {
            f64::midpoint(good, bad)
        };
        match climb.look_with(best, slot, middle) {
            Some(here) if wrong(&here) => bad = middle,
            _ => good = middle,
        }
    }
    let start = climb.look_with(best, slot, bad)?;
    let rested = climb.climb(start, side, Some(slot));
    wrong(&rested).then_some(bad)
}
