//! The wiring: a card's circuit as a network, under one answer to each open choice.
//!
//! In: card, family, deck and the choices. Out: a [`Wiring`]. Adds what every pin has without being
//! written: harness wire, contact, module ground, battery. Never solves.

use super::elements;
use crate::calc::conductor;
use crate::card::{Card, Deck, Family, ParameterKind, ParameterValue, WireSpec};
use crate::circuit::{
    CircuitError, Element, ElementId, ElementKind, Network, NodeId, Parameter, ParameterId, Site,
};
use crate::quantity::{Dimension, Interval, Toleranced};
use std::collections::BTreeMap;

/// Answers to a family's choices: parameter name to chosen word.
pub(super) type Choices = BTreeMap<String, String>;

/// Jumper with its clips, ohm (common practice, no source).
pub(super) const JUMPER: Toleranced = Toleranced {
    low: 0.02,
    nominal: 0.1,
    high: 0.3,
};
/// A harness wire whose length and size the card does not give, ohm: some metres of thin cable
/// (common practice, no source).
const WIRE: Toleranced = Toleranced {
    low: 0.01,
    nominal: 0.1,
    high: 0.4,
};
/// A clean contact, ohm (common practice, no source).
const CONTACT: Toleranced = Toleranced {
    low: 0.001,
    nominal: 0.005,
    high: 0.03,
};
/// The module's ground connection, ohm (common practice, no source).
const MODULE_GROUND: Toleranced = Toleranced {
    low: 0.001,
    nominal: 0.005,
    high: 0.02,
};
/// What the module itself draws from the battery, as a resistance, ohm (common practice, no source).
const MODULE_DRAW: Toleranced = Toleranced {
    low: 15.0,
    nominal: 30.0,
    high: 60.0,
};
/// Battery with its cables, ohm (common practice, no source).
const BATTERY: Toleranced = Toleranced {
    low: 0.005,
    nominal: 0.02,
    high: 0.05,
};
/// Fused feed from the battery to a supply pin, ohm (common practice, no source).
const FEED: Toleranced = Toleranced {
    low: 0.02,
    nominal: 0.1,
    high: 0.3,
};
/// Stranded cable against solid copper of the same area: 1.05 to 1.16 (ISO 6722 and IEC 60228
/// tables), and -20 to 80 °C of temperature.
const STRANDED: Interval = Interval {
    low: 0.88,
    high: 1.43,
};

/// Parameters by which a family says what each wire and each contact is like, where its circuit carries
/// more current than thin cable could.
pub(super) const EACH_WIRE: &str = "each_wire";
pub(super) const EACH_CONTACT: &str = "each_contact";

/// Names of nodes that every network has.
pub(super) const GOOD_GROUND: &str = "good ground";
pub(super) const BATTERY_NODE: &str = "battery";
pub(super) const MODULE_NODE: &str = "module";

/// A card's circuit as a network.
pub(super) struct Wiring {
    /// The network.
    pub network: Network,
    /// Node names that stand for another: `module.ground` is `module`.
    pub aliases: BTreeMap<String, String>,
    /// Family parameters by name.
    pub parameters: BTreeMap<String, ParameterId>,
    /// Switches of the part by name.
    pub switches: BTreeMap<String, ElementId>,
    /// Parameters worked out from the signal points.
    pub follows: Vec<Followed>,
    /// Answers to the choices.
    pub choices: Choices,
}

/// A parameter that is worked out from the readings of a signal pin.
pub(super) struct Followed {
    /// The parameter.
    pub parameter: ParameterId,
    /// Role of the pin.
    pub role: String,
    /// Bounds it is looked for between.
    pub between: Interval,
    /// What it measures.
    pub dimension: Dimension,
}

impl Followed {
    /// A value with its limits, held inside the bounds.
    pub(super) fn inside(&self, range: Toleranced) -> Toleranced {
        let clamp = |x: f64| x.clamp(self.between.low, self.between.high);
        Toleranced {
            low: clamp(range.low),
            nominal: clamp(range.nominal),
            high: clamp(range.high),
        }
    }
}

