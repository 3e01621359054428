//! `diagnose`, `order` and `expect --fault` on the demo deck: the traps of real bays, told in words.

use super::{Ran, run};
use serde_json::Value;
use std::ffi::OsString;
use std::path::Path;

/// Runs the program on the demo, with lines typed at its prompts.
pub(super) fn demo(verb: &str, words: &[&str], typed: &str) -> Ran {
    let deck = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo");
    on(&deck, verb, words, typed)
}

pub(super) fn on(deck: &Path, verb: &str, words: &[&str], typed: &str) -> Ran {
    let args = [OsString::from(verb), deck.into()];
    run(
        args.into_iter().chain(words.iter().map(OsString::from)),
        typed,
    )
}

/// The JSON answer for some readings.
fn answer(words: &[&str]) -> Value {
    let all: Vec<&str> = words.iter().copied().chain(["--json"]).collect();
    let ran = demo("diagnose", &all, "");
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    ran.json()
}

/// One key of each entry of a list.
pub(super) fn each<'a>(list: &'a Value, key: &str) -> Vec<&'a str> {
    let list = list.as_array().unwrap();
    list.iter().map(|one| one[key].as_str().unwrap()).collect()
}

pub(super) fn texts(list: &Value) -> Vec<&str> {
    let list = list.as_array().unwrap();
    list.iter().map(|one| one.as_str().unwrap()).collect()
}

const GROUND: &str = "repair the ground wire (pin 2) between the connector and the module";
const SIGNAL: &str = "repair the signal wire (pin 1) between the connector and the module";
const VREF: &str = "find out why the module's reference voltage is missing: \
                    the module's feed and ground, then the module";
const MODULE: &str = "check the module's feeds and grounds, then replace the module";

/// Common practice, no source: nothing across the pins and supply to good ground is an open ground.
#[test]
fn the_ground_circuit_alone_is_named() {
    for readings in [
        ["supply=0 V", "signal-to-ground=5 V"],
        ["supply=0.00", "signal-to-ground=5.02"],
        ["supply=floating", "signal-to-ground=5.02 V"],
    ] {
        let told = answer(&["coolant-temperature", readings[0], readings[1]]);
        assert_eq!(told["fits"], true);
        assert_eq!(each(&told["suspects"], "repair"), [GROUND], "{readings:?}");
        assert_eq!(
            each(&told["rests_on"], "test"),
            ["supply", "signal-to-ground"]
        );
        assert!(told["verdict"].as_str().unwrap().contains(GROUND));
    }
    let text = demo(
        "diagnose",
        &["coolant-temperature", "supply=0 V", "signal-to-ground=5 V"],
        "",
    );
    for line in [
        "There is a fault, and one repair is left: repair the ground wire (pin 2)",
        "    “Supply across the two pins” read 0 V\n",
        "    a second fault beside the first\n",
        "shares say how often such faults occur",
        "  replace the sensor: by “Supply across the two pins”\n",
        "The maker's service information and local rules come first.\n",
    ] {
        assert!(text.out.contains(line), "{line}\n{}", text.out);
    }
}

/// Hand derivation: with nothing at the signal pin either, its wire, what feeds it and the module are one group.
#[test]
fn nothing_at_both_is_one_group() {
    let told = answer(&[
        "coolant-temperature",
        "supply=0.00 V",
        "signal-to-ground=0.00 V",
    ]);
    let left = each(&told["suspects"], "repair");
    for repair in [SIGNAL, VREF, MODULE] {
        assert!(left.contains(&repair), "{left:?}");
    }
    for repair in [GROUND, "replace the sensor"] {
        assert!(!left.contains(&repair), "{left:?}");
    }
    assert!(
        told["verdict"].as_str().unwrap().contains("one group"),
        "{told}"
    );
}

