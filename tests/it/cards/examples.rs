//! The table of kinds: every wrong example has its finding, every right one has not.

use super::{CARD, DECK, OWN_FAMILY, codes, deck_with, lines};
use loomleaf::card::{read, shipped};
use loomleaf::finding::{Severity, kinds};
use loomleaf::sheet::sheets;
use std::collections::BTreeSet;

/// Kinds whose example is a matter of files or pages, not of lines: each has a test of its own.
const BY_FILES: &[&str] = &[
    "bad-address",
    "broken-link",
    "doubled-card",
    "empty-deck",
    "link-outside",
    "no-deck-file",
    "readings-of-no-card",
    "stray-file",
    "yml-ending",
];
/// Kinds that only the solved circuit gives.
const BY_PHYSICS: &[&str] = &[
    "signal-out-of-reach",
    "limit-inside-signal",
    "circuit-not-solvable",
    "signal-point-without-reading",
    "ambiguous-order",
    "unknown-test-of-reading",
    "unknown-state-of-reading",
    "misread-reading",
    "reading-out-of-band",
    "doubtful-reading",
];

/// The blocks of a file by the key they begin with.
fn blocks(text: &str) -> Vec<(String, String)> {
    let mut blocks: Vec<(String, String)> = Vec::new();
    for line in text.lines() {
        match line.split_once(':') {
            Some((key, _)) if !line.starts_with([' ', '-', '#']) => {
                blocks.push((key.to_owned(), String::new()));
            }
            _ => {}
        }
        if let Some((_, block)) = blocks.last_mut() {
            block.push_str(line);
            block.push('\n');
        }
    }
    blocks
}

/// The small file with the example's lines in place of its own under the same keys; readings and lessons as they are.
fn with_lines(file: &str, example: &str) -> Vec<u8> {
    if file.starts_with("readings/") || file.starts_with("lessons/") {
        return bytes_of(example);
    }
    let base = match file {
        "deck.yaml" => DECK,
        file if file.starts_with("families/") => OWN_FAMILY,
        _ => CARD,
    };
    let new = blocks(example);
    let replaced = |key: &str| new.iter().any(|(new, _)| new == key);
    let kept: String = blocks(base)
        .into_iter()
        .filter(|(key, _)| !replaced(key))
        .map(|(_, block)| block)
        .collect();
    bytes_of(&format!("{kept}{example}\n"))
}

fn bytes_of(text: &str) -> Vec<u8> {
    // The table can only hold sound text: its replacement mark stands for a bad byte.
    text.split('\u{fffd}')
        .map(str::as_bytes)
        .collect::<Vec<_>>()
        .join(&0xe9)
}

#[test]
fn every_wrong_example_has_its_finding_and_every_right_one_has_not() {
    for kind in kinds::all()
        .filter(|kind| !BY_FILES.contains(&kind.code) && !BY_PHYSICS.contains(&kind.code))
    {
        let example = |lines: &str| match lines {
            "" => Vec::new(),
            lines => with_lines(kind.file, lines),
        };
        let with = |lines: &str| {
            let card = ("cards/example.yaml", Some(CARD.as_bytes()));
            deck_with(&[card, (kind.file, Some(&example(lines)))]).1
        };
        let wrong = with(kind.wrong);
        assert!(
            codes(&wrong).contains(&kind.code),
            "{}: wrong example gives\n{}",
            kind.code,
            lines(&wrong)
        );
        let right = with(kind.right);
        assert!(
            !codes(&right).contains(&kind.code),
            "{}: right example gives\n{}",
            kind.code,
            lines(&right)
        );
        let errors = right.iter().filter(|finding| {
            finding.kind.severity == Severity::Error && kind.code != "empty-file"
        });
        assert_eq!(
            errors.count(),
            0,
            "{}: right example gives\n{}",
            kind.code,
            lines(&right)
        );
    }
}

#[test]
fn the_table_of_kinds_is_sound() {
    let mut seen = BTreeSet::new();
    for kind in kinds::all() {
        assert!(seen.insert(kind.code), "{} stands twice", kind.code);
        assert!(
            kind.code.chars().all(|letter| letter.is_ascii_lowercase()
                || letter == '-'
                || letter.is_ascii_digit())
        );
        assert!(!kind.title.is_empty() && !kind.why.is_empty() && !kind.file.is_empty());
        assert!(
            !kind.title.ends_with('.') && !kind.why.ends_with('.'),
            "{}",
            kind.code
        );
    }
    assert!(seen.len() >= 45, "{}", seen.len());
    for code in BY_FILES.iter().chain(BY_PHYSICS) {
        assert!(seen.contains(code), "{code}");
    }
}

/// The examples of the kinds that a sheet gives, solved with the families that ship.
#[test]
fn the_examples_from_physics_hold_in_solved_circuits() {
    let given = [
        "signal-out-of-reach",
        "limit-inside-signal",
        "signal-point-without-reading",
        "unknown-test-of-reading",
        "unknown-state-of-reading",
        "misread-reading",
        "reading-out-of-band",
        "doubtful-reading",
    ];
    let found = |kind: &loomleaf::finding::Kind, example: &str| {
        let files = [
            ("deck.yaml", DECK.as_bytes().to_vec()),
            ("cards/example.yaml", CARD.as_bytes().to_vec()),
            (kind.file, with_lines(kind.file, example)),
        ];
        let files = files.map(|(name, bytes)| (name.to_owned(), bytes)).into();
        let (deck, mut findings) = read(&files, &shipped());
        findings.extend(sheets(&deck.unwrap()).1);
        findings
    };
    for kind in kinds::all().filter(|kind| given.contains(&kind.code)) {
        let wrong = found(kind, kind.wrong);
        assert_eq!(codes(&wrong), [kind.code], "wrong: {}", lines(&wrong));
        let right = found(kind, kind.right);
        assert!(right.is_empty(), "{}: right: {}", kind.code, lines(&right));
    }
}

/// By hand: 2.8 kohm with B 3960 K is 141 ohm at 110 C, so a pull-up of 2.49 kohm on 5 V leaves 0.27 V at the pin.
#[test]
fn limits_that_cut_into_a_curve_are_found_at_the_point() {
    let card = "title: Warm\nfamily: thermistor-2wire\npins: {1: signal, 2: ground}\n\
                parameters: {pull_up: 2.49 kohm ± 1 %, valid: 0.5 to 4.9 V}\n\
                curve: {r25: 2.8 kohm ± 1 %, beta: 3960 K ± 1 %}\nsignal: [{at: 20 C}, {at: 110 C}]\n";
    let files = [("deck.yaml", DECK), ("cards/warm.yaml", card)];
    let files = files.map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec()));
    let (deck, findings) = read(&files.into(), &shipped());
    assert!(findings.is_empty(), "{}", lines(&findings));
    let findings = sheets(&deck.unwrap()).1;
    assert_eq!(codes(&findings), ["limit-inside-signal"]);
    assert_eq!(findings[0].place.line, 6, "{}", lines(&findings));
    assert!(
        findings[0].message.contains("110 C"),
        "{}",
        lines(&findings)
    );
}
