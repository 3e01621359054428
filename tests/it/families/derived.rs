//! Cards whose scan tool shows derived values only: what does not move proves nothing, unless a load brings the pin into
//! the range in which the value follows. Common practice, no source; the dividers by hand beside each number.

use loomleaf::card::{read, shipped};
use loomleaf::reason::{Aside, Establishes, Observation, Observed, suspects, verdict};
use loomleaf::sheet::{Sheet, sheet};
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
