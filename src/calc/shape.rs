//! The shapes of the calculator table: what a calculator asks for, what it answers, how it refuses.
//!
//! In: nothing. Out: types that pages, phone, terminal and tests walk. Never: formulas, text as typed
//! (reading it is `given`'s).

use super::given::Given;
use crate::quantity::{
    Dimension, Interval, Quantity, write_interval, write_number, write_quantity,
};

/// One calculator: a row of the table.
#[derive(Clone, Copy, Debug)]
pub struct Calculator {
    /// As it is called in addresses and in the terminal: `voltage-drop`.
    pub name: &'static str,
    /// For people: `Voltage drop in a power circuit`.
    pub title: &'static str,
    /// One sentence: what it answers.
    pub says: &'static str,
    /// The heading it stands under.
    pub group: &'static str,
    /// What it asks for, in reading order.
    pub inputs: &'static [Input],
    /// The formula in plain text, line by line; symbols are explained where they stand.
    pub formula: &'static str,
    /// Where the formula and its constants come from.
    pub source: &'static str,
    /// For which values it holds, and what it answers at the ends and outside.
    pub range: &'static str,
    /// Values it answers: a worked example, keys as in `inputs`.
    pub example: &'static [(&'static str, &'static str)],
    /// The formula itself. Call [`super::reckon`], which reads and checks before and after.
    pub work: fn(&Given) -> Result<Answer, Refusal>,
}

impl Calculator {
    /// The input of this key.
    pub fn input(&self, key: &str) -> Option<&'static Input> {
        self.inputs.iter().find(|input| input.key == key)
    }
}

/// One value a calculator asks for.
#[derive(Clone, Copy, Debug)]
pub struct Input {
    /// As it is typed in the terminal and stands in addresses: `length`.
    pub key: &'static str,
    /// For people: `Length, one way`.
    pub label: &'static str,
    /// A word of help; may be empty.
    pub says: &'static str,
    /// What may be typed.
    pub kind: Kind,
    /// What is used where nothing is typed; text as it would be typed.
    pub default: Option<&'static str>,
    /// Whether there is no answer without it. Inputs neither needed nor with a default are left out
    /// freely; where one of several is asked for, `says` tells so.
    pub needed: bool,
    /// The unit shown at the field and given to a number typed without one; empty for none.
    pub unit: &'static str,
}

/// What may be typed into an input. Limits are inclusive, in base units.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// One value with its unit.
    Quantity {
        /// What is measured.
        dimension: Dimension,
        /// Least value.
        low: f64,
        /// Largest value.
        high: f64,
    },
    /// One value of any of these dimensions; its unit tells which.
    Any {
        /// In order of preference where a unit fits more than one.
        dimensions: &'static [Dimension],
        /// Least value in the base unit.
        low: f64,
        /// Largest value in the base unit.
        high: f64,
    },
    /// Several values of one dimension, separated by `;`, a new line, or a comma and a space; a value
    /// without unit takes the last one's.
    List {
        /// In order of preference where a unit fits more than one.
        dimensions: &'static [Dimension],
        /// Least value in the base unit.
        low: f64,
        /// Largest value in the base unit.
        high: f64,
        /// Fewest values.
        least: usize,
        /// Most values.
        most: usize,
    },
    /// A conductor's size: `2.5 mm2` or `14 AWG`.
    WireSize,
    /// A plain number.
    Number {
        /// Least value.
        low: f64,
        /// Largest value.
        high: f64,
    },
    /// A whole number.
    Count {
        /// Least value.
        low: u32,
        /// Largest value.
        high: u32,
    },
    /// One of these words.
    Choice(&'static [Alternative]),
    /// A few words of the person's own, at most so many characters.
    Words(usize),
}

/// One word of a [`Kind::Choice`].
#[derive(Clone, Copy, Debug)]
pub struct Alternative {
    /// As it is typed: `body`.
    pub key: &'static str,
    /// For people: `through the body or frame`.
    pub label: &'static str,
}

/// What a calculator answers.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Answer {
    /// The results, the one people came for first.
    pub results: Vec<Outcome>,
    /// The formula with the numbers put in, step by step.
    pub steps: Vec<String>,
    /// Whose limit it is, what is not confirmed, what the answer rests on.
    pub notes: Vec<String>,
    /// The values used, typed or by default, in the order of the inputs; filled in by
    /// [`super::reckon`].
    pub used: Vec<Used>,
}

/// One result.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// As programs read it: `drop`.
    pub key: &'static str,
    /// For people: `Voltage drop`.
    pub label: String,
    /// The result.
    pub value: Value,
}

/// A result's value; numbers are finite and in base units.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A number with its dimension.
    Quantity(Quantity),
    /// From here to there.
    Band(Interval, Dimension),
    /// A number without unit.
    Number(f64),
    /// A judgement in words.
    Words(String),
}

/// One value that went into an answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Used {
    /// The input's key.
    pub key: &'static str,
    /// The input's label.
    pub label: &'static str,
    /// As typed, or the default.
    pub text: String,
    /// Whether it is the default.
    pub by_default: bool,
}

