//! Every shipped family as the least card a shop can type: its numbers, its faults, its reasoning.

mod bounds;
mod by_state;
mod claims;
mod derived;
mod numbers;
mod oracle;
mod own_values;
mod shortcuts;
mod sights;
mod trials;

use loomleaf::card::{Deck, read, shipped};
use loomleaf::finding::Finding;
use loomleaf::finding::Severity;
use loomleaf::sheet::{Sheet, sheet};
use std::collections::BTreeMap;

/// Choices a card may leave open, each answered both ways beside the card that leaves it open.
fn answers(family: &str) -> Vec<(&'static str, &'static str)> {
    match family {
        "hall-switch" => vec![
            ("fed", "parameters: {fed_by: reference}\n"),
            ("pulled", "parameters: {pulled_to: battery}\n"),
        ],
        "position-pot"
        | "position-dual"
        | "position-dual-separate"
        | "pressure-ratiometric"
        | "pressure-temperature" => vec![
            ("up", "parameters: {pull: up}\n"),
            ("down", "parameters: {pull: down}\n"),
        ],
        _ => vec![],
    }
}

/// A deck of one minimal card a family: pins in the order of the roles and nothing else; and one card more
/// for each answer to a choice the family leaves to the card.
pub(super) fn deck() -> (Deck, Vec<Finding>) {
    let blank = |family: &str| format!("title: Circuit of {family}\nfamily: {family}\npins:\n");
    let mut files = BTreeMap::from([("deck.yaml".to_owned(), b"title: Families\n".to_vec())]);
    let known = read(&files, &shipped()).0.unwrap().families;
    for (name, family) in &known {
        let mut text = blank(name);
        for (number, role) in family.roles.iter().enumerate() {
            text += &format!("  {}: {{role: {role}}}\n", number + 1);
        }
        for (word, more) in answers(name) {
            let card = text.replace("Circuit of", &format!("{word} in the circuit of")) + more;
            files.insert(format!("cards/{name}-{word}.yaml"), card.into_bytes());
        }
        files.insert(format!("cards/{name}.yaml"), text.into_bytes());
    }
    let (deck, findings) = read(&files, &shipped());
    (deck.unwrap(), findings)
}

/// A card that fills its page: a pressure sensor with temperature, four long labels, three points, scan values, wires,
/// sources, notes.
const FULL: &str = "\
title: Air pressure and temperature in the duct behind the second cooler, starboard engine of the long ferry
family: pressure-temperature
codes: [P0106, P0107, P0108, P0112, P0113]
pins:
  T1-17: {role: ground, wire: BKWH}
  T1-18: {role: temperature signal, wire: VTOG}
  T1-19: {role: reference, wire: RDGY}
  T1-20: {role: signal, wire: GNPK}
signal:
  - {at: '100 kPa, 20 C', reads: 1.9 to 2.1 V, also: {temperature signal: 2.5 to 2.9 V}}
  - {at: '150 kPa, 40 C', reads: 2.9 to 3.15 V, also: {temperature signal: 1.6 to 2.1 V}}
  - {at: '200 kPa, 60 C', reads: 3.9 to 4.2 V, also: {temperature signal: 1.0 to 1.4 V}}
scan:
  - {name: Duct pressure, kind: raw}
  - {name: Duct temperature, kind: derived, of: temperature signal, valid: 0.2 to 4.85 V, substitute: shows -40 C}
connector: {shape: rectangular, rows: [[T1-17, T1-18, T1-19, T1-20]], keying: bottom, view: part face}
wires:
  reference: {length: 4.1 m, size: 0.75 mm2}
  signal: {length: 4.1 m, size: 0.75 mm2}
cautions: ['Hot pipe beside the plug.', 'The fan may start by itself: pull the isolator and put your tag on it.']
fits: [Long ferry 2011-2019 with the cold package, Harbour shuttle 2017-2020, Lift van 2015-2021]
also_called: [duct sensor, second cooler sensor]
sources:
  - {kind: published, says: 'Workshop binder 4, sheet 118 revision C, with the slip of the spring service', covers: [pins, signal]}
  - {kind: measured here, says: three boats in the yard, covers: [wires]}
notes: |
  The plug sits behind the floor plate; take the two rear bolts out only.

  - Water stands in the boot after washing: blow it dry **before** reading.
  - The port connector looks the same and carries the other engine.
";

/// Every family as a shop with large connectors types it: long labels and titles, wires of two colours, a connector drawn as the
/// part shows it; and one card that fills its page.
pub(crate) fn long() -> Deck {
    let mut files = BTreeMap::from([
        (
            "deck.yaml".to_owned(),
            b"title: Workshop of the outer islands and their cable railways\n".to_vec(),
        ),
        ("cards/full.yaml".to_owned(), FULL.into()),
    ]);
    let known = read(&files, &shipped()).0.unwrap().families;
    let wires = ["RDGY", "BKWH", "VTOG", "GNPK", "BUYE", "BNTQ"];
    for (name, family) in &known {
        let label = |number: usize| match number {
            0 => "87/Pump".to_owned(),
            number => format!("A12-{number}"),
        };
        let mut text = format!(
            "title: The {name} circuit at the bulkhead connector of the starboard engine room\nfamily: {name}\npins:\n"
        );
        for (number, role) in family.roles.iter().enumerate() {
            let wire = wires[number % wires.len()];
            text += &format!("  {}: {{role: {role}, wire: {wire}}}\n", label(number));
        }
        let row: Vec<String> = (0..family.roles.len()).map(label).collect();
        text += &format!(
            "connector: {{shape: rectangular, rows: [[{}]], keying: top, view: part face}}\n",
            row.join(", ")
        );
        text += "notes: Behind the floor plate, two bolts.\n";
        files.insert(format!("cards/{name}.yaml"), text.into_bytes());
    }
    let (deck, findings) = read(&files, &shipped());
    let wrong: Vec<&Finding> = findings
        .iter()
        .filter(|one| one.kind.severity == Severity::Error)
        .collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
    deck.unwrap()
}

/// The sheet of one more card on a deck of its own, which must be without findings.
pub(super) fn sheet_of(card: &str) -> Sheet {
    let files = BTreeMap::from([
        ("deck.yaml".to_owned(), b"title: Families\n".to_vec()),
        ("cards/one.yaml".to_owned(), card.as_bytes().to_vec()),
    ]);
    let (deck, findings) = read(&files, &shipped());
    assert!(findings.is_empty(), "{findings:#?}");
    let deck = deck.unwrap();
    let (sheet, findings) = sheet(&deck, &deck.cards[0]);
    // Advice on an order is what some of these cards are for.
    let only_advice = findings
        .iter()
        .all(|one| one.kind.severity == Severity::Advice);
    assert!(only_advice, "{findings:#?}");
    sheet.unwrap()
}
