//! The network: named nodes, toleranced parameters, elements.
//!
//! Built once per card by `sheet`, never changed by solving. Node names: a role alone (`signal`) is
//! the harness side of the connector, `part.signal` the part's side of the contact, `module.signal`
//! the module's side of the wire; `good ground` is the datum (body, battery minus).

use super::element::Demand;
use super::{
    CircuitError, Element, ElementId, ElementKind, Input, NodeId, Parameter, ParameterId, Setting,
};
use crate::quantity::{Toleranced, maths};

/// The name of the datum: body, battery minus.
pub const GOOD_GROUND: &str = "good ground";

/// A circuit: nodes, parameters, elements, inputs. Every range is finite, every resistance above zero.
#[derive(Clone, Debug, PartialEq)]
pub struct Network {
    nodes: Vec<String>,
    parameters: Vec<Parameter>,
    elements: Vec<Element>,
    inputs: Vec<Input>,
    /// Elements a fault took out: their places stay, so that ids in a hook-up keep their meaning.
    removed: Vec<ElementId>,
    /// Parameters a fault moved out of their limits, in whatever setting.
    drifts: Vec<(ParameterId, Drift)>,
}

impl Default for Network {
    fn default() -> Self {
        Self::new()
    }
}

impl Network {
    /// A network with nothing but the datum node `good ground`.
    pub fn new() -> Self {
        Self {
            nodes: vec![GOOD_GROUND.to_owned()],
            parameters: Vec::new(),
            elements: Vec::new(),
            inputs: Vec::new(),
            removed: Vec::new(),
            drifts: Vec::new(),
        }
    }

    /// The datum: body, battery minus, 0 V.
    pub fn ground(&self) -> NodeId {
        NodeId(0)
    }

    /// The node of this name, made where it is new.
    pub fn node(&mut self, name: &str) -> NodeId {
        if let Some(place) = self.nodes.iter().position(|known| known == name) {
            return NodeId(place);
        }
        self.nodes.push(name.to_owned());
        NodeId(self.nodes.len() - 1)
    }

    /// The node of this name.
    ///
    /// # Errors
    /// [`CircuitError::UnknownNode`] with the nearest name.
    pub fn find(&self, name: &str) -> Result<NodeId, CircuitError> {
        if let Some(place) = self.nodes.iter().position(|known| known == name) {
            return Ok(NodeId(place));
        }
        let nearest = self
            .nodes
            .iter()
            .map(|known| (strsim::damerau_levenshtein(known, name), known))
            .min()
            .filter(|(distance, known)| *distance * 2 <= known.len().max(name.len()));
        Err(CircuitError::UnknownNode {
            name: name.to_owned(),
            nearest: nearest.map(|(_, known)| known.clone()),
        })
    }

    /// Adds a parameter.
    ///
    /// # Errors
    /// [`CircuitError::Doubled`] where the name is taken, [`CircuitError::Impossible`] where the limits
    /// are not finite or out of order.
    pub fn parameter(&mut self, parameter: Parameter) -> Result<ParameterId, CircuitError> {
        if self.parameter_named(&parameter.name).is_some() {
            return Err(CircuitError::Doubled {
                name: parameter.name,
            });
        }
        let Toleranced { low, nominal, high } = parameter.range;
        let finite = low.is_finite() && nominal.is_finite() && high.is_finite();
        if !(finite && low <= nominal && nominal <= high) {
            return Err(impossible(
                &parameter.name,
                "its limits are not finite numbers in order",
            ));
        }
        self.parameters.push(parameter);
        Ok(ParameterId(self.parameters.len() - 1))
    }

    /// Adds an element.
    ///
    /// # Errors
    /// [`CircuitError::Doubled`] where the name is taken; [`CircuitError::UnknownNode`] for a node of
    /// another network; [`CircuitError::Impossible`] where a resistance, current limit or compliance is
    /// not above zero or a position leaves 0 to 1.
    pub fn add(&mut self, element: Element) -> Result<ElementId, CircuitError> {
        if self.element_named(&element.name).is_some() {
            return Err(CircuitError::Doubled { name: element.name });
        }
        self.check(&element)?;
        self.elements.push(element);
        Ok(ElementId(self.elements.len() - 1))
    }

    /// Adds an input of the module; gives its number.
    pub fn input(&mut self, input: Input) -> usize {
        self.inputs.push(input);
        self.inputs.len() - 1
    }

    /// All nodes by [`NodeId`].
    pub fn nodes(&self) -> &[String] {
        &self.nodes
    }

    /// All parameters by [`ParameterId`].
    pub fn parameters(&self) -> &[Parameter] {
        &self.parameters
    }

