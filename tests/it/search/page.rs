//! The search field of the front page: typed into, moved through by keys, opened; what it shows and keeps.

use crate::browser::chrome::Chrome;
use crate::browser::serve;
use loomleaf::preview::Server;
use serde_json::{Value, json};

/// Types as a person does, and waits for the page to say something about it.
const HELP: &str = "globalThis.help = (() => {
    const field = () => document.getElementById('search');
    const list = () => document.getElementById('found');
    const said = () => document.querySelector('.said');
    const next = () => new Promise((rest) => setTimeout(rest, 5));
    const type = async (text) => {
        said().replaceChildren('waiting');
        field().focus();
        field().value = text;
        field().dispatchEvent(new Event('input', { bubbles: true }));
        for (let turn = 0; said().textContent === 'waiting' && turn < 4000; turn += 1) await next();
        return { hits: [...list().querySelectorAll('a')].map((one) => one.getAttribute('href')),
            kinds: [...list().querySelectorAll('.kind')].map((one) => one.textContent),
            said: said().textContent, open: field().getAttribute('aria-expanded') };
    };
    const key = (name) => field().dispatchEvent(new KeyboardEvent('keydown', { key: name, bubbles: true, cancelable: true }));
    const chosen = () => document.getElementById(field().getAttribute('aria-activedescendant'))?.getAttribute('href') ?? null;
    return { type, key, chosen };
})()";

fn front() -> (Server, Chrome) {
    let server = serve();
    let mut chrome = Chrome::start();
    let script = json!({"source": HELP});
    chrome.call("Page.addScriptToEvaluateOnNewDocument", script);
    chrome.screen(360, 740);
    chrome.open(&server.address());
    (server, chrome)
}

fn typed(chrome: &mut Chrome, text: &str) -> Value {
    chrome.eval(&format!("help.type({})", json!(text)))
}

#[test]
fn results_come_while_typing_and_keys_move_through_them() {
    let (_server, mut chrome) = front();
    let told = typed(&mut chrome, "egr pos");
    assert_eq!(told["hits"][0], "cards/egr-position/index.html", "{told}");
    assert_eq!(told["kinds"][0], "Circuits");
    assert_eq!(told["open"], "true");
    assert_eq!(chrome.eval("help.chosen()"), Value::Null);
    let moved = "help.key('ArrowDown'); help.chosen()";
    assert_eq!(chrome.eval(moved), "cards/egr-position/index.html");
    let moved = "help.key('ArrowUp'); help.key('ArrowUp'); help.chosen()";
    assert_eq!(
        chrome.eval(moved),
        told["hits"].as_array().unwrap().last().unwrap().clone()
    );
    assert_eq!(
        chrome.eval("help.key('Escape'); document.getElementById('search').value"),
        ""
    );
    assert_eq!(chrome.eval("document.getElementById('found').hidden"), true);
    chrome.check_quiet();
}

#[test]
fn enter_opens_the_first_card_and_the_words_are_kept_until_forgotten() {
    let (_server, mut chrome) = front();
    typed(&mut chrome, "ramp angle");
    let opened = "new Promise((done) => { addEventListener('click', (event) => {
        event.preventDefault();
        done(event.target.closest('a').getAttribute('href'));
    }, { once: true }); help.key('Enter'); })";
    assert_eq!(chrome.eval(opened), "cards/ramp-angle/index.html");
    typed(&mut chrome, "");
    let last = "[...document.querySelectorAll('[data-last] button')].map((one) => one.textContent).join('|')";
    assert_eq!(
        chrome.eval(
            "help.key('x'); document.getElementById('search').dispatchEvent(new Event('input')); 1"
        ),
        1
    );
    assert_eq!(chrome.eval(last), "ramp angle|Forget these");
    let forgotten = "document.querySelector('[data-last] button:last-child').click(); localStorage.getItem('loomleaf.searches')";
    assert_eq!(chrome.eval(forgotten), "[]");
    assert_eq!(
        chrome.eval("document.querySelector('[data-last]').hidden"),
        true
    );
}

/// Answers take a while, as on a slow phone; what is opened is noted and not gone to.
const SLOWLY: &str = "(() => {
    const Own = globalThis.Worker;
    globalThis.Worker = class extends Own {
        set onmessage(told) { super.onmessage = (event) => setTimeout(() => told(event), 150); }
    };
    addEventListener('click', (event) => {
        const link = event.target.closest('a');
        if (!link) return;
        event.preventDefault();
        globalThis.opened = link.getAttribute('href');
    }, true);
})()";

