//! What a sound card and a sound family become.

use super::{CARD, FULL, card, codes, lines};
use loomleaf::card::{
    Card, ELEMENT_KINDS, ObserveSpec, ParameterValue, Plug, ScanKind, Seat, Term, read, shipped,
};
use loomleaf::quantity::Dimension;
use std::collections::{BTreeMap, BTreeSet};

#[test]
fn a_full_card_is_read_as_written() {
    // The comma inside `{ }` is the one thing wrong with it.
    let (_, findings) = card(FULL);
    assert!(
        codes(&findings).contains(&"split-by-comma"),
        "{}",
        lines(&findings)
    );
    let (deck, findings) = card(&FULL.replace("0,3 to", "0.3 to"));
    assert!(findings.is_empty(), "{}", lines(&findings));
    let deck = deck.unwrap();
    let card = deck.cards.iter().find(|card| card.id == "example").unwrap();
    assert_eq!(card.pins[2].label.value, "A");
    assert_eq!(
        (
            card.pins[1].role.place.line,
            card.pins[1].role.place.column,
            card.pins[1].role.place.length
        ),
        (9, 13, 6)
    );
    assert_eq!(card.also_called[0].value, "valve lift sensor");
    let ParameterValue::Value(track) = &card.parameters["track"].value else {
        panic!()
    };
    assert_eq!((track.low, track.nominal), (3760.0, 4700.0));
    assert!(
        matches!(&card.parameters["valid"].value, ParameterValue::Limits(limits) if limits.low == 0.3)
    );
    assert_eq!(
        card.parameters["pull"].value,
        ParameterValue::Choice("up".into())
    );
    assert!(card.parameters.contains_key("reference"));
    assert_eq!(card.signal[0].at_quantity, None);
    assert_eq!(
        card.signal[1]
            .at_quantity
            .map(|at| (at.number, at.dimension)),
        Some((0.5, Dimension::Ratio))
    );
    assert!(
        matches!(&card.scan[1].kind, ScanKind::Derived { substitute: Some(words), .. } if words == "shows 0")
    );
    assert!(
        matches!(&card.tests[0].observes, ObserveSpec::Volts { black, .. } if black.value == "good ground")
    );
    assert_eq!(
        (card.tests[0].plug, card.tests[0].minutes),
        (Plug::Unplugged, 3.0)
    );
    assert_eq!(
        card.tests[0].links[0].through.map(|ohms| ohms.nominal),
        Some(1000.0)
    );
    check_wires_and_connector(card);
    assert_eq!(card.notes, "Look first.");
    assert!(deck.cautions["hot-exhaust"].can_hurt && !deck.cautions["probe-gently"].can_hurt);
}

fn check_wires_and_connector(card: &Card) {
    // 10 ft = 3.048 m exactly: NIST SP 811, appendix B.8.
    assert_eq!(card.wires[0].length, Some(3.048));
    // 20 AWG = 0.5176 mm2: computed from the ASTM B258 diameter 0.8118 mm.
    assert!((card.wires[0].area.unwrap() - 0.5176e-6).abs() < 2e-10);
    let pin = |label: &str| Seat::Pin(label.to_owned());
    assert_eq!(
        card.connector.rows,
        [vec![pin("1"), pin("2")], vec![pin("A")]]
    );
}

#[test]
fn a_family_is_read_as_written() {
    let (deck, findings) = card(CARD);
    assert!(findings.is_empty(), "{}", lines(&findings));
    let families = deck.unwrap().families;
    let family = &families["position-pot"];
    assert_eq!(family.file, "shipped/position-pot.yaml");
    assert_eq!(family.module[0].main.value, Term::Word("vref".into()));
    assert_eq!(
        family.module[0].fields["volts"].value,
        Term::Parameter("reference".into())
    );
    assert!(
        matches!(&family.module[0].fields["limit"].value, Term::Value(amps, Dimension::Current) if amps.nominal == 0.1)
    );
    assert!(
        matches!(&family.module[1].fields["to"].value, Term::Choice(places) if places["up"] == "vref")
    );
    assert_eq!(
        family.part[0].fields["ends"].value,
        Term::Words(vec!["reference".into(), "ground".into()])
    );
    assert_eq!(family.tests.len(), 3);
}

#[test]
fn a_card_may_have_a_circuit_of_its_own() {
    let own = "title: Pad wear loop
circuit:
  roles: [signal, ground]
  parameters:
    loop: {default: 180 ohm ± 5 %}
  module:
    - {regulator: vref, volts: 5 V ± 2 %, series: 0.5 ohm, limit: 100 mA}
    - {resistor: 1 kohm, name: pull-up, between: [vref, signal]}
    - {input: signal, against: vref, series: 10 kohm}
  part:
    - {resistor: $loop, name: pad, between: [signal, ground]}
  tests:
    at-rest: {title: At rest, plug: back-probed, key: on, volts: [signal, ground]}
  order: [at-rest]
pins: {1: signal, 2: ground}
parameters: {loop: 200 ohm}
";
    let (deck, findings) = card(own);
    assert!(findings.is_empty(), "{}", lines(&findings));
    let deck = deck.unwrap();
    let card = deck.cards.iter().find(|card| card.id == "example").unwrap();
    assert!(card.family.value.is_empty());
    assert_eq!(card.circuit.as_ref().unwrap().module.len(), 3);
}

#[test]
fn what_ships_has_no_findings() {
    let files = BTreeMap::from([("deck.yaml".to_owned(), b"title: x".to_vec())]);
    let (deck, findings) = read(&files, &shipped());
    assert_eq!(codes(&findings), ["empty-deck"], "{}", lines(&findings));
    assert!(deck.unwrap().cautions.len() > 5);
}

#[test]
fn every_kind_of_element_names_its_fields_once() {
    for kind in ELEMENT_KINDS {
        let names: BTreeSet<&str> = kind.fields.iter().map(|field| field.name).collect();
        assert_eq!(names.len(), kind.fields.len(), "{}", kind.word);
        assert!(!names.contains(kind.word));
    }
}
