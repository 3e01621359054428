//! The demo in a real browser: every page is walked once, each test asks one thing of what was seen.
//!
//! The site is published to memory and served by the preview's own server on a free port.

mod budget;
pub(crate) mod chrome;
mod live;
mod look;
mod screens;
mod tables;
mod taps;
mod valid;
pub(crate) mod walk;

use loomleaf::preview::{Port, Server};
use loomleaf::publish::pipeline::{Prepared, prepare};
use loomleaf::publish::{Files, SiteOptions, site};
use std::path::Path;
use std::sync::OnceLock;

/// The demo, loaded and solved once for all tests.
pub(crate) fn solved() -> &'static Prepared {
    static SOLVED: OnceLock<Result<Prepared, String>> = OnceLock::new();
    let solved = SOLVED.get_or_init(|| {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo");
        prepare(&folder).map_err(|error| error.to_string())
    });
    solved
        .as_ref()
        .unwrap_or_else(|said| panic!("the demo can't be read: {said}"))
}

fn site_of(options: &SiteOptions) -> Files {
    let Prepared { deck, sheets, .. } = solved();
    let (files, broken) = site(deck.as_ref().unwrap(), sheets, options);
    assert!(broken.is_empty(), "{broken:?}");
    files
}

/// The demo's site as a preview shows it, built once for all tests.
pub(crate) fn demo() -> &'static Files {
    static SITE: OnceLock<Files> = OnceLock::new();
    SITE.get_or_init(|| site_of(&SiteOptions::default()))
}

/// Where the published demo says it will be found.
pub(crate) const ADDRESS: &str = "https://cards.tern.example/wiring/";

/// The demo as `publish --address` makes it: to be taken along, with QR codes.
pub(crate) fn published() -> &'static Files {
    static SITE: OnceLock<Files> = OnceLock::new();
    SITE.get_or_init(|| {
        site_of(&SiteOptions {
            address: Some(ADDRESS.to_owned()),
            offline: true,
        })
    })
}

/// The demo's pages, by their path in the site.
fn pages() -> impl Iterator<Item = &'static str> {
    demo()
        .keys()
        .map(String::as_str)
        .filter(|name| name.ends_with(".html"))
}

/// Those of its cards.
pub(crate) fn card_pages() -> impl Iterator<Item = &'static str> {
    pages().filter(|name| name.starts_with("cards/") && name.matches('/').count() == 2)
}

pub(crate) fn serve() -> Server {
    let server = Server::start(Port::Free).unwrap();
    server.show(demo().clone());
    server
}
