//! Signals: there and back, codes, the two-point check, what wires may have; against hand derivations.

use super::{answer, number, refusal, words};

const LINE: &str = "low-value=20 kPa|high-value=300 kPa|low-volts=0.4 V|high-volts=4.65 V";

/// Identity: what volts mean has those volts, whatever the reference measured.
#[test]
fn volts_and_values_go_there_and_back() {
    for reference in ["4.75 V", "5 V", "5.25 V"] {
        for volts in ["0.5 V", "1.234 V", "4.2 V"] {
            let there = answer(
                "signal-range",
                &format!("{LINE}|reference={reference}|volts={volts}"),
            );
            let value = number(&there, "value").unwrap();
            let back = format!("{LINE}|reference={reference}|value={value} Pa");
            let volts: f64 = volts.trim_end_matches(" V").parse().unwrap();
            let got = number(&answer("signal-range", &back), "volts").unwrap();
            assert!((got - volts).abs() < 1e-9, "{reference} {volts}: {got}");
        }
    }
}

/// By hand: 0.5 to 4.5 V for -40 to 140 °C falling; at 2.5 V it is 50 °C, give or take 2 % of 180 K.
#[test]
fn a_falling_line_has_its_larger_value_at_the_lower_volts() {
    let got = answer(
        "signal-range",
        "volts=2.5 V|low-value=140 C|high-value=-40 C",
    );
    assert!((number(&got, "value").unwrap() - 50.0).abs() < 1e-9);
    assert!((number(&got, "value-band.low").unwrap() - 46.4).abs() < 1e-9);
    assert!((number(&got, "value-band.high").unwrap() - 53.6).abs() < 1e-9);
}

/// Thresholds: common practice, no source. Codes: SAE J2012 speaks of the volts at the module.
#[test]
fn where_a_signal_stands_decides_its_code() {
    for (volts, stands, code) in [
        ("0.1 V", "below the low input limit", "circuit low"),
        (
            "0.2 V",
            "at the low input limit",
            "none yet; circuit low from here down",
        ),
        ("0.3 V", "below the span", "no circuit low or high"),
        ("0.45 V", "inside the span", "none"),
        ("0.5 V", "bottom of the span", "none"),
        ("2.5 V", "inside the span", "none"),
        ("4.5 V", "top of the span", "none"),
        ("4.7 V", "above the span", "no circuit low or high"),
        (
            "4.8 V",
            "at the high input limit",
            "none yet; circuit high from here up",
        ),
        ("4.95 V", "above the high input limit", "circuit high"),
    ] {
        let got = answer("signal-range", &format!("volts={volts}"));
        assert!(
            words(&got, "stands").starts_with(stands),
            "{volts}: {}",
            words(&got, "stands")
        );
        assert!(
            words(&got, "code").starts_with(code),
            "{volts}: {}",
            words(&got, "code")
        );
        let outside = code.contains("circuit low") || code.contains("circuit high");
        assert_eq!(
            number(&got, "value").is_none(),
            outside && !code.starts_with("no "),
            "{volts}"
        );
    }
    // On a reference of 4.8 V the limit of 4.8 V is 4.608 V.
    let low_reference = answer("signal-range", "volts=4.7 V|reference=4.8 V");
    assert_eq!(words(&low_reference, "code"), "circuit high");
    let absolute = answer("signal-range", "volts=4.7 V|reference=4.8 V|kind=absolute");
    assert!(words(&absolute, "code").starts_with("no circuit low or high"));
}

#[test]
fn a_span_beyond_the_input_limits_is_told() {
    let note = |given: &str| {
        answer("signal-range", given)
            .notes
            .join("\n")
            .contains("reaches beyond")
    };
    assert!(note("volts=2 V|high-volts=4.9 V"));
    assert!(note("volts=2 V|low-volts=0.1 V"));
    assert!(!note("volts=2 V|low-volts=0.25 V|high-volts=4.75 V"));
}

#[test]
fn lines_that_are_none_are_refused() {
    for (given, key) in [
        ("volts=2 V|low-volts=4.5 V|high-volts=0.5 V", "high-volts"),
        ("volts=2 V|low-value=10 kPa|high-value=10 kPa", "high-value"),
        ("volts=2 V|low-value=10 kPa|high-value=50 C", "high-value"),
        ("value=20 C|low-value=10 kPa|high-value=50 kPa", "value"),
        ("volts=2 V|value=20 %", "value"),
        ("volts=2 V|input-low=4.9 V", "input-high"),
        ("reference=5 V", "volts"),
    ] {
        assert_eq!(refusal("signal-range", given).key, Some(key), "{given}");
    }
}

