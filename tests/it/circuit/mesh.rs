//! The star-mesh solver against `nalgebra`, an independent method, and against answers known by hand.

use loomleaf::circuit::Mesh;
use nalgebra::{DMatrix, DVector};
use proptest::prelude::*;

const NODES: usize = 12;

/// Conductances of a random network: between two nodes, or to the datum where both are the same.
fn links(decades: std::ops::Range<f64>) -> impl Strategy<Value = Vec<(usize, usize, f64)>> {
    let link = (0..NODES, 0..NODES, decades);
    prop::collection::vec(link.prop_map(|(a, b, d)| (a, b, 10_f64.powf(d))), 8..60)
}

fn ours(links: &[(usize, usize, f64)], amps: &[f64]) -> Option<Vec<f64>> {
    let pairs = links
        .iter()
        .map(|&(a, b, _)| (a, b))
        .filter(|(a, b)| a != b);
    let mut mesh = Mesh::of(NODES, pairs);
    for &(a, b, siemens) in links {
        match mesh.joint(a, b) {
            Some(joint) if a != b => mesh.join(joint, siemens),
            _ => mesh.hold(a, siemens),
        }
    }
    let mut volts = amps.to_vec();
    mesh.reduce().then(|| {
        mesh.solve(&mut volts);
        volts
    })
}

fn theirs(links: &[(usize, usize, f64)], amps: &[f64]) -> Option<Vec<f64>> {
    let mut matrix = DMatrix::<f64>::zeros(NODES, NODES);
    for &(a, b, siemens) in links {
        matrix[(a, a)] += siemens;
        if a != b {
            matrix[(b, b)] += siemens;
            matrix[(a, b)] -= siemens;
            matrix[(b, a)] -= siemens;
        }
    }
    let side = DVector::from_column_slice(amps);
    let solved = matrix.lu().solve(&side)?;
    Some(solved.iter().copied().collect())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(7), ..ProptestConfig::default() })]

    #[test]
    fn agrees_with_nalgebra(links in links(-2.0..2.0), amps in prop::collection::vec(-1.0..1.0_f64, NODES)) {
        // Every node is held, so that the matrix is regular in both methods.
        let mut links = links;
        links.extend((0..NODES).map(|node| (node, node, 1e-2)));
        let (ours, theirs) = (ours(&links, &amps).unwrap(), theirs(&links, &amps).unwrap());
        for (a, b) in ours.iter().zip(&theirs) {
            prop_assert!((a - b).abs() <= 1e-9 * (1.0 + b.abs()), "{a} against {b}");
        }
    }

    /// A single held node: all current leaves there, whatever the rest looks like.
    #[test]
    fn all_current_leaves_where_it_can(links in links(-7.0..4.0), amps in 0.001..1.0_f64) {
        let mut all: Vec<_> = links.into_iter().filter(|(a, b, _)| a != b).collect();
        all.extend((1..NODES).map(|node| (node - 1, node, 1e3)));
        all.push((0, 0, 1e-7));
        let mut side = vec![0.0; NODES];
        side[NODES - 1] = amps;
        let volts = ours(&all, &side).unwrap();
        // By hand: I / g, with a milliohm beside ten megohms and no digits lost.
        prop_assert!((volts[0] * 1e-7 / amps - 1.0).abs() < 1e-12, "{}", volts[0]);
    }
}

#[test]
fn what_nothing_holds_is_refused() {
    assert!(ours(&[(0, 1, 1.0), (2, 2, 1.0)], &[0.0; NODES]).is_none());
}
