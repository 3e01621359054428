//! A browser over its own debugging socket: no driver, no run-time, no generated protocol.

use serde_json::{Value, json};
use std::io::{BufRead, BufReader};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, Mutex};
use std::time::Duration;
use tungstenite::protocol::WebSocketConfig;
use tungstenite::{Message, WebSocket};

/// A page that takes longer than this hangs: pages of the demo take some 50 ms.
const PATIENCE: Duration = Duration::from_secs(60);

/// Names a Chromium goes by; `CHROME_PATH` comes first.
const NAMES: [&str; 4] = ["chromium", "chromium-browser", "google-chrome", "chrome"];

/// A running browser with one tab. Dropping it ends it.
pub(crate) struct Chrome {
    child: Child,
    socket: WebSocket<TcpStream>,
    session: String,
    /// The tab that was opened last.
    target: String,
    last: u64,
    events: Vec<Value>,
    /// What it wrote since it started: the only trace of why it ended, should it end.
    said: Arc<Mutex<Vec<String>>>,
    _profile: Option<tempfile::TempDir>,
}

impl Drop for Chrome {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Chrome {
    /// Starts a browser with a profile of its own.
    pub(crate) fn start() -> Self {
        let profile = tempfile::tempdir().unwrap();
        let mut chrome = Self::with_profile(profile.path());
        chrome._profile = Some(profile);
        chrome
    }

    /// Starts a browser that goes on with what this folder keeps.
    pub(crate) fn with_profile(profile: &std::path::Path) -> Self {
        let mut child = spawn(profile);
        let mut said = BufReader::new(child.stderr.take().unwrap());
        let address = debugging_address(&mut said);
        let words = Arc::<Mutex<Vec<String>>>::default();
        let kept = Arc::clone(&words);
        // It goes on talking, and would stop when nobody reads.
        std::thread::spawn(move || {
            let lines = said.lines().map_while(Result::ok);
            lines.for_each(|line| kept.lock().unwrap().push(line));
        });
        let host = address
            .trim_start_matches("ws://")
            .split('/')
            .next()
            .unwrap();
        let stream = TcpStream::connect(host).unwrap();
        stream.set_read_timeout(Some(PATIENCE)).unwrap();
        let config = WebSocketConfig::default()
            .max_message_size(None)
            .max_frame_size(None);
        let (socket, _) =
            tungstenite::client::client_with_config(address.as_str(), stream, Some(config))
                .unwrap();
        let mut chrome = Self {
            child,
            socket,
            session: String::new(),
            target: String::new(),
            last: 0,
            events: Vec::new(),
            said: words,
            _profile: None,
        };
        chrome.new_tab();
        chrome
    }

    /// Opens a tab and turns to it; gives the one there was.
    pub(crate) fn new_tab(&mut self) -> String {
        let before = self.turn_to(String::new());
        let target = self.call("Target.createTarget", json!({"url": "about:blank"}));
        let attach = json!({"targetId": target["targetId"], "flatten": true});
        let attached = self.call("Target.attachToTarget", attach);
        self.session = attached["sessionId"].as_str().unwrap().to_string();
        self.target = target["targetId"].as_str().unwrap().to_string();
        for domain in ["Page", "Network", "Runtime", "Log"] {
            self.call(&format!("{domain}.enable"), json!({}));
        }
        before
    }

    /// Opens a tab in place of the one that was opened last, which is closed.
    pub(crate) fn fresh_tab(&mut self) {
        let old = self.target.clone();
        self.new_tab();
        self.call("Target.closeTarget", json!({"targetId": old}));
        self.events.clear();
    }

    /// Turns to a tab; gives the one there was.
    pub(crate) fn turn_to(&mut self, tab: String) -> String {
        std::mem::replace(&mut self.session, tab)
    }

    /// Asks the browser and waits for its answer.
    pub(crate) fn call(&mut self, method: &str, params: Value) -> Value {
        let answer = self.ask(method, params);
        answer.unwrap_or_else(|error| panic!("{method}: {error}"))
    }

    /// Asks the browser where it may refuse, as while a page goes and another comes.
    pub(crate) fn ask(&mut self, method: &str, params: Value) -> Result<Value, Value> {
        self.last += 1;
        let id = self.last;
        let mut message = json!({"id": id, "method": method, "params": params});
        if !self.session.is_empty() {
            message["sessionId"] = self.session.as_str().into();
        }
        self.socket
            .send(Message::text(message.to_string()))
            .unwrap();
        loop {
            let mut answer = self.read();
            if answer["id"] == id {
                return match answer["error"].is_null() {
                    true => Ok(answer["result"].take()),
                    false => Err(answer["error"].take()),
                };
            }
            self.events.push(answer);
        }
    }

    /// Opens a page and waits until it has loaded and been drawn. Events from before are forgotten.
    pub(crate) fn open(&mut self, address: &str) {
        self.events.clear();
        let answer = self.call("Page.navigate", json!({"url": address}));
        assert!(answer["errorText"].is_null(), "{address}: {answer}");
        while !self
            .events
            .iter()
            .any(|event| event["method"] == "Page.loadEventFired")
        {
            let event = self.read();
            self.events.push(event);
        }
        self.eval(
            "new Promise(drawn => requestAnimationFrame(() => requestAnimationFrame(drawn)))",
        );
    }

