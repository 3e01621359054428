//! Publishing: sheets to pages, drawings and files; computed in memory, swapped in whole.
//!
//! In: a deck and the sheets solved for its cards. Out: a map of path to bytes and the findings that
//! only pages can give. Never: solving, reading of decks, printing.
//! `shelf` sorts the cards by what people look for, `views` say what stands on each page, `pages`
//! fill the templates, `drawing` draws, `assets` hold what ships with the program, `circuits` what a phone is handed of each card, `searchable` makes what is searched, `links` check that
//! no link leads nowhere, `pipeline` goes the whole way from a folder, `output` puts a site in place with its copies from `pack`, `words` name things as the trade does, `units` say a value in both systems.

mod address;
mod assets;
mod circuits;
mod drawing;
mod links;
mod markdown;
pub mod output;
mod pack;
mod pages;
pub mod pipeline;
mod searchable;
mod shelf;
mod units;
mod views;
pub(crate) mod words;

pub use searchable::search_pack;

use crate::card::Deck;
use crate::finding::Finding;
use crate::sheet::Sheet;
use std::collections::BTreeMap;

/// A site in memory: path inside the site (with `/` between folders) to its bytes.
pub type Files = BTreeMap<String, Vec<u8>>;

/// What a publisher can choose.
#[derive(Clone, Debug, Default)]
pub struct SiteOptions {
    /// Where the site will be found, such as `https://wiring.example/`: printed on paper, so that a
    /// sheet in the van says where it came from. Links inside the site never need it.
    pub address: Option<String>,
}

/// A deck and its sheets as a site. Same deck, same bytes.
///
/// Cards without a sheet get no page. A link that leads nowhere is a finding of severity error: the
/// caller must not put such a site in place.
pub fn site(deck: &Deck, sheets: &[Sheet], options: &SiteOptions) -> (Files, Vec<Finding>) {
    let shelf = shelf::Shelf::sort(deck, sheets);
    let mut assets = assets::shipped();
    let circuits = circuits::Circuits::of(&shelf);
    let pack = searchable::asset(deck, &mut assets.files);
    let pages = views::all(&shelf, &assets, &circuits, &pack, options);
    assets.files.extend(circuits.files);
    let mut files = pages::render(&pages);
    let root = address::root_on_server(options.address.as_deref());
    let findings = links::check(&files, &assets.files, &shelf, &root);
    files.extend(assets.files);
    (files, findings)
}
