//! What can't be taken: refused where it is typed, with what to type instead, and not a word on the console.

use super::hand::Hand;
use serde_json::json;

const THROTTLE: &str = "cards/throttle-position/bench/index.html";

/// A test, what is typed there, words of the refusal.
const REFUSED: [(&str, &str, &[&str]); 16] = [
    ("supply", "", &["in digits", "tap a word"]),
    ("supply", ".", &["in digits"]),
    ("supply", "-", &["in digits"]),
    (
        "supply",
        "--",
        &["“5.03 V”", "does not begin with a number"],
    ),
    ("supply", "abc", &["“5.03 V”", "“abc” does not begin"]),
    ("supply", "1.2.3", &["“5.03 V”", "“1.2.3"]),
    ("supply", "5k", &["“5.03 V”", "is a resistance"]),
    ("supply", "5 ohm", &["“5.03 V”", "is a resistance"]),
    ("supply", "OL", &["“5.03 V”", "“drifts”"]),
    ("supply", "no change", &["“5.03 V”", "“cannot measure”"]),
    ("supply", "99999", &["more than any such circuit gives"]),
    ("supply", "<b>5</b>", &["“5.03 V”", "<b>"]),
    (
        "open-signal",
        "abc",
        &["that the scan tool shows", "“no change”"],
    ),
    ("track-ohms", "5 V", &["“2.8 kohm”", "is a voltage"]),
    ("track-ohms", "drifts", &["“2.8 kohm”", "“OL”"]),
    ("at-rest", "5 mA", &["“5.03 V”", "is a current"]),
];

/// Where such a test has more than one place.
const PLACES: [&str; 2] = ["at-rest@throttle closed", "open-signal"];

fn type_anew(hand: &mut Hand, text: &str) {
    hand.chrome.eval(
        "(() => { const field = document.querySelector('#reading'); field.focus(); field.value = ''; })()",
    );
    hand.type_text(text);
    hand.tap("button.enter");
}

#[test]
fn what_can_not_be_taken_is_refused_in_words_and_with_a_quiet_console() {
    let mut hand = Hand::new("refused");
    hand.open(THROTTLE);
    hand.tap("[data-begin]");
    for (test, text, words) in REFUSED {
        hand.go_to(test);
        if let Some(place) = PLACES.iter().find(|place| place.starts_with(test)) {
            hand.choose(place);
        }
        type_anew(&mut hand, text);
        for one in words {
            hand.sees(&format!("[data-wrong]|{one}"));
        }
        let state = "[document.querySelector('#reading').value, innerWidth < document.documentElement.scrollWidth,
            document.querySelectorAll('.overview .read').length]";
        let state = hand.chrome.eval(state);
        assert_eq!(state, json!([text, false, 0]), "{test}: {text}");
    }
    hand.picture();
    hand.check_quiet();
}

/// A decimal comma, a unit of the same kind and many digits are readings; what nobody reads is not even typed.
#[test]
fn what_is_typed_in_other_ways_is_taken_and_its_length_has_an_end() {
    let mut hand = Hand::new("");
    hand.open(&format!("{THROTTLE}#test-supply"));
    for (text, read) in [("1,5", "1,5 V"), ("1500 mV", "1500 mV"), ("-3", "-3 V")] {
        hand.sees("[data-entry]");
        type_anew(&mut hand, text);
        hand.sees(&format!("[data-told] [data-read]|{read}"));
        hand.tap("[data-told] [data-remove]");
    }
    hand.sees("[data-entry] [data-skip]");
    type_anew(&mut hand, &"7".repeat(10_000));
    hand.sees("[data-wrong]|more than any such circuit gives");
    for _ in 0..3 {
        hand.tap("[data-key=\"7\"]");
    }
    let long = hand
        .chrome
        .eval("document.querySelector('#reading').value.length");
    assert_eq!(long, 24);
    hand.check_quiet();
}
