//! Faults: what a network can have, what each does, and what it is called.

use super::build::{Ask, Sketch, about};
use super::sketches::{hall, position, thermistor};
use loomleaf::circuit::fault::{Fault, FaultScope, faults, series_response, threshold};
use loomleaf::circuit::{
    Band, CircuitError, HookUp, Meter, Network, NodeId, Observe, Reading, Setting, Values,
    band::band, solve,
};

pub(super) fn scope() -> FaultScope {
    let labels = [
        ("reference", "1"),
        ("supply", "1"),
        ("signal", "2"),
        ("ground", "3"),
    ];
    FaultScope {
        labels: labels
            .map(|(role, pin)| (role.to_owned(), pin.to_owned()))
            .into(),
        part: "sensor".to_owned(),
    }
}

pub(super) fn named(s: &Sketch, name: &str) -> Fault {
    let all = faults(&s.network, &scope());
    let names: Vec<&str> = all.iter().map(|f| f.name.as_str()).collect();
    let found = all.iter().find(|f| f.name == name);
    found
        .unwrap_or_else(|| panic!("no `{name}` in {names:#?}"))
        .clone()
}

fn read(network: &Network, hookup: &HookUp) -> Reading {
    let values = Values::nominal(network, &hookup.setting);
    solve::read(network, hookup, &values).unwrap()
}

#[track_caller]
fn check_near(network: &Network, hookup: &HookUp, wanted: f64, within: f64) {
    match read(network, hookup) {
        Reading::Value(got) => assert!((got - wanted).abs() <= within, "{got} against {wanted}"),
        other => panic!("{other:?} against {wanted}"),
    }
}

/// Every meter and scan reading there is between named nodes, plugged, unplugged and key off.
fn all_hookups(network: &Network, closed: &[loomleaf::circuit::ElementId]) -> Vec<HookUp> {
    let mut all = Vec::new();
    let setting = Setting {
        overrides: vec![],
        closed: closed.to_vec(),
    };
    let hookup = |mated, powered, observe| HookUp {
        mated,
        powered,
        links: vec![],
        observe,
        setting: setting.clone(),
        meter: Meter::common(),
    };
    let nodes: Vec<NodeId> = (0..network.nodes().len()).map(NodeId).collect();
    for (place, &red) in nodes.iter().enumerate() {
        for &black in &nodes[..place] {
            for mated in [true, false] {
                all.push(hookup(mated, true, Observe::Volts { red, black }));
                all.push(hookup(mated, false, Observe::Ohms { red, black }));
            }
        }
    }
    for input in 0..network.inputs().len() {
        all.extend([true, false].map(|mated| hookup(mated, true, Observe::Scan { input })));
    }
    all
}

/// Sketches with the switch settings that show all of their faults.
pub(super) fn sketches() -> Vec<(Sketch, Vec<Vec<loomleaf::circuit::ElementId>>)> {
    let (hall_sketch, output) = hall();
    vec![
        (thermistor(), vec![vec![]]),
        (position("module"), vec![vec![]]),
        (position("module.reference"), vec![vec![]]),
        (hall_sketch, vec![vec![], vec![output]]),
    ]
}

#[test]
fn every_fault_changes_some_reading() {
    for (s, settings) in sketches() {
        for fault in faults(&s.network, &scope()) {
            let faulty = fault.apply(&s.network);
            assert_ne!(faulty, s.network, "{} changes nothing", fault.name);
            let differs = settings.iter().any(|closed| {
                all_hookups(&s.network, closed)
                    .iter()
                    .any(|hookup| outcome(&s.network, hookup) != outcome(&faulty, hookup))
            });
            assert!(differs, "{} can never be noticed", fault.name);
        }
    }
}

/// A reading to a millionth, so that rounding does not count as a change.
fn outcome(network: &Network, hookup: &HookUp) -> Result<String, CircuitError> {
    let values = Values::nominal(network, &hookup.setting);
    solve::read(network, hookup, &values).map(|reading| match reading {
        Reading::Value(value) => format!("{value:.6}"),
        other => format!("{other:?}"),
    })
}

#[test]
fn every_fault_gives_a_band_in_every_hookup() {
    for (s, settings) in sketches() {
        for fault in faults(&s.network, &scope()) {
            let faulty = fault.apply(&s.network);
            for hookup in settings
                .iter()
                .flat_map(|closed| all_hookups(&s.network, closed))
                .step_by(7)
            {
                let found = band(&faulty, &hookup);
                assert!(found.is_ok(), "{}: {found:?}", fault.name);
                let Band {
                    intervals,
                    floating,
                    no_path,
                    ..
                } = found.unwrap();
                assert!(
                    !intervals.is_empty() || floating || no_path,
                    "{}",
                    fault.name
                );
            }
        }
    }
}

#[test]
fn an_open_ground_wire_is_told_by_the_good_ground() {
    let s = thermistor();
    let faulty = named(&s, "ground wire open").apply(&s.network);
    let unplugged = || s.hookup().unplugged();
    assert_eq!(
        read(&faulty, &unplugged().volts("signal", "ground")),
        Reading::Floating
    );
    check_near(
        &faulty,
        &unplugged().volts("signal", "good ground"),
        5.0,
        0.01,
    );
    check_near(
        &faulty,
        &s.hookup().volts("signal", "ground"),
        0.0,
        1e-6 + 0.01,
    );
}

#[test]
fn shorts_read_as_their_rail() {
    let s = position("module");
    let at = |name: &str, wanted: f64, within: f64| {
        let faulty = named(&s, name).apply(&s.network);
        check_near(
            &faulty,
            &s.hookup().volts("signal", "good ground"),
            wanted,
            within,
        );
    };
    at("signal wire shorted to ground", 0.0, 0.01);
    at("signal wire shorted to the reference vref", 5.0, 0.05);
    at("signal wire shorted to battery", 12.6, 0.1);
}

