//! Cards whose scan tool shows derived values only: what does not move proves nothing, unless a load brings the pin into
//! the range in which the value follows. Common practice, no source; the dividers by hand beside each number.

use loomleaf::card::{read, shipped};
use loomleaf::reason::{
    Aside, Establishes, Observation, Observed, Reads, audit, suspects, verdict,
};
use loomleaf::report::DiagnoseReport;
use loomleaf::sheet::{Sheet, Taken, sheet, take, tell_verdict};
use std::collections::BTreeMap;

const SCAN: &str = "scan:\n  - {name: Shown, kind: derived, valid: 0.4 to 4.6 V, substitute: shows a fixed value}\n";

fn card(family: &str, roles: &[&str], scan: &str) -> Sheet {
    let mut text = format!("title: Example\nfamily: {family}\n{scan}pins:\n");
    for (number, role) in roles.iter().enumerate() {
        text += &format!("  {}: {{role: {role}}}\n", number + 1);
    }
    let files = BTreeMap::from([
        ("deck.yaml".to_owned(), b"title: Derived\n".to_vec()),
        ("cards/example.yaml".to_owned(), text.into_bytes()),
    ]);
    let deck = read(&files, &shipped()).0.unwrap();
    sheet(&deck, &deck.cards[0]).0.unwrap()
}

fn thermistor(scan: &str) -> Sheet {
    card("thermistor-2wire", &["signal", "ground"], scan)
}

const UP: &str = "parameters: {pull: up}\n";

fn slider(more: &str) -> Sheet {
    card("position-pot", &["reference", "ground", "signal"], more)
}

fn seen(sheet: &Sheet, test: &str, reading: Observed) -> [Observation; 1] {
    let probes = &sheet.reasoning.signatures.probes;
    let probe = probes.iter().position(|probe| probe.test == test).unwrap();
    [Observation { probe, reading }]
}

/// Names of the open-wire faults and of the dead input that a reading leaves, and whether a good circuit is left.
fn left(sheet: &Sheet, test: &str, reading: Observed) -> (bool, Vec<String>) {
    let found = suspects(&sheet.reasoning.signatures, &seen(sheet, test, reading));
    let faults = found.left.into_iter().flat_map(|one| one.faults);
    let asked = faults.filter(|name| name == "signal wire open" || name.contains("input"));
    (found.healthy, asked.collect())
}

#[test]
fn a_raw_value_needs_no_load_to_follow() {
    for scan in ["", "scan: [{name: Volts, kind: raw}]\n"] {
        let tests = thermistor(scan).tests;
        assert!(tests.iter().all(|test| test.id != "force-middle"), "{scan}");
    }
}

#[test]
fn what_the_tool_shows_instead_is_told_where_the_value_does_not_follow() {
    let sheet = thermistor(SCAN);
    let test = |id: &str| sheet.tests.iter().find(|test| test.id == id).unwrap();
    assert_eq!(test("bridge").expected[0].instead, "shows a fixed value");
    let middle = &test("force-middle").expected[0];
    assert_eq!(middle.instead, "");
    // 5 V over 2490 ohm and 1000 ohm: 1.433 V; 2 %, 5 % and 1 % make 7 % of it at most.
    let band = middle.band.intervals[0];
    assert!(1.33 < band.low && band.high < 1.54, "{band:?}");
    let sheet = slider(&(SCAN.to_owned() + UP));
    // Two equal resistors halve 5 V, whichever way the module pulls.
    for test in sheet.tests.iter().filter(|test| test.id == "force-middle") {
        let band = test.expected[0].band.intervals[0];
        assert!(2.3 < band.low && band.high < 2.7, "{band:?}");
    }
}

#[test]
fn a_jumper_proves_nothing_and_the_load_is_named() {
    for (sheet, jumper) in [
        (thermistor(SCAN), "bridge"),
        (slider(&(SCAN.to_owned() + UP)), "force"),
    ] {
        let (healthy, faults) = left(&sheet, jumper, Observed::NoChange);
        assert!(healthy && !faults.is_empty(), "{faults:?}");
        let read = seen(&sheet, jumper, Observed::NoChange);
        let told = verdict(&sheet.reasoning.signatures, &read);
        let Aside::Derived {
            instead: Some(probe),
        } = told.set_aside[0].why
        else {
            panic!("{told:?}");
        };
        assert_eq!(
            sheet.reasoning.signatures.probes[probe].test,
            "force-middle"
        );
    }
}

#[test]
fn a_load_that_moves_the_value_proves_wire_and_input() {
    for (sheet, volts) in [
        (thermistor(SCAN), 1.43),
        (slider(&(SCAN.to_owned() + UP)), 2.5),
    ] {
        let (healthy, faults) = left(&sheet, "force-middle", Observed::value(volts));
        assert!(healthy && faults.is_empty(), "{faults:?}");
        let (healthy, faults) = left(&sheet, "force-middle", Observed::NoChange);
        assert!(!healthy && faults.len() >= 2, "{faults:?}");
    }
}

/// A jumper to the other rail hangs on which rail that is: no verdict from it until that is known.
#[test]
fn a_jumper_whose_rail_is_not_known_proves_nothing_yet() {
    let sheet = slider("");
    let signatures = &sheet.reasoning.signatures;
    let mut read = seen(&sheet, "force", Observed::NoChange).to_vec();
    let told = verdict(signatures, &read);
    assert_eq!(told.establishes, Establishes::NothingYet);
    assert_eq!(told.set_aside[0].why, Aside::DependsOnRest);
    // 5 V with the plug off: it rests high, so the jumper went to ground and had to move it.
    read.extend(seen(&sheet, "open-signal", Observed::value(5.0)));
    let told = suspects(signatures, &read);
    assert!(!told.healthy && !told.left.is_empty());
}

