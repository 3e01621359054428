//! The hook-up: connector, key, jumpers, meter; what is observed and with which meter.

use super::network::{ElementId, NodeId, ParameterId};
use crate::quantity::{Interval, Toleranced};

/// One hook-up of a network, ready to be solved.
#[derive(Clone, Debug, PartialEq)]
pub struct HookUp {
    /// False removes every element at a `Contact` site.
    pub mated: bool,
    /// False turns off every `Source` and `Regulator` (they become open: a sleeping module).
    pub powered: bool,
    /// Jumpers and loads.
    pub links: Vec<Link>,
    /// What is observed.
    pub observe: Observe,
    /// The state of the part: limits that replace a parameter's own, switches that are closed.
    pub setting: Setting,
    /// The meter.
    pub meter: Meter,
}

/// A jumper or a load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Link {
    /// One end.
    pub a: NodeId,
    /// The other.
    pub b: NodeId,
    /// Its resistance; a jumper is a small one.
    pub ohms: Toleranced,
}

/// What is observed.
#[derive(Clone, Debug, PartialEq)]
pub enum Observe {
    /// Volts between red and black.
    Volts { red: NodeId, black: NodeId },
    /// Ohms between red and black.
    Ohms { red: NodeId, black: NodeId },
    /// Amperes from red to black through the meter.
    Amps { red: NodeId, black: NodeId },
    /// The value of the input of this number.
    Scan { input: usize },
}

/// The state of the part.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Setting {
    /// Parameters whose limits this state narrows or moves.
    pub overrides: Vec<(ParameterId, Toleranced)>,
    /// Switches closed in this state.
    pub closed: Vec<ElementId>,
}

/// A meter: input resistance and accuracy ± (`of_reading` x reading + `counts` x resolution).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Meter {
    /// Input resistance for volts, ohm.
    pub input: f64,
    /// Part of the reading.
    pub of_reading: f64,
    /// Counts of the last digit.
    pub counts: f64,
    /// Largest display (6000): ranges end at `display` counts times a power of ten.
    pub display: f64,
}

/// What an observation gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reading {
    /// A number in the observation's base unit.
    Value(f64),
    /// A lead sits on an island that nothing holds: the meter drifts near zero.
    Floating,
    /// No path for an ohms measurement: the meter shows its overload sign.
    NoPath,
}

/// All readings a circuit can give within its tolerances and the meter's.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Band {
    /// Reading with every parameter at its nominal value, meter ideal.
    pub nominal: Option<Reading>,
    /// Sorted, disjoint.
    pub intervals: Vec<Interval>,
    /// The reading may float.
    pub floating: bool,
    /// The ohmmeter may show no path.
    pub no_path: bool,
}

/// Why a circuit could not be answered for.
#[derive(Clone, Debug, PartialEq)]
pub enum CircuitError {
    /// A name that is no node; the nearest one where there is one.
    UnknownNode {
        name: String,
        nearest: Option<String>,
    },
    /// Ohms were asked for while the circuit is powered.
    OhmsLive,
    /// No state of the piecewise elements agrees with itself.
    NoState,
    /// A name was given twice.
    Doubled { name: String },
}