#[test]
fn a_short_on_a_battery_feed_mostly_blows_its_fuse() {
    let (s, _) = hall();
    let blown = named(&s, "supply wire shorted to ground, its fuse blown");
    let faulty = blown.apply(&s.network);
    check_near(&faulty, &s.hookup().volts("supply", "ground"), 0.0, 1e-6);
    check_near(
        &faulty,
        &s.hookup().volts("battery", "good ground"),
        12.6,
        0.01,
    );
    // While it is whole, battery, feed and wire (0.02, 0.1 and 0.05 ohm) and short (0.2 ohm) divide 12.6 V: Ohm's law.
    let whole = named(&s, "supply wire shorted to ground, its fuse still whole");
    assert_eq!(whole.repair, blown.repair);
    let at_pin = s.hookup().unplugged().volts("supply", "good ground");
    check_near(&whole.apply(&s.network), &at_pin, 6.81, 0.01);
}

#[test]
fn a_neighbour_pulls_the_reference_down_to_its_current_limit() {
    let s = position("module");
    let fault = named(&s, "vref pulled down by a neighbour");
    let found = band(
        &fault.apply(&s.network),
        &s.hookup().unplugged().volts("reference", "ground"),
    )
    .unwrap();
    let (low, high) = (found.intervals[0].low, found.intervals[0].high);
    // 80 to 120 mA (limit) through 1 to 30 ohm: 0.08 to 3.6 V by hand.
    assert!(
        (0.05..0.09).contains(&low) && (3.5..3.7).contains(&high),
        "{low} to {high}"
    );
    let one = fault.narrowed(10.0, 10.0).apply(&s.network);
    check_near(
        &one,
        &s.hookup().unplugged().volts("reference", "ground"),
        1.0,
        0.01,
    );
}

#[test]
fn a_dead_input_shows_its_own_value_whatever_the_pin_has() {
    // One step of the converter and what a scan tool shows, 0.02 V (common practice, no source).
    const SHOWN: f64 = 0.03;
    let s = position("module");
    for (name, low, high) in [
        ("module input signal stuck low", 0.0, 0.01),
        ("module input signal stuck high", 4.99, 5.0),
        (
            "module input signal stuck at a substitute value",
            0.49,
            4.51,
        ),
    ] {
        let faulty = named(&s, name).apply(&s.network);
        for hookup in [
            s.hookup().scan(0),
            s.hookup().unplugged().jumper("signal", "reference").scan(0),
        ] {
            let found = band(&faulty, &hookup).unwrap();
            assert!(
                low <= found.intervals[0].low + SHOWN && found.intervals[0].high <= high + SHOWN,
                "{name}: {found:?}"
            );
        }
        let pin = s.hookup().volts("signal", "ground");
        assert_eq!(outcome(&faulty, &pin), outcome(&s.network, &pin));
    }
}

#[test]
fn a_part_out_of_range_leaves_the_limits_of_every_setting() {
    let s = thermistor();
    let faulty = named(&s, "sensor above its range").apply(&s.network);
    let warm: Ask<'_> = s.hookup().with("sensor", about(200.0, 0.05));
    let found = band(
        &faulty,
        &warm.unplugged().ohms("part.signal", "part.ground"),
    )
    .unwrap();
    // From 210 ohm to as good as open, where the meter shows its overload, and the meter.
    assert!(
        (207.0..210.0).contains(&found.intervals[0].low),
        "{found:?}"
    );
    assert!(
        found.no_path && found.intervals[0].high >= 60e6,
        "{found:?}"
    );
}

#[test]
fn a_threshold_is_where_the_solved_reading_passes() {
    let s = thermistor();
    for (element, hookup) in [
        ("ground wire", s.hookup().volts("signal", "good ground")),
        ("signal wire", s.hookup().scan(0)),
        (
            "signal wire",
            s.hookup()
                .unplugged()
                .link("signal", "ground", about(1e3, 0.0))
                .volts("signal", "ground"),
        ),
    ] {
        let id = s.network.element_named(element).unwrap();
        let response = series_response(&s.network, &hookup, id).unwrap().unwrap();
        let middle = f64::midpoint(response.v0, response.vinf);
        let ohms = response.threshold(middle).unwrap();
        assert_eq!(
            threshold(response.rth, response.v0, response.vinf, middle),
            Some(ohms)
        );
        let wire = s.network.parameter_named(element).unwrap();
        let mut values = Values::nominal(&s.network, &Setting::default());
        values.set(wire, ohms);
        let Reading::Value(got) = solve::read(&s.network, &hookup, &values).unwrap() else {
            panic!("no number");
        };
        assert!(
            (got - middle).abs() < 1e-3,
            "{element}: {got} against {middle}"
        );
        assert!((response.at(ohms) - middle).abs() < 1e-9);
    }
}

#[test]
fn a_narrowed_resistance_gives_a_narrower_band() {
    let s = thermistor();
    let fault = named(&s, "ground wire high resistance");
    assert_eq!(fault.range.unwrap().high, 10e6);
    let hookup = s.hookup().volts("signal", "good ground");
    let whole = band(&fault.apply(&s.network), &hookup).unwrap().intervals[0];
    let part = band(&fault.narrowed(90.0, 110.0).apply(&s.network), &hookup)
        .unwrap()
        .intervals[0];
    assert!(
        whole.low <= part.low
            && part.high <= whole.high
            && part.high - part.low < 0.5 * (whole.high - whole.low)
    );
    // What is no resistance from above zero stays as it was.
    assert_eq!(fault.narrowed(-1.0, 5.0), fault);
    assert_eq!(fault.narrowed(5.0, f64::INFINITY), fault);
}
