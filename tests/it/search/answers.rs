//! What is told beside the order: reasons, other pages, why nothing was found; and that a pack is its deck's.

use super::decks::{demo, made};
use super::{cards, opened};
use crate::browser;
use loomleaf::index::{Answer, Kind, Search};
use loomleaf::publish::{search_pack, sent_pack};

/// `wire green` of the first card.
fn why(answer: &Answer) -> Vec<String> {
    let reasons = answer.hits[0].why.iter();
    reasons
        .map(|reason| format!("{} {}", reason.field.label(), reason.text))
        .collect()
}

/// Ids of a kind.
fn of(answer: &Answer, kind: Kind) -> Vec<&str> {
    let own = answer.hits.iter().filter(|hit| hit.kind == kind);
    own.map(|hit| hit.id.as_str()).collect()
}

#[test]
fn reasons_tell_where_a_word_stands() {
    let mut search = opened(&demo());
    assert_eq!(why(&search.find("gnwh ramp")), ["wire GNWH"]);
    assert_eq!(why(&search.find("green ramp angle")), ["wire green"]);
    assert_eq!(why(&search.find("0405")), ["code P0405"]);
    assert_eq!(why(&search.find("winch 4k7")), ["value 4k7"]);
    assert_eq!(
        why(&search.find("rope count")),
        ["also called rope counter"]
    );
    let answer = search.find("coolant sens");
    let title = answer.hits[0]
        .title
        .iter()
        .map(|(part, own)| (part.as_str(), *own));
    let parts = [
        ("Coolant", true),
        (" temperature ", false),
        ("sensor", true),
    ];
    assert_eq!(title.collect::<Vec<_>>(), parts);
}

#[test]
fn pages_of_every_kind_are_found() {
    let mut search = opened(&demo());
    assert_eq!(
        of(&search.find("voltage drop power"), Kind::Calculator),
        ["voltage-drop"]
    );
    assert_eq!(of(&search.find("120 ohm"), Kind::Family), ["can-pair"]);
    assert_eq!(of(&search.find("p0405"), Kind::Code), ["P0405"]);
    assert_eq!(
        of(&search.find("green crust"), Kind::Lesson),
        ["meter-alone"]
    );
    assert_eq!(
        of(&search.find("pier minibus"), Kind::Vehicle),
        ["Pier minibus 2014-2019"]
    );
    let answer = search.find("U0100");
    assert!(answer.hits.is_empty() && answer.codes.len() == 1);
}

#[test]
fn a_value_is_found_however_it_is_written() {
    let mut search = opened(&demo());
    let mut first = |query: &str| cards(&search.find(query)).join(" ");
    let all = first("4.7 kohm");
    assert!(all.contains("winch-lever"), "{all}");
    for query in ["4k7", "4700 ohm", "4,7 kΩ", "4.7k", "4.7 kohm "] {
        assert_eq!(first(query), all, "{query}");
    }
    assert!(!first("5 V").is_empty());
    assert_eq!(first("5 V"), first("5 volts"));
}

#[test]
fn a_word_that_finds_nothing_is_told_with_its_neighbours() {
    let mut search = opened(&demo());
    let lost = search.find("xyzzy ramp").lost.unwrap();
    let words: Vec<&str> = lost.missing.iter().map(|one| one.word.as_str()).collect();
    assert_eq!(words, ["xyzzy"]);
    // All of them but one are known, so that one may go.
    assert_eq!(lost.apart[0].without, ["xyzzy"]);
    let lost = search.find("rxmp").lost;
    assert_eq!(lost, None, "one slip in four letters is forgiven");
    let lost = search.find("rxxp").lost.unwrap();
    assert!(
        lost.missing[0].near.contains(&"ramp".to_owned()),
        "{lost:?}"
    );
    let lost = search.find("boost winch").lost.unwrap();
    let apart: Vec<(&str, usize)> = lost
        .apart
        .iter()
        .map(|one| (one.without[0].as_str(), one.cards))
        .collect();
    assert_eq!(apart, [("boost", 2), ("winch", 1)]);
}

#[test]
fn codes_and_short_numbers_know_no_slips() {
    let mut search = opened(&demo());
    // One digit beside a code of the deck, with a meaning of its own (content/codes.yaml, from memory).
    let answer = search.find("P0128");
    assert!(answer.hits.is_empty());
    let told = &answer.codes[0];
    assert!(told.code == "P0128" && told.says.as_ref().unwrap().contains("thermostat"));
    let near = &answer.lost.unwrap().missing[0].near;
    assert_eq!(*near, ["P0120", "P0121", "P0122"]);
    let answer = search.find("p1405");
    let told = &answer.codes[0];
    assert_eq!((told.code.as_str(), &told.says), ("P1405", &None));
    assert!(search.find("bench 7").hits.is_empty());
    assert!(search.find("gnpk").hits.is_empty(), "colour letters");
}

