//! Search: decks and words as technicians type them in; pages in their order, with reasons, out.

mod answers;
pub(crate) mod decks;
mod hostile;
mod kept;
mod meant;
mod names;
mod page;
mod phone;
mod relevance;
mod typed;
mod verb;
mod whole;

use loomleaf::card::Deck;
use loomleaf::index::{Answer, Kind, Search};
use loomleaf::publish::search_pack;

fn opened(deck: &Deck) -> Search {
    Search::open(search_pack(deck).unwrap()).unwrap()
}

/// The cards of an answer, best first.
fn cards(answer: &Answer) -> Vec<&str> {
    let cards = answer.hits.iter().filter(|hit| hit.kind == Kind::Card);
    cards.map(|hit| hit.id.as_str()).collect()
}
