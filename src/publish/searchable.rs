//! The pack that pages and terminal search: the words of a deck with the addresses of its pages.
//!
//! In: a deck. Out: the bytes of the pack. Never: what of a deck is found; that is `index`.

use super::assets::hashed;
use super::{Files, address};
use crate::card::Deck;
use crate::index::{Beside, NotWritten, Page, entries, pack};

/// The search pack of a deck. Same deck, same bytes.
///
/// # Errors
/// Where the index can not be written.
pub fn search_pack(deck: &Deck) -> Result<Vec<u8>, NotWritten> {
    let fits = deck.cards.iter().flat_map(|card| &card.fits);
    let slugs = address::slugs(fits.map(|fits| fits.value.as_str()));
    let entries = entries(deck, |page| match page {
        Page::Card(id) => address::card(id),
        Page::Code(code) => address::code(code),
        Page::Family(name) => address::family(name),
        Page::Lesson(id) => address::lesson(id),
        Page::Calculator(name) => address::calculator(name),
        Page::Vehicle(name) => {
            let slug = slugs.get(&name.to_lowercase());
            address::vehicle(slug.map_or("", String::as_str))
        }
    });
    pack(entries, &Beside::of(deck))
}

/// The pack of a deck among the files of its site; the path it stands at, named by its content. Empty where
/// there is none: the page then keeps its lists and shows no search.
pub(super) fn asset(deck: &Deck, files: &mut Files) -> String {
    let Ok(pack) = search_pack(deck) else {
        return String::new();
    };
    let path = hashed("search/deck.pack", &pack);
    files.insert(path.clone(), pack);
    path
}
