//! `diagnose` where readings are typed with few digits: nothing is proven beyond what they tell.

use super::diagnose::{demo, each, on, texts};
use serde_json::Value;
use std::fs::{create_dir, write};

fn told(readings: &[&str]) -> Value {
    let words: Vec<&str> = readings.iter().copied().chain(["--json"]).collect();
    let ran = demo("diagnose", &words, "");
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    ran.json()
}

/// What is proven of a thing.
fn proven<'a>(told: &'a Value, subject: &str) -> &'a str {
    let all = texts(&told["proven"]);
    let own = all.iter().find(|line| line.starts_with(subject)).copied();
    own.unwrap_or_else(|| panic!("{subject} is not proven: {all:#?}"))
}

/// Ohm's law: of 5 V over a pull-up of 220 kohm, 4.8 kohm in series with the bridge take 0.11 V and 2.4 kohm 0.05 V: a display
/// of one decimal may hide more than one of two. The wires of signal and ground lie in one loop there.
#[test]
fn a_tool_with_one_decimal_proves_the_same_wires_with_more_left_open() {
    let fine = told(&[
        "egr-position",
        "supply=5.00",
        "open-signal=5.00",
        "force=0.00",
    ]);
    let coarse = told(&["egr-position", "supply=5.0", "open-signal=5.0", "force=0.0"]);
    for (told, wire, most) in [
        (&fine, "signal wire", "2.4 kohm"),
        (&fine, "ground wire", "2.4 kohm"),
        (&coarse, "signal wire", "4.8 kohm"),
        (&coarse, "ground wire", "4.8 kohm"),
    ] {
        let proven = proven(told, wire);
        let left = format!("but for series resistance of less than {most}");
        assert!(proven.contains(&left), "{proven}");
    }
}

/// Common practice, no source: nobody types `0` for four tenths of a volt.
#[test]
fn nothing_typed_as_nought_is_no_half_volt() {
    let told = told(&["coolant-temperature", "supply=5", "loaded=0"]);
    let verdict = told["verdict"].as_str().unwrap();
    assert!(verdict.starts_with("There is a fault"), "{verdict}");
    proven(&told, "reference voltage");
}

/// What is told of a card in a deck of its own.
fn of(card: &str, readings: &[&str]) -> Value {
    let deck = tempfile::tempdir().unwrap();
    create_dir(deck.path().join("cards")).unwrap();
    write(deck.path().join("deck.yaml"), "title: Drums\n").unwrap();
    write(deck.path().join("cards/one.yaml"), card).unwrap();
    let words: Vec<&str> = [&["one"], readings, &["--json"]].concat();
    on(deck.path(), "diagnose", &words, "").json()
}

/// Ohm's law: a neighbour that pulls the reference to 1 V does so before the pin's own feed, wherever that is read.
#[test]
fn a_reference_that_a_neighbour_pulls_down_is_found_behind_a_feed() {
    let card = "title: Speed of the drum\nfamily: hall-switch\nparameters: {fed_by: reference}\n\
                pins:\n  1: {role: supply}\n  2: {role: ground}\n  3: {role: signal}\n";
    let told = of(card, &["feed=1.00", "feed-far=1.00", "pull-up=1.00"]);
    let repairs = each(&told["suspects"], "repair");
    // A wire that rubs on the body by ten ohms reads the same.
    let neighbour = |repair: &&str| repair.starts_with("find what pulls the reference voltage");
    assert!(repairs.iter().any(neighbour), "{repairs:?}");
    assert_eq!(repairs.len(), 2, "{repairs:?}");
}

/// Common practice, no source: wires of a pair that touch read next to nothing across, whichever ends hang on; at the part's
/// own pins its resistor reads 120 ohm (ISO 11898-2) all the same.
#[test]
fn wires_of_a_pair_that_touch_are_no_fault_of_the_part() {
    let card = "title: Bus of the drum\nfamily: can-pair\n\
                pins:\n  1: {role: bus high}\n  2: {role: bus low}\n";
    let told = of(
        card,
        &["pair-ohms=0.3 ohm", "near-ohms=0.3 ohm", "far-ohms=120 ohm"],
    );
    let repairs = each(&told["suspects"], "repair");
    // What touches inside the module reads the same.
    let [wires, module] = repairs[..] else {
        panic!("{repairs:?}");
    };
    assert_eq!(
        wires,
        "clear the short between the bus high wire (pin 1) and the bus low wire (pin 2)"
    );
    assert!(module.ends_with("then replace the module"), "{module}");
}

