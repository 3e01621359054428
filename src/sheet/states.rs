//! States of the part: signal points and switch states as settings of the network.
//!
//! In: a card's points or a family's states, and its [`Wiring`]. Out: one [`State`] each. A parameter
//! that follows the signal is worked out from a resistance curve where there is one, else by solving
//! the circuit backwards: which value gives the reading that the card states?

use super::wiring::Wiring;
use crate::calc::{platinum, thermistor};
use crate::card::{Card, Curve, Family, SignalPoint};
use crate::circuit::{
    CircuitError, HookUp, Meter, Observe, ParameterId, Reading, Setting, Values, solve,
};
use crate::finding::{Finding, kinds};
use crate::quantity::maths::{exp, ln, sqrt};
use crate::quantity::{Dimension, Interval, Toleranced, write_interval};

/// One state of the part.
#[derive(Clone)]
pub(super) struct State {
    /// For the reader; empty where the circuit has only one.
    pub name: String,
    /// What it sets in the network.
    pub setting: Setting,
    /// The point it comes from.
    pub point: Option<SignalPoint>,
    /// The value of the parameter that follows the signal.
    pub follows: Option<(Toleranced, Dimension)>,
}

/// All states of the part, in the order written; at least one.
pub(super) fn states(
    card: &Card,
    family: &Family,
    wiring: &Wiring,
) -> Result<(Vec<State>, Vec<Finding>), CircuitError> {
    let mut findings = Vec::new();
    let states = match wiring.follows.first() {
        Some(&(parameter, between, dimension)) => {
            let follow = Follow {
                card,
                family,
                wiring,
                parameter,
                between,
                dimension,
            };
            follow.states(&mut findings)?
        }
        None => switched(card, family, wiring),
    };
    if states.is_empty() {
        let only = State {
            name: String::new(),
            setting: Setting::default(),
            point: None,
            follows: None,
        };
        return Ok((vec![only], findings));
    }
    Ok((states, findings))
}

/// The states in one: limits that hold all of them, for tests in which the state does not matter.
pub(super) fn any(states: &[State]) -> Setting {
    let mut setting = states
        .first()
        .map(|state| state.setting.clone())
        .unwrap_or_default();
    for (id, range) in &mut setting.overrides {
        let others = states
            .iter()
            .flat_map(|state| &state.setting.overrides)
            .filter(|(other, _)| other == id);
        for (_, other) in others {
            range.low = range.low.min(other.low);
            range.high = range.high.max(other.high);
        }
    }
    setting
}

/// States of a part with switches.
fn switched(card: &Card, family: &Family, wiring: &Wiring) -> Vec<State> {
    let closed = |names: &[crate::card::Placed<String>]| {
        names
            .iter()
            .filter_map(|name| wiring.switches.get(&name.value).copied())
            .collect()
    };
    let state = |spec: &crate::card::StateSpec| State {
        name: spec.name.value.clone(),
        setting: Setting {
            overrides: Vec::new(),
            closed: closed(&spec.closes),
        },
        point: card
            .signal
            .iter()
            .find(|point| point.at.value == spec.name.value)
            .cloned(),
        follows: None,
    };
    family.states.iter().map(state).collect()
}

/// A parameter that follows the signal.
struct Follow<'a> {
    card: &'a Card,
    family: &'a Family,
    wiring: &'a Wiring,
    parameter: ParameterId,
    between: Interval,
    dimension: Dimension,
}

