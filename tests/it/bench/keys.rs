//! A run by keyboard alone: no finger, no pointer, the focus always where one goes on.

use super::hand::Hand;
use serde_json::json;

/// Presses of Tab that reach anything on a screen.
const FAR: usize = 40;

fn press(hand: &mut Hand, key: &str) {
    let (code, text) = match key {
        "Enter" => (13, "\r"),
        "Tab" => (9, ""),
        "." => (190, "."),
        digit => (u32::from(digit.as_bytes()[0]), digit),
    };
    for kind in ["keyDown", "keyUp"] {
        let mut event =
            json!({"type": kind, "key": key, "code": key, "windowsVirtualKeyCode": code});
        if kind == "keyDown" && !text.is_empty() {
            event["text"] = text.into();
        }
        hand.chrome.call("Input.dispatchKeyEvent", event);
    }
}

/// Tabs to an element and presses Enter on it.
fn enter(hand: &mut Hand, selector: &str) {
    hand.sees(selector);
    for _ in 0..FAR {
        let on = format!("document.activeElement.matches({})", json!(selector));
        if hand.chrome.eval(&on) == true {
            press(hand, "Enter");
            return;
        }
        press(hand, "Tab");
    }
    panic!("{selector} is not reached by Tab");
}

#[test]
fn a_run_by_keyboard_alone() {
    let mut hand = Hand::new("");
    hand.open("cards/coolant-temperature/bench/index.html");
    enter(&mut hand, "[data-begin]");
    for (reading, title) in [("0.02", "Signal pin"), ("5.02", "")] {
        hand.sees("[data-entry]");
        for key in reading.chars() {
            press(&mut hand, &key.to_string());
        }
        press(&mut hand, "Enter");
        hand.sees(&format!("[data-told] [data-read]|{reading} V"));
        let focused = hand.chrome.eval("document.activeElement.id");
        assert_eq!(
            focused, "told-head",
            "the meaning is not where the focus is"
        );
        let next = if title.is_empty() {
            "[data-go-verdict]"
        } else {
            "[data-told] .bar a[href='#test-signal-to-ground']:not([hidden])"
        };
        enter(&mut hand, next);
    }
    hand.sees("#verdict|repair the ground wire");
    assert_eq!(
        hand.chrome.eval("document.activeElement.id"),
        "verdict-head"
    );
    hand.check_quiet();
}
