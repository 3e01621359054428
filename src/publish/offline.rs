//! Offline: what a phone needs to take the site along, and to keep it as an app.
//!
//! In: all files of a site. Out: their packed copies, the list of them with their hashes, the service worker that knows this
//! publication's name, the manifest by which a phone installs the site. Same files, same bytes. Where a site
//! is not to be taken along (a preview) the worker only lets go of what another site left.

use super::assets::{Assets, hashed};
use super::{Files, SiteOptions, address, pack};
use crate::card::Deck;
use rayon::prelude::*;
use serde::Serialize;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;

/// The service worker; its place decides what it may serve.
const WORKER: &str = "sw.js";
/// What a phone installs the site by.
pub(super) const MANIFEST: &str = "manifest.webmanifest";

/// How the names of the files begin that search needs.
const SEARCH: [&str; 3] = [
    "assets/parts/search",
    "assets/engine/search-",
    "assets/search/",
];

/// All files of a publication.
#[derive(Serialize)]
struct List<'a> {
    /// Packed bytes of all files together.
    bytes: usize,
    /// What every page needs, the front page with its search, and the page that says what is not there.
    first: Vec<&'a str>,
    /// Hash and packed bytes of each.
    files: BTreeMap<&'a str, (String, usize)>,
}

/// Adds the copies by which files travel, the list and the worker; the last step, since these know every other file.
pub(super) fn add(files: &mut Files, assets: &Assets, options: &SiteOptions) {
    if !options.offline {
        files.insert(WORKER.to_owned(), assets.letting_go.clone());
        return;
    }
    let mut copies = copies(files);
    let list = list(files, &copies, assets);
    files.append(&mut copies);
    let path = hashed("offline/files.json", list.as_bytes());
    // The list holds the hash of every file, so its own names the publication.
    let publication = &blake3::hash(list.as_bytes()).to_hex()[..16];
    let worker = String::from_utf8_lossy(&assets.worker)
        .replace("%PUBLICATION%", publication)
        .replace("%LIST%", &path);
    files.insert(path, list.into_bytes());
    files.insert(WORKER.to_owned(), worker.into_bytes());
}

/// A page for lost addresses is the server's: a phone has its own.
fn list(files: &Files, copies: &Files, assets: &Assets) -> String {
    let sent = |path: &str, bytes: &[u8]| {
        let least = copies.get(&pack::least(path));
        least.map_or(bytes.len(), Vec::len)
    };
    let files: BTreeMap<&str, (String, usize)> = files
        .iter()
        .filter(|(path, _)| *path != address::MISSING)
        .map(|(path, bytes)| (path.as_str(), (content(bytes), sent(path, bytes))))
        .collect();
    let mut first = vec![
        address::OFFLINE,
        &assets.style,
        &assets.comfort,
        &assets.offline_script,
        &assets.icon,
    ];
    // Where the rest is too much to be taken along unasked, a circuit is found at least.
    first.push(address::FRONT);
    first.extend(files.keys().filter(|path| is_of_search(path)));
    let list = List {
        bytes: files.values().map(|(_, bytes)| bytes).sum(),
        first,
        files,
    };
    serde_json::to_string(&list).expect("texts and numbers always serialise")
}

/// Whether a file is of the search: its style, scripts, engine or pack.
fn is_of_search(path: &str) -> bool {
    SEARCH.iter().any(|start| path.starts_with(start))
}

/// The first ten bytes of SHA-256, which browsers can work out.
fn content(bytes: &[u8]) -> String {
    let hash = Sha256::digest(bytes);
    let digits = hash.iter().take(10).map(|byte| format!("{byte:02x}"));
    digits.collect()
}

/// The packed copies of all files, made here once: the list tells their sizes, and the site holds them.
fn copies(files: &Files) -> Files {
    let copies = files.par_iter().flat_map_iter(|(path, bytes)| {
        let copies = pack::packed(path, bytes).into_iter();
        copies.map(move |(ending, packed)| (format!("{path}.{ending}"), packed))
    });
    copies.collect()
}

/// The site as an app; addresses are relative, so it holds in any folder of a server.
#[derive(Serialize)]
struct Manifest<'a> {
    name: &'a str,
    short_name: String,
    description: &'a str,
    start_url: &'static str,
    scope: &'static str,
    display: &'static str,
    background_color: &'static str,
    theme_color: &'static str,
    icons: Vec<Icon<'a>>,
}

#[derive(Serialize)]
struct Icon<'a> {
    src: &'a str,
    sizes: &'static str,
    #[serde(rename = "type")]
    kind: &'static str,
    purpose: &'static str,
}

/// Letters below an icon that a phone shows without cutting them off (common practice, no source).
const SHORT: usize = 12;

/// The manifest of this deck's site.
pub(super) fn manifest(deck: &Deck, assets: &Assets) -> Vec<u8> {
    let icon = |src, sizes, kind, purpose| Icon {
        src,
        sizes,
        kind,
        purpose,
    };
    let [small, large, masked] = assets.app_icons.each_ref().map(String::as_str);
    let manifest = Manifest {
        name: &deck.title,
        short_name: short(&deck.title),
        description: &deck.says,
        start_url: "index.html",
        scope: "./",
        display: "standalone",
        // The paper and the thread of the style sheet.
        background_color: "#faf6ec",
        theme_color: "#0a4d5a",
        icons: vec![
            icon(&assets.icon, "any", "image/svg+xml", "any"),
            icon(small, "192x192", "image/png", "any"),
            icon(large, "512x512", "image/png", "any"),
            icon(masked, "512x512", "image/png", "maskable"),
        ],
    };
    serde_json::to_vec(&manifest).expect("texts always serialise")
}

/// As many whole words as fit, at least the first.
fn short(title: &str) -> String {
    let mut short = String::new();
    for word in title.split_whitespace() {
        let longer = format!("{short} {word}");
        if !short.is_empty() && longer.chars().count() > SHORT + 1 {
            break;
        }
        short = longer.trim().to_owned();
    }
    short
}
