//! What a card weighs and when it can be read: bytes on the wire, nothing that jumps, slow 4G beside an empty page.

#![allow(clippy::print_stdout, reason = "budgets, for whoever spends them")]

use super::chrome::Chrome;
use super::{ADDRESS, card_pages, published};
use loomleaf::preview::{Port, Server};
use loomleaf::publish::{Files, SiteOptions, site};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::io::{BufRead, BufReader, Write};
use std::net::TcpListener;

/// What ten packets of 1460 bytes carry: the first window of a connection (RFC 6928).
const FIRST_ROUND_TRIP: usize = 14_600;
/// All script and style of a card page, engines not counted.
const SCRIPT_AND_STYLE: usize = 45_000;

/// As publishing packs a text.
fn packed(mut bytes: &[u8]) -> Vec<u8> {
    let mut out = Vec::new();
    let parameters = brotli::enc::BrotliEncoderParams {
        quality: 9,
        ..Default::default()
    };
    brotli::BrotliCompress(&mut bytes, &mut out, &parameters).unwrap();
    out
}

fn weight(site: &Files, path: &str) -> usize {
    packed(&site[path]).len()
}

fn text<'a>(site: &'a Files, path: &str) -> &'a str {
    std::str::from_utf8(&site[path]).unwrap()
}

/// Files of this ending that a text names.
fn named<'a>(site: &'a Files, text: &str, ending: &str) -> BTreeSet<&'a str> {
    let names = site.keys().filter(|path| path.ends_with(ending));
    let called = |path: &&String| text.contains(path.rsplit('/').next().unwrap());
    names.filter(called).map(String::as_str).collect()
}

/// What a page's head makes the browser wait for: the style that is not for paper, scripts that are no modules.
fn waited_for(site: &Files, page: &str) -> usize {
    let head = text(site, page).split("</head>").next().unwrap();
    // A style for paper is fetched after what is read on the screen.
    let read: String = head
        .lines()
        .filter(|line| !line.contains("media=\"print\""))
        .collect();
    let mut needed = named(site, &read, ".css");
    assert!(!needed.is_empty(), "{page} has no style");
    // A script without `type="module"` is waited for.
    let waited: String = head
        .lines()
        .filter(|line| line.starts_with("<script src"))
        .collect();
    needed.extend(named(site, &waited, ".mjs"));
    needed.into_iter().map(|path| weight(site, path)).sum()
}

/// The demo, and a deck of long words: every family, and a card that fills its page.
#[test]
fn a_card_and_its_style_arrive_in_the_first_round_trip() {
    let deck = crate::families::long();
    let (sheets, _) = loomleaf::sheet::sheets(&deck);
    let options = SiteOptions {
        address: Some(ADDRESS.to_owned()),
        offline: true,
    };
    let long = site(&deck, &sheets, &options).0;
    for site in [published(), &long] {
        let cards = site
            .keys()
            .filter(|path| path.starts_with("cards/") && path.ends_with("/index.html"))
            .filter(|path| path.matches('/').count() == 2);
        let all = cards.map(|page| (weight(site, page) + waited_for(site, page), page));
        let heaviest = all.max().unwrap();
        println!(
            "first round trip: at most {} bytes, {}",
            heaviest.0, heaviest.1
        );
        assert!(heaviest.0 <= FIRST_ROUND_TRIP, "{heaviest:?}");
    }
}

#[test]
fn script_and_style_of_a_card_stay_small() {
    let site = published();
    let mut heaviest = (0, "");
    for page in card_pages() {
        let html = text(site, page);
        let mut files = named(site, html, ".css");
        let mut left: Vec<&str> = named(site, html, ".mjs").into_iter().collect();
        while let Some(script) = left.pop() {
            if files.insert(script) {
                left.extend(named(site, text(site, script), ".mjs"));
            }
        }
        assert!(files.iter().any(|path| path.ends_with(".mjs")), "{page}");
        let all: usize = files.into_iter().map(|path| weight(site, path)).sum();
        heaviest = heaviest.max((all, page));
    }
    println!(
        "script and style: at most {} bytes, {}",
        heaviest.0, heaviest.1
    );
    assert!(heaviest.0 <= SCRIPT_AND_STYLE, "{heaviest:?}");
}

