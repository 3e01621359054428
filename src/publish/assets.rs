//! Assets: style, icon, scripts and engine that ship inside the program, under names that change with
//! their content.
//!
//! In: the folder `site/`, embedded when the program is built. Out: files for the site and the names
//! pages call them by. A script calls another file of `site/` by its way there in double quotes
//! (`"./engine-worker.mjs"`); that becomes the name the file has in the site, and behind `sha256 ` the sum that a
//! browser holds it against. Never: anything from a disk or another host at run time.

use super::Files;
use super::bare::bare;
use crate::card::embedded;
use include_dir::{Dir, include_dir};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;

/// The folder `site/`.
static SHIPPED: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/site");

/// What is published; the rest of `site/` is for those who build the engine.
const PUBLISHED: [&str; 5] = [".css", ".svg", ".png", ".mjs", ".wasm"];

/// The shipped files as they go into a site.
#[derive(Debug)]
pub(super) struct Assets {
    /// Path to bytes.
    pub(super) files: Files,
    /// Where the style sheet stands.
    pub(super) style: String,
    /// Where the icon stands.
    pub(super) icon: String,
    /// Where the style of paper stands.
    pub(super) print_style: String,
    /// Where the script stands that tells whether the site is on the phone.
    pub(super) offline_script: String,
    /// Where the icons of the site as an app stand: small, large, and one to be cut to any shape.
    pub(super) app_icons: [String; 3],
    /// The service worker, without the name of a publication.
    pub(super) worker: Vec<u8>,
    /// The one that lets go of what another site left.
    pub(super) letting_go: Vec<u8>,
    /// Where the script stands that dresses a page as its reader chose.
    pub(super) comfort: String,
    /// Where the style of the page stands on which one chooses.
    pub(super) comfort_style: String,
    /// Where its script stands.
    pub(super) choose_script: String,
    /// Where the style of calculators stands.
    pub(super) calculator_style: String,
    /// Where the script of calculators stands.
    pub(super) calculator_script: String,
    /// Where the style of bench mode stands.
    pub(super) bench_style: String,
    /// Where the script of bench mode stands.
    pub(super) bench_script: String,
    /// Where the style of the list of runs stands.
    pub(super) runs_style: String,
    /// Where its script stands.
    pub(super) runs_script: String,
    /// Where the style of search stands.
    pub(super) search_style: String,
    /// Where the script of search stands.
    pub(super) search_script: String,
}

/// All shipped files; each name carries a hash of its content, so a cache never shows an old one.
pub(super) fn shipped() -> Assets {
    let left: BTreeMap<String, Vec<u8>> = embedded(&SHIPPED)
        .into_iter()
        .filter(|(name, _)| PUBLISHED.iter().any(|ending| name.ends_with(ending)))
        .map(|(name, bytes)| (name.to_owned(), sent(name, bytes)))
        .collect();
    let (files, named) = named(left);
    let path = |name: &str| named.get(name).cloned().unwrap_or_default();
    Assets {
        style: path("loomleaf.css"),
        icon: path("icons/leaf.svg"),
        print_style: path("print.css"),
        offline_script: path("parts/offline.mjs"),
        app_icons: ["leaf-192.png", "leaf-512.png", "leaf-masked-512.png"]
            .map(|name| path(&format!("icons/{name}"))),
        worker: at_root("sw.js"),
        letting_go: at_root("sw-let-go.js"),
        comfort: path("parts/comfort.mjs"),
        comfort_style: path("parts/comfort.css"),
        choose_script: path("parts/choose.mjs"),
        calculator_style: path("parts/calculator.css"),
        calculator_script: path("parts/calculator.mjs"),
        bench_style: path("parts/bench.css"),
        bench_script: path("parts/bench.mjs"),
        runs_style: path("parts/runs.css"),
        runs_script: path("parts/runs.mjs"),
        search_style: path("parts/search.css"),
        search_script: path("parts/search.mjs"),
        files,
    }
}

