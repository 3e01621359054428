//! Peaks: extremes inside the interval of a parameter that enters twice.
//!
//! In: a [`Climb`] and the best spot it found. Out: a better one where the answer peaks inside. Never: corners.

use super::climb::{Climb, HALVINGS, NOTHING, Side, Spot, keep};
use crate::quantity::maths;

/// Points inside the interval of a parameter that enters twice, narrow and wide.
const FEW: u8 = 1;
const MANY: u8 = 9;

impl Climb<'_> {
    /// Divides the interval of a parameter that enters twice and narrows down a peak inside.
    pub(super) fn look_inside(&mut self, best: &mut Spot, slot: usize, side: Side) {
        let steps = if self.wide(slot) { MANY } else { FEW };
        let mut marks: Vec<f64> = vec![self.space.low[slot]];
        marks.extend((1..=steps).map(|step| self.mark(slot, step, steps + 1)));
        marks.push(self.space.high[slot]);
        for mark in 1..=usize::from(steps) {
            let mut point = best.point.clone();
            point[slot] = marks[mark];
            let Some(value) = self.glance(&point) else {
                continue;
            };
            if side.beyond(value, best.value) || self.peaks(best, slot, side) {
                let inside = self.spot(value, point);
                let between = (marks[mark - 1], marks[mark + 1]);
                let peak = self.narrow(inside, slot, between, side);
                let rested = self.climb(peak, side, Some(slot));
                keep(best, Some(rested), side);
            }
        }
    }

    /// The slope leads on, yet the end it leads to is no better: there is a peak on the way.
    pub(super) fn peaks(&self, best: &Spot, slot: usize, side: Side) -> bool {
        self.counts(best, slot) && best.point[slot] != self.end(slot, side, best.slopes[slot])
    }

    /// Closes in on the peak, where the slope passes zero: by halves until it lies between two slopes, then by false
    /// position, an end that stays counting half from then on (Illinois).
    fn narrow(&mut self, start: Spot, slot: usize, between: (f64, f64), side: Side) -> Spot {
        let mut ends = [(between.0, None), (between.1, None)];
        let (mut best, mut here, mut moved) = (start.clone(), start, None);
        for _ in 0..HALVINGS {
            let favour = side.sign() * here.slopes[slot];
            let own = usize::from(favour < 0.0);
            ends[own] = (here.point[slot], Some(favour));
            if moved == Some(own) {
                ends[1 - own].1 = ends[1 - own].1.map(|favour| favour / 2.0);
            }
            moved = Some(own);
            let [(low, rises), (high, falls)] = ends;
            if favour.abs() * (high - low) <= self.fine_at(&best).max(NOTHING * best.value.abs()) {
                break;
            }
            let part = match (rises, falls) {
                (Some(rises), Some(falls)) => rises / (rises - falls),
                _ => 0.5,
            };
            let Some(next) = self.look_with(&here, slot, low + part * (high - low)) else {
                break;
            };
            here = next;
            keep(&mut best, Some(here.clone()), side);
        }
        best
    }

    fn mark(&self, slot: usize, step: u8, of: u8) -> f64 {
        let (low, high) = (self.space.low[slot], self.space.high[slot]);
        let share = f64::from(step) / f64::from(of);
        if 0.0 < low && 10.0 * low < high {
            low * maths::pow(high / low, share)
        } else {
            low + share * (high - low)
        }
    }
}
