//! Elements as written to elements of the network.
//!
//! In: one [`ElementSpec`] of a family. Out: elements and parameters added to a [`Wiring`].
//! Field names and kinds are checked where the family is read; a field that is missing here is a
//! family that never passed and answers with [`CircuitError::UnknownNode`] naming it.

use super::site::site;
use super::values;
use super::wiring::{MODULE_NODE, Wiring};
use crate::card::{Card, ElementSpec, Family, Term};
use crate::circuit::{CircuitError, Element, ElementKind, Input, NodeId, ParameterId, Powered};
use crate::quantity::{Dimension, Interval, Toleranced};

/// In which half of the circuit an element stands.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    Module,
    Part,
}

/// A contact inside an element whose own resistance the family does not give, ohm.
const CLOSED: Toleranced = Toleranced {
    low: 0.01,
    nominal: 0.05,
    high: 0.2,
};

/// Adds one element of a family.
pub(super) fn add(
    wiring: &mut Wiring,
    card: &Card,
    family: &Family,
    spec: &ElementSpec,
    side: Side,
) -> Result<(), CircuitError> {
    let mut place = Placing {
        wiring,
        card,
        family,
        spec,
        side,
    };
    match spec.kind.value.as_str() {
        "resistor" => place.resistor(),
        "regulator" => place.regulator(),
        "source" => place.source(),
        "sink" => place.sink(),
        "diode" => place.diode(),
        "switch" => place.switch(),
        "potentiometer" => place.potentiometer(),
        "input" => place.input(),
        _ => Ok(()),
    }
}

/// The plain word of a term.
pub(super) fn word(term: &Term) -> Option<&str> {
    match term {
        Term::Word(word) => Some(word),
        _ => None,
    }
}

/// Whether an element names this node.
pub(super) fn names(spec: &ElementSpec, node: &str) -> bool {
    std::iter::once(&spec.main)
        .chain(spec.fields.values())
        .any(|term| match &term.value {
            Term::Word(word) => word == node,
            Term::Words(words) => words.iter().any(|word| word == node),
            Term::Choice(by) => by.values().any(|word| word == node),
            Term::Parameter(_) | Term::Value(..) => false,
        })
}

/// One element on its way into the network.
struct Placing<'a> {
    wiring: &'a mut Wiring,
    card: &'a Card,
    family: &'a Family,
    spec: &'a ElementSpec,
    side: Side,
}