/// Kept from before the page's first paint on: what jumped, and when the largest thing in view was there.
const WATCH: &str = "globalThis.seen = { jumped: [], readable: 0 };
    const place = ({ node, previousRect, currentRect }) => `${node?.nodeName} ${node?.className ?? ''} ${node?.textContent.trim().slice(0, 30)}: ${JSON.stringify(previousRect)} to ${JSON.stringify(currentRect)}`;
    new PerformanceObserver((list) => {
      for (const one of list.getEntries()) seen.jumped.push(`${one.value} at ${one.startTime}: ${one.sources.map(place).join('; ')}`);
    }).observe({ type: 'layout-shift', buffered: true });
    new PerformanceObserver((list) => { for (const one of list.getEntries()) seen.readable = one.startTime; })
      .observe({ type: 'largest-contentful-paint', buffered: true });";

/// When the page could be read, which a busy browser tells late; 0 where it has not told in a long time.
const READABLE: &str = "new Promise((told) => {
    const look = () => (seen.readable > 0 || performance.now() > 20000 ? told(seen.readable) : requestAnimationFrame(look));
    look();
  })";

/// Times a page may be opened until it stands still.
const TRIES: usize = 4;

/// A page of every other kind; bench mode also where an address names a test.
pub(super) const KINDS: [&str; 14] = [
    "index.html",
    "cards/ramp-angle/bench/index.html",
    "cards/ramp-angle/bench/index.html#test-supply",
    "cards/ramp-angle/bench/index.html#test-at-rest",
    "cards/ramp-angle/readings/index.html",
    "runs/index.html",
    "comfort/index.html",
    "calculators/voltage-drop/index.html",
    "codes/P0117/index.html",
    "families/position-pot/index.html",
    "lessons/meter-alone/index.html",
    "about/index.html",
    "labels/index.html",
    "offline/index.html",
];

/// What jumped while a page was opened. Every shift counts, also those that a browser takes for answers to a finger: no
/// finger is there, and where it makes believe one is it takes nearly all for such.
fn jumped(chrome: &mut Chrome, address: &str, ends: &str) -> Value {
    let mut jumped = json!(null);
    // A machine that has no time paints half a header first.
    for _ in 0..TRIES {
        chrome.open("about:blank");
        chrome.open(address);
        // Until the foot of the page has said whether the site is on the phone.
        chrome.eval(&format!("navigator.serviceWorker.ready.then(() => new Promise((drawn) => {{
            const look = () => ({ends}) ? requestAnimationFrame(() => requestAnimationFrame(drawn)) : requestAnimationFrame(look);
            look();
        }}))"));
        jumped = chrome.eval("seen.jumped");
        if jumped == json!([]) {
            break;
        }
    }
    jumped
}

/// A run with one reading, kept on this phone; its address without what follows `#`.
fn a_run(chrome: &mut Chrome, home: &str) -> String {
    chrome.open(&format!(
        "{home}cards/ramp-angle/bench/index.html#test-supply"
    ));
    chrome.eval("new Promise((told) => { const look = () => (document.querySelector('[data-told] [data-meaning]').textContent ? told() : setTimeout(look, 50));
        setTimeout(() => { document.querySelector('#reading').value = '0.02'; document.querySelector('.enter').click(); look(); }, 300); })");
    let address = chrome.eval("location.href.split('#')[0]");
    address.as_str().unwrap().to_owned()
}

