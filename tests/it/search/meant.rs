//! Names of the trade hidden behind other words, halves of them in every position, words for what is wrong, the name of a
//! vehicle with its year, and lists that must not be empty between two letters. What is meant is common practice, no source.

use super::decks::demo;
use super::typed::first;
use super::{cards, opened};
use loomleaf::card::{read, shipped};
use loomleaf::index::Search;
use std::collections::BTreeMap;

const DECK: &str = "title: Hollow quay\nwords:\n\
    \x20 - [deadman bar, seat switch, presence]\n\
    \x20 - [zisterne, tank level]\n\
    \x20 - [what is wrong, kaputt, im eimer]\n";

/// A sensor of two wires by title, other names, codes and vehicles.
fn sensor([title, also, codes, fits]: [&str; 4]) -> String {
    format!(
        "title: {title}\nfamily: thermistor-2wire\nalso_called: [{also}]\ncodes: [{codes}]\nfits: [{fits}]\n\
         pins:\n  1: {{role: signal}}\n  2: {{role: ground}}\n"
    )
}

/// A yard with words that begin like names of the trade.
fn yard() -> Search {
    let cards = [
        (
            "probe",
            [
                "Cold room probe",
                "apple store thermometer, deadmans bell",
                "",
                "Store",
            ],
        ),
        (
            "pedal",
            [
                "Foot pedal sensor",
                "",
                "P2122, P2123",
                "Thicket loader 2018-2021",
            ],
        ),
        ("seat", ["Seat switch", "", "", "Otter dumper 2015-2019"]),
        (
            "tank",
            [
                "Spray tank level sender",
                "",
                "",
                "Mistral sprayer 2021-2023",
            ],
        ),
        (
            "accelerator",
            [
                "Accelerator pedal position sensor",
                "",
                "",
                "Lift truck 2018",
            ],
        ),
    ];
    let cards = cards.map(|(id, texts)| (format!("cards/{id}.yaml"), sensor(texts)));
    let deck = [("deck.yaml".to_owned(), DECK.to_owned())];
    let files = deck.into_iter().chain(cards);
    let files: BTreeMap<_, _> = files
        .map(|(path, text)| (path, text.into_bytes()))
        .collect();
    let (deck, _) = read(&files, &shipped());
    opened(&deck.unwrap())
}

#[test]
fn a_name_of_the_trade_is_not_hidden_by_words_that_begin_like_it() {
    let mut search = yard();
    first(&mut search, "app", "accelerator");
    assert!(cards(&search.find("app")).contains(&"probe"));
    // Half of a name of the deck's own, beside a card that has that word.
    let found = search.find("deadman");
    assert!(cards(&found).contains(&"seat") && cards(&found).contains(&"probe"));
    // And where only the meaning of a code says it.
    let mut deck = demo();
    let egr = deck.cards.iter_mut().find(|card| card.id == "egr-position");
    let codes = egr.unwrap();
    codes.codes[0].value = "P0122".to_owned();
    codes.title.value = "Flap pedal".to_owned();
    let bilge = deck.cards.iter_mut().find(|card| card.id == "bilge-level");
    bilge.unwrap().notes = "Behind the apples.".to_owned();
    let found = opened(&deck).find("app");
    assert!(cards(&found).contains(&"bilge-level"));
    assert!(
        cards(&found).contains(&"egr-position"),
        "{:?}",
        cards(&found)
    );
}

#[test]
fn halves_and_slips_of_a_name_are_known_in_every_position() {
    let mut search = yard();
    for (query, card) in [
        ("deadman otter", "seat"),
        ("otter deadman", "seat"),
        ("zist mistral", "tank"),
        ("zisternne mistral", "tank"),
        ("mistral zistrene 2022", "tank"),
        ("accelerato lift", "accelerator"),
        ("gas peda truck", "accelerator"),
    ] {
        first(&mut search, query, card);
    }
}

#[test]
fn words_for_what_is_wrong_never_empty_a_list() {
    let mut search = opened(&demo());
    for wrong in [
        "short to battery",
        "shorted to plus",
        "short to voltage",
        "short to supply",
        "short to power",
        "short to ground",
        "open circuit",
        "high resistance",
        "corroded",
        "corrodet",
        "intermittent",
        "bad ground",
        "no signal",
        "no power",
        "stuck high",
        "stuck low",
        "reads high",
        "reads low",
        "reads too high",
    ] {
        for (part, card) in [
            ("coolant", "coolant-temperature"),
            ("ramp angle", "ramp-angle"),
        ] {
            first(&mut search, &format!("{part} {wrong}"), card);
            first(&mut search, &format!("{wrong} {part}"), card);
        }
    }
    let query = "winch lever stuck low";
    first(&mut search, query, "winch-lever");
    assert_eq!(search.find(query).left_out, ["stuck low"]);
    // While it is typed, too.
    let query = "winch lever short to battery";
    for end in "winch lever".len()..=query.len() {
        first(&mut search, &query[..end], "winch-lever");
    }
    // A deck has words of its own for it.
    let mut search = yard();
    first(&mut search, "tank kaputt", "tank");
    first(&mut search, "zisterne im eimer", "tank");
    assert_eq!(search.find("tank im eimer").left_out, ["im eimer"]);
}

#[test]
fn a_word_that_has_only_begun_empties_no_list() {
    let mut deck = demo();
    // What a lesson mentions does not hide the circuits.
    deck.lessons.push(loomleaf::card::Lesson {
        id: "x".to_owned(),
        file: "lessons/x.md".to_owned(),
        title: "Coolant by hand".to_owned(),
        text: "Take x for the coolant of 2018, c for the harbour shuttle.".to_owned(),
    });
    let mut search = opened(&deck);
    for query in [
        "coolant x",
        "coolant xx",
        "harbour shuttle 2018 c",
        "harbour shuttle 2018 co",
    ] {
        assert!(!cards(&search.find(query)).is_empty(), "{query}");
    }
    // Whole or longer it has to be there.
    assert!(search.find("coolant xx ").hits.is_empty());
    assert!(search.find("coolant xxx").hits.is_empty());
    for (many, one) in [("supplies", "supply"), ("batteries", "battery")] {
        let found = cards(&search.find(one)).join(" ");
        assert!(!found.is_empty());
        for end in one.len()..=many.len() {
            assert!(
                !cards(&search.find(&many[..end])).is_empty(),
                "{}",
                &many[..end]
            );
        }
        assert_eq!(cards(&search.find(many)).join(" "), found);
    }
}

#[test]
fn the_name_of_a_vehicle_with_a_year_is_that_vehicle() {
    let mut search = opened(&demo());
    // The van is of 2021 and later; a valve's lift on a van's engine is none.
    let answer = search.find("lift van 2020");
    assert!(answer.hits.is_empty(), "{:?}", cards(&answer));
    let apart = answer.lost.unwrap().apart;
    assert!(apart.iter().any(|one| one.without == ["2020"]), "{apart:?}");
    first(&mut search, "lift van 2022 oil", "oil-pressure");
    // A system is no part of a vehicle's name.
    first(
        &mut search,
        "harbour shuttle 2018 van engine coolant",
        "coolant-temperature",
    );
}
