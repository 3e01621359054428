//! Bands hold every reading that random parts within tolerance give, and are no wider than their corners.

use super::build::{Sketch, about};
use super::sketches::{hall, position, thermistor};
use loomleaf::circuit::{
    Band, HookUp, Network, ParameterId, Reading, Site, Values, band::band, solve,
};
use loomleaf::quantity::Toleranced;
use proptest::prelude::*;

/// Parts of the way from low to high, one for each parameter, used in turn.
fn shares() -> impl Strategy<Value = Vec<f64>> {
    let share = prop_oneof![2 => 0.0..=1.0_f64, 1 => Just(0.0), 1 => Just(1.0)];
    prop::collection::vec(share, 40)
}

fn inside(network: &Network, hookup: &HookUp, shares: &[f64]) -> Values {
    let mut values = Values::nominal(network, &hookup.setting);
    for place in 0..network.parameters().len() {
        let id = ParameterId(place);
        let range = network.limits(id, &hookup.setting);
        let share = shares[place % shares.len()];
        values.set(id, range.low + share * (range.high - range.low));
    }
    values
}

/// Part of a reading by which it may miss its band: a hundredth of a meter's last digit.
const ROOM: f64 = 1e-5;

/// Every state of a random circuit within tolerance reads inside the band.
#[track_caller]
fn check_holds(network: &Network, hookup: &HookUp, shares: &[f64]) {
    let found = band(network, hookup).unwrap();
    let values = inside(network, hookup, shares);
    for state in solve::states(network, hookup, &values).unwrap() {
        check_in(&found, state.reading, hookup);
    }
}

#[track_caller]
fn check_in(found: &Band, reading: Reading, hookup: &HookUp) {
    match reading {
        Reading::Value(v) => {
            let room = ROOM * v.abs();
            let held = found
                .intervals
                .iter()
                .any(|i| i.low <= v + room && v - room <= i.high);
            assert!(held, "{v} outside {found:?} of {hookup:?}");
        }
        Reading::Floating => assert!(found.floating),
        Reading::NoPath => assert!(found.no_path),
    }
}

/// A meter without error, so that nothing hides a band that is too narrow.
fn exact(mut hookup: HookUp) -> HookUp {
    hookup.meter.of_reading = 0.0;
    hookup.meter.counts = 0.0;
    hookup
}

fn wide(low: f64, high: f64) -> Toleranced {
    Toleranced {
        low,
        nominal: (low * high).sqrt(),
        high,
    }
}

/// Every kind of question to the three sketches, each with one part that may have nearly any value.
fn questions() -> Vec<(Sketch, HookUp)> {
    let mut all = Vec::new();
    for bad in [
        "signal wire",
        "ground wire",
        "sensor",
        "module ground",
        "pull",
    ] {
        all.extend(of_thermistor(bad).map(|h| (thermistor(), exact(h))));
    }
    let near = Toleranced {
        low: 0.14,
        nominal: 0.19,
        high: 0.24,
    };
    let anywhere = Toleranced {
        low: 0.0,
        nominal: 0.5,
        high: 1.0,
    };
    for (pull, bad) in [
        ("module.reference", "signal wire"),
        ("module", "ground wire"),
        ("module", "reference contact"),
    ] {
        for travel in [near, anywhere] {
            all.extend(of_position(pull, bad, travel).map(|h| (position(pull), exact(h))));
        }
    }
    for bad in [
        "supply wire",
        "ground contact",
        "signal wire",
        "module ground",
    ] {
        for closed in [true, false] {
            all.extend(of_hall(bad, closed).map(|h| (hall().0, exact(h))));
        }
    }
    all
}

fn of_thermistor(bad: &str) -> [HookUp; 7] {
    let s = thermistor();
    let ask = s.hookup().with(bad, wide(0.2, 1e7));
    let load = about(1000.0, 0.05);
    [
        ask.clone().volts("signal", "ground"),
        ask.clone().unplugged().volts("signal", "good ground"),
        ask.clone().scan(0),
        ask.clone()
            .unplugged()
            .link("signal", "ground", load)
            .volts("signal", "ground"),
        ask.clone()
            .unplugged()
            .jumper("signal", "ground")
            .amps("signal", "ground"),
        ask.clone().ohms("signal", "good ground"),
        ask.ohms("module.signal", "part.ground"),
    ]
}

fn of_position(pull: &str, bad: &str, travel: Toleranced) -> [HookUp; 7] {
    let s = position(pull);
    let ask = s
        .hookup()
        .with(bad, wide(0.2, 1e7))
        .with("track position", travel);
    let (few, some) = (about(10.0, 0.5), about(470.0, 0.05));
    [
        ask.clone().volts("signal", "ground"),
        ask.clone().scan(0),
        ask.clone()
            .link("reference", "good ground", few)
            .volts("signal", "ground"),
        ask.clone()
            .link("signal", "ground", some)
            .volts("signal", "reference"),
        ask.clone()
            .jumper("battery", "reference")
            .volts("signal", "ground"),
        ask.clone().ohms("signal", "ground"),
        ask.jumper("reference", "ground")
            .ohms("part.signal", "ground"),
    ]
}

