//! Light and units: chosen once, worn by every page from its first frame, and refused without harm.

use super::hand::Hand;
use serde_json::json;

const CARD: &str = "cards/coolant-temperature/index.html";
const READINGS: &str = "cards/coolant-temperature/readings/index.html";

fn choose(hand: &mut Hand, value: &str) {
    hand.open("comfort/index.html");
    hand.tap(&format!("label:has([value=\"{value}\"])"));
}

/// Whether a text is shown, by the page's own style.
fn shows(hand: &mut Hand, text: &str) -> bool {
    let asked = format!(
        "(() => {{ for (const aside of document.querySelectorAll('details')) aside.open = true;
            return document.body.innerText.replaceAll('\\u00a0', ' ').includes({}); }})()",
        json!(text)
    );
    hand.chrome.eval(&asked) == true
}

/// 20 C is 68 F, 100 kPa is 14.5 psi (NIST SP 811, B.8); 0.5 mm² lies nearest 20 AWG, 0.518 mm² (ASTM B258).
#[test]
fn values_are_shown_in_the_units_that_were_chosen() {
    let mut hand = Hand::new("comfort");
    let pages = [
        (CARD, "0.5 mm²", "about 20 AWG"),
        (
            "cards/coolant-temperature/bench/index.html#test-at-rest",
            "20 C",
            "68 F",
        ),
        ("cards/manifold-pressure/index.html", "100 kPa", "14.5 psi"),
        (
            "cards/manifold-pressure/index.html",
            "0.518 mm²",
            "about 20 AWG",
        ),
        (READINGS, "In short at 20 C", "In short at 68 F"),
    ];
    for (chosen, own) in [("", true), ("us", false)] {
        if !chosen.is_empty() {
            choose(&mut hand, chosen);
            hand.picture();
        }
        for (page, si, us) in pages {
            hand.open(page);
            hand.sees("main");
            let wanted = if own { si } else { us };
            assert!(shows(&mut hand, wanted), "{page}: chosen `{chosen}`");
            let other = if own { ".us" } else { ".si" };
            let shown = format!(
                "[...document.querySelectorAll('{other}')].filter((e) => e.checkVisibility()).length"
            );
            let shown = hand.chrome.eval(&shown);
            assert_eq!(shown, 0, "{page}: {other}, chosen `{chosen}`");
        }
        // Charts too: the signal's and that of series resistance, on the page of readings.
        hand.open(READINGS);
        let worn = if own { ".si" } else { ".us" };
        let drawn = format!(
            "(() => {{ for (const aside of document.querySelectorAll('details')) aside.open = true;
                return [...document.querySelectorAll('.chart svg {worn}')].filter((e) => e.checkVisibility()).map((e) => e.textContent); }})()"
        );
        let drawn: Vec<String> = serde_json::from_value(hand.chrome.eval(&drawn)).unwrap();
        let point = if own { "40\u{a0}C" } else { "104\u{a0}F" };
        let shown = drawn.iter().filter(|one| one.ends_with(point)).count();
        assert!(1 < shown, "{drawn:?}");
    }
    hand.check_quiet();
}

#[test]
fn chosen_units_stand_ready_where_something_is_typed() {
    let mut hand = Hand::new("");
    let calculator = "calculators/rtd/index.html";
    for (chosen, unit) in [("", "C"), ("us", "F")] {
        if !chosen.is_empty() {
            choose(&mut hand, chosen);
        }
        hand.open(calculator);
        let ready = hand
            .chrome
            .eval("[...document.querySelectorAll('[data-unit]')].map((e) => e.value)");
        let ready: Vec<String> = serde_json::from_value(ready).unwrap();
        assert!(
            ready.iter().any(|one| one == unit),
            "{ready:?}, chosen `{chosen}`"
        );
        hand.open("cards/coolant-temperature/bench/index.html#test-at-rest");
        // Live once its script has shown the test, after what this phone keeps was read.
        hand.sees(".live [data-own-unit]");
        let ready = hand
            .chrome
            .eval("document.querySelector('#test-at-rest [data-own-unit]').value");
        assert_eq!(ready, unit, "chosen `{chosen}`");
    }
    hand.check_quiet();
}

#[test]
fn light_is_worn_from_the_first_frame_and_by_every_page() {
    let mut hand = Hand::new("comfort-light");
    for (light, paper) in [
        ("day", "rgb(250, 246, 236)"),
        ("night", "rgb(17, 24, 27)"),
        ("high", "rgb(0, 0, 0)"),
    ] {
        choose(&mut hand, light);
        for scheme in ["light", "dark"] {
            hand.chrome.scheme(scheme);
            hand.open(CARD);
            let ground = hand
                .chrome
                .eval("getComputedStyle(document.documentElement).backgroundColor");
            assert_eq!(ground, paper, "{light} on a phone set to {scheme}");
            hand.chrome.eval(crate::browser::walk::MEASURE);
            let faint = hand.chrome.eval("measure.tooFaint()");
            assert_eq!(faint, json!([]), "{light}");
        }
        hand.picture();
    }
    hand.check_quiet();
}

#[test]
fn a_phone_that_keeps_no_choice_says_so() {
    let mut hand = Hand::new("");
    let refusing = json!({"source": "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); };"});
    hand.chrome
        .call("Page.addScriptToEvaluateOnNewDocument", refusing);
    choose(&mut hand, "night");
    hand.sees("[data-unkept]|keeps nothing");
    hand.check_quiet();
}
