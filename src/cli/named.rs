//! Named things: the card, test or fault that was asked for, or what there is instead.
//!
//! In: what was typed. Out: what it names, or an ending that was explained. Never: a silent guess.

use super::console::Console;
use super::draw::{Drawn, draw_all, visible};
use super::report::Counts;
use super::words::listed;
use super::{Ending, Stop};
use crate::finding::nearest;
use crate::publish::pipeline::{Prepared, prepare_card};
use crate::sheet::Sheet;
use std::path::Path;

/// Loads a deck and solves the card that was typed.
pub(super) fn solved(
    deck: &Path,
    typed: &str,
    console: &mut Console<'_>,
) -> Result<Prepared, Stop> {
    Ok(console.during("solving the card", || prepare_card(deck, card_id(typed)))?)
}

/// The sheet of a card as typed; else it is told why there is none.
pub(super) fn sheet<'a>(
    prepared: &'a Prepared,
    deck: &Path,
    typed: &str,
    console: &mut Console<'_>,
) -> Result<Result<&'a Sheet, Ending>, Stop> {
    let id = card_id(typed);
    match prepared.sheets.iter().find(|sheet| sheet.card == id) {
        Some(sheet) => Ok(Ok(sheet)),
        None => Ok(Err(no_card(id, prepared, deck, console)?)),
    }
}

/// `Winch lever · P0120`.
pub(super) fn heading(prepared: &Prepared, sheet: &Sheet) -> String {
    let mut cards = prepared.deck.iter().flat_map(|deck| &deck.cards);
    let Some(card) = cards.find(|card| card.id == sheet.card) else {
        return visible(&sheet.card);
    };
    let codes: String = card
        .codes
        .iter()
        .map(|code| format!(" · {}", code.value))
        .collect();
    visible(&format!("{}{codes}", card.title.value))
}

/// People also type the card's file: `cards/ramp-angle.yaml`.
fn card_id(typed: &str) -> &str {
    let named = Path::new(typed);
    match (named.extension(), named.file_stem()) {
        (Some(ending), Some(stem)) if ending == "yaml" => stem.to_str().unwrap_or(typed),
        _ => typed,
    }
}

/// A card that is not there, or is there and can't be solved: its findings say why.
fn no_card(
    id: &str,
    prepared: &Prepared,
    deck: &Path,
    console: &mut Console<'_>,
) -> Result<Ending, Stop> {
    let file = format!("cards/{id}.yaml");
    let own: Vec<_> = prepared
        .findings
        .iter()
        .filter(|finding| finding.place.file == file)
        .cloned()
        .collect();
    if own.is_empty() {
        let cards = prepared.deck.iter().flat_map(|deck| &deck.cards);
        let names: Vec<String> = cards.map(|card| card.id.clone()).collect();
        no_match("card", id, &names, console)?;
        return Ok(Ending::NoMatch);
    }
    let drawn = Drawn {
        findings: &own,
        folder: deck,
        texts: &prepared.texts,
    };
    draw_all(&drawn, console.err_look, console.err)?;
    writeln!(console.err, "{} in {file}", Counts::of(&own))?;
    Ok(Ending::Errors)
}

/// Nothing goes by this name: the nearest, and all there are.
pub(super) fn no_match(
    noun: &str,
    typed: &str,
    names: &[String],
    console: &mut Console<'_>,
) -> Result<(), Stop> {
    let near = nearest(typed, names.iter().map(String::as_str))
        .map(|name| format!("; did you mean {}?", visible(name)))
        .unwrap_or_default();
    writeln!(console.err, "no {noun} is named `{}`{near}", visible(typed))?;
    if !names.is_empty() {
        writeln!(console.err, "  there are: {}", visible(&listed(names)))?;
    }
    Ok(())
}
