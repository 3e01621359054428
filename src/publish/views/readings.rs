//! Every reading of a card's tests and what it means: the long tables, on a page of their own.

use super::outcome::{self, Outcomes};
use super::resistance::{self, Resistance};
use super::{address, order};
use crate::publish::shelf::Entry;
use crate::publish::words;
use serde::Serialize;

/// The page.
#[derive(Serialize)]
pub(super) struct ReadingsPage {
    title: String,
    /// The card's own page, from the root.
    card: String,
    tests: Vec<ReadTest>,
    resistance: Option<Resistance>,
}

/// A test with its tables.
#[derive(Serialize)]
struct ReadTest {
    anchor: String,
    title: String,
    hookup: String,
    outcomes: Outcomes,
}

/// Of this card.
pub(super) fn view(entry: &Entry) -> ReadingsPage {
    let read = |test| {
        Some(ReadTest {
            anchor: order::anchor(test),
            title: test.title.clone(),
            hookup: words::hookup(test.plug, test.key),
            outcomes: outcome::whole(test)?,
        })
    };
    ReadingsPage {
        title: entry.card.title.value.clone(),
        card: address::card(&entry.card.id),
        tests: entry.sheet.tests.iter().filter_map(read).collect(),
        resistance: resistance::view(entry.sheet),
    }
}