/// By hand: points on a line that is moved by 0.12 V, one that is 5 % flatter about its lower end, both.
#[test]
fn two_points_tell_offset_from_span() {
    let check = |first: f64, second: f64| {
        let given = format!(
            "first-value=0 %|first-volts={first} V|second-value=100 %|second-volts={second} V"
        );
        answer("signal-check", &given)
    };
    let moved = check(0.62, 4.62);
    assert!((number(&moved, "offset").unwrap() - 0.12).abs() < 1e-9);
    assert!(number(&moved, "span-error").unwrap().abs() < 1e-9);
    assert!(words(&moved, "verdict").starts_with("the line is moved as a whole"));
    let flat = check(0.5, 4.3);
    assert!((number(&flat, "span-error").unwrap() + 0.05).abs() < 1e-9);
    assert!(number(&flat, "offset").unwrap().abs() < 1e-9);
    assert!(words(&flat, "verdict").starts_with("the line starts right"));
    assert!(
        words(&check(0.62, 4.42), "verdict").starts_with("the line is moved and has another slope")
    );
    assert_eq!(
        words(&check(0.55, 4.45), "verdict"),
        "both points are within the tolerance"
    );
    let near = "first-value=50 %|first-volts=2.5 V|second-value=55 %|second-volts=2.7 V";
    assert_eq!(refusal("signal-check", near).key, Some("second-value"));
}

/// The nodes written out: sensor between its own pins, x of what it gets, both wires in the supply's way.
fn signal(reference: f64, x: f64, current: f64, ground: f64, feed: f64) -> f64 {
    current * ground + x * (reference - current * ground - current * feed)
}

/// The ohms told, put into the circuit written out, give just the error allowed at the worst end.
#[test]
fn the_ohms_of_each_wire_give_the_error_allowed() {
    for (given, error) in [
        ("error=1 %|current=10 mA", 0.04),
        ("error=25 mV|current=10 mA", 0.025),
        (
            "error=2 kPa|current=10 mA|low-value=0 kPa|high-value=250 kPa",
            0.032,
        ),
        (
            "error=1 K|current=10 mA|low-value=-40 C|high-value=120 C",
            0.025,
        ),
    ] {
        let got = answer("signal-drop", given);
        assert!(
            (number(&got, "error").unwrap() - error).abs() < 1e-12,
            "{given}"
        );
        let ohms = |key: &str| number(&got, key).unwrap();
        let at =
            |x: f64, ground: f64, feed: f64| (signal(5.0, x, 0.01, ground, feed) - 5.0 * x).abs();
        let ground = ohms("ground-ohms");
        assert!(
            (at(0.1, ground, 0.0) - error).abs() < 1e-9 && at(0.9, ground, 0.0) < error,
            "{given}"
        );
        let feed = ohms("reference-ohms");
        assert!(
            (at(0.9, 0.0, feed) - error).abs() < 1e-9 && at(0.1, 0.0, feed) < error,
            "{given}"
        );
        // 4.5 V across 100 kohm flow in the signal wire at the worse end.
        assert!(
            (ohms("signal-ohms") * 45e-6 - error).abs() < 1e-9,
            "{given}"
        );
        let each = ohms("each");
        for x in [0.1, 0.5, 0.9] {
            assert!(at(x, each, each) + each * 45e-6 <= error, "{given} at {x}");
        }
    }
    assert_eq!(
        refusal("signal-drop", "error=2 kPa|current=10 mA").key,
        Some("error")
    );
    assert_eq!(
        refusal("signal-drop", "error=5 V|current=10 mA").key,
        Some("error")
    );
}

#[test]
fn a_signal_that_does_not_follow_the_reference_minds_only_ground_and_signal_wire() {
    let got = answer("signal-drop", "error=40 mV|current=10 mA|kind=absolute");
    assert!((number(&got, "ground-ohms").unwrap() - 4.0).abs() < 1e-9);
    assert_eq!(number(&got, "reference-ohms"), None);
}

/// Identity: the signal with the wires' ohms reads as the colder temperature by as much as allowed.
#[test]
fn ohms_in_a_two_wire_sensor_read_colder_by_the_error_allowed() {
    let got = answer(
        "signal-drop-two-wire",
        "error=2 K|temperature=90 C|r25=3 kohm|beta=3977 K",
    );
    let volts = number(&got, "signal-then").unwrap();
    let given = format!("known-resistance=3 kohm|beta=3977 K|pull-up=2.2 kohm|volts={volts} V");
    let read = number(&answer("thermistor-beta", &given), "temperature").unwrap();
    assert!((read - 88.0).abs() < 1e-9, "{read}");
}

