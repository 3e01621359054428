//! Pictures for people to look at, in `target/screens`: a few pages on a phone and a desk, by day and night.

use super::chrome::{Chrome, decoded};
use super::{card_pages, pages, serve};
use serde_json::json;
use std::path::Path;

/// Width, height and what to call it: the phone of the acceptance rules, and a desk.
const SCREENS: [(u32, u32, &str); 2] = [(360, 740, "phone"), (1280, 800, "desk")];

#[test]
fn pictures_of_pages_are_kept_for_people() {
    let server = serve();
    let mut chrome = Chrome::start();
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).with_file_name("screens");
    std::fs::create_dir_all(&folder).unwrap();
    for page in chosen() {
        for (width, height, screen) in SCREENS {
            for scheme in ["light", "dark"] {
                chrome.screen(width, height);
                chrome.scheme(scheme);
                chrome.open(&format!("{}{page}", server.address()));
                let whole = page.starts_with("cards/") && screen == "phone" && scheme == "light";
                let name = page
                    .trim_end_matches("/index.html")
                    .replace(['/', '.'], "-");
                let picture = |chrome: &mut Chrome, whole: bool| {
                    let shot = json!({"format": "png", "captureBeyondViewport": whole});
                    decoded(
                        chrome.call("Page.captureScreenshot", shot)["data"]
                            .as_str()
                            .unwrap(),
                    )
                };
                let first = picture(&mut chrome, false);
                assert!(first.starts_with(b"\x89PNG"), "{page} gave no picture");
                std::fs::write(folder.join(format!("{name}-{screen}-{scheme}.png")), first)
                    .unwrap();
                if whole {
                    let height = chrome.eval("document.documentElement.scrollHeight");
                    chrome.screen(width, u32::try_from(height.as_u64().unwrap()).unwrap());
                    let long = picture(&mut chrome, true);
                    std::fs::write(folder.join(format!("{name}-{screen}-whole.png")), long)
                        .unwrap();
                }
            }
        }
    }
}

/// The front page, a card of each of a few kinds, and the first page of every other folder.
fn chosen() -> Vec<&'static str> {
    let mut chosen: Vec<&str> = vec!["index.html"];
    chosen.extend(card_pages().step_by(5));
    let mut folders: Vec<&str> = Vec::new();
    for page in pages().filter(|page| !page.starts_with("cards/")) {
        let folder = page.split('/').next().unwrap();
        if page.contains('/') && !folders.contains(&folder) {
            folders.push(folder);
            chosen.push(page);
        }
    }
    chosen
}
