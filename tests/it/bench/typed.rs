//! What is typed: in view with what a good circuit reads there, corrected, taken back, refused in words, kept without
//! an engine.

use super::hand::Hand;
use serde_json::{Value, json};

const RAMP: &str = "cards/ramp-angle/bench/index.html";
const COOLANT: &str = "cards/coolant-temperature/bench/index.html";

/// Cards with long hook-ups, several states, scan values, unions of bands.
const BENCHES: [&str; 5] = [
    RAMP,
    COOLANT,
    "cards/throttle-position/bench/index.html",
    "cards/manifold-pressure/bench/index.html",
    "cards/ramp-raised-switch/bench/index.html",
];

/// At every test of the page, with each point and scan value that can be chosen: what covers or cuts the band and the keys.
const IN_VIEW: &str = "(async () => {
  const drawn = () => new Promise((told) => requestAnimationFrame(() => requestAnimationFrame(told)));
  const wrong = [];
  const each = [...document.querySelectorAll('[data-test]')].flatMap((screen) => [screen.querySelectorAll('[type=radio]')].flatMap((radios) => (radios.length ? [...radios] : [null]).map((radio) => [screen, radio])));
  for (const [screen, radio] of each) {
    location.hash = screen.id;
    await drawn();
    const other = document.querySelector('[data-entry] [data-other]');
    if (radio && other.checkVisibility()) other.click();
    await drawn();
    radio?.click();
    await drawn();
    scrollTo(0, 0);
    const good = document.querySelector('[data-good]').textContent;
    if (radio && !good.startsWith(radio.closest('label').querySelector('span').textContent.slice(0, 5))) wrong.push(`${radio.value}: ${good}`);
    const box = (what) => document.querySelector(what).getBoundingClientRect();
    const band = document.querySelector('[data-good] b');
    const at = band.getBoundingClientRect();
    const hit = ({ left, right, top, bottom }) => document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
    const lines = [...band.getClientRects()];
    if (at.height < 10 || at.top < 0 || at.bottom > innerHeight || !lines.every((line) => band.contains(hit(line)))) wrong.push(`${screen.id}: band ${JSON.stringify(at)}`);
    if (at.top > box('[data-reading]').top) wrong.push(`${screen.id}: band below the number`);
    if (box('.enter').bottom > innerHeight + 0.5) wrong.push(`${screen.id}: keys end at ${box('.enter').bottom}`);
    if (document.documentElement.scrollWidth > innerWidth) wrong.push(`${screen.id}: ${document.documentElement.scrollWidth} wide`);
    const point = document.querySelector('[data-entry] [data-other]');
    if (screen.querySelector('[type=radio]') && !point.checkVisibility()) wrong.push(`${screen.id}: no way to another point`);
  }
  return wrong;
})()";

#[test]
fn what_a_good_circuit_reads_stands_above_what_is_typed_on_every_screen() {
    let mut hand = Hand::new("typed");
    for (width, height) in [(360, 740), (360, 600), (740, 360)] {
        hand.chrome.screen(width, height);
        for bench in BENCHES {
            hand.open(bench);
            hand.sees("[data-begin]");
            let wrong = hand.chrome.eval(IN_VIEW);
            assert_eq!(wrong, json!([]), "{bench} at {width} x {height}");
            hand.picture();
        }
    }
    hand.check_quiet();
}

fn value(hand: &mut Hand, selector: &str) -> Value {
    let asked = format!("document.querySelector({}).value", json!(selector));
    hand.chrome.eval(&asked)
}

fn type_keys(hand: &mut Hand, digits: &str) {
    for digit in digits.chars() {
        hand.tap(&format!("[data-key=\"{digit}\"]"));
    }
}

