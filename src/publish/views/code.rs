//! The page of a trouble code: what its letters and digits say, and the circuits that can set it.

use super::{CardRow, Link};
use crate::card::{code_defined_by, code_system};
use crate::publish::shelf::{Entry, Group, Shelf};
use crate::publish::{address, words};
use crate::quantity::{Dimension, Interval, Quantity, write_quantity};
use serde::Serialize;

/// A code's page.
#[derive(Serialize)]
pub(super) struct CodePage {
    code: String,
    area: &'static str,
    /// In SAE J2012, or empty.
    meaning: String,
    defined_by: &'static str,
    circuits: Vec<CardRow>,
    limits: Vec<LimitLine>,
    families: Vec<Link>,
}

/// From which volts the module of a circuit sets a code.
#[derive(Serialize)]
struct LimitLine {
    circuit: String,
    href: String,
    pin: String,
    below: String,
    above: String,
    source: String,
}

/// The page of this code.
pub(super) fn view(shelf: &Shelf, group: &Group) -> CodePage {
    let usual_for = |family: &&Group| {
        shelf
            .deck
            .families
            .get(&family.id)
            .is_some_and(|family| family.codes.contains(&group.id))
    };
    CodePage {
        code: group.title.clone(),
        area: code_system(&group.id),
        meaning: shelf
            .deck
            .meanings
            .get(&group.id)
            .cloned()
            .unwrap_or_default(),
        defined_by: code_defined_by(&group.id),
        circuits: CardRow::all(group),
        limits: group.entries.iter().filter_map(limit_line).collect(),
        families: shelf
            .families
            .iter()
            .filter(usual_for)
            .map(Link::to)
            .collect(),
    }
}

fn limit_line(entry: &Entry) -> Option<LimitLine> {
    let signal = entry.sheet.signal.as_ref()?;
    let Interval { low, high } = signal.valid?;
    let volts = |number| {
        write_quantity(Quantity {
            number,
            dimension: Dimension::Voltage,
        })
    };
    Some(LimitLine {
        circuit: entry.card.title.value.clone(),
        href: address::card(&entry.card.id),
        pin: signal.pin.clone(),
        below: volts(low),
        above: volts(high),
        source: words::source_of_parameter(entry.card, "valid"),
    })
}
