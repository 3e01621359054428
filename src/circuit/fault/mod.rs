//! Faults: each is one change to a healthy network, named by what is wrong and by the repair it means.
//!
//! In: a [`Network`] and the words a card has for its pins. Out: [`Fault`]s, and the network with one of them.
//! Faults follow from what a network is made of (`sites`); nobody lists them. Never: readings, cards.

mod change;
mod crossed;
mod insides;
mod joints;
mod sites;
mod touching;
mod words;

pub(crate) use super::network::Drift;
use super::solve::Response;
use super::{ElementId, Felt, Network, NodeId, ParameterId, Site};
use crate::quantity::{Interval, Toleranced};
use std::collections::BTreeMap;

pub use super::solve::series_response;
pub use sites::faults;

/// The words of the card that faults are told in.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FaultScope {
    /// Role to pin label: `signal` is on pin `2`.
    pub labels: BTreeMap<String, String>,
    /// What the part is called: `sensor`; empty for `part`.
    pub part: String,
}

/// What kind of change a fault is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum FaultKind {
    /// Interrupted.
    Open,
    /// More series resistance than healthy.
    High,
    /// More series resistance than any bad joint has, and yet not interrupted.
    NearlyOpen,
    /// Touches the body or a ground wire.
    ToGround,
    /// Touches a reference line.
    ToReference,
    /// Touches battery plus.
    ToBattery,
    /// Touches another wire of the connector that carries a signal.
    ToWire,
    /// Two wires in each other's place at the connector.
    Crossed,
    /// Its terminals touch inside.
    Shorted,
    /// A value outside its tolerance.
    OutOfRange,
    /// A slider or a switch does not move.
    Stuck,
    /// Gives or shows nothing, or always the same.
    Dead,
    /// Something elsewhere on the line loads it.
    PulledDown,
}

/// One change to a healthy network. It belongs to the network it was generated from, and to networks with
/// the same elements in the same places.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// What is wrong, unique among the faults of a network: `signal wire open`.
    pub name: String,
    /// The same as a clause with the pin: `the signal wire (pin 2) is open`.
    pub says: String,
    /// What to do; faults with the same repair have the same text.
    pub repair: String,
    /// What it concerns: `signal wire`, `signal contact`, `module input signal`.
    pub subject: String,
    /// Where it sits.
    pub site: Site,
    /// What kind of change it is.
    pub kind: FaultKind,
    /// How often it is the cause, against the others; ranks, never eliminates.
    pub prior: f64,
    /// Ohms, where the fault is a resistance that can be anything in a range.
    pub range: Option<Interval>,
    /// What it changes, one step after the other.
    pub(crate) changes: Vec<Change>,
}

/// One step of turning a healthy network into a faulty one.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Change {
    /// The element is gone.
    Open(ElementId),
    /// The resistor or switch has these ohms, or the fault's range, in place of its own resistance.
    Series(ElementId, Option<Toleranced>),
    /// A resistance between two nodes: these ohms, or the fault's range.
    Load(NodeId, NodeId, Option<Toleranced>),
    /// A node is held from going above another.
    Held(NodeId, NodeId),
    /// The end of an element at this node hangs free.
    Detach(ElementId, NodeId),
    /// Two resistors have swapped the ends they have at these nodes.
    Swap([ElementId; 2], [NodeId; 2]),
    /// A parameter has left its limits.
    Drift(ParameterId, Drift),
    /// Every slider at this position stays anywhere on its track.
    StuckSlider(ParameterId),
    /// A switch is closed whatever the setting says.
    StuckClosed(ElementId),
    /// The input of this number shows these volts whatever its pin has.
    DeadInput(usize, Toleranced),
}

impl Fault {
    /// The network with this fault. Elements, parameters and nodes keep their ids, so hook-ups of the healthy
    /// network serve; what does not fit a network that is not the fault's own is left as it is.
    #[must_use]
    pub fn apply(&self, network: &Network) -> Network {
        let mut faulty = network.clone();
        for (number, change) in self.changes.iter().enumerate() {
            // A change that does not fit leaves the network as it was.
            let _unfit = change::make(change, self, number, &mut faulty);
        }
        faulty
    }

    /// False where a hook-up, `felt` from the healthy network, cannot know of this fault: the faulty network then
    /// reads there as the healthy one does. True in doubt.
    pub fn is_felt(&self, network: &Network, felt: &Felt) -> bool {
        let change = |change: &Change| change::is_felt(change, network, felt);
        self.changes.iter().any(change)
    }

    /// The parameter that holds this fault's range in a network it was applied to; none for a fault without
    /// range, or where it did not fit.
    pub fn ranging(&self, faulty: &Network) -> Option<ParameterId> {
        self.range?;
        change::ranging(self, faulty)
    }

    /// The value that is out of its range, if it is such a fault.
    pub fn drifts(&self) -> Option<ParameterId> {
        match self.changes[..] {
            [Change::Drift(parameter, _)] => Some(parameter),
            _ => None,
        }
    }

    /// The same fault with a part of its range, ohm; a fault without range stays as it is.
    #[must_use]
    pub fn narrowed(&self, low: f64, high: f64) -> Self {
        let mut narrowed = self.clone();
        if let Some(range) = &mut narrowed.range
            && 0.0 < low
            && low <= high
            && high.is_finite()
        {
            *range = Interval { low, high };
        }
        narrowed
    }
}

/// The resistance at which a reading passes `y` on its way from `v0` (bridged) to `vinf` (open), in a circuit
/// that looks like `rth` from the two ends of that resistance:
///
/// ```text
/// R* = Rth (v0 - y) / (y - v∞)
/// ```
///
/// None where `y` does not lie between the two. Exact while every part stays on its straight line.
///
/// ```
/// // 5 V through 2.49 kohm into a wire to ground: half of 5 V at 2.49 kohm.
/// let ohms = loomleaf::circuit::fault::threshold(2490.0, 0.0, 5.0, 2.5);
/// assert_eq!(ohms, Some(2490.0));
/// assert_eq!(loomleaf::circuit::fault::threshold(2490.0, 0.0, 5.0, 5.5), None);
/// ```
pub fn threshold(rth: f64, v0: f64, vinf: f64, y: f64) -> Option<f64> {
    let ohms = rth * (v0 - y) / (y - vinf);
    (ohms.is_finite() && 0.0 <= ohms).then_some(ohms)
}

impl Response {
    /// The reading at this resistance, ohm.
    pub fn at(&self, ohms: f64) -> f64 {
        (self.v0 * self.rth + self.vinf * ohms) / (self.rth + ohms)
    }

    /// The resistance at which the reading passes `y`; see [`threshold`].
    pub fn threshold(&self, y: f64) -> Option<f64> {
        threshold(self.rth, self.v0, self.vinf, y)
    }
}
