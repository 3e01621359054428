//! Search in a phone, measured against its budgets: bytes over the wire of engine and packs; with Chromium's
//! processor slowed four times, one warm query among 1,000 and 10,000 cards, and the way from cached files to the
//! first result. It runs on the page's own thread, since a worker is not slowed: a start is engine and pack opened and
//! a first question answered there, each time in a browser of its own, so that nothing is left of the last; and four
//! times what a worker takes that does nothing, from its making and the fetching of its script to its first word.
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
use loomleaf::publish::{Files, SiteOptions, search_pack, sent_pack};
use serde_json::{Value, json};
use std::path::Path;
use std::process::Command;
use std::time::Instant;

/// Queries of a round, rounds, and starts. All queries of all rounds count, and of starts the median.
const QUERIES: usize = 1_000;
const ROUNDS: usize = 5;
/// Queries between two words with the browser, which is given up after a minute of silence.
const AT_ONCE: usize = 100;
const STARTS: usize = 9;
/// How many times the processor is slowed.
const SLOWED: f64 = 4.0;
/// Milliseconds a browser has from its first page to a start, which it takes to be done with beginning; nobody reads faster.
const SETTLES: u32 = 1_000;
/// A worker that does nothing.
const IDLE: &str = "assets/idle.mjs";

/// What a deck of so many cards may take: bytes of its pack, milliseconds to a first result, of a query in the
/// median and of 99 in 100. A query is held to its budget in the largest deck.
struct Budget {
    cards: usize,
    pack: f64,
    start: f64,
    median: f64,
    most: f64,
}

const ENGINE: f64 = 150_000.0;
const BUDGETS: [Budget; 2] = [
    Budget {
        cards: 1_000,
        pack: 100_000.0,
        start: 120.0,
        median: 1.5,
        most: 6.0,
    },
    Budget {
        cards: 10_000,
        pack: 900_000.0,
        start: 220.0,
        median: 1.5,
        most: 6.0,
    },
];

fn main() {
    let top = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut site = build(&top.join("demo"), &SiteOptions::default())
        .unwrap()
        .files;
    let engine = site
        .keys()
        .find(|name| name.starts_with("assets/engine/search"))
        .unwrap();
    told("engine", "bytes", packed(&site[engine], 11), Some(ENGINE));
    let decks: Vec<(&Budget, Deck)> = BUDGETS
        .iter()
        .map(|budget| (budget, made(budget.cards)))
        .collect();
    for (budget, deck) in &decks {
        let cards = budget.cards;
        let from = Instant::now();
        let pack = search_pack(deck).unwrap();
        let took = from.elapsed().as_millis();
        println!("{cards} cards indexed in {took} ms, {} bytes", pack.len());
        let what = format!("index of {cards} cards");
        told(&what, "bytes", sent_pack(&pack) as f64, Some(budget.pack));
        site.insert(format!("assets/search/{cards}.pack"), pack);
        site.insert(format!("assets/search/{cards}.json"), texts(deck));
    }
    let other = other(top);
    if let Some(script) = &other {
        told("minisearch", "bytes", packed(script, 11), None);
        site.insert("assets/other.js".to_owned(), script.clone());
    }
    let server = Server::start(Port::Free).unwrap();
    site.insert(IDLE.to_owned(), b"postMessage(1);".to_vec());
    server.show(site.clone());
    if other.is_some() {
        let mut chrome = Chrome::start();
        for (budget, _) in &decks {
            let index = their_index(&mut chrome, &server, budget.cards);
            let what = format!("minisearch: index of {} cards", budget.cards);
            told(&what, "bytes", packed(&index, 9), None);
            site.insert(format!("assets/search/{}.other", budget.cards), index);
        }
        server.show(site.clone());
    }
    for (budget, deck) in &decks {
        let asked = queries(QUERIES, deck);
        let setup = ours(&site, budget.cards);
        let times = measure(&server, &setup, &asked);
        print(&times, "", budget.cards, Some(budget));
        if other.is_some() {
            let times = measure(&server, &theirs(budget.cards), &asked);
            print(&times, "minisearch: ", budget.cards, None);
        }
    }
}

/// A line: what, how much, and whether it is within its budget.
fn told(what: &str, unit: &str, value: f64, budget: Option<f64>) {
    let judged = match budget {
        None => String::new(),
        Some(most) if value <= most => format!("  within {most}"),
        Some(most) => format!("  MISSES {most}"),
    };
    let digits = if unit == "bytes" || value >= 20.0 {
        0
    } else {
        2
    };
    println!("{what:<52} {value:>9.digits$} {unit}{judged}");
}

/// Bytes as published: engines are packed harder than packs.
fn packed(bytes: &[u8], quality: i32) -> f64 {
    let settings = brotli::enc::BrotliEncoderParams {
        quality,
        ..Default::default()
    };
    let mut packed = Vec::new();
    brotli::BrotliCompress(&mut &bytes[..], &mut packed, &settings).unwrap();
    packed.len() as f64
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

/// Script that fills the browser's cache, and defines `begin()`, which loads and opens, and `ask(query)`.
fn ours(site: &Files, cards: usize) -> String {
    let named = |start: &str| site.keys().find(|name| name.starts_with(start)).unwrap();
    let (worker, engine) = (
        named("assets/parts/search-worker"),
        named("assets/engine/search"),
    );
    format!(
        "const pack = '/assets/search/{cards}.pack';
        for (const one of ['/{worker}', '/{engine}', pack]) await (await fetch(one)).arrayBuffer();
        const {{ open, find }} = await import('/{worker}');
        window.ask = (query) => find(pack, query);
        window.begin = () => open(pack);"
    )
}

/// What the other library is told of the texts.
const HOW: &str = "{ fields: ['title', 'codes', 'fits', 'pins', 'notes'], storeFields: ['title'],
    searchOptions: { prefix: true, fuzzy: 0.2, combineWith: 'AND', boost: { title: 4, codes: 5, fits: 2 } } }";

