//! What was seen on the walk, held against the rules for every page.

use super::card_pages;
use super::chrome::Chrome;
use super::walk::{MEASURE, Seen, see, walk};
use loomleaf::preview::{Port, Server};
use loomleaf::publish::SiteOptions;

/// Fails with every page that has something, and what.
fn check_none(rule: &str, found: impl Fn(&'static Seen) -> &'static Vec<String>) {
    let breaches: Vec<String> = walk()
        .iter()
        .flat_map(|(page, seen)| {
            found(seen)
                .iter()
                .map(move |text| format!("{page}: {text}"))
        })
        .collect();
    assert!(breaches.is_empty(), "{rule}:\n{}", breaches.join("\n"));
}

#[test]
fn no_page_has_anything_to_say_on_the_console() {
    check_none("console", |seen| &seen.console);
}

#[test]
fn no_request_leaves_the_site_or_fails() {
    check_none("requests", |seen| &seen.strayed);
}

#[test]
fn no_page_scrolls_sideways_on_a_narrow_phone() {
    check_none("wider than the screen", |seen| &seen.too_wide);
}

#[test]
fn everything_to_tap_is_large_enough_for_gloves() {
    check_none("smaller than 44 x 44", |seen| &seen.too_small);
}

#[test]
fn no_text_lies_on_another() {
    check_none("texts on each other", |seen| &seen.over);
}

/// Long labels and titles, wires of two colours, connectors drawn as the part shows them.
#[test]
fn long_words_lie_on_nothing() {
    let deck = crate::families::long();
    let sheets = loomleaf::sheet::sheets(&deck).0;
    let files = loomleaf::publish::site(&deck, &sheets, &SiteOptions::default()).0;
    let cards = files.keys().filter(|name| name.starts_with("cards/"));
    let pages: Vec<String> = cards
        .filter(|name| name.ends_with(".html"))
        .cloned()
        .collect();
    assert!(30 < pages.len(), "{pages:?}");
    let server = Server::start(Port::Free).unwrap();
    server.show(files.clone());
    let mut chrome = Chrome::start();
    let mut wrong = Vec::new();
    for page in &pages {
        chrome.open(&format!("{}{page}", server.address()));
        chrome.eval(MEASURE);
        for wide in [360, 1280] {
            chrome.window(wide, 740);
            let over = chrome.eval("measure.over()");
            if over != serde_json::json!([]) {
                wrong.push(format!("{page} {wide} wide: {over}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

const LIFT: &str = "title: Lift\nfamily: switch-ground\nsystem: lift\npins:\n  1: {role: signal}\n  2: {role: ground}\n";

/// A name that is one long word, and a name of four letters.
#[test]
fn a_name_of_one_long_word_makes_no_page_wider() {
    let name = "Donaudampfschifffahrtsgesellschaftskapitaen";
    let card = format!(
        "title: {name}\nfamily: thermistor-2wire\nsystem: long\ncodes: [P0117]\nfits: [{name} 2017-2020, Kurz]\n\
         pins:\n  1: {{role: signal}}\n  2: {{role: ground}}\n"
    );
    let deck = format!("title: {name}\nsystems:\n  long: {name}\n  lift: Lift\n");
    let files = std::collections::BTreeMap::from([
        ("deck.yaml".to_owned(), deck.into_bytes()),
        ("cards/long.yaml".to_owned(), card.into_bytes()),
        ("cards/short.yaml".to_owned(), LIFT.into()),
    ]);
    let deck = loomleaf::card::read(&files, &loomleaf::card::shipped()).0;
    let deck = deck.unwrap();
    let sheets = loomleaf::sheet::sheets(&deck).0;
    let options = SiteOptions {
        address: Some(super::ADDRESS.to_owned()),
        offline: true,
    };
    let site = loomleaf::publish::site(&deck, &sheets, &options).0;
    let others = ["families/", "calculators/", "codes/", "404"];
    let ours = |page: &&String| {
        let other = others.iter().any(|one| page.starts_with(one)) && !page.contains("P0117");
        page.ends_with(".html") && !other
    };
    let pages: Vec<String> = site.keys().filter(ours).cloned().collect();
    let server = Server::start(Port::Free).unwrap();
    server.show(site);
    let mut chrome = Chrome::start();
    chrome.screen(360, 740);
    let mut wrong = Vec::new();
    for page in &pages {
        chrome.open(&format!("{}{page}", server.address()));
        chrome.eval(MEASURE);
        for measure in ["tooWide(360)", "tooSmall()"] {
            let found = chrome.eval(&format!("measure.{measure}"));
            if found != serde_json::json!([]) {
                wrong.push(format!("{page}: {found}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_text_can_be_read_by_day_and_by_night() {
    check_none("too little contrast", |seen| &seen.too_faint);
}

#[test]
fn every_page_comes_under_a_strict_policy() {
    check_none("inline", |seen| &seen.inline);
    for (page, seen) in walk() {
        for policy in &seen.policies {
            assert!(policy.contains("default-src 'none'"), "{page}: {policy}");
            for lax in ["'unsafe-inline'", "'unsafe-eval'", "*", "data:", "http"] {
                assert!(!policy.contains(lax), "{page} allows {lax}: {policy}");
            }
        }
    }
}

#[test]
fn the_first_view_of_a_card_shows_title_pins_and_first_reading() {
    let mut cards = 0;
    for page in card_pages() {
        let view = &walk()[page].first_view;
        let list =
            |key: &str| -> Vec<String> { serde_json::from_value(view[key].clone()).unwrap() };
        assert_eq!(list("title").len(), 1, "{page}: title, {view}");
        assert!(!list("pins").is_empty(), "{page}: no table of pins");
        for pin in list("pins") {
            assert!(
                list("letters").contains(&pin),
                "{page}: pin {pin} is not in view, {view}"
            );
        }
        let expected = view["expected"].as_str().unwrap();
        let reads = list("reads");
        assert!(!expected.is_empty(), "{page}: no expected reading");
        assert!(
            reads.iter().any(|text| text.starts_with(expected)),
            "{page}: {expected} is not in view, {view}"
        );
        cards += 1;
    }
    assert!(cards >= 10, "only {cards} cards");
}

/// A page with one fault of each kind; `ramp.example` is a name that no machine has.
const FAULTS: &str = r#"<!doctype html><html lang="en"><title>faults</title>
<link rel="stylesheet" href="faults.css"><script src="faults.js"></script>
<h1>Faults</h1><p class="faint">faint</p><p class="wide">wide</p><button>x</button>
<p id="styled" style="color: red">styled</p><p class="low">Low</p><p>under it</p><img alt="" src="https://ramp.example/dot.png"><img alt="" src="lost.png">"#;

const FAULTS_STYLE: &str = ".faint { color: #bbb } .wide { width: 700px } .low { margin-bottom: -30px } \
     @media (prefers-color-scheme: dark) { .faint { color: #000 } h1 { color: #eee } }";

#[test]
fn the_measures_see_faults() {
    let server = Server::start(Port::Free).unwrap();
    let files = [
        ("index.html", FAULTS),
        ("faults.css", FAULTS_STYLE),
        ("faults.js", "console.log('hello')"),
    ];
    server.show(
        files
            .map(|(name, text)| (name.to_string(), text.into()))
            .into(),
    );
    let seen = see(&mut Chrome::start(), &server.address(), "index.html");
    let check = |found: &[String], part: &str| {
        assert!(
            found.iter().any(|text| text.contains(part)),
            "{part}: {seen:#?}"
        );
    };
    check(&seen.console, "hello");
    check(&seen.console, "Content Security Policy");
    check(&seen.strayed, "ramp.example");
    check(&seen.strayed, "404 \"http");
    check(&seen.inline, "styled");
    check(&seen.too_wide, "page is 980 wide on 360");
    check(&seen.too_small, "<button> x");
    check(&seen.over, "<p class=\"low\"> Low on <p> under it");
    check(
        &seen.too_faint,
        "light, 1.92 to 1: <p class=\"faint\"> faint",
    );
    check(&seen.too_faint, "dark, 1.16 to 1: <h1> Faults");
    assert_eq!(seen.policies[1], "");
}
