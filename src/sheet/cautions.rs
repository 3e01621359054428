//! Cautions of a card and of its family as text, those that can hurt a person first.
//!
//! In: ids and own sentences. Out: [`Caution`]s from the deck's table. Never: judges a circuit.

use super::types::Caution;
use crate::card::{Card, Deck, Family};

/// Cautions of the card, then of its family, those that can hurt a person first.
pub(super) fn cautions(deck: &Deck, card: &Card, family: &Family) -> Vec<Caution> {
    let mut all: Vec<Caution> = Vec::new();
    let ids = card
        .cautions
        .iter()
        .map(|caution| caution.value.as_str())
        .chain(family.cautions.iter().map(String::as_str));
    for text in ids {
        let own = || Caution {
            id: String::new(),
            title: String::new(),
            says: text.to_owned(),
            can_hurt: true,
        };
        let found = caution(deck, text).unwrap_or_else(own);
        if !all.contains(&found) {
            all.push(found);
        }
    }
    all.sort_by_key(|caution| !caution.can_hurt);
    all
}

pub(super) fn caution(deck: &Deck, id: &str) -> Option<Caution> {
    let spec = deck.cautions.get(id)?;
    Some(Caution {
        id: id.to_owned(),
        title: spec.title.clone(),
        says: spec.says.clone(),
        can_hurt: spec.can_hurt,
    })
}
