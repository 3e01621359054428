//! The sketches of this folder, healthy and with every fault, against ngspice.
#![allow(
    clippy::print_stdout,
    reason = "counts and the largest deviation are for people to read"
)]

use super::build::{Ask, Sketch, about};
use super::faults::{scope, sketches};
use super::oracle::compare;
use loomleaf::circuit::{ElementId, HookUp, Network, Site, fault::faults};

type Circuit = (String, Network, HookUp);

/// The questions a workshop asks at any three-wire or two-wire plug.
fn questions(s: &Sketch) -> Vec<(String, HookUp)> {
    let roles: Vec<&str> = ["reference", "supply", "signal", "ground"]
        .into_iter()
        .filter(|role| s.network.find(role).is_ok())
        .collect();
    let ask = || s.hookup();
    let mut all = vec![
        ("scan".to_owned(), ask().scan(0)),
        ("scan unplugged".to_owned(), ask().unplugged().scan(0)),
        (
            "current of the ground".to_owned(),
            ask().unplugged().amps("part.ground", "ground"),
        ),
    ];
    for &red in &roles {
        let mut add = |what: &str, ask: Ask<'_>, black: &str| {
            all.push((format!("{what} {red} to {black}"), ask.volts(red, black)));
        };
        for black in ["ground", "good ground"] {
            add("plugged", ask(), black);
            add("unplugged", ask().unplugged(), black);
        }
        let load = about(1000.0, 0.01);
        add(
            "loaded",
            ask().unplugged().link(red, "ground", load),
            "ground",
        );
        add(
            "pulled down",
            ask().link(red, "good ground", about(10.0, 0.01)),
            "good ground",
        );
        add("key off", ask().key_off(), "ground");
        all.push((format!("ohms {red}"), ask().ohms(red, "part.ground")));
        all.push((
            format!("jumper {red}"),
            ask().unplugged().jumper("signal", red).scan(0),
        ));
    }
    all
}

fn circuits() -> Vec<Circuit> {
    let mut all = Vec::new();
    for (number, (s, settings)) in sketches().into_iter().enumerate() {
        let mut networks = vec![("healthy".to_owned(), s.network.clone())];
        networks.extend(
            faults(&s.network, &scope())
                .iter()
                .map(|f| (f.name.clone(), f.apply(&s.network))),
        );
        for (fault, network) in networks {
            for closed in &settings {
                for (question, mut hookup) in questions(&s) {
                    hookup.setting.closed.clone_from(closed);
                    let name = format!("sketch {number}, {fault}, {question}, {closed:?}");
                    all.push((name, network.clone(), hookup));
                }
            }
        }
    }
    all
}

#[test]
fn ngspice_agrees_on_the_sketches_with_every_fault() {
    // A third of them, for time; the drift in the pattern lets every question meet every kind of fault.
    let all = circuits().into_iter().enumerate();
    let third = all.filter(|(number, _)| (number + number / 7) % 3 == 0);
    let circuits: Vec<Circuit> = third.map(|(_, circuit)| circuit).collect();
    let tally = compare(&circuits);
    println!(
        "{} comparisons with ngspice, the largest deviation {:.3} of what is allowed at {}",
        tally.comparisons, tally.largest, tally.at
    );
    assert!(1000 < tally.comparisons);
    let few: Vec<&String> = tally.failures.iter().take(20).collect();
    assert!(
        few.is_empty(),
        "{} failures: {few:#?}",
        tally.failures.len()
    );
}

/// A line that is clamped, fed and loaded, beside a relay that holds itself.
fn piecewise(ohms: f64) -> (Sketch, ElementId) {
    let mut s = Sketch::default();
    s.battery();
    let out = ["vref", "good ground"];
    s.regulator("vref", out, about(5.0, 0.0), about(0.1, 0.0));
    s.resistor("upper", Site::Module, ["vref", "a"], about(ohms, 0.0));
    s.diode("clamp up", Site::Module, ["a", "vref"]);
    s.diode("clamp down", Site::Module, ["good ground", "a"]);
    s.resistor("lower", Site::Part, ["a", "b"], about(1e3, 0.0));
    s.sink("sensor", ["battery", "b"], about(14e-3, 0.0), 4.0);
    s.resistor(
        "sense",
        Site::Module,
        ["b", "good ground"],
        about(115.0, 0.0),
    );
    let (ends, hold) = (["battery", "coil"], Some((["coil", "good ground"], 6.0)));
    let relay = s.switch("relay", Site::Part, ends, about(0.1, 0.0), hold);
    s.resistor(
        "coil",
        Site::Part,
        ["coil", "good ground"],
        about(80.0, 0.0),
    );
    (s, relay)
}

/// Diodes and sinks that feed each other, limits and several states.
#[test]
fn ngspice_agrees_on_piecewise_circuits() {
    let mut all = Vec::new();
    for ohms in [1.0, 30.0, 47.0, 470.0, 4.7e3, 1e6] {
        let (s, relay) = piecewise(ohms);
        let points = [
            ("a", "good ground"),
            ("b", "a"),
            ("vref", "b"),
            ("coil", "good ground"),
        ];
        for (red, black) in points {
            let ask = s.hookup().closed(&[relay]);
            let fed = ask.clone().link("battery", "a", about(ohms, 0.0));
            let name = format!("{ohms} ohm, {red} to {black}");
            all.push((name.clone(), s.network.clone(), ask.volts(red, black)));
            all.push((
                format!("{name}, fed"),
                s.network.clone(),
                fed.volts(red, black),
            ));
        }
    }
    let tally = compare(&all);
    println!(
        "{} comparisons, the largest deviation {:.3}",
        tally.comparisons, tally.largest
    );
    assert!(
        all.len() < tally.comparisons && tally.failures.is_empty(),
        "{:#?}",
        tally.failures
    );
}
