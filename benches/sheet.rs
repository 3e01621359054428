//! How fast sheets are made: everything computed for one card of every shipped family, and for 1,000 different
//! cards one after another. A sheet should take less than 20 ms, 1,000 cards less than 10 s on one core.
#![allow(missing_docs, clippy::unwrap_used)]

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use loomleaf::calc::tolerance::{USUAL, one_sided, two_sided};
use loomleaf::card::{Deck, read, shipped};
use loomleaf::sheet::{sheet, sheets};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::hint::black_box;

/// As in the program.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

/// Cards of the large deck.
const CARDS: u32 = 1000;

fn deck(cards: &[(String, String)]) -> Deck {
    let mut files = BTreeMap::from([("deck.yaml".to_owned(), b"title: Bench\n".to_vec())]);
    for (name, text) in cards {
        files.insert(format!("cards/{name}.yaml"), text.clone().into_bytes());
    }
    read(&files, &shipped()).0.unwrap()
}

/// The least card of every family: pins in the order of the roles.
fn least() -> Vec<(String, String)> {
    let card = |(name, family): (&String, &loomleaf::card::Family)| {
        let mut text = format!("title: {name}\nfamily: {name}\npins:\n");
        for (number, role) in family.roles.iter().enumerate() {
            writeln!(text, "  {}: {{role: {role}}}", number + 1).unwrap();
        }
        (name.clone(), text)
    };
    deck(&[]).families.iter().map(card).collect()
}

/// The families in turn, no two cards with the same battery.
fn different() -> Vec<(String, String)> {
    let least = least();
    let card = |number: u32| {
        let (name, text) = &least[usize::try_from(number).unwrap() % least.len()];
        let volts = 12.0 + f64::from(number) / 1000.0;
        let title = format!("title: {name} {number}");
        let text = text.replacen(&format!("title: {name}"), &title, 1);
        (
            format!("{name}-{number}"),
            format!("{text}battery: {volts} V ± 10 %\n"),
        )
    };
    (0..CARDS).map(card).collect()
}

fn one_of_each(criterion: &mut Criterion) {
    let deck = deck(&least());
    let mut group = criterion.benchmark_group("a full sheet");
    for card in &deck.cards {
        group.bench_function(&card.id, |bench| {
            bench.iter(|| sheet(black_box(&deck), black_box(card)));
        });
    }
    group.finish();
}

fn thousand(criterion: &mut Criterion) {
    let deck = deck(&different());
    let mut group = criterion.benchmark_group("a large deck");
    group.sample_size(10);
    group.throughput(Throughput::Elements(u64::from(CARDS)));
    let one_core = rayon::ThreadPoolBuilder::new().num_threads(1);
    let one_core = one_core.build().unwrap();
    group.bench_function("1,000 cards, one core", |bench| {
        bench.iter(|| one_core.install(|| sheets(black_box(&deck))));
    });
    group.finish();
}

/// A page of a card works out some ten factors of its record, a calculator both: each should take less than a
/// millisecond.
fn factors(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("tolerance factors, both");
    for readings in [5, 43, 500, 5_000] {
        group.bench_function(readings.to_string(), |bench| {
            bench.iter(|| {
                let readings = black_box(readings);
                (two_sided(readings, USUAL), one_sided(readings, USUAL))
            });
        });
    }
    group.finish();
}

criterion_group!(benches, one_of_each, thousand, factors);
criterion_main!(benches);
