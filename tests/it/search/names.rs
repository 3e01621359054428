//! What technicians type that is not quite a name: half words and slips of words that only mean the same, words that
//! say what is wrong, words beside a code, pins as wires, vehicles of open years. What is meant is common practice, no
//! source.

use super::decks::{demo, made};
use super::typed::{first, fitting, why};
use super::{cards, opened};
use loomleaf::card::{read, shipped};
use loomleaf::index::Kind;
use std::collections::BTreeMap;

#[test]
fn one_of_several_vehicles_may_have_an_open_range() {
    let vehicles = [
        "Yard tractor from 2020",
        "Marsh loader until 2012",
        "Reed cart 2016+",
        "Dune cart 2014",
    ];
    let mut search = fitting("bilge-level", &vehicles);
    for found in [
        "yard tractor 2022 bilge",
        "tractor 2020 bilge",
        "marsh loader 2009 bilge",
        "loader 2012 bilge",
        "reed cart 2019 bilge",
        "cart 2014 bilge",
    ] {
        first(&mut search, found, "bilge-level");
    }
    for lost in [
        "tractor 2019 bilge",
        "loader 2022 bilge",
        "reed cart 2014 bilge",
        "dune cart 2016 bilge",
    ] {
        assert!(search.find(lost).hits.is_empty(), "{lost}");
    }
}

#[test]
fn a_comma_in_the_name_of_a_vehicle_makes_no_second_one() {
    let vehicles = ["Launch, long hull 2016-2019", "Tug \u{b7} old, up to 2009"];
    let mut search = fitting("bilge-level", &vehicles);
    for found in [
        "launch 2017 bilge",
        "launch long hull 2018 bilge",
        "old tug 2005 bilge",
    ] {
        first(&mut search, found, "bilge-level");
    }
    for lost in ["launch 2005 bilge", "tug 2017 bilge", "launch 2020 bilge"] {
        assert!(search.find(lost).hits.is_empty(), "{lost}");
    }
    let line = &search.find("bilge").hits[0].line;
    assert!(
        line.ends_with("Launch, long hull 2016-2019, Tug \u{b7} old, up to 2009"),
        "{line:?}"
    );
    assert!(!line.contains(char::is_control));
}

#[test]
fn a_circuit_of_three_wires_has_three_pins() {
    let deck = demo();
    let mut search = opened(&deck);
    for (pins, ways) in [
        (2, ["2 pin", "2 wire", "2-pin"]),
        (3, ["3 pin", "3 wires", "3wire"]),
        (4, ["4 pins", "4 wire", "4-wire"]),
    ] {
        for way in ways {
            let answer = search.find(way);
            let own = deck.cards.iter().filter(|card| card.pins.len() == pins);
            assert_eq!(answer.totals[Kind::Card as usize], own.count(), "{way}");
        }
    }
    assert!(!cards(&search.find("3 wire sensor")).is_empty());
    // Never empty on the way.
    for start in ["3 w", "3 wi", "3 wir"] {
        assert!(!cards(&search.find(start)).is_empty(), "{start}");
    }
    assert_eq!(why(&search.find("3-pin")), ["value 3-pin"]);
    assert_eq!(why(&search.find("bilge 3")), ["value 3 pins"]);
}

#[test]
fn a_name_is_known_before_its_last_letter_and_with_a_slip() {
    let mut search = opened(&demo());
    for whole in [
        "speedometer",
        "turbocharger pressure",
        "cam sensor",
        "oil pressure sender",
        "goosenecks",
        "crankshaft",
    ] {
        let card = cards(&search.find(whole))
            .first()
            .map(|id| (*id).to_owned());
        let Some(card) = card else { continue };
        for end in 4..whole.len() {
            let found = search.find(&whole[..end]);
            assert!(!cards(&found).is_empty(), "{}", &whole[..end]);
        }
        first(&mut search, &whole[..whole.len() - 1], &card);
    }
    for slip in ["speedomter", "spedometer", "speedomte"] {
        first(&mut search, slip, "output-speed");
    }
}

#[test]
fn words_for_what_is_wrong_are_left_out_and_told() {
    let mut search = opened(&demo());
    for (query, card, out) in [
        ("bilge stuck", "bilge-level", "stuck"),
        ("shorted winch rope counter", "winch-drum-turns", "shorted"),
    ] {
        first(&mut search, query, card);
        assert_eq!(search.find(query).left_out, [out], "{query}");
    }
    // Where the meaning of a card's code says it, it is not left out; alone it is a word as any other.
    assert!(search.find("camshaft intermittent").left_out.is_empty());
    assert!(search.find("stuck").left_out.is_empty());
    // A word that is no fault still has to be there.
    assert!(search.find("bilge xyzzy stuck").hits.is_empty());
}

#[test]
fn words_beside_a_code_only_say_that_it_is_one() {
    let mut search = opened(&demo());
    for query in [
        "code P0117",
        "dtc p0117",
        "error P 0118",
        "trouble code 0117",
    ] {
        first(&mut search, query, "coolant-temperature");
        assert!(search.find(query).left_out.is_empty(), "{query}");
    }
}

#[test]
fn values_are_known_without_their_zero_and_with_r_for_ohm() {
    let mut search = opened(&demo());
    let half = cards(&search.find("0.5 V")).join(" ");
    assert!(!half.is_empty());
    assert_eq!(cards(&search.find(".5 V")).join(" "), half);
    assert_ne!(cards(&search.find("5 V")).join(" "), half);
    let ohms = cards(&search.find("120 ohm")).join(" ");
    assert_eq!(cards(&search.find("120R")).join(" "), ohms);
    assert_eq!(
        cards(&search.find("canbus")).first(),
        cards(&search.find("can bus")).first()
    );
}

#[test]
fn how_many_there_are_is_told_where_not_all_are_shown() {
    let deck = made(300);
    let mut search = opened(&deck);
    let answer = search.find("gannet");
    assert_eq!(cards(&answer).len(), 10);
    let is_own = |card: &&loomleaf::card::Card| card.fits[0].value.starts_with("Gannet");
    let named = deck.cards.iter().filter(is_own).count();
    assert!(named > 10);
    assert_eq!(answer.totals[Kind::Card as usize], named);
}

#[test]
fn every_word_of_a_large_group_is_known() {
    let words: Vec<String> = (0..40).map(|at| format!("zword{}", letters(at))).collect();
    let card = "title: Hull heat\nfamily: thermistor-2wire\nalso_called: [zwordaa]\n\
         pins:\n  1: {role: signal}\n  2: {role: ground}\n";
    let deck = format!("title: Words\nwords: [[{}]]\n", words.join(", "));
    let files = [("deck.yaml", deck.as_str()), ("cards/heat.yaml", card)];
    let files = files.map(|(path, text)| (path.to_owned(), text.as_bytes().to_vec()));
    let (deck, findings) = read(&BTreeMap::from(files), &shipped());
    assert!(findings.is_empty(), "{findings:?}");
    let mut search = opened(&deck.unwrap());
    for word in &words {
        first(&mut search, &format!("{word} "), "heat");
    }
}

/// Two letters, others for each number.
fn letters(number: u8) -> String {
    [number / 26, number % 26]
        .map(|at| char::from(b'a' + at))
        .iter()
        .collect()
}
