//! Climbing: the largest and least answer of a circuit over the box its tolerances span.
//!
//! In: a [`Circuit`], a [`Space`], a pattern of switches. Out: the extreme answers and whether the reading
//! floated or had no path on the way. Never: meters.
//!
//! The answer is `(a + b x) / (c + d x)` in every parameter `x` that enters once, so it has no extreme
//! inside: from the nominal point every parameter goes to the end its slope favours, then those whose slope
//! turned go over, until none does. Where all slopes keep their signs from the lowest corner to the highest,
//! that is all. Where one turns, the climb starts again from either end of that parameter. A parameter that
//! enters twice can peak inside; its interval is divided and the peak narrowed down by its slope.

use super::branch::Kind;
use super::compile::Circuit;
use super::question::Question;
use super::settle::Answer;
use super::space::Space;

/// Which extreme.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    Most,
    Least,
}

/// Which parameters move in one step of a climb.
#[derive(Clone, Copy)]
enum Pace {
    /// All that want to.
    All,
    /// Those that enter once: each of them alone could only better the answer.
    Straight,
    /// The strongest.
    One,
}

/// Rounds of one climb; each settles the circuit once.
const ROUNDS: usize = 40;
/// A parameter's slope times its width below this part of the answer does not count: a tenth of what the best meter
/// shows.
pub(super) const NOTHING: f64 = 1e-6;
/// Nor does it below this part of what all parameters together move: a tenth of the last digit that is written.
/// What is left out so is added to the band's ends.
const FINE: f64 = 5e-4;
/// Halvings that narrow down a peak or a border.
pub(super) const HALVINGS: usize = 24;

/// A search over one box.
pub(super) struct Climb<'c> {
    pub(super) circuit: &'c mut Circuit,
    pub(super) space: &'c Space,
    pattern: usize,
    /// Parameters with room to move.
    pub(super) free: Vec<usize>,
    /// Those of them that enter twice.
    twice: Vec<usize>,
    /// Those that can move a piecewise element to another piece though the answer does not feel them yet.
    pub(super) stirring: Vec<usize>,
    /// Some source may feed a regulator backwards.
    pub(super) fed: bool,
    /// What a parameter must be able to move to count, as [`FINE`], once that is known.
    pub(super) fine: f64,
    /// The answer in the middle of the box, where the climb began.
    pub(super) middle: Option<Answer>,
    /// The reading floated somewhere.
    pub(super) floating: bool,
    /// The ohmmeter found no path somewhere.
    pub(super) no_path: bool,
    /// A number was found somewhere.
    pub(super) settled: bool,
}

/// A point, its answer and the answer's slopes there.
#[derive(Clone)]
pub(super) struct Spot {
    pub(super) value: f64,
    pub(super) point: Vec<f64>,
    pub(super) slopes: Vec<f64>,
    /// No piecewise element is near a border of its piece.
    pub(super) calm: bool,
}

impl Side {
    /// How much more of this side `a` is than `b`.
    pub(super) fn beyond(self, a: f64, b: f64) -> bool {
        match self {
            Self::Most => b < a,
            Self::Least => a < b,
        }
    }

    pub(super) fn sign(self) -> f64 {
        match self {
            Self::Most => 1.0,
            Self::Least => -1.0,
        }
    }
}

impl<'c> Climb<'c> {
    pub(super) fn new(circuit: &'c mut Circuit, space: &'c Space, pattern: usize) -> Self {
        let mut times = vec![0_u8; space.low.len()];
        for branch in &circuit.branches {
            for slot in branch.kind.slots() {
                times[slot] = times[slot].saturating_add(1);
            }
        }
        if let Question::Margin(gate) = circuit.question {
            times[gate.volts] = times[gate.volts].saturating_add(1);
        }
        let mut free: Vec<usize> = (0..times.len()).collect();
        free.retain(|&slot| 0 < times[slot] && space.low[slot] < space.high[slot]);
        let mut twice = free.clone();
        twice.retain(|&slot| 1 < times[slot]);
        let mut stirring = Vec::new();
        // A sink holds its current until any series resistance takes its volts: all of them stir it.
        let is_sink = |&piece: &usize| matches!(circuit.branches[piece].kind, Kind::Sink { .. });
        let sinks = circuit.pieces.iter().any(is_sink);
        if !circuit.pieces.is_empty() {
            stirring.clone_from(&free);
            stirring.retain(|&slot| {
                let very_wide = is_very_wide(space, slot);
                let of_piece =
                    |&piece: &usize| circuit.branches[piece].kind.slots().any(|own| own == slot);
                sinks || very_wide || circuit.pieces.iter().any(of_piece)
            });
        }
        Self {
            fed: circuit.may_feed_back(space),
            circuit,
            space,
            pattern,
            free,
            twice,
            stirring,
            fine: 0.0,
            middle: None,
            floating: false,
            no_path: false,
            settled: false,
        }
    }

