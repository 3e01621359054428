//! What good circuits of the families read, against numbers from outside.

use super::{deck, sheet_of};
use loomleaf::circuit::{Band, Reading};
use loomleaf::sheet::{Sheet, sheet};

/// What a test of a card must read with every part nominal, and why.
type Known = (&'static str, &'static str, f64, f64, &'static str);

/// Test, state, reading, tolerance as part of it, source. Wires and contacts of 0.1 ohm and the meter's
/// 10 Mohm are left out of the numbers and inside the tolerance.
const BY_HAND: &[(&str, &[Known])] = &[
    (
        "can-pair",
        &[
            (
                "pair-ohms",
                "",
                60.0,
                0.005,
                "ISO 11898-2: 120 ohm at each end",
            ),
            ("near-ohms", "", 120.0, 0.005, "ISO 11898-2"),
            ("far-ohms", "", 120.0, 0.005, "ISO 11898-2"),
            ("idle-high", "", 2.5, 0.005, "ISO 11898-2, recessive level"),
            ("idle-low", "", 2.5, 0.005, "ISO 11898-2, recessive level"),
        ],
    ),
    (
        "current-speed",
        &[
            (
                "sensor-current",
                "lower level",
                0.7,
                0.005,
                "7 mA over 100 ohm, from memory",
            ),
            (
                "sensor-current",
                "upper level",
                1.4,
                0.005,
                "14 mA over 100 ohm, from memory",
            ),
            ("substitute", "", 1.0899, 0.005, "divider: 12 x 100 / 1101"),
        ],
    ),
    (
        "exhaust-rtd",
        &[
            (
                "sensor-ohms",
                "600 C",
                627.416,
                1e-3,
                "IEC 60751, computed outside",
            ),
            ("at-rest", "20 C", 0.89, 0.006, "common practice, no source"),
            (
                "at-rest",
                "600 C",
                1.93,
                0.003,
                "common practice, no source",
            ),
            (
                "at-rest",
                "850 C",
                2.19,
                0.003,
                "common practice, no source",
            ),
            ("loaded", "", 0.8333, 0.003, "divider: 5 x 200 / 1200"),
        ],
    ),
    (
        "fuel-sender",
        &[
            ("substitute", "", 1.1628, 0.005, "divider: 5 x 100 / 430"),
            ("loaded", "", 1.1628, 0.005, "divider: 5 x 100 / 430"),
        ],
    ),
    (
        "hall-switch",
        &[
            (
                "toggles",
                "magnet away",
                5.0,
                0.002,
                "open output on a pull-up to 5 V",
            ),
            (
                "toggles",
                "magnet near",
                0.0562,
                0.05,
                "divider: 5 x 25 / 2225",
            ),
        ],
    ),
    (
        "switch-coded",
        &[
            (
                "at-rest",
                "at rest",
                4.5455,
                0.002,
                "divider: 5 x 10 k / 11 k",
            ),
            (
                "at-rest",
                "first position",
                0.8864,
                0.003,
                "divider, 220.2 ohm beside 10 k",
            ),
            (
                "at-rest",
                "second position",
                1.9453,
                0.003,
                "divider, 680.2 ohm beside 10 k",
            ),
            (
                "at-rest",
                "third position",
                3.1251,
                0.003,
                "divider, 2000.2 ohm beside 10 k",
            ),
            ("substitute", "", 2.5, 0.003, "divider: 1 k and 1 k"),
        ],
    ),
    (
        "variable-reluctance",
        &[
            ("at-rest", "", 2.6077, 0.003, "divider: 5 x 10.9 k / 20.9 k"),
            ("return-bias", "", 2.5, 0.003, "divider: 10 k and 10 k"),
        ],
    ),
    (
        "position-pot-up",
        &[
            (
                "open-signal",
                "",
                5.0,
                0.002,
                "nothing draws through the pull-up",
            ),
            ("force", "", 0.0, 0.01, "joined to ground"),
        ],
    ),
    (
        "position-pot-down",
        &[
            (
                "open-signal",
                "",
                0.0,
                0.01,
                "nothing draws through the pull-down",
            ),
            ("force", "", 5.0, 0.002, "joined to the reference"),
        ],
    ),
];

/// The row `ntc_pullup` of a thermistor by Steinhart and Hart's equation (A 1.40e-3, B 2.37e-4, C 9.90e-8,
/// computed outside) on 5 V through 2490 ohm: °C and volts.
const THERMISTOR: [(&str, f64); 4] = [
    ("20 C", 3.0311),
    ("80 C", 0.6692),
    ("100 C", 0.3852),
    ("120 C", 0.2281),
];

fn band<'a>(sheet: &'a Sheet, test: &str, state: &str) -> &'a Band {
    let found = sheet.tests.iter().find(|known| known.id == test).unwrap();
    let line = found.expected.iter().find(|line| line.state == state);
    &line.unwrap_or_else(|| panic!("{test} {state}")).band
}

fn nominal(band: &Band) -> f64 {
    match band.nominal {
        Some(Reading::Value(value)) => value,
        other => panic!("{other:?}"),
    }
}

