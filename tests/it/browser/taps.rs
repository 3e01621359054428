//! Targets of a published site, which shows more than a preview: one page of every kind, with all that folds folded open, and
//! every step of bench mode.

use super::chrome::Chrome;
use super::walk::MEASURE;
use super::{published, serve};
use loomleaf::preview::{Port, Server};
use serde_json::{Value, json};

/// One page of each kind that publishing makes; `kinds` tells a kind by the first part of an address and by how deep it is.
const PAGES: [&str; 17] = [
    "404.html",
    "about/index.html",
    "calculators/index.html",
    "calculators/rtd/index.html",
    "cards/ramp-angle/index.html",
    "cards/ramp-angle/bench/index.html",
    "cards/ramp-angle/readings/index.html",
    "codes/P0117/index.html",
    "comfort/index.html",
    "families/position-pot/index.html",
    "index.html",
    "labels/index.html",
    "lessons/meter-alone/index.html",
    "offline/index.html",
    "runs/index.html",
    "systems/engine/index.html",
    "vehicles/harbour-shuttle-2017-2020/index.html",
];

/// The kind of a page.
fn kind(page: &str) -> (&str, usize, &str) {
    let parts: Vec<&str> = page.split('/').collect();
    let last = if 3 < parts.len() { parts[2] } else { "" };
    (parts[0], parts.len(), last)
}

/// A page in a tab of its own: a browser that opens many in one stops drawing now and then.
fn open(chrome: &mut Chrome, server: &Server, page: &str) {
    chrome.fresh_tab();
    chrome.screen(360, 740);
    chrome.open(&format!("{}{page}", server.address()));
    chrome.eval(MEASURE);
}

/// Too small to tap, as the page stands and with everything folded open.
const SMALL: &str = "(() => {
  const before = measure.tooSmall();
  const folded = [...document.querySelectorAll('details:not([open])')];
  for (const fold of folded) fold.open = true;
  const after = measure.tooSmall();
  for (const fold of folded) fold.open = false;
  return [...new Set([...before, ...after])];
})()";

fn check(chrome: &mut Chrome, at: &str, wrong: &mut Vec<String>) {
    for (width, height) in [(360, 740), (740, 360)] {
        chrome.screen(width, height);
        let small = chrome.eval(SMALL);
        if small != json!([]) {
            wrong.push(format!("{at}, {width} wide: {small}"));
        }
    }
    chrome.screen(360, 740);
}

#[test]
fn one_page_of_every_kind_has_nothing_small_to_tap() {
    let pages = published().keys().filter(|page| page.ends_with(".html"));
    for page in pages {
        let known = PAGES.iter().any(|one| kind(one) == kind(page));
        assert!(known, "{page} is of a kind that is not looked at");
    }
    let server = Server::start(Port::Free).unwrap();
    server.show(published().clone());
    // A server's own page calls its style from where the site will be found.
    let preview = serve();
    let mut chrome = Chrome::start();
    let mut wrong = Vec::new();
    for page in PAGES {
        let server = if page == "404.html" {
            &preview
        } else {
            &server
        };
        open(&mut chrome, server, page);
        check(&mut chrome, page, &mut wrong);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What a person does in bench mode, step by step: what is clicked or typed, and what is shown then.
const STEPS: [(&str, &str); 9] = [
    ("one('[data-begin]').click()", "[data-entry]"),
    ("type('')", "[data-wrong]"),
    ("type('0.02')", "[data-told] [data-read]"),
    (
        "one('[data-told] [data-change]').click()",
        "[data-entry] [data-remove]",
    ),
    ("type('0.03')", "[data-told] [data-read]"),
    ("location.hash = 'test-at-rest'", "#test-at-rest fieldset"),
    (
        "one('#test-at-rest [type=radio]').click()",
        "[data-entry] [data-other]",
    ),
    ("one('.mast nav a').click()", "[data-to-verdict]"),
    ("one('[data-to-verdict]').click()", "[data-readings] button"),
];

#[test]
fn no_step_of_bench_mode_has_anything_small_to_tap() {
    let server = Server::start(Port::Free).unwrap();
    server.show(published().clone());
    let mut chrome = Chrome::start();
    let mut wrong = Vec::new();
    for card in ["ramp-angle", "coolant-temperature"] {
        open(
            &mut chrome,
            &server,
            &format!("cards/{card}/bench/index.html"),
        );
        chrome.eval(
            "globalThis.one = (what) => document.querySelector(what);
            globalThis.type = (text) => { one('#reading').value = text; one('button.enter').click(); };
            globalThis.shown = (what) => new Promise((told) => {
                const look = () => (one(what)?.checkVisibility() ? told(true) : setTimeout(look, 20)); look(); }); 0",
        );
        chrome.eval("shown('.live [data-begin]')");
        check(&mut chrome, &format!("{card}: all tests"), &mut wrong);
        for (does, shows) in STEPS {
            chrome.eval(&format!("{does}; 0"));
            let shown = chrome.eval(&format!("shown({})", json!(shows)));
            assert_eq!(shown, Value::Bool(true), "{card}: {does}");
            check(&mut chrome, &format!("{card}: {does}"), &mut wrong);
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
