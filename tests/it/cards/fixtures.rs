//! Every bad card gives the findings written on its lines, and no others.
//!
//! A fixture in `bad_cards/` is one file of a small deck: `family-*.yaml` stands in `families/`,
//! `deck-*.yaml` is `deck.yaml`, any other a card. What it must give is written as a comment on the
//! line concerned: `#! kind: words of the message or the hint`; `#!^` concerns the line above (where
//! the line cannot hold a comment), `#!!` the file as a whole.

use super::{deck_with, lines};
use loomleaf::finding::Finding;
use std::fs;
use std::path::{Path, PathBuf};

fn fixtures() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/it/bad_cards");
    let mut paths: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    paths.sort();
    paths
}

/// Where a fixture stands in the small deck.
fn place_of(stem: &str) -> String {
    match stem.split_once('-') {
        Some(("family", name)) => format!("families/{name}.yaml"),
        Some(("deck", _)) => "deck.yaml".into(),
        _ => format!("cards/{stem}.yaml"),
    }
}

/// Line, kind and words of every finding a fixture expects.
fn expected(text: &str) -> Vec<(usize, String, String)> {
    let mut expected = Vec::new();
    for (at, line) in text.lines().enumerate() {
        for mark in line.split("#!").skip(1) {
            let (line, mark) = match (mark.strip_prefix('^'), mark.strip_prefix('!')) {
                (Some(mark), _) => (at, mark),
                (_, Some(mark)) => (0, mark),
                _ => (at + 1, mark),
            };
            let (kind, words) = mark.trim().split_once(':').unwrap_or((mark.trim(), ""));
            expected.push((line, kind.trim().to_owned(), words.trim().to_owned()));
        }
    }
    expected
}

fn answers(finding: &Finding, (line, kind, words): &(usize, String, String)) -> bool {
    let hint = finding.hint.as_deref().unwrap_or("");
    finding.place.line == *line
        && finding.kind.code == kind
        && (finding.message.contains(words) || hint.contains(words))
}

#[test]
fn every_bad_card_gives_its_findings_and_no_others() {
    let mut troubles = String::new();
    for path in fixtures() {
        let stem = path.file_stem().unwrap().to_string_lossy().into_owned();
        assert_eq!(
            path.extension().unwrap(),
            "yaml",
            "nobody runs {}",
            path.display()
        );
        let bytes = fs::read(&path).unwrap();
        let mut left = expected(&String::from_utf8_lossy(&bytes));
        assert!(!left.is_empty(), "{stem} expects nothing");
        let file = place_of(&stem);
        let (_, findings) = deck_with(&[(&file, Some(&bytes))]);
        for finding in findings {
            match left.iter().position(|wanted| answers(&finding, wanted)) {
                Some(at) if finding.place.file == file => {
                    left.remove(at);
                }
                _ => troubles += &format!("{stem}: nobody expected {}", lines(&[finding])),
            }
        }
        for missing in left {
            troubles += &format!("{stem}: never came {missing:?}\n");
        }
    }
    assert!(troubles.is_empty(), "\n{troubles}");
}
