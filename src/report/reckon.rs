//! The reports of calculators: an answer, a refusal, what one needs, and which there are.

use super::words::unit;
use crate::calc::{Answer, CALCULATORS, Calculator, Input, Kind, Outcome, Refusal, Used, Value};
use serde::Serialize;

/// The answer of a calculator, with its formula and source.
#[derive(Debug, Serialize)]
pub struct ReckonReport<'a> {
    #[serde(flatten)]
    answer: AnswerReport<'a>,
    source: &'a str,
    formula: &'a str,
}

/// The answer of a calculator; formula and source stand on its page.
#[derive(Debug, Serialize)]
pub struct AnswerReport<'a> {
    calculator: &'a str,
    results: Vec<ResultReport<'a>>,
    steps: &'a [String],
    notes: &'a [String],
    used: Vec<UsedReport<'a>>,
}

#[derive(Debug, Serialize)]
struct ResultReport<'a> {
    name: &'a str,
    value: Measured<'a>,
    /// Base unit; `1` for a ratio, empty for a plain number and for words.
    unit: &'a str,
    label: &'a str,
    says: String,
}

/// A number, a band as `[low, high]`, or words.
#[derive(Debug, Serialize)]
#[serde(untagged)]
enum Measured<'a> {
    Number(f64),
    Band([f64; 2]),
    Words(&'a str),
}

#[derive(Debug, Serialize)]
struct UsedReport<'a> {
    name: &'a str,
    text: &'a str,
    by_default: bool,
}

impl<'a> ReckonReport<'a> {
    /// What a calculator answered.
    pub fn of(calculator: &'a Calculator, answer: &'a Answer) -> Self {
        Self {
            answer: AnswerReport::of(calculator, answer),
            source: calculator.source,
            formula: calculator.formula,
        }
    }
}

impl<'a> AnswerReport<'a> {
    /// What a calculator answered.
    pub fn of(calculator: &'a Calculator, answer: &'a Answer) -> Self {
        Self {
            calculator: calculator.name,
            results: answer.results.iter().map(ResultReport::of).collect(),
            steps: &answer.steps,
            notes: &answer.notes,
            used: answer.used.iter().map(UsedReport::of).collect(),
        }
    }
}

impl<'a> ResultReport<'a> {
    fn of(one: &'a Outcome) -> Self {
        let (value, unit) = match &one.value {
            Value::Quantity(quantity) => {
                (Measured::Number(quantity.number), unit(quantity.dimension))
            }
            Value::Band(band, dimension) => {
                (Measured::Band([band.low, band.high]), unit(*dimension))
            }
            Value::Number(number) => (Measured::Number(*number), ""),
            Value::Words(words) => (Measured::Words(words), ""),
        };
        Self {
            name: one.key,
            value,
            unit,
            label: &one.label,
            says: one.value.says(),
        }
    }
}

impl<'a> UsedReport<'a> {
    fn of(one: &'a Used) -> Self {
        Self {
            name: one.key,
            text: &one.text,
            by_default: one.by_default,
        }
    }
}

/// Why a calculator has no answer.
#[derive(Debug, Serialize)]
pub struct RefusedReport<'a> {
    calculator: &'a str,
    refusals: Vec<RefusalReport<'a>>,
}

#[derive(Debug, Serialize)]
struct RefusalReport<'a> {
    /// The input it is about; null where it is about all of them.
    name: Option<&'a str>,
    says: &'a str,
    hint: &'a str,
}

impl<'a> RefusedReport<'a> {
    /// What a calculator refused.
    pub fn of(calculator: &'a Calculator, refusals: &'a [Refusal]) -> Self {
        let report = |one: &'a Refusal| RefusalReport {
            name: one.key,
            says: &one.says,
            hint: &one.hint,
        };
        Self {
            calculator: calculator.name,
            refusals: refusals.iter().map(report).collect(),
        }
    }
}

/// All calculators, where none is named.
#[derive(Debug, Serialize)]
pub struct CalculatorsReport {
    calculators: Vec<RowReport>,
}

#[derive(Debug, Serialize)]
struct RowReport {
    name: &'static str,
    title: &'static str,
    group: &'static str,
    says: &'static str,
}

impl CalculatorsReport {
    /// The whole table.
    pub fn all() -> Self {
        let row = |one: &Calculator| RowReport {
            name: one.name,
            title: one.title,
            group: one.group,
            says: one.says,
        };
        Self {
            calculators: CALCULATORS.iter().map(row).collect(),
        }
    }
}

/// What a calculator needs, where no value is given.
#[derive(Debug, Serialize)]
pub struct CalculatorReport {
    calculator: &'static str,
    needs: Vec<InputReport>,
    example: Vec<(&'static str, &'static str)>,
    source: &'static str,
    formula: &'static str,
    range: &'static str,
}

#[derive(Debug, Serialize)]
struct InputReport {
    name: &'static str,
    label: &'static str,
    says: &'static str,
    unit: &'static str,
    needed: bool,
    default: Option<&'static str>,
    choices: Vec<&'static str>,
}

impl CalculatorReport {
    /// One row of the table.
    pub fn of(calculator: &Calculator) -> Self {
        Self {
            calculator: calculator.name,
            needs: calculator.inputs.iter().map(InputReport::of).collect(),
            example: calculator.example.to_vec(),
            source: calculator.source,
            formula: calculator.formula,
            range: calculator.range,
        }
    }
}

impl InputReport {
    fn of(input: &Input) -> Self {
        Self {
            name: input.key,
            label: input.label,
            says: input.says,
            unit: input.unit,
            needed: input.needed,
            default: input.default,
            choices: match input.kind {
                Kind::Choice(words) => words.iter().map(|word| word.key).collect(),
                _ => Vec::new(),
            },
        }
    }
}