/// A script that stands at the site's root under a name that never changes.
fn at_root(name: &str) -> Vec<u8> {
    SHIPPED
        .get_file(name)
        .map_or_else(Vec::new, |file| sent(name, file.contents()))
}

/// A shipped file as it is sent: styles and scripts without what only their authors read.
fn sent(name: &str, bytes: &[u8]) -> Vec<u8> {
    let read = [".css", ".mjs", ".js"]
        .iter()
        .any(|end| name.ends_with(end));
    match read {
        true => bare(&String::from_utf8_lossy(bytes)).into_bytes(),
        false => bytes.to_vec(),
    }
}

/// Names every file by its content, those first that others call; also which file got which name.
fn named(mut left: BTreeMap<String, Vec<u8>>) -> (Files, BTreeMap<String, String>) {
    let (mut files, mut named) = (Files::new(), BTreeMap::new());
    while let Some(name) = next(&left) {
        let bytes = left.remove(&name).unwrap_or_default();
        let bytes = match name.ends_with(".mjs") {
            true => with_names(&name, &bytes, &named, &files),
            false => bytes,
        };
        let path = hashed(&name, &bytes);
        files.insert(path.clone(), bytes);
        named.insert(name, path);
    }
    (files, named)
}

/// A file that calls none of those left; where they call each other in a circle, the first.
fn next(left: &BTreeMap<String, Vec<u8>>) -> Option<String> {
    let free = |(name, bytes): &(&String, &Vec<u8>)| {
        !name.ends_with(".mjs") || {
            let text = String::from_utf8_lossy(bytes);
            let calls = |other: &String| text.contains(&called(name, other));
            !left.keys().any(|other| other != *name && calls(other))
        }
    };
    let first = left.iter().find(free).or_else(|| left.iter().next());
    first.map(|(name, _)| name.clone())
}

/// A script's text with the names that the files it calls have in the site, and their sums.
fn with_names(
    name: &str,
    bytes: &[u8],
    named: &BTreeMap<String, String>,
    files: &Files,
) -> Vec<u8> {
    let text = String::from_utf8_lossy(bytes).into_owned();
    let text = named.iter().fold(text, |text, (other, path)| {
        let short = path.strip_prefix("assets/").unwrap_or(path);
        let call = called(name, other);
        let text = text.replace(&call, &called(name, short));
        let summed = call.replacen('"', "\"sha256 ", 1);
        match files.get(path).filter(|_| text.contains(&summed)) {
            Some(bytes) => text.replace(&summed, &format!("\"{}\"", integrity(bytes))),
            None => text,
        }
    });
    text.into_bytes()
}

/// The sum of a file as browsers take it: `sha256-` and base 64.
fn integrity(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let sum = Sha256::digest(bytes);
    let mut text = "sha256-".to_owned();
    for three in sum.chunks(3) {
        let byte = |at: usize| three.get(at).map_or(0, |byte| u32::from(*byte));
        let bits = byte(0) << 16 | byte(1) << 8 | byte(2);
        for at in 0..4_usize {
            let letter = LETTERS[(bits >> (18 - 6 * at) & 63) as usize];
            text.push(if at <= three.len() {
                char::from(letter)
            } else {
                '='
            });
        }
    }
    text
}

/// How a script calls a file: its way there from the script's own folder, in quotes.
fn called(from: &str, to: &str) -> String {
    let up = from.matches('/').count();
    let shared = from.rsplit_once('/').map_or("", |(folder, _)| folder);
    match to
        .strip_prefix(shared)
        .and_then(|rest| rest.strip_prefix('/'))
    {
        Some(beside) if up > 0 => format!("\"./{beside}\""),
        _ if up == 0 => format!("\"./{to}\""),
        _ => format!("\"{}{to}\"", "../".repeat(up)),
    }
}

/// `assets/loomleaf-1f2e3d4c5b.css`.
pub(super) fn hashed(name: &str, bytes: &[u8]) -> String {
    let hash = blake3::hash(bytes).to_hex();
    let (stem, ending) = name.rsplit_once('.').unwrap_or((name, ""));
    format!("assets/{stem}-{}.{ending}", &hash[..10])
}
