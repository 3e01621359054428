//! Solving: what one circuit reads when every part has one known value.
//!
//! In: a [`Network`], a [`HookUp`], [`Values`]. Out: a [`Reading`], or a whole [`Solution`] for drawings and
//! laws. Never: tolerances.
//!
//! What is assumed: direct current, settled; the meter's input resistance loads the circuit but holds
//! nothing up; an ohmmeter finds diodes, sinks and regulators open and needs the key off; an ammeter is a
//! shunt of 10 milliohm. Two leads on one dead island read 0 V, as a real meter does through the wire
//! between them; two leads on different islands are [`Reading::Floating`], see
//! [`FLOATING_SHOWS`](super::FLOATING_SHOWS). A scan value whose input or reference nothing holds is
//! floating too: it may show anything between 0 and full scale.

use super::branch::LEAST_OHMS;
use super::compile::Circuit;
use super::meter::OHMS_OVERLOAD;
use super::question::Question;
use super::settle::Answer;
use super::space::Space;
use super::{CircuitError, ElementId, HookUp, Network, NodeId, ParameterId, Reading, Setting};

/// One value for every parameter of a network.
#[derive(Clone, Debug, PartialEq)]
pub struct Values(Vec<f64>);

impl Values {
    /// Every parameter at its nominal value in this setting.
    pub fn nominal(network: &Network, setting: &Setting) -> Self {
        let all = network.all_limits(setting);
        Self(all.into_iter().map(|range| range.nominal).collect())
    }

    /// Puts one value in place; where the network has no such parameter nothing happens.
    pub fn set(&mut self, parameter: ParameterId, value: f64) {
        if let Some(place) = self.0.get_mut(parameter.0) {
            *place = value;
        }
    }

    /// The value of one parameter.
    pub fn get(&self, parameter: ParameterId) -> Option<f64> {
        self.0.get(parameter.0).copied()
    }

    /// These values, then the links' nominal ones; all finite.
    fn point(&self, space: &Space) -> Result<Vec<f64>, CircuitError> {
        let mut point = space.nominal.clone();
        for (place, value) in point.iter_mut().zip(&self.0) {
            if !value.is_finite() {
                return Err(CircuitError::Impossible {
                    name: "a value".to_owned(),
                    why: "it is not a finite number".to_owned(),
                });
            }
            *place = *value;
        }
        Ok(point)
    }
}

/// Current through one branch: an element, a link, the meter or half a potentiometer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flow {
    /// The element; none for a link and for the meter.
    pub element: Option<ElementId>,
    /// Where the current goes in.
    pub from: NodeId,
    /// Where it comes out.
    pub to: NodeId,
    /// Ampere from `from` through the branch to `to`.
    pub amps: f64,
}

/// A whole circuit, solved.
#[derive(Clone, Debug, PartialEq)]
pub struct Solution {
    /// Volts of each node above good ground; within an island that nothing holds, above one node of it.
    pub volts: Vec<f64>,
    /// Number of the island each node sits on (the meter joins none); that of good ground is held.
    pub island: Vec<usize>,
    /// Currents, branch by branch; two for a potentiometer.
    pub flows: Vec<Flow>,
    /// What is observed.
    pub reading: Reading,
}

impl Solution {
    /// True where something joins the node to good ground.
    pub fn held(&self, node: NodeId) -> bool {
        self.island.get(node.0) == self.island.first()
    }

    /// Current through an element from its first to its second terminal (a potentiometer: from the slider
    /// to the low end); 0 where it carries none.
    pub fn amps(&self, element: ElementId) -> f64 {
        let mut flows = self.flows.iter();
        flows
            .find(|flow| flow.element == Some(element))
            .map_or(0.0, |flow| flow.amps)
    }
}

/// What the observation reads. Where powered switches leave several states possible, the one with most of
/// them on.
///
/// # Errors
/// [`CircuitError::OhmsLive`], an unknown node or input, a value that is not finite, or
/// [`CircuitError::NoState`].
pub fn read(network: &Network, hookup: &HookUp, values: &Values) -> Result<Reading, CircuitError> {
    let space = Space::of(network, hookup)?;
    let point = values.point(&space)?;
    let mut circuit = Circuit::for_reading(network, hookup)?;
    circuit.settle_any(&point)?;
    Ok(reading(circuit.question, circuit.answer(&point)))
}

/// All voltages and currents. Where powered switches leave several states possible, the one with most of
/// them on.
///
/// # Errors
/// As [`read`].
pub fn solve(
    network: &Network,
    hookup: &HookUp,
    values: &Values,
) -> Result<Solution, CircuitError> {
    let first = states(network, hookup, values)?.into_iter().next();
    first.ok_or(CircuitError::NoState)
}

