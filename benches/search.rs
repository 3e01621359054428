//! Search in a phone, measured: bytes over the wire of engine and packs; with Chromium's processor slowed four
//! times, one warm query among 1,000 and 10,000 cards, and the way from cached files to the first result.
//!
//! Beside it `minisearch` from the npm registry on the same texts, fetched into `target/tools` by npm and never
//! part of the product. `cargo bench --bench search`.
#![allow(missing_docs, clippy::unwrap_used, clippy::print_stdout, dead_code)]

#[path = "../tests/it/browser/chrome.rs"]
mod chrome;
#[path = "../tests/it/search/decks.rs"]
mod decks;

use chrome::Chrome;
use decks::{made, queries};
use loomleaf::card::{Deck, colours_of};
use loomleaf::preview::{Port, Server};
use loomleaf::publish::pipeline::build;
use loomleaf::publish::{Files, SiteOptions, search_pack};
use serde_json::{Value, json};
use std::path::Path;
use std::process::Command;
use std::time::Instant;

/// Queries of a run, and starts; of starts the median counts.
const QUERIES: usize = 1_000;
const STARTS: usize = 7;

fn main() {
    let top = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut site = build(&top.join("demo"), &SiteOptions::default())
        .unwrap()
        .files;
    let mut decks = Vec::new();
    for cards in [1_000, 10_000] {
        let deck = made(cards);
        let from = Instant::now();
        let pack = search_pack(&deck).unwrap();
        println!("{cards} cards indexed in {} ms", from.elapsed().as_millis());
        site.insert(format!("assets/search/{cards}.pack"), pack);
        site.insert(format!("assets/search/{cards}.json"), texts(&deck));
        decks.push((cards, deck));
    }
    let other = other(top);
    if let Some(script) = &other {
        site.insert("assets/other.js".to_owned(), script.clone());
    }
    sizes(&site);
    let server = Server::start(Port::Free).unwrap();
    server.show(site.clone());
    let mut chrome = Chrome::start();
    for (cards, deck) in &decks {
        let asked = queries(QUERIES, deck);
        measure(
            &mut chrome,
            &server,
            &ours(&site, *cards),
            "loomleaf",
            *cards,
            &asked,
        );
        if other.is_some() {
            measure(
                &mut chrome,
                &server,
                &theirs(*cards),
                "minisearch",
                *cards,
                &asked,
            );
        }
    }
}

fn packed(bytes: &[u8]) -> usize {
    let settings = brotli::enc::BrotliEncoderParams {
        quality: 9,
        ..Default::default()
    };
    let mut packed = Vec::new();
    brotli::BrotliCompress(&mut &bytes[..], &mut packed, &settings).unwrap();
    packed.len()
}

fn sizes(site: &Files) {
    let wanted = |name: &&String| {
        name.starts_with("assets/search/")
            || name.starts_with("assets/engine/search")
            || name.starts_with("assets/parts/search")
            || name.as_str() == "assets/other.js"
    };
    for name in site.keys().filter(wanted) {
        let bytes = &site[name];
        println!("{name}: {} bytes, brotli {}", bytes.len(), packed(bytes));
    }
}

/// The texts of the cards, as the index has them, for the other library.
fn texts(deck: &Deck) -> Vec<u8> {
    let rows: Vec<Value> = deck
        .cards
        .iter()
        .map(|card| {
            let pins = card.pins.iter().map(|pin| {
                let wire = pin.wire.as_ref().map_or("", |wire| wire.value.as_str());
                let words: Vec<&str> = colours_of(wire).iter().map(|colour| colour.word).collect();
                format!(
                    "{} {} {wire} {}",
                    pin.label.value,
                    pin.role.value,
                    words.join(" ")
                )
            });
            let codes: Vec<&str> = card.codes.iter().map(|code| code.value.as_str()).collect();
            json!({
                "id": card.id, "title": card.title.value, "codes": codes.join(" "),
                "fits": card.fits[0].value, "pins": pins.collect::<Vec<_>>().join(" "),
                "notes": card.notes,
            })
        })
        .collect();
    serde_json::to_vec(&rows).unwrap()
}