/// Identity: each way of asking a sensor leads back.
#[test]
fn sensors_go_there_and_back() {
    for (name, part) in [
        ("thermistor-beta", "known-resistance=10 kohm|beta=3950 K"),
        ("thermistor-steinhart-hart", "a=1.40e-3|b=2.37e-4|c=9.90e-8"),
        ("rtd", "r0=200 ohm"),
    ] {
        for celsius in [-39.0, -0.5, 0.0, 25.0, 119.0] {
            let there = answer(
                name,
                &format!("{part}|temperature={celsius} C|pull-up=1 kohm"),
            );
            for (key, unit) in [("resistance", "ohm"), ("volts", "V")] {
                let asked = number(&there, key).unwrap();
                let back = answer(name, &format!("{part}|{key}={asked} {unit}|pull-up=1 kohm"));
                let got = number(&back, "temperature").unwrap();
                assert!(
                    (got - celsius).abs() < 1e-6,
                    "{name} {key} {celsius}: {got}"
                );
            }
        }
    }
    for celsius in [-260.0, -100.0, 0.0, 25.0, 700.0, 1372.0] {
        let there = answer(
            "thermocouple-k",
            &format!("temperature={celsius} C|cold=30 C"),
        );
        let volts = number(&there, "volts").unwrap();
        let back = answer("thermocouple-k", &format!("volts={volts} V|cold=30 C"));
        assert!(
            (number(&back, "temperature").unwrap() - celsius).abs() < 1e-6,
            "{celsius}"
        );
    }
}

#[test]
fn opens_and_shorts_are_no_temperatures() {
    let part = "known-resistance=10 kohm|beta=3950 K|pull-up=2.2 kohm";
    for (volts, says) in [
        ("0 V", "short to ground"),
        ("5 V", "open sensor"),
        ("5.1 V", "open sensor"),
    ] {
        let refused = refusal("thermistor-beta", &format!("{part}|volts={volts}"));
        assert_eq!(refused.key, Some("volts"));
        assert!(refused.says.contains(says), "{volts}: {}", refused.says);
    }
    assert_eq!(refusal("rtd", "temperature=851 C").key, Some("temperature"));
    assert_eq!(refusal("rtd", "resistance=391 ohm").key, Some("resistance"));
    assert_eq!(
        refusal("thermocouple-k", "volts=60 mV|cold=25 C").key,
        Some("volts")
    );
}

/// By hand: 5 V behind 200 ohm under 10 Mohm and 1 kohm.
#[test]
fn two_loads_tell_the_resistance_in_the_way() {
    let read = |load: f64| 5.0 * load / (load + 200.0);
    let given = format!(
        "first-volts={} V|second-volts={} V|second-load=1 kohm",
        read(1e7),
        read(1e3)
    );
    let got = answer("loaded-readings", &given);
    assert!((number(&got, "resistance").unwrap() - 200.0).abs() < 1e-6);
    assert!((number(&got, "source").unwrap() - 5.0).abs() < 1e-9);
    let rising = "first-volts=4 V|second-volts=5 V|second-load=1 kohm";
    assert_eq!(refusal("loaded-readings", rising).key, Some("second-volts"));
}

/// Two texts and a rule of thumb for rested batteries, which differ: 12.2 V is 50 %, 12.30 V is 50 %.
#[test]
fn a_batterys_charge_is_a_band() {
    let got = answer("battery-at-rest", "volts=12.25 V");
    let (low, high) = (
        number(&got, "charge.low").unwrap(),
        number(&got, "charge.high").unwrap(),
    );
    assert!(low < 0.5 && 0.5 < high && high < 0.75, "{low} {high}");
    for (gravity, charge) in [
        ("1.265", 1.0),
        ("1.225", 0.75),
        ("1.19", 0.5),
        ("1.155", 0.25),
        ("1.12", 0.0),
    ] {
        let got = answer("battery-at-rest", &format!("gravity={gravity}"));
        let band = (
            number(&got, "charge.low").unwrap(),
            number(&got, "charge.high").unwrap(),
        );
        assert!(
            band.0 <= charge + 0.01 && charge - 0.01 <= band.1,
            "{gravity}: {band:?}"
        );
    }
}
