//! A site on a phone: taken along whole, opened without a network, never a mix of two publications.
//!
//! The network is cut by ending the server, which the phone's worker feels as well as its pages.

mod app;
mod damaged;
mod taken;
mod twice;

use crate::browser::chrome::Chrome;
use loomleaf::card::{read, shipped};
use loomleaf::preview::{Port, Server};
use loomleaf::publish::{Files, SiteOptions, site};
use loomleaf::sheet::sheets;
use serde_json::json;
use std::collections::BTreeMap;

/// Where the site stands on its server.
const FOLDER: &str = "wiring/";

/// A server that can be switched off and on at one address.
struct Host {
    server: Option<Server>,
    port: u16,
}

impl Host {
    fn of(files: &Files) -> Self {
        let server = Server::start(Port::Free).unwrap();
        let address = server.address();
        let port = address.trim_end_matches('/').rsplit(':').next();
        let mut host = Self {
            port: port.unwrap().parse().unwrap(),
            server: Some(server),
        };
        host.show(files);
        host
    }

    /// The site in its folder.
    fn show(&mut self, files: &Files) {
        let in_folder =
            |(path, bytes): (&String, &Vec<u8>)| (format!("{FOLDER}{path}"), bytes.clone());
        if let Some(server) = &self.server {
            server.show(files.iter().map(in_folder).collect());
        }
    }

    fn cut(&mut self) {
        self.server = None;
    }

    fn back(&mut self, files: &Files) {
        self.server = Some(Server::start(Port::Only(self.port)).unwrap());
        self.show(files);
    }

    fn address(&self, path: &str) -> String {
        format!("http://127.0.0.1:{}/{FOLDER}{path}", self.port)
    }
}

/// A card of the smallest kind.
const CARD: &str = "title: Coolant temperature\nfamily: thermistor-2wire\ncodes: [P0117]\n\
     pins:\n  1: {role: signal}\n  2: {role: ground}\n";

/// A small deck's site, its name on every page.
fn small(name: &str) -> Files {
    deck_of(name, [("coolant".to_owned(), CARD.to_owned())])
}

/// The same site to a phone that takes nothing along of more than a kilobyte without being asked.
fn asks_first(mut files: Files) -> Files {
    let worker = String::from_utf8(files["sw.js"].clone()).unwrap();
    assert!(worker.contains("5_000_000"), "the bound is elsewhere");
    let worker = worker.replace("5_000_000", "1_000");
    files.insert("sw.js".to_owned(), worker.into_bytes());
    files
}

/// The site of these cards.
fn deck_of(name: &str, cards: impl IntoIterator<Item = (String, String)>) -> Files {
    let file = |(id, text): (String, String)| (format!("cards/{id}.yaml"), text.into_bytes());
    let mut files: BTreeMap<String, Vec<u8>> = cards.into_iter().map(file).collect();
    files.insert(
        "deck.yaml".to_owned(),
        format!("title: {name}\n").into_bytes(),
    );
    let (deck, findings) = read(&files, &shipped());
    assert!(findings.is_empty(), "{findings:?}");
    let deck = deck.unwrap();
    let (sheets, _) = sheets(&deck);
    let options = SiteOptions {
        offline: true,
        ..SiteOptions::default()
    };
    site(&deck, &sheets, &options).0
}

/// A phone: no cache of the browser's own between it and what is tested.
fn phone() -> Chrome {
    let mut chrome = Chrome::start();
    chrome.screen(360, 740);
    chrome
}

/// Waits until the foot of the page says this line; what stands there when it takes too long.
fn wait_for(chrome: &mut Chrome, line: &str) {
    let script = format!(
        "new Promise((done) => {{
           const place = document.querySelector('[data-part=\"offline\"]');
           const shown = () => [...place.querySelectorAll('[data-when]')].filter((one) => !one.hidden);
           const look = () => {{
             if (shown().some((one) => one.dataset.when === {0})) done('');
           }};
           new MutationObserver(look).observe(place, {{ subtree: true, attributes: true }});
           setTimeout(() => done(place.innerText + shown().length), 30000);
           look();
         }})",
        json!(line)
    );
    let said = chrome.eval(&script);
    assert_eq!(said, "", "waited for `{line}`");
}

fn text(chrome: &mut Chrome, selector: &str) -> String {
    let script = format!(
        "document.querySelector({})?.textContent ?? ''",
        json!(selector)
    );
    chrome.eval(&script).as_str().unwrap().trim().to_owned()
}

/// Asks until it is true, over pages that load again by themselves; false when it takes too long.
fn until(chrome: &mut Chrome, question: &str) -> bool {
    let script = format!(
        "new Promise((done) => {{
           const look = async () => ((await ({question})) ? done(true) : setTimeout(look, 50));
           setTimeout(() => done(false), 20000);
           look();
         }})"
    );
    let asked = json!({"expression": script, "awaitPromise": true, "returnByValue": true});
    // A page that goes takes the question with it.
    (0..100)
        .find_map(|_| chrome.ask("Runtime.evaluate", asked.clone()).ok())
        .is_some_and(|answer| answer["result"]["value"] == true)
}
