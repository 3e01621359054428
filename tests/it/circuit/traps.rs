//! Mistakes that circuit programs make, one test each.

use super::build::{Sketch, about};
use super::sketches::{hall, position, thermistor};
use loomleaf::circuit::{CircuitError, HookUp, Reading, Site, Values, band::band, solve};
use loomleaf::quantity::Toleranced;

pub(crate) fn read(s: &Sketch, hookup: &HookUp) -> Reading {
    let values = Values::nominal(&s.network, &hookup.setting);
    solve::read(&s.network, hookup, &values).unwrap()
}

#[track_caller]
fn check_near(s: &Sketch, hookup: &HookUp, wanted: f64, within: f64) {
    match read(s, hookup) {
        Reading::Value(got) => assert!((got - wanted).abs() <= within, "{got} against {wanted}"),
        other => panic!("{other:?} against {wanted}"),
    }
}

#[test]
fn a_floating_island_is_floating_and_never_zero_volts() {
    let s = thermistor();
    let unplugged = s.hookup().unplugged();
    let hookup = unplugged.clone().volts("part.signal", "good ground");
    assert_eq!(read(&s, &hookup), Reading::Floating);
    let found = band(&s.network, &hookup).unwrap();
    assert!(found.floating && found.intervals.is_empty(), "{found:?}");
    // Both leads on the dead island: the part itself joins them, and carries nothing.
    let across = unplugged.volts("part.signal", "part.ground");
    check_near(&s, &across, 0.0, 0.0);
}

#[test]
fn a_meter_across_two_islands_holds_neither() {
    let mut s = Sketch::default();
    s.source("one", Site::Part, ["a", "b"], about(9.0, 0.0));
    s.source("other", Site::Part, ["c", "d"], about(9.0, 0.0));
    assert_eq!(read(&s, &s.hookup().volts("a", "d")), Reading::Floating);
    check_near(&s, &s.hookup().volts("c", "d"), 9.0, 1e-6);
}

#[test]
fn a_regulator_only_sources_and_limits_its_current() {
    let s = position("vref");
    // 100 mA ± 20 % into a few ohm: by hand I R, common practice for the load.
    for ohms in [1.0, 10.0, 30.0] {
        let pulled = s
            .hookup()
            .link("module.reference", "good ground", about(ohms, 0.0));
        let wanted = 0.1 * ohms;
        check_near(
            &s,
            &pulled.volts("module.reference", "good ground"),
            wanted,
            0.01 * wanted + 2e-3,
        );
    }
    // 100 ohm takes 50 mA: below the limit, 5 V less the drop over half an ohm.
    let loaded = s
        .hookup()
        .unplugged()
        .link("module.reference", "module", about(100.0, 0.0));
    check_near(
        &s,
        &loaded.volts("module.reference", "module"),
        5.0 * 100.0 / 100.5,
        1e-3,
    );
    // Fed from the battery it takes back no more than its bleed.
    let fed = s
        .hookup()
        .jumper("battery", "module.reference")
        .volts("module.reference", "good ground");
    let values = Values::nominal(&s.network, &fed.setting);
    let solved = solve::solve(&s.network, &fed, &values).unwrap();
    let back = solved.amps(s.network.element_named("vref").unwrap());
    assert_eq!(back, loomleaf::circuit::BLEED);
    check_near(&s, &fed, 12.6, 0.05);
}

#[test]
fn a_bad_contact_is_invisible_unplugged() {
    let s = thermistor();
    let bad = about(1e6, 0.0);
    let ask = s.hookup().with("signal contact", bad);
    let unplugged = ask.clone().unplugged().volts("signal", "ground");
    let healthy = s.hookup().unplugged().volts("signal", "ground");
    assert_eq!(read(&s, &unplugged), read(&s, &healthy));
    let plugged = ask.volts("signal", "ground");
    check_near(&s, &plugged, 5.0, 0.02);
}

#[test]
fn an_unknown_point_is_an_error_with_the_nearest_name() {
    let s = thermistor();
    let wanted = CircuitError::UnknownNode {
        name: "module.signl".to_owned(),
        nearest: Some("module.signal".to_owned()),
    };
    assert_eq!(s.network.find("module.signl"), Err(wanted));
}

#[test]
fn ohms_into_a_live_module_are_refused() {
    let s = thermistor();
    let mut hookup = s.hookup().ohms("part.signal", "part.ground");
    hookup.powered = true;
    assert_eq!(band(&s.network, &hookup), Err(CircuitError::OhmsLive));
}