impl Wiring {
    /// The circuit of this card under these choices.
    pub(super) fn new(
        deck: &Deck,
        card: &Card,
        family: &Family,
        choices: &Choices,
    ) -> Result<Wiring, CircuitError> {
        let mut wiring = Wiring {
            network: Network::new(),
            aliases: BTreeMap::new(),
            parameters: BTreeMap::new(),
            switches: BTreeMap::new(),
            follows: Vec::new(),
            choices: choices.clone(),
        };
        wiring.aliases(family);
        wiring.battery(deck, card)?;
        wiring.parameters(card, family)?;
        for spec in &family.module {
            elements::add(&mut wiring, card, family, spec, elements::Side::Module)?;
        }
        for spec in &family.part {
            elements::add(&mut wiring, card, family, spec, elements::Side::Part)?;
        }
        for role in &family.roles {
            let spec = card.wires.iter().find(|wire| wire.role.value == *role);
            let wire = spec
                .and_then(wire_ohms)
                .or_else(|| given(card, family, EACH_WIRE));
            let contact = given(card, family, EACH_CONTACT);
            wiring.pin(role, wire.unwrap_or(WIRE), contact.unwrap_or(CONTACT))?;
        }
        if family.roles.iter().any(|role| role == "supply")
            && !family
                .module
                .iter()
                .any(|spec| elements::names(spec, "supply"))
        {
            wiring.between("feed", Site::Supply, BATTERY_NODE, "module.supply", FEED)?;
        }
        Ok(wiring)
    }

    /// The node of a name, made where it is new; aliases are followed.
    pub(super) fn node(&mut self, name: &str) -> NodeId {
        let name = self
            .aliases
            .get(name)
            .map_or(name, String::as_str)
            .to_owned();
        self.network.node(&name)
    }

    /// A new parameter of this name.
    pub(super) fn parameter(
        &mut self,
        name: &str,
        range: Toleranced,
        dimension: Dimension,
    ) -> Result<ParameterId, CircuitError> {
        self.network.parameter(Parameter {
            name: name.to_owned(),
            range,
            dimension,
        })
    }

    /// Two regulators for one voltage are two parts: each lies somewhere within the tolerance.
    pub(super) fn of_its_own(
        &mut self,
        volts: ParameterId,
        name: &str,
    ) -> Result<ParameterId, CircuitError> {
        let mut kinds = self.network.elements().iter().map(|own| &own.kind);
        let used = kinds
            .any(|kind| matches!(kind, ElementKind::Regulator { volts: own, .. } if *own == volts));
        if !used {
            return Ok(volts);
        }
        let range = self.network.range(&volts);
        self.parameter(&format!("{name} volts"), range, Dimension::Voltage)
    }

    /// What a regulator holds a node at, nominally: full scale of a converter that measures against it.
    pub(super) fn volts_of(&self, node: NodeId) -> Option<f64> {
        let kinds = self.network.elements().iter().map(|own| &own.kind);
        let mut held = kinds.filter_map(|kind| match kind {
            ElementKind::Regulator { out, volts, .. } if *out == node => Some(volts),
            _ => None,
        });
        Some(self.network.range(held.next()?).nominal)
    }

    /// A resistance of its own between two named nodes.
    fn between(
        &mut self,
        name: &str,
        site: Site,
        a: &str,
        b: &str,
        range: Toleranced,
    ) -> Result<(), CircuitError> {
        let ohms = self.parameter(name, range, Dimension::Resistance)?;
        let (a, b) = (self.node(a), self.node(b));
        self.network.add(Element {
            name: name.to_owned(),
            site,
            kind: ElementKind::Resistor { a, b, ohms },
        })?;
        Ok(())
    }

    /// `module.ROLE` of a tied role is the module's common; of a regulator's pin, the regulator's node.
    fn aliases(&mut self, family: &Family) {
        self.aliases
            .insert("module.ground".into(), MODULE_NODE.into());
        for spec in &family.module {
            match spec.kind.value.as_str() {
                "tied" => {
                    if let Some(role) = elements::word(&spec.main.value) {
                        self.aliases
                            .insert(format!("module.{role}"), MODULE_NODE.into());
                    }
                }
                "regulator" => {
                    let feeds = spec
                        .fields
                        .get("feeds")
                        .and_then(|term| elements::word(&term.value));
                    if let (Some(node), Some(role)) = (elements::word(&spec.main.value), feeds) {
                        self.aliases
                            .insert(format!("module.{role}"), format!("module.{node}"));
                    }
                }
                _ => {}
            }
        }
    }

