//! `reckon`: a calculator's answer with its formula and source; what it needs; or the list of calculators.

use super::args::Reckon;
use super::console::Console;
use super::draw::visible;
use super::named::no_match;
use super::words::LAST_WORD;
use super::{Ending, Stop};
use crate::calc::{
    Answer, CALCULATORS, Calculator, Input, Kind, Refusal, by_name, reckon as answer,
};
use crate::finding::nearest;
use crate::report::{CalculatorReport, CalculatorsReport, ReckonReport};
use std::io::{self, Write};

/// Column at which an explanation starts.
const COLUMN: usize = 26;

pub(super) fn reckon(asked: &Reckon, console: &mut Console<'_>) -> Result<Ending, Stop> {
    let Some(name) = &asked.name else {
        return list(asked.json, console);
    };
    let Some(calculator) = by_name(name) else {
        let names: Vec<String> = CALCULATORS.iter().map(|one| one.name.to_owned()).collect();
        no_match("calculator", name, &names, console)?;
        return Ok(Ending::NoMatch);
    };
    if asked.values.is_empty() {
        return describe(calculator, asked.json, console);
    }
    let Some(pairs) = pairs(calculator, &asked.values, console)? else {
        return Ok(Ending::Misused);
    };
    let borrowed: Vec<(&str, &str)> = pairs
        .iter()
        .map(|(key, text)| (key.as_str(), text.as_str()))
        .collect();
    match answer(calculator, &borrowed) {
        Ok(answer) if asked.json => {
            console.answer_json(&ReckonReport::of(calculator, &answer))?;
            Ok(Ending::Fine)
        }
        Ok(answer) => {
            print_answer(calculator, &answer, console.out)?;
            Ok(Ending::Fine)
        }
        Err(refusals) => {
            print_refusals(calculator, &refusals, console.err)?;
            Ok(Ending::Misused)
        }
    }
}

/// Every calculator under its heading.
fn list(json: bool, console: &mut Console<'_>) -> Result<Ending, Stop> {
    if json {
        console.answer_json(&CalculatorsReport::all())?;
        return Ok(Ending::Fine);
    }
    let mut group = "";
    for calculator in CALCULATORS {
        if calculator.group != group {
            let gap = if group.is_empty() { "" } else { "\n" };
            group = calculator.group;
            writeln!(console.out, "{gap}{group}")?;
        }
        writeln!(
            console.out,
            "  {:COLUMN$}{}",
            calculator.name, calculator.title
        )?;
    }
    writeln!(
        console.out,
        "\nloomleaf reckon NAME says what a calculator needs, with an example."
    )?;
    Ok(Ending::Fine)
}

/// What a calculator needs, and an example.
fn describe(
    calculator: &Calculator,
    json: bool,
    console: &mut Console<'_>,
) -> Result<Ending, Stop> {
    if json {
        console.answer_json(&CalculatorReport::of(calculator))?;
        return Ok(Ending::Fine);
    }
    let out = &mut *console.out;
    writeln!(out, "{}: {}\n", calculator.title, calculator.says)?;
    for input in calculator.inputs {
        print_input(input, out)?;
    }
    writeln!(out, "\nFormula:\n{}", indented(calculator.formula))?;
    writeln!(out, "Source:  {}", calculator.source)?;
    writeln!(out, "Range:   {}", calculator.range)?;
    writeln!(out, "\nExample:  {}", example(calculator))?;
    Ok(Ending::Fine)
}

fn print_input(input: &Input, out: &mut dyn Write) -> io::Result<()> {
    let mut about = input.label.to_owned();
    if let Kind::Choice(words) = input.kind {
        let words: Vec<String> = words
            .iter()
            .map(|word| format!("{} ({})", word.key, word.label))
            .collect();
        about = format!("{about}: {}", words.join(", "));
    }
    if !input.says.is_empty() {
        about = format!("{about}; {}", input.says);
    }
    let need = match (input.default, input.needed) {
        (Some(default), _) => format!("; without it {default}"),
        (None, true) => "; needed".to_owned(),
        (None, false) => String::new(),
    };
    writeln!(out, "  {:COLUMN$}{about}{need}", input.key)
}

