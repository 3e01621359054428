//! One card: its file's tree becomes a [`Card`], every slip a finding.
//!
//! In: the tree, and the shelf of families, cautions and systems the deck knows. Out: a card, unless
//! it lacks what a page cannot do without. What names what is checked in `check_card`.

use super::check_card::Shelf;
use super::check_tests::{check_cautions, check_test_cautions};
use super::fields::{Fields, doubled, measured, text, texts};
use super::places::{Entry, Node, NodeKind};
use super::read_connector::{read_connector, read_wires};
use super::read_family::read_own_circuit;
use super::read_parts::{check_colour, read_codes, read_curve, read_signal};
use super::read_tests::read_tests;
use super::{
    Card, Family, ParameterKind, ParameterValue, Pin, Placed, ScanKind, ScanValue, SourceKind,
    SourceNote,
};
use crate::finding::{Finding, Place, kinds};
use crate::quantity::{Dimension, read_interval, read_toleranced};
use std::collections::BTreeMap;

const KEYS: &[&str] = &[
    "title",
    "family",
    "circuit",
    "system",
    "codes",
    "fits",
    "also_called",
    "pins",
    "signal",
    "reference",
    "battery",
    "parameters",
    "curve",
    "scan",
    "order",
    "tests",
    "connector",
    "wires",
    "sources",
    "cautions",
    "notes",
];

