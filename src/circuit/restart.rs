//! Second starts: corners of the box that no climb from the middle reaches.
//!
//! In: a [`Climb`] and the corners it found. Out: better ones where there are any. Never: deciding bands.
//!
//! Slopes that turn, plateaus on which no slope shows the way and diodes that turn a current elsewhere
//! can hide the best corner. Each has its own remedy here; circuits without them pay nothing for it.

use super::climb::{Climb, Side, Spot, keep};
use super::question::Question;

/// Most parameters with turning slopes that are tried from both ends.
const TURNING: usize = 8;
/// Part of the answer a parameter must be able to move to count as bold, and most of those whose corners are
/// tried.
const BOLD: f64 = 1e-2;
const CORNERED: usize = 4;

/// Part of the answer below which a parameter's slope shows no way.
const NUMB: f64 = 1e-7;
/// Part of the answer that no parameter can move where the middle shows no way at all.
const FLAT: f64 = 1e-3;
/// A converter's reading this near to full scale rests on its rail.
const RAIL: f64 = 0.01;
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

    /// A converter against a reference that is fed back shows full scale wherever its pin holds the reference
    /// up: no slope leads out of there. The volts at the pin do, so the climb starts again from their corners.
    pub(super) fn climb_by_volts(&mut self, least: &mut Spot, most: &mut Spot) {
        let asked = self.circuit.question;
        let Question::Scan {
            node,
            minus,
            against: Some(_),
            full,
        } = asked
        else {
            return;
        };
        if least.value < (1.0 - RAIL) * full {
            return;
        }
        self.circuit.question = Question::Volts {
            red: node,
            black: minus,
        };
        let start = self.look(least.point.clone());
        let lowest = start.map(|start| self.climb(start, Side::Least, None));
        self.circuit.question = asked;
        let Some(start) = lowest.and_then(|lowest| self.look(lowest.point)) else {
            return;
        };
        let (low, high) = (
            self.climb(start.clone(), Side::Least, None),
            self.climb(start, Side::Most, None),
        );
        keep(least, Some(low), Side::Least);
        keep(most, Some(high), Side::Most);
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

    /// Parameters with wide limits and a say in the answer, in a circuit with diodes: these can turn the
    /// current elsewhere, so that no climb from the middle reaches the best corner. None in other circuits.
    pub(super) fn bold(&self, spots: [&Spot; 3]) -> Vec<usize> {
        if !self.diodes {
            return Vec::new();
        }
        let mut bold = self.free.clone();
        bold.retain(|&slot| {
            let strong = |spot: &&Spot| BOLD * spot.value.abs() < self.strength(spot, slot).abs();
            self.wide(slot) && spots.iter().any(strong)
        });
        bold.truncate(CORNERED);
        bold
    }

    /// Climbs from the middle with these parameters put at their ends, in every combination.
    pub(super) fn climb_every_corner(
        &mut self,
        middle: &Spot,
        best: &mut Spot,
        slots: &[usize],
        side: Side,
    ) {
        if slots.is_empty() {
            return;
        }
        for corner in 0..1_usize << slots.len() {
            let mut point = middle.point.clone();
            for (bit, &slot) in slots.iter().enumerate() {
                let high = corner >> bit & 1 == 1;
                let ends = (self.space.low[slot], self.space.high[slot]);
                point[slot] = if high { ends.1 } else { ends.0 };
            }
            if let Some(start) = self.look(point) {
                let rested = self.climb(start, side, None);
                keep(best, Some(rested), side);
            }
        }
    }

    /// In a circuit with diodes, climbs from every state that one parameter at one of its ends brings about.
    pub(super) fn climb_other_states(&mut self, best: &mut Spot, side: Side) {
        if !self.diodes {
            return;
        }
        let from = best.clone();
        self.look(from.point.clone());
        let mut seen = vec![self.circuit.state.clone()];
        for slot in self.free.clone() {
            for end in [self.space.low[slot], self.space.high[slot]] {
                if from.point[slot] == end {
                    continue;
                }
                let Some(start) = self.look_with(&from, slot, end) else {
                    continue;
                };
                if !seen.contains(&self.circuit.state) {
                    seen.push(self.circuit.state.clone());
                    let held = self.climb(start, side, Some(slot));
                    let released = self.climb(held, side, None);
                    keep(best, Some(released), side);
                }
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

    /// On a plateau no slope shows the way: looks from both ends of every parameter the answer does not feel,
    /// unless the solution stays what it is there. Narrow limits push nothing over a border it is not near.
    pub(super) fn stir(&mut self, best: &mut Spot, side: Side) {
        let is_numb = |slot: &usize| {
            (!best.calm || self.very_wide(*slot))
                && self.strength(best, *slot).abs() <= NUMB * best.value.abs()
        };
        let numb: Vec<usize> = self.stirring.iter().copied().filter(is_numb).collect();
        if numb.is_empty() {
            return;
        }
        let start = best.clone();
        let mut tries = Vec::new();
        if self.look(start.point.clone()).is_some() {
            for slot in numb {
                for end in [self.space.low[slot], self.space.high[slot]] {
                    if start.point[slot] != end && !self.circuit.stays(&start.point, slot, end) {
                        tries.push((slot, end));
                    }
                }
            }
        }
        for (slot, end) in tries {
            let mut point = best.point.clone();
            point[slot] = end;
            if let Some(value) = self.glance(&point)
                && best.value != value
            {
                let here = self.spot(value, point);
                let rested = self.climb(here, side, None);
                keep(best, Some(rested), side);
            }
        }
    }
}
