//! Nobody is shut out: axe-core on every kind of page by day and night, and on every screen of a run; sizes and contrast.

use super::hand::Hand;
use crate::browser::walk::MEASURE;
use serde_json::Value;

/// One page of each kind.
const PAGES: [&str; 16] = [
    "index.html",
    "cards/coolant-temperature/index.html",
    "cards/ramp-angle/bench/index.html",
    "cards/ramp-angle/readings/index.html",
    "codes/P0117/index.html",
    "systems/engine/index.html",
    "vehicles/harbour-shuttle-2017-2020/index.html",
    "families/position-pot/index.html",
    "lessons/meter-alone/index.html",
    "calculators/index.html",
    "calculators/voltage-drop/index.html",
    "about/index.html",
    "runs/index.html",
    "comfort/index.html",
    "labels/index.html",
    "offline/index.html",
];

fn axe() -> String {
    let tools = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).with_file_name("tools");
    let found = std::fs::read_dir(&tools).ok().and_then(|files| {
        let mut names = files.filter_map(Result::ok).map(|file| file.path());
        names.find(|path| {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            name.starts_with("axe-") && name.ends_with(".js")
        })
    });
    let found = found.expect("axe-core is in target/tools: run tests/run, which fetches it");
    std::fs::read_to_string(found).unwrap()
}

/// What axe-core, and the sizes and contrasts measured here, have against the page as it stands.
fn check_page(hand: &mut Hand, axe: &str, at: &str) {
    hand.chrome.eval(MEASURE);
    hand.chrome.eval(&format!("{axe}; 0"));
    for scheme in ["light", "dark"] {
        hand.chrome.scheme(scheme);
        let told = hand.chrome.eval(
            "axe.run().then(({violations, passes}) => ({passes: passes.length, \
                violations: violations.map(({id, nodes}) => `${id}: ${nodes.map(({target}) => target).join(' ')}`)}))",
        );
        assert!(
            told["passes"].as_u64().unwrap() > 10,
            "{at}: axe saw nothing"
        );
        assert_eq!(
            told["violations"],
            Value::Array(Vec::new()),
            "{at}, {scheme}"
        );
        for measure in ["tooFaint()", "tooSmall()", "tooWide(360)"] {
            let found = hand.chrome.eval(&format!("measure.{measure}"));
            assert_eq!(found, Value::Array(Vec::new()), "{at}, {scheme}, {measure}");
        }
    }
    for light in ["day", "night", "high"] {
        let chosen =
            format!("document.documentElement.dataset.light = '{light}'; measure.tooFaint()");
        let found = hand.chrome.eval(&chosen);
        assert_eq!(found, Value::Array(Vec::new()), "{at}, {light} chosen");
    }
    hand.chrome
        .eval("delete document.documentElement.dataset.light");
}

#[test]
fn axe_finds_nothing_on_any_kind_of_page_by_day_or_night() {
    let (mut hand, axe) = (Hand::published(""), axe());
    for page in PAGES {
        hand.open(page);
        check_page(&mut hand, &axe, page);
    }
}

/// Also in what is folded away at first.
#[test]
fn axe_finds_nothing_on_any_page_of_readings_folded_open() {
    let (mut hand, axe) = (Hand::new("unfolded"), axe());
    let pages = crate::browser::demo().keys();
    let pages: Vec<&String> = pages
        .filter(|page| page.ends_with("/readings/index.html"))
        .collect();
    assert!(pages.len() > 15, "{pages:?}");
    for page in pages {
        hand.open(page);
        hand.chrome
            .eval("for (const fold of document.querySelectorAll('details')) fold.open = true");
        check_page(&mut hand, &axe, page);
    }
}

#[test]
fn axe_finds_nothing_on_any_screen_of_a_run() {
    let (mut hand, axe) = (Hand::new("access"), axe());
    // A server's own page, which calls its style from the server's root.
    hand.open("404.html");
    check_page(&mut hand, &axe, "404.html");
    hand.open("cards/ramp-angle/bench/index.html");
    hand.tap("[data-begin]");
    hand.sees("[data-entry]");
    check_page(&mut hand, &axe, "entry");
    hand.read("supply", "0.02 V");
    check_page(&mut hand, &axe, "meaning");
    hand.go_to("at-rest");
    check_page(&mut hand, &axe, "points");
    hand.tap("header a|All tests");
    check_page(&mut hand, &axe, "all tests");
    hand.tap("[data-to-verdict]");
    hand.sees("#verdict");
    check_page(&mut hand, &axe, "verdict");
    hand.picture();
}
