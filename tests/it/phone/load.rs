//! What a page loads of the engine, and when: nothing before it is asked, each file once, and it goes
//! on without a network; what fails is told to who asked, and the page stays whole.

use super::{serve, shipped};
use crate::browser::chrome::Chrome;
use serde_json::json;

const CARD: &str = "cards/winch-lever/index.html";

fn asked(chrome: &Chrome) -> Vec<String> {
    let sent = chrome.events("Network.requestWillBeSent");
    let address = |event: &&serde_json::Value| event["request"]["url"].as_str().map(str::to_owned);
    sent.iter().filter_map(address).collect()
}

fn of_the_engine(chrome: &Chrome) -> Vec<String> {
    let mut names: Vec<String> = asked(chrome)
        .iter()
        .filter_map(|address| address.split("/assets/").nth(1))
        .filter(|name| {
            ["parts/engine", "engine/", "circuits/"]
                .iter()
                .any(|start| name.starts_with(start))
        })
        .map(|name| name.split('-').next().unwrap().to_owned())
        .collect();
    names.sort();
    names
}

fn ask(readings: &str) -> String {
    let engine = shipped("parts/engine", "mjs");
    format!(
        "import('/{engine}').then(({{ask}}) => ask('diagnose', {{
            circuit: document.querySelector('[data-circuit]').dataset.circuit,
            readings: {readings},
        }})).then((told) => told.diagnosis.verdict, (error) => `failed: ${{error.message}}`)"
    )
}

#[test]
fn nothing_is_loaded_before_it_is_asked_and_each_file_once() {
    let server = serve();
    let mut chrome = Chrome::start();
    chrome.open(&format!("{}{CARD}", server.address()));
    assert_eq!(of_the_engine(&chrome), Vec::<String>::new());
    let told = chrome.eval(&ask("[['supply', '5.02 V']]"));
    assert!(told.as_str().unwrap().contains("good circuit"), "{told}");
    let loaded = [
        "circuits/winch",
        "engine/bench",
        "parts/engine",
        "parts/engine",
    ];
    assert_eq!(of_the_engine(&chrome), loaded);
    let offline =
        json!({"offline": true, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1});
    chrome.call("Network.emulateNetworkConditions", offline);
    let told = chrome.eval(&ask("[['supply', '0.02 V']]"));
    assert!(!told.as_str().unwrap().contains("failed"), "{told}");
    assert_eq!(of_the_engine(&chrome), loaded);
    chrome.check_quiet();
}

#[test]
fn a_reading_that_cannot_be_taken_is_told_beside_the_others() {
    let server = serve();
    let mut chrome = Chrome::start();
    chrome.open(&format!("{}{CARD}", server.address()));
    let readings = "[['supply', 'five'], ['suply', '5 V']]";
    let told =
        chrome.eval(&ask(readings).replace("told.diagnosis.verdict", "JSON.stringify(told.wrong)"));
    let told = told.as_str().unwrap();
    assert!(
        told.contains("\"at\":0") && told.contains("can't be taken here"),
        "{told}"
    );
    assert!(
        told.contains("\"at\":1") && told.contains("\"near\":\"supply\""),
        "{told}"
    );
    chrome.check_quiet();
}

#[test]
fn an_engine_that_can_not_be_loaded_is_told_and_tried_again() {
    let server = serve();
    let mut chrome = Chrome::start();
    chrome.open(&format!("{}{CARD}", server.address()));
    let blocked = json!({"urls": ["*.wasm"]});
    chrome.call("Network.setBlockedURLs", blocked);
    let told = chrome.eval(&ask("[['supply', '5.02 V']]"));
    assert!(told.as_str().unwrap().starts_with("failed: "), "{told}");
    chrome.call("Network.setBlockedURLs", json!({"urls": []}));
    let told = chrome.eval(&ask("[['supply', '5.02 V']]"));
    assert!(told.as_str().unwrap().contains("good circuit"), "{told}");
}

/// A module with the engine's exports, of which `ask` does nothing but stop: written by hand after the
/// WebAssembly core specification, binary format.
const STOPS: &str = "new Uint8Array([0,97,115,109,1,0,0,0, 1,10,2,96,1,127,1,127,96,0,1,127, 3,4,3,0,1,1, 5,3,1,0,1,
    7,32,4,6,109,101,109,111,114,121,2,0,4,114,111,111,109,0,0,3,97,115,107,0,1,6,97,110,115,119,101,114,0,2,
    10,15,3,4,0,65,0,11,3,0,0,11,4,0,65,0,11])";

#[test]
fn an_instance_that_stops_is_thrown_away() {
    let mut phone = super::Phone::start();
    let told = phone.chrome.eval(&format!(
        "(async () => {{
            const good = await WebAssembly.compileStreaming(fetch('/{}'));
            engine.use(await WebAssembly.compile({STOPS}));
            const stopped = await engine.answer(['x']).then(() => 'no', (error) => error.constructor.name);
            engine.use(good);
            return stopped + ' ' + await engine.answer(['x']);
        }})()",
        shipped("engine/bench", "wasm")
    ));
    let refused = "RuntimeError {\"refused\":\"nothing is asked by the name `x`\"}";
    assert_eq!(told, refused);
}
