//! Calculators while somebody types: whatever is typed, the page says what the program says, beside its field.

use super::chrome::Chrome;
use super::walk::MEASURE;
use super::{demo, serve};
use loomleaf::calc::{Answer, CALCULATORS, Calculator, Kind, Refusal, reckon};
use loomleaf::preview::{Port, Server};
use serde_json::{Value, json};

/// What people and their pockets type; the last is 10 kB.
fn texts() -> Vec<String> {
    let mut texts: Vec<String> = [
        "",
        "garbage",
        "-5",
        "1e99",
        "🦊⚡",
        "<b>1</b> V",
        "9 V; 1 ohm",
    ]
    .map(str::to_owned)
    .to_vec();
    texts.push("9".repeat(10_000));
    texts
}

/// Pauses between key and question would be most of the test; long waits stay as they are.
const HURRY: &str = "const own = setTimeout; \
    window.setTimeout = (call, pause, ...rest) => own(call, pause < 1000 ? 0 : pause, ...rest);";

const LIVE: &str = include_str!("live.js");

fn start() -> Chrome {
    let mut chrome = Chrome::start();
    let script = json!({"source": format!("{HURRY}\n{LIVE}")});
    chrome.call("Page.addScriptToEvaluateOnNewDocument", script);
    chrome.screen(360, 740);
    chrome
}

fn address(server: &Server, calculator: &Calculator) -> String {
    format!(
        "{}calculators/{}/index.html",
        server.address(),
        calculator.name
    )
}

/// The way the page's own link fills in the example.
fn filled(calculator: &Calculator) -> String {
    let path = format!("calculators/{}/index.html", calculator.name);
    let html = String::from_utf8(demo()[&path].clone()).unwrap();
    let link = html.split("href=\"index.html?").nth(1).unwrap();
    let query = link.split('"').next().unwrap();
    format!("?{}", query.replace("&amp;", "&"))
}

/// What the program says to the pairs that the page keeps in its address.
fn natively(calculator: &Calculator, state: &Value) -> Result<Answer, Vec<Refusal>> {
    let pairs: Vec<(String, String)> = serde_json::from_value(state["kept"].clone()).unwrap();
    let pairs: Vec<(&str, &str)> = pairs
        .iter()
        .map(|(key, text)| (key.as_str(), text.as_str()))
        .collect();
    reckon(calculator, &pairs)
}

fn check_says_the_same(calculator: &Calculator, state: &Value) {
    let name = calculator.name;
    match natively(calculator, state) {
        Ok(answer) => {
            let results: Vec<(String, String)> = answer
                .results
                .iter()
                .map(|one| (one.label.clone(), one.value.says()))
                .collect();
            assert_eq!(state["results"], json!(results), "{name}: {state}");
            assert_eq!(state["steps"], json!(answer.steps), "{name}: {state}");
            assert_eq!(state["notes"], json!(answer.notes), "{name}: {state}");
            assert_eq!(state["wrong"], json!({}), "{name}: {state}");
        }
        Err(refusals) => {
            assert!(state["results"].is_null(), "{name}: {state}");
            for refusal in refusals {
                let told = match refusal.key {
                    Some(key) => &state["wrong"][key],
                    None => &state["told"],
                };
                let told = told.as_str().unwrap_or_default();
                let whole = format!("{}; {}", refusal.says, refusal.hint);
                let whole = whole.split_whitespace().collect::<Vec<_>>().join(" ");
                assert!(told.contains(&whole), "{name}: {refusal:?}, {state}");
            }
        }
    }
}

#[test]
fn every_field_takes_whatever_is_typed_and_says_beside_it_what_is_wrong() {
    let server = serve();
    let mut chrome = start();
    let (mut typed, mut refused) = (0, 0);
    for calculator in CALCULATORS {
        chrome.open(&format!(
            "{}{}",
            address(&server, calculator),
            filled(calculator)
        ));
        chrome.eval("live.rest()");
        for input in calculator.inputs {
            if matches!(input.kind, Kind::Choice(_)) {
                continue;
            }
            for text in texts() {
                let ask = format!("live.type({}, {})", json!(input.key), json!(text));
                let state = chrome.eval(&ask);
                typed += 1;
                let beside = &state["wrong"][input.key];
                if text.len() > 2000 {
                    // Too long to be kept in the address.
                    assert!(
                        beside.is_string(),
                        "{} {}: {state}",
                        calculator.name,
                        input.key
                    );
                } else {
                    check_says_the_same(calculator, &state);
                }
                refused += usize::from(beside.is_string());
                if beside.is_string() {
                    assert_eq!(state["invalid"][input.key], true, "{state}");
                }
            }
        }
        let said = chrome.complaints();
        assert!(said.is_empty(), "{}: {said:?}", calculator.name);
    }
    assert!(typed > 1000 && refused > typed / 2, "{refused} of {typed}");
}

#[test]
fn an_address_fills_the_form_answers_and_is_kept() {
    let server = serve();
    let mut chrome = start();
    for calculator in CALCULATORS {
        let name = calculator.name;
        chrome.open(&format!(
            "{}{}",
            address(&server, calculator),
            filled(calculator)
        ));
        let state = chrome.eval("live.rest()");
        let answer = reckon(calculator, calculator.example).unwrap();
        let first = &answer.results[0];
        assert_eq!(
            state["results"][0],
            json!([first.label, first.value.says()]),
            "{name}"
        );
        check_says_the_same(calculator, &state);
        let kept = chrome.eval("location.search");
        chrome.open(&format!(
            "{}{}",
            address(&server, calculator),
            kept.as_str().unwrap()
        ));
        assert_eq!(chrome.eval("live.rest()"), state, "{name}: {kept}");
        chrome.eval(MEASURE);
        for measure in ["tooWide(360)", "tooSmall()", "tooFaint()"] {
            let found = chrome.eval(&format!("measure.{measure}"));
            assert_eq!(found, json!([]), "{name}, {measure}");
        }
        let said = chrome.complaints();
        assert!(said.is_empty(), "{name}: {said:?}");
    }
}

#[test]
fn a_word_that_no_list_has_is_refused_not_swapped() {
    let server = serve();
    let mut chrome = start();
    let page = format!("{}calculators/voltage-drop/index.html", server.address());
    chrome.open(&format!(
        "{page}?current=10&length=5&size=2.5%20mm2&return=wire&metal=gold"
    ));
    let state = chrome.eval("live.rest()");
    let told = state["wrong"]["metal"].as_str().unwrap();
    assert!(told.contains("found `gold`"), "{state}");
    assert!(state["results"].is_null(), "{state}");
}

#[test]
fn without_the_engine_the_page_stays_whole_and_says_so() {
    let server = Server::start(Port::Free).unwrap();
    let mut site = demo().clone();
    site.retain(|name, _| !name.contains("engine/"));
    server.show(site);
    let mut chrome = start();
    let page = format!("{}calculators/divider/index.html", server.address());
    chrome.open(&format!("{page}?supply=45%20V&resistors=5k"));
    let state = chrome.eval("live.rest()");
    let told = state["told"].as_str().unwrap();
    assert!(told.contains("could not be loaded"), "{state}");
    assert!(state["results"].is_null());
    let example = chrome.eval("document.querySelector('.example .results').innerText");
    assert!(example.as_str().unwrap().contains("2 mA"), "{example}");
}
