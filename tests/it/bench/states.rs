//! States and values of a shop's own cards: the state of a test is told wherever the test is, a temperature is asked for, a value
//! that the module works out is typed in its tool's unit, and long names stay on the screen.

use super::hand::Hand;
use crate::browser::chrome::Chrome;
use crate::browser::walk::MEASURE;
use loomleaf::card::{read, shipped};
use loomleaf::preview::{Port, Server};
use loomleaf::publish::{SiteOptions, site};
use serde_json::json;
use std::collections::BTreeMap;

/// A relay-fed load, whose tests but one are read with the relay on.
const FAN: &str = "\
title: Drier fan
family: load-relay-fed
pins: {1: {role: supply, wire: RDBU}, 2: {role: body, wire: BK}}
";

/// A tool that shows degrees and, where the wire is open or bridged, an end of its scale.
const SUMP: &str = "\
title: Sump temperature
family: thermistor-2wire
pins: {7: {role: signal, wire: WHVT}, 12: {role: ground, wire: BNBU}}
curve: {a: 1.40e-3, b: 2.37e-4, c: 9.90e-8, within: 3 %}
signal: [{at: -10 C}, {at: 15 C}, {at: 50 C}, {at: 110 C}]
scan: [{name: Sump temperature worked out by the drive controller, kind: derived, valid: 0.2 to 4.8 V, substitute: shows -40 C}]
";

/// Long names of states; the tool shows a part of a hundred, and a number without a unit.
const LEVER: &str = "\
title: Haul lever
family: position-pot
pins: {1: {role: reference, wire: RDGY}, 2: {role: signal, wire: TQ}, 3: {role: ground, wire: GYBK}}
signal:
  - {at: lever fully back against the stop, reads: 0.5 to 0.8 V}
  - {at: 50 %, reads: 2.3 to 2.7 V}
  - {at: lever fully forward against the stop, reads: 4.1 to 4.5 V}
scan:
  - {name: Lever volts, kind: raw}
  - {name: Lever demand, kind: derived, valid: 0.3 to 4.7 V, substitute: shows 0 %}
  - {name: Lever steps, kind: derived, valid: 0.3 to 4.7 V, substitute: stays where it was}
tests:
  middle:
    title: Signal in the working place
    plug: back-probed
    key: on
    volts: [signal, ground]
    at: 50 %
order: [supply, middle, force]
";

/// A circuit of the shop's own that has no states.
const LOOP: &str = "\
title: Wear loop
pins: {1: {role: signal, wire: WH}, 2: {role: ground, wire: BN}}
circuit:
  says: a resistor that is cut through when the lining is worn
  roles: [signal, ground]
  parameters:
    volts: {default: 8 V ± 3 %, says: what the controller supplies}
    pull_up: {default: 1.5 kohm ± 5 %, says: resistor inside the controller}
    lining: {default: 470 ohm ± 5 %, says: resistor in the lining}
  module:
    - {regulator: lining voltage, volts: $volts, series: 0.5 ohm ± 50 %, limit: 50 mA ± 20 %}
    - {resistor: $pull_up, name: pull-up, between: [lining voltage, signal]}
    - {input: signal, against: lining voltage, series: 10 kohm ± 5 %}
  part:
    - {resistor: $lining, name: lining resistor, between: [signal, ground]}
  tests:
    at-rest: {title: Signal with everything connected, plug: back-probed, key: on, volts: [signal, ground], minutes: 2}
  order: [at-rest]
";

/// The cards and their deck, served.
fn shop() -> Server {
    let files = [
        ("deck.yaml", "title: A shop\n"),
        ("cards/fan.yaml", FAN),
        ("cards/sump.yaml", SUMP),
        ("cards/lever.yaml", LEVER),
        ("cards/loop.yaml", LOOP),
    ];
    let files = files.map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec()));
    let deck = read(&BTreeMap::from(files), &shipped()).0.unwrap();
    let sheets = loomleaf::sheet::sheets(&deck).0;
    let server = Server::start(Port::Free).unwrap();
    let (pages, broken) = site(&deck, &sheets, &SiteOptions::default());
    assert!(broken.is_empty(), "{broken:?}");
    server.show(pages);
    server
}

