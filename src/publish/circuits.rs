//! Circuits: what a phone is handed of each card, under a name that changes with its content.
//!
//! In: the shelf. Out: a file a card and where it stands. Never: solving; the phone's engine does that
//! with the code that solved the sheet.

use super::Files;
use super::assets::hashed;
use super::shelf::Shelf;
use crate::sheet::carry;
use std::collections::BTreeMap;

/// The circuits of a site.
#[derive(Debug, Default)]
pub(super) struct Circuits {
    /// Path to bytes.
    pub(super) files: Files,
    /// Path of each card's circuit, by the card's id.
    pub(super) of_card: BTreeMap<String, String>,
}

impl Circuits {
    /// Those of all cards on the shelf.
    pub(super) fn of(shelf: &Shelf<'_>) -> Self {
        let mut circuits = Self::default();
        for entry in &shelf.entries {
            let Some(text) = carry(shelf.deck, entry.card, entry.sheet) else {
                continue;
            };
            let path = hashed(&format!("circuits/{}.txt", entry.card.id), text.as_bytes());
            circuits.of_card.insert(entry.card.id.clone(), path.clone());
            circuits.files.insert(path, text.into_bytes());
        }
        circuits
    }
}
