//! Where a run leads: to the place that tells most, its keys ready, be it on another screen or on the one that is shown.

use super::hand::Hand;
use serde_json::json;

const THROTTLE: &str = "cards/throttle-position/bench/index.html";

/// The place whose keys are ready: the point that is ticked, with an empty field to type into.
const READY: &str = "(() => {
  const screen = [...document.querySelectorAll('.screen')].find((one) => !one.hidden);
  const ready = document.querySelector('[data-entry]').checkVisibility() && !document.querySelector('.waits');
  const ticked = screen.querySelector('[type=radio]:checked')?.value;
  const focused = screen.contains(document.activeElement);
  return [ready && focused && scrollY === 0, ticked ?? screen.dataset.test, document.querySelector('#reading').value];
})()";

/// Taps what tells most, or presses Enter on it, and holds what is shown then against what it names.
fn follow(hand: &mut Hand, link: &str, by_key: bool) -> String {
    hand.sees(link);
    let asked = format!("document.querySelector({}).dataset.place", json!(link));
    let place = hand.chrome.eval(&asked);
    if by_key {
        let enter = format!("document.querySelector({}).focus()", json!(link));
        hand.chrome.eval(&enter);
        for kind in ["keyDown", "keyUp"] {
            let mut event =
                json!({"type": kind, "key": "Enter", "code": "Enter", "windowsVirtualKeyCode": 13});
            if kind == "keyDown" {
                event["text"] = "\r".into();
            }
            hand.chrome.call("Input.dispatchKeyEvent", event);
        }
    } else {
        hand.tap(link);
    }
    hand.sees("[data-entry]");
    assert_eq!(hand.chrome.eval(READY), json!([true, place, ""]), "{link}");
    place.as_str().unwrap().to_owned()
}

#[test]
fn what_tells_most_is_led_to_be_it_another_place_of_the_same_test() {
    let mut hand = Hand::new("led");
    for by_key in [false, true] {
        hand.open(THROTTLE);
        hand.tap("[data-begin]");
        hand.read("supply", "5.01 V");
        // On another screen, at the state that is named.
        hand.sees("[data-go-next] [data-name]|closed");
        assert_eq!(
            follow(&mut hand, "[data-go-next]", by_key),
            "at-rest@throttle closed"
        );
        hand.read("", "0.05 V");
        // On this screen, at another state.
        hand.sees("[data-go-next] [data-name]|open");
        hand.picture();
        assert_eq!(
            follow(&mut hand, "[data-go-next]", by_key),
            "at-rest@throttle wide open"
        );
        hand.sees("[data-good]|open");
        hand.picture();
        hand.read("", "0.00 V");
        hand.sees("[data-told] [data-expected]|open");
    }
    hand.check_quiet();
}

#[test]
fn the_verdict_leads_to_the_place_that_tells_most() {
    let mut hand = Hand::new("");
    hand.open(THROTTLE);
    hand.tap("[data-begin]");
    hand.read("supply", "5.01 V");
    follow(&mut hand, "[data-go-next]", false);
    hand.read("", "0.05 V");
    hand.tap("[data-go-verdict]");
    assert_eq!(
        follow(&mut hand, "[data-again]", false),
        "at-rest@throttle wide open"
    );
    hand.check_quiet();
}

/// Whatever is skipped, the next screen is another place, or the verdict.
#[test]
fn a_skipped_place_is_left_for_another_one() {
    let mut hand = Hand::new("");
    hand.open(THROTTLE);
    hand.tap("[data-begin]");
    let mut left = Vec::new();
    while hand.chrome.eval("location.hash") != "#verdict" {
        hand.sees("[data-entry] [data-skip]");
        let at = "location.hash + (document.querySelector('.screen:not([hidden]) [type=radio]:checked')?.value ?? '')";
        let at = hand.chrome.eval(at);
        assert!(!left.contains(&at), "{at} is shown again after {left:?}");
        left.push(at);
        hand.tap("[data-skip]");
        let gone = format!(
            "new Promise((told) => {{ const look = () => ((location.hash + (document.querySelector('.screen:not([hidden]) [type=radio]:checked')?.value ?? '')) === {} ? requestAnimationFrame(look) : told(true)); look(); }})",
            left[left.len() - 1]
        );
        assert_eq!(hand.chrome.eval(&gone), true);
    }
    assert!(3 < left.len(), "{left:?}");
    hand.check_quiet();
}