/// A value that stays what it was is a reading: the table has a row for it, with the faults that `diagnose` finds by it,
/// and an order with the load sees them.
#[test]
fn a_value_that_stays_has_a_row_of_its_own() {
    for sheet in [thermistor(SCAN), slider(&(SCAN.to_owned() + UP))] {
        let signatures = &sheet.reasoning.signatures;
        let stays = seen(&sheet, "force-middle", Observed::NoChange);
        let outcome = &sheet.reasoning.outcomes[stays[0].probe];
        let mut still = outcome
            .cells
            .iter()
            .filter(|cell| cell.reads == Reads::Still);
        let still = still.next().unwrap();
        assert!(!still.healthy);
        let rows = still.meanings.iter().flat_map(|own| &own.rows);
        let names: Vec<&str> = rows.map(|row| &*signatures.rows[*row].name).collect();
        let (_, found) = left(&sheet, "force-middle", Observed::NoChange);
        assert!(
            found.iter().all(|name| names.contains(&&**name)),
            "{names:?}"
        );
        let test = sheet.test_at(stays[0].probe).unwrap();
        let told = test.outcomes[0].full.iter();
        assert!(
            told.filter(|line| line.reads.starts_with("no change"))
                .count()
                == 1
        );
        let alone = audit(signatures, &["force-middle".to_owned()]);
        let never: Vec<&str> = alone.unseen.iter().map(|one| &*one.fault).collect();
        assert!(!never.contains(&"signal wire open"), "{never:?}");
    }
}

/// Many tools show degrees: with the curve of the part they are volts, also where the module works the value out.
#[test]
fn a_derived_value_in_degrees_is_held_against_the_pin() {
    let sheet = thermistor(SCAN);
    // 5 V over 2490 ohm and 1000 ohm: 1.433 V. The tool shows the temperature that belongs to it.
    let warmer = sheet
        .shown
        .iter()
        .find(|(_, volts)| *volts < 1.433)
        .unwrap();
    let place = "force-middle";
    let taken = take(&sheet, &format!("{place}={} C", warmer.0)).unwrap();
    let Observed::Value { number, .. } = taken.observation.reading else {
        panic!("{taken:?}");
    };
    assert!((number - warmer.1).abs() < 0.05, "{number}, {warmer:?}");
    // What is said to be no voltage is kept as typed and proves nothing.
    for shown in ["7 km/h", "40", "2.5"] {
        let taken = take(&sheet, &format!("{place}={shown}")).unwrap();
        assert_eq!(taken.typed, shown);
        assert_eq!(
            left_by(&sheet, &taken.observation).len(),
            sheet.reasoning.signatures.rows.len()
        );
    }
}

fn left_by(sheet: &Sheet, observation: &Observation) -> Vec<usize> {
    let signatures = &sheet.reasoning.signatures;
    let rows = 0..signatures.rows.len();
    rows.filter(|row| signatures.fits(*row, observation))
        .collect()
}

/// The value a test watches first may be named, too.
#[test]
fn every_scan_value_can_be_named() {
    let two = "scan:\n  - {name: Lift volts, kind: raw}\n  - {name: Lift, kind: derived, valid: 0.4 to 4.6 V}\n";
    let sheet = slider(&(two.to_owned() + UP));
    let plain = take(&sheet, "force=0.01").unwrap();
    assert_eq!(take(&sheet, "force@Lift volts=0.01").unwrap(), plain);
    let other = take(&sheet, "force@Lift=0.01").unwrap();
    assert_ne!(other.observation.probe, plain.observation.probe);
}

/// The same reading is good before it is known which way the open input rests, and not good after.
#[test]
fn what_is_good_follows_what_is_known() {
    let sheet = slider("scan: [{name: Volts, kind: raw}]\n");
    let means = |typed: &[&str]| -> Vec<serde_json::Value> {
        let taken: Vec<Taken> = typed.iter().map(|one| take(&sheet, one).unwrap()).collect();
        let told = tell_verdict(&sheet, &taken);
        let report = serde_json::to_value(DiagnoseReport::of(&sheet, &taken, &told)).unwrap();
        report["readings"].as_array().unwrap().clone()
    };
    assert_eq!(means(&["force=0"])[0]["good"], true);
    // It rests at ground: the jumper went to 5 V, where the value stays at 0 V.
    let both = means(&["open-signal=0", "force=0"]);
    assert_eq!(both[1]["good"], false);
    assert!(both[1]["says"].as_str().unwrap().starts_with("Not good"));
    // At its end a jumper need not move what already rests there.
    assert_eq!(
        means(&["force=no change"])[0]["good"],
        serde_json::Value::Null
    );
}

/// What an order never shows comes with the test that would show it, or the kind of test there is none of.
#[test]
fn what_an_order_never_shows_names_what_would() {
    let raw = "scan: [{name: Volts, kind: raw}]\n";
    for sheet in [thermistor(raw), slider(raw), thermistor(SCAN), slider(SCAN)] {
        let supply = audit(&sheet.reasoning.signatures, &["supply".to_owned()]);
        for audit in [&sheet.reasoning.audit, &supply] {
            let never = audit.unseen.iter().filter(|one| one.below.is_none());
            for one in never {
                let by = one.by.iter();
                for by in by {
                    let mut missing = audit.missing.iter();
                    assert!(missing.any(|kind| kind.technique == by.technique));
                }
                assert!(
                    one.by.is_some() || !one.fault.contains("input"),
                    "{}",
                    one.fault
                );
            }
        }
        assert!(supply.unseen.iter().any(|one| one.by.is_some()));
    }
}