    /// All elements by [`ElementId`], also those a fault took out (see [`Network::present`]).
    pub fn elements(&self) -> &[Element] {
        &self.elements
    }

    /// All inputs by number.
    pub fn inputs(&self) -> &[Input] {
        &self.inputs
    }

    /// False for an element that a fault took out.
    pub fn present(&self, element: ElementId) -> bool {
        !self.removed.contains(&element)
    }

    /// The element of this name.
    pub fn element_named(&self, name: &str) -> Option<ElementId> {
        let place = self.elements.iter().position(|e| e.name == name)?;
        Some(ElementId(place))
    }

    /// The parameter of this name.
    pub fn parameter_named(&self, name: &str) -> Option<ParameterId> {
        let place = self.parameters.iter().position(|p| p.name == name)?;
        Some(ParameterId(place))
    }

    /// A parameter's own limits.
    pub fn range(&self, parameter: &ParameterId) -> Toleranced {
        self.parameters[parameter.0].range
    }

    /// A parameter's limits in a setting: its own or those the setting puts in their place, moved by a
    /// fault where there is one.
    pub fn limits(&self, parameter: ParameterId, setting: &Setting) -> Toleranced {
        self.all_limits(setting)[parameter.0]
    }

    /// As [`Network::limits`], of all parameters.
    pub(super) fn all_limits(&self, setting: &Setting) -> Vec<Toleranced> {
        let own = self.parameters.iter().map(|parameter| parameter.range);
        let mut all: Vec<Toleranced> = own.collect();
        for (id, instead) in &setting.overrides {
            if let Some(range) = all.get_mut(id.0) {
                *range = *instead;
            }
        }
        for (id, drift) in &self.drifts {
            all[id.0] = drift.of(all[id.0]);
        }
        all
    }

    /// Takes an element out; its id keeps its place.
    pub(super) fn remove(&mut self, element: ElementId) {
        self.removed.push(element);
    }

    /// Puts another kind in an element's place; name, site and id stay.
    pub(super) fn replace(
        &mut self,
        element: ElementId,
        kind: ElementKind,
    ) -> Result<(), CircuitError> {
        let changed = Element {
            kind,
            ..self.elements[element.0].clone()
        };
        self.check(&changed)?;
        self.elements[element.0] = changed;
        Ok(())
    }

    /// Puts another input in an input's place.
    pub(super) fn replace_input(&mut self, number: usize, input: Input) {
        self.inputs[number] = input;
    }

    /// Moves a parameter out of its limits in every setting.
    pub(super) fn drift(&mut self, parameter: ParameterId, drift: Drift) {
        self.drifts.push((parameter, drift));
    }

    fn check(&self, element: &Element) -> Result<(), CircuitError> {
        for node in element.kind.nodes() {
            if self.nodes.len() <= node.0 {
                return Err(CircuitError::UnknownNode {
                    name: format!("node {} of `{}`", node.0, element.name),
                    nearest: None,
                });
            }
        }
        for (parameter, demand) in element.kind.demands() {
            let Some(found) = self.parameters.get(parameter.0) else {
                return Err(impossible(&element.name, "a parameter of it is unknown"));
            };
            let Toleranced { low, high, .. } = found.range;
            match demand {
                Demand::Any => {}
                Demand::Positive if 0.0 < low => {}
                Demand::Positive => {
                    let why = format!("`{}` must be above zero", found.name);
                    return Err(impossible(&element.name, &why));
                }
                Demand::Share if 0.0 <= low && high <= 1.0 => {}
                Demand::Share => {
                    let why = format!("`{}` must lie between 0 and 1", found.name);
                    return Err(impossible(&element.name, &why));
                }
            }
        }
        Ok(())
    }
}

/// How far a value above zero has left its limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Drift {
    /// From the upper limit to this many times it, and at least up to this.
    Above(f64, f64),
    /// From the lower limit down to this part of it, and at least down to this.
    Below(f64, f64),
}

impl Drift {
    fn of(self, healthy: Toleranced) -> Toleranced {
        match self {
            Self::Above(times, reach) => Toleranced {
                low: healthy.high,
                nominal: healthy.high * maths::sqrt(times),
                high: reach.max(healthy.high * times),
            },
            Self::Below(part, reach) => Toleranced {
                low: reach.min(healthy.low * part),
                nominal: healthy.low * maths::sqrt(part),
                high: healthy.low,
            },
        }
    }
}

fn impossible(name: &str, why: &str) -> CircuitError {
    CircuitError::Impossible {
        name: name.to_owned(),
        why: why.to_owned(),
    }
}