/// Every solution that agrees with itself, the likeliest first: more than one only with powered switches.
///
/// # Errors
/// As [`read`]; a circuit that finds no steady state gives an empty list.
pub fn states(
    network: &Network,
    hookup: &HookUp,
    values: &Values,
) -> Result<Vec<Solution>, CircuitError> {
    let space = Space::of(network, hookup)?;
    let point = values.point(&space)?;
    let mut circuit = Circuit::whole(network, hookup)?;
    let mut found = Vec::new();
    for pattern in 0..circuit.patterns() {
        if circuit.settle(pattern, &point).is_ok() && circuit.gates_agree(&point) {
            found.push(solution(&circuit, &point));
        }
    }
    Ok(found)
}

fn solution(circuit: &Circuit, point: &[f64]) -> Solution {
    let branches = circuit.branches.iter().zip(&circuit.state);
    let flows = branches
        .map(|(branch, &state)| {
            let (g, j) = branch.kind.line(state, point);
            Flow {
                element: branch.element,
                from: NodeId(branch.a),
                to: NodeId(branch.b),
                amps: g * (circuit.volts[branch.a] - circuit.volts[branch.b]) + j,
            }
        })
        .collect();
    Solution {
        volts: circuit.volts.clone(),
        island: circuit.group.clone(),
        flows,
        reading: reading(circuit.question, circuit.answer(point)),
    }
}

/// The answer as an instrument gives it: the converter clamps, the ohmmeter overflows.
pub(super) fn reading(question: Question, answer: Answer) -> Reading {
    match answer {
        Answer::Floating(_) => Reading::Floating,
        Answer::NoPath => Reading::NoPath,
        Answer::Number(value) => match question {
            Question::Scan { full, .. } => Reading::Value(value.clamp(0.0, full.max(0.0))),
            Question::Ohms { .. } if OHMS_OVERLOAD < value => Reading::NoPath,
            _ => Reading::Value(value),
        },
    }
}

/// How a reading follows one resistance in the circuit: `y(R) = (v0 Rth + v∞ R) / (Rth + R)`, exact while
/// every part stays on its straight line (derivation: a linear circuit seen from the two ends of `R` is a
/// source `v∞ - v0` in kind behind `Rth`).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Response {
    /// Reading with the resistance bridged.
    pub v0: f64,
    /// Reading with it open.
    pub vinf: f64,
    /// Resistance of the rest of the circuit as seen from its two ends, ohm.
    pub rth: f64,
}

/// The response of a reading to the resistance of one resistor, every other part nominal. None where the
/// reading does not follow it.
///
/// # Errors
/// As [`read`]; [`CircuitError::Impossible`] where the element is no resistor.
pub fn series_response(
    network: &Network,
    hookup: &HookUp,
    element: ElementId,
) -> Result<Option<Response>, CircuitError> {
    let found = network.elements().get(element.0);
    let Some(super::ElementKind::Resistor { ohms, .. }) = found.map(|e| &e.kind) else {
        return Err(CircuitError::Impossible {
            name: found.map_or_else(|| format!("element {}", element.0), |e| e.name.clone()),
            why: "only a resistor has a response to its resistance".to_owned(),
        });
    };
    let space = Space::of(network, hookup)?;
    let point = space.nominal.clone();
    let mut circuit = Circuit::for_reading(network, hookup)?;
    circuit.settle_any(&point)?;
    let y = number(circuit.answer(&point));
    let slope = circuit.slopes(&point)[ohms.0];

    let mut without = network.clone();
    without.remove(element);
    let mut open = Circuit::for_reading(&without, hookup)?;
    open.settle_any(&point)?;
    let vinf = number(open.answer(&point));
    let (Some(y), Some(vinf)) = (y, vinf) else {
        return Ok(None);
    };
    // y - v∞ = (v0 - v∞) Rth / (Rth + R) and dy/dR = -(y - v∞) / (Rth + R)
    let sum = -(y - vinf) / slope;
    let now = point[ohms.0].max(LEAST_OHMS);
    let rth = sum - now;
    let v0 = vinf + (y - vinf) * sum / rth;
    let good = rth.is_finite() && v0.is_finite() && 0.0 < rth;
    Ok(good.then_some(Response { v0, vinf, rth }))
}

/// The number an instrument would settle to, also on a lead that nothing but the meter holds.
fn number(answer: Answer) -> Option<f64> {
    match answer {
        Answer::Number(value) | Answer::Floating(value) => Some(value),
        Answer::NoPath => None,
    }
}
