//! How people type: a year of a vehicle, letters of a wire apart, a code without its letter, a part and its fault,
//! small words; and that nothing found is never silent. What is meant by such words is common practice, no source,
//! but for meanings of codes (SAE J2012, from memory) and colour letters (IEC 60757).

use super::decks::{demo, made};
use super::{cards, opened};
use loomleaf::card::Placed;
use loomleaf::index::{Answer, Kind, Reason, Search};

pub(super) fn first(search: &mut Search, query: &str, card: &str) {
    let answer = search.find(query);
    assert_eq!(
        cards(&answer).first(),
        Some(&card),
        "`{query}`: {:?}",
        cards(&answer)
    );
}

/// The demo with other vehicles on one of its cards.
pub(super) fn fitting(card: &str, fits: &[&str]) -> Search {
    let mut deck = demo();
    let card = deck.cards.iter_mut().find(|one| one.id == card).unwrap();
    let place = card.title.place.clone();
    card.fits = fits
        .iter()
        .map(|fits| Placed {
            value: (*fits).to_owned(),
            place: place.clone(),
        })
        .collect();
    opened(&deck)
}

/// What is told of each card that was found first.
pub(super) fn why(answer: &Answer) -> Vec<String> {
    answer.hits[0].why.iter().map(Reason::words).collect()
}

#[test]
fn a_year_inside_the_range_of_a_vehicle_finds_its_card() {
    let mut search = opened(&demo());
    for (query, card) in [
        ("harbour shuttle 2019 coolant", "coolant-temperature"),
        ("harbour shuttle 2017 coolant", "coolant-temperature"),
        ("harbour shuttle 2020 coolant", "coolant-temperature"),
        ("harbour shuttle 2018 boost", "boost-pressure"),
        ("minibus 2016 throttle", "throttle-position"),
        ("lift van 2022 oil pressure", "oil-pressure"),
        ("2015 minibus map", "manifold-pressure"),
        ("harbour shuttle 2017-2020 egr", "egr-position"),
        ("harbour shuttle 2018 to 2019 egr", "egr-position"),
    ] {
        first(&mut search, query, card);
        assert!(search.find(query).codes.is_empty(), "{query}");
    }
    // Also while the year is typed.
    for query in ["harbour shuttle 20", "harbour shuttle 202"] {
        assert_eq!(cards(&search.find(query)).len(), 6, "{query}");
    }
    let shuttle = search.find("harbour shuttle 2019");
    assert_eq!(cards(&shuttle).len(), 6);
    let vehicles = shuttle.hits.iter().filter(|hit| hit.kind == Kind::Vehicle);
    assert_eq!(vehicles.count(), 1);
    assert_eq!(why(&shuttle), ["fits harbour shuttle 2017-2020"]);
}

#[test]
fn a_year_beside_a_range_finds_nothing_and_is_no_code() {
    let mut search = opened(&demo());
    for query in [
        "harbour shuttle 2016 coolant",
        "harbour shuttle 2021 coolant",
        // The shuttle on this card ends in 2020, the van begins in 2021.
        "lift van 2018 oil pressure",
        "pier minibus 2020 intake",
    ] {
        let answer = search.find(query);
        assert!(answer.hits.is_empty(), "{query}: {:?}", cards(&answer));
        assert!(answer.codes.is_empty(), "{query}");
        let lost = answer.lost.unwrap();
        assert!(lost.missing.iter().all(|one| one.near.is_empty()));
        let year = query.split(' ').find(|word| word.starts_with('2')).unwrap();
        assert!(
            lost.apart.iter().any(|one| one.without == [year]),
            "{query}: {lost:?}"
        );
        for one in lost.apart {
            assert!(!search.find(&one.left.join(" ")).hits.is_empty(), "{one:?}");
        }
    }
    // Said with its letter it is one.
    let answer = search.find("harbour shuttle P2018");
    let told = &answer.codes[0];
    assert_eq!((told.code.as_str(), &told.says), ("P2018", &None));
}

#[test]
fn years_are_known_however_a_card_writes_them() {
    for fits in [
        "Yard tractor 2011-2014",
        "Yard tractor 2011 to 2014",
        "Yard tractor 2011\u{2013}14",
        "Yard tractor from 2011",
        "Yard tractor 2011 on",
        "Yard tractor until 2014",
    ] {
        let mut search = fitting("bilge-level", &[fits]);
        first(&mut search, "tractor 2012 bilge", "bilge-level");
        let other = if fits.contains("2014") || fits.contains("14") {
            "2015"
        } else {
            "2010"
        };
        let query = format!("tractor {other} bilge");
        assert!(search.find(&query).hits.is_empty(), "{fits} {query}");
    }
    let mut search = fitting("bilge-level", &["Yard tractor 2012"]);
    first(&mut search, "tractor 2012 bilge", "bilge-level");
    first(&mut search, "tractor 2011-2013 bilge", "bilge-level");
}

