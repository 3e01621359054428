//! Calculators: texts as typed in, answers and refusals out.

use loomleaf::calc::{Answer, Refusal, Value, by_name, reckon};

mod hostile;
mod published;
mod signals;
mod table;
mod wires;

/// Values as `key=text|key=text`.
fn pairs(given: &str) -> Vec<(&str, &str)> {
    given
        .split('|')
        .filter_map(|pair| pair.split_once('='))
        .collect()
}

fn ask(name: &str, given: &str) -> Result<Answer, Vec<Refusal>> {
    reckon(by_name(name).unwrap(), &pairs(given))
}

fn answer(name: &str, given: &str) -> Answer {
    ask(name, given).unwrap_or_else(|refused| panic!("{name} {given}: {refused:?}"))
}

/// The one refusal.
fn refusal(name: &str, given: &str) -> Refusal {
    let mut refused = ask(name, given).unwrap_err();
    assert_eq!(refused.len(), 1, "{name} {given}: {refused:?}");
    refused.remove(0)
}

/// A result's number in base units; `band.low` and `band.high` are the ends of a band.
fn number(answer: &Answer, result: &str) -> Option<f64> {
    let (key, end) = result.split_once('.').unwrap_or((result, ""));
    let found = answer.results.iter().find(|one| one.key == key)?;
    match (&found.value, end) {
        (Value::Quantity(quantity), "") => Some(quantity.number),
        (Value::Number(number), "") => Some(*number),
        (Value::Band(band, _), "low") => Some(band.low),
        (Value::Band(band, _), "high") => Some(band.high),
        _ => None,
    }
}

fn words(answer: &Answer, result: &str) -> String {
    let found = answer.results.iter().find(|one| one.key == result);
    found.map_or_else(String::new, |one| one.value.says())
}
