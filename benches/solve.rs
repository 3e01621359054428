//! How fast circuits are solved: the star-mesh solver beside `nalgebra`, readings, bands, all faults of a card.
#![allow(missing_docs, clippy::unwrap_used, dead_code, unreachable_pub)]

#[path = "../tests/it/circuit/build.rs"]
mod build;
#[path = "../tests/it/circuit/sketches.rs"]
mod sketches;

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use loomleaf::circuit::{
    HookUp, Mesh, Values,
    band::band,
    fault::{FaultScope, faults},
    solve::read,
};
use nalgebra::{DMatrix, DVector};
use std::hint::black_box;

/// A harness-like network: a chain with a link back every third node; every second node held.
fn links(nodes: usize) -> Vec<(usize, usize, f64)> {
    let chain = (1..nodes).map(|n| (n - 1, n, 10.0 + 1.0 / f64::from(u32::try_from(n).unwrap())));
    let back = (3..nodes).step_by(3).map(|n| (n - 3, n, 1e-3));
    let held = (0..nodes).step_by(2).map(|n| (n, n, 1e-4));
    chain.chain(back).chain(held).collect()
}

/// Every node joined with every other: the worst a network of this size can be.
fn full(nodes: usize) -> Vec<(usize, usize, f64)> {
    let pairs = (0..nodes).flat_map(|a| (a..nodes).map(move |b| (a, b)));
    pairs
        .enumerate()
        .map(|(k, (a, b))| (a, b, 1.0 + f64::from(u32::try_from(k).unwrap())))
        .collect()
}

/// A conductance and where it goes in the mesh: a joint, or, without one, a node held to the datum.
type Placed = (Option<usize>, usize, f64);

/// The mesh laid out, as it is once for all solutions of a band.
fn laid_out(nodes: usize, links: &[(usize, usize, f64)]) -> (Mesh, Vec<Placed>) {
    let apart = links.iter().filter(|(a, b, _)| a != b);
    let mesh = Mesh::of(nodes, apart.map(|&(a, b, _)| (a, b)));
    let place = |&(a, b, siemens): &(usize, usize, f64)| {
        let joint = (a != b).then(|| mesh.joint(a, b).unwrap());
        (joint, a, siemens)
    };
    let placed = links.iter().map(place).collect();
    (mesh, placed)
}

fn ours(mesh: &mut Mesh, links: &[Placed], side: &mut [f64]) {
    mesh.clear();
    for &(joint, node, siemens) in links {
        match joint {
            Some(joint) => mesh.join(joint, siemens),
            None => mesh.hold(node, siemens),
        }
    }
    side.fill(0.0);
    side[0] = 1.0;
    assert!(mesh.reduce());
    mesh.solve(side);
}

fn theirs(nodes: usize, links: &[(usize, usize, f64)]) -> DVector<f64> {
    let mut matrix = DMatrix::<f64>::zeros(nodes, nodes);
    for &(a, b, siemens) in links {
        matrix[(a, a)] += siemens;
        if a != b {
            matrix[(b, b)] += siemens;
            matrix[(a, b)] -= siemens;
            matrix[(b, a)] -= siemens;
        }
    }
    let mut side = DVector::zeros(nodes);
    side[0] = 1.0;
    matrix.lu().solve(&side).unwrap()
}

fn solves(c: &mut Criterion) {
    for (shape, make) in [("harness", links as fn(usize) -> Vec<_>), ("full", full)] {
        let mut group = c.benchmark_group(format!("one solution, {shape}"));
        group.throughput(Throughput::Elements(1));
        for nodes in [8, 12, 16] {
            let network = make(nodes);
            let (mut mesh, placed) = laid_out(nodes, &network);
            let mut side = vec![0.0; nodes];
            group.bench_with_input(BenchmarkId::new("loomleaf", nodes), &nodes, |b, _| {
                b.iter(|| ours(&mut mesh, black_box(&placed), &mut side));
            });
            group.bench_with_input(BenchmarkId::new("nalgebra", nodes), &nodes, |b, &nodes| {
                b.iter(|| theirs(nodes, black_box(&network)));
            });
        }
        group.finish();
    }
}

fn questions(s: &build::Sketch) -> Vec<HookUp> {
    let ask = || s.hookup();
    vec![
        ask().unplugged().volts("reference", "ground"),
        ask().unplugged().volts("reference", "good ground"),
        ask().unplugged().volts("signal", "ground"),
        ask().unplugged().jumper("signal", "reference").scan(0),
        ask().unplugged().ohms("part.signal", "part.ground"),
        ask().volts("signal", "ground"),
        ask().volts("ground", "good ground"),
        ask().scan(0),
    ]
}

fn bands(c: &mut Criterion) {
    let s = sketches::position("module");
    let questions = questions(&s);
    let hookup = &questions[5];
    let values = Values::nominal(&s.network, &hookup.setting);
    c.bench_function("one reading of a position sensor", |b| {
        b.iter(|| read(black_box(&s.network), hookup, &values).unwrap());
    });
    c.bench_function("one band of a position sensor", |b| {
        b.iter(|| band(black_box(&s.network), hookup).unwrap());
    });
    let scope = FaultScope::default();
    c.bench_function("all faults of a position sensor at eight tests", |b| {
        b.iter(|| {
            let mut total = 0.0;
            for fault in faults(black_box(&s.network), &scope) {
                let faulty = fault.apply(&s.network);
                for hookup in &questions {
                    total += band(&faulty, hookup)
                        .unwrap()
                        .intervals
                        .first()
                        .map_or(0.0, |i| i.low);
                }
            }
            total
        });
    });
}

criterion_group!(all, solves, bands);
criterion_main!(all);
