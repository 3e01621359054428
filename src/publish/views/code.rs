//! The page of a trouble code: what its letters and digits say, and the circuits that can set it.

use super::{CardRow, Link};
use crate::publish::shelf::{Entry, Group, Shelf};
use crate::publish::{address, words};
use crate::quantity::{Dimension, Interval, Quantity, write_quantity};
use serde::Serialize;

/// A code's page.
#[derive(Serialize)]
pub(super) struct CodePage {
    code: String,
    area: &'static str,
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
        area: area(&group.id),
        defined_by: defined_by(&group.id),
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

/// The first letter, as SAE J2012 (ISO 15031-6) assigns it.
fn area(code: &str) -> &'static str {
    match code.chars().next() {
        Some('P') => "powertrain",
        Some('C') => "chassis",
        Some('B') => "body",
        Some('U') => "network and communication",
        _ => "unknown",
    }
}

/// Who defines the code, by its first two digits (SAE J2012, ISO 15031-6).
fn defined_by(code: &str) -> &'static str {
    const STANDARD: &str = "Its meaning is the same on every make: SAE J2012 defines it.";
    const MAKER: &str =
        "Each maker defines its own meaning: look it up in the maker's service information.";
    let digits: Vec<char> = code.chars().skip(1).take(2).collect();
    let powertrain = code.starts_with('P');
    match digits.as_slice() {
        ['0', _] => STANDARD,
        ['2', _] if powertrain => STANDARD,
        ['3', '4'..='9'] => STANDARD,
        ['3', _] if !powertrain => STANDARD,
        _ => MAKER,
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