/// Reads one card.
pub(super) fn read_card(
    node: &Node,
    id: &str,
    shelf: &Shelf<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Card> {
    let fields = Fields::of(node, "a card", KEYS, findings)?;
    let title = fields.required("title", "title: Throttle position sensor", findings);
    let circuit = fields
        .get("circuit")
        .and_then(|node| read_own_circuit(node, shelf.cautions, findings));
    let family = read_family_name(&fields, findings);
    let used = circuit
        .as_ref()
        .or_else(|| shelf.families.get(family.as_ref()?.value.as_str()));
    let pins = read_pins(&fields, findings);
    let parameters = read_parameters(&fields, used, findings);
    let cautions = fields.texts("cautions", findings);
    check_cautions(&cautions, shelf.cautions, findings);
    check_test_cautions(fields.get("tests"), shelf.cautions, findings);
    let card = Card {
        id: id.to_owned(),
        file: node.place.file.clone(),
        codes: read_codes(&fields, findings),
        system: fields.text("system", findings),
        fits: fields.texts("fits", findings),
        also_called: fields.texts("also_called", findings),
        signal: read_signal(&fields, findings),
        curve: read_curve(&fields, findings),
        scan: read_scan(&fields, findings),
        order: fields.texts("order", findings),
        tests: read_tests(fields.get("tests"), findings),
        connector: read_connector(&fields, &pins, findings),
        wires: read_wires(&fields, &pins, findings),
        sources: read_sources(&fields, findings),
        notes: notes(&fields, findings),
        title: title?,
        family: family?,
        circuit: circuit.map(Box::new),
        pins,
        parameters,
        cautions,
    };
    shelf.check(&card, &fields, findings);
    Some(card)
}

/// The family's name, empty beside a circuit of its own; none where there is neither.
fn read_family_name(fields: &Fields<'_>, findings: &mut Vec<Finding>) -> Option<Placed<String>> {
    match (fields.entry("family"), fields.entry("circuit")) {
        (Some(family), Some(circuit)) => {
            findings.push(kinds::two_circuits(&circuit.place, &family.place));
            None
        }
        (None, Some(circuit)) => Some(Placed {
            value: String::new(),
            place: circuit.place.clone(),
        }),
        _ => fields.required("family", "family: position-pot", findings),
    }
}

fn read_pins(fields: &Fields<'_>, findings: &mut Vec<Finding>) -> Vec<Pin> {
    let example = "1: {role: signal, wire: GN}";
    let Some(node) = fields.get("pins") else {
        fields.missing("pins", example, findings);
        return Vec::new();
    };
    let NodeKind::Map(entries) = &node.kind else {
        let expected = "a line for each pin such as `1: {role: signal, wire: GN}`";
        findings.push(kinds::wrong_shape(
            &node.place,
            "`pins`",
            expected,
            node.kind.words(),
        ));
        return Vec::new();
    };
    let pins: Vec<Pin> = entries
        .iter()
        .filter_map(|entry| read_pin(entry, findings))
        .collect();
    doubled(pins.iter().map(|pin| &pin.label), |label, first| {
        findings.push(kinds::doubled_pin(&label.place, &label.value, first));
    });
    doubled(pins.iter().map(|pin| &pin.role), |role, first| {
        findings.push(kinds::doubled_role(&role.place, &role.value, first));
    });
    pins
}

fn read_pin(entry: &Entry, findings: &mut Vec<Finding>) -> Option<Pin> {
    let label = Placed {
        value: entry.key.clone(),
        place: entry.place.clone(),
    };
    // `1: signal` can only mean the role.
    if let NodeKind::Scalar(_) = entry.value.kind {
        let role = text(&entry.value, "role", findings)?;
        return Some(Pin {
            label,
            role,
            wire: None,
        });
    }
    let given = Fields::of(&entry.value, "a pin", &["role", "wire"], findings)?;
    let wire = given.text("wire", findings);
    if let Some(wire) = &wire {
        check_colour(wire, findings);
    }
    let role = given.required("role", "role: signal", findings)?;
    Some(Pin { label, role, wire })
}

/// Reads `parameters` and the short forms `reference` and `battery` against the circuit's own list.
fn read_parameters(
    fields: &Fields<'_>,
    circuit: Option<&Family>,
    findings: &mut Vec<Finding>,
) -> BTreeMap<String, Placed<ParameterValue>> {
    let below = fields
        .get("parameters")
        .and_then(|node| Fields::unchecked(node, "`parameters`", findings));
    let below = below.as_ref().map_or(&[][..], Fields::entries);
    let short = ["reference", "battery"]
        .into_iter()
        .filter_map(|key| fields.entry(key));
    let mut first: BTreeMap<&str, &Place> = BTreeMap::new();
    let mut values = BTreeMap::new();
    for entry in short.chain(below) {
        if let Some(earlier) = first.insert(&entry.key, &entry.place) {
            findings.push(kinds::doubled_key(&entry.place, &entry.key, earlier));
            continue;
        }
        if let Some(value) = circuit.and_then(|circuit| read_parameter(entry, circuit, findings)) {
            values.insert(entry.key.clone(), value);
        }
    }
    values
}

fn read_parameter(
    entry: &Entry,
    circuit: &Family,
    findings: &mut Vec<Finding>,
) -> Option<Placed<ParameterValue>> {
    let typed = text(&entry.value, &entry.key, findings)?;
    let key = entry.key.as_str();
    let specs = &circuit.parameters;
    let Some(spec) = specs.iter().find(|spec| spec.name.value == key) else {
        if key == "battery" {
            return value(&typed, Dimension::Voltage, findings);
        }
        let takes = specs
            .iter()
            .filter(|spec| !matches!(spec.kind, ParameterKind::FollowsSignal { .. }));
        let mut known: Vec<&str> = takes.map(|spec| spec.name.value.as_str()).collect();
        known.push("battery");
        findings.push(kinds::unknown_parameter(&entry.place, key, &known));
        return None;
    };
    match &spec.kind {
        ParameterKind::Value { dimension, .. } => value(&typed, *dimension, findings),
        ParameterKind::Limits { dimension, .. } => {
            let read = measured(&typed, findings, |text| read_interval(text, *dimension))?;
            Some(Placed {
                value: ParameterValue::Limits(read.value),
                place: read.place,
            })
        }
        ParameterKind::Choice { choices, .. } => choice(&typed, key, choices, findings),
        ParameterKind::FollowsSignal { .. } => {
            findings.push(kinds::parameter_not_given(&entry.place, key));
            None
        }
    }
}

fn value(
    typed: &Placed<String>,
    dimension: Dimension,
    findings: &mut Vec<Finding>,
) -> Option<Placed<ParameterValue>> {
    let read = measured(typed, findings, |text| read_toleranced(text, dimension))?;
    Some(Placed {
        value: ParameterValue::Value(read.value),
        place: read.place,
    })
}

fn choice(
    typed: &Placed<String>,
    key: &str,
    choices: &[String],
    findings: &mut Vec<Finding>,
) -> Option<Placed<ParameterValue>> {
    if typed.value != "unknown" && !choices.contains(&typed.value) {
        let mut words: Vec<&str> = choices.iter().map(String::as_str).collect();
        words.push("unknown");
        findings.push(kinds::unknown_choice(
            &typed.place,
            &typed.value,
            key,
            &words,
        ));
        return None;
    }
    Some(Placed {
        value: ParameterValue::Choice(typed.value.clone()),
        place: typed.place.clone(),
    })
}

const SCAN_KEYS: &[&str] = &["name", "of", "kind", "valid", "substitute", "says"];

fn read_scan(fields: &Fields<'_>, findings: &mut Vec<Finding>) -> Vec<ScanValue> {
    let mut values = Vec::new();
    for node in fields.list("scan", findings) {
        let Some(given) = Fields::of(node, "a scan value", SCAN_KEYS, findings) else {
            continue;
        };
        let name = given.required("name", "name: Throttle position", findings);
        let kind = given.required("kind", "kind: raw", findings);
        let valid = given.interval("valid", Dimension::Voltage, findings);
        let substitute = given.text("substitute", findings).map(|text| text.value);
        let says = given.text("says", findings).map(|text| text.value);
        let (Some(name), Some(kind)) = (name, kind) else {
            continue;
        };
        let kind = match kind.value.as_str() {
            "raw" => ScanKind::Raw,
            "derived" => ScanKind::Derived {
                valid: valid.map(|valid| valid.value),
                substitute,
            },
            other => {
                let words = &["raw", "derived"];
                findings.push(kinds::unknown_scan_kind(&kind.place, other, words));
                continue;
            }
        };
        let role = given
            .text("of", findings)
            .map_or_else(|| "signal".to_owned(), |role| role.value);
        values.push(ScanValue {
            name,
            role,
            kind,
            says,
        });
    }
    values
}

const SOURCE_KINDS: &[(&str, SourceKind)] = &[
    ("published", SourceKind::Published),
    ("measured here", SourceKind::MeasuredHere),
    ("common practice", SourceKind::CommonPractice),
];

fn read_sources(fields: &Fields<'_>, findings: &mut Vec<Finding>) -> Vec<SourceNote> {
    let mut sources = Vec::new();
    for node in fields.list("sources", findings) {
        let known = &["kind", "says", "covers"];
        let Some(given) = Fields::of(node, "a source", known, findings) else {
            continue;
        };
        let kind = given.required("kind", "kind: published", findings);
        let says = given.required("says", "says: Service binder, sheet 22", findings);
        let covers = given
            .get("covers")
            .map(|node| texts(node, "covers", findings))
            .unwrap_or_default();
        let (Some(word), Some(says)) = (kind, says) else {
            continue;
        };
        match SOURCE_KINDS.iter().find(|(known, _)| *known == word.value) {
            Some((_, kind)) => sources.push(SourceNote {
                kind: *kind,
                says,
                covers,
            }),
            None => {
                let words: Vec<&str> = SOURCE_KINDS.iter().map(|(known, _)| *known).collect();
                findings.push(kinds::unknown_source_kind(&word.place, &word.value, &words));
            }
        }
    }
    sources
}

/// Markdown keeps its line ends.
fn notes(fields: &Fields<'_>, findings: &mut Vec<Finding>) -> String {
    let notes = fields.text("notes", findings);
    notes.map(|notes| notes.value).unwrap_or_default()
}
