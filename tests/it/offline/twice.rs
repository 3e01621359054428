//! Publishing again while a phone is away: it shows the whole old site or the whole new one.

use super::{CARD, Host, asks_first, deck_of, phone, small, text, until, wait_for};
use crate::browser::chrome::Chrome;
use loomleaf::publish::Files;

/// Pages of a small site that are looked at.
const PAGES: [&str; 4] = [
    "",
    "cards/coolant/",
    "families/thermistor-2wire/index.html",
    "about/",
];

/// Every page, style and script that the phone shows is of this site.
fn check_all_are(chrome: &mut Chrome, host: &Host, site: &Files, name: &str) {
    for path in PAGES {
        chrome.open(&host.address(path));
        assert_eq!(text(chrome, ".mast p"), name, "{path}");
        let file = match path.ends_with('/') || path.is_empty() {
            true => format!("{path}index.html"),
            false => path.to_owned(),
        };
        let shown = chrome.eval("fetch(location.href).then((page) => page.text())");
        let published = std::str::from_utf8(&site[&file]).unwrap();
        assert!(
            shown.as_str().unwrap() == published,
            "{path} is not as {name} published it"
        );
        let used = "performance.getEntriesByType('resource').map((one) => one.name)";
        for used in chrome.eval(used).as_array().unwrap() {
            let used = used
                .as_str()
                .unwrap()
                .split("/wiring/")
                .nth(1)
                .unwrap()
                .to_owned();
            let page = used.is_empty() || used.ends_with('/') || used.ends_with(".html");
            assert!(page || site.contains_key(&used), "{used} is not of {name}");
        }
    }
}

/// What the page offers once the browser has looked for a newer site and its worker has come to an end of taking it.
fn is_offered(chrome: &mut Chrome) -> bool {
    let script = "(async () => {
        const kept = await navigator.serviceWorker.ready;
        await kept.update().catch(() => {});
        const taking = kept.installing;
        if (taking) await new Promise((ended) => {
          const look = () => { if (['installed', 'redundant'].includes(taking.state)) ended(); };
          taking.addEventListener('statechange', look);
          look();
        });
        await new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)));
        return [kept.waiting !== null, document.querySelector('[data-part=\"newer\"]').hidden];
      })()";
    let told = chrome.eval(script);
    assert_ne!(told[0], told[1], "what waits is offered, and nothing else");
    told[0] == true
}

#[test]
fn a_phone_shows_the_whole_old_site_until_it_has_the_whole_new_one() {
    let cards = ["coolant", "second"].map(|id| {
        let text = match id {
            "second" => CARD.replace("temperature\n", "temperature, second\n"),
            _ => CARD.to_owned(),
        };
        (id.to_owned(), text)
    });
    let (old, new) = (small("Old shop"), deck_of("New shop", cards));
    let mut host = Host::of(&old);
    let mut chrome = phone();
    chrome.open(&host.address(""));
    wait_for(&mut chrome, "whole");
    host.cut();
    check_all_are(&mut chrome, &host, &old, "Old shop");

    // The server comes back halfway through: one page is still the old one.
    let mut half = new.clone();
    let page = "cards/coolant/index.html";
    half.insert(page.to_owned(), old[page].clone());
    host.back(&half);
    chrome.open(&host.address(""));
    assert!(!is_offered(&mut chrome), "half a site was offered");
    check_all_are(&mut chrome, &host, &old, "Old shop");

    // A page is missing, and the network goes again.
    half.remove(page);
    host.show(&half);
    chrome.open(&host.address(""));
    assert!(!is_offered(&mut chrome), "a site with a hole was offered");
    host.cut();
    check_all_are(&mut chrome, &host, &old, "Old shop");

    // All of it is there.
    host.back(&new);
    chrome.open(&host.address(""));
    assert!(is_offered(&mut chrome), "the new site is not offered");
    check_all_are(&mut chrome, &host, &old, "Old shop");
    chrome.open(&host.address("about/"));
    assert!(is_offered(&mut chrome), "the offer stands on every page");
    // A page that only the new one has is not shown among the old ones.
    chrome.open(&host.address("cards/second/"));
    assert_eq!(text(&mut chrome, "h1"), "Not on this phone");
    let offered = "!document.querySelector('[data-part=\"newer\"]').hidden";
    assert!(
        until(&mut chrome, offered),
        "not offered where a page is missing"
    );
    chrome.eval("document.querySelector('[data-part=\"newer\"] button').click()");
    let shown = "document.querySelector('.mast p')?.textContent.trim() === 'New shop'";
    assert!(until(&mut chrome, shown), "the new site is not shown");
    check_all_are(&mut chrome, &host, &new, "New shop");
    host.cut();
    check_all_are(&mut chrome, &host, &new, "New shop");
}

