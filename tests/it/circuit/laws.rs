//! Laws every solved circuit obeys, on random networks: hand-derived truths, no digits to copy.

use super::build::{Sketch, about};
use loomleaf::circuit::{
    ElementKind, HookUp, Network, NodeId, Reading, Site, Values, solve::solve,
};
use proptest::prelude::*;

/// Ampere and watt that rounding may leave where the law says zero: nodes carry up to about 10 A.
const ZERO: f64 = 1e-7;

/// A resistor between two of `NODES` nodes.
#[derive(Clone, Debug)]
struct Part {
    a: usize,
    b: usize,
    ohms: f64,
}

const NODES: usize = 7;

fn parts() -> impl Strategy<Value = Vec<Part>> {
    let part = (0..NODES, 0..NODES, -2.0..7.0_f64);
    let part = part.prop_map(|(a, b, decade)| Part {
        a,
        b,
        ohms: 10_f64.powf(decade),
    });
    prop::collection::vec(part, 4..14)
}

fn name(node: usize) -> String {
    if node == 0 {
        "good ground".to_owned()
    } else {
        format!("n{node}")
    }
}

/// Resistors and two batteries.
fn linear(parts: &[Part], volts: [f64; 2]) -> Sketch {
    let mut s = Sketch::default();
    for node in 1..NODES {
        s.node(&name(node));
    }
    for (number, part) in parts.iter().enumerate() {
        let ends = [name(part.a), name(part.b)];
        let ends = [ends[0].as_str(), ends[1].as_str()];
        s.resistor(
            &format!("r{number}"),
            Site::Part,
            ends,
            about(part.ohms, 0.0),
        );
    }
    s.source(
        "e1",
        Site::Supply,
        ["n1", "good ground"],
        about(volts[0], 0.0),
    );
    s.source("e2", Site::Supply, ["n2", "n3"], about(volts[1], 0.0));
    s
}

/// The same with one of each piecewise element.
fn piecewise(parts: &[Part]) -> Sketch {
    let mut s = linear(parts, [12.0, 3.0]);
    s.regulator(
        "reg",
        ["n4", "good ground"],
        about(5.0, 0.0),
        about(0.1, 0.0),
    );
    s.sink("sink", ["n1", "n5"], about(7e-3, 0.0), 4.0);
    s.diode("diode", Site::Part, ["n6", "n4"]);
    s
}

fn nominal(network: &Network, hookup: &HookUp) -> Values {
    Values::nominal(network, &hookup.setting)
}

fn check_currents(network: &Network, hookup: &HookUp) {
    let solved = solve(network, hookup, &nominal(network, hookup)).unwrap();
    let mut sums = vec![0.0; network.nodes().len()];
    for flow in &solved.flows {
        assert!(flow.amps.is_finite());
        sums[flow.from.0] -= flow.amps;
        sums[flow.to.0] += flow.amps;
    }
    for (node, sum) in sums.iter().enumerate() {
        assert!(sum.abs() < ZERO, "{sum} A too many at node {node}");
    }
}