fn hand(pictures: &'static str) -> Hand {
    Hand::with(Chrome::start(), shop(), pictures)
}

#[test]
fn the_one_state_of_a_test_is_told_on_its_screen_and_by_what_leads_to_it() {
    let mut hand = hand("state");
    hand.open("cards/fan/bench/index.html");
    hand.tap("[data-begin]");
    hand.sees("#test-feed .hookup|relay on");
    hand.sees("[data-good]|relay on, a good circuit");
    hand.picture();
    hand.go_to("across");
    hand.read("across@relay off", "0.0 V");
    hand.sees("[data-go-turn] [data-name]|Feed to good ground, plug off, relay on");
    hand.sees("[data-go-next] [data-name]|relay on");
    hand.tap("[data-go-turn]");
    hand.read("", "0.0 V");
    hand.sees("[data-told] [data-expected]|relay on");
    hand.open("cards/lever/bench/index.html#test-middle");
    hand.sees("#test-middle .hookup|50\u{a0}%");
    hand.check_quiet();
}

/// A technician sets a relay or a lever, but no temperature.
#[test]
fn a_test_at_a_temperature_is_led_to_with_its_question_open() {
    let mut hand = hand("open");
    hand.open("cards/sump/bench/index.html");
    hand.go_to("at-rest");
    for (place, reading, test) in [
        ("at-rest@15 C", "3.5 V", "test-ground-drop"),
        // What was read there at another temperature is not shown in place of the question.
        ("ground-drop@110 C", "2 mV", "test-at-rest"),
    ] {
        hand.read(place, reading);
        hand.sees("[data-go-next] [data-name]|best at 110");
        hand.tap("[data-go-next]");
        hand.sees(&format!("#{test} legend|In which state"));
        hand.sees("[data-entry] .wait|Choose above");
        let chosen =
            "document.querySelectorAll('.screen:not([hidden]) :checked[type=radio]').length";
        assert_eq!(hand.chrome.eval(chosen), 0, "{test}");
        hand.picture();
    }
    hand.check_quiet();
}

/// Labels of the units that can be tapped.
const UNITS: &str = "[...document.querySelectorAll('[data-unit]')].filter((key) => key.checkVisibility()).map((key) => key.textContent)";

#[test]
fn a_value_that_the_module_works_out_is_typed_in_its_tools_own_unit() {
    let mut hand = hand("tool");
    hand.open("cards/lever/bench/index.html#test-force");
    hand.sees(".wait");
    for (value, units, unit) in [
        ("volts", json!(["V"]), "V"),
        ("demand", json!(["%", "V"]), "%"),
        ("steps", json!(["as shown", "V"]), ""),
    ] {
        hand.tap(&format!("#test-force label|Lever {value}"));
        hand.sees("[data-entry] .line");
        assert_eq!(hand.chrome.eval(UNITS), units, "{value}");
        let pressed = hand
            .chrome
            .eval("document.querySelector('[data-unit][aria-pressed=true]').dataset.unit");
        assert_eq!(pressed, unit);
        hand.picture();
        if value != "volts" {
            hand.tap("[data-key=\"4\"]");
            hand.tap("button.enter");
            hand.sees(&format!(
                "[data-told] [data-read]|{}",
                format!("4 {unit}").trim()
            ));
            hand.tap("[data-change]");
            assert_eq!(
                hand.chrome.eval("document.querySelector('#reading').value"),
                "4"
            );
        }
        hand.tap("[data-entry] [data-other]");
    }
    // The substitute that has a number is a key of its own, and all that is said of a good circuit.
    hand.sees("[data-say=\"0 %\"]|It shows 0 %");
    hand.open("cards/sump/bench/index.html#test-bridge");
    hand.sees("[data-good] b|shows -40 C");
    let good = hand.text("[data-good]");
    assert!(
        !good.contains("at the pin") && !good.contains("scale"),
        "{good}"
    );
    hand.check_quiet();
}

