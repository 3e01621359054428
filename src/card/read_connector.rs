//! The connector's face and the wires: shape, rows, keying, view; length and size by role.
//!
//! In: a card's fields and its pins. Out: a [`Connector`], [`WireSpec`]s and findings.

use super::fields::{Fields, texts};
use super::places::NodeKind;
use super::read_tests::known_word;
use super::{Connector, Pin, Placed, Seat, Shape, Side, View, WireSpec};
use crate::finding::{Finding, Place, kinds};
use crate::quantity::Dimension;

const SHAPES: &[(&str, Shape)] = &[("rectangular", Shape::Rectangular), ("round", Shape::Round)];
const SIDES: &[(&str, Side)] = &[
    ("top", Side::Top),
    ("bottom", Side::Bottom),
    ("left", Side::Left),
    ("right", Side::Right),
];
const VIEWS: &[(&str, View)] = &[
    ("harness mating face", View::HarnessMatingFace),
    ("harness wire side", View::HarnessWireSide),
    ("part face", View::PartFace),
];

/// Reads `connector`; a card without one is drawn as a single row in pin order.
pub(super) fn read_connector(
    fields: &Fields<'_>,
    pins: &[Pin],
    findings: &mut Vec<Finding>,
) -> Connector {
    let known = &["shape", "rows", "keying", "view"];
    let given = fields
        .get("connector")
        .and_then(|node| Fields::of(node, "a connector", known, findings));
    let Some(given) = given else {
        return Connector::default();
    };
    let shape = word(&given, "shape", SHAPES, findings);
    let keying = word(&given, "keying", SIDES, findings);
    let view = word(&given, "view", VIEWS, findings);
    Connector {
        shape: shape.unwrap_or_default(),
        keying,
        view: view.unwrap_or_default(),
        rows: read_rows(&given, pins, findings),
    }
}

fn word<T: Copy>(
    given: &Fields<'_>,
    key: &str,
    words: &[(&str, T)],
    findings: &mut Vec<Finding>,
) -> Option<T> {
    let typed = given.text(key, findings)?;
    known_word(&typed, key, words, findings)
}

/// Rows of places; one flat list is one row.
fn read_rows(given: &Fields<'_>, pins: &[Pin], findings: &mut Vec<Finding>) -> Vec<Vec<Seat>> {
    let Some(node) = given.get("rows") else {
        return Vec::new();
    };
    let flat = match &node.kind {
        NodeKind::List(items) => items
            .iter()
            .all(|item| matches!(item.kind, NodeKind::Scalar(_))),
        _ => true,
    };
    let rows: Vec<Vec<Placed<String>>> = if flat {
        vec![texts(node, "rows", findings)]
    } else {
        let rows = given.list("rows", findings).iter();
        rows.map(|row| texts(row, "rows", findings)).collect()
    };
    check_rows(&rows, given.place_of("rows"), pins, findings);
    let seats = |row: Vec<Placed<String>>| row.iter().map(|typed| seat(&typed.value)).collect();
    rows.into_iter().map(seats).collect()
}

/// `7` is a pin of the card, `(7)` another circuit's, `_` an empty place.
fn seat(typed: &str) -> Seat {
    let other = typed
        .strip_prefix('(')
        .and_then(|rest| rest.strip_suffix(')'));
    match other {
        Some(label) => Seat::Other(label.trim().to_owned()),
        None if typed == "_" => Seat::Empty,
        None => Seat::Pin(typed.to_owned()),
    }
}

fn check_rows(
    rows: &[Vec<Placed<String>>],
    place: &Place,
    pins: &[Pin],
    findings: &mut Vec<Finding>,
) {
    let labels: Vec<&str> = pins.iter().map(|pin| pin.label.value.as_str()).collect();
    let mut seen: Vec<String> = Vec::new();
    for typed in rows.iter().flatten() {
        let (label, is_own) = match seat(&typed.value) {
            Seat::Pin(label) => (label, true),
            Seat::Other(label) => (label, false),
            Seat::Empty => continue,
        };
        let known = labels.contains(&label.as_str());
        if seen.contains(&label) {
            findings.push(kinds::doubled_seat(&typed.place, &label));
        } else if is_own && !known {
            findings.push(kinds::unknown_pin(&typed.place, &label, &labels));
        } else if !is_own && known {
            findings.push(kinds::own_pin_in_brackets(&typed.place, &label));
        }
        seen.push(label);
    }
    for pin in pins.iter().filter(|pin| !seen.contains(&pin.label.value)) {
        findings.push(kinds::pin_left_out(
            place,
            &pin.label.value,
            &pin.label.place,
        ));
    }
}

/// Reads `wires`: length and size by role.
pub(super) fn read_wires(
    fields: &Fields<'_>,
    pins: &[Pin],
    findings: &mut Vec<Finding>,
) -> Vec<WireSpec> {
    let below = fields
        .get("wires")
        .and_then(|node| Fields::unchecked(node, "`wires`", findings));
    let Some(below) = below else {
        return Vec::new();
    };
    let roles: Vec<&str> = pins.iter().map(|pin| pin.role.value.as_str()).collect();
    let mut wires = Vec::new();
    for (at, entry) in below.entries().iter().enumerate() {
        if let Some(first) = below.earlier(at) {
            findings.push(kinds::doubled_key(&entry.place, &entry.key, &first.place));
        } else if !roles.contains(&entry.key.as_str()) {
            findings.push(kinds::unknown_role(&entry.place, &entry.key, &roles));
        }
        let known = &["length", "size"];
        let Some(given) = Fields::of(&entry.value, "a wire", known, findings) else {
            continue;
        };
        let length = given.quantity("length", Dimension::Length, findings);
        let area = given.quantity("size", Dimension::Area, findings);
        wires.push(WireSpec {
            role: Placed {
                value: entry.key.clone(),
                place: entry.place.clone(),
            },
            length: length.map(|length| length.value.number),
            area: area.map(|area| area.value.number),
        });
    }
    wires
}
