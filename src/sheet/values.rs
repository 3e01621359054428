//! Values: every number the bands rest on, with where it comes from.
//!
//! In: card, family, deck. Out: [`ValueLine`]s, and the source of a typed value.

use super::types::{Source, ValueLine};
use super::wiring::{EACH_CONTACT, EACH_WIRE, given, wire_ohms};
use crate::card::{Card, Deck, Family, ParameterKind, ParameterSpec, ParameterValue, SourceKind};
use crate::quantity::{Dimension, Interval, write_interval, write_toleranced};

/// Every value of a card's circuit, the family's parameters first.
pub(super) fn values(deck: &Deck, card: &Card, family: &Family) -> Vec<ValueLine> {
    let mut lines: Vec<ValueLine> = family
        .parameters
        .iter()
        .filter_map(|spec| parameter(card, spec))
        .collect();
    lines.push(battery(deck, card));
    lines.extend(wires(card, family));
    if given(card, family, EACH_CONTACT).is_none() {
        lines.push(line(
            "contacts",
            "up to 0.03 ohm each".into(),
            "clean contacts in the mated connector",
            practice(),
        ));
    }
    lines.push(line(
        "module ground",
        "up to 0.02 ohm".into(),
        "the module's own ground connection",
        practice(),
    ));
    let meter = deck.meter;
    let text = format!(
        "10 Mohm, ± ({} % + {} counts of {})",
        trim(meter.of_reading * 100.0),
        trim(meter.counts),
        trim(meter.display)
    );
    lines.push(line(
        "meter",
        text,
        "a meter on its volts range",
        practice(),
    ));
    lines
}

/// Where a value that the card states under this heading comes from.
pub(super) fn source_of(card: &Card, heading: &str) -> Source {
    let covers = |note: &&crate::card::SourceNote| {
        note.covers.iter().any(|covered| covered.value == heading)
    };
    let general = |note: &&crate::card::SourceNote| note.covers.is_empty();
    let note = card
        .sources
        .iter()
        .find(covers)
        .or_else(|| card.sources.iter().find(general));
    note.map_or(Source::Stated, |note| match note.kind {
        SourceKind::Published => Source::Published(note.says.value.clone()),
        SourceKind::MeasuredHere => Source::MeasuredHere(note.says.value.clone()),
        SourceKind::CommonPractice => Source::CommonPractice(note.says.value.clone()),
    })
}

/// Signal points: what the card states, or that the family's stand in.
fn parameter(card: &Card, spec: &ParameterSpec) -> Option<ValueLine> {
    let name = &spec.name.value;
    let given = card.parameters.get(name).map(|given| &given.value);
    let text = match (&spec.kind, given) {
        (ParameterKind::Value { dimension, .. }, Some(ParameterValue::Value(range))) => {
            write_toleranced(*range, *dimension)
        }
        (ParameterKind::Value { dimension, default }, _) => write_toleranced(*default, *dimension),
        (ParameterKind::Limits { dimension, .. }, Some(ParameterValue::Limits(limits))) => {
            write_interval(*limits, *dimension)
        }
        (ParameterKind::Limits { dimension, default }, _) => write_interval(*default, *dimension),
        (ParameterKind::Choice { .. }, Some(ParameterValue::Choice(word))) => word.clone(),
        (ParameterKind::Choice { default, .. }, _) => default.clone(),
        (ParameterKind::FollowsSignal { .. }, _) => return Some(followed(card, spec)),
    };
    let source = if given.is_some() {
        source_of(card, name)
    } else {
        Source::FamilyDefault
    };
    Some(line(&name.replace('_', " "), text, &spec.says, source))
}

/// A value worked out from the signal points or the curve.
fn followed(card: &Card, spec: &ParameterSpec) -> ValueLine {
    let name = spec.name.value.replace('_', " ");
    let (text, source) = match (&card.curve, card.signal.is_empty()) {
        (Some(_), _) => ("from the curve on this card", source_of(card, "curve")),
        (None, false) => ("worked out from the signal points", Source::Computed),
        (None, true) => ("from the family's own points", Source::FamilyDefault),
    };
    line(&name, text.into(), &spec.says, source)
}

fn battery(deck: &Deck, card: &Card) -> ValueLine {
    match card.parameters.get("battery").map(|given| &given.value) {
        Some(ParameterValue::Value(range)) => line(
            "battery",
            write_toleranced(*range, Dimension::Voltage),
            "",
            source_of(card, "battery"),
        ),
        _ => line(
            "battery",
            write_toleranced(deck.battery, Dimension::Voltage),
            "",
            practice(),
        ),
    }
}

/// Wires by length and size, and what the others are taken as; that stands among the parameters where the
/// family has one for it.
fn wires(card: &Card, family: &Family) -> Option<ValueLine> {
    let known = card
        .wires
        .iter()
        .filter(|wire| family.roles.contains(&wire.role.value));
    let known: Vec<String> = known
        .filter_map(|wire| {
            wire_ohms(wire).map(|ohms| {
                format!(
                    "{} {}",
                    wire.role.value,
                    write_toleranced(ohms, Dimension::Resistance)
                )
            })
        })
        .collect();
    let own = given(card, family, EACH_WIRE);
    if known.is_empty() {
        let thin = || {
            line(
                "wires",
                "0.01 to 0.4 ohm each".into(),
                "some metres of thin cable",
                practice(),
            )
        };
        return own.is_none().then(thin);
    }
    let others = match own {
        Some(ohms) => write_toleranced(ohms, Dimension::Resistance),
        None => "0.01 to 0.4 ohm".to_owned(),
    };
    Some(line(
        "wires",
        known.join(", "),
        &format!("from length and size; others {others}"),
        Source::Computed,
    ))
}

fn practice() -> Source {
    Source::CommonPractice(String::new())
}

fn line(name: &str, text: String, says: &str, source: Source) -> ValueLine {
    ValueLine {
        name: name.to_owned(),
        text,
        says: says.to_owned(),
        source,
    }
}

/// A number without trailing zeros.
fn trim(number: f64) -> String {
    let text = format!("{number:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// An interval parameter of the family as this card has it.
pub(super) fn limits(card: &Card, family: &Family, name: &str) -> Option<Interval> {
    if let Some(ParameterValue::Limits(limits)) =
        card.parameters.get(name).map(|given| &given.value)
    {
        return Some(*limits);
    }
    family.parameters.iter().find_map(|spec| match &spec.kind {
        ParameterKind::Limits { default, .. } if spec.name.value == name => Some(*default),
        _ => None,
    })
}