fn of_hall(bad: &str, closed: bool) -> [HookUp; 4] {
    let (s, output) = hall();
    let closed = if closed { vec![output] } else { vec![] };
    let ask = s.hookup().with(bad, wide(0.2, 1e6)).closed(&closed);
    let load = about(1000.0, 0.05);
    [
        ask.clone().volts("signal", "ground"),
        ask.clone().volts("supply", "ground"),
        ask.clone().scan(0),
        ask.link("supply", "signal", load)
            .volts("signal", "good ground"),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(7), ..ProptestConfig::default() })]

    /// A bridge, where the current in the middle may turn: the hard case for picking corners.
    #[test]
    fn bands_hold_every_bridge(
        decades in prop::collection::vec(0.0..5.0_f64, 6),
        spreads in prop::collection::vec(0.0..0.3_f64, 6),
        shares in shares(),
    ) {
        let mut s = Sketch::default();
        s.source("e", Site::Supply, ["top", "good ground"], about(5.0, 0.1));
        let ends = [["top", "left"], ["top", "right"], ["left", "good ground"], ["right", "good ground"], ["left", "right"], ["right", "far"]];
        for (number, ends) in ends.into_iter().enumerate() {
            let ohms = about(10_f64.powf(decades[number]), spreads[number]);
            s.resistor(&format!("r{number}"), Site::Part, ends, ohms);
        }
        s.diode("clamp", Site::Part, ["far", "left"]);
        for (red, black) in [("left", "right"), ("far", "good ground"), ("top", "far")] {
            check_holds(&s.network, &exact(s.hookup().volts(red, black)), &shares);
        }
        check_holds(&s.network, &exact(s.hookup().ohms("left", "good ground")), &shares);
    }
}

/// Common circuits, every question, each with many draws (splitmix64, fixed seed).
#[test]
fn bands_hold_every_circuit_within_tolerance() {
    let mut seed = 20_u64;
    for (s, hookup) in questions() {
        let found = band(&s.network, &hookup).unwrap();
        for _ in 0..200 {
            let draws: Vec<f64> = (0..40).map(|_| draw(&mut seed)).collect();
            let values = inside(&s.network, &hookup, &draws);
            for state in solve::states(&s.network, &hookup, &values).unwrap() {
                check_in(&found, state.reading, &hookup);
            }
        }
    }
}

/// A number from 0 to 1, half of the time one of these ends: corners are where bands fail.
fn draw(seed: &mut u64) -> f64 {
    *seed = seed.wrapping_add(0x9E37_79B9_7F4A_7C15);
    let mut z = *seed;
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^= z >> 31;
    match z % 4 {
        0 => 0.0,
        1 => 1.0,
        _ => (z >> 11) as f64 / (1_u64 << 53) as f64,
    }
}

/// The corner search against every corner, on all questions that have no parameter entering twice. Powered
/// switches are left out: they change inside a range, not at its ends.
#[test]
fn bands_reach_no_further_than_the_corners() {
    for (s, hookup) in questions().iter().filter(|(s, hookup)| {
        let gated =
            s.network.element_named("output").is_some() && !hookup.setting.closed.is_empty();
        s.network.parameter_named("track").is_none() && !gated
    }) {
        let found = band(&s.network, hookup).unwrap();
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        let moving: Vec<ParameterId> = (0..s.network.parameters().len())
            .map(ParameterId)
            .filter(|&id| {
                let range = s.network.limits(id, &hookup.setting);
                2.0 * range.low < range.high || s.network.parameters()[id.0].name.contains("volts")
            })
            .collect();
        for corner in 0..1_u32 << moving.len().min(9) {
            let shares = |id: usize| {
                let place = moving.iter().position(|m| m.0 == id);
                place.map_or(0.5, |bit| f64::from(corner >> bit & 1))
            };
            let shares: Vec<f64> = (0..s.network.parameters().len()).map(shares).collect();
            let values = inside(&s.network, hookup, &shares);
            for state in solve::states(&s.network, hookup, &values).unwrap() {
                if let Reading::Value(v) = state.reading {
                    low = low.min(v);
                    high = high.max(v);
                }
            }
        }
        let reach = found
            .intervals
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), i| {
                (l.min(i.low), h.max(i.high))
            });
        if low <= high {
            // The parts left in the middle here move a reading by no more than their own tolerances.
            let room = 0.25 * high.abs() + 0.02;
            assert!(
                low - room <= reach.0 && reach.1 <= high + room,
                "{reach:?} against {low} to {high}: {hookup:?}"
            );
        }
    }
}