#[test]
fn ohms_without_a_path_show_overload() {
    let s = thermistor();
    let hookup = s.hookup().unplugged().ohms("part.signal", "good ground");
    assert_eq!(read(&s, &hookup), Reading::NoPath);
    let found = band(&s.network, &hookup).unwrap();
    assert!(found.no_path && found.intervals.is_empty());
    check_near(
        &s,
        &s.hookup().unplugged().ohms("part.signal", "part.ground"),
        3000.0,
        1e-3,
    );
}

#[test]
fn slider_to_both_ends_joined_peaks_inside_the_travel() {
    let s = position("vref");
    let anywhere = Toleranced {
        low: 0.0,
        nominal: 0.1,
        high: 1.0,
    };
    let ask = s.hookup().unplugged().with("track position", anywhere);
    let hookup = ask
        .jumper("part.reference", "part.ground")
        .ohms("part.signal", "part.ground");
    let found = band(&s.network, &hookup).unwrap();
    // By hand: x (1 - x) track is a quarter of the track in the middle, 1.25 kohm + 20 %, and the meter.
    let top = found.intervals[0].high;
    let wanted = 0.25 * 6000.0;
    assert!(wanted < top && top < wanted * 1.005 + 3.0, "{top}");
    assert!(found.intervals[0].low < 1.0);
}

#[test]
fn several_states_give_a_union_of_bands() {
    // A switch that feeds the supply it needs: on or off, both hold.
    let mut s = Sketch::default();
    s.battery();
    let hold = Some((["coil", "good ground"], 6.0));
    let relay = s.switch(
        "relay",
        Site::Part,
        ["battery", "coil"],
        about(0.1, 0.2),
        hold,
    );
    s.resistor(
        "coil",
        Site::Part,
        ["coil", "good ground"],
        about(80.0, 0.1),
    );
    let hookup = s.hookup().closed(&[relay]).volts("coil", "good ground");
    let found = band(&s.network, &hookup).unwrap();
    assert_eq!(found.intervals.len(), 2, "{found:?}");
    assert!(found.intervals[0].high < 0.1 && 11.0 < found.intervals[1].low);
    let values = Values::nominal(&s.network, &hookup.setting);
    assert_eq!(
        solve::states(&s.network, &hookup, &values).unwrap().len(),
        2
    );
}

#[test]
fn a_hall_switch_without_supply_lets_its_output_rest_high() {
    let (s, output) = hall();
    let on = s.hookup().closed(&[output]);
    check_near(&s, &on.clone().volts("signal", "ground"), 0.021, 0.005);
    check_near(&s, &s.hookup().volts("signal", "ground"), 5.0, 0.01);
    let starved = on.with("feed", about(1e6, 0.0));
    check_near(&s, &starved.volts("signal", "ground"), 5.0, 0.01);
}

#[test]
fn a_converter_without_reference_shows_anything() {
    let mut s = position("module");
    s.resistor(
        "short",
        Site::Module,
        ["module.reference", "module"],
        about(1e-3, 0.0),
    );
    let found = band(&s.network, &s.hookup().scan(0)).unwrap();
    assert!(found.floating);
    assert_eq!(
        (found.intervals[0].low, found.intervals[0].high),
        (0.0, 5.0)
    );
}

#[test]
fn a_jumper_moves_the_open_input_only_away_from_where_it_rests() {
    for (pull, rest, rail, other) in [
        ("module.reference", 5.0, "reference", "ground"),
        ("module", 0.0, "ground", "reference"),
    ] {
        let s = position(pull);
        let unplugged = || s.hookup().unplugged();
        check_near(&s, &unplugged().scan(0), rest, 0.02);
        check_near(&s, &unplugged().jumper("signal", rail).scan(0), rest, 0.02);
        check_near(
            &s,
            &unplugged().jumper("signal", other).scan(0),
            5.0 - rest,
            0.02,
        );
    }
}

#[test]
fn milliamps_of_a_two_wire_sensor() {
    let mut s = Sketch::default();
    s.battery();
    s.sink("sensor", ["high", "low"], about(14e-3, 0.1), 4.0);
    s.resistor(
        "shunt",
        Site::Module,
        ["low", "good ground"],
        about(100.0, 0.01),
    );
    check_near(&s, &s.hookup().amps("battery", "high"), 14e-3, 1e-6);
    check_near(&s, &s.hookup().volts("low", "good ground"), 0.0, 1e-9);
}
