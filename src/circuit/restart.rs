//! Second starts: corners of the box that no climb from the middle reaches.
//!
//! In: a [`Climb`] and the corners it found. Out: better ones where there are any. Never: deciding bands.
//!
//! Slopes that turn, plateaus on which no slope shows the way and diodes that turn a current elsewhere
//! can hide the best corner. Each has its own remedy here; circuits without them pay nothing for it.

use super::branch::{Branch, Kind};
use super::climb::{Climb, Side, Spot, keep};
use super::question::Question;

/// Most parameters with turning slopes that are tried from both ends.
const TURNING: usize = 8;
/// Part of the answer below which a parameter's slope shows no way.
const NUMB: f64 = 1e-7;
/// Part of the answer that no parameter can move where the middle shows no way at all.
const FLAT: f64 = 1e-3;
/// Most corners tried there; a power of two.
const AFAR: usize = 32;

impl Climb<'_> {
    /// No parameter moves the answer in the middle, though some have room: a converter at its end, a supply fed
    /// back. A meter's reading that rests while every piecewise element is far from its borders rests everywhere.
    pub(super) fn is_flat(&self, spots: [&Spot; 3]) -> bool {
        let ratio = matches!(self.circuit.question, Question::Scan { .. });
        if !ratio && spots.iter().all(|spot| spot.calm) {
            return false;
        }
        let middle = spots[0];
        let least = FLAT * (middle.value.abs() + FLAT);
        let still = |slot: &usize| self.strength(middle, *slot).abs() <= least;
        !self.free.is_empty() && self.free.iter().all(still)
    }

    /// Where the volts between two nodes are the most or least, from a spot on.
    fn by_way_of(
        &mut self,
        (red, black): (usize, usize),
        from: &Spot,
        side: Side,
    ) -> Option<Vec<f64>> {
        let (asked, fine) = (self.circuit.question, self.fine);
        // What a meter would not show there can still decide on which side of a border a piece is.
        (self.circuit.question, self.fine) = (Question::Volts { red, black }, 0.0);
        let start = self.look(from.point.clone());
        let reached = start.map(|start| self.climb(start, side, None).point);
        (self.circuit.question, self.fine) = (asked, fine);
        reached
    }

    /// Climbs from corners spread over the box. Ends are taken by the rows of a Hadamard matrix with a column
    /// for every parameter (up to thirty-one): any three that are no sum of each other meet in all eight ways.
    pub(super) fn climb_from_afar(&mut self, least: &mut Spot, most: &mut Spot) {
        let corners = (self.free.len() + 1).next_power_of_two().clamp(8, AFAR);
        for corner in 0..corners {
            let mut point = least.point.clone();
            for (place, &slot) in self.free.iter().enumerate() {
                let odd = (corner & ((place + 1) % corners)).count_ones() % 2 == 1;
                point[slot] = if odd {
                    self.space.high[slot]
                } else {
                    self.space.low[slot]
                };
            }
            let Some(start) = self.look(point) else {
                continue;
            };
            let (low, high) = (
                self.climb(start.clone(), Side::Least, None),
                self.climb(start, Side::Most, None),
            );
            keep(least, Some(low), Side::Least);
            keep(most, Some(high), Side::Most);
        }
    }

    /// Parameters whose slope has not the same sign at all spots: there may be a second corner where small
    /// steps do not better the answer.
    pub(super) fn turning(&self, spots: [&Spot; 3]) -> Vec<usize> {
        let turns = |slot: &usize| {
            let counts = spots.iter().filter(|spot| self.counts(spot, *slot));
            let mut signs = counts.map(|s| 0.0 < s.slopes[*slot]);
            let first = signs.next();
            signs.any(|sign| Some(sign) != first)
        };
        let free = self.free.iter().copied();
        free.filter(turns).take(TURNING).collect()
    }

    /// It may take several parameters to bring a piecewise element near its border over it, and the answer may feel none
    /// of them before, or favour their other ends: climbs from where the volts across the element are the most or the
    /// least, if it is on another piece there.
    pub(super) fn climb_past_borders(&mut self, best: &mut Spot, side: Side) {
        if best.calm || self.glance(&best.point).is_none() {
            return;
        }
        let near = self.circuit.near_borders(&best.point, self.space, self.fed);
        let state = self.circuit.state.clone();
        for piece in near {
            let Branch { a, b, kind, .. } = self.circuit.branches[piece];
            let pieces = kind.pieces();
            let (border, lowest_for) = match kind {
                Kind::Diode { forward, .. } => (forward, Side::Most),
                Kind::Sink { compliance, .. } => (compliance, Side::Most),
                Kind::Regulator { limit, .. } => (limit, Side::Least),
                _ => continue,
            };
            for (towards, last) in [(Side::Least, pieces.first()), (Side::Most, pieces.last())] {
                if last == Some(&state[piece]) {
                    continue;
                }
                let Some(mut point) = self.by_way_of((a, b), best, towards) else {
                    continue;
                };
                // The element's own border comes to meet the volts.
                point[border] = match lowest_for == towards {
                    true => self.space.low[border],
                    false => self.space.high[border],
                };
                let start = self.look(point).filter(|_| self.circuit.state != state);
                let rested = start.map(|start| self.climb(start, side, None));
                keep(best, rested, side);
            }
        }
    }

    /// Climbs from the middle with one parameter held at either end, then lets it go.
    pub(super) fn climb_both_ends(
        &mut self,
        middle: &Spot,
        best: &mut Spot,
        slot: usize,
        side: Side,
    ) {
        for end in [self.space.low[slot], self.space.high[slot]] {
            for start in [middle.clone(), best.clone()] {
                // The best spot rests at its own end already.
                if start.point[slot] == end {
                    continue;
                }
                if let Some(start) = self.look_with(&start, slot, end) {
                    let held = self.climb(start, side, Some(slot));
                    let released = self.climb(held, side, None);
                    keep(best, Some(released), side);
                }
            }
        }
    }

    /// Ends of very wide parameters with a say in the answer at which neither extreme rests: what lies there was not
    /// seen.
    pub(super) fn unseen(&self, extremes: [&Spot; 2]) -> Vec<(usize, f64)> {
        let counts = |slot: usize| extremes.iter().any(|spot| self.counts(spot, slot));
        let wide = self.stirring.iter();
        let wide = wide.filter(|slot| self.very_wide(**slot) && counts(**slot));
        let ends = wide
            .flat_map(|&slot| [self.space.low[slot], self.space.high[slot]].map(|end| (slot, end)));
        ends.filter(|&(slot, end)| extremes.iter().all(|spot| spot.point[slot] != end))
            .collect()
    }

    /// On a plateau no slope shows the way: looks from both ends of every parameter the answer does not feel,
    /// unless the solution stays what it is there. Narrow limits push nothing over a border it is not near. Nor does
    /// a slope show what lies behind a border: a track loads less as it falls, until the supply can't hold it. So the
    /// ends of `unseen` are looked at too, and climbed from where a piecewise element is on another piece or the answer is
    /// better there already.
    pub(super) fn stir(&mut self, best: &mut Spot, unseen: &[(usize, f64)], side: Side) {
        let numb = |slot: usize| self.strength(best, slot).abs() <= NUMB * best.value.abs();
        let stirred = |slot: &usize| (!best.calm || self.very_wide(*slot)) && numb(*slot);
        let stirring: Vec<usize> = self.stirring.iter().copied().filter(stirred).collect();
        let felt = unseen.iter().filter(|(slot, _)| !numb(*slot));
        let mut tries: Vec<(usize, f64, bool)> =
            felt.map(|&(slot, end)| (slot, end, true)).collect();
        if stirring.is_empty() && tries.is_empty() {
            return;
        }
        let start = best.clone();
        if self.glance(&start.point).is_some() {
            for slot in stirring {
                for end in [self.space.low[slot], self.space.high[slot]] {
                    if start.point[slot] != end && !self.circuit.stays(&start.point, slot, end) {
                        tries.push((slot, end, false));
                    }
                }
            }
        }
        let state = self.circuit.state.clone();
        for (slot, end, felt) in tries {
            let mut point = best.point.clone();
            point[slot] = end;
            if let Some(value) = self.glance(&point)
                && best.value != value
                && (!felt || self.circuit.state != state || side.beyond(value, best.value))
            {
                let here = self.spot(value, point);
                let rested = self.climb(here, side, None);
                keep(best, Some(rested), side);
            }
        }
    }
}