/// The example as it is typed into a shell.
fn example(calculator: &Calculator) -> String {
    let pairs: Vec<String> = calculator
        .example
        .iter()
        .map(|(key, text)| match text.contains([' ', ';', '(', '\'']) {
            true => format!("{key}=\"{text}\""),
            false => format!("{key}={text}"),
        })
        .collect();
    format!("loomleaf reckon {} {}", calculator.name, pairs.join(" "))
}

fn print_answer(calculator: &Calculator, answer: &Answer, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{}\n", calculator.title)?;
    let width = answer
        .results
        .iter()
        .map(|one| one.label.chars().count())
        .max()
        .unwrap_or(0);
    for one in &answer.results {
        let says = visible(&one.value.says());
        writeln!(out, "  {:width$}  {says}", one.label)?;
    }
    writeln!(out, "\nFormula:\n{}", indented(calculator.formula))?;
    writeln!(
        out,
        "With the numbers:\n{}",
        indented(&visible(&answer.steps.join("\n")))
    )?;
    let by_default: Vec<String> = answer
        .used
        .iter()
        .filter(|one| one.by_default)
        .map(|one| format!("{}={}", one.key, one.text))
        .collect();
    if !by_default.is_empty() {
        writeln!(out, "Not typed, so taken:  {}", by_default.join(", "))?;
    }
    writeln!(out, "Source:  {}", calculator.source)?;
    for note in &answer.notes {
        writeln!(out, "Note:    {}", visible(note))?;
    }
    writeln!(out, "{LAST_WORD}")
}

fn indented(text: &str) -> String {
    let lines: Vec<String> = text.lines().map(|line| format!("  {line}")).collect();
    lines.join("\n")
}

/// Keys and texts; a word without `=` belongs to the value before it (`length=5 m`).
fn pairs(
    calculator: &Calculator,
    words: &[String],
    console: &mut Console<'_>,
) -> Result<Option<Vec<(String, String)>>, Stop> {
    let mut pairs: Vec<(String, String)> = Vec::new();
    let mut wrong = false;
    for word in words {
        match (word.split_once('='), pairs.last_mut()) {
            (Some((key, text)), _) => pairs.push((key.trim().to_owned(), text.to_owned())),
            (None, Some((_, text))) => {
                text.push(' ');
                text.push_str(word);
            }
            (None, None) => {
                let says = format!("expected KEY=VALUE, found `{}`", visible(word));
                writeln!(console.err, "{says}; type it as in {}", example(calculator))?;
                return Ok(None);
            }
        }
    }
    for (key, _) in &pairs {
        if calculator.input(key).is_none() {
            let names: Vec<String> = calculator
                .inputs
                .iter()
                .map(|one| one.key.to_owned())
                .collect();
            no_match(
                &format!("value of {}", calculator.name),
                key,
                &names,
                console,
            )?;
            wrong = true;
        }
    }
    Ok((!wrong).then_some(pairs))
}

fn print_refusals(
    calculator: &Calculator,
    refusals: &[Refusal],
    to: &mut dyn Write,
) -> io::Result<()> {
    for refusal in refusals {
        let key = refusal
            .key
            .map(|key| format!("{key}: "))
            .unwrap_or_default();
        writeln!(to, "{key}{}", visible(&refusal.says))?;
        writeln!(to, "  {}", visible(&hint(calculator, refusal)))?;
    }
    Ok(())
}

/// The hint, with the nearest word where a choice was missed by a slip.
fn hint(calculator: &Calculator, refusal: &Refusal) -> String {
    let words = match refusal
        .key
        .and_then(|key| calculator.input(key))
        .map(|input| input.kind)
    {
        Some(Kind::Choice(words)) => words,
        _ => return refusal.hint.clone(),
    };
    let found = refusal.says.rsplit('`').nth(1).unwrap_or("");
    match nearest(found, words.iter().map(|word| word.key)) {
        Some(near) => format!("did you mean {near}?"),
        None => refusal.hint.clone(),
    }
}
