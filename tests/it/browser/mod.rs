//! The demo in a real browser: every page is walked once, each test asks one thing of what was seen.
//!
//! The site is published to memory and served by the preview's own server on a free port.

mod budget;
pub(crate) mod chrome;
mod live;
mod look;
mod screens;
mod valid;
pub(crate) mod walk;

use loomleaf::preview::{Port, Server};
use loomleaf::publish::pipeline::build;
use loomleaf::publish::{Files, SiteOptions};
use std::path::Path;
use std::sync::OnceLock;

/// The demo's site, built once for all tests.
pub(crate) fn demo() -> &'static Files {
    static SITE: OnceLock<Result<Files, String>> = OnceLock::new();
    let site = SITE.get_or_init(|| {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo");
        let built = build(&folder, &SiteOptions::default()).map_err(|error| error.to_string())?;
        let said = built.findings.iter().map(|found| &found.message);
        let said: Vec<_> = said.map(String::as_str).collect();
        match built.files.is_empty() {
            false => Ok(built.files),
            true => Err(said.join("\n")),
        }
    });
    match site {
        Ok(files) => files,
        Err(said) => panic!("the demo has errors:\n{said}"),
    }
}

/// Where the published demo says it will be found.
pub(crate) const ADDRESS: &str = "https://cards.tern.example/wiring/";

/// The demo as `publish --address` makes it: to be taken along, with QR codes.
pub(crate) fn published() -> &'static Files {
    static SITE: OnceLock<Files> = OnceLock::new();
    SITE.get_or_init(|| {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo");
        let options = SiteOptions {
            address: Some(ADDRESS.to_owned()),
            offline: true,
        };
        build(&folder, &options).unwrap().files
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
