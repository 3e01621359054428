//! The first visit, and what a phone says when it can't keep the site.

use super::{CARD, Host, asks_first, deck_of, phone, small, text, until, wait_for};
use crate::browser::published;
use loomleaf::publish::Files;
use serde_json::json;
use std::sync::OnceLock;

#[test]
fn after_one_visit_every_page_opens_without_a_network() {
    let mut host = Host::of(published());
    let mut chrome = phone();
    chrome.open(&host.address(""));
    wait_for(&mut chrome, "whole");
    chrome.check_quiet();
    host.cut();
    let mut opened = 0;
    let pages = published()
        .keys()
        .filter(|path| path.ends_with("index.html"));
    for path in pages.step_by(4) {
        // As a link calls it, as a server would, and without the stroke at its end.
        let folder = path.trim_end_matches("index.html");
        let ways = [path.as_str(), folder, folder.trim_end_matches('/')];
        let way = ways[if folder.is_empty() {
            opened % 2
        } else {
            opened % 3
        }];
        chrome.open(&host.address(way));
        let html = std::str::from_utf8(&published()[path]).unwrap();
        let title = html
            .split("<title>")
            .nth(1)
            .unwrap()
            .split("</title>")
            .next()
            .unwrap();
        let shown = chrome.eval("document.title");
        assert_eq!(
            shown.as_str().unwrap(),
            title.replace("&amp;", "&"),
            "{way}"
        );
        chrome.check_quiet();
        opened += 1;
    }
    assert!(opened > 30, "{opened} pages");
    // The engine too.
    let query = "calculators/divider/index.html?supply=12&resistors=1%20kohm%3B1%20kohm";
    chrome.open(&host.address(query));
    let answers = "new Promise((done) => { const at = document.querySelector('[data-part=\"calculator\"]');\
        const look = () => { if (/6(\\.0+)?.V/.test(at.innerText)) done(true); };\
        new MutationObserver(look).observe(at, { subtree: true, childList: true, characterData: true, attributes: true });\
        setTimeout(() => done(at.innerText), 20000); look(); })";
    assert_eq!(chrome.eval(answers), true);
    chrome.open(&host.address("cards/no-such-card/"));
    assert_eq!(text(&mut chrome, "h1"), "Not on this phone");
    assert!(
        chrome
            .eval("location.pathname")
            .as_str()
            .unwrap()
            .ends_with("/offline/index.html")
    );
}

/// A deck of more than 5 MB packed: its notes are letters that no packing makes shorter.
fn large() -> &'static Files {
    static LARGE: OnceLock<Files> = OnceLock::new();
    LARGE.get_or_init(|| {
        let mut state = 1_u64;
        let mut letter = || {
            // Numbers of Knuth's MMIX generator, six bits a letter.
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            let letters = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyzab";
            char::from(letters[usize::try_from(state >> 58).unwrap()])
        };
        let mut notes = || -> String {
            let word = |_| (0..1000).map(|_| letter()).chain([' ']).collect::<String>();
            (0..400).map(word).collect()
        };
        let card = |id: usize| match id {
            0 => ("coolant".to_owned(), CARD.to_owned()),
            _ => {
                let card = CARD.replace("temperature\n", &format!("temperature {id}\n"));
                (format!("long-{id}"), format!("{card}notes: x{}\n", notes()))
            }
        };
        deck_of("Large", (0..20).map(card))
    })
}

/// The states that the worker tells while the whole site is taken.
const LISTEN: &str = "window.told = []; navigator.serviceWorker.addEventListener('message', ({ data }) => told.push(data)); 0";

#[test]
fn a_large_site_is_taken_along_when_asked_with_its_size_and_how_far_it_is() {
    let mut host = Host::of(large());
    let mut chrome = phone();
    chrome.open(&host.address("about/"));
    wait_for(&mut chrome, "large");
    let button = text(&mut chrome, "[data-when=large] button");
    let size = button.trim_start_matches("Take it along, ");
    let size: f64 = size.trim_end_matches("\u{a0}MB").parse().expect(&button);
    assert!((5.0..9.0).contains(&size), "{button}");
    chrome.eval(LISTEN);
    chrome.eval("document.querySelector('[data-when=large] button').click()");
    wait_for(&mut chrome, "whole");
    let told = chrome.eval("told.filter((state) => state.taking && state.taken > 0 && state.taken < state.bytes).length");
    assert!(told.as_u64().unwrap() > 2, "{told} states on the way");
    let bar = chrome.eval("document.querySelector('[data-bar]').max");
    assert!((bar.as_f64().unwrap() / 1e6 - size).abs() < 0.06, "{bar}");
    host.cut();
    chrome.open(&host.address("cards/coolant/"));
    assert_eq!(text(&mut chrome, "h1"), "Coolant temperature");
}