    /// The least and the largest answer; none where no point gives a number.
    pub(super) fn extremes(&mut self) -> Option<(f64, f64)> {
        let (least, most) = self.corners()?;
        let left_out = [(&least, Side::Least), (&most, Side::Most)];
        let [low, high] = left_out.map(|(best, side)| self.left_out(best, side));
        Some((least.value - low, most.value + high))
    }

    /// What parameters too weak to be followed could still move the answer: by themselves, were it straight, and by
    /// turning others.
    fn left_out(&self, best: &Spot, side: Side) -> f64 {
        let fine = self.fine_at(best);
        let weak = |slot: &&usize| {
            let strength = self.strength(best, **slot).abs();
            NOTHING * best.value.abs() < strength && strength <= fine
        };
        if !self.free.iter().any(|slot| weak(&slot)) {
            return 0.0;
        }
        let wants =
            |slot: &&usize| best.point[**slot] != self.end(**slot, side, best.slopes[**slot]);
        let left = self.free.iter().filter(weak).filter(wants);
        let straight: f64 = left.map(|&slot| self.strength(best, slot).abs()).sum();
        straight + 2.0 * fine
    }

    /// Whether a parameter can move the answer by anything worth following.
    pub(super) fn counts(&self, spot: &Spot, slot: usize) -> bool {
        let least = NOTHING * (spot.value.abs() + NOTHING);
        least.max(self.fine_at(spot)) < self.strength(spot, slot).abs()
    }

    /// What a parameter must be able to move there to count: of a band over decades the low end is followed as finely as
    /// the high one, but no finer than a tenth of what a meter or a tool shows.
    pub(super) fn fine_at(&self, spot: &Spot) -> f64 {
        let shown: f64 = match self.circuit.question {
            Question::Volts { .. } | Question::Margin(_) => 1e-4,
            Question::Scan { .. } => 5e-4,
            Question::Ohms { .. } => 0.02,
            Question::Amps { .. } => 1e-7,
        };
        self.fine.min(shown.max(FINE * spot.value.abs()))
    }

    /// The spots of the least and the largest answer.
    pub(super) fn corners(&mut self) -> Option<(Spot, Spot)> {
        let middle = self.look(self.space.nominal.clone())?;
        let mut least = self.climb(middle.clone(), Side::Least, None);
        let mut most = self.climb(middle.clone(), Side::Most, None);
        self.fine = FINE * (most.value - least.value);
        if self.is_flat([&middle, &least, &most]) {
            self.climb_from_afar(&mut least, &mut most);
        }
        let turning = self.turning([&middle, &least, &most]);
        if !turning.is_empty() {
            let (low, high) = (least.clone(), most.clone());
            keep(
                &mut most,
                Some(self.climb(low, Side::Most, None)),
                Side::Most,
            );
            keep(
                &mut least,
                Some(self.climb(high, Side::Least, None)),
                Side::Least,
            );
        }
        let unseen = self.unseen([&least, &most]);
        for (best, side) in [(&mut least, Side::Least), (&mut most, Side::Most)] {
            self.climb_past_borders(best, side);
            for &slot in &turning {
                self.climb_both_ends(&middle, best, slot, side);
            }
            self.stir(best, &unseen, side);
            for place in 0..self.twice.len() {
                let slot = self.twice[place];
                let suspect = !best.calm || turning.contains(&slot);
                if suspect || self.peaks(best, slot, side) {
                    self.look_inside(best, slot, side);
                }
            }
        }
        Some((least, most))
    }

