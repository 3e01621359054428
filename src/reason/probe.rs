//! A probe: one test in one state of the part, hooked up; and what technique it is.
//!
//! In: what the card or family says of a test. Out: the same, ready for reasoning. Never: solves.

use crate::circuit::{HookUp, Network, NodeId, Observe};
use crate::quantity::Interval;

/// One reading that can be taken: a test in one state of the part.
#[derive(Clone, Debug, PartialEq)]
pub struct Probe {
    /// Which test.
    pub test: String,
    /// State of the part, empty where it does not matter.
    pub state: String,
    /// How it is hooked up.
    pub hookup: HookUp,
    /// Minutes it takes.
    pub minutes: f64,
    /// What the reading can prove.
    pub kind: ProbeKind,
    /// What kind of test it is in the trade's words.
    pub technique: Technique,
    /// Only done after another test read so.
    pub when: Option<When>,
}

/// What a reading can prove.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ProbeKind {
    /// A meter reads the circuit itself.
    Meter,
    /// A scan value that follows the pin.
    Raw,
    /// A scan value that is computed or substituted: it says something only while the pin is inside
    /// `valid` volts, and nothing at all where that is unknown.
    Derived {
        /// Volts at the input between which it follows.
        valid: Option<Interval>,
    },
}

/// A kind of test.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Technique {
    /// Volts at the unplugged connector with nothing but the meter on it.
    VoltsUnplugged,
    /// Volts at the plugged connector, probed from the wire side.
    VoltsBackProbed,
    /// Volts while a load draws current.
    VoltsLoaded,
    /// The signal joined to a rail, the scan value watched.
    ForceSignal,
    /// The signal given a value inside its range through a resistor, the scan value watched.
    ForceInRange,
    /// The scan value read as it is.
    ScanValue,
    /// Ohms of the part at its own pins.
    MeasurePart,
    /// Ohms of the harness.
    MeasureHarness,
    /// Ohms from a wire to all that it must not touch.
    MeasureInsulation,
    /// Current through the meter.
    MeasureCurrent,
}

/// The condition for a test that is only done after another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct When {
    /// The other test.
    pub test: String,
    /// How it must have read.
    pub is: Condition,
}

/// How a reading lies against the healthy band.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Condition {
    /// Below it.
    Low,
    /// Above it.
    High,
    /// Outside it.
    Off,
    /// Inside it.
    Good,
}

/// A link of at least this many ohms is a load or a resistor, below it is a jumper.
const JUMPER_BELOW: f64 = 50.0;

impl Technique {
    /// What kind of test a hook-up is.
    pub fn of(network: &Network, hookup: &HookUp) -> Self {
        let of_part = |node: NodeId| {
            network
                .nodes()
                .get(node.0)
                .is_some_and(|name| name.starts_with("part."))
        };
        let through = hookup.links.iter().map(|link| link.ohms.nominal);
        let load = through.fold(None, |most: Option<f64>, ohms| {
            Some(most.map_or(ohms, |most| most.max(ohms)))
        });
        match (&hookup.observe, load) {
            (Observe::Ohms { red, black }, _) if of_part(*red) && of_part(*black) => {
                Self::MeasurePart
            }
            (Observe::Ohms { .. }, _) => Self::MeasureHarness,
            (Observe::Amps { .. }, _) => Self::MeasureCurrent,
            (Observe::Scan { .. }, None) => Self::ScanValue,
            (Observe::Scan { .. }, Some(ohms)) if ohms < JUMPER_BELOW => Self::ForceSignal,
            (Observe::Scan { .. }, Some(_)) => Self::ForceInRange,
            (Observe::Volts { .. }, Some(ohms)) if ohms >= JUMPER_BELOW => Self::VoltsLoaded,
            (Observe::Volts { .. }, _) if hookup.mated => Self::VoltsBackProbed,
            (Observe::Volts { .. }, _) => Self::VoltsUnplugged,
        }
    }
}
