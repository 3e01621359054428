//! The engine in a phone: the same questions to the program and to the shipped file in Chromium.
//!
//! In: circuits of the demo, and texts as people type them. Out: two answers that must be one text; what
//! a page loads and when; whether the shipped file is of these sources.

mod carried;
mod digits;
mod load;
mod stamp;

use crate::browser::chrome::Chrome;
use crate::browser::{demo, serve};
use loomleaf::preview::Server;
use serde_json::{Value, json};

/// A question as script writes it.
fn question(texts: &[&str]) -> String {
    let counted = texts.iter().map(|text| format!("{}:{text}", text.len()));
    counted.collect()
}

/// Path in the site of a file named after its content: `parts/engine` and `mjs`.
fn shipped(name: &str, ending: &str) -> &'static str {
    let start = format!("assets/{name}-");
    let own = |path: &&String| {
        let rest = path.strip_prefix(&start);
        let hash = rest.and_then(|rest| rest.strip_suffix(ending));
        hash.is_some_and(|hash| hash.len() == 11 && hash.ends_with('.') && !hash.contains('-'))
    };
    let found = demo().keys().find(own);
    found.unwrap_or_else(|| panic!("{name}.{ending} is not in the site"))
}

/// The text a phone is handed of a demo card.
fn circuit(card: &str) -> &'static str {
    let path = shipped(&format!("circuits/{card}"), "txt");
    std::str::from_utf8(&demo()[path]).unwrap()
}

/// A phone with the engine started in its page, beside which nothing else runs.
struct Phone {
    chrome: Chrome,
    _server: Server,
}

impl Phone {
    fn start() -> Self {
        let server = serve();
        let mut chrome = Chrome::start();
        chrome.open(&server.address());
        let [worker, wasm] = [
            shipped("parts/engine-worker", "mjs"),
            shipped("engine/bench", "wasm"),
        ];
        let start = format!(
            "(async () => {{
                window.engine = await import('/{worker}');
                engine.use(await WebAssembly.compileStreaming(fetch('/{wasm}')));
                window.all = async (questions) => {{
                    const answers = [];
                    for (const one of questions) answers.push(await engine.answer(one));
                    return answers;
                }};
            }})()"
        );
        chrome.eval(&start);
        Self {
            chrome,
            _server: server,
        }
    }

    /// Its answers to these questions, each a list of texts.
    fn ask(&mut self, questions: &[Vec<String>]) -> Vec<String> {
        let told = self.chrome.eval(&format!("all({})", json!(questions)));
        let Value::Array(answers) = told else {
            panic!("no answers: {told}");
        };
        let text = |answer: &Value| answer.as_str().unwrap().to_owned();
        answers.iter().map(text).collect()
    }
}