fn theirs(cards: usize) -> String {
    format!(
        "for (const one of ['/assets/other.js', '/assets/search/{cards}.other']) await (await fetch(one)).text();
        window.begin = async () => {{
            const {{ default: MiniSearch }} = await import('/assets/other.js');
            const index = await (await fetch('/assets/search/{cards}.other')).text();
            const opened = MiniSearch.loadJSON(index, {HOW});
            window.ask = async (query) => JSON.stringify(opened.search(query).slice(0, 10));
        }};"
    )
}

/// The other library's index of the same texts.
fn their_index(chrome: &mut Chrome, server: &Server, cards: usize) -> Vec<u8> {
    chrome.open(&format!("{}about/index.html", server.address()));
    let index = chrome.eval(&format!(
        "(async () => {{
            const {{ default: MiniSearch }} = await import('/assets/other.js');
            const built = new MiniSearch({HOW});
            built.addAll(await (await fetch('/assets/search/{cards}.json')).json());
            return JSON.stringify(built);
        }})()"
    ));
    index.as_str().unwrap().as_bytes().to_vec()
}

/// Milliseconds: of starts in order, of a worker's making, of queries by round.
struct Times {
    starts: Vec<f64>,
    worker: f64,
    rounds: Vec<Vec<f64>>,
}

fn measure(server: &Server, setup: &str, asked: &[String]) -> Times {
    let (mut starts, mut workers, mut last) = (Vec::new(), Vec::new(), None::<Chrome>);
    for _ in 0..STARTS {
        // One that goes on being slowed would take time from the next.
        drop(last.take());
        let mut chrome = Chrome::start();
        chrome.open(&format!("{}about/index.html", server.address()));
        chrome.eval(&format!("(async () => {{ {setup} }})()"));
        let making = format!(
            "(async () => {{
                await (await fetch('/{IDLE}')).text();
                await new Promise((rested) => {{ setTimeout(rested, {SETTLES}); }});
                const from = performance.now();
                const worker = new Worker('/{IDLE}', {{ type: 'module' }});
                await new Promise((told) => {{ worker.onmessage = told; }});
                worker.terminate();
                return performance.now() - from;
            }})()"
        );
        workers.push(chrome.eval(&making).as_f64().unwrap());
        chrome.call("Emulation.setCPUThrottlingRate", json!({"rate": SLOWED}));
        let took = "(async () => {
            const from = performance.now();
            await begin();
            await ask('front left wheel');
            return performance.now() - from;
        })()";
        starts.push(chrome.eval(took).as_f64().unwrap());
        last = Some(chrome);
    }
    starts.sort_by(f64::total_cmp);
    workers.sort_by(f64::total_cmp);
    let mut chrome = last.unwrap();
    // A first round warms up.
    round(&mut chrome, asked);
    Times {
        starts,
        worker: workers[STARTS / 2],
        rounds: (0..ROUNDS).map(|_| round(&mut chrome, asked)).collect(),
    }
}

/// The times of a round.
fn round(chrome: &mut Chrome, asked: &[String]) -> Vec<f64> {
    let mut times: Vec<f64> = Vec::new();
    for some in asked.chunks(AT_ONCE) {
        let told = chrome.eval(&format!(
            "(async () => {{
                const times = [];
                for (const query of {}) {{
                    const from = performance.now();
                    await ask(query);
                    times.push(performance.now() - from);
                }}
                return times;
            }})()",
            json!(some)
        ));
        times.extend(told.as_array().unwrap().iter().filter_map(Value::as_f64));
    }
    times
}

/// The median, and what 99 in 100 stay below.
fn middle_and_most(times: impl Iterator<Item = f64>) -> (f64, f64) {
    let mut times: Vec<f64> = times.collect();
    times.sort_by(f64::total_cmp);
    (times[times.len() / 2], times[times.len() * 99 / 100])
}

fn print(times: &Times, who: &str, cards: usize, budget: Option<&Budget>) {
    let what = |of: &str| format!("{who}{cards} cards, {of}");
    let (start, worker) = (times.starts[STARTS / 2], SLOWED * times.worker);
    told(
        &what("first result"),
        "ms",
        start + worker,
        budget.map(|most| most.start),
    );
    println!(
        "    files opened and asked {start:.0}, of {STARTS} {:.0} to {:.0}; a worker's making {worker:.0}",
        times.starts[0],
        times.starts[STARTS - 1]
    );
    let (median, most) = middle_and_most(times.rounds.iter().flatten().copied());
    told(
        &what("query, median"),
        "ms",
        median,
        budget.map(|most| most.median),
    );
    told(
        &what("query, 99 in 100"),
        "ms",
        most,
        budget.map(|most| most.most),
    );
    let each = times.rounds.iter().map(|round| {
        let (median, most) = middle_and_most(round.iter().copied());
        format!("{median:.2} {most:.2}")
    });
    println!("    of each round: {}", each.collect::<Vec<_>>().join(", "));
}
