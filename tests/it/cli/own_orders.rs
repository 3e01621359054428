//! Orders and tests that a shop types itself: what the terminal says of them.

use super::diagnose::{each, on, texts};
use super::{DECK, GOOD, Room};

/// Common practice, no source: a jumper to the rail at which the open input rests moves nothing in a good
/// circuit, so that nothing moved neither proves the wire nor names it.
#[test]
fn a_jumper_to_the_resting_rail_proves_nothing() {
    let card = GOOD.1.replace("pull: down", "pull: up")
        + "tests:
  tie:
    title: Jumper to the reference
    plug: unplugged
    key: on
    bridge: [signal, reference]
    scan: signal
    minutes: 1
order: [supply, open-signal, tie, force, at-rest]
";
    let room = Room::with(&[DECK, ("deck/cards/lever.yaml", &card)]);
    let told = on(
        &room.0.path().join("deck"),
        "diagnose",
        &["lever", "tie=no change", "--json"],
        "",
    )
    .json();
    let cited = ["rests_on", "set_aside"].map(|key| each(&told[key], "says").join("; "));
    assert!(cited.concat().contains("no change expected"), "{cited:?}");
    let proven = texts(&told["proven"]);
    let input = |one: &&str| one.starts_with("module input signal");
    assert!(!proven.iter().any(input), "{proven:?}");
    let left = each(&told["suspects"], "repair");
    let wire = "repair the signal wire (pin 2) between the connector and the module";
    assert!(left.contains(&wire), "{left:?}");
    assert_ne!(told["next"]["test"], "tie");
}

/// Hand derivation: the supply across two pins says nothing of the third.
#[test]
fn a_typed_order_that_can_not_tell_wire_from_part_gets_advice() {
    let card = format!("{}order: [supply]\n", GOOD.1);
    let room = Room::with(&[DECK, ("deck/cards/lever.yaml", &card)]);
    let ran = room.run("inspect /deck");
    assert_eq!(ran.status, 0);
    for words in [
        "advice[ambiguous-order]: the order cannot tell `signal wire open` from ",
        "try: add the test `",
    ] {
        assert!(ran.out.contains(words), "{}", ran.out);
    }
    let text = room.run("order /deck lever");
    assert!(
        text.out.contains("Kinds of test that are missing\n"),
        "{}",
        text.out
    );
}

/// Hand derivation: with the plug off no contact lies in the current's way, whatever loads the pins.
#[test]
fn contacts_are_shown_by_a_test_with_the_plug_on() {
    let family = "family: sill
title: Sill heater sensor
says: a resistor between the signal and ground
roles: [signal, ground]
module:
  - {regulator: feed, volts: 5 V, series: 0.5 ohm, limit: 100 mA}
  - {resistor: 2 kohm, name: pull-up resistor, between: [feed, signal]}
part:
  - {resistor: 1 kohm, name: element, between: [signal, ground]}
tests:
  supply: {title: Supply across the pins, plug: unplugged, key: on, volts: [signal, ground], minutes: 1}
order: [supply]
";
    let card = "title: Sill\nfamily: sill\npins:\n  1: {role: signal}\n  2: {role: ground}\n";
    let room = Room::with(&[
        DECK,
        ("deck/families/sill.yaml", family),
        ("deck/cards/sill.yaml", card),
    ]);
    let told = room.run("order /deck sill --json").json();
    let unseen = told["unseen"].as_array().unwrap();
    let of = |fault: &str| unseen.iter().find(|one| one["fault"] == fault).unwrap();
    let contact = of("signal contact open")["by"].to_string();
    assert!(contact.contains("back-probed"), "{contact}");
}
