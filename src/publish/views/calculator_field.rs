//! A field of a calculator: label, keyboard, units to choose from, what may be typed.
//!
//! In: an input of the table. Out: what its template prints. What a text means is the calculators'
//! business; a unit chosen here only stands behind the number typed.

use crate::calc::{Calculator, Input, Kind};
use crate::publish::words;
use crate::quantity::{Dimension, Quantity, UNITS, write_number, write_quantity};
use serde::Serialize;

/// One field.
#[derive(Serialize)]
pub(super) struct Field {
    key: &'static str,
    label: &'static str,
    needed: bool,
    about: String,
    keyboard: &'static str,
    is_list: bool,
    is_choice: bool,
    alternatives: Vec<Alternative>,
    /// The only unit there is.
    unit: &'static str,
    /// Units to choose from, where there are more.
    units: Vec<Alternative>,
}

/// One line of a list to choose from.
#[derive(Serialize)]
struct Alternative {
    key: &'static str,
    label: &'static str,
    chosen: bool,
}

/// Fields without which there is no answer, those of the example, and those without a default stand
/// first; the rest wait behind a line that names them.
pub(super) fn stands_first(calculator: &Calculator, input: &Input) -> bool {
    let in_example = calculator.example.iter().any(|(key, _)| *key == input.key);
    let is_aside = matches!(input.kind, Kind::Choice(_) | Kind::Words(_));
    let few = calculator.inputs.len() <= 5;
    few || input.needed || in_example || (input.default.is_none() && !is_aside)
}

impl Field {
    /// The field of this input.
    pub(super) fn of(input: &'static Input) -> Self {
        let units = units(input);
        let is_choice = matches!(input.kind, Kind::Choice(_));
        Self {
            key: input.key,
            label: input.label,
            needed: input.needed,
            about: about(input),
            keyboard: keyboard(input),
            is_list: matches!(input.kind, Kind::List { .. }),
            is_choice,
            alternatives: alternatives(input),
            unit: if units.is_empty() { input.unit } else { "" },
            units,
        }
    }
}

/// Digits where digits are all that can be typed; a minus, an exponent or a fraction needs letters' keys.
fn keyboard(input: &Input) -> &'static str {
    match input.kind {
        Kind::Count { .. } => "numeric",
        Kind::Quantity { low, .. } | Kind::Any { low, .. } if low >= 0.0 => "decimal",
        Kind::Number { low, high } if low >= 0.0 && high > 1.0 => "decimal",
        _ => "text",
    }
}

fn alternatives(input: &Input) -> Vec<Alternative> {
    let Kind::Choice(words) = input.kind else {
        return Vec::new();
    };
    let none = input.default.is_none().then_some(Alternative {
        key: "",
        label: if input.needed { "choose" } else { "not chosen" },
        chosen: true,
    });
    let words = words.iter().map(|word| Alternative {
        key: word.key,
        label: word.label,
        chosen: input.default == Some(word.key),
    });
    none.into_iter().chain(words).collect()
}

/// Units to choose from; the first is none where the number alone would not tell what is meant.
fn units(input: &Input) -> Vec<Alternative> {
    let dimensions: &[Dimension] = match &input.kind {
        Kind::Quantity { dimension, .. } => std::slice::from_ref(dimension),
        Kind::Any { dimensions, .. } => dimensions,
        Kind::WireSize => &[Dimension::Area],
        _ => return Vec::new(),
    };
    let mut named: Vec<&'static str> = Vec::new();
    for dimension in dimensions {
        let own = UNITS.iter().filter(|unit| unit.dimension == *dimension);
        for spelling in own.filter_map(|unit| unit.spellings.first()) {
            if !spelling.is_empty() && !named.contains(spelling) {
                named.push(spelling);
            }
        }
    }
    if matches!(input.kind, Kind::WireSize) {
        named.push("AWG");
    }
    if named.len() < 2 {
        return Vec::new();
    }
    let none = input.unit.is_empty().then_some(("", "unit"));
    let named = named.into_iter().map(|name| (name, shown(name)));
    let all = none.into_iter().chain(named);
    all.map(|(key, label)| Alternative {
        key,
        label,
        chosen: key == input.unit,
    })
    .collect()
}

fn shown(unit: &'static str) -> &'static str {
    match unit {
        "mm2" => "mm²",
        other => other,
    }
}

/// A word of help, what may be typed, and what stands in for nothing.
fn about(input: &Input) -> String {
    // How a list is separated stands with how long it may be.
    let says = input.says.trim_end_matches(", separated by ;");
    let mut parts = vec![words::sentence(says), words::sentence(&range(input))];
    if let (Some(default), false) = (input.default, matches!(input.kind, Kind::Choice(_))) {
        parts.push(format!("Left empty: {}.", words::together(default)));
    }
    parts.retain(|part| !part.is_empty());
    parts.join(" ")
}

/// `from 0 A to 100 kA`.
fn range(input: &Input) -> String {
    let from_to = |low, high, dimension| {
        let write = |number| words::together(&write_quantity(Quantity { number, dimension }));
        // A floor nobody meets says nothing.
        if low >= 0.0 && low <= high * 1e-6 {
            return format!("up to {}", write(high));
        }
        format!("from {} to {}", write(low), write(high))
    };
    match input.kind {
        Kind::Quantity {
            dimension,
            low,
            high,
        } => from_to(low, high, dimension),
        Kind::Number { low, high } => {
            format!("from {} to {}", write_number(low), write_number(high))
        }
        Kind::Count { low, high } => format!("a whole number from {low} to {high}"),
        Kind::List { least, most, .. } => {
            format!("{least} to {most} values, with a ; or a new line between them")
        }
        Kind::Words(most) => format!("at most {most} letters"),
        Kind::Any { .. } | Kind::WireSize | Kind::Choice(_) => String::new(),
    }
}