#[test]
fn a_wrong_point_is_corrected_and_a_reading_taken_back() {
    let mut hand = Hand::new("back");
    hand.open(&format!("{RAMP}#test-at-rest"));
    hand.sees("[data-entry]");
    let top = hand.chrome.eval(
        "[scrollY, document.querySelector('#test-at-rest h2').getBoundingClientRect().top < 120]",
    );
    assert_eq!(
        top,
        json!([0, true]),
        "opened at a test it stands at its top"
    );
    hand.sees(".wait|keys come then");
    hand.tap("[data-say=\"drifts\"]");
    hand.sees("[data-wrong]|Choose first");
    hand.read("at-rest@80 deg", "1.05 V");
    hand.sees("[data-told]|Not good");
    // The first digit takes the place of what was read.
    hand.tap("[data-told] [data-change]");
    assert_eq!(value(&mut hand, "#reading"), "1.05");
    type_keys(&mut hand, "1.0");
    assert_eq!(value(&mut hand, "#reading"), "1.0");
    hand.tap("[data-entry] [data-other]");
    hand.choose("at-rest@0 deg");
    type_keys(&mut hand, "1.05");
    hand.tap("button.enter");
    hand.sees("[data-told].sound [data-expected]|0");
    hand.tap("[data-go-verdict]");
    hand.sees("#verdict .meaning|Every reading");
    hand.picture();
    let count = "document.querySelectorAll('[data-readings] li').length";
    assert_eq!(
        hand.chrome.eval(count),
        1,
        "the reading at the wrong point stays"
    );
    hand.tap("[data-readings] button|Remove");
    hand.sees("#verdict .meaning|Nothing was read");
    hand.go_to("at-rest");
    hand.sees("[data-entry] [data-skip]");
    hand.check_quiet();
}

#[test]
fn a_temperature_of_ones_own_is_typed_with_the_large_keys_and_held_against_the_curve() {
    let mut hand = Hand::new("own");
    hand.open(&format!("{COOLANT}#test-at-rest"));
    hand.tap("#own-at-rest");
    for (degrees, found) in [
        ("9999", "[data-wrong]|can't be taken here"),
        ("34", "[data-good]|34 C, a good circuit"),
    ] {
        hand.chrome
            .eval("document.querySelector('#own-at-rest').value = ''");
        type_keys(&mut hand, degrees);
        assert_eq!(value(&mut hand, "#own-at-rest"), degrees);
        hand.sees(found);
        hand.picture();
    }
    hand.tap("#reading");
    type_keys(&mut hand, "2.18");
    hand.tap("button.enter");
    hand.sees("[data-told].sound [data-expected]|34");
    // Corrected, the temperature is another, the reading the same one.
    hand.tap("[data-told] [data-change]");
    hand.tap("#own-at-rest");
    hand.chrome
        .eval("document.querySelector('#own-at-rest').value = ''");
    type_keys(&mut hand, "91");
    hand.sees("[data-good]|91 C, a good circuit");
    hand.tap("#reading");
    type_keys(&mut hand, "2.18");
    hand.tap("button.enter");
    hand.sees("[data-told].bad [data-expected]|91");
    hand.tap("[data-go-verdict]");
    hand.sees("[data-readings] li|91");
    let read = "[...document.querySelectorAll('[data-readings] li')].map((one) => one.innerText.includes('91'))";
    assert_eq!(hand.chrome.eval(read), json!([true]));
    hand.check_quiet();
}

#[test]
fn without_an_engine_the_record_has_readings_and_bands() {
    let mut hand = Hand::new("");
    hand.chrome
        .call("Network.setBlockedURLs", json!({"urls": ["*.wasm"]}));
    hand.open(COOLANT);
    hand.tap("[data-begin]");
    hand.read("supply", "5.01 V");
    hand.sees("[data-failed]|could not be worked out");
    hand.tap("[data-go-verdict]");
    hand.sees("#verdict .meaning|could not be worked out");
    let record = hand.text("[data-record]");
    for words in [
        "1. Supply across the two pins: 5.01 V",
        "A good circuit: 4.87",
        "service information",
    ] {
        assert!(record.contains(words), "{words} is not in\n{record}");
    }
    // Where nothing may be copied by itself the record is opened and marked.
    hand.chrome
        .eval("navigator.clipboard.writeText = () => Promise.reject(new Error('no'))");
    hand.tap("[data-copy]");
    hand.sees("[data-copy]|Marked");
    let marked = hand.chrome.eval("getSelection().toString()");
    assert!(marked.as_str().unwrap().contains("5.01 V"), "{marked}");
    let seen =
        "document.querySelector('[data-record]').checkVisibility({contentVisibilityAuto: true})";
    assert_eq!(hand.chrome.eval(seen), true);
}

/// A derived value is told as the tool shows it, and the screen names the value chosen.
#[test]
fn a_derived_value_outside_its_range_is_told_by_its_substitute() {
    let mut hand = Hand::new("derived");
    hand.open("cards/throttle-position/bench/index.html#test-force");
    hand.sees("#test-force [data-watch]|” or “");
    hand.tap("#test-force label|opening");
    hand.sees("[data-good] b|shows 8");
    let named = hand.text("#test-force [data-watch]");
    assert_eq!(named.replace('\u{a0}', " "), "“Throttle opening”");
    hand.picture();
}