/// Hand derivation: full supply with the plug off says nothing of what is beyond the plug, nor of a
/// resistance that 10 Mohm of meter do not load.
#[test]
fn full_supply_leaves_the_part_its_contacts_and_small_resistance() {
    let told = answer(&[
        "coolant-temperature",
        "supply=5.00 V",
        "signal-to-ground=5.00 V",
    ]);
    let left = each(&told["suspects"], "repair");
    for repair in [
        "replace the sensor",
        "clean or replace the contact of pin 1 (signal)",
        "clean or replace the contact of pin 2 (ground)",
    ] {
        assert!(left.contains(&repair), "{left:?}");
    }
    let open = [texts(&told["cannot_rule_out"]), texts(&told["proven"])]
        .concat()
        .join("; ");
    assert!(
        open.contains("signal wire, but for series resistance of less than"),
        "{open}"
    );
    assert!(open.contains("they show only plugged in"), "{open}");
    let next = &told["next"];
    assert!(
        ["at-rest", "sensor-ohms"].contains(&next["test"].as_str().unwrap()),
        "{next}"
    );
    assert!(next["bits"].as_f64().unwrap() > 0.1 && next["minutes"].as_f64().unwrap() > 0.0);
    assert!(next["why"].as_str().unwrap().contains("would leave"));
}

/// Hand derivation: supply there, the open input at rest, and it follows the jumper: wire and input are good,
/// what is left sits beyond the plug.
#[test]
fn a_forced_signal_proves_wire_and_input() {
    let told = answer(&[
        "ramp-angle",
        "supply=5.00 V",
        "open-signal=0.00 V",
        "force=5.00 V",
    ]);
    let proven = texts(&told["proven"]);
    let starts = |subject: &str| proven.iter().any(|one| one.starts_with(subject));
    assert!(
        starts("signal wire") && starts("module input signal"),
        "{proven:?}"
    );
    let mut likeliest = each(&told["suspects"], "repair");
    likeliest.truncate(4);
    likeliest.sort_unstable();
    assert_eq!(
        likeliest,
        [
            "clean or replace the contact of pin A (reference)",
            "clean or replace the contact of pin B (ground)",
            "clean or replace the contact of pin C (signal)",
            "replace the sensor",
        ]
    );
}

/// Common practice, no source: a value worked out by a controller need not follow the pin; the raw one counts.
#[test]
fn a_derived_value_is_set_aside_for_the_raw_one() {
    let told = answer(&[
        "ramp-angle",
        "supply=5.00 V",
        "open-signal=0.00 V",
        "force=5.00 V",
        "force@Ramp angle=0 deg",
    ]);
    let aside = &told["set_aside"];
    let derived = aside
        .as_array()
        .unwrap()
        .iter()
        .find(|one| one["reading"] == "0 deg")
        .unwrap();
    assert_eq!(derived["state"], "by “Ramp angle”");
    let says = derived["says"].as_str().unwrap();
    assert!(
        says.contains("a derived value need not follow the pin")
            && says.contains("the raw value counts"),
        "{says}"
    );
    assert!(each(&told["rests_on"], "reading").contains(&"5.00 V"));
}

/// Every wrong reading is told in one run, with the nearest name and all there are.
#[test]
fn wrong_readings_are_told_together() {
    let words = [
        "coolant-temperature",
        "suply=5",
        "at-rest=3 V",
        "at-rest@2O C=3 V",
        "loaded=3 A",
        "sensor-ohms@20C=OL",
        "supply=OL",
    ];
    let ran = demo("diagnose", &words, "");
    assert_eq!((ran.status, ran.out.as_str()), (2, ""));
    for line in [
        "no test is named `suply`; did you mean supply?\n  there are: supply, signal-to-ground, ",
        "`at-rest` is read in several states: write at-rest@STATE=READING\n  there are: 0 C, 20 C, ",
        "`at-rest` has no state `2O C`; did you mean 20 C?\n",
        "`3 A` can't be taken here: expected `5.03 V`, `drifts` or `cannot measure`; `3 A` is a current\n",
        "`OL` can't be taken here",
    ] {
        assert!(ran.err.contains(line), "{line}\n{}", ran.err);
    }
    // The one that is right, the sensor's own ohms at 20 C, is not among them.
    let told = ran.err.lines().filter(|line| !line.starts_with("  "));
    assert_eq!(told.count(), 5, "{}", ran.err);
}

