//! The network: named nodes, toleranced parameters, elements.
//!
//! Built once per card by `sheet`, never changed by solving. Node names: a role alone (`signal`) is
//! the harness side of the connector, `part.signal` the part's side of the contact, `module.signal`
//! the module's side of the wire; `good ground` is the datum (body, battery minus).

use crate::quantity::{Dimension, Interval, Toleranced};

/// A node's place in [`Network::nodes`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct NodeId(pub usize);

/// A parameter's place in [`Network::parameters`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ParameterId(pub usize);

/// An element's place in [`Network::elements`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ElementId(pub usize);

/// A value that is known only within limits.
#[derive(Clone, Debug, PartialEq)]
pub struct Parameter {
    /// Unique name: `track`, `signal wire`, `battery`.
    pub name: String,
    /// Its limits and nominal, in base units.
    pub range: Toleranced,
    /// What it measures.
    pub dimension: Dimension,
}

/// Where an element sits: decides what unplugging removes and which faults it can have.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Site {
    /// Inside the module.
    Module,
    /// The module's own ground connection to the body.
    ModuleGround,
    /// The harness wire of this role.
    Wire(String),
    /// The mated contact of this role at the part's connector: gone when unplugged.
    Contact(String),
    /// Inside the part.
    Part,
    /// Battery and its feeds.
    Supply,
}

/// An element between nodes.
#[derive(Clone, Debug, PartialEq)]
pub struct Element {
    /// Unique name: `signal wire`, `track`, `vref`.
    pub name: String,
    /// Where it sits.
    pub site: Site,
    /// What it is.
    pub kind: ElementKind,
}

/// The kinds of element. All values are parameters, so that every one can carry a tolerance.
#[derive(Clone, Debug, PartialEq)]
pub enum ElementKind {
    /// A resistance, also a wire, a contact, a load.
    Resistor {
        a: NodeId,
        b: NodeId,
        ohms: ParameterId,
    },
    /// A voltage source that both sources and sinks, behind a series resistance (a battery).
    Source {
        plus: NodeId,
        minus: NodeId,
        volts: ParameterId,
        series: ParameterId,
    },
    /// A regulator: only sources, never sinks, and limits its current; `volts` is above `minus`.
    Regulator {
        out: NodeId,
        minus: NodeId,
        volts: ParameterId,
        series: ParameterId,
        limit: ParameterId,
    },
    /// A current sink from `from` to `to`; below `compliance` volts across it, a resistor of `compliance / amps`.
    Sink {
        from: NodeId,
        to: NodeId,
        amps: ParameterId,
        compliance: ParameterId,
    },
    /// A diode: blocks below `forward` volts, above it a resistance `series`.
    Diode {
        anode: NodeId,
        cathode: NodeId,
        forward: ParameterId,
        series: ParameterId,
    },
    /// A switch: closed in the settings that name it, a resistance `ohms` then; where `powered`
    /// names a pair of nodes it also needs at least `volts` between them.
    Switch {
        a: NodeId,
        b: NodeId,
        ohms: ParameterId,
        powered: Option<Powered>,
    },
    /// A sliding resistor: `track` from `low` to `high` end, slider at `position` (0 at `low`, 1 at `high`).
    Potentiometer {
        low: NodeId,
        high: NodeId,
        slider: NodeId,
        track: ParameterId,
        position: ParameterId,
    },
}

/// What a switch needs to work.
#[derive(Clone, Debug, PartialEq)]
pub struct Powered {
    /// Positive supply node.
    pub plus: NodeId,
    /// Negative supply node.
    pub minus: NodeId,
    /// Least voltage between them.
    pub volts: ParameterId,
}

/// An analogue input of the module: what a scan value follows.
/// Reads `clamp((v(node) - v(minus)) / (v(against) - v(minus)), 0, 1) * full`, where `node` draws no current
/// (its pull and series resistors are elements of their own). Without `against` it is absolute: `v(node) - v(minus)`.
#[derive(Clone, Debug, PartialEq)]
pub struct Input {
    /// The role whose pin it reads.
    pub role: String,
    /// The converter's node, behind its series resistor.
    pub node: NodeId,
    /// The module's common.
    pub minus: NodeId,
    /// The reference it is ratiometric to.
    pub against: Option<NodeId>,
    /// Volts shown at full scale.
    pub full: f64,
    /// Outside these volts the module sets a code.
    pub valid: Option<Interval>,
}

/// A circuit: nodes, parameters, elements, inputs.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Network {
    nodes: Vec<String>,
    parameters: Vec<Parameter>,
    elements: Vec<Element>,
    inputs: Vec<Input>,
}