/// Until an expression is true in the page.
fn until(chrome: &mut Chrome, expression: &str) {
    let wait = format!(
        "new Promise((done) => {{
            const from = Date.now();
            const look = () => {{
                const is = Boolean({expression});
                if (is || Date.now() - from > 20000) done(is); else setTimeout(look, 5);
            }};
            look();
        }})"
    );
    assert_eq!(chrome.eval(&wait), true, "{expression}");
}

fn press(chrome: &mut Chrome, key: &str, number: u32, text: &str) {
    for kind in ["keyDown", "keyUp"] {
        let text = if kind == "keyDown" { text } else { "" };
        let event = json!({"type": kind, "key": key, "code": key, "windowsVirtualKeyCode": number, "text": text});
        chrome.call("Input.dispatchKeyEvent", event);
    }
}

/// That Enter answers the words that stand in the field is common practice, no source.
#[test]
fn enter_waits_for_the_list_of_the_words_that_stand_in_the_field() {
    let server = serve();
    let mut chrome = Chrome::start();
    let script = json!({ "source": SLOWLY });
    chrome.call("Page.addScriptToEvaluateOnNewDocument", script);
    chrome.screen(360, 740);
    chrome.open(&server.address());
    let insert = |chrome: &mut Chrome, text: &str| {
        chrome.call("Input.insertText", json!({"text": text}));
    };
    let list = "document.querySelectorAll('#found a').length > 0";
    chrome.eval("document.getElementById('search').focus()");
    insert(&mut chrome, "winch");
    until(&mut chrome, list);
    insert(&mut chrome, " rope");
    press(&mut chrome, "Enter", 13, "\r");
    until(&mut chrome, "globalThis.opened");
    assert_eq!(chrome.eval("opened"), "cards/winch-drum-turns/index.html");
    // Pasted over what was there.
    chrome.eval("opened = ''; document.getElementById('search').select()");
    insert(&mut chrome, "oil pressure");
    press(&mut chrome, "Enter", 13, "\r");
    until(&mut chrome, "globalThis.opened");
    assert_eq!(chrome.eval("opened"), "cards/oil-pressure/index.html");
    // Chosen in the list that is there: that is what is opened.
    chrome.eval("opened = ''");
    insert(&mut chrome, " sender");
    press(&mut chrome, "ArrowDown", 40, "");
    press(&mut chrome, "Enter", 13, "\r");
    assert_eq!(chrome.eval("opened"), "cards/oil-pressure/index.html");
    chrome.check_quiet();
}

#[test]
fn nothing_found_is_never_silent() {
    let (_server, mut chrome) = front();
    let known = "ramp coolant winch bilge throttle boost camshaft lever ".repeat(190);
    for query in ["🔧🔩", "/////", "\u{200d}", known.as_str()] {
        let told = typed(&mut chrome, query);
        assert!(
            told["said"].as_str().unwrap().len() > 20,
            "{query:.30}: {told}"
        );
        assert_eq!(told["hits"], json!([]));
    }
    let wide = "document.documentElement.scrollWidth <= innerWidth";
    assert_eq!(chrome.eval(wide), true);
    // What is offered in its place finds something.
    chrome.eval("document.querySelector('.said button').click()");
    until(
        &mut chrome,
        "document.querySelectorAll('#found a').length > 0",
    );
    chrome.check_quiet();
}

#[test]
fn a_keyboard_that_sends_the_form_opens_the_first_card_too() {
    let (_server, mut chrome) = front();
    typed(&mut chrome, "ramp angle");
    let opened = "new Promise((done) => { addEventListener('click', (event) => {
        event.preventDefault();
        done(event.target.closest('a').getAttribute('href'));
    }, { once: true }); document.querySelector('.search').requestSubmit(); })";
    assert_eq!(chrome.eval(opened), "cards/ramp-angle/index.html");
    chrome.check_quiet();
}

