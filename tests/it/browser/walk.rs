//! One walk through all pages: what happened while each loaded, and what was measured on it.

use super::chrome::Chrome;
use super::{pages, serve};
use serde_json::Value;
use std::collections::BTreeMap;
use std::sync::OnceLock;

pub(crate) const MEASURE: &str = include_str!("measure.js");

/// What was seen of one page.
#[derive(Debug, Default)]
pub(super) struct Seen {
    /// Messages on the console, uncaught errors, blocked loads.
    pub(super) console: Vec<String>,
    /// Requests that went elsewhere or failed.
    pub(super) strayed: Vec<String>,
    /// The policies it came with: header, then in the page.
    pub(super) policies: [String; 2],
    /// What a policy without exceptions would block.
    pub(super) inline: Vec<String>,
    /// What is wider than a screen of 320 and of 360 pixels.
    pub(super) too_wide: Vec<String>,
    /// What is hard to tap.
    pub(super) too_small: Vec<String>,
    /// Texts that lie on each other there and on a desk's screen.
    pub(super) over: Vec<String>,
    /// What is hard to read by day and by night.
    pub(super) too_faint: Vec<String>,
    /// What can be read on 360 x 740 before any scrolling.
    pub(super) first_view: Value,
}

/// Every page of the demo, walked once for all tests.
pub(super) fn walk() -> &'static BTreeMap<&'static str, Seen> {
    static SEEN: OnceLock<BTreeMap<&'static str, Seen>> = OnceLock::new();
    SEEN.get_or_init(|| {
        let server = serve();
        let mut chrome = Chrome::start();
        let look = |page| (page, see(&mut chrome, &server.address(), page));
        pages().map(look).collect()
    })
}

/// Opens a page and measures it.
pub(super) fn see(chrome: &mut Chrome, home: &str, page: &str) -> Seen {
    chrome.scheme("light");
    chrome.screen(360, 740);
    chrome.open(&format!("{home}{page}"));
    chrome.eval(MEASURE);
    let mut seen = Seen {
        console: console(chrome),
        strayed: strayed(chrome, home),
        policies: [
            header(chrome, "content-security-policy"),
            chrome
                .eval("measure.policy()")
                .as_str()
                .unwrap()
                .to_string(),
        ],
        inline: texts(chrome.eval("measure.inline()")),
        first_view: chrome.eval("measure.firstView()"),
        ..Seen::default()
    };
    for width in [360, 320] {
        chrome.screen(width, 740);
        seen.too_wide
            .extend(texts(chrome.eval(&format!("measure.tooWide({width})"))));
        seen.too_small
            .extend(texts(chrome.eval("measure.tooSmall()")));
        seen.over.extend(texts(chrome.eval("measure.over()")));
    }
    chrome.window(1280, 800);
    seen.over.extend(texts(chrome.eval("measure.over()")));
    chrome.screen(360, 740);
    for scheme in ["light", "dark"] {
        chrome.scheme(scheme);
        let faint = texts(chrome.eval("measure.tooFaint()"));
        seen.too_faint
            .extend(faint.into_iter().map(|text| format!("{scheme}, {text}")));
    }
    seen
}

fn console(chrome: &Chrome) -> Vec<String> {
    let each = chrome.complaints().into_iter();
    each.map(|event| match event["entry"]["text"].as_str() {
        Some(text) => format!("{text} {}", event["entry"]["url"]),
        None => event.to_string(),
    })
    .collect()
}

fn strayed(chrome: &Chrome, home: &str) -> Vec<String> {
    let address = |event: &Value| event["request"]["url"].as_str().unwrap().to_string();
    let sent = chrome.events("Network.requestWillBeSent");
    assert!(!sent.is_empty(), "no request was seen");
    let elsewhere = sent
        .into_iter()
        .map(address)
        .filter(|to| !to.starts_with(home));
    let failed = chrome
        .events("Network.responseReceived")
        .into_iter()
        .map(|event| &event["response"])
        .filter(|response| response["status"] != 200 && response["status"] != 304)
        .map(|response| format!("{} {}", response["status"], response["url"]));
    let lost = chrome
        .events("Network.loadingFailed")
        .into_iter()
        .map(Value::to_string);
    elsewhere.chain(failed).chain(lost).collect()
}

/// A header of the page's own answer.
fn header(chrome: &Chrome, name: &str) -> String {
    let answers = chrome.events("Network.responseReceived");
    let page = answers
        .iter()
        .find(|event| event["type"] == "Document")
        .unwrap();
    let headers = page["response"]["headers"].as_object().unwrap();
    let named = headers
        .iter()
        .find(|(key, _)| key.eq_ignore_ascii_case(name));
    named.map_or(String::new(), |(_, value)| {
        value.as_str().unwrap().to_string()
    })
}

fn texts(list: Value) -> Vec<String> {
    serde_json::from_value(list).unwrap()
}
