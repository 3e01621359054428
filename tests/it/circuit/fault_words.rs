//! What faults are called, which there are, and how often they are the cause.

use super::build::{Sketch, about};
use super::faults::{named, scope, sketches};
use super::sketches::{position, thermistor};
use loomleaf::circuit::Site;
use loomleaf::circuit::fault::{FaultKind, faults};
use std::collections::BTreeSet;

#[test]
fn names_are_unique_and_repairs_say_what_to_do() {
    for (s, _) in sketches() {
        let all = faults(&s.network, &scope());
        let names: BTreeSet<&str> = all.iter().map(|f| f.name.as_str()).collect();
        assert_eq!(names.len(), all.len());
        let repairs: BTreeSet<&str> = all.iter().map(|f| f.repair.as_str()).collect();
        assert!(repairs.len() < all.len());
        for fault in &all {
            assert!(0.0 < fault.prior, "{}", fault.name);
            let first = fault.repair.split(' ').next().unwrap();
            let verbs = [
                "repair", "clear", "charge", "clean", "put", "replace", "find", "check", "restore",
            ];
            assert!(verbs.contains(&first), "{}", fault.repair);
        }
    }
}

#[test]
fn one_repair_is_one_text() {
    let s = position("module");
    let repair = |name: &str| named(&s, name).repair;
    assert_eq!(
        repair("signal wire open"),
        repair("signal wire high resistance")
    );
    assert_eq!(
        repair("signal wire open"),
        "repair the signal wire (pin 2) between the connector and the module"
    );
    assert_eq!(
        repair("signal contact open"),
        repair("signal contact high resistance")
    );
    assert_ne!(repair("signal wire open"), repair("signal contact open"));
    assert_ne!(
        repair("signal wire open"),
        repair("signal wire shorted to ground")
    );
    assert_eq!(repair("track open at its ground end"), "replace the sensor");
    assert_eq!(
        named(&s, "signal wire open").says,
        "the signal wire (pin 2) is open"
    );
}

#[test]
fn priors_put_contacts_before_wires_before_the_part_before_the_module() {
    let s = thermistor();
    let all = faults(&s.network, &scope());
    let sum = |wanted: fn(&Site) -> bool| -> f64 {
        all.iter()
            .filter(|f| wanted(&f.site))
            .map(|f| f.prior)
            .sum()
    };
    let contacts = sum(|site| matches!(site, Site::Contact(_)));
    let wires = sum(|site| matches!(site, Site::Wire(_)));
    let part = sum(|site| matches!(site, Site::Part));
    let module = sum(|site| matches!(site, Site::Module));
    assert!(
        wires < contacts && part < wires && module < part,
        "{contacts} {wires} {part} {module}"
    );
}

#[test]
fn two_crossed_wires_on_a_resistive_part_are_no_fault() {
    let crossed = |s: &Sketch| {
        let all = faults(&s.network, &scope());
        all.iter()
            .filter(|f| f.kind == FaultKind::Crossed)
            .map(|f| f.name.clone())
            .collect::<Vec<_>>()
    };
    assert!(crossed(&thermistor()).is_empty());
    assert_eq!(crossed(&position("module")).len(), 3);
    // A diode across the same two pins makes them differ.
    let mut s = thermistor();
    s.diode("clamp", Site::Part, ["part.ground", "part.signal"]);
    assert_eq!(crossed(&s).len(), 1);
    // Two equal resistors to a third pin may be exchanged with each other only.
    let mut s = Sketch::default();
    s.module_ground();
    for role in ["one", "two", "ground"] {
        s.harness(role);
        if role != "ground" {
            s.resistor(
                &format!("leg {role}"),
                Site::Part,
                [&format!("part.{role}"), "part.ground"],
                about(1e3, 0.01),
            );
        }
    }
    assert_eq!(crossed(&s).len(), 2);
}

#[test]
fn ground_wires_have_no_shorts_and_reference_wires_none_to_themselves() {
    let s = position("module");
    for fault in faults(&s.network, &scope()) {
        assert!(
            !fault.name.starts_with("ground wire shorted"),
            "{}",
            fault.name
        );
        assert_ne!(fault.name, "reference wire shorted to the reference vref");
    }
}
