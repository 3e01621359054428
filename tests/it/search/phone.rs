//! The shipped search in Chromium against the program: the same text for the same words, on decks of every
//! size; and what becomes of files that arrive damaged.

use super::decks::{demo, made, queries};
use super::relevance::set;
use crate::browser::chrome::Chrome;
use crate::browser::demo as site;
use loomleaf::card::Deck;
use loomleaf::phone::Finder;
use loomleaf::preview::{Port, Server};
use loomleaf::publish::{Files, search_pack};
use serde_json::{Value, json};

/// Queries drawn for each deck.
const DRAWN: usize = 1_000;
/// Questions at once: the answers of all would be one message of many megabytes.
const AT_ONCE: usize = 250;

/// A phone with the worker's script in its page, and packs to open.
struct Phone {
    chrome: Chrome,
    server: Server,
    files: Files,
}

impl Phone {
    fn with(packs: &[(&str, &[u8])]) -> Self {
        let mut files = site().clone();
        for (name, bytes) in packs {
            files.insert(format!("assets/search/{name}.pack"), bytes.to_vec());
        }
        let worker = files
            .keys()
            .find(|name| name.starts_with("assets/parts/search-worker"));
        let worker = worker.unwrap().clone();
        let server = Server::start(Port::Free).unwrap();
        server.show(files.clone());
        let mut chrome = Chrome::start();
        chrome.open(&format!("{}about/index.html", server.address()));
        chrome.eval(&format!(
            "(async () => {{
                window.search = await import('/{worker}');
                window.all = async (pack, queries) => {{
                    const answers = [];
                    for (const one of queries) answers.push(await search.find(`/assets/search/${{pack}}.pack`, one));
                    return answers;
                }};
            }})()"
        ));
        Self {
            chrome,
            server,
            files,
        }
    }

    fn ask(&mut self, pack: &str, queries: &[String]) -> Vec<String> {
        let told = self
            .chrome
            .eval(&format!("all('{pack}', {})", json!(queries)));
        let Value::Array(answers) = told else {
            panic!("no answers: {told}");
        };
        let text = |answer: &Value| answer.as_str().unwrap().to_owned();
        answers.iter().map(text).collect()
    }
}

fn check_same(deck: &Deck, queries: &[String]) {
    let pack = search_pack(deck).unwrap();
    let mut phone = Phone::with(&[("own", &pack)]);
    let mut finder = Finder::default();
    assert!(finder.open(pack));
    let mut found = 0;
    for some in queries.chunks(AT_ONCE) {
        for (query, there) in some.iter().zip(phone.ask("own", some)) {
            let here = finder.answer(query);
            assert_eq!(here, there, "`{query}`");
            found += usize::from(here.contains("\"card\":"));
        }
    }
    assert!(
        found * 10 > queries.len() * 6,
        "{found} of {} found a card",
        queries.len()
    );
}

/// The relevance set's words and drawn ones.
fn all(deck: &Deck) -> Vec<String> {
    let set = set().into_iter().filter(|(of, ..)| *of == "made");
    let set = set.map(|(_, query, _)| query.to_owned());
    set.chain(queries(DRAWN, deck)).collect()
}

#[test]
fn phone_and_program_find_the_same_in_the_demo() {
    let set = set().into_iter().filter(|(of, ..)| *of == "demo");
    let queries: Vec<String> = set.map(|(_, query, _)| query.to_owned()).collect();
    check_same(&demo(), &queries);
}

#[test]
fn phone_and_program_find_the_same_among_100_cards() {
    let deck = made(100);
    check_same(&deck, &queries(DRAWN, &deck));
}

#[test]
fn phone_and_program_find_the_same_among_1000_cards() {
    let deck = made(1_000);
    check_same(&deck, &all(&deck));
}

#[test]
fn phone_and_program_find_the_same_among_10000_cards() {
    let deck = made(10_000);
    check_same(&deck, &all(&deck));
}