#[test]
fn nothing_jumps_on_any_kind_of_page() {
    let server = Server::start(Port::Free).unwrap();
    server.show(published().clone());
    let mut chrome = Chrome::start();
    chrome.call(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({"source": WATCH}),
    );
    let mut wrong = Vec::new();
    let home = server.address();
    for (width, height) in [(360, 740), (1200, 800)] {
        chrome.window(width, height);
        for page in card_pages().chain(KINDS) {
            let said = jumped(&mut chrome, &format!("{home}{page}"), "true");
            if said != json!([]) {
                wrong.push(format!("{page} at {width}: {said}"));
            }
            let readable = chrome.eval(READABLE).as_f64().unwrap();
            assert!(readable > 0.0, "{page}: nothing was measured");
        }
        let run = a_run(&mut chrome, &home);
        for (screen, ends) in [
            (
                "test-supply",
                "document.querySelector('[data-told] [data-meaning]').textContent",
            ),
            ("verdict", "document.querySelector('.verdict.told')"),
        ] {
            let said = jumped(&mut chrome, &format!("{run}#{screen}"), ends);
            if said != json!([]) {
                wrong.push(format!("a run at {screen}, {width}: {said}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Serves packed files, as a web server does that has the copies beside them. Ends with the test's process.
fn serve_packed(site: Files) -> String {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let address = format!("http://{}/", listener.local_addr().unwrap());
    std::thread::spawn(move || {
        for stream in listener.incoming().flatten() {
            let site = site.clone();
            std::thread::spawn(move || {
                let mut reader = BufReader::new(stream.try_clone().unwrap());
                let mut writer = stream;
                let mut asked = String::new();
                while reader.read_line(&mut asked).is_ok_and(|read| read > 0) {
                    let path = asked
                        .split(' ')
                        .nth(1)
                        .unwrap_or("/")
                        .trim_start_matches('/')
                        .to_owned();
                    let mut line = String::new();
                    while reader.read_line(&mut line).is_ok_and(|read| read > 2) {
                        line.clear();
                    }
                    asked.clear();
                    let kind = match path.rsplit('.').next() {
                        Some("css") => "text/css",
                        Some("svg") => "image/svg+xml",
                        Some("mjs" | "js") => "text/javascript",
                        _ => "text/html; charset=utf-8",
                    };
                    let (status, body) = match site.get(&path) {
                        Some(body) => ("200 OK", body.as_slice()),
                        None => ("404 Not Found", &[][..]),
                    };
                    let coding = if status.starts_with("200") {
                        "Content-Encoding: br\r\n"
                    } else {
                        ""
                    };
                    let head = format!(
                        "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\n{coding}Content-Length: {}\r\n\r\n",
                        body.len()
                    );
                    if writer
                        .write_all(head.as_bytes())
                        .and_then(|()| writer.write_all(body))
                        .is_err()
                    {
                        return;
                    }
                }
            });
        }
    });
    address
}

/// How often each page is opened at most; the quickest counts, since whatever else the machine does only adds.
const TURNS: usize = 30;
/// How much later than an empty page of the same site a card may be there.
const LONGER: f64 = 1.15;

#[test]
fn a_card_on_slow_4g_can_be_read_nearly_as_soon_as_an_empty_page() {
    let card = card_pages()
        .max_by_key(|page| published()[*page].len())
        .unwrap();
    let mut site: Files = published()
        .iter()
        .map(|(path, bytes)| (path.clone(), packed(bytes)))
        .collect();
    let html = text(published(), card);
    let (head, rest) = html.split_once("<main id=\"content\">").unwrap();
    let foot = rest.split_once("</main>").unwrap().1;
    let empty = card.replace("index.html", "empty.html");
    let page = format!("{head}<main id=\"content\"><h1>Empty</h1></main>{foot}");
    site.insert(empty.clone(), packed(page.as_bytes()));
    let address = serve_packed(site);
    let mut chrome = Chrome::start();
    chrome.screen(360, 740);
    chrome.call(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({"source": WATCH}),
    );
    chrome.call("Network.setCacheDisabled", json!({"cacheDisabled": true}));
    chrome.call("Network.setBypassServiceWorker", json!({"bypass": true}));
    chrome.call("Emulation.setCPUThrottlingRate", json!({"rate": 4}));
    // Slow 4G as Chromium's own tools emulate it: 150 ms there and back, 1.6 Mbit/s down, 750 kbit/s up.
    let slow = json!({"offline": false, "latency": 150, "downloadThroughput": 200_000, "uploadThroughput": 93_750});
    chrome.call("Network.emulateNetworkConditions", slow);
    let (mut of_card, mut of_empty) = (f64::MAX, f64::MAX);
    for _ in 0..TURNS {
        of_card = of_card.min(readable(&mut chrome, &format!("{address}{card}")));
        of_empty = of_empty.min(readable(&mut chrome, &format!("{address}{empty}")));
        if of_card <= LONGER * of_empty {
            break;
        }
    }
    let ratio = of_card / of_empty;
    println!(
        "{card}: readable after {of_card:.0} ms, an empty page after {of_empty:.0} ms: {ratio:.2} times"
    );
    assert!(ratio <= LONGER, "{ratio:.2}");
}

/// When the largest thing in the first view was painted, milliseconds.
fn readable(chrome: &mut Chrome, address: &str) -> f64 {
    chrome.open(address);
    let Value::Number(at) = chrome.eval("seen.readable") else {
        panic!("nothing was painted at {address}");
    };
    at.as_f64().unwrap()
}