    /// The value of an expression in the page, promises awaited.
    pub(crate) fn eval(&mut self, expression: &str) -> Value {
        let params = json!({"expression": expression, "awaitPromise": true, "returnByValue": true});
        let mut answer = self.call("Runtime.evaluate", params);
        assert!(
            answer["exceptionDetails"].is_null(),
            "{expression}: {answer}"
        );
        answer["result"]["value"].take()
    }

    /// What happened since the page was opened, by the event's name.
    pub(crate) fn events(&self, method: &str) -> Vec<&Value> {
        let named = self.events.iter().filter(|event| event["method"] == method);
        named.map(|event| &event["params"]).collect()
    }

    /// What reached the console, and what nobody caught.
    pub(crate) fn complaints(&self) -> Vec<&Value> {
        [
            "Runtime.consoleAPICalled",
            "Runtime.exceptionThrown",
            "Log.entryAdded",
        ]
        .into_iter()
        .flat_map(|method| self.events(method))
        .collect()
    }

    /// Nothing may have reached the console.
    pub(crate) fn check_quiet(&self) {
        let said = self.complaints();
        assert!(said.is_empty(), "{said:?}");
    }

    /// Makes the screen of a phone (up to 600 pixels wide) or of a desk.
    pub(crate) fn screen(&mut self, width: u32, height: u32) {
        let params = json!({
            "width": width, "height": height, "deviceScaleFactor": 1, "mobile": width <= 600,
        });
        self.call("Emulation.setDeviceMetricsOverride", params);
    }

    /// Makes a window of this size that no finger taps at.
    pub(crate) fn window(&mut self, width: u32, height: u32) {
        let params =
            json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": false});
        self.call("Emulation.setDeviceMetricsOverride", params);
    }

    /// Chooses `light` or `dark`.
    pub(crate) fn scheme(&mut self, scheme: &str) {
        let feature = json!([{"name": "prefers-color-scheme", "value": scheme}]);
        self.call("Emulation.setEmulatedMedia", json!({"features": feature}));
    }

    fn read(&mut self) -> Value {
        loop {
            match self.socket.read() {
                Ok(Message::Text(text)) => return serde_json::from_str(&text).unwrap(),
                Ok(_) => {}
                Err(error) => panic!("{error}\n{}", self.last_words()),
            }
        }
    }

    /// How the browser ended, this being its end if it has not, and the last that it wrote.
    fn last_words(&mut self) -> String {
        let _ = self.child.kill();
        let ended = self.child.wait();
        let said = self.said.lock().unwrap();
        let last = said[said.len().saturating_sub(40)..].join("\n");
        format!("the browser does not answer ({ended:?}):\n{last}")
    }
}

fn spawn(profile: &std::path::Path) -> Child {
    let chosen = std::env::var("CHROME_PATH").ok();
    let names = chosen.as_deref().into_iter().chain(NAMES);
    for name in names {
        let started = Command::new(name)
            .args([
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-dev-shm-usage",
            ])
            .args([
                "--no-first-run",
                "--disable-background-networking",
                "--disable-sync",
            ])
            .args([
                "--disable-component-update",
                // With pages kept for the way back, Chromium 156 ends itself (SIGTRAP) about every other time that a
                // worker's installation fails on a busy machine; without them never in 15.
                "--disable-back-forward-cache",
                "--hide-scrollbars",
                // On a quick machine a test types so fast that addresses would no longer be kept.
                "--disable-ipc-flooding-protection",
                "--remote-debugging-port=0",
            ])
            .arg(format!("--user-data-dir={}", profile.display()))
            .arg("about:blank")
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::piped())
            .spawn();
        if let Ok(child) = started {
            return child;
        }
    }
    panic!("no Chromium was found: run tests/run, which installs it, or set CHROME_PATH");
}

fn debugging_address(said: &mut impl BufRead) -> String {
    let mut all = String::new();
    loop {
        let start = all.len();
        let read = said.read_line(&mut all).unwrap();
        assert!(read > 0, "the browser ended at once:\n{all}");
        if let Some(address) = all[start..].trim().strip_prefix("DevTools listening on ") {
            return address.to_string();
        }
    }
}

/// Bytes from base 64, as the browser sends files.
pub(crate) fn decoded(text: &str) -> Vec<u8> {
    let digit = |letter: u8| match letter {
        b'A'..=b'Z' => u32::from(letter - b'A'),
        b'a'..=b'z' => u32::from(letter - b'a') + 26,
        b'0'..=b'9' => u32::from(letter - b'0') + 52,
        b'+' => 62,
        _ => 63,
    };
    let letters: Vec<u8> = text.bytes().filter(|letter| *letter != b'=').collect();
    letters
        .chunks(4)
        .flat_map(|four| {
            let bits = four
                .iter()
                .fold(0, |bits, letter| bits << 6 | digit(*letter));
            let bits = bits << (6 * (4 - four.len()));
            bits.to_be_bytes()[1..four.len()].to_vec()
        })
        .collect()
}