#[test]
fn endings_of_verbs_do_not_matter_where_nothing_else_is_found() {
    let mut search = opened(&demo());
    // The notes say `the arm slipping on its shaft` and `hesitates leaving the pier`.
    assert_eq!(cards(&search.find("slipped"))[0], "lift-platform-height");
    assert_eq!(cards(&search.find("hesitated"))[0], "throttle-position");
}

#[test]
fn a_name_of_the_trade_is_known_by_words_that_mean_the_same() {
    let mut search = opened(&demo());
    for query in ["engine temp sensor", "motor temp", "engine temperature"] {
        assert_eq!(
            cards(&search.find(query))[0],
            "coolant-temperature",
            "{query}"
        );
    }
}

#[test]
fn words_of_a_deck_extend_those_that_ship() {
    let mut deck = demo();
    assert!(opened(&deck).find("gooseneck").hits.is_empty());
    deck.words
        .push(vec!["gooseneck".to_owned(), "ramp angle".to_owned()]);
    assert_eq!(cards(&opened(&deck).find("gooseneck"))[0], "ramp-angle");
    assert_eq!(
        cards(&opened(&deck).find("goosenecks signal"))[0],
        "ramp-angle"
    );
}

#[test]
fn every_address_is_a_page_of_the_site() {
    let mut search = opened(&demo());
    let site = browser::demo();
    let mut seen = 0;
    for query in [
        "sensor",
        "p01",
        "calculator",
        "ferry",
        "pin",
        "switch",
        "u",
        "voltage",
        "wire",
    ] {
        for hit in search.find(query).hits {
            assert!(site.contains_key(&hit.address), "{}", hit.address);
            seen += 1;
        }
    }
    assert!(seen > 60, "{seen}");
}

#[test]
fn same_deck_same_pack() {
    let deck = made(300);
    let pack = search_pack(&deck).unwrap();
    assert_eq!(pack, search_pack(&made(300)).unwrap());
    assert_ne!(pack, search_pack(&made(301)).unwrap());
    let mut backwards = deck;
    backwards.cards.reverse();
    assert_eq!(pack, search_pack(&backwards).unwrap());
}

/// Bytes of a pack as a site sends it: packed as publishing does. The limit is our own, no source.
#[test]
#[allow(
    clippy::print_stdout,
    reason = "a measure for whoever adds words to the index"
)]
fn a_pack_of_a_thousand_cards_is_within_its_bytes() {
    let pack = search_pack(&made(1_000)).unwrap();
    let packed = sent_pack(&pack);
    println!("1000 cards: {} bytes, {packed} packed", pack.len());
    assert!(packed <= 100_000, "{packed}");
}

#[test]
fn a_damaged_pack_is_not_opened() {
    let pack = search_pack(&demo()).unwrap();
    for place in [0, 5, 13, 40, pack.len() / 2, pack.len() - 1] {
        let mut damaged = pack.clone();
        damaged[place] ^= 0x10;
        assert!(Search::open(damaged).is_err(), "{place}");
    }
    for length in [0, 3, 12, 100, pack.len() - 1] {
        assert!(Search::open(pack[..length].to_vec()).is_err(), "{length}");
    }
}

/// A text mentions much: it stands beside the circuits, and takes none of them away.
#[test]
fn lessons_are_found_apart_and_hide_no_circuit() {
    let mut deck = demo();
    let mut without = deck.clone();
    without.lessons.clear();
    deck.lessons[0].text += "A lamp, a guage of slack rope, meter, vref and bolts.";
    let (mut search, mut bare) = (opened(&deck), opened(&without));
    for query in [
        "lamp angle",
        "coolant no vref",
        "meter coolant",
        "guage",
        "green crust",
        "ramp",
    ] {
        let (answer, circuits) = (search.find(query), bare.find(query));
        assert_eq!(cards(&answer), cards(&circuits), "{query}");
        let apart = |answer: &Answer| answer.lost.as_ref().map(|lost| lost.apart.len());
        assert_eq!(apart(&answer), apart(&circuits), "{query}");
    }
    let only = search.find("crust");
    assert_eq!(of(&only, Kind::Lesson), ["meter-alone"]);
    assert!(only.lost.is_none_or(|lost| lost.missing.is_empty()));
}
