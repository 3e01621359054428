//! States of the part: signal points and switch states as settings of the network.
//!
//! In: a card's points or a family's states, and its [`Wiring`]. Out: one [`State`] each. A parameter
//! that follows the signal is worked out from a resistance curve where there is one, else by solving
//! the circuit backwards: which value gives the reading that the card states?

use super::backwards::Backwards;
use super::wiring::Wiring;
use crate::calc::{platinum, thermistor};
use crate::card::{Card, Curve, Family, SignalPoint};
use crate::circuit::{CircuitError, Setting};
use crate::finding::{Finding, kinds};
use crate::quantity::{Dimension, Toleranced};

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
    let states = if wiring.follows.is_empty() {
        switched(card, family, wiring)
    } else {
        followed(card, family, wiring, &mut findings)?
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

/// States of a part with parameters that follow its signal pins: one a point.
fn followed(
    card: &Card,
    family: &Family,
    wiring: &Wiring,
    findings: &mut Vec<Finding>,
) -> Result<Vec<State>, CircuitError> {
    let own = !card.signal.is_empty();
    let points = if own { &card.signal } else { &family.signal };
    let mut states = Vec::new();
    for point in points {
        let mut setting = Setting::default();
        let mut follows = None;
        for followed in &wiring.follows {
            let backwards = Backwards {
                family,
                wiring,
                followed,
                known: &setting,
            };
            let Some(range) = value_at(card, &backwards, point, findings)? else {
                continue;
            };
            setting.overrides.push((followed.parameter, range));
            follows = follows.or(Some((range, followed.dimension)));
        }
        if setting.overrides.len() == wiring.follows.len() {
            let (name, point) = (point.at.value.clone(), Some(point.clone()));
            states.push(State {
                name,
                setting,
                point,
                follows,
            });
        }
    }
    Ok(states)
}

/// A parameter's value at a point: by the card's curve, else by its reading, else by the family's curve.
fn value_at(
    card: &Card,
    backwards: &Backwards<'_>,
    point: &SignalPoint,
    findings: &mut Vec<Finding>,
) -> Result<Option<Toleranced>, CircuitError> {
    let followed = backwards.followed;
    let celsius = point
        .at_quantity
        .filter(|at| {
            at.dimension == Dimension::Temperature && followed.dimension == Dimension::Resistance
        })
        .map(|at| at.number);
    let by = |curve: Option<&Curve>| {
        let (curve, celsius) = curve.zip(celsius)?;
        resistance(curve, celsius).map(|range| followed.inside(range))
    };
    if let Some(range) = by(card.curve.as_ref().map(|curve| &curve.value)) {
        return Ok(Some(range));
    }
    let reads = match followed.role.as_str() {
        "signal" => point.reads.as_ref(),
        other => point.also.get(other),
    };
    if let Some(reads) = reads {
        return backwards.range(point, reads, findings);
    }
    let range = by(backwards.family.curve.as_ref());
    if range.is_none() {
        let at = &point.at;
        findings.push(kinds::signal_point_without_reading(
            at.place.clone(),
            &at.value,
        ));
    }
    Ok(range)
}

/// The curve a card goes by: its own, or its family's where no point has a reading of its own.
pub(super) fn curve_of<'a>(card: &'a Card, family: &'a Family) -> Option<&'a Curve> {
    let reads = card.signal.iter().any(|point| point.reads.is_some());
    let own = card.curve.as_ref().map(|curve| &curve.value);
    own.or(family.curve.as_ref().filter(|_| !reads))
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
