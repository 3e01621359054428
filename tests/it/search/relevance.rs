//! The relevance set: which card should come first for what is typed. First-place accuracy and mean
//! reciprocal rank are printed (`cargo test --test it relevance -- --nocapture`) and held.
//!
//! The right card is common practice, no source: what a technician would mean by these words.

use super::decks::{demo, made};
use super::{cards, opened};
use std::collections::BTreeMap;

const SET: &str = include_str!("relevance.csv");
/// Cards of the made deck.
const MADE: usize = 1_000;
/// Parts of the set that must come first, and mean reciprocal rank, in thousandths.
const LEAST_FIRST: usize = 950;
const LEAST_RANK: usize = 970;

/// Deck, query, the id that should come first.
pub(crate) fn set() -> Vec<(&'static str, &'static str, &'static str)> {
    let rows = SET.lines().skip(1).filter(|line| !line.is_empty());
    rows.map(|line| {
        let mut cells = line.split(',');
        let mut cell = || cells.next().unwrap().trim();
        (cell(), cell(), cell())
    })
    .collect()
}

#[allow(
    clippy::print_stdout,
    reason = "a measure for whoever tunes the ranking"
)]
#[test]
fn the_card_that_is_meant_comes_first() {
    let mut decks = BTreeMap::from([("demo", opened(&demo())), ("made", opened(&made(MADE)))]);
    let rows = set();
    assert!(rows.len() >= 80, "{} queries", rows.len());
    let (mut first, mut rank) = (0, 0.0);
    let mut missed = String::new();
    for (deck, query, card) in &rows {
        let answer = decks.get_mut(deck).unwrap().find(query);
        let found = cards(&answer);
        let place = found.iter().position(|id| id == card);
        first += usize::from(place == Some(0));
        rank += place.map_or(0.0, |place| 1.0 / (place as f64 + 1.0));
        if place != Some(0) {
            let before = &found[..found.len().min(3)];
            missed += &format!("{deck}: `{query}` wants {card} ({place:?}), has {before:?}\n");
        }
    }
    let thousandths = |part: f64| (part * 1000.0 / rows.len() as f64).round() as usize;
    let (first, rank) = (thousandths(first as f64), thousandths(rank));
    println!(
        "{} queries: first place {first}, mean reciprocal rank {rank}, of 1000\n{missed}",
        rows.len()
    );
    assert!(
        first >= LEAST_FIRST && rank >= LEAST_RANK,
        "{first} {rank}\n{missed}"
    );
}
