//! Expected readings: what a good circuit reads at each test, over its variants and states.
//!
//! In: the variants with their tests hooked up. Out: [`Expected`] lines beside each test. Never: solves.

use super::signal::{reads_signal, stated};
use super::types::{Expected, Hooked, TestSheet, Variant};
use crate::card::{Card, ScanKind, ScanValue, TestSpec};
use crate::circuit::Band;

/// Healthy readings a test, over the variants: one line where they agree, else one a variant.
pub(super) fn add_expected(
    card: &Card,
    built: &[Variant],
    specs: &[&TestSpec],
    sheets: &mut [TestSheet],
) {
    for variant in built {
        for hooked in variant
            .hooked
            .iter()
            .filter(|hooked| !is_second(card, hooked))
        {
            let sheet = &mut sheets[hooked.test];
            let same =
                |known: &Expected| known.state == hooked.state && alike(&known.band, &hooked.band);
            if sheet.expected.iter().any(same) {
                continue;
            }
            let doubled = sheet
                .expected
                .iter()
                .any(|known| known.state == hooked.state);
            let state = match (doubled, hooked.state.is_empty()) {
                (false, _) => hooked.state.clone(),
                (true, true) => format!("if {}", variant.says),
                (true, false) => format!("{}, if {}", hooked.state, variant.says),
            };
            let stated = if reads_signal(card, specs[hooked.test]) {
                stated(card, &hooked.state)
            } else {
                None
            };
            sheet.expected.push(Expected {
                state,
                band: hooked.band.clone(),
                stated,
                instead: watched(card, hooked)
                    .map(|scan| instead(&scan.kind, &hooked.band))
                    .unwrap_or_default(),
            });
        }
    }
    name_first_variant(built, sheets);
}

/// Where a test came out differently in a later variant, its first line says its own variant too.
fn name_first_variant(built: &[Variant], sheets: &mut [TestSheet]) {
    let [first, _, ..] = built else { return };
    for sheet in sheets {
        let split = sheet
            .expected
            .iter()
            .any(|line| line.state.contains("if the ") || line.state.starts_with("if "));
        if let (true, Some(line)) = (split, sheet.expected.first_mut())
            && line.state.is_empty()
        {
            line.state = format!("if {}", first.says);
        }
    }
}

/// Two bands a reader would call the same: ends within 20 mV or 2 %.
fn alike(a: &Band, b: &Band) -> bool {
    let near = |x: f64, y: f64| (x - y).abs() <= 0.02_f64.max(0.02 * x.abs().max(y.abs()));
    a.floating == b.floating
        && a.no_path == b.no_path
        && a.intervals.len() == b.intervals.len()
        && a.intervals
            .iter()
            .zip(&b.intervals)
            .all(|(a, b)| near(a.low, b.low) && near(a.high, b.high))
}

/// What a scan tool shows in place of volts that a derived value does not follow; empty where it follows them.
pub fn instead(kind: &ScanKind, band: &Band) -> String {
    let ScanKind::Derived { valid, substitute } = kind else {
        return String::new();
    };
    match (valid, substitute) {
        (Some(valid), _) if band.lies_within(*valid) => String::new(),
        (_, Some(substitute)) => substitute.clone(),
        (Some(_), None) => "shows a substitute, or stays put".to_owned(),
        (None, None) => "need not follow the pin".to_owned(),
    }
}

/// Whether a test is read here by a second scan value, beside one that follows the pin.
fn is_second(card: &Card, hooked: &Hooked) -> bool {
    watched(card, hooked).is_some_and(|own| {
        let raw = |other: &ScanValue| other.role == own.role && other.kind == ScanKind::Raw;
        own.kind != ScanKind::Raw && card.scan.iter().any(raw)
    })
}

/// The scan value that a test watches; none for a meter.
fn watched<'a>(card: &'a Card, hooked: &Hooked) -> Option<&'a ScanValue> {
    card.scan.get(hooked.scan?)
}