/// The other library's script; none where npm is not there.
fn other(top: &Path) -> Option<Vec<u8>> {
    let tools = top.join("target/tools");
    let script = tools.join("node_modules/minisearch/dist/es/index.js");
    if !script.exists() {
        let fetched = Command::new("npm")
            .args(["install", "--no-save", "--prefix"])
            .arg(&tools)
            .arg("minisearch")
            .status();
        if !fetched.is_ok_and(|status| status.success()) {
            println!("npm is not there: minisearch is not measured");
            return None;
        }
    }
    std::fs::read(script).ok()
}

/// Script that defines `begin()`, which loads and opens, and `ask(query)`.
fn ours(site: &Files, cards: usize) -> String {
    let worker = site
        .keys()
        .find(|name| name.starts_with("assets/parts/search-worker"));
    format!(
        "const {{ open, find }} = await import('/{}');
        window.begin = () => open('/assets/search/{cards}.pack');
        window.ask = (query) => find('/assets/search/{cards}.pack', query);",
        worker.unwrap()
    )
}

fn theirs(cards: usize) -> String {
    format!(
        "const {{ default: MiniSearch }} = await import('/assets/other.js');
        const how = {{ fields: ['title', 'codes', 'fits', 'pins', 'notes'], storeFields: ['title'],
            searchOptions: {{ prefix: true, fuzzy: 0.2, combineWith: 'AND', boost: {{ title: 4, codes: 5, fits: 2 }} }} }};
        const built = new MiniSearch(how);
        built.addAll(await (await fetch('/assets/search/{cards}.json')).json());
        window.index = JSON.stringify(built);
        let opened;
        window.begin = async () => {{ opened = MiniSearch.loadJSON(window.index, how); }};
        window.ask = async (query) => JSON.stringify(opened.search(query).slice(0, 10));"
    )
}

fn measure(
    chrome: &mut Chrome,
    server: &Server,
    setup: &str,
    who: &str,
    cards: usize,
    asked: &[String],
) {
    let mut starts: Vec<f64> = Vec::new();
    for _ in 0..STARTS {
        chrome.call("Emulation.setCPUThrottlingRate", json!({"rate": 1}));
        chrome.open(&format!("{}about/index.html", server.address()));
        chrome.eval(&format!("(async () => {{ {setup} }})()"));
        // Files come from the cache of the browser, which a first load fills.
        chrome.eval(
            "Promise.all(performance.getEntriesByType('resource').map((one) => fetch(one.name)))",
        );
        chrome.call("Emulation.setCPUThrottlingRate", json!({"rate": 4}));
        let took = "(async () => {
            const from = performance.now();
            await begin();
            await ask('front left wheel');
            return performance.now() - from;
        })()";
        starts.push(chrome.eval(took).as_f64().unwrap());
    }
    let took = format!(
        "(async () => {{
            const times = [];
            for (const query of {}) {{
                const from = performance.now();
                await ask(query);
                times.push(performance.now() - from);
            }}
            return times;
        }})()",
        json!(asked)
    );
    chrome.eval(&took);
    let told = chrome.eval(&took);
    let mut times: Vec<f64> = told
        .as_array()
        .unwrap()
        .iter()
        .map(|one| one.as_f64().unwrap())
        .collect();
    times.sort_by(f64::total_cmp);
    starts.sort_by(f64::total_cmp);
    println!(
        "{who}, {cards} cards, 4 times slower: first result {:.0} ms ({:.0} to {:.0}); query median {:.2} ms, 99 of 100 {:.2} ms",
        starts[STARTS / 2],
        starts[0],
        starts[STARTS - 1],
        times[times.len() / 2],
        times[times.len() * 99 / 100]
    );
    if who == "minisearch" {
        let index = chrome.eval("index");
        println!(
            "{who}, {cards} cards: its index as text {} bytes, brotli {}",
            index.as_str().unwrap().len(),
            packed(index.as_str().unwrap().as_bytes())
        );
    }
}
