//! Figures in sentences: a published card in, the sizes its sentences state out.

use super::{page, pages};
use loomleaf::quantity::{Dimension, read_quantity};

/// What stands between two pieces of text on a page, in ohms.
fn ohms_between(html: &str, before: &str, after: &str) -> f64 {
    let rest = html
        .split(before)
        .nth(1)
        .unwrap_or_else(|| panic!("{before} is missing"));
    let told = rest.split(after).next().unwrap().replace('\u{a0}', " ");
    read_quantity(&told, Dimension::Resistance).unwrap().number
}

#[test]
fn a_thermistor_page_states_what_each_kind_of_test_sees() {
    let html = page(&pages(|_, _| {}), "cards/coolant/index.html");
    let alone = ohms_between(
        &html,
        "“Supply across the two pins” can pass with up to ",
        " in a wire",
    );
    let shows = " shows every resistance from ";
    let loaded = format!("“Supply with 1 kohm across the pins”{shows}");
    let loaded = ohms_between(&html, &loaded, " up in a wire");
    let fed = format!("“Ground pin fed from the battery through 1 kohm”{shows}");
    let fed = ohms_between(&html, &fed, " up in the ground wire");
    // By hand: 10 Mohm x (5.1 / 4.9 - 1) is 400 kohm, the meter's own error comes on top.
    assert!((200e3..1e6).contains(&alone), "{alone}");
    // Common practice, no source: order of 100 ohm with 1 kohm at the pins, about an ohm from the ground pin.
    assert!((100.0..1000.0).contains(&loaded), "{loaded}");
    assert!((0.1..10.0).contains(&fed), "{fed}");
}

#[test]
fn paper_names_the_state_in_which_a_wrong_reading_means_what_it_says() {
    let html = page(&pages(|_, _| {}), "cards/lift/index.html");
    let test = html.split("id=\"test-at-rest\"").nth(1).unwrap();
    let brief = test.split("<p class=\"brief\">").nth(1).unwrap();
    let brief = brief.split("</p>").next().unwrap().replace('\u{a0}', " ");
    assert!(brief.starts_with("at lift down, <b>"), "{brief}");
    // A test that is read in one state only has none to name.
    let test = html.split("id=\"test-supply\"").nth(1).unwrap();
    let brief = test.split("<p class=\"brief\">").nth(1).unwrap();
    assert!(brief.starts_with("<b>"), "{brief}");
}

#[test]
fn codes_without_a_circuit_of_the_deck_have_no_page() {
    let files = pages(|_, _| {});
    assert!(files.contains_key("codes/C1124/index.html"), "on a card");
    assert!(
        files.contains_key("codes/P0110/index.html"),
        "usual for a card's family"
    );
    assert!(
        !files.contains_key("codes/P0544/index.html"),
        "of a family no card uses"
    );
    let html = page(&files, "families/exhaust-rtd/index.html");
    assert!(
        html.contains("<span class=\"code\">P0544</span>"),
        "named all the same"
    );
}

#[test]
fn an_address_that_leads_nowhere_gets_a_page_with_a_way_home() {
    let html = page(&pages(|_, _| {}), "404.html");
    assert!(html.contains("<a href=\"/index.html\"><b>All circuits</b>"));
    assert!(html.contains("href=\"/index.html#families\""));
    assert!(!html.contains("href=\"../"), "holds at any address");
}

#[test]
fn no_page_of_any_family_stumbles_over_its_stops_or_calls_a_load_a_sensor() {
    let deck = crate::families::deck().0;
    let (sheets, _) = loomleaf::sheet::sheets(&deck);
    let files = loomleaf::publish::site(&deck, &sheets, &Default::default()).0;
    let (mut seen, mut at_the_part) = (0, 0);
    for (path, bytes) in files.iter().filter(|(path, _)| path.starts_with("cards/")) {
        let html = std::str::from_utf8(bytes).unwrap();
        // A tag between two stops hides nothing from a reader.
        let words: String = html
            .split('<')
            .flat_map(|one| one.split('>').skip(1))
            .collect();
        for slip in [",.", ",,", ";.", ":.", " .", "..", "own own"] {
            let near = words
                .find(slip)
                .map(|at| &words[at.saturating_sub(40)..at + 2]);
            assert_eq!(near, None, "{path}");
        }
        assert!(!words.contains("sensor&#39;s own pins"), "{path}");
        at_the_part += words.matches("on the part's own pins").count()
            + words.matches("on the part&#39;s own pins").count();
        seen += 1;
    }
    assert!(seen > 80 && at_the_part > 10, "{seen} pages, {at_the_part}");
}
