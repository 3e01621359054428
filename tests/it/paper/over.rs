//! Letters that lie over letters or over a wire's swatch, and words broken inside: on the screen of a phone, in bench mode,
//! and on paper, for every family with short labels and with long ones.

use super::{families, on_paper, serve_deck};
use crate::browser::chrome::Chrome;
use serde_json::{Value, json};

const OVER: &str = include_str!("over.js");

/// Shows one screen of bench mode after the other, and what lies over what on each.
fn on_bench(chrome: &mut Chrome) -> Vec<Value> {
    let screens =
        chrome.eval("[...document.querySelectorAll('.screen.test')].map((one) => one.id)");
    let screens: Vec<String> = serde_json::from_value(screens).unwrap();
    assert!(!screens.is_empty(), "no screens");
    let mut found = Vec::new();
    for screen in screens {
        chrome.eval(&format!(
            "new Promise((drawn) => {{ location.hash = '{screen}'; requestAnimationFrame(() => requestAnimationFrame(drawn)); }})"
        ));
        let said = chrome.eval(OVER);
        if said != json!([]) {
            found.push(json!([screen, said]));
        }
    }
    found
}

#[test]
fn no_letters_lie_over_others_and_no_word_is_broken() {
    let long = crate::families::long();
    let mut chrome = Chrome::start();
    let (mut wrong, mut seen) = (Vec::new(), 0);
    for (server, deck) in [
        (families(), crate::families::deck().0),
        (serve_deck(&long), long),
    ] {
        for card in deck.cards {
            let page = format!("{}cards/{}/", server.address(), card.id);
            chrome.screen(360, 740);
            chrome.open(&format!("{page}index.html"));
            let paper = on_paper(&mut chrome, OVER);
            chrome.screen(360, 740);
            // All of it, also what is laid out only when it comes near.
            let screen = chrome.eval(&format!(
                "document.querySelectorAll('details').forEach((one) => {{ one.open = true; }}); \
                 document.querySelectorAll('main section').forEach((one) => {{ one.style.contentVisibility = 'visible'; }}); {OVER}"
            ));
            chrome.open(&format!("{page}bench/index.html"));
            let bench = on_bench(&mut chrome);
            for (place, said) in [
                ("paper", paper),
                ("screen", screen),
                ("bench", json!(bench)),
            ] {
                if said != json!([]) {
                    wrong.push(format!("{}, {place}: {said}", card.id));
                }
            }
            seen += 1;
        }
    }
    assert!(
        seen > 40 && wrong.is_empty(),
        "{seen} cards\n{}",
        wrong.join("\n")
    );
}
