//! Reach: what a series resistance does, and from where each test sees it.

use super::bench::{all_faults, probe, two_wire};
use crate::circuit::build::about;
use crate::circuit::sketches::thermistor;
use loomleaf::circuit::Site;
use loomleaf::quantity::Interval;
use loomleaf::reason::{Signal, Technique, looks_like, reach, safe_load, signatures};

/// Kelvin of the 3 kohm thermistor of the pull-up table: 3 kohm at 25 C, coefficients of its Steinhart-Hart curve.
fn kelvin(ohms: f64) -> f64 {
    let l = loomleaf::quantity::maths::ln(ohms);
    1.0 / (1.40e-3 + 2.37e-4 * l + 9.90e-8 * l * l * l)
}

/// 100 ohm in the ground of a thermistor: to the module it is 100 ohm more of thermistor (series adds, by
/// hand), 0.6 K at 20 C but more than 8 K near 95 C. Its rows for 20 C and 100 C read 3.0311 V and 0.3852 V
/// (table of an NTC with a 2490 ohm pull-up, computed).
#[test]
fn a_hundred_ohm_in_the_ground_matter_when_hot() {
    let (sketch, probes) = two_wire();
    let sensor = sketch.network.parameter_named("sensor").unwrap();
    let faults = all_faults(&sketch);
    let solved = signatures(&sketch.network, &probes[..2], &faults).unwrap();
    let states = [("20 C", 3833.4, 3.0311), ("100 C", 207.85, 0.3852)];
    let signals: Vec<Signal> = states
        .iter()
        .map(|(state, ohms, _)| Signal {
            state: (*state).into(),
            hookup: sketch.hookup().with("sensor", about(*ohms, 0.0)).scan(0),
        })
        .collect();
    let all = reach(&sketch.network, &solved, &faults, &signals).unwrap();
    let ground = all
        .iter()
        .find(|one| one.site == Site::Wire("ground".into()))
        .unwrap();
    let mut shifts = Vec::new();
    for ((effect, signal), (_, ohms, volts)) in ground.effects.iter().zip(&signals).zip(states) {
        assert!((effect.healthy.unwrap() - volts).abs() < 2e-3, "{effect:?}");
        let point = effect
            .points
            .iter()
            .find(|point| (point.ohms / 100.0 - 1.0).abs() < 1e-6)
            .unwrap();
        let between = Interval {
            low: 10.0,
            high: 1e6,
        };
        let seen = looks_like(
            &sketch.network,
            &signal.hookup,
            sensor,
            between,
            point.reading.unwrap(),
        );
        let seen = seen.unwrap().unwrap();
        assert!((seen - ohms - 100.0).abs() < 0.2, "{seen}");
        shifts.push(kelvin(ohms) - kelvin(seen));
    }
    assert!((0.5..0.7).contains(&shifts[0]), "{shifts:?}");
    assert!(shifts[1] > 8.0, "{shifts:?}");
    // By hand, 20 C: 4.75 V of 5 V with 2490 ohm above takes 47310 ohm below, 43477 ohm more than the sensor.
    let code = ground.effects[0].code.unwrap();
    assert!((code.ohms / 43_477.0 - 1.0).abs() < 0.03, "{code:?}");
}

/// An unloaded 10 Mohm voltmeter passes hundreds of kilohms; a load of 1 kohm at the pins shows the order of
/// 100 ohm, and from ground pin to good ground about an ohm (common practice, no source; figures by hand:
/// 10 M x (2 x 2 % + 2 x 0.54 %) = 0.5 Mohm; 3.5 kohm x (5 + 3) % = 280 ohm; 2 counts of 1 mV, once for the
/// healthy and once for the faulty reading, at 1.4 mA = 2.8 ohm, half of it where the parts are nominal).
#[test]
fn a_loaded_test_reaches_further() {
    let s = thermistor();
    let at = |name: &str| s.network.find(name).unwrap();
    let load = safe_load(&s.network).unwrap();
    // By hand: 1010 ohm x (5.1 / 4.9 - 1 + 2 x 0.54 %) = 52 ohm.
    assert!((51.0..54.0).contains(&load.sees), "{}", load.sees);
    let base = s.hookup().unplugged().hookup;
    let pins = (at("signal"), at("ground"));
    let far = (at("ground"), at("good ground"));
    let probes = [
        probe(
            &s,
            "supply",
            1.0,
            s.hookup().unplugged().volts("signal", "ground"),
        ),
        probe(&s, "loaded", 2.0, load.hook_up(&base, pins, pins)),
        probe(&s, "loaded ground", 2.0, load.hook_up(&base, pins, far)),
    ];
    assert_eq!(probes[1].technique, Technique::VoltsLoaded);
    let faults = all_faults(&s);
    let solved = signatures(&s.network, &probes, &faults).unwrap();
    let all = reach(&s.network, &solved, &faults, &[]).unwrap();
    let ground = all
        .iter()
        .find(|one| one.site == Site::Wire("ground".into()))
        .unwrap();
    let always: Vec<f64> = ground
        .tests
        .iter()
        .map(|test| test.always.unwrap())
        .collect();
    assert!((200e3..900e3).contains(&always[0]), "{always:?}");
    assert!((50.0..400.0).contains(&always[1]), "{always:?}");
    assert!((2.5..3.5).contains(&always[2]), "{always:?}");
    let nominal = ground.tests[2].nominal.unwrap();
    assert!((1.0..2.0).contains(&nominal), "{nominal}");
    for test in &ground.tests {
        let (first, nominal, always) = (
            test.first.unwrap(),
            test.nominal.unwrap(),
            test.always.unwrap(),
        );
        assert!(first <= nominal && nominal <= always, "{test:?}");
    }
}

/// The load respects the regulator: 5.1 V and 80 mA at least leave 8 mA, so 638 ohm at least, 1 kohm of the
/// E3 series (IEC 60063), 26 mW, a quarter watt.
#[test]
fn the_proposed_load_is_safe_for_the_reference() {
    let load = safe_load(&thermistor().network).unwrap();
    assert_eq!(load.ohms, 1000.0);
    assert_eq!(load.watts, 0.25);
    assert!(load.amps <= 0.1 * load.limit && (load.limit - 0.08).abs() < 1e-12);
}