#[test]
fn a_site_not_taken_along_says_so_when_the_network_is_gone() {
    let mut host = Host::of(large());
    let mut chrome = phone();
    chrome.open(&host.address("about/"));
    wait_for(&mut chrome, "large");
    host.cut();
    chrome.open(&host.address("cards/coolant/"));
    assert_eq!(text(&mut chrome, "h1"), "Not on this phone");
}

/// What the search of the front page lists for these words, once it has something.
const SEARCH: &str = "new Promise((done) => {
    const field = document.getElementById('search');
    const found = document.getElementById('found');
    const look = () => { const own = found.querySelector('a'); if (own) done(own.getAttribute('href')); };
    new MutationObserver(look).observe(found, { childList: true, subtree: true });
    setTimeout(() => done(document.querySelector('.said').textContent), 20000);
    field.focus();
    field.value = 'coolant';
    field.dispatchEvent(new Event('input', { bubbles: true }));
})";

#[test]
fn a_site_not_taken_along_is_searched_in_a_new_tab_without_a_network() {
    let mut host = Host::of(&asks_first(small("Searched")));
    let mut chrome = phone();
    chrome.open(&host.address("about/"));
    wait_for(&mut chrome, "large");
    host.cut();
    for way in ["", "index.html"] {
        chrome.open("about:blank");
        chrome.open(&host.address(way));
        assert_eq!(text(&mut chrome, "h1"), "Circuits");
        let found = chrome.eval(SEARCH);
        assert_eq!(found, "cards/coolant/index.html");
    }
    // Its page is not there, and that is said.
    let gone = "document.querySelector('#found a').click()";
    chrome.eval(gone);
    let said = "document.querySelector('h1')?.textContent === 'Not on this phone'";
    assert!(until(&mut chrome, said));
}

#[test]
fn a_phone_without_room_says_so_and_the_site_works_on() {
    let host = Host::of(published());
    let mut chrome = phone();
    let origin = host.address("");
    let origin = origin.split("/wiring").next().unwrap();
    let quota = json!({"origin": origin, "quotaSize": 200_000});
    chrome.call("Storage.overrideQuotaForOrigin", quota);
    chrome.open(&host.address(""));
    wait_for(&mut chrome, "full");
    let said = text(&mut chrome, "[data-when=full]");
    assert!(
        said.starts_with("No room on this phone for the site, ") && said.contains("MB"),
        "{said}"
    );
    chrome.open(&host.address("cards/ramp-angle/"));
    assert!(text(&mut chrome, "h1").contains("amp"), "the page is there");
}

#[test]
fn a_browser_that_keeps_nothing_shows_every_page_all_the_same() {
    let host = Host::of(&small("Refused"));
    let refuse = [
        "Object.defineProperty(navigator, 'serviceWorker', { get: () => undefined })",
        "navigator.serviceWorker.register = () => Promise.reject(new DOMException('no', 'SecurityError'))",
    ];
    for source in refuse {
        let mut chrome = phone();
        chrome.call(
            "Page.addScriptToEvaluateOnNewDocument",
            json!({"source": source}),
        );
        chrome.open(&host.address("cards/coolant/"));
        wait_for(&mut chrome, "refused");
        assert_eq!(text(&mut chrome, "h1"), "Coolant temperature");
        chrome.check_quiet();
    }
}

/// The server is gone before the phone asked for a worker: that is no refusal, and a tap goes on.
#[test]
fn a_network_that_goes_at_the_first_visit_is_told_as_such() {
    let host = Host::of(&small("Gone"));
    let mut chrome = phone();
    let gone = "const own = navigator.serviceWorker.register.bind(navigator.serviceWorker), fetched = fetch; window.gone = true;
        navigator.serviceWorker.register = (...all) => gone ? Promise.reject(new TypeError('no network')) : own(...all);
        window.fetch = (...all) => gone ? Promise.reject(new TypeError('no network')) : fetched(...all);";
    chrome.call(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({"source": gone}),
    );
    chrome.open(&host.address("cards/coolant/"));
    wait_for(&mut chrome, "broken");
    chrome.check_quiet();
    chrome.eval("window.gone = false; document.querySelector('[data-when=broken] button').click()");
    wait_for(&mut chrome, "whole");
}
