//! A run for each kind of verdict, tapped in at the phone; its record says what the program's `diagnose --json` says.

use super::hand::Hand;
use crate::cli::run;
use serde_json::Value;

/// Kind, card, readings, words of the verdict.
struct Kind(
    &'static str,
    &'static str,
    &'static [(&'static str, &'static str)],
    &'static str,
);

/// Readings as such a fault gives them, worked out by hand from the circuits; common practice, no source.
const KINDS: [Kind; 8] = [
    Kind(
        "part",
        "egr-position",
        &[
            ("supply", "5.01 V"),
            ("open-signal", "5 V"),
            ("force", "0 V"),
            ("track-ohms", "OL"),
        ],
        "one repair is left: replace the sensor",
    ),
    Kind(
        "signal wire",
        "coolant-temperature",
        &[
            ("supply", "5.01 V"),
            ("loaded", "0.4 V"),
            ("ground-load", "5 mV"),
        ],
        "one repair is left: repair the signal wire",
    ),
    Kind(
        "ground",
        "coolant-temperature",
        &[("supply", "0.02 V"), ("signal-to-ground", "5.02 V")],
        "one repair is left: repair the ground wire",
    ),
    Kind(
        "reference",
        "egr-position",
        &[("supply", "2 V"), ("reference-far", "2 V")],
        "find what pulls the reference voltage",
    ),
    Kind(
        "module input",
        "coolant-temperature",
        &[
            ("supply", "5.01 V"),
            ("loaded", "1.43 V"),
            ("bridge", "no change"),
        ],
        "one repair is left: check the module's feeds and grounds, then replace the module",
    ),
    Kind(
        "nothing fits",
        "coolant-temperature",
        &[("supply", "5.01 V"), ("signal-to-ground", "0 V")],
        "No single fault, and no good circuit",
    ),
    Kind(
        "not separable",
        "ramp-angle",
        &[
            ("supply", "5.01 V"),
            ("open-signal", "0 V"),
            ("force", "no change"),
            ("at-rest@80 deg", "4.25 V"),
        ],
        "one of a group that no further test here tells apart",
    ),
    Kind(
        "good at a temperature of one's own",
        "coolant-temperature",
        &[("supply", "5.01 V"), ("at-rest@34 C", "2.18 V")],
        "Every reading so far is what a good circuit gives",
    ),
];

/// What the program says to the same readings.
fn program(card: &str, readings: &[(&str, &str)]) -> Value {
    let deck = concat!(env!("CARGO_MANIFEST_DIR"), "/demo").to_owned();
    let mut args = vec!["diagnose".to_owned(), deck, card.to_owned()];
    args.extend(
        readings
            .iter()
            .map(|(place, text)| format!("{place}={text}")),
    );
    args.push("--json".to_owned());
    let ran = run(args, "");
    assert!(ran.err.is_empty(), "{}", ran.err);
    serde_json::from_str(&ran.out).unwrap()
}

/// Every sentence of the report stands in the record.
fn check_record(record: &str, told: &Value) {
    let suspects = told["suspects"].as_array().unwrap();
    let mut sentences = match suspects.len() {
        0 | 1 => vec![told["verdict"].clone()],
        _ => vec![told["claim"].clone()],
    };
    let repairs = suspects.iter().filter(|_| suspects.len() > 1);
    sentences.extend(repairs.map(|one| one["repair"].clone()));
    for key in [
        "before",
        "afterwards",
        "cannot_rule_out",
        "proven",
        "conflict",
    ] {
        sentences.extend(told[key].as_array().unwrap().iter().cloned());
    }
    for key in ["rests_on", "set_aside"] {
        let each = told[key].as_array().unwrap().iter();
        sentences.extend(each.map(|one| one["says"].clone()));
    }
    for one in told["readings"].as_array().unwrap() {
        for key in ["title", "state", "reading"] {
            sentences.push(one[key].clone());
        }
        let measured = !one["good"].is_null();
        sentences.extend(measured.then(|| one["expected"].clone()));
    }
    for sentence in sentences {
        let sentence = sentence.as_str().unwrap();
        assert!(record.contains(sentence), "{sentence}\nis not in\n{record}");
    }
}

#[test]
fn every_kind_of_verdict_is_recorded_as_the_program_tells_it() {
    let mut hand = Hand::new("");
    for Kind(kind, card, readings, words) in KINDS {
        let told = program(card, readings);
        let verdict = told["verdict"].as_str().unwrap();
        assert!(verdict.contains(words), "{kind}: {verdict}");
        hand.open(&format!("cards/{card}/bench/index.html"));
        hand.sees("[data-begin]");
        for (place, text) in readings {
            let (test, state) = place.split_once('@').unwrap_or((place, ""));
            hand.go_to(test);
            if state == "34 C" {
                hand.type_point(test, "34");
            }
            hand.read(place, text);
        }
        hand.tap("[data-go-verdict]");
        hand.sees(&format!("#verdict .meaning|{}", &verdict[..12]));
        check_record(&hand.text("[data-record]"), &told);
        hand.check_quiet();
    }
}