/// Readings no fault gives together: said so, with what conflicts and what would mend it.
#[test]
fn what_fits_nothing_says_what_conflicts() {
    let told = answer(&[
        "coolant-temperature",
        "supply=5.00 V",
        "signal-to-ground=0.00 V",
    ]);
    assert_eq!(told["fits"], false);
    let conflict = texts(&told["conflict"]).join(" ");
    assert!(
        conflict.starts_with(
            "These cannot stand together: “Supply across the two pins” read 5.00 V and "
        ),
        "{conflict}"
    );
    assert!(conflict.contains("this would fit the rest: "), "{conflict}");
    assert_eq!(
        (&told["next"], &told["suspects"]),
        (&Value::Null, &Value::Array(vec![]))
    );
}

/// Without readings it asks; a wrong one is asked for again, the last can be taken back, the end is clean.
#[test]
fn readings_are_asked_for_one_by_one() {
    let card = ["coolant-temperature"];
    let typed = "nonsense\nskip\nsupply=0.00\nback\nsupply=0.00\nsignal-to-ground=5.01 V\n";
    let ran = demo("diagnose", &card, typed);
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    for line in [
        "`nonsense` can't be taken here: expected ",
        "taken back: 0.00 V\n",
        "Suspects (shares",
        "There is a fault, and one repair is left: repair the ground wire (pin 2)",
    ] {
        assert!(ran.out.contains(line), "{line}\n{}", ran.out);
    }
    let ran = demo("diagnose", &card, "");
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    assert!(
        ran.out.contains("reading> ") && ran.out.contains("Nothing was read"),
        "{}",
        ran.out
    );
}

/// The listed keys are there, and the numbers make sense together.
#[test]
fn answers_for_programs_have_their_keys() {
    let told = answer(&["coolant-temperature"]);
    for key in [
        "fits",
        "suspects",
        "ruled_out",
        "verdict",
        "rests_on",
        "cannot_rule_out",
        "next",
    ] {
        assert!(told.get(key).is_some(), "{key}");
    }
    let shares = told["suspects"].as_array().unwrap().iter();
    let sum: f64 = shares.map(|one| one["share"].as_f64().unwrap()).sum();
    assert!((sum - 1.0).abs() < 1e-9, "{sum}");

    let order = demo("order", &["coolant-temperature", "--json"], "").json();
    for key in ["order", "groups", "pairs", "better", "missing"] {
        assert!(order.get(key).is_some(), "{key}");
    }
    assert_eq!(order["order"][0], "supply");
    let text = demo("order", &["coolant-temperature"], "");
    assert_eq!((text.status, text.err.as_str()), (0, ""));
    let pairs = format!(
        "{} always, {} at times",
        order["pairs"]["always"], order["pairs"]["depends"]
    );
    assert!(text.out.contains(&pairs), "{}", text.out);
    assert!(text.out.contains("A better order"), "{}", text.out);
}

/// Hand derivation: with the ground wire open nothing holds the black lead, so the supply test drifts near
/// zero, and the signal pin still shows the whole supply to good ground.
#[test]
fn a_fault_has_its_own_readings() {
    let told = demo("expect", &["coolant-temperature", "--json"], "").json();
    let tests = told["tests"].as_array().unwrap();
    let open = |at: usize| {
        let faults = tests[at]["faults"].as_array().unwrap();
        faults
            .iter()
            .find(|one| one["fault"] == "ground wire open")
            .unwrap()
    };
    assert_eq!(
        (&open(0)["seen"], &open(1)["seen"]),
        (&"always".into(), &"never".into())
    );
    assert_eq!(open(0)["repair"], GROUND);
    assert_eq!(open(1)["bands"], tests[1]["healthy"]["bands"]);
    assert!(
        tests
            .iter()
            .all(|test| !test["faults"].as_array().unwrap().is_empty())
    );

    let text = demo(
        "expect",
        &[
            "coolant-temperature",
            "--test",
            "supply",
            "--fault",
            "Ground wire opn",
        ],
        "",
    );
    assert!(
        text.out
            .contains("With a fault: the ground wire (pin 2) is open\n"),
        "{}",
        text.out
    );
    assert!(text.out.contains("(always shows)\n"), "{}", text.out);
    let none = demo(
        "expect",
        &["coolant-temperature", "--fault", "gremlins"],
        "",
    );
    assert_eq!((none.status, none.out.as_str()), (1, ""));
    assert!(
        none.err
            .starts_with("no fault of coolant-temperature is named `gremlins`\n  there are: "),
        "{}",
        none.err
    );
}
