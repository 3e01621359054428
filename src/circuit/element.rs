//! What a network is made of: parameters, sites, elements, inputs.
//!
//! In: nothing. Out: plain values that [`Network::add`](super::Network::add) checks. Never: solving.

use crate::quantity::{Dimension, Interval, Toleranced};

/// A node's place in [`Network::nodes`](super::Network::nodes).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct NodeId(pub usize);

/// A parameter's place in [`Network::parameters`](super::Network::parameters).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ParameterId(pub usize);

/// An element's place in [`Network::elements`](super::Network::elements).
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
        /// One end.
        a: NodeId,
        /// The other.
        b: NodeId,
        /// Resistance.
        ohms: ParameterId,
    },
    /// A voltage source that both sources and sinks, behind a series resistance (a battery).
    Source {
        /// Positive terminal.
        plus: NodeId,
        /// Negative terminal.
        minus: NodeId,
        /// Volts without load.
        volts: ParameterId,
        /// Inner resistance.
        series: ParameterId,
    },
    /// A regulator: only sources and limits its current; `volts` is above `minus`. Lifted above its volts from
    /// outside it takes no more than [`BLEED`].
    Regulator {
        /// Output.
        out: NodeId,
        /// What `volts` is counted from.
        minus: NodeId,
        /// Volts without load.
        volts: ParameterId,
        /// Inner resistance.
        series: ParameterId,
        /// Largest current, ampere.
        limit: ParameterId,
    },
    /// A current sink from `from` to `to`; below `compliance` volts across it, a resistor of `compliance / amps`.
    Sink {
        /// Where the current goes in.
        from: NodeId,
        /// Where it comes out.
        to: NodeId,
        /// Current, ampere.
        amps: ParameterId,
        /// Least volts across it for the full current.
        compliance: ParameterId,
    },
    /// A diode: blocks below `forward` volts, above it a resistance `series`.
    Diode {
        /// Where the current goes in.
        anode: NodeId,
        /// Where it comes out.
        cathode: NodeId,
        /// Volts from which it conducts.
        forward: ParameterId,
        /// Resistance above that.
        series: ParameterId,
    },
    /// A switch: closed in the settings that name it, a resistance `ohms` then; where `powered`
    /// names a pair of nodes it also needs at least `volts` between them.
    Switch {
        /// One end.
        a: NodeId,
        /// The other.
        b: NodeId,
        /// Resistance when closed.
        ohms: ParameterId,
        /// What it needs to close.
        powered: Option<Powered>,
    },
    /// A sliding resistor: `track` from `low` to `high` end, slider at `position` (0 at `low`, 1 at `high`).
    Potentiometer {
        /// The end where `position` is 0.
        low: NodeId,
        /// The end where `position` is 1.
        high: NodeId,
        /// The slider.
        slider: NodeId,
        /// Resistance from end to end.
        track: ParameterId,
        /// Position of the slider, 0 to 1.
        position: ParameterId,
    },
}

/// What a regulator takes when something lifts its output: its own divider, ampere. Enough to hold its voltage
/// against a meter, nothing beside any fault. Common practice, no source.
pub const BLEED: f64 = 100e-6;

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

/// What an element asks of a parameter.
pub(super) enum Demand {
    Any,
    Positive,
    Share,
}

impl ElementKind {
    /// Every node it touches, also those it only watches.
    pub fn nodes(&self) -> Vec<NodeId> {
        match self {
            Self::Resistor { a, b, .. } => vec![*a, *b],
            Self::Source { plus, minus, .. } => vec![*plus, *minus],
            Self::Regulator { out, minus, .. } => vec![*out, *minus],
            Self::Sink { from, to, .. } => vec![*from, *to],
            Self::Diode { anode, cathode, .. } => vec![*anode, *cathode],
            Self::Switch { a, b, powered, .. } => {
                let watched = powered.iter().flat_map(|p| [p.plus, p.minus]);
                [*a, *b].into_iter().chain(watched).collect()
            }
            Self::Potentiometer {
                low, high, slider, ..
            } => vec![*low, *high, *slider],
        }
    }

    /// The parameters it reads and what it asks of each.
    pub(super) fn demands(&self) -> Vec<(ParameterId, Demand)> {
        use Demand::{Any, Positive, Share};
        match self {
            Self::Resistor { ohms, .. } => vec![(*ohms, Positive)],
            Self::Source { volts, series, .. } => vec![(*volts, Any), (*series, Positive)],
            Self::Regulator {
                volts,
                series,
                limit,
                ..
            } => vec![(*volts, Any), (*series, Positive), (*limit, Positive)],
            Self::Sink {
                amps, compliance, ..
            } => vec![(*amps, Positive), (*compliance, Positive)],
            Self::Diode {
                forward, series, ..
            } => vec![(*forward, Any), (*series, Positive)],
            Self::Switch { ohms, powered, .. } => {
                let mut all = vec![(*ohms, Positive)];
                all.extend(powered.iter().map(|p| (p.volts, Any)));
                all
            }
            Self::Potentiometer {
                track, position, ..
            } => vec![(*track, Positive), (*position, Share)],
        }
    }
}