impl Follow<'_> {
    fn states(&self, findings: &mut Vec<Finding>) -> Result<Vec<State>, CircuitError> {
        let own = !self.card.signal.is_empty();
        let points = if own {
            &self.card.signal
        } else {
            &self.family.signal
        };
        let mut states = Vec::new();
        for point in points {
            let Some(range) = self.value_at(point, findings)? else {
                continue;
            };
            let setting = Setting {
                overrides: vec![(self.parameter, range)],
                closed: Vec::new(),
            };
            let (name, follows) = (point.at.value.clone(), Some((range, self.dimension)));
            states.push(State {
                name,
                setting,
                point: Some(point.clone()),
                follows,
            });
        }
        Ok(states)
    }

    /// The parameter's value at a point: by the card's curve, else by its reading, else by the family's curve.
    fn value_at(
        &self,
        point: &SignalPoint,
        findings: &mut Vec<Finding>,
    ) -> Result<Option<Toleranced>, CircuitError> {
        let celsius = point
            .at_quantity
            .filter(|at| at.dimension == Dimension::Temperature)
            .map(|at| at.number);
        let by = |curve: Option<&Curve>| {
            curve
                .zip(celsius)
                .and_then(|(curve, celsius)| resistance(curve, celsius))
        };
        if let Some(range) = by(self.card.curve.as_ref().map(|curve| &curve.value)) {
            return Ok(Some(self.inside(range)));
        }
        match &point.reads {
            Some(reads) => self.backwards(point, reads.value, findings),
            None => match by(self.family.curve.as_ref()) {
                Some(range) => Ok(Some(self.inside(range))),
                None => {
                    findings.push(kinds::signal_point_without_reading(
                        point.at.place.clone(),
                        &point.at.value,
                    ));
                    Ok(None)
                }
            },
        }
    }

    fn inside(&self, range: Toleranced) -> Toleranced {
        let clamp = |x: f64| x.clamp(self.between.low, self.between.high);
        Toleranced {
            low: clamp(range.low),
            nominal: clamp(range.nominal),
            high: clamp(range.high),
        }
    }

    /// Solves the circuit backwards: the limits of the parameter that give the limits of the reading.
    fn backwards(
        &self,
        point: &SignalPoint,
        reads: Interval,
        findings: &mut Vec<Finding>,
    ) -> Result<Option<Toleranced>, CircuitError> {
        let ends = (
            self.reading(self.between.low)?,
            self.reading(self.between.high)?,
        );
        let reach = Interval {
            low: ends.0.min(ends.1),
            high: ends.0.max(ends.1),
        };
        if reads.high < reach.low || reach.high < reads.low {
            let place = point
                .reads
                .as_ref()
                .map_or(&point.at.place, |reads| &reads.place);
            let text = write_interval(reach, Dimension::Voltage);
            findings.push(kinds::signal_point_out_of_reach(
                place.clone(),
                &point.at.value,
                &write_interval(reads, Dimension::Voltage),
                &text,
            ));
            return Ok(None);
        }
        let rising = ends.0 < ends.1;
        let a = self.value_for(reads.low, rising)?;
        let b = self.value_for(reads.high, rising)?;
        let nominal = self.value_for((reads.low + reads.high) / 2.0, rising)?;
        let (low, high) = (a.min(b), a.max(b));
        Ok(Some(Toleranced {
            low,
            nominal: nominal.clamp(low, high),
            high,
        }))
    }

    /// Bisection, on a logarithmic scale for a resistance: 60 halvings reach the last digits of any range.
    fn value_for(&self, target: f64, rising: bool) -> Result<f64, CircuitError> {
        let logarithmic = self.dimension == Dimension::Resistance && self.between.low > 0.0;
        let (mut low, mut high) = (self.between.low, self.between.high);
        for _ in 0..60 {
            let middle = if logarithmic {
                sqrt(low) * sqrt(high)
            } else {
                (low + high) / 2.0
            };
            if (self.reading(middle)? < target) == rising {
                low = middle;
            } else {
                high = middle;
            }
        }
        Ok(if logarithmic {
            exp((ln(low) + ln(high)) / 2.0)
        } else {
            (low + high) / 2.0
        })
    }

    /// The signal's reading with this value and all else nominal, plugged in, signal to sensor ground.
    fn reading(&self, value: f64) -> Result<f64, CircuitError> {
        let setting = Setting {
            overrides: vec![(self.parameter, exact(value))],
            closed: Vec::new(),
        };
        let network = &self.wiring.network;
        let minus = if self.family.roles.iter().any(|role| role == "ground") {
            "ground"
        } else {
            "good ground"
        };
        let observe = Observe::Volts {
            red: network.find("signal")?,
            black: network.find(minus)?,
        };
        let values = Values::nominal(network, &setting);
        let hookup = HookUp {
            mated: true,
            powered: true,
            links: Vec::new(),
            observe,
            setting,
            meter: Meter::common(),
        };
        Ok(match solve::read(network, &hookup, &values)? {
            Reading::Value(volts) => volts,
            Reading::Floating | Reading::NoPath => 0.0,
        })
    }
}

fn exact(value: f64) -> Toleranced {
    Toleranced {
        low: value,
        nominal: value,
        high: value,
    }
}

/// Resistance by a curve at a temperature, none outside the curve's range.
pub(super) fn resistance(curve: &Curve, celsius: f64) -> Option<Toleranced> {
    match curve {
        Curve::Beta { r25, beta } => {
            let corner = |r: f64, b: f64| thermistor::by_beta(r, b, celsius);
            // A larger B steepens the curve: it raises the resistance below 25 °C and lowers it above.
            let (small, large) = if celsius < 25.0 {
                (beta.low, beta.high)
            } else {
                (beta.high, beta.low)
            };
            Some(Toleranced {
                low: corner(r25.low, small)?,
                nominal: corner(r25.nominal, beta.nominal)?,
                high: corner(r25.high, large)?,
            })
        }
        Curve::SteinhartHart { a, b, c, within } => {
            let nominal = thermistor::by_steinhart_hart(*a, *b, *c, celsius)?;
            Some(Toleranced {
                low: nominal * (1.0 - within),
                nominal,
                high: nominal * (1.0 + within),
            })
        }
        Curve::Platinum { r0 } => Some(Toleranced {
            low: platinum::resistance(r0.low, celsius)?,
            nominal: platinum::resistance(r0.nominal, celsius)?,
            high: platinum::resistance(r0.high, celsius)?,
        }),
    }
}
