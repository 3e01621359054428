//! Calm: where a solution can't change its kind, so that no search need look for another.
//!
//! In: a settled [`Circuit`], limits. Out: yes or no; no in doubt. Never: solving.

use super::BLEED;
use super::branch::{Kind, State};
use super::compile::Circuit;
use super::space::Space;

/// Part of a border's current, or of the volts across, below which a piecewise branch is far from the border.
/// Judgement, no source: limits that are narrow move currents by percents, not four times.
const CALM: f64 = 0.25;
/// A source this much above a regulator may feed it backwards.
const ABOVE: f64 = 1.1;

impl Circuit {
    /// Some source may feed current into a regulator: its voltage is the higher one.
    pub(super) fn may_feed_back(&self, space: &Space) -> bool {
        let kinds = || self.branches.iter().map(|branch| branch.kind);
        let regulated = kinds().filter_map(|kind| match kind {
            Kind::Regulator { volts, .. } => Some(space.low[volts]),
            _ => None,
        });
        let lowest = regulated.fold(f64::INFINITY, f64::min);
        kinds().any(|kind| match kind {
            Kind::Source { volts, .. } | Kind::Regulator { volts, .. } => {
                ABOVE * lowest < space.high[volts]
            }
            _ => false,
        })
    }

    /// No piecewise branch is near a border of its piece: regulators hold their voltage, give far less than their
    /// least limit and are not fed back; sinks have far more volts than they need. `fed` as from
    /// [`Circuit::may_feed_back`].
    pub(super) fn is_calm(&self, p: &[f64], space: &Space, fed: bool) -> bool {
        let mut pieces = self.pieces.iter();
        pieces.all(|&piece| self.is_far(piece, (p, space, fed)))
    }

    /// The piecewise branches that are near a border, as [`Circuit::is_calm`] has it.
    pub(super) fn near_borders(&self, p: &[f64], space: &Space, fed: bool) -> Vec<usize> {
        let pieces = self.pieces.iter().copied();
        pieces
            .filter(|piece| !self.is_far(*piece, (p, space, fed)))
            .collect()
    }

    fn is_far(&self, piece: usize, (p, space, fed): (&[f64], &Space, bool)) -> bool {
        let (branch, state) = (&self.branches[piece], self.state[piece]);
        let across = self.volts[branch.a] - self.volts[branch.b];
        match (branch.kind, state) {
            (Kind::Regulator { limit, .. }, State::On) => {
                let (g, j) = branch.kind.line(state, p);
                let gives = -(g * across + j);
                // What a fed one gives is the difference of two currents: percents of these turn it round.
                !fed && -CALM * BLEED < gives && gives < CALM * space.low[limit]
            }
            (Kind::Sink { compliance, .. }, State::Limit) => space.high[compliance] < CALM * across,
            _ => false,
        }
    }

    /// True where the solution at a point is the solution with one parameter put elsewhere too: the branches that
    /// read it carry what they carried and stay on their piece.
    pub(super) fn stays(&self, p: &[f64], slot: usize, value: f64) -> bool {
        let mut moved = p.to_vec();
        moved[slot] = value;
        let readers = self.branches.iter().zip(&self.state);
        readers
            .filter(|(branch, _)| branch.kind.slots().any(|own| own == slot))
            .all(|(branch, &state)| {
                let across = self.volts[branch.a] - self.volts[branch.b];
                let amps = |p: &[f64]| {
                    let (g, j) = branch.kind.line(state, p);
                    g * across + j
                };
                let held = self.joined(branch.a, branch.b).then_some(across);
                (amps(&moved) - amps(p)).abs() <= f64::EPSILON * amps(p).abs()
                    && branch.kind.implied(state, &moved, held) == state
            })
    }
}
