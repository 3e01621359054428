//! Publishing: sheets to pages, drawings and files; computed in memory, swapped in whole.
//!
//! In: a deck and the sheets solved for its cards. Out: a map of path to bytes and the findings that
//! only pages can give. Never: solving, reading of decks, printing.
//! `shelf` sorts the cards by what people look for, `views` say what stands on each page, `pages`
//! fill the templates, `drawing` draws, `assets` hold what ships with the program, `bare` of its comments, `circuits` what a phone is handed of each card, `codes` the QR codes for paper, `offline` what makes the site one that a phone takes along, `searchable` makes what is searched, `links` check that
//! no link leads nowhere, `pipeline` goes the whole way from a folder, `output` puts a site in place with its copies from `pack`, `words` name things as the trade does, `units` say a value in both systems.

pub mod address;
mod assets;
mod bare;
mod circuits;
mod codes;
mod drawing;
mod links;
mod markdown;
mod offline;
pub mod output;
mod pack;
mod pages;
pub mod pipeline;
mod searchable;
mod shelf;
mod units;
mod views;
pub(crate) mod words;

pub use pack::sent as sent_pack;
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
    /// Whether a phone takes the site along. A preview is not taken: every reload must show the newest.
    pub offline: bool,
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
    let codes = codes::Codes::of(&shelf, options.address.as_deref());
    let own = views::Own {
        assets: &assets,
        circuits: &circuits,
        codes: &codes,
        pack: &pack,
    };
    let pages = views::all(&shelf, &own, options);
    assets.files.extend(circuits.files);
    assets.files.extend(codes.files);
    let manifest = offline::manifest(deck, &assets);
    assets.files.insert(offline::MANIFEST.to_owned(), manifest);
    let mut files = pages::render(&pages);
    let root = address::root_on_server(options.address.as_deref());
    let findings = links::check(&files, &assets.files, &shelf, &root);
    files.append(&mut assets.files);
    offline::add(&mut files, &assets, options);
    (files, findings)
}