impl Placing<'_> {
    fn resistor(&mut self) -> Result<(), CircuitError> {
        let name = self.name();
        let ohms = self.value_of(&self.spec.main.value, &name, Dimension::Resistance)?;
        let (a, b) = if self.spec.fields.contains_key("between") {
            self.pair("between")?
        } else {
            (self.node_in("from")?, self.node_in("to")?)
        };
        self.put(name, ElementKind::Resistor { a, b, ohms })
    }

    fn regulator(&mut self) -> Result<(), CircuitError> {
        let name = self.main_word()?;
        let out = self.node(&name);
        let minus = self.wiring.node(MODULE_NODE);
        let volts = self.field("volts", &name, Dimension::Voltage)?;
        let volts = self.wiring.of_its_own(volts, &name)?;
        let series = self.field("series", &name, Dimension::Resistance)?;
        let limit = self.field("limit", &name, Dimension::Current)?;
        self.put(
            name,
            ElementKind::Regulator {
                out,
                minus,
                volts,
                series,
                limit,
            },
        )
    }

    fn source(&mut self) -> Result<(), CircuitError> {
        let name = self.main_word()?;
        let (plus, minus) = (self.node_in("plus")?, self.node_in("minus")?);
        let volts = self.field("volts", &name, Dimension::Voltage)?;
        let series = self.field("series", &name, Dimension::Resistance)?;
        self.put(
            name,
            ElementKind::Source {
                plus,
                minus,
                volts,
                series,
            },
        )
    }

    fn sink(&mut self) -> Result<(), CircuitError> {
        let name = self.name();
        let amps = self.value_of(&self.spec.main.value, &name, Dimension::Current)?;
        let (from, to) = (self.node_in("from")?, self.node_in("to")?);
        let compliance = self.field("compliance", &name, Dimension::Voltage)?;
        self.put(
            name,
            ElementKind::Sink {
                from,
                to,
                amps,
                compliance,
            },
        )
    }

    fn diode(&mut self) -> Result<(), CircuitError> {
        let name = self.main_word()?;
        let (anode, cathode) = (self.node_in("anode")?, self.node_in("cathode")?);
        let forward = self.field("forward", &name, Dimension::Voltage)?;
        let series = self.field("series", &name, Dimension::Resistance)?;
        self.put(
            name,
            ElementKind::Diode {
                anode,
                cathode,
                forward,
                series,
            },
        )
    }

    fn switch(&mut self) -> Result<(), CircuitError> {
        let name = self.main_word()?;
        let (a, b) = self.pair("between")?;
        let ohms = if self.spec.fields.contains_key("closed") {
            self.field("closed", &name, Dimension::Resistance)?
        } else {
            self.wiring
                .parameter(&format!("{name} closed"), CLOSED, Dimension::Resistance)?
        };
        let powered = if self.spec.fields.contains_key("powered") {
            let (plus, minus) = self.pair("powered")?;
            Some(Powered {
                plus,
                minus,
                volts: self.field("needs", &name, Dimension::Voltage)?,
            })
        } else {
            None
        };
        let kind = ElementKind::Switch {
            a,
            b,
            ohms,
            powered,
        };
        let id = self.wiring.network.add(Element {
            name: name.clone(),
            site: site(&self.wiring.network, self.side, &kind),
            kind,
        })?;
        self.wiring.switches.insert(name, id);
        Ok(())
    }

    fn potentiometer(&mut self) -> Result<(), CircuitError> {
        let name = self.name();
        let track = self.value_of(&self.spec.main.value, &name, Dimension::Resistance)?;
        let (high, low) = self.pair("ends")?;
        let slider = self.node_in("slider")?;
        let position = self.field("at", &name, Dimension::Ratio)?;
        self.put(
            name,
            ElementKind::Potentiometer {
                low,
                high,
                slider,
                track,
                position,
            },
        )
    }

    /// A converter input: its own node behind a series resistor, so that it draws no current.
    fn input(&mut self) -> Result<(), CircuitError> {
        let role = self.main_word()?;
        let name = format!("{role} input");
        let pin = self.node(&role);
        let node = self.wiring.node(&format!("module.{role} input"));
        let ohms = self.field("series", &name, Dimension::Resistance)?;
        let against = self.spec.fields.get("against");
        let against = against.and_then(|term| word(&term.value));
        let against = against.map(|word| self.node(word));
        let fed = against.and_then(|node| self.wiring.volts_of(node));
        let full = self.number("full").or(fed).unwrap_or(5.0);
        let valid = self.limits("valid");
        let minus = self.wiring.node(MODULE_NODE);
        self.put(
            name,
            ElementKind::Resistor {
                a: pin,
                b: node,
                ohms,
            },
        )?;
        self.wiring.network.input(Input {
            role,
            node,
            minus,
            against,
            full,
            valid,
        });
        Ok(())
    }

    fn put(&mut self, name: String, kind: ElementKind) -> Result<(), CircuitError> {
        let element = Element {
            name,
            site: site(&self.wiring.network, self.side, &kind),
            kind,
        };
        self.wiring.network.add(element).map(|_| ())
    }

    /// The element's name: `name`, else the parameter's name, else its kind.
    fn name(&self) -> String {
        let given = self
            .spec
            .fields
            .get("name")
            .and_then(|term| word(&term.value));
        match (given, &self.spec.main.value) {
            (Some(name), _) => name.to_owned(),
            (None, Term::Parameter(name)) => name.clone(),
            (None, _) => format!(
                "{} line {}",
                self.spec.kind.value, self.spec.kind.place.line
            ),
        }
    }

    fn main_word(&self) -> Result<String, CircuitError> {
        word(&self.spec.main.value)
            .map(str::to_owned)
            .ok_or_else(|| self.missing(&self.spec.kind.value))
    }

    fn missing(&self, field: &str) -> CircuitError {
        CircuitError::UnknownNode {
            name: format!("{} of {}", field, self.name()),
            nearest: None,
        }
    }

    /// A node word on this side: a role is `module.ROLE` or `part.ROLE`, `module` and `battery` are
    /// themselves, any other word a private node of this side.
    fn node(&mut self, name: &str) -> NodeId {
        let full = match (self.side, name) {
            (Side::Module, "module" | "battery" | "good ground") | (Side::Part, "good ground") => {
                name.to_owned()
            }
            (Side::Module, _) => format!("module.{name}"),
            (Side::Part, _) => format!("part.{name}"),
        };
        self.wiring.node(&full)
    }

    fn node_in(&mut self, field: &str) -> Result<NodeId, CircuitError> {
        let term = self.spec.fields.get(field).map(|term| &term.value);
        let name = match term {
            Some(Term::Word(name)) => name.clone(),
            Some(Term::Choice(by)) => {
                let chosen = self
                    .spec
                    .fields
                    .get("by")
                    .and_then(|term| word(&term.value));
                let answer = chosen.and_then(|parameter| self.wiring.choices.get(parameter));
                answer
                    .and_then(|answer| by.get(answer))
                    .cloned()
                    .ok_or_else(|| self.missing(field))?
            }
            _ => return Err(self.missing(field)),
        };
        Ok(self.node(&name))
    }

    fn pair(&mut self, field: &str) -> Result<(NodeId, NodeId), CircuitError> {
        match self.spec.fields.get(field).map(|term| &term.value) {
            Some(Term::Words(words)) if words.len() == 2 => {
                let (first, second) = (words[0].clone(), words[1].clone());
                Ok((self.node(&first), self.node(&second)))
            }
            _ => Err(self.missing(field)),
        }
    }

    fn field(
        &mut self,
        field: &str,
        element: &str,
        dimension: Dimension,
    ) -> Result<ParameterId, CircuitError> {
        let term = self
            .spec
            .fields
            .get(field)
            .ok_or_else(|| self.missing(field))?;
        self.value_of(&term.value, &format!("{element} {field}"), dimension)
    }

    /// The parameter of a term: the family's own for `$name`, a new one for a value.
    fn value_of(
        &mut self,
        term: &Term,
        name: &str,
        dimension: Dimension,
    ) -> Result<ParameterId, CircuitError> {
        match term {
            Term::Parameter(parameter) => self
                .wiring
                .parameters
                .get(parameter)
                .copied()
                .ok_or_else(|| self.missing(parameter)),
            Term::Value(range, _) => self.wiring.parameter(name, *range, dimension),
            _ => Err(self.missing(name)),
        }
    }

    fn number(&self, field: &str) -> Option<f64> {
        match self.spec.fields.get(field).map(|term| &term.value) {
            Some(Term::Value(range, _)) => Some(range.nominal),
            _ => None,
        }
    }

    fn limits(&self, field: &str) -> Option<Interval> {
        match self.spec.fields.get(field).map(|term| &term.value)? {
            Term::Parameter(name) => values::limits(self.card, self.family, name),
            Term::Value(range, _) => Some(Interval {
                low: range.low,
                high: range.high,
            }),
            _ => None,
        }
    }
}