/// By usual letters and by larger ones, upright and on its side.
#[test]
fn long_names_of_states_stay_on_the_screen_and_whole() {
    let mut hand = hand("long-states");
    for (width, height, letters) in [
        (360, 740, 100),
        (320, 640, 100),
        (360, 740, 200),
        (740, 360, 150),
        (740, 360, 200),
    ] {
        hand.chrome.screen(width, height);
        for page in [
            "cards/lever/readings/index.html",
            "cards/lever/bench/index.html#test-at-rest",
            "cards/sump/bench/index.html#test-at-rest",
        ] {
            hand.open("index.html");
            hand.open(page);
            hand.chrome.eval(&format!(
                "document.documentElement.style.fontSize = '{letters}%'"
            ));
            hand.chrome.eval(MEASURE);
            let wide = hand.chrome.eval(&format!("measure.tooWide({width})"));
            assert_eq!(wide, json!([]), "{page} at {width}, {letters} %");
            if page.contains("bench") {
                hand.sees(".wait");
                hand.picture();
                hand.tap("label:has([type=radio])|");
                hand.sees("[data-good]|a good circuit");
                let wide = hand.chrome.eval(&format!("measure.tooWide({width})"));
                assert_eq!(wide, json!([]), "{page} at {width}, {letters} %, chosen");
                hand.picture();
            }
        }
    }
    hand.check_quiet();
}

/// Arrows look at each state, Enter and Space choose one: what is chosen takes the list away.
#[test]
fn states_are_chosen_by_keyboard() {
    let mut hand = hand("");
    hand.open("cards/lever/bench/index.html#test-at-rest");
    hand.sees(".wait");
    hand.chrome
        .eval("document.querySelector('#test-at-rest [type=radio]').focus()");
    let focused = "[document.activeElement.value, document.querySelectorAll('#test-at-rest :checked').length]";
    for (key, code, at, chosen) in [
        ("ArrowDown", 40, "at-rest@50 %", 0),
        (
            "ArrowDown",
            40,
            "at-rest@lever fully forward against the stop",
            0,
        ),
        (
            "ArrowDown",
            40,
            "at-rest@lever fully back against the stop",
            0,
        ),
        (
            "ArrowUp",
            38,
            "at-rest@lever fully forward against the stop",
            0,
        ),
        ("Enter", 13, "", 1),
    ] {
        for kind in ["rawKeyDown", "keyUp"] {
            let event =
                json!({"type": kind, "key": key, "code": key, "windowsVirtualKeyCode": code});
            hand.chrome.call("Input.dispatchKeyEvent", event);
        }
        assert_eq!(hand.chrome.eval(focused), json!([at, chosen]), "{key}");
    }
    hand.sees("[data-good]|lever fully forward");
    hand.check_quiet();
}

#[test]
fn a_circuit_without_states_has_a_name_in_every_row_and_a_sentence_ends_once() {
    let mut hand = hand("");
    hand.open("cards/loop/index.html");
    let rows = "[...document.querySelectorAll('.signal tbody th')].map((one) => one.textContent)";
    assert_eq!(hand.chrome.eval(rows), json!(["In any state"]));
    hand.open("cards/loop/bench/index.html#test-at-rest");
    hand.read("", "cannot measure");
    hand.sees("[data-says]|rule nothing out:");
    hand.tap("[data-go-verdict]");
    hand.sees("#verdict .meaning|rule nothing out:");
    let record = hand.text("[data-record]");
    assert!(record.contains("rule nothing out:\n"), "{record}");
    hand.check_quiet();
}
