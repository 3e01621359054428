//! Branches: elements as pairs of terminals with a straight-line characteristic in each state.
//!
//! In: a state, a point (one number per parameter). Out: current from `a` to `b` as `g (va - vb) + j`, and
//! how `g` and `j` move with each parameter. Never: matrices.

use super::{BLEED, ElementId};

/// Resistances below this count as this, ohm: the end of a track, a perfect joint.
pub(super) const LEAST_OHMS: f64 = 1e-4;

/// Volts by which a state may miss its border and still agree with itself: rounding, no more. Across a regulator's
/// quarter of an ohm a microvolt would be four microamperes, which lift an output by tenths of a volt.
const TOLERANCE: f64 = 1e-10;

/// How a resistance follows from the point.
#[derive(Clone, Copy, Debug)]
pub(super) enum Ohms {
    /// It is a parameter.
    Slot(usize),
    /// The part of a track between its low end and the slider.
    Below { track: usize, position: usize },
    /// The part between slider and high end.
    Above { track: usize, position: usize },
    /// It is known.
    Fixed(f64),
}

/// What a branch is.
#[derive(Clone, Copy, Debug)]
pub(super) enum Kind {
    Resistance(Ohms),
    Source {
        volts: usize,
        series: usize,
    },
    Regulator {
        volts: usize,
        series: usize,
        limit: usize,
    },
    Sink {
        amps: usize,
        compliance: usize,
    },
    Diode {
        forward: usize,
        series: usize,
    },
    /// A closed switch that needs power: `On` only while its gate says so.
    Gated {
        ohms: usize,
        gate: Gate,
    },
}

/// The supply a switch watches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Gate {
    pub(super) plus: usize,
    pub(super) minus: usize,
    pub(super) volts: usize,
}

impl Gate {
    /// The same supply by other node numbers.
    pub(super) fn moved(self, node: impl Fn(usize) -> usize) -> Self {
        Self {
            plus: node(self.plus),
            minus: node(self.minus),
            ..self
        }
    }
}

/// A branch between two nodes.
#[derive(Clone, Debug)]
pub(super) struct Branch {
    /// The element it is part of; none for links and the meter.
    pub(super) element: Option<ElementId>,
    pub(super) a: usize,
    pub(super) b: usize,
    pub(super) kind: Kind,
}

/// The piece of its characteristic a branch is on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum State {
    /// No current, or a regulator's bleed.
    Off,
    /// A resistance, with or without a voltage behind it.
    On,
    /// A constant current: a regulator at its limit, a sink that regulates.
    Limit,
}

/// How a branch's `g` and `j` move with one parameter.
#[derive(Clone, Copy, Debug)]
pub(super) struct Slope {
    pub(super) slot: usize,
    pub(super) dg: f64,
    pub(super) dj: f64,
}

impl Slope {
    fn of(slot: usize, dg: f64, dj: f64) -> Self {
        Self { slot, dg, dj }
    }
}

impl Ohms {
    pub(super) fn at(self, p: &[f64]) -> f64 {
        let ohms = match self {
            Self::Slot(slot) => p[slot],
            Self::Below { track, position } => p[track] * p[position],
            Self::Above { track, position } => p[track] * (1.0 - p[position]),
            Self::Fixed(ohms) => ohms,
        };
        ohms.max(LEAST_OHMS)
    }

    /// Tells how the conductance moves with each parameter.
    fn slopes(self, p: &[f64], mut tell: impl FnMut(Slope)) {
        let ohms = self.at(p);
        let by_ohms = -1.0 / (ohms * ohms);
        let mut slope = |slot, by: f64| {
            tell(Slope {
                slot,
                dg: by_ohms * by,
                dj: 0.0,
            });
        };
        match self {
            Self::Slot(slot) => slope(slot, 1.0),
            Self::Below { track, position } => {
                slope(track, p[position]);
                slope(position, p[track]);
            }
            Self::Above { track, position } => {
                slope(track, 1.0 - p[position]);
                slope(position, -p[track]);
            }
            Self::Fixed(_) => {}
        }
    }
}

