//! Every reading of a card's tests, what it means and what it rests on: the long tables, on a page of their own.

use super::outcome::{self, Outcomes};
use super::resistance::{self, Resistance};
use super::signal::{self, SignalView};
use super::{address, order};
use crate::publish::shelf::Entry;
use crate::publish::words;
use crate::sheet::{Sheet, Source};
use serde::Serialize;

/// The page.
#[derive(Serialize)]
pub(super) struct ReadingsPage {
    title: String,
    /// The card's own page, from the root.
    card: String,
    tests: Vec<ReadTest>,
    resistance: Option<Resistance>,
    signal: Option<SignalView>,
    values: Vec<ValueRow>,
}

/// A value the bands rest on.
#[derive(Serialize)]
struct ValueRow {
    name: String,
    text: String,
    says: String,
    source: String,
    which: String,
    is_default: bool,
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
        signal: signal::view(entry.card, entry.sheet),
        values: values(entry.sheet),
    }
}

fn values(sheet: &Sheet) -> Vec<ValueRow> {
    sheet
        .values
        .iter()
        .map(|value| ValueRow {
            name: value.name.clone(),
            text: value.text.clone(),
            says: value.says.clone(),
            source: words::source_kind(&value.source).to_owned(),
            which: words::source_words(&value.source).to_owned(),
            is_default: value.source == Source::FamilyDefault,
        })
        .collect()
}