    fn battery(&mut self, deck: &Deck, card: &Card) -> Result<(), CircuitError> {
        let range = match card.parameters.get("battery").map(|given| &given.value) {
            Some(ParameterValue::Value(range)) => *range,
            _ => deck.battery,
        };
        let volts = self.parameter("battery", range, Dimension::Voltage)?;
        let series = self.parameter("battery cables", BATTERY, Dimension::Resistance)?;
        let (plus, minus) = (self.node(BATTERY_NODE), self.network.ground());
        let kind = ElementKind::Source {
            plus,
            minus,
            volts,
            series,
        };
        self.network.add(Element {
            name: "battery".into(),
            site: Site::Supply,
            kind,
        })?;
        self.between(
            "module draw",
            Site::Supply,
            BATTERY_NODE,
            MODULE_NODE,
            MODULE_DRAW,
        )?;
        self.between(
            "module ground",
            Site::ModuleGround,
            MODULE_NODE,
            GOOD_GROUND,
            MODULE_GROUND,
        )
    }

    /// Values and followed parameters of the family; choices and limits are no parameters of a network.
    fn parameters(&mut self, card: &Card, family: &Family) -> Result<(), CircuitError> {
        for spec in &family.parameters {
            let name = &spec.name.value;
            match &spec.kind {
                ParameterKind::Value { dimension, default } => {
                    let range = match card.parameters.get(name).map(|given| &given.value) {
                        Some(ParameterValue::Value(range)) => *range,
                        _ => *default,
                    };
                    let id = self.parameter(name, range, *dimension)?;
                    self.parameters.insert(name.clone(), id);
                }
                ParameterKind::FollowsSignal {
                    role,
                    dimension,
                    between,
                } => {
                    let id = self.parameter(name, middle(*between), *dimension)?;
                    self.parameters.insert(name.clone(), id);
                    self.follows.push(Followed {
                        parameter: id,
                        role: role.clone(),
                        between: *between,
                        dimension: *dimension,
                    });
                }
                ParameterKind::Choice { .. } | ParameterKind::Limits { .. } => {}
            }
        }
        Ok(())
    }

    /// What every pin has: its wire and its contact.
    fn pin(
        &mut self,
        role: &str,
        wire: Toleranced,
        contact: Toleranced,
    ) -> Result<(), CircuitError> {
        self.between(
            &format!("{role} wire"),
            Site::Wire(role.into()),
            &format!("module.{role}"),
            role,
            wire,
        )?;
        let (name, part) = (format!("{role} contact"), format!("part.{role}"));
        self.between(&name, Site::Contact(role.into()), role, &part, contact)
    }
}

/// A resistance by which a family says what its wires or contacts are like, the card's value first.
pub(super) fn given(card: &Card, family: &Family, name: &str) -> Option<Toleranced> {
    if let Some(ParameterValue::Value(range)) = card.parameters.get(name).map(|given| &given.value)
    {
        return Some(*range);
    }
    let spec = family
        .parameters
        .iter()
        .find(|spec| spec.name.value == name)?;
    match &spec.kind {
        ParameterKind::Value {
            dimension: Dimension::Resistance,
            default,
        } => Some(*default),
        _ => None,
    }
}

/// A range's own limits with a middle between them.
fn middle(range: Interval) -> Toleranced {
    Toleranced {
        low: range.low,
        nominal: (range.low + range.high) / 2.0,
        high: range.high,
    }
}

/// Resistance of a wire whose length and size are known.
pub(super) fn wire_ohms(spec: &WireSpec) -> Option<Toleranced> {
    let solid = conductor::copper(spec.length?, spec.area?, 20.0);
    let nominal = solid * 1.08;
    Some(Toleranced {
        low: solid * STRANDED.low,
        nominal,
        high: solid * STRANDED.high,
    })
}
