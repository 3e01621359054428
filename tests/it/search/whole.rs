//! Words that stand here, whole: those for what is wrong are no slips of others, nor is any word of the deck; a deck's own
//! names with small words and for codes; names of kinds of circuit; values with their units apart. What is meant is common
//! practice, no source.

use super::decks::demo;
use super::typed::first;
use super::{cards, opened};
use loomleaf::index::{Answer, Kind, Reason, Search};

/// The demo with words of its own.
fn saying(groups: &[&[&str]]) -> Search {
    let mut deck = demo();
    let groups = groups.iter();
    deck.words
        .extend(groups.map(|group| group.iter().map(|text| (*text).to_owned()).collect()));
    opened(&deck)
}

/// What would be found without a word each.
fn without(answer: &Answer) -> Vec<String> {
    let lost = answer.lost.iter().flat_map(|lost| &lost.apart);
    lost.map(|one| one.without.join(" ")).collect()
}

#[test]
fn what_is_wrong_is_no_slip_of_another_word() {
    let mut search = opened(&demo());
    for (query, left_out) in [
        ("coolant temp reads low", "reads low"),
        ("coolant temp reads high", "reads high"),
        ("water temp gauge reads low", "reads low"),
        ("coolant reads zero", "reads zero"),
        ("coolant burnt connector", "burnt connector"),
    ] {
        first(&mut search, query, "coolant-temperature");
        assert_eq!(search.find(query).left_out, [left_out], "{query}");
    }
}

#[test]
fn a_phrase_for_what_is_wrong_goes_out_as_a_whole() {
    let mut search = opened(&demo());
    for (query, card) in [
        ("coolant no reference", "coolant-temperature"),
        ("coolant temp no supply", "coolant-temperature"),
        ("intake air no feed", "intake-air-temperature"),
        ("oil pressure no supply", "oil-pressure"),
        ("coolant sensor reference low", "coolant-temperature"),
        ("coolant reference missing", "coolant-temperature"),
        ("coolant voltage low", "coolant-temperature"),
    ] {
        first(&mut search, query, card);
    }
    // Alone it names the pin that is meant.
    let found = search.find("reference missing");
    assert!(cards(&found).contains(&"ramp-angle") && found.left_out == ["missing"]);
    // A third circuit has a pin for it: it is not the one that is meant.
    let mut deck = demo();
    let ramp = deck.cards.iter_mut().find(|card| card.id == "ramp-angle");
    ramp.unwrap().notes = "Coolant".to_owned();
    let mut search = opened(&deck);
    first(&mut search, "coolant no reference", "coolant-temperature");
    let found = search.find("coolant no reference");
    assert_eq!(found.left_out, ["no reference"]);
    // A title that says it is what was asked for.
    let relay = deck.cards.iter_mut().find(|card| card.id == "winch-lever");
    relay.unwrap().title.value = "Coolant pump low voltage relay".to_owned();
    first(&mut opened(&deck), "coolant low voltage", "winch-lever");
}

#[test]
fn words_that_stand_here_are_no_slips_of_others() {
    let mut deck = demo();
    let card = |id: &str, notes: &str| {
        let mut card = deck
            .cards
            .iter()
            .find(|card| card.id == id)
            .unwrap()
            .clone();
        card.notes = notes.to_owned();
        card
    };
    deck.cards = vec![
        card("coolant-temperature", "By the turn."),
        card("ramp-angle", "On the tarn, which is slack."),
    ];
    let mut search = opened(&deck);
    first(&mut search, "coolant trun", "coolant-temperature");
    let found = search.find("coolant tarn");
    assert!(found.hits.is_empty());
    assert_eq!(without(&found).len(), 2, "{found:?}");
    // `slack` is here, and no slip of `black`.
    assert!(cards(&search.find("coolant slack")).is_empty());
}

#[test]
fn names_of_a_deck_may_have_small_words_and_mean_a_code() {
    let mut search = saying(&[
        &["end of travel", "ramp angle"],
        &["rate of rise", "boost pressure"],
        &["lamp on dash", "bilge level"],
        &["fault 31", "P0404"],
        &["blink code 12", "P0117"],
        &["error P1999", "ramp oil"],
    ]);
    for (query, card) in [
        ("end of travel", "ramp-angle"),
        ("end travel", "ramp-angle"),
        ("rate of rise", "boost-pressure"),
        ("lamp on dash", "bilge-level"),
        ("the lamp on the dash", "bilge-level"),
        ("fault 31", "egr-position"),
        ("fault 31 shuttle", "egr-position"),
        ("blink code 12", "coolant-temperature"),
        ("error P1999", "ramp-oil-temperature"),
    ] {
        first(&mut search, query, card);
    }
    let answer = search.find("fault 31");
    let mut codes = answer.hits.iter().filter(|hit| hit.kind == Kind::Code);
    assert!(codes.any(|hit| hit.id == "P0404"));
}

