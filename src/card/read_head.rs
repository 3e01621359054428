//! `deck.yaml`: the shop's name, its systems, and what holds for all of its cards.
//!
//! In: the deck's files. Out: a [`Deck`] without cards and findings. Never: cards, families, readings.

use super::fields::{Fields, text};
use super::places::tree;
use super::read_words::read_groups;
use super::{Deck, DropLimit, KnownGoodSpec, MeterSpec};
use crate::finding::{Finding, kinds};
use crate::quantity::{Dimension, Toleranced, read_quantity};
use std::collections::BTreeMap;

const DECK_KEYS: &[&str] = &[
    "title",
    "says",
    "systems",
    "meter",
    "battery",
    "known_good",
    "drop_limit",
    "words",
];

/// Reads `deck.yaml` into a deck without cards.
pub(super) fn read_head(
    files: &BTreeMap<String, Vec<u8>>,
    findings: &mut Vec<Finding>,
) -> Option<Deck> {
    let Some(bytes) = files.get("deck.yaml") else {
        findings.push(kinds::no_deck_file());
        return None;
    };
    let node = tree("deck.yaml", bytes, "title: Our workshop", findings)?;
    let fields = Fields::of(&node, "a deck", DECK_KEYS, findings)?;
    let title = fields.required("title", "title: Our workshop", findings);
    let battery = fields.toleranced("battery", Dimension::Voltage, findings);
    let (systems, meter) = (
        read_systems(&fields, findings),
        read_meter(&fields, findings),
    );
    let says = fields.words("says", findings);
    let known_good = read_known_good(&fields, findings);
    let drop_limit = read_drop_limit(&fields, findings);
    let words = fields.get("words");
    let words = words.map_or_else(Vec::new, |node| read_groups(node, findings));
    Some(Deck {
        title: title?.value,
        says,
        systems,
        meter,
        battery: battery.map_or(BATTERY, |battery| battery.value),
        known_good,
        drop_limit,
        readings: BTreeMap::new(),
        cards: Vec::new(),
        lessons: Vec::new(),
        families: BTreeMap::new(),
        cautions: BTreeMap::new(),
        words,
        meanings: BTreeMap::new(),
    })
}

/// Resting to charging, 12 V lead-acid: common practice of the trade, no source.
const BATTERY: Toleranced = Toleranced {
    low: 11.8,
    nominal: 12.6,
    high: 14.8,
};

/// ± (0.5 % + 2 counts) on 6000 counts: common practice for hand-held meters, no source.
const METER: MeterSpec = MeterSpec {
    of_reading: 0.005,
    counts: 2.0,
    display: 6000.0,
};

fn read_systems(fields: &Fields<'_>, findings: &mut Vec<Finding>) -> Vec<(String, String)> {
    let below = fields
        .get("systems")
        .and_then(|node| Fields::unchecked(node, "`systems`", findings));
    let Some(below) = below else {
        return Vec::new();
    };
    let mut systems = Vec::new();
    for (at, entry) in below.entries().iter().enumerate() {
        if let Some(first) = below.earlier(at) {
            findings.push(kinds::doubled_key(&entry.place, &entry.key, &first.place));
        } else if let Some(title) = text(&entry.value, &entry.key, findings) {
            systems.push((entry.key.clone(), title.value));
        }
    }
    systems
}

/// `{accuracy: 0.5 % + 2, display: 6000}`.
fn read_meter(fields: &Fields<'_>, findings: &mut Vec<Finding>) -> MeterSpec {
    let known = &["accuracy", "display"];
    let given = fields
        .get("meter")
        .and_then(|node| Fields::of(node, "a meter", known, findings));
    let Some(given) = given else {
        return METER;
    };
    let mut meter = METER;
    if let Some(typed) = given.text("accuracy", findings) {
        match accuracy(&typed.value) {
            Some((of_reading, counts)) => {
                meter.of_reading = of_reading;
                meter.counts = counts;
            }
            None => findings.push(kinds::misread_number(
                &typed.place,
                &typed.value,
                "an accuracy of reading and counts",
                "0.5 % + 2",
            )),
        }
    }
    if let Some(typed) = given.text("display", findings) {
        match plain(&typed.value).filter(|display| *display >= 100.0) {
            Some(display) => meter.display = display,
            None => findings.push(kinds::misread_number(
                &typed.place,
                &typed.value,
                "the largest display in counts",
                "6000",
            )),
        }
    }
    meter
}

/// 95 % and 95 %: common practice, no source.
const KNOWN_GOOD: KnownGoodSpec = KnownGoodSpec {
    confidence: 0.95,
    coverage: 0.95,
};

/// `{confidence: 95 %, coverage: 95 %}`.
fn read_known_good(fields: &Fields<'_>, findings: &mut Vec<Finding>) -> KnownGoodSpec {
    let known = &["confidence", "coverage"];
    let given = fields
        .get("known_good")
        .and_then(|node| Fields::of(node, "a known-good band", known, findings));
    let Some(given) = given else {
        return KNOWN_GOOD;
    };
    let mut part = |key: &str, usual: f64| {
        let Some(typed) = given.text(key, findings) else {
            return usual;
        };
        match plain(&typed.value).filter(|part| 0.5 < *part && *part <= 0.9999) {
            Some(part) => part,
            None => {
                let what = format!("a {key} of more than 50 % and at most 99.99 %");
                findings.push(kinds::misread_number(
                    &typed.place,
                    &typed.value,
                    &what,
                    "95 %",
                ));
                usual
            }
        }
    };
    KnownGoodSpec {
        confidence: part("confidence", KNOWN_GOOD.confidence),
        coverage: part("coverage", KNOWN_GOOD.coverage),
    }
}

/// `{limit: 0.4 V, whose: our workshop}`.
fn read_drop_limit(fields: &Fields<'_>, findings: &mut Vec<Finding>) -> Option<DropLimit> {
    let node = fields.get("drop_limit")?;
    let given = Fields::of(node, "a limit of drops", &["limit", "whose"], findings)?;
    let typed = given.required("limit", "limit: 0.4 V", findings)?;
    let whose = given.words("whose", findings);
    let read = |dimension| read_quantity(&typed.value, dimension).ok();
    let volts = read(Dimension::Voltage).or_else(|| read(Dimension::Ratio));
    if volts.is_none_or(|limit| limit.number <= 0.0) {
        let what = "a drop above zero, in volts or percent of the supply";
        findings.push(kinds::misread_number(
            &typed.place,
            &typed.value,
            what,
            "0.4 V",
        ));
        return None;
    }
    let whose = if whose.is_empty() {
        "this deck's".to_owned()
    } else {
        whose
    };
    Some(DropLimit {
        limit: typed.value,
        whose,
    })
}

fn accuracy(typed: &str) -> Option<(f64, f64)> {
    let typed = typed
        .trim()
        .trim_start_matches('±')
        .trim_matches(['(', ')', ' ']);
    let (percent, counts) = typed.split_once('+').unwrap_or((typed, "0"));
    let counts = counts
        .trim()
        .trim_end_matches("counts")
        .trim_end_matches("digits");
    let of_reading = percent.trim().ends_with('%').then(|| plain(percent))??;
    Some((of_reading, plain(counts)?))
}

/// A ratio or plain number of at least zero.
fn plain(typed: &str) -> Option<f64> {
    let read = read_quantity(typed, Dimension::Ratio).ok()?;
    (read.number >= 0.0).then_some(read.number)
}