/// Piecewise elements stand where their data sheet says, whatever the state was called inside.
fn check_characteristics(network: &Network, hookup: &HookUp) {
    let values = nominal(network, hookup);
    let solved = solve(network, hookup, &values).unwrap();
    let value = |id| values.get(id).unwrap();
    let across = |a: NodeId, b: NodeId| solved.volts[a.0] - solved.volts[b.0];
    for (place, element) in network.elements().iter().enumerate() {
        let amps = solved.amps(loomleaf::circuit::ElementId(place));
        match element.kind {
            ElementKind::Regulator {
                out,
                minus,
                volts,
                series,
                limit,
            } => {
                let wanted = (value(volts) - across(out, minus)) / value(series);
                let wanted = wanted.clamp(-loomleaf::circuit::BLEED, value(limit));
                assert!((-amps - wanted).abs() < 1e-4, "{amps} against {wanted}");
            }
            ElementKind::Sink {
                from,
                to,
                amps: full,
                compliance,
            } => {
                let slope = value(full) / value(compliance);
                let wanted = (across(from, to) * slope).min(value(full));
                assert!((amps - wanted).abs() < 1e-6, "{amps} against {wanted}");
            }
            ElementKind::Diode {
                anode,
                cathode,
                forward,
                series,
            } if solved.island[anode.0] == solved.island[cathode.0] => {
                let wanted = (across(anode, cathode) - value(forward)) / value(series);
                assert!(
                    (amps - wanted.max(0.0)).abs() < 1e-4,
                    "{amps} against {wanted}"
                );
            }
            _ => {}
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(7), ..ProptestConfig::default() })]

    #[test]
    fn currents_at_every_node_sum_to_zero(parts in parts()) {
        let s = linear(&parts, [12.0, 5.0]);
        check_currents(&s.network, &s.hookup().volts("n4", "n5"));
        let s = piecewise(&parts);
        check_currents(&s.network, &s.hookup().volts("n4", "n5"));
    }

    #[test]
    fn piecewise_elements_stand_on_their_own_curve(parts in parts()) {
        let s = piecewise(&parts);
        check_characteristics(&s.network, &s.hookup().volts("n2", "n5"));
    }

    #[test]
    fn power_in_is_power_out(parts in parts()) {
        let s = linear(&parts, [12.0, 5.0]);
        let hookup = s.hookup().volts("n1", "n1");
        let values = nominal(&s.network, &hookup);
        let solved = solve(&s.network, &hookup, &values).unwrap();
        let (mut given, mut burnt) = (0.0, 0.0);
        for (place, element) in s.network.elements().iter().enumerate() {
            let amps = solved.amps(loomleaf::circuit::ElementId(place));
            match element.kind {
                ElementKind::Source { volts, series, .. } => {
                    given -= values.get(volts).unwrap() * amps;
                    burnt += amps * amps * values.get(series).unwrap();
                }
                ElementKind::Resistor { ohms, .. } => burnt += amps * amps * values.get(ohms).unwrap(),
                _ => {}
            }
        }
        prop_assert!((given - burnt).abs() <= ZERO * (1.0 + given.abs()), "{given} W in, {burnt} W out");
    }

    #[test]
    fn two_batteries_add_up(parts in parts(), a in -20.0..20.0_f64, b in -20.0..20.0_f64) {
        let volts = |volts: [f64; 2]| {
            let s = linear(&parts, volts);
            let hookup = s.hookup().volts("n4", "good ground");
            let values = nominal(&s.network, &hookup);
            solve(&s.network, &hookup, &values).unwrap().volts
        };
        let (one, other, both) = (volts([a, 0.0]), volts([0.0, b]), volts([a, b]));
        for node in 0..NODES {
            prop_assert!((one[node] + other[node] - both[node]).abs() < 1e-5);
        }
    }

    /// More of one resistance never lets more current through it.
    #[test]
    fn a_swept_resistance_falls_steadily_in_current(parts in parts(), which in 0..4_usize) {
        let s = piecewise(&parts);
        let hookup = s.hookup().volts("n5", "n2");
        let swept = s.network.parameter_named(&format!("r{which}")).unwrap();
        let element = s.network.element_named(&format!("r{which}")).unwrap();
        let mut values = nominal(&s.network, &hookup);
        let mut last = f64::INFINITY;
        for step in 0..40 {
            values.set(swept, 10_f64.powf(-2.0 + f64::from(step) * 0.25));
            let amps = solve(&s.network, &hookup, &values).unwrap().amps(element).abs();
            prop_assert!(amps <= last + 1e-5, "{last} A rose to {amps} A");
            last = amps;
        }
    }

    /// Ohms between two points do not ask which lead is red.
    #[test]
    fn ohms_are_the_same_both_ways(parts in parts(), a in 1..NODES, b in 1..NODES) {
        let s = linear(&parts, [12.0, 5.0]);
        let read = |red: usize, black: usize| {
            let hookup = s.hookup().ohms(&name(red), &name(black));
            loomleaf::circuit::solve::read(&s.network, &hookup, &nominal(&s.network, &hookup)).unwrap()
        };
        match (read(a, b), read(b, a)) {
            (Reading::Value(x), Reading::Value(y)) => prop_assert!((x - y).abs() <= 1e-6 * x.abs().max(1.0)),
            (x, y) => prop_assert_eq!(x, y),
        }
    }
}