#[test]
fn nothing_found_says_why_and_offers_what_is_near() {
    let (_server, mut chrome) = front();
    let told = typed(&mut chrome, "xyzzy ramp");
    let said = told["said"].as_str().unwrap();
    assert!(
        said.starts_with("Nothing here has xyzzy. Without xyzzy: "),
        "{said}"
    );
    assert_eq!(told["open"], "false");
    let without =
        "document.querySelector('.said button').click(); document.getElementById('search').value";
    assert_eq!(chrome.eval(without), "ramp");
    let told = typed(&mut chrome, "rxxp");
    assert!(
        told["said"].as_str().unwrap().contains("Near to it: ramp"),
        "{told}"
    );
    let told = typed(&mut chrome, "P0128");
    let said = told["said"].as_str().unwrap();
    assert!(
        said.contains("thermostat") && !said.contains("Nothing here has"),
        "{said}"
    );
    chrome.check_quiet();
}

#[test]
fn what_is_cut_or_left_out_is_told() {
    let (_server, mut chrome) = front();
    let told = typed(&mut chrome, "sensor");
    let kind = told["kinds"][0].as_str().unwrap();
    assert!(
        kind.starts_with("10 of ") && kind.ends_with(" circuits, best first"),
        "{kind}"
    );
    let said = told["said"].as_str().unwrap();
    assert!(
        said.contains(" of ") && said.ends_with(" pages, best first"),
        "{said}"
    );
    let told = typed(&mut chrome, "bilge stuck");
    assert_eq!(told["hits"][0], "cards/bilge-level/index.html", "{told}");
    assert_eq!(told["kinds"][0], "Circuits, without stuck");
    let said = told["said"].as_str().unwrap();
    assert!(
        said.contains("Found without `stuck`: what fits best does not say it."),
        "{said}"
    );
    chrome.check_quiet();
}

/// That Enter first ends the word being composed is how such keyboards work (UI Events, W3C).
#[test]
fn enter_that_ends_a_composed_word_opens_nothing_and_forgetting_leads_back_to_the_field() {
    let (_server, mut chrome) = front();
    typed(&mut chrome, "ramp angle");
    let composed = "(() => { let opened = false;
        document.getElementById('found').addEventListener('click', (event) => { opened = true; event.preventDefault(); }, true);
        const key = (isComposing) => document.getElementById('search').dispatchEvent(new KeyboardEvent('keydown',
            { key: 'Enter', bubbles: true, cancelable: true, isComposing }));
        key(true); const during = opened; key(false); return `${during} ${opened}`; })()";
    assert_eq!(chrome.eval(composed), "false true");
    typed(&mut chrome, "P0999");
    let shown = chrome.eval("document.querySelector('.said p').innerText");
    assert!(shown.as_str().unwrap().starts_with("P0999: A "), "{shown}");
    chrome.eval("help.key('Escape')");
    let forget = "(() => { const own = document.querySelector('[data-last] button:last-child');
        own.focus(); own.click(); return document.activeElement.id; })()";
    assert_eq!(chrome.eval(forget), "search");
    chrome.check_quiet();
}

#[test]
fn queries_that_mean_harm_show_no_markup() {
    let (_server, mut chrome) = front();
    let long = "ramp ".repeat(2_000);
    for query in [
        "<img src=x onerror=alert(1)>",
        "<b>ramp</b>",
        "\"'`ramp",
        "חיישן ramp",
        "🔧🔩",
        "\u{202e}pmar",
        long.as_str(),
    ] {
        let told = typed(&mut chrome, query);
        assert_ne!(told["said"], "waiting", "{query:.30}");
        let strange =
            "document.querySelectorAll('.search img, .search script, .search b b').length";
        assert_eq!(chrome.eval(strange), 0, "{query:.30}");
    }
    chrome.check_quiet();
}

#[test]
fn engine_worker_and_pack_are_assets_named_by_content() {
    let files = crate::browser::demo();
    for start in [
        "assets/engine/search-",
        "assets/parts/search-worker-",
        "assets/parts/search-",
        "assets/search/deck-",
    ] {
        let own = files.keys().filter(|name| name.starts_with(start));
        assert!(own.count() >= 1, "{start}");
    }
    let front = String::from_utf8(files["index.html"].clone()).unwrap();
    let pack = front
        .split("data-pack=\"")
        .nth(1)
        .unwrap()
        .split('"')
        .next()
        .unwrap();
    assert!(files.contains_key(pack), "{pack}");
}

#[test]
fn every_other_page_leads_to_the_field() {
    let card = &crate::browser::demo()["cards/ramp-angle/index.html"];
    assert!(String::from_utf8_lossy(card).contains("href=\"../../index.html#search\""));
}