    /// From a spot to the corner where no parameter wants to move; `pinned` stays.
    pub(super) fn climb(&mut self, start: Spot, side: Side, pinned: Option<usize>) -> Spot {
        let mut best = start;
        let mut pace = Pace::All;
        // Those that moved alone and did no good.
        let mut tried: Vec<usize> = Vec::new();
        for _ in 0..ROUNDS {
            let mut movers = self.wanting(&best, side, pinned);
            movers.retain(|slot| !tried.contains(slot));
            match pace {
                Pace::All => {}
                Pace::Straight => movers.retain(|slot| !self.twice.contains(slot)),
                Pace::One => movers.truncate(1),
            }
            if movers.is_empty() {
                match pace {
                    Pace::Straight => pace = Pace::One,
                    Pace::All | Pace::One => break,
                }
                continue;
            }
            let mut point = best.point.clone();
            for &slot in &movers {
                point[slot] = self.end(slot, side, best.slopes[slot]);
            }
            match self.glance(&point) {
                Some(value) if side.beyond(value, best.value) => {
                    best = self.spot(value, point);
                    tried.clear();
                    pace = Pace::Straight;
                }
                _ => {
                    if let [alone] = movers[..] {
                        tried.push(alone);
                    }
                    pace = match pace {
                        Pace::All => Pace::Straight,
                        Pace::Straight | Pace::One => Pace::One,
                    };
                }
            }
        }
        best
    }

    /// Settles at a point and takes answer and slopes; none where that gives no number.
    pub(super) fn look(&mut self, point: Vec<f64>) -> Option<Spot> {
        let value = self.glance(&point)?;
        Some(self.spot(value, point))
    }

    /// What the circuit answers where it has settled just now, with the slopes there.
    pub(super) fn spot(&mut self, value: f64, point: Vec<f64>) -> Spot {
        Spot {
            value,
            slopes: self.circuit.slopes(&point),
            calm: self.circuit.is_calm(&point, self.space, self.fed),
            point,
        }
    }

    /// Settles at a point and takes the answer alone; none where that is no number.
    pub(super) fn glance(&mut self, point: &[f64]) -> Option<f64> {
        self.circuit.settle(self.pattern, point).ok()?;
        let answer = self.circuit.answer(point);
        self.middle.get_or_insert(answer);
        match answer {
            Answer::Number(value) => {
                self.settled = true;
                Some(value)
            }
            Answer::Floating(_) => {
                self.floating = true;
                None
            }
            Answer::NoPath => {
                self.no_path = true;
                None
            }
        }
    }

    /// Looks from a spot with one parameter put elsewhere.
    pub(super) fn look_with(&mut self, spot: &Spot, slot: usize, value: f64) -> Option<Spot> {
        let mut point = spot.point.clone();
        point[slot] = value;
        self.look(point)
    }

    pub(super) fn very_wide(&self, slot: usize) -> bool {
        is_very_wide(self.space, slot)
    }

    pub(super) fn wide(&self, slot: usize) -> bool {
        2.0 * self.space.low[slot] < self.space.high[slot]
    }

    /// How far the answer would move over the whole width of a parameter, were it straight.
    pub(super) fn strength(&self, spot: &Spot, slot: usize) -> f64 {
        spot.slopes[slot] * (self.space.high[slot] - self.space.low[slot])
    }

    /// Parameters that are not at the end their slope favours, the strongest first.
    fn wanting(&self, best: &Spot, side: Side, pinned: Option<usize>) -> Vec<usize> {
        let wants = |slot: &usize| {
            pinned != Some(*slot)
                && self.counts(best, *slot)
                && best.point[*slot] != self.end(*slot, side, best.slopes[*slot])
        };
        let mut wanting: Vec<usize> = self.free.iter().copied().filter(wants).collect();
        let strength = |slot: usize| self.strength(best, slot).abs();
        wanting.sort_unstable_by(|a, b| strength(*b).total_cmp(&strength(*a)).then(a.cmp(b)));
        wanting
    }

    pub(super) fn end(&self, slot: usize, side: Side, slope: f64) -> f64 {
        if 0.0 < slope * side.sign() {
            self.space.high[slot]
        } else {
            self.space.low[slot]
        }
    }
}

fn is_very_wide(space: &Space, slot: usize) -> bool {
    100.0 * space.low[slot] < space.high[slot]
}

/// Keeps whichever is further out.
pub(super) fn keep(best: &mut Spot, other: Option<Spot>, side: Side) {
    if let Some(other) = other
        && side.beyond(other.value, best.value)
    {
        *best = other;
    }
}
