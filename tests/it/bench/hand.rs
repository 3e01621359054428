//! A hand at a phone: opens, taps, types and reads what is shown; a finger that does not reach fails the test.

use crate::browser::chrome::{Chrome, decoded};
use crate::browser::{published, serve};
use loomleaf::preview::{Port, Server};
use serde_json::json;
use std::path::Path;

const HAND: &str = include_str!("hand.js");
/// Looks at the screen, each after a frame: some minutes of a busy machine.
const PATIENCE: usize = 6000;

/// A phone with the demo open.
pub(super) struct Hand {
    pub(super) chrome: Chrome,
    pub(super) server: Server,
    /// Where the site was opened first.
    home: String,
    /// Name of the pictures that are kept for people, and how many there are.
    pictures: (&'static str, usize),
}

impl Hand {
    /// A new phone.
    pub(super) fn new(pictures: &'static str) -> Self {
        Self::with(Chrome::start(), serve(), pictures)
    }

    /// A new phone at the site as it is published.
    pub(super) fn published(pictures: &'static str) -> Self {
        let server = Server::start(Port::Free).unwrap();
        server.show(published().clone());
        Self::with(Chrome::start(), server, pictures)
    }

    /// A new phone that took the published site along at one visit, and has no network from then on.
    pub(super) fn away(pictures: &'static str) -> Self {
        let mut hand = Self::published(pictures);
        hand.open("index.html");
        hand.sees("[data-when=whole]|The whole site is on this phone");
        // The old server ends as this one, which nobody calls, takes its place.
        hand.server = Server::start(Port::Free).unwrap();
        hand
    }

    pub(super) fn with(chrome: Chrome, server: Server, pictures: &'static str) -> Self {
        let mut hand = Self {
            home: server.address(),
            chrome,
            server,
            pictures: (pictures, 0),
        };
        hand.chrome.screen(360, 740);
        let touch = json!({"enabled": true, "maxTouchPoints": 1});
        hand.chrome
            .call("Emulation.setTouchEmulationEnabled", touch);
        let script = json!({"source": HAND});
        hand.chrome
            .call("Page.addScriptToEvaluateOnNewDocument", script);
        hand
    }

    pub(super) fn open(&mut self, path: &str) {
        let address = format!("{}{path}", self.home);
        self.chrome.open(&address);
    }

    /// Waits until something is shown: `a|Bench mode` has those words.
    pub(super) fn sees(&mut self, what: &str) {
        let look = format!(
            "new Promise(told => requestAnimationFrame(() => told(hand.shown({}))))",
            json!(what)
        );
        let asked = json!({"expression": look, "awaitPromise": true, "returnByValue": true});
        for _ in 0..PATIENCE {
            // While one page goes and the next comes nothing answers.
            let answer = self.chrome.ask("Runtime.evaluate", asked.clone());
            if answer.is_ok_and(|answer| answer["result"]["value"] == true) {
                return;
            }
        }
        let text = self.chrome.eval("document.body.innerText");
        panic!("{what} is not shown: {text}");
    }

    /// Taps in the middle of something, which must be large enough and not covered.
    pub(super) fn tap(&mut self, what: &str) {
        self.sees(what);
        let at = self.chrome.eval(&format!("hand.aim({})", json!(what)));
        assert_eq!(at["reached"], true, "{what} is covered: {at}");
        let size = |key: &str| at[key].as_f64().unwrap();
        assert!(
            size("width") >= 43.5 && size("height") >= 43.5,
            "{what} is small: {at}"
        );
        for (kind, points) in [
            ("touchStart", json!([{"x": at["x"], "y": at["y"]}])),
            ("touchEnd", json!([])),
        ] {
            let touch = json!({"type": kind, "touchPoints": points});
            self.chrome.call("Input.dispatchTouchEvent", touch);
        }
    }

    /// Types a reading at a place of the test that is shown, as `5.01 V` or `no change`, and waits for its meaning.
    pub(super) fn read(&mut self, place: &str, text: &str) {
        self.choose(place);
        match text.split_once(' ') {
            Some((digits, unit)) if digits.parse::<f64>().is_ok() => {
                for digit in digits.chars() {
                    let key = if digit == '-' {
                        "minus".to_owned()
                    } else {
                        digit.to_string()
                    };
                    self.tap(&format!("[data-key=\"{key}\"]"));
                }
                self.tap(&format!("[data-unit=\"{unit}\"]"));
                self.picture();
                self.tap("button.enter");
            }
            _ => self.tap(&format!("[data-say=\"{text}\"]")),
        }
        self.sees("[data-told] [data-read]|");
        self.picture();
    }

    /// Chooses the point or scan value where a test has more than one.
    pub(super) fn choose(&mut self, place: &str) {
        self.sees("[data-entry]");
        let radio = format!("label:has([value=\"{place}\"])");
        let asked = format!("Boolean(hand.find({}))", json!(radio));
        if self.chrome.eval(&asked) == true {
            self.picture();
            self.tap(&radio);
        }
    }

    /// Types into the field that has the focus.
    pub(super) fn type_text(&mut self, text: &str) {
        let typed = json!({"text": text});
        self.chrome.call("Input.insertText", typed);
    }

    /// Types a point of one's own where a test asks for the part's temperature.
    pub(super) fn type_point(&mut self, test: &str, number: &str) {
        let field = format!("#own-{test}");
        self.tap(&field);
        self.type_text(number);
        // The large keys type into it until that is done.
        self.tap("button.enter");
        self.sees("[data-unit=\"V\"]");
    }

    /// Goes to a test by the list of all tests.
    pub(super) fn go_to(&mut self, test: &str) {
        self.tap("header a|All tests");
        self.tap(&format!("[data-overview=\"{test}\"] a"));
        self.sees(&format!("[data-test=\"{test}\"]"));
    }

    pub(super) fn text(&mut self, selector: &str) -> String {
        let asked = format!("document.querySelector({}).textContent", json!(selector));
        self.chrome.eval(&asked).as_str().unwrap().to_owned()
    }

    /// Loads the page anew, as after a phone was in a pocket.
    pub(super) fn reload(&mut self) {
        self.chrome.call("Page.reload", json!({}));
    }

    /// A picture of the screen for people, in `target/screens`.
    pub(super) fn picture(&mut self) {
        let (name, count) = &mut self.pictures;
        if name.is_empty() {
            return;
        }
        *count += 1;
        let file = format!("bench-{name}-{count:02}.png");
        let shot = json!({"format": "png"});
        let data = self.chrome.call("Page.captureScreenshot", shot);
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).with_file_name("screens");
        std::fs::create_dir_all(&folder).unwrap();
        std::fs::write(folder.join(file), decoded(data["data"].as_str().unwrap())).unwrap();
    }

    /// Whatever reached the console since the phone was opened must be nothing.
    pub(super) fn check_quiet(&self) {
        self.chrome.check_quiet();
    }
}
