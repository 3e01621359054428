//! The hook-up: connector, key, jumpers, meter; what is observed and with which meter.

use super::{ElementId, NodeId, ParameterId};
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
    Volts {
        /// Where the red lead goes.
        red: NodeId,
        /// Where the black lead goes.
        black: NodeId,
    },
    /// Ohms between red and black.
    Ohms {
        /// Where the red lead goes.
        red: NodeId,
        /// Where the black lead goes.
        black: NodeId,
    },
    /// Amperes from red to black through the meter.
    Amps {
        /// Where the red lead goes.
        red: NodeId,
        /// Where the black lead goes.
        black: NodeId,
    },
    /// The value of the input of this number, in volts at the pin.
    Scan {
        /// Its number in the network.
        input: usize,
    },
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
        /// What was asked for.
        name: String,
        /// The nearest node there is.
        nearest: Option<String>,
    },
    /// Ohms were asked for while the circuit is powered.
    OhmsLive,
    /// No state of the piecewise elements agrees with itself.
    NoState,
    /// A name was given twice.
    Doubled {
        /// The name.
        name: String,
    },
    /// A value no part can have, or a thing the network has not got.
    Impossible {
        /// Of which parameter, element or input.
        name: String,
        /// What is wrong with it, as the end of a sentence.
        why: String,
    },
}

impl std::fmt::Display for CircuitError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::UnknownNode {
                name,
                nearest: Some(nearest),
            } => write!(f, "no point is called `{name}`; did you mean `{nearest}`"),
            Self::UnknownNode { name, .. } => write!(f, "no point is called `{name}`"),
            Self::OhmsLive => write!(f, "ohms mean nothing in a powered circuit; key off first"),
            Self::NoState => write!(f, "the circuit finds no steady state"),
            Self::Doubled { name } => write!(f, "the name `{name}` is given twice"),
            Self::Impossible { name, why } => write!(f, "`{name}`: {why}"),
        }
    }
}

impl std::error::Error for CircuitError {}
