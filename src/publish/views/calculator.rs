//! The page of a calculator: its fields, its formula, and its example worked out.
//!
//! In: a row of the table. Out: the page, complete as it stands; script moves what is typed to the
//! engine and the answer back, and adds nothing to what can be read here.

use super::calculator_drawing::{self, Drawing};
use super::calculator_field::{self, Field};
use crate::calc::{Answer, Calculator, Input, Kind, Outcome, Used, reckon};
use crate::publish::{address, words};
use serde::Serialize;

/// A calculator's page.
#[derive(Serialize)]
pub(super) struct CalculatorPage {
    name: &'static str,
    title: &'static str,
    group: &'static str,
    says: String,
    fields: Vec<Field>,
    more: Vec<Field>,
    more_counted: String,
    more_labels: String,
    formula: Vec<&'static str>,
    source: String,
    range: String,
    example: Option<Example>,
    /// This page with the example's values in its fields.
    filled: String,
}

/// The example, worked out.
#[derive(Serialize)]
struct Example {
    typed: Vec<GivenLine>,
    /// What stood in for values not typed.
    taken: Vec<GivenLine>,
    results: Vec<ResultLine>,
    steps: Vec<String>,
    notes: Vec<String>,
    drawing: Option<Drawing>,
}

/// A value that went in.
#[derive(Serialize)]
struct GivenLine {
    label: &'static str,
    text: String,
}

/// A value that came out.
#[derive(Serialize)]
struct ResultLine {
    label: String,
    says: String,
}

/// The page of this calculator.
pub(super) fn view(calculator: &'static Calculator) -> CalculatorPage {
    let (first, rest): (Vec<&Input>, Vec<&Input>) = calculator
        .inputs
        .iter()
        .partition(|input| calculator_field::stands_first(calculator, input));
    let fields = |inputs: &[&'static Input]| inputs.iter().map(|input| Field::of(input)).collect();
    let labels: Vec<&str> = rest.iter().map(|input| input.label).collect();
    CalculatorPage {
        name: calculator.name,
        title: calculator.title,
        group: calculator.group,
        says: words::sentence(calculator.says),
        fields: fields(&first),
        more: fields(&rest),
        more_counted: words::counted(rest.len(), "more value", "more values"),
        more_labels: labels.join(", "),
        formula: calculator.formula.lines().map(str::trim).collect(),
        source: words::sentence(calculator.source),
        range: words::sentence(calculator.range),
        example: example(calculator),
        filled: format!("index.html{}", address::query(calculator.example)),
    }
}

/// None only where a row's example has no answer, which a test of the table does not allow.
fn example(calculator: &'static Calculator) -> Option<Example> {
    let answer = reckon(calculator, calculator.example).ok()?;
    let given = |by_default: bool| -> Vec<GivenLine> {
        let used = answer.used.iter();
        let used = used.filter(|used| used.by_default == by_default);
        used.map(|used| given_line(calculator, used)).collect()
    };
    Some(Example {
        typed: given(false),
        taken: given(true),
        results: answer.results.iter().map(result_line).collect(),
        steps: answer.steps.clone(),
        notes: notes(&answer),
        drawing: calculator_drawing::view(calculator, &answer),
    })
}

fn notes(answer: &Answer) -> Vec<String> {
    let notes = answer.notes.iter();
    notes.map(|note| words::sentence(note)).collect()
}

/// A chosen word as people say it.
fn given_line(calculator: &Calculator, used: &Used) -> GivenLine {
    let kind = calculator.input(used.key).map(|input| input.kind);
    let said = match kind {
        Some(Kind::Choice(words)) => words
            .iter()
            .find(|word| word.key == used.text)
            .map(|word| word.label),
        _ => None,
    };
    GivenLine {
        label: used.label,
        text: said.map_or_else(|| one_line(&used.text), str::to_owned),
    }
}

/// A number stays with its unit; a long list may break.
fn one_line(text: &str) -> String {
    if text.len() < 20 {
        return words::together(text);
    }
    text.to_owned()
}

fn result_line(outcome: &Outcome) -> ResultLine {
    ResultLine {
        label: outcome.label.clone(),
        says: outcome.value.says(),
    }
}
