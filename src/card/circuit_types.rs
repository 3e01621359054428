//! The shapes of a circuit as written: families, parameters, elements, tests, each with its place.

use super::types::{Curve, Placed, SignalPoint};
use crate::quantity::{Dimension, Interval, Toleranced};
use std::collections::BTreeMap;

/// A kind of circuit: data, not code.
#[derive(Clone, Debug)]
pub struct Family {
    /// Its name in cards.
    pub name: String,
    /// Where it was written (`families/x.yaml`; shipped ones as `shipped/x.yaml`).
    pub file: String,
    /// Title.
    pub title: String,
    /// One sentence.
    pub says: String,
    /// What the model leaves out, one sentence, or empty.
    pub limits: String,
    /// Pin roles it needs.
    pub roles: Vec<String>,
    /// Parameters in the order written.
    pub parameters: Vec<ParameterSpec>,
    /// States of the part that do not come from signal points (a switch: open, closed).
    pub states: Vec<StateSpec>,
    /// Elements in the module.
    pub module: Vec<ElementSpec>,
    /// Elements in the part.
    pub part: Vec<ElementSpec>,
    /// Tests by id, in the order written.
    pub tests: Vec<TestSpec>,
    /// Default order.
    pub order: Vec<Placed<String>>,
    /// Caution ids.
    pub cautions: Vec<String>,
    /// Codes usual for it.
    pub codes: Vec<String>,
    /// Default signal points where a card gives none.
    pub signal: Vec<SignalPoint>,
    /// Default resistance curve where a card gives neither curve nor signal points.
    pub curve: Option<Curve>,
}

/// A parameter of a family.
#[derive(Clone, Debug)]
pub struct ParameterSpec {
    /// Name, used as `$name` in elements.
    pub name: Placed<String>,
    /// What it is, for the reader.
    pub says: String,
    /// What it takes.
    pub kind: ParameterKind,
}

/// What a parameter takes.
#[derive(Clone, Debug)]
pub enum ParameterKind {
    /// A value with tolerance.
    Value {
        /// What it measures.
        dimension: Dimension,
        /// Taken where the card gives none.
        default: Toleranced,
    },
    /// One of several words; `unknown` where the default is not known.
    Choice {
        /// The words it can be.
        choices: Vec<String>,
        /// Taken where the card gives none; `unknown` where both ways are worked out.
        default: String,
    },
    /// An interval, such as the input limits.
    Limits {
        /// What it measures.
        dimension: Dimension,
        /// Taken where the card gives none.
        default: Interval,
    },
    /// Worked out from the signal points by solving the circuit backwards, between these bounds.
    FollowsSignal {
        /// Role of the pin whose readings it is worked out from: `signal`, `signal 2`.
        role: String,
        /// What it measures.
        dimension: Dimension,
        /// Bounds it is looked for between.
        between: Interval,
    },
}

/// A state of the part: which switches are closed.
#[derive(Clone, Debug)]
pub struct StateSpec {
    /// For the reader: `magnet near`.
    pub name: Placed<String>,
    /// Names of switches closed in it.
    pub closes: Vec<Placed<String>>,
}

/// An element as written: a kind word with its main value, then named fields.
/// Example: `{regulator: vref, feeds: reference, volts: $reference, series: 0.5 ohm ± 50 %, limit: 100 mA}`.
#[derive(Clone, Debug)]
pub struct ElementSpec {
    /// `regulator`, `resistor`, ... (the kinds are the table `ELEMENT_KINDS`).
    pub kind: Placed<String>,
    /// The value of the kind word.
    pub main: Placed<Term>,
    /// The other fields by name.
    pub fields: BTreeMap<String, Placed<Term>>,
}

/// A field's value in an element.
#[derive(Clone, Debug, PartialEq)]
pub enum Term {
    /// `$name`.
    Parameter(String),
    /// A quantity with tolerance.
    Value(Toleranced, Dimension),
    /// A plain word: a node, a role, an element's name.
    Word(String),
    /// A list of words.
    Words(Vec<String>),
    /// A choice by a parameter: `{up: vref, down: ground}` with `by: pull`.
    Choice(BTreeMap<String, String>),
}

/// One hook-up and one observation.
#[derive(Clone, Debug)]
pub struct TestSpec {
    /// Its id.
    pub id: Placed<String>,
    /// Title.
    pub title: String,
    /// Connector state.
    pub plug: Plug,
    /// Key state.
    pub key: Key,
    /// Jumpers and loads placed.
    pub links: Vec<LinkSpec>,
    /// What is read.
    pub observes: ObserveSpec,
    /// In which states of the part.
    pub at: AtSpec,
    /// Only after another test read so: `supply is low`.
    pub when: Option<Placed<String>>,
    /// Only where the scan values of its pin are all derived: a raw one needs it not.
    pub for_derived: bool,
    /// Why it is done, one sentence, or empty.
    pub why: String,
    /// Minutes it takes.
    pub minutes: f64,
    /// Caution ids for this test alone.
    pub cautions: Vec<String>,
}

/// Connector state.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Plug {
    /// Unplugged from the part.
    Unplugged,
    /// Plugged in, read by scan tool only.
    Plugged,
    /// Plugged in, probed from the wire side.
    BackProbed,
}

/// Key state.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Key {
    /// Off, module asleep.
    Off,
    /// On, engine off.
    On,
}

/// A jumper (`through` none) or a load between two points.
#[derive(Clone, Debug)]
pub struct LinkSpec {
    /// One end.
    pub from: Placed<String>,
    /// Other end; `other rail` lets the engine choose.
    pub to: Placed<String>,
    /// Resistance of the load.
    pub through: Option<Toleranced>,
}

/// What is read, between which points (red, black).
#[derive(Clone, Debug)]
pub enum ObserveSpec {
    /// Volts DC.
    Volts {
        /// Where the red lead goes.
        red: Placed<String>,
        /// Where the black lead goes.
        black: Placed<String>,
    },
    /// Ohms.
    Ohms {
        /// Where the red lead goes.
        red: Placed<String>,
        /// Where the black lead goes.
        black: Placed<String>,
    },
    /// The scan value of the input on this role.
    Scan {
        /// The role whose input is watched.
        input: Placed<String>,
    },
    /// Amperes from red to black, meter in place of the broken connection.
    Amps {
        /// Where the red lead goes.
        red: Placed<String>,
        /// Where the black lead goes.
        black: Placed<String>,
    },
}

/// In which states of the part a test is done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum AtSpec {
    /// The state does not matter (or the part is unplugged).
    Any,
    /// At each signal point or state.
    Each,
    /// At one named point or state.
    Named(String),
}
