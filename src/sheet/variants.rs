//! Variants: the answers to what a card leaves open, each a circuit of its own.
//!
//! In: card and family. Out: the choices to build, and words for each.

use super::wiring::Choices;
use crate::card::{Card, Family, ParameterKind, ParameterValue};

/// Word in a card or family for a choice that is left open.
const UNKNOWN: &str = "unknown";

/// Every combination of answers; exactly one where nothing is left open.
pub(super) fn variants(card: &Card, family: &Family) -> Vec<Choices> {
    let mut all = vec![Choices::new()];
    for spec in &family.parameters {
        let ParameterKind::Choice { choices, default } = &spec.kind else {
            continue;
        };
        let chosen = match card
            .parameters
            .get(&spec.name.value)
            .map(|given| &given.value)
        {
            Some(ParameterValue::Choice(word)) => word,
            _ => default,
        };
        let answers: Vec<&String> = if chosen == UNKNOWN {
            choices.iter().collect()
        } else {
            vec![chosen]
        };
        let with = |answer: &String, known: &Choices| {
            let mut known = known.clone();
            known.insert(spec.name.value.clone(), answer.clone());
            known
        };
        all = all
            .iter()
            .flat_map(|known| answers.iter().map(move |answer| with(answer, known)))
            .collect();
    }
    all
}

/// What sets a variant apart, in words; empty where nothing is left open.
pub(super) fn words(family: &Family, all: &[Choices], variant: &Choices) -> String {
    if all.len() < 2 {
        return String::new();
    }
    let open = family.parameters.iter().filter(|spec| {
        let name = &spec.name.value;
        all.iter().any(|other| other.get(name) != variant.get(name))
    });
    let phrase = |spec: &crate::card::ParameterSpec| {
        let answer = variant.get(&spec.name.value).map_or("", String::as_str);
        match (spec.name.value.as_str(), answer) {
            ("pull", "up") => "the open input rests high".to_owned(),
            ("pull", "down") => "the open input rests low".to_owned(),
            (name, answer) => format!("{} is {answer}", name.replace('_', " ")),
        }
    };
    open.map(phrase).collect::<Vec<_>>().join(", ")
}