/// Common practice, no source: a 12 V battery with 11.4 V is flat, and nothing need be shorted for that.
#[test]
fn a_flat_battery_comes_before_a_short() {
    let card = "title: Coil of the drum\nfamily: coil-low-side\n\
                pins:\n  1: {role: supply}\n  2: {role: control}\n";
    let told = of(card, &["feed=11.4", "feed-loaded=11.2"]);
    let repairs = each(&told["suspects"], "repair");
    assert_eq!(
        repairs[0], "charge the battery, then test it",
        "{repairs:?}"
    );
}

/// Ohm's law: a short of an ohm on a feed with a tenth of an ohm leaves most of the battery while the fuse is whole.
#[test]
fn a_short_that_a_fuse_still_carries_stays_a_suspect() {
    let card = "title: Fan of the drum\nfamily: load-relay-fed\n\
                pins:\n  1: {role: supply}\n  2: {role: body}\n";
    let told = of(card, &["feed=10.9"]);
    let repairs = each(&told["suspects"], "repair");
    let short = "clear the short between the supply wire (pin 1) and ground, then replace the fuse if it has blown";
    assert!(repairs.contains(&short), "{repairs:?}");
}

/// Common practice, no source: a meter zeroed through worse contact shows a little less than nothing on what is shorted; far
/// less than nothing is a circuit that is live.
#[test]
fn a_little_less_than_no_ohms_is_none() {
    let card = "title: Bus of the drum\nfamily: can-pair\n\
                pins:\n  1: {role: bus high}\n  2: {role: bus low}\n";
    let repairs = |typed: &str| -> Vec<String> {
        let told = of(card, &[typed]);
        let all = each(&told["suspects"], "repair");
        all.into_iter().map(str::to_owned).collect()
    };
    assert_eq!(repairs("near-ohms=-0.1"), repairs("near-ohms=0.1"));
    let ran = demo(
        "diagnose",
        &["coolant-temperature", "sensor-ohms@20 C=-5"],
        "",
    );
    assert!(
        ran.status != 0 && ran.err.contains("take the power off"),
        "{}",
        ran.err
    );
}

/// Common practice, no source: red and black changed over put a minus before what a voltmeter shows.
#[test]
fn volts_below_zero_tell_of_leads_changed_over() {
    let told = told(&["coolant-temperature", "supply=-5.01"]);
    let lines = texts(&told["conflict"]).join(" ");
    assert!(
        lines.contains("the leads may be the other way round"),
        "{lines}"
    );
}

/// Common practice, no source: worn contacts of a switch have ohms, which its own pins show; what good readings prove ends
/// where something is suspected.
#[test]
fn a_switch_that_closes_with_ohms_is_worn() {
    let card = "title: Gate of the drum\nfamily: switch-ground\n\
                pins:\n  1: {role: signal}\n  2: {role: ground}\n";
    let told = of(card, &["switch-ohms@closed=12 ohm"]);
    assert_eq!(each(&told["suspects"], "repair"), ["replace the switch"]);
    let told = of(card, &["switch-ohms@closed=0.5 ohm", "at-rest@closed=0.9"]);
    let repairs = each(&told["suspects"], "repair");
    assert!(!repairs.contains(&"replace the switch"), "{repairs:?}");
    let proven = texts(&told["proven"]);
    assert!(
        !proven.iter().any(|one| one.contains("contact")),
        "{proven:?}"
    );
}

/// Common practice, no source: the same temperature is the same, however it is written; the part is read where it was off.
#[test]
fn a_temperature_of_ones_own_is_read_at_every_test() {
    let first = told(&["coolant-temperature", "at-rest@34 C=4.3", "supply=5.0"]);
    assert_eq!(
        first["next"]["place"], "sensor-ohms@34 C",
        "{:#}",
        first["next"]
    );
    let cleared = told(&[
        "coolant-temperature",
        "at-rest@40 C=3.0",
        "sensor-ohms@104 F=1.48 kohm",
    ]);
    let repairs = each(&cleared["suspects"], "repair");
    assert!(!repairs.contains(&"replace the sensor"), "{repairs:?}");
}
