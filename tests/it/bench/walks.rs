//! From the front page to a verdict with one thumb, without a network, a reload in the middle, not a word on the console.

use super::hand::Hand;

fn begin(hand: &mut Hand, title: &str) {
    hand.open("index.html");
    hand.picture();
    hand.tap(&format!("main a|{title}"));
    hand.sees(&format!("h1|{title}"));
    hand.tap("a|Bench mode");
    hand.sees("[data-begin]|Begin");
    hand.picture();
    hand.tap("[data-begin]");
    hand.sees("[data-entry]");
    hand.picture();
}

/// One visit with a network, then none: two runs and a search on the same phone.
#[test]
fn from_the_front_page_to_a_verdict_without_a_network() {
    let mut hand = Hand::away("walk");
    a_thermistor_to_its_open_ground_wire(&mut hand);
    a_position_sensor_to_its_open_track(&mut hand);
    a_circuit_is_found_by_its_words(&mut hand);
}

/// A ground wire that is open: by hand, the two pins then show nothing, and the signal pin its supply to good ground.
fn a_thermistor_to_its_open_ground_wire(hand: &mut Hand) {
    begin(hand, "Coolant temperature sensor");
    hand.read("supply", "0.02 V");
    assert!(hand.text("[data-meaning]").starts_with("Not good"));
    hand.reload();
    hand.sees("[data-told]|0.02 V");
    hand.tap("[data-told] .bar a|Signal pin to good ground");
    hand.read("signal-to-ground", "5.02 V");
    hand.tap("[data-go-verdict]");
    hand.sees("#verdict|repair the ground wire (pin 2)");
    hand.picture();
    let record = hand.text("[data-record]");
    for line in [
        "Coolant temperature sensor (card coolant-temperature)",
        "1. Supply across the two pins: 0.02 V",
        "2. Signal pin to good ground: 5.02 V",
        "one repair is left: repair the ground wire (pin 2)",
        "service information",
    ] {
        assert!(record.contains(line), "{line} is not in\n{record}");
    }
    hand.check_quiet();
}

/// A sensor whose track is open: forced, the scan value follows; the part alone shows no path.
fn a_position_sensor_to_its_open_track(hand: &mut Hand) {
    begin(hand, "Ramp angle sensor");
    hand.read("supply", "5.01 V");
    hand.tap("[data-told] .bar a|Scan value with the plug off");
    hand.read("open-signal", "0 V");
    hand.reload();
    hand.sees("[data-told]|0 V");
    hand.tap("[data-told] .bar a|Force the signal");
    // The scan tool shows two values: the one that follows the pin is the one that proves something.
    hand.read("force", "5 V");
    hand.go_to("track-ohms");
    hand.read("track-ohms", "OL");
    hand.tap("[data-go-verdict]");
    hand.sees("#verdict|replace the sensor");
    hand.picture();
    hand.check_quiet();
}

/// A front page opened anew, as in another tab: the search answers from what the phone took along.
fn a_circuit_is_found_by_its_words(hand: &mut Hand) {
    hand.open("index.html");
    hand.tap("#search");
    hand.type_text("coolan temp");
    hand.sees("#found a|Coolant temperature sensor");
    hand.picture();
    hand.tap("#found a|Coolant temperature sensor");
    hand.sees("h1|Coolant temperature sensor");
    hand.check_quiet();
}