/// Why there is no answer, and one thing to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// The input it is about; none where it is about all of them, or about a key there is not.
    pub key: Option<&'static str>,
    /// Lower case: what was expected and what was found.
    pub says: String,
    /// One thing to do, lower case.
    pub hint: String,
}

impl Refusal {
    /// A refusal of one input.
    pub fn of(key: &'static str, says: impl Into<String>, hint: impl Into<String>) -> Refusal {
        Refusal {
            key: Some(key),
            says: says.into(),
            hint: hint.into(),
        }
    }
}

impl Value {
    /// As people read it: `0.76 V`, `4.87 to 5.13 V`.
    pub fn says(&self) -> String {
        match self {
            Value::Quantity(quantity) => write_quantity(*quantity),
            Value::Band(interval, dimension) => write_interval(*interval, *dimension),
            Value::Number(number) => write_number(*number),
            Value::Words(words) => words.clone(),
        }
    }

    /// The base unit; empty for numbers without one and for words.
    pub fn unit(&self) -> &'static str {
        match self {
            Value::Quantity(quantity) => quantity.dimension.base_unit(),
            Value::Band(_, dimension) => dimension.base_unit(),
            Value::Number(_) | Value::Words(_) => "",
        }
    }

    /// Whether its numbers are finite.
    pub(super) fn is_sound(&self) -> bool {
        match self {
            Value::Quantity(quantity) => quantity.number.is_finite(),
            Value::Band(interval, _) => Interval::new(interval.low, interval.high).is_some(),
            Value::Number(number) => number.is_finite(),
            Value::Words(_) => true,
        }
    }
}

impl Answer {
    /// Adds a result with a dimension.
    pub(super) fn quantity(
        &mut self,
        key: &'static str,
        label: &str,
        number: f64,
        dimension: Dimension,
    ) {
        self.result(key, label, Value::Quantity(Quantity { number, dimension }));
    }

    /// Adds any result.
    pub(super) fn result(&mut self, key: &'static str, label: &str, value: Value) {
        self.results.push(Outcome {
            key,
            label: label.to_owned(),
            value,
        });
    }

    /// Adds a judgement.
    pub(super) fn words(&mut self, key: &'static str, label: &str, words: impl Into<String>) {
        self.result(key, label, Value::Words(words.into()));
    }

    /// Adds a line of the formula with its numbers.
    pub(super) fn step(&mut self, step: impl Into<String>) {
        self.steps.push(step.into());
    }

    /// Adds a note.
    pub(super) fn note(&mut self, note: impl Into<String>) {
        self.notes.push(note.into());
    }
}

/// Rows as the program needs them: a phone's engine has no use for what stands on the page already, and
/// must be small.
pub(super) const fn rows<const COUNT: usize>(mut rows: [Calculator; COUNT]) -> [Calculator; COUNT] {
    let mut at = 0;
    while at < COUNT {
        let row = &mut rows[at];
        row.title = on_page(row.title);
        row.says = on_page(row.says);
        row.group = on_page(row.group);
        row.formula = on_page(row.formula);
        row.source = on_page(row.source);
        row.range = on_page(row.range);
        at += 1;
    }
    rows
}

/// A text that only a page shows: empty in a phone's engine.
const fn on_page(text: &'static str) -> &'static str {
    if cfg!(target_arch = "wasm32") {
        ""
    } else {
        text
    }
}

/// A value as it stands in a step: `4.7 kohm`.
pub(super) fn shown(number: f64, dimension: Dimension) -> String {
    write_quantity(Quantity { number, dimension })
}

impl Input {
    /// One value with its unit, within limits in base units.
    pub(super) const fn quantity(
        key: &'static str,
        label: &'static str,
        dimension: Dimension,
        limits: (f64, f64),
    ) -> Input {
        let kind = Kind::Quantity {
            dimension,
            low: limits.0,
            high: limits.1,
        };
        Input::of(key, label, kind, dimension.usual_unit())
    }

    /// One value of any of some dimensions, within limits in base units.
    pub(super) const fn any(
        key: &'static str,
        label: &'static str,
        dimensions: &'static [Dimension],
        limits: (f64, f64),
    ) -> Input {
        let kind = Kind::Any {
            dimensions,
            low: limits.0,
            high: limits.1,
        };
        Input::of(key, label, kind, "")
    }

    /// An input of any kind.
    pub(super) const fn of(
        key: &'static str,
        label: &'static str,
        kind: Kind,
        unit: &'static str,
    ) -> Input {
        Input {
            key,
            label,
            says: "",
            kind,
            default: None,
            needed: false,
            unit,
        }
    }

    /// With a word of help.
    pub(super) const fn says(self, says: &'static str) -> Input {
        Input {
            says: on_page(says),
            ..self
        }
    }

    /// With a default.
    pub(super) const fn default(self, text: &'static str) -> Input {
        Input {
            default: Some(text),
            ..self
        }
    }

    /// Without which there is no answer.
    pub(super) const fn needed(self) -> Input {
        Input {
            needed: true,
            ..self
        }
    }

    /// With this unit at the field instead of the usual one.
    pub(super) const fn unit(self, unit: &'static str) -> Input {
        Input { unit, ..self }
    }
}