#[test]
fn a_site_that_was_not_taken_along_offers_a_newer_one_and_leaves_open_pages_alone() {
    let old = asks_first(small("Old shop"));
    let new = asks_first(small("New shop"));
    let mut host = Host::of(&old);
    let mut chrome = phone();
    chrome.open(&host.address("about/"));
    wait_for(&mut chrome, "large");
    chrome.eval("window.typed = '4.2'");
    host.show(&new);
    assert!(is_offered(&mut chrome), "the new site is not offered");
    assert_eq!(
        chrome.eval("window.typed"),
        "4.2",
        "the page was loaded anew"
    );
    chrome.eval("document.querySelector('[data-part=\"newer\"] button').click()");
    let shown = "document.querySelector('.mast p')?.textContent.trim() === 'New shop'";
    assert!(until(&mut chrome, shown), "the new site is not shown");
    // The network goes when the whole is to be taken along: that is said, and how to go on.
    wait_for(&mut chrome, "large");
    host.cut();
    chrome.eval("document.querySelector('[data-when=large] button').click()");
    wait_for(&mut chrome, "broken");
    host.back(&new);
    chrome.eval("document.querySelector('[data-when=broken] button').click()");
    wait_for(&mut chrome, "whole");
}

#[test]
fn a_tab_in_which_something_is_typed_is_left_alone_when_another_takes_the_new_site() {
    let (old, new) = (small("Old shop"), small("New shop"));
    let mut host = Host::of(&old);
    let mut chrome = phone();
    chrome.open(&host.address(""));
    wait_for(&mut chrome, "whole");
    // Three tabs: one in which something is typed, one that is only read, one that takes the new site.
    chrome.open(&host.address("cards/coolant/bench/"));
    let typed = "document.querySelector('input:not([type=radio])')";
    assert!(until(&mut chrome, &format!("{typed} !== null")), "no field");
    chrome.eval(&format!("{typed}.value = '4.2'; window.is = 'old'"));
    let writing = chrome.new_tab();
    chrome.open(&host.address("about/"));
    let reading = chrome.new_tab();
    chrome.open(&host.address(""));
    host.show(&new);
    assert!(is_offered(&mut chrome), "the new site is not offered");
    chrome.eval("document.querySelector('[data-part=\"newer\"] button').click()");
    let shown = "document.querySelector('.mast p')?.textContent.trim() === 'New shop'";
    assert!(until(&mut chrome, shown), "the new site is not shown");
    chrome.turn_to(reading);
    assert!(until(&mut chrome, shown), "a tab goes on with the old site");
    chrome.turn_to(writing);
    assert_eq!(chrome.eval(&format!("{typed}.value")), "4.2");
    assert_eq!(chrome.eval("window.is"), "old");
    let offered = "!document.querySelector('[data-part=\"newer\"]').hidden";
    assert!(
        until(&mut chrome, offered),
        "the new site is not offered where one types"
    );
    chrome.eval("document.querySelector('[data-part=\"newer\"] [data-use]').click()");
    assert!(
        until(&mut chrome, "window.is === undefined"),
        "the page is not loaded when asked for"
    );
}