impl Kind {
    /// The state to try first, and what a branch with one state only is in.
    pub(super) fn likely(self) -> State {
        match self {
            Self::Resistance(_) | Self::Source { .. } | Self::Regulator { .. } => State::On,
            Self::Sink { .. } => State::Limit,
            Self::Diode { .. } => State::Off,
            Self::Gated { .. } => State::On,
        }
    }

    /// The states its own voltage decides between, from the fewest volts across it to the most; empty where there is
    /// nothing to decide.
    pub(super) fn pieces(self) -> &'static [State] {
        match self {
            Self::Resistance(_) | Self::Source { .. } | Self::Gated { .. } => &[],
            Self::Regulator { .. } => &[State::Limit, State::On, State::Off],
            Self::Sink { .. } => &[State::On, State::Limit],
            Self::Diode { .. } => &[State::Off, State::On],
        }
    }

    /// Parameters it reads, one entry for every place where one enters; not those of its gate.
    pub(super) fn slots(self) -> impl Iterator<Item = usize> {
        let slots = match self {
            Self::Resistance(Ohms::Fixed(_)) => [None; 3],
            Self::Resistance(Ohms::Slot(slot)) | Self::Gated { ohms: slot, .. } => {
                [Some(slot), None, None]
            }
            Self::Resistance(
                Ohms::Below {
                    track: one,
                    position: two,
                }
                | Ohms::Above {
                    track: one,
                    position: two,
                },
            )
            | Self::Source {
                volts: one,
                series: two,
            }
            | Self::Sink {
                amps: one,
                compliance: two,
            }
            | Self::Diode {
                forward: one,
                series: two,
            } => [Some(one), Some(two), None],
            Self::Regulator {
                volts,
                series,
                limit,
            } => [Some(volts), Some(series), Some(limit)],
        };
        slots.into_iter().flatten()
    }

    /// Gives every parameter it reads, those of its gate too, a new number.
    pub(super) fn renumber(&mut self, mut new: impl FnMut(usize) -> usize) {
        match self {
            Self::Resistance(Ohms::Fixed(_)) => {}
            Self::Resistance(Ohms::Slot(slot)) => *slot = new(*slot),
            Self::Resistance(Ohms::Below { track, position } | Ohms::Above { track, position }) => {
                (*track, *position) = (new(*track), new(*position));
            }
            Self::Source { volts, series } => (*volts, *series) = (new(*volts), new(*series)),
            Self::Regulator {
                volts,
                series,
                limit,
            } => (*volts, *series, *limit) = (new(*volts), new(*series), new(*limit)),
            Self::Sink { amps, compliance } => {
                (*amps, *compliance) = (new(*amps), new(*compliance));
            }
            Self::Diode { forward, series } => {
                (*forward, *series) = (new(*forward), new(*series));
            }
            Self::Gated { ohms, gate } => (*ohms, gate.volts) = (new(*ohms), new(gate.volts)),
        }
    }

    /// Conductance and current of the branch: `i = g (va - vb) + j`, ampere from `a` to `b`.
    pub(super) fn line(self, state: State, p: &[f64]) -> (f64, f64) {
        match (self, state) {
            (Self::Regulator { .. }, State::Off) => (0.0, BLEED),
            (_, State::Off) => (0.0, 0.0),
            (Self::Resistance(ohms), _) => (1.0 / ohms.at(p), 0.0),
            (Self::Gated { ohms, .. }, _) => (1.0 / p[ohms].max(LEAST_OHMS), 0.0),
            (Self::Regulator { limit, .. }, State::Limit) => (0.0, -p[limit]),
            (Self::Source { volts, series } | Self::Regulator { volts, series, .. }, _) => {
                let g = 1.0 / p[series].max(LEAST_OHMS);
                (g, -p[volts] * g)
            }
            (Self::Sink { amps, .. }, State::Limit) => (0.0, p[amps]),
            (Self::Sink { amps, compliance }, State::On) => (p[amps] / p[compliance], 0.0),
            (Self::Diode { forward, series }, _) => {
                let g = 1.0 / p[series].max(LEAST_OHMS);
                (g, -p[forward] * g)
            }
        }
    }

    /// Tells how [`Kind::line`] moves with each of its parameters.
    pub(super) fn slopes(self, state: State, p: &[f64], mut tell: impl FnMut(Slope)) {
        match (self, state) {
            (_, State::Off) => {}
            (Self::Resistance(ohms), _) => ohms.slopes(p, tell),
            (Self::Gated { ohms, .. }, _) => Ohms::Slot(ohms).slopes(p, tell),
            (Self::Regulator { limit, .. }, State::Limit) => tell(Slope::of(limit, 0.0, -1.0)),
            (
                Self::Source { volts, series }
                | Self::Regulator { volts, series, .. }
                | Self::Diode {
                    forward: volts,
                    series,
                },
                _,
            ) => {
                let g = 1.0 / p[series].max(LEAST_OHMS);
                tell(Slope::of(volts, 0.0, -g));
                tell(Slope::of(series, -g * g, p[volts] * g * g));
            }
            (Self::Sink { amps, .. }, State::Limit) => tell(Slope::of(amps, 0.0, 1.0)),
            (Self::Sink { amps, compliance }, State::On) => {
                let (i, v) = (p[amps], p[compliance]);
                tell(Slope::of(amps, 1.0 / v, 0.0));
                tell(Slope::of(compliance, -i / (v * v), 0.0));
            }
        }
    }

    /// The state that goes with these volts across the branch; `now` where that is as good. `None` volts
    /// mean that nothing joins its ends.
    pub(super) fn implied(self, now: State, p: &[f64], across: Option<f64>) -> State {
        let close = |x: f64, border: f64| (x - border).abs() <= TOLERANCE;
        match self {
            Self::Resistance(_) | Self::Source { .. } | Self::Gated { .. } => now,
            Self::Regulator {
                volts,
                series,
                limit,
            } => {
                // With nothing to hold its output away from it, a regulator holds its voltage.
                let Some(across) = across else {
                    return State::On;
                };
                let drop = p[volts] - across;
                let (least, most) = (-BLEED * p[series], p[limit] * p[series]);
                let borders_off = close(drop, least) && now != State::Limit;
                if borders_off || (close(drop, most) && now != State::Off) {
                    now
                } else if drop < least {
                    State::Off
                } else if drop <= most {
                    State::On
                } else {
                    State::Limit
                }
            }
            Self::Sink { compliance, .. } => match across {
                None => State::On,
                Some(across) if close(across, p[compliance]) => now,
                Some(across) if across < p[compliance] => State::On,
                Some(_) => State::Limit,
            },
            Self::Diode { forward, .. } => match across {
                None => State::Off,
                Some(across) if close(across, p[forward]) => now,
                Some(across) if across < p[forward] => State::Off,
                Some(_) => State::On,
            },
        }
    }
}

impl Branch {
    /// The supply it watches, where it is a switch that needs one.
    pub(super) fn gate(&self) -> Option<Gate> {
        match self.kind {
            Kind::Gated { gate, .. } => Some(gate),
            _ => None,
        }
    }

    /// Every parameter it reads, those of its gate too.
    pub(super) fn reads(&self) -> impl Iterator<Item = usize> {
        self.kind.slots().chain(self.gate().map(|gate| gate.volts))
    }

    /// Its ends, and the nodes a switch watches.
    pub(super) fn watched(&self) -> impl Iterator<Item = usize> {
        let gate = self.gate().map(|gate| [gate.plus, gate.minus]);
        [self.a, self.b]
            .into_iter()
            .chain(gate.into_iter().flatten())
    }
}
