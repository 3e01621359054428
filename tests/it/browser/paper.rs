//! Cards on paper: one sheet each.

use super::chrome::Chrome;
use super::{card_pages, serve};
use serde_json::json;
use std::process::Command;

/// A4 in inches, as the browser wants it.
const A4: (f64, f64) = (8.27, 11.69);

#[test]
fn every_card_prints_on_one_sheet() {
    let server = serve();
    let mut chrome = Chrome::start();
    let room = tempfile::tempdir().unwrap();
    let mut long = Vec::new();
    for page in card_pages() {
        chrome.open(&format!("{}{page}", server.address()));
        let paper = json!({"paperWidth": A4.0, "paperHeight": A4.1, "preferCSSPageSize": true});
        let printed = chrome.call("Page.printToPDF", paper);
        let file = room.path().join("card.pdf");
        std::fs::write(&file, decoded(printed["data"].as_str().unwrap())).unwrap();
        let sheets = sheets(&file);
        if sheets != 1 {
            long.push(format!("{page}: {sheets} sheets"));
        }
    }
    assert!(long.is_empty(), "{}", long.join("\n"));
}

fn sheets(file: &std::path::Path) -> usize {
    let told = Command::new("pdfinfo").arg(file).output();
    let told = told.expect("pdfinfo is installed: run tests/run");
    let text = String::from_utf8(told.stdout).unwrap();
    let pages = text.lines().find_map(|line| line.strip_prefix("Pages:"));
    pages.unwrap().trim().parse().unwrap()
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