fn check(sheet: &Sheet, (test, state, reads, part, source): Known) {
    let band = band(sheet, test, state);
    let value = nominal(band);
    let off = (value - reads).abs();
    let near = off <= part * reads.max(1.0).min(reads.abs() + 0.2);
    assert!(
        near,
        "{} {test} {state}: {value}, {source}: {reads}",
        sheet.card
    );
    let inside = band
        .intervals
        .iter()
        .any(|span| span.low <= reads && reads <= span.high);
    assert!(
        inside,
        "{} {test} {state}: {reads} not in {band:?}",
        sheet.card
    );
}

#[test]
fn every_family_solves_without_findings_and_every_test_has_a_band() {
    let (deck, findings) = deck();
    assert!(findings.is_empty(), "{findings:#?}");
    assert!(deck.families.len() >= 16);
    for card in &deck.cards {
        let (found, findings) = sheet(&deck, card);
        assert!(findings.is_empty(), "{}: {findings:#?}", card.id);
        let found = found.unwrap();
        for test in &found.tests {
            assert!(!test.expected.is_empty(), "{} {}", card.id, test.id);
            for line in &test.expected {
                let read = !line.band.intervals.is_empty() || line.band.no_path;
                assert!(
                    read && !line.band.floating,
                    "{} {} {line:?}",
                    card.id,
                    test.id
                );
            }
        }
        let known = BY_HAND.iter().filter(|(family, _)| *family == card.id);
        for row in known.flat_map(|(_, rows)| *rows) {
            check(&found, *row);
        }
    }
    let carded = |id: &str| deck.cards.iter().any(|card| card.id == id);
    assert!(BY_HAND.iter().all(|(id, _)| carded(id)));
}

/// A sensor on two wires, unplugged: 4.8 V and more counts as the full 5 V (common practice, no source).
#[test]
fn a_good_five_volt_supply_reads_at_least_4_8_v() {
    let (deck, _) = deck();
    for id in [
        "thermistor-2wire",
        "exhaust-rtd",
        "fuel-sender",
        "switch-ground",
        "switch-coded",
    ] {
        let card = deck.cards.iter().find(|card| card.id == id).unwrap();
        let found = sheet(&deck, card).0.unwrap();
        let low = band(&found, "supply", "").intervals[0].low;
        assert!(4.8 <= low, "{id}: {low}");
    }
}

/// At most 0.2 V over relay contact and wire, and over the ground path (common practice, no source).
#[test]
fn a_good_relay_fed_load_loses_at_most_a_fifth_of_a_volt_on_either_side() {
    let (deck, _) = deck();
    let card = deck
        .cards
        .iter()
        .find(|card| card.id == "load-relay-fed")
        .unwrap();
    let found = sheet(&deck, card).0.unwrap();
    for test in ["feed-drop", "ground-drop"] {
        let high = band(&found, test, "relay on").intervals[0].high;
        assert!(high <= 0.2, "{test}: {high}");
    }
}

#[test]
fn a_thermistor_by_curve_reads_what_the_divider_gives() {
    let points: String = THERMISTOR
        .iter()
        .map(|(at, _)| format!("  - {{at: {at}}}\n"))
        .collect();
    let found = sheet_of(&format!(
        "title: Coolant\nfamily: thermistor-2wire\npins:\n  1: {{role: signal}}\n  2: {{role: ground}}\n\
         curve: {{a: 1.40e-3, b: 2.37e-4, c: 9.90e-8, within: 3 %}}\nsignal:\n{points}"
    ));
    for (at, volts) in THERMISTOR {
        let reads = nominal(band(&found, "at-rest", at));
        // A few tenths of an ohm of wire, as parts of the least resistance.
        assert!((reads - volts).abs() < 2e-3, "{at}: {reads}, {volts}");
    }
}

/// 0.5 to 4.5 V on 5 V are 10 to 90 % of any reference (common practice): 2.4 V on 4.8 V is half way,
/// 2.5 V on 4.8 V is 52.604 % of the span (computed).
#[test]
fn a_ratiometric_sensor_follows_its_reference() {
    let found = sheet_of(
        "title: Pressure\nfamily: pressure-ratiometric\nreference: 4.8 V ± 1 %\npins:\n  1: {role: reference}\n  \
         2: {role: ground}\n  3: {role: signal}\nsignal:\n  - {at: half, reads: 2.39 to 2.41 V}\n  \
         - {at: more, reads: 2.49 to 2.51 V}\n",
    );
    let states = found.variants[0]
        .hooked
        .iter()
        .filter(|hooked| !hooked.state.is_empty());
    let mut told = 0;
    for (hooked, span) in states.zip([50.0, 52.604]) {
        told += 1;
        let share = hooked.hookup.setting.overrides[0].1.nominal;
        let percent = (share - 0.1) / 0.8 * 100.0;
        assert!((percent - span).abs() < 0.1, "{}: {percent}", hooked.state);
    }
    assert_eq!(told, 2);
}