#[test]
fn what_a_code_means_is_told_where_nothing_is_found() {
    let mut search = opened(&demo());
    let told = |search: &mut Search, query: &str| -> Vec<(String, bool)> {
        let answer = search.find(query);
        assert!(answer.hits.is_empty(), "{query}");
        let codes = answer.codes.into_iter();
        codes.map(|told| (told.code, told.is_named)).collect()
    };
    let one = |code: &str, is_named| (code.to_owned(), is_named);
    assert_eq!(told(&mut search, "coolant P0122"), [one("P0122", true)]);
    let both = [one("P0117", true), one("P0335", false)];
    assert_eq!(told(&mut search, "P0117 P0335"), both);
    let says = search.find("coolant P0122").codes[0].says.clone();
    assert!(says.unwrap().starts_with("Throttle"));
    // Digits are the code that a card has.
    let mut deck = demo();
    let ramp = deck.cards.iter_mut().find(|card| card.id == "ramp-angle");
    let codes = &mut ramp.unwrap().codes;
    let mut code = demo().cards[0].title.clone();
    code.value = "C1410".to_owned();
    codes.push(code);
    let told = told(&mut opened(&deck), "1410 coolant");
    assert_eq!(told, [one("C1410", true)]);
    // Where cards are found the codes that have a page are not told.
    assert!(search.find("P0117").codes.is_empty());
}

#[test]
fn the_name_of_a_kind_of_circuit_finds_its_circuits() {
    let mut search = opened(&demo());
    for query in ["thermistor", "ntc", "coolant thermistor"] {
        let found = search.find(query);
        assert!(cards(&found).contains(&"coolant-temperature"), "{query}");
    }
    first(&mut search, "ramp ratiometric", "ramp-hydraulic-pressure");
    first(&mut search, "coolant thermistor", "coolant-temperature");
    first(&mut search, "two pin coolant", "coolant-temperature");
    // A coil switched at its low side does not read low.
    let low = search.find("low");
    let by_kind = |hit: &loomleaf::index::Hit| hit.why.iter().any(|why| why.words() == "kind low");
    assert!(!low.hits.iter().any(by_kind));
}

#[test]
fn a_unit_may_stand_apart_and_words_behind_it() {
    let mut search = opened(&demo());
    for query in [
        "80 \u{b0}C coolant",
        "coolant 80 \u{b0}C",
        "80 \u{b0} C coolant",
        "80 deg C coolant",
        "80 deg. C coolant",
        "2.8 k ohm coolant",
        "2.8 k-ohm",
        "2.8k ohm coolant",
        "2.8 k\u{3a9} coolant",
        "2.8 k \u{3a9} coolant",
    ] {
        first(&mut search, query, "coolant-temperature");
    }
    // Degrees of an angle before another word, also while that begins.
    for query in ["0 deg", "0 deg f", "0 deg ramp"] {
        let found = search.find(query);
        assert!(
            cards(&found).contains(&"ramp-angle"),
            "{query}: {:?}",
            cards(&found)
        );
    }
}

#[test]
fn the_code_that_says_what_was_asked_for_is_the_reason() {
    let mut deck = demo();
    deck.cards.retain(|card| card.id == "oil-pressure");
    let card = &mut deck.cards[0];
    card.title.value = "Lube sender".to_owned();
    card.also_called.clear();
    card.notes.clear();
    card.sources.clear();
    card.system = None;
    let found = opened(&deck).find("engine oil pressure lube");
    let why: Vec<String> = found.hits[0].why.iter().map(Reason::words).collect();
    assert!(why[0].starts_with("code P052"), "{why:?}");
    assert_eq!(why[0].matches("P052").count(), 1, "{why:?}");
}

#[test]
fn two_words_typed_as_one_are_offered() {
    let mut search = opened(&demo());
    let lost = search.find("winchlever").lost.unwrap();
    assert_eq!(lost.missing[0].near, ["winch lever"]);
}
