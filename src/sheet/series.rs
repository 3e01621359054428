//! Series resistance: what it does in each wire and contact, from where each test shows it.
//!
//! In: reach as reasoned. Out: [`SeriesSheet`]s with test titles, and kelvin for a thermistor.

use super::states::{curve_of, resistance};
use super::told_types::{SeriesEffect, SeriesSheet, SeriesTest};
use super::types::{Reasoning, TestSheet, Variant};
use crate::card::{Card, Curve, Family};
use crate::circuit::CircuitError;
use crate::reason::{Effect, Limit, Reach, Technique, TestReach};

/// The resistance whose effect on a temperature is told, ohm: what a loaded test begins to see.
pub(super) const TOLD: f64 = 100.0;
/// The temperatures at which it is told beside the card's own points, °C.
const TOLD_AT: [f64; 2] = [20.0, 95.0];

/// What series resistance does, a wire or contact each.
pub(super) fn series(
    card: &Card,
    family: &Family,
    tests: &[TestSheet],
    variants: &[Variant],
    reasoning: &Reasoning,
) -> Result<Vec<SeriesSheet>, CircuitError> {
    let two_wire = variants.len() == 1 && family.roles.len() == 2;
    let curve = curve_of(card, family).filter(|_| two_wire);
    let sheet = |reach: &Reach| SeriesSheet {
        place: reach.name.clone(),
        shows: reach
            .tests
            .iter()
            .map(|seen| shows(tests, reasoning, seen))
            .collect(),
        effects: reach
            .effects
            .iter()
            .map(|effect| told(effect, curve))
            .chain(added(reach, curve))
            .collect(),
    };
    Ok(reasoning.reach.iter().map(sheet).collect())
}

fn shows(tests: &[TestSheet], reasoning: &Reasoning, seen: &TestReach) -> SeriesTest {
    let probe = &reasoning.signatures.probes[seen.probe];
    SeriesTest {
        test: tests[reasoning.of_test[seen.probe]].title.clone(),
        state: probe.state.clone(),
        first: seen.first,
        always: seen.always,
        loaded: matches!(probe.technique, Technique::VoltsLoaded),
    }
}

fn told(effect: &Effect, curve: Option<&Curve>) -> SeriesEffect {
    let celsius = temperature(&effect.state);
    SeriesEffect {
        told: celsius.is_some_and(|celsius| TOLD_AT.contains(&celsius)),
        state: effect.state.clone(),
        healthy: effect.healthy,
        points: effect
            .points
            .iter()
            .filter_map(|point| Some((point.ohms, point.reading?)))
            .collect(),
        code: effect.code.map(|code| {
            let side = match code.limit {
                Limit::Low => "low",
                Limit::High => "high",
            };
            (code.ohms, side)
        }),
        kelvin: curve
            .zip(celsius)
            .and_then(|(curve, celsius)| kelvin(curve, celsius)),
    }
}

/// The two temperatures every thermistor is told at, unless they are among the card's points.
fn added(reach: &Reach, curve: Option<&Curve>) -> Vec<SeriesEffect> {
    let told = |celsius: &f64| {
        reach
            .effects
            .iter()
            .any(|effect| temperature(&effect.state) == Some(*celsius))
    };
    let line = |celsius: f64| {
        let kelvin = kelvin(curve?, celsius)?;
        Some(SeriesEffect {
            state: format!("at {celsius} C"),
            healthy: None,
            points: Vec::new(),
            code: None,
            kelvin: Some(kelvin),
            told: true,
        })
    };
    TOLD_AT
        .into_iter()
        .filter(|celsius| !told(celsius))
        .filter_map(line)
        .collect()
}

/// A state that is a temperature, °C.
fn temperature(state: &str) -> Option<f64> {
    let read = crate::quantity::read_quantity(state, crate::quantity::Dimension::Temperature);
    read.ok().map(|at| at.number)
}

/// What [`TOLD`] ohm in series does to the temperature worked out from a two-wire sensor.
///
/// ```text
/// dT = T(R(t) + 100 ohm) - t
/// ```
/// Derivation: two wires in series with the sensor look like more of the sensor. None where that is beyond
/// the curve.
fn kelvin(curve: &Curve, celsius: f64) -> Option<f64> {
    let target = resistance(curve, celsius)?.nominal + TOLD;
    let at = |celsius: f64| resistance(curve, celsius).map(|ohms| ohms.nominal);
    let (mut low, mut high) = (-200.0_f64, 850.0_f64);
    let (low_end, high_end) = ends(curve);
    low = low.max(low_end);
    high = high.min(high_end);
    let (first, last) = (at(low)?, at(high)?);
    if target < first.min(last) || first.max(last) < target {
        return None;
    }
    let falls = last < first;
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if (at(middle)? > target) == falls {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some((low + high) / 2.0 - celsius)
}

/// The temperatures between which a curve is searched, °C.
pub(super) fn ends(curve: &Curve) -> (f64, f64) {
    match curve {
        Curve::Beta { .. } | Curve::SteinhartHart { .. } => (-80.0, 300.0),
        Curve::Platinum { .. } => (-200.0, 850.0),
    }
}
