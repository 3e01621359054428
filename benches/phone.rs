//! The engine in a phone: bytes over the wire, and how long a slow phone waits: for the engine to start, for the
//! first diagnosis of each card of the demo, for one more reading. Chromium with its processor slowed four times;
//! the engine runs on the page's own thread, since a worker is not slowed. Start should take less than 150 ms.
#![allow(missing_docs, clippy::unwrap_used, clippy::print_stdout, dead_code)]

#[path = "../tests/it/browser/chrome.rs"]
mod chrome;

use chrome::Chrome;
use loomleaf::preview::{Port, Server};
use loomleaf::publish::pipeline::build;
use loomleaf::publish::{Files, SiteOptions};
use serde_json::{Value, json};
use std::path::Path;

/// Starts measured; the median counts.
const STARTS: usize = 9;

fn main() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo");
    let site = build(&folder, &SiteOptions::default()).unwrap().files;
    sizes(&site);
    let server = Server::start(Port::Free).unwrap();
    server.show(site.clone());
    let mut chrome = Chrome::start();
    starts(&mut chrome, &server.address(), &site);
    cards(&mut chrome, &site);
}

/// The one file whose name starts and ends so.
fn file<'a>(site: &'a Files, start: &str, ending: &str) -> &'a str {
    let mut named = site
        .keys()
        .filter(|name| name.starts_with(start) && name.ends_with(ending));
    named.next().unwrap()
}

fn packed(bytes: &[u8]) -> usize {
    let settings = brotli::enc::BrotliEncoderParams {
        quality: 11,
        ..Default::default()
    };
    let mut packed = Vec::new();
    brotli::BrotliCompress(&mut &bytes[..], &mut packed, &settings).unwrap();
    packed.len()
}

fn sizes(site: &Files) {
    for (start, ending) in [
        ("assets/engine/", ".wasm"),
        ("assets/parts/engine-", ".mjs"),
        ("assets/parts/engine-worker", ".mjs"),
    ] {
        let name = file(site, start, ending);
        println!(
            "{name}: {} bytes, brotli {}",
            site[name].len(),
            packed(&site[name])
        );
    }
    let circuits = site
        .iter()
        .filter(|(name, _)| name.starts_with("assets/circuits/"));
    let mut sizes: Vec<usize> = circuits.map(|(_, bytes)| packed(bytes)).collect();
    sizes.sort_unstable();
    let (least, most) = (sizes[0], sizes[sizes.len() - 1]);
    println!(
        "circuits of {} cards, brotli: {least} to {most}",
        sizes.len()
    );
}

/// Loading, compiling, the first instance and a first answer, nothing cached.
fn starts(chrome: &mut Chrome, home: &str, site: &Files) {
    chrome.call("Network.setCacheDisabled", json!({"cacheDisabled": true}));
    let (worker, wasm) = (
        file(site, "assets/parts/engine-worker", ".mjs"),
        file(site, "assets/engine/", ".wasm"),
    );
    let start = format!(
        "(async () => {{
            const from = performance.now();
            window.engine = await import('/{worker}');
            engine.use(await WebAssembly.compileStreaming(fetch('/{wasm}')));
            await engine.answer(['reckon', 'divider', '0']);
            return performance.now() - from;
        }})()"
    );
    for rate in [1, 4] {
        let mut took: Vec<f64> = Vec::new();
        for _ in 0..STARTS {
            chrome.call("Emulation.setCPUThrottlingRate", json!({"rate": 1}));
            chrome.open(home);
            chrome.call("Emulation.setCPUThrottlingRate", json!({"rate": rate}));
            took.push(chrome.eval(&start).as_f64().unwrap());
        }
        took.sort_by(f64::total_cmp);
        println!(
            "start, {rate} times slower: {:.0} ms ({:.0} to {:.0})",
            took[STARTS / 2],
            took[0],
            took[STARTS - 1]
        );
    }
}

/// The first diagnosis of a card, in which its circuit is worked out, and one more reading.
fn cards(chrome: &mut Chrome, site: &Files) {
    let mut all: Vec<(f64, f64, &str)> = Vec::new();
    for name in site
        .keys()
        .filter(|name| name.starts_with("assets/circuits/"))
    {
        let told = chrome.eval(&format!(
            "(async () => {{
                const circuit = await (await fetch('/{name}')).text();
                const ask = async (...pairs) => {{
                    const from = performance.now();
                    await engine.answer(['diagnose', circuit, String(pairs.length / 2), ...pairs]);
                    return performance.now() - from;
                }};
                return [await ask('supply', '5 V'), await ask('supply', '5.02 V')];
            }})()"
        ));
        let Value::Array(took) = told else {
            panic!("{told}")
        };
        all.push((took[0].as_f64().unwrap(), took[1].as_f64().unwrap(), name));
    }
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    println!("4 times slower, first diagnosis and one more reading, ms:");
    for (first, more, name) in all {
        println!(
            "  {first:6.0} {more:5.0}  {}",
            name.trim_start_matches("assets/circuits/")
        );
    }
}