#[test]
fn letters_of_a_wire_may_stand_apart() {
    let mut search = opened(&demo());
    for (queries, own) in [
        (["gn/wh", "GN-WH", "gn wh"], ["egr-position", "ramp-angle"]),
        (
            ["rd/wh", "RD-WH", "rd wh"],
            ["manifold-pressure", "throttle-position"],
        ),
        (
            ["bk/bu", "black blue wire", "black/blue"],
            ["intake-air-temperature"; 2],
        ),
        (
            ["rd-bu", "red with blue stripe", "RD / BU"],
            ["camshaft-position"; 2],
        ),
        (
            ["gn/ye", "grn/yel", "green yellow"],
            ["coolant-temperature"; 2],
        ),
    ] {
        for query in queries {
            let answer = search.find(query);
            let found = cards(&answer);
            let mut own = own.to_vec();
            own.dedup();
            assert!(found.len() >= own.len(), "{query}: {found:?}");
            assert!(own.contains(&found[0]), "{query}: {found:?}");
            assert!(own.contains(&found[own.len() - 1]), "{query}: {found:?}");
        }
    }
    // No card has a green wire with a pink stripe; without a space it is one wire, with one it may be two.
    assert!(search.find("gn/pk").hits.is_empty());
    first(&mut search, "gn/wh ramp", "ramp-angle");
}

#[test]
fn a_code_without_its_letter_is_a_code_and_no_value() {
    let mut search = opened(&demo());
    for (digits, means) in [
        ("0420", "Catalyst"),
        ("0300", "Misfires"),
        ("0100", "air flow"),
        ("0600", "communication"),
        ("0700", "Transmission"),
    ] {
        let answer = search.find(digits);
        assert!(cards(&answer).is_empty(), "{digits}: {:?}", cards(&answer));
        let told = &answer.codes[0];
        assert_eq!(told.code, format!("P{digits}"));
        assert!(told.says.as_ref().unwrap().contains(means), "{digits}");
        let spelt = search.find(&told.code);
        assert_eq!(spelt.codes, answer.codes);
    }
    // A code with a page and no card: the page is the first hit.
    let answer = search.find("0500");
    assert_eq!(answer.hits[0].id, "P0500");
    // And one that a card has.
    first(&mut search, "0405", "egr-position");
    // A value without a unit is one still.
    assert!(!cards(&search.find("4700")).is_empty());
}

#[test]
fn a_part_and_its_fault_find_the_circuit_by_the_meaning_of_its_code() {
    let mut search = opened(&demo());
    for (query, card) in [
        ("egr sensor low", "egr-position"),
        ("turbo boost low", "boost-pressure"),
        ("p0118 high", "coolant-temperature"),
        ("camshaft intermittent", "camshaft-position"),
    ] {
        first(&mut search, query, card);
    }
    assert_eq!(why(&search.find("egr sensor low")), ["code P0405 low"]);
    // A code typed whole is a code first, whatever others mean.
    first(&mut search, "P0405", "egr-position");
    assert_eq!(cards(&search.find("P0405")).len(), 1);
    // What a card says itself needs no code.
    let own = search.find("coolant temperature");
    assert!(own.hits[0].why.is_empty());
}

#[test]
fn small_words_and_short_words_of_the_trade_are_known() {
    let mut search = opened(&demo());
    for (query, card) in [
        ("P0405 no reference", "egr-position"),
        ("why is there no coolant signal", "coolant-temperature"),
        ("engine temp gauge", "coolant-temperature"),
        ("return wire brown shuttle coolant", "coolant-temperature"),
        ("speedo", "output-speed"),
        ("bilge lvl", "bilge-level"),
    ] {
        first(&mut search, query, card);
    }
}

#[test]
fn what_is_nearly_a_code_is_offered_and_not_taken() {
    let mut search = opened(&demo());
    for query in ["p405", "po405", "PO4O5", "405"] {
        let answer = search.find(query);
        assert!(answer.hits.is_empty(), "{query}");
        assert_eq!(answer.lost.unwrap().missing[0].near, ["P0405"], "{query}");
    }
    // A meaning is enough; a code that nobody knows is not offered.
    let near = |search: &mut Search, query| {
        let answer = search.find(query);
        answer.lost.unwrap().missing[0].near.clone()
    };
    assert_eq!(near(&mut search, "p420"), ["P0420"]);
    assert!(near(&mut search, "p999").is_empty());
}

#[test]
fn nothing_found_is_never_silent() {
    let deck = demo();
    let mut search = opened(&deck);
    let titles = deck.cards.iter().map(|card| card.title.value.as_str());
    let known = titles.collect::<Vec<_>>().join(" ");
    for query in [
        known.as_str(),
        "winch lever coolant boost",
        "winch boost ramp winch boost ramp",
        "xyzzy quux ramp",
    ] {
        let answer = search.find(query);
        assert!(answer.hits.is_empty(), "{query}");
        let apart = answer.lost.unwrap().apart;
        assert!(!apart.is_empty(), "{query}");
        for one in apart {
            let mut said = one.left.clone();
            said.sort();
            said.dedup();
            assert_eq!(said.len(), one.left.len(), "{query}: {one:?}");
            let again = search.find(&one.left.join(" "));
            let found = again.hits.iter().filter(|hit| hit.kind == Kind::Card);
            assert!(found.count() > 0, "{query}: {:?}", one.left);
        }
    }
}

#[test]
fn a_made_deck_is_found_by_years_too() {
    let deck = made(300);
    let mut search = opened(&deck);
    for card in deck.cards.iter().step_by(17) {
        let fits = &card.fits[0].value;
        let (machine, years) = fits.rsplit_once(' ').unwrap();
        let from: u16 = years[..4].parse().unwrap();
        let query = format!("{machine} {} {}", from + 2, card.title.value);
        first(&mut search, &query, &card.id);
        let query = format!("{machine} {} {}", from + 5, card.title.value);
        assert!(
            !cards(&search.find(&query)).contains(&card.id.as_str()),
            "{query}"
        );
    }
}