/// Lets the first answers for files with this ending arrive with one bit turned.
fn damage(ending: &str, times: usize) -> String {
    format!(
        "(() => {{
            const own = globalThis.fetch;
            let left = {times};
            window.fetched = [];
            globalThis.fetch = async (from, how) => {{
                const answer = await own(from, how);
                if (!String(from).endsWith('{ending}')) return answer;
                fetched.push(how.cache);
                const bytes = new Uint8Array(await answer.arrayBuffer());
                if (left-- > 0) bytes[bytes.length >> 1] ^= 4;
                return new Response(bytes);
            }};
        }})()"
    )
}

/// What comes damaged once is fetched once more, past every cache, and the answer is right.
fn check_fetched_again(damage: impl FnOnce(&mut Phone)) {
    let pack = search_pack(&demo()).unwrap();
    let mut phone = Phone::with(&[("own", &pack)]);
    damage(&mut phone);
    let answers = phone.ask("own", &["ramp angle".to_owned()]);
    assert!(
        answers[0].contains("\"card\":\"ramp-angle\""),
        "{answers:?}"
    );
    assert_eq!(phone.chrome.eval("fetched.join()"), "default,reload");
}

#[test]
fn a_damaged_pack_is_fetched_again() {
    check_fetched_again(|phone| {
        phone.chrome.eval(&damage(".pack", 1));
    });
}

#[test]
fn a_pack_that_stays_damaged_is_told_and_tried_with_the_next_words() {
    let pack = search_pack(&demo()).unwrap();
    let mut phone = Phone::with(&[("own", &pack)]);
    phone.chrome.eval(&damage(".pack", 2));
    let ask = "search.find('/assets/search/own.pack', 'ramp').then(() => 'found', (error) => error.message)";
    assert_eq!(phone.chrome.eval(ask), "the search index is damaged");
    assert_eq!(phone.chrome.eval(ask), "found");
}

/// Lets the engine arrive so many times with a bit turned that leaves it an engine, though another.
fn damage_engine(phone: &mut Phone, times: usize) {
    let mut names = phone.files.keys();
    let engine = names.find(|name| name.starts_with("assets/engine/search-"));
    let engine = engine.unwrap().clone();
    let place = phone.chrome.eval(&format!(
        "(async () => {{
            const bytes = new Uint8Array(await (await fetch('/{engine}')).arrayBuffer());
            for (let at = bytes.length >> 1; ; at += 1) {{
                bytes[at] ^= 16;
                if (WebAssembly.validate(bytes)) return at;
                bytes[at] ^= 16;
            }}
        }})()"
    ));
    let place = usize::try_from(place.as_u64().unwrap()).unwrap();
    let mut damaged = phone.files[&engine].clone();
    damaged[place] ^= 16;
    let name = "assets/engine/damaged.wasm".to_owned();
    phone.files.insert(name, damaged);
    phone.server.show(phone.files.clone());
    phone.chrome.eval(&format!(
        "(() => {{
            const own = globalThis.fetch;
            let left = {times};
            window.fetched = [];
            globalThis.fetch = (from, how) => {{
                if (!String(from).endsWith('.wasm')) return own(from, how);
                fetched.push(how.cache);
                return own(left-- > 0 ? '/assets/engine/damaged.wasm' : from, how);
            }};
        }})()"
    ));
}

/// The sum of an engine is that of Subresource Integrity (W3C), which the browser works out.
#[test]
fn a_damaged_engine_is_fetched_again() {
    check_fetched_again(|phone| damage_engine(phone, 1));
}

#[test]
fn an_engine_that_stays_damaged_is_told_and_tried_with_the_next_words() {
    let pack = search_pack(&demo()).unwrap();
    let mut phone = Phone::with(&[("own", &pack)]);
    damage_engine(&mut phone, 2);
    let ask = "search.find('/assets/search/own.pack', 'ramp').then(() => 'found', (error) => error.message)";
    assert_eq!(
        phone.chrome.eval(ask),
        "the search engine did not arrive whole"
    );
    assert_eq!(phone.chrome.eval(ask), "found");
    assert_eq!(
        phone.chrome.eval("fetched.join()"),
        "default,reload,default"
    );
}
