//! Card text to findings: every bad card gives the findings written on its lines, and no others.
//!
//! A fixture in `bad_cards/` is one file of a small deck: `family-*.yaml` stands in `families/`,
//! `deck-*.yaml` is `deck.yaml`, any other a card. What it must give is written as a comment on the
//! line concerned: `#! kind: words of the message or the hint`; `#!^` concerns the line above (where
//! the line cannot hold a comment), `#!!` the file as a whole.

use loomleaf::card::{
    Card, Deck, ELEMENT_KINDS, ObserveSpec, ParameterValue, Plug, ScanKind, Term, read, shipped,
};
use loomleaf::finding::{Finding, Severity, kinds};
use loomleaf::quantity::Dimension;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

const DECK: &str = "title: Our workshop\nsystems:\n  engine: Engine\n";
const OTHER_CARD: &str = "title: Throttle position sensor\nfamily: position-pot\npins:\n  1: {role: reference}\n  2: {role: signal}\n  3: {role: ground}\nsignal:\n  - {at: shut, reads: 0.7 to 1.2 V}\n";
const CARD: &str = "title: Example sensor\nfamily: position-pot\npins:\n  1: {role: reference}\n  2: {role: signal}\n  3: {role: ground}\nsignal:\n  - {at: valve closed, reads: 0.7 to 1.2 V}\n  - {at: valve open, reads: 3.9 to 4.5 V}\n";
const OWN_FAMILY: &str = "family: example\ntitle: Example\nroles: [reference, signal, ground]\npart:\n  - {resistor: 5 kohm, between: [reference, ground]}\n";
const CAUTIONS: &str = "hot-exhaust: {title: Hot parts, says: They burn., hurts: person}\nprobe-gently: {title: Gently, says: Pins bend., hurts: circuit}\n";
const FAMILY: &str = "family: position-pot
title: Three-wire position sensor
roles: [reference, ground, signal]
parameters:
  reference: {default: 5 V ± 2 %, says: what the module supplies}
  track: {default: 5 kohm ± 20 %}
  pull: {choice: [up, down], default: unknown}
  bias: {default: 220 kohm ± 5 %}
  valid: {default: 0.25 to 4.75 V, limits: true}
  position: {follows: signal, between: 0 to 100 %}
module:
  - {regulator: vref, feeds: reference, volts: $reference, series: 0.5 ohm ± 50 %, limit: 100 mA}
  - {resistor: $bias, name: bias, from: signal, to: {up: vref, down: ground}, by: pull}
  - {input: signal, against: vref, series: 10 kohm, valid: $valid}
part:
  - {potentiometer: $track, name: track, ends: [reference, ground], slider: signal, at: $position}
tests:
  supply: {title: Supply, plug: unplugged, key: on, volts: [reference, ground], minutes: 1}
  force: {title: Force, plug: unplugged, key: on, bridge: [signal, other rail], scan: signal}
  at-rest: {title: At rest, plug: back-probed, key: on, volts: [signal, ground], at: each signal point}
order: [supply, at-rest]
cautions: [hot-exhaust]
codes: [P0120]
";

fn our_shipped() -> Vec<(&'static str, &'static str)> {
    vec![
        ("cautions.yaml", CAUTIONS),
        ("families/position-pot.yaml", FAMILY),
    ]
}

/// The small deck, with some files put in place or (`None`) taken away.
fn deck_with(changes: &[(&str, Option<&[u8]>)]) -> (Option<Deck>, Vec<Finding>) {
    let mut files: BTreeMap<String, Vec<u8>> =
        [("deck.yaml", DECK), ("cards/a-throttle.yaml", OTHER_CARD)]
            .into_iter()
            .map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec()))
            .collect();
    for (name, bytes) in changes {
        match bytes {
            Some(bytes) => files.insert((*name).to_owned(), bytes.to_vec()),
            None => files.remove(*name),
        };
    }
    read(&files, &our_shipped())
}

fn card(text: &str) -> (Option<Deck>, Vec<Finding>) {
    deck_with(&[("cards/example.yaml", Some(text.as_bytes()))])
}

fn codes(findings: &[Finding]) -> Vec<&str> {
    findings.iter().map(|finding| finding.kind.code).collect()
}

fn lines(findings: &[Finding]) -> String {
    let line = |finding: &Finding| {
        let place = &finding.place;
        let hint = finding.hint.as_deref().unwrap_or("-");
        format!(
            "{}:{}:{} {}: {} | {hint}\n",
            place.file, place.line, place.column, finding.kind.code, finding.message
        )
    };
    findings.iter().map(line).collect()
}

// ---- fixtures ----

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

// ---- the examples of the table ----

/// Kinds whose example is a matter of files, not of lines: each has a test of its own below.
const BY_FILES: &[&str] = &[
    "bad-address",
    "doubled-card",
    "empty-deck",
    "link-outside",
    "no-deck-file",
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
];

/// The blocks of a file by the key they begin with.
fn blocks(text: &str) -> Vec<(String, String)> {
    let mut blocks: Vec<(String, String)> = Vec::new();
    for line in text.lines() {
        match line.split_once(':') {
            Some((key, _)) if !line.starts_with([' ', '-', '#']) => {
                blocks.push((key.to_owned(), String::new()))
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

/// The small file with the example's lines in place of its own under the same keys.
fn with_lines(file: &str, example: &str) -> Vec<u8> {
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
    let text = format!("{kept}{example}\n");
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
        let (_, wrong) = deck_with(&[(kind.file, Some(&example(kind.wrong)))]);
        assert!(
            codes(&wrong).contains(&kind.code),
            "{}: wrong example gives\n{}",
            kind.code,
            lines(&wrong)
        );
        let (_, right) = deck_with(&[(kind.file, Some(&example(kind.right)))]);
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

// ---- files ----

#[test]
fn a_folder_without_deck_yaml_says_what_to_write() {
    let (deck, findings) = deck_with(&[("deck.yaml", None)]);
    assert!(deck.is_none());
    assert_eq!(codes(&findings), ["no-deck-file"]);
    assert!(findings[0].hint.as_deref().unwrap().contains("`title: `"));
}

#[test]
fn a_deck_without_cards_is_a_warning() {
    let (deck, findings) = deck_with(&[("cards/a-throttle.yaml", None)]);
    assert_eq!(codes(&findings), ["empty-deck"]);
    assert_eq!(findings[0].kind.severity, Severity::Warning);
    assert!(deck.unwrap().cards.is_empty());
}

#[test]
fn file_names_are_judged() {
    let given = |file: &str| codes(&deck_with(&[(file, Some(CARD.as_bytes()))]).1).join(" ");
    assert_eq!(given("cards/Example One.yaml"), "bad-address");
    assert_eq!(given("cards/example.yml"), "yml-ending");
    assert_eq!(
        given("cards/a-throttle.yml"),
        "yml-ending doubled-card"
            .split(' ')
            .rev()
            .collect::<Vec<_>>()
            .join(" ")
    );
    assert_eq!(given("cards/below/example.yaml"), "stray-file");
    assert_eq!(given("notes.txt"), "stray-file");
    for known in [
        "lessons/ground.md",
        "readings/egr.csv",
        "README.md",
        "cards/example-2.yaml",
    ] {
        assert_eq!(given(known), "", "{known}");
    }
}

#[test]
fn a_card_in_yml_is_read_all_the_same() {
    let (deck, _) = deck_with(&[("cards/example.yml", Some(CARD.as_bytes()))]);
    assert_eq!(deck.unwrap().cards.len(), 2);
}

// ---- what a sound card becomes ----

const FULL: &str = "title: EGR valve position sensor
family: position-pot
system: engine
codes: [P0405, P0406]
fits: [Harbour shuttle 2017-2020]
also_called: valve lift sensor
pins:
  1: {role: reference, wire: YE}
  2: {role: signal, wire: GNWH}
  A: {role: ground, wire: BK}
reference: 5 V ± 5 %
parameters: {track: 4k7 ± 20 %, pull: up, valid: 0,3 to 4.7 V}
signal:
  - {at: valve closed, reads: 0.7 to 1.2 V}
  - {at: 50 %, reads: 2.2 V ± 5 %}
scan:
  - {name: Lift 1, kind: raw}
  - {name: Lift, kind: derived, valid: 0.3 to 4.7 V, substitute: shows 0}
order: [supply, loaded, at-rest]
tests:
  loaded: {title: Loaded, plug: unplugged, key: on, bridge: [1, A], through: 1 kohm, volts: [reference, good ground], when: supply is good, minutes: 3}
connector: {shape: round, rows: [[1, 2], [A]], keying: left, view: harness wire side}
wires:
  signal: {length: 10 ft, size: 20 AWG}
sources:
  - {kind: measured here, says: van 3, covers: [signal, track]}
cautions: [hot-exhaust, Block the valve first.]
notes: |
  Look first.
";

#[test]
fn a_full_card_is_read_as_written() {
    // The comma inside `{ }` is the one thing wrong with it.
    let (_, findings) = card(FULL);
    assert!(
        codes(&findings).contains(&"split-by-comma"),
        "{}",
        lines(&findings)
    );
    let (deck, findings) = card(&FULL.replace("0,3 to", "0.3 to"));
    assert!(findings.is_empty(), "{}", lines(&findings));
    let deck = deck.unwrap();
    let card = deck.cards.iter().find(|card| card.id == "example").unwrap();
    assert_eq!(card.pins[2].label.value, "A");
    assert_eq!(
        (
            card.pins[1].role.place.line,
            card.pins[1].role.place.column,
            card.pins[1].role.place.length
        ),
        (9, 13, 6)
    );
    assert_eq!(card.also_called[0].value, "valve lift sensor");
    let ParameterValue::Value(track) = &card.parameters["track"].value else {
        panic!()
    };
    assert_eq!((track.low, track.nominal), (3760.0, 4700.0));
    assert!(
        matches!(&card.parameters["valid"].value, ParameterValue::Limits(limits) if limits.low == 0.3)
    );
    assert_eq!(
        card.parameters["pull"].value,
        ParameterValue::Choice("up".into())
    );
    assert!(card.parameters.contains_key("reference"));
    assert_eq!(card.signal[0].at_quantity, None);
    assert_eq!(
        card.signal[1]
            .at_quantity
            .map(|at| (at.number, at.dimension)),
        Some((0.5, Dimension::Ratio))
    );
    assert!(
        matches!(&card.scan[1].kind, ScanKind::Derived { substitute: Some(words), .. } if words == "shows 0")
    );
    assert!(
        matches!(&card.tests[0].observes, ObserveSpec::Volts { black, .. } if black.value == "good ground")
    );
    assert_eq!(
        (card.tests[0].plug, card.tests[0].minutes),
        (Plug::Unplugged, 3.0)
    );
    assert_eq!(
        card.tests[0].links[0].through.map(|ohms| ohms.nominal),
        Some(1000.0)
    );
    check_wires_and_connector(card);
    assert_eq!(card.notes, "Look first.");
    assert!(deck.cautions["hot-exhaust"].can_hurt && !deck.cautions["probe-gently"].can_hurt);
}

fn check_wires_and_connector(card: &Card) {
    // 10 ft = 3.048 m exactly: NIST SP 811, appendix B.8.
    assert_eq!(card.wires[0].length, Some(3.048));
    // 20 AWG = 0.5176 mm2: computed from the ASTM B258 diameter 0.8118 mm.
    assert!((card.wires[0].area.unwrap() - 0.5176e-6).abs() < 2e-10);
    assert_eq!(
        card.connector.rows,
        [vec!["1".to_owned(), "2".to_owned()], vec!["A".to_owned()]]
    );
}

#[test]
fn a_family_is_read_as_written() {
    let (deck, findings) = card(CARD);
    assert!(findings.is_empty(), "{}", lines(&findings));
    let families = deck.unwrap().families;
    let family = &families["position-pot"];
    assert_eq!(family.file, "shipped/position-pot.yaml");
    assert_eq!(family.module[0].main.value, Term::Word("vref".into()));
    assert_eq!(
        family.module[0].fields["volts"].value,
        Term::Parameter("reference".into())
    );
    assert!(
        matches!(&family.module[0].fields["limit"].value, Term::Value(amps, Dimension::Current) if amps.nominal == 0.1)
    );
    assert!(
        matches!(&family.module[1].fields["to"].value, Term::Choice(places) if places["up"] == "vref")
    );
    assert_eq!(
        family.part[0].fields["ends"].value,
        Term::Words(vec!["reference".into(), "ground".into()])
    );
    assert_eq!(family.tests.len(), 3);
}

#[test]
fn a_card_may_have_a_circuit_of_its_own() {
    let own = "title: Pad wear loop
circuit:
  roles: [signal, ground]
  parameters:
    loop: {default: 180 ohm ± 5 %}
  module:
    - {regulator: vref, volts: 5 V ± 2 %, series: 0.5 ohm, limit: 100 mA}
    - {resistor: 1 kohm, name: pull-up, between: [vref, signal]}
    - {input: signal, against: vref, series: 10 kohm}
  part:
    - {resistor: $loop, name: pad, between: [signal, ground]}
  tests:
    at-rest: {title: At rest, plug: back-probed, key: on, volts: [signal, ground]}
  order: [at-rest]
pins: {1: signal, 2: ground}
parameters: {loop: 200 ohm}
";
    let (deck, findings) = card(own);
    assert!(findings.is_empty(), "{}", lines(&findings));
    let deck = deck.unwrap();
    let card = deck.cards.iter().find(|card| card.id == "example").unwrap();
    assert!(card.family.value.is_empty());
    assert_eq!(card.circuit.as_ref().unwrap().module.len(), 3);
}

#[test]
fn what_ships_has_no_findings() {
    let files = BTreeMap::from([("deck.yaml".to_owned(), b"title: x".to_vec())]);
    let (deck, findings) = read(&files, &shipped());
    assert_eq!(codes(&findings), ["empty-deck"], "{}", lines(&findings));
    assert!(deck.unwrap().cautions.len() > 5);
}

#[test]
fn every_kind_of_element_names_its_fields_once() {
    for kind in ELEMENT_KINDS {
        let names: BTreeSet<&str> = kind.fields.iter().map(|field| field.name).collect();
        assert_eq!(names.len(), kind.fields.len(), "{}", kind.word);
        assert!(!names.contains(kind.word));
    }
}

// ---- hostile and odd text ----

#[test]
fn byte_order_marks_and_line_ends_of_other_systems_are_fine() {
    let text = format!("\u{feff}{}", CARD.replace('\n', "\r\n"));
    let (deck, findings) = card(&text);
    assert!(findings.is_empty(), "{}", lines(&findings));
    assert_eq!(deck.unwrap().cards.len(), 2);
    let (_, findings) = card(&text.replace("position-pot", "position-pott"));
    assert_eq!(
        (
            findings[0].place.line,
            findings[0].place.column,
            findings[0].place.length
        ),
        (2, 9, 13)
    );
}

#[test]
fn hostile_files_are_findings_and_quick() {
    let began = std::time::Instant::now();
    let bomb = (1..12).fold(
        "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n".to_owned(),
        |text, at| {
            let last = at - 1;
            format!(
                "{text}a{at}: &a{at} [{}]\n",
                vec![format!("*a{last}"); 10].join(", ")
            )
        },
    );
    let rows = [
        "[".repeat(200_000),
        "{a: ".repeat(50_000),
        "- ".repeat(50_000),
        bomb,
        "x: &x [*x]\n".to_owned(),
        format!("title: {}\n", "x".repeat(600_000)),
        "a: 1\n".repeat(90_000),
        "just words".to_owned(),
        "- a\n- b\n".to_owned(),
        "\t\ttitle: x\n".to_owned(),
        "\u{0}\u{1}\u{2}".to_owned(),
        "? [a, b]\n: c\n".to_owned(),
        "!!binary title: x\n".to_owned(),
        "%YAML 9.9\n---\n".to_owned(),
        "title: [[[\n".to_owned(),
        "---\n---\n---\n".to_owned(),
        "title: .nan\nfamily: 1e999\npins: ~\n".to_owned(),
    ];
    for text in rows {
        let (deck, findings) = card(&text);
        let start: String = text.chars().take(20).collect();
        assert!(
            findings
                .iter()
                .any(|finding| finding.kind.severity == Severity::Error),
            "{start}"
        );
        assert_eq!(deck.unwrap().cards.len(), 1, "{start}");
    }
    let bytes = [0xff, 0xfe, 0x00, 0xd8];
    assert_eq!(
        codes(&deck_with(&[("cards/example.yaml", Some(&bytes))]).1),
        ["not-utf8"]
    );
    // Common practice, no source: an author should not wait; debug builds are slow, so leave room.
    assert!(began.elapsed().as_secs() < 20, "{:?}", began.elapsed());
}

proptest::proptest! {
    /// A sound card with a few bytes replaced never panics, and what is reported lies in its text.
    #[test]
    fn damaged_cards_are_findings_never_panics(
        at in 0..FULL.len(), length in 0..12_usize, noise in "[\\x00-\\x7f±é\\[\\]{}:,\"'#&*!|>%@`-]{0,8}"
    ) {
        let mut bytes = FULL.as_bytes().to_vec();
        let end = (at + length).min(bytes.len());
        bytes.splice(at..end, noise.bytes());
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let (_, findings) = deck_with(&[("cards/example.yaml", Some(&bytes))]);
        for finding in findings.iter().filter(|finding| finding.place.line > 0) {
            proptest::prop_assert!(finding.place.line <= text.lines().count() + 1, "{}", lines(std::slice::from_ref(finding)));
            proptest::prop_assert!(finding.place.column >= 1 && finding.place.length >= 1);
        }
        let mut sorted = findings.clone();
        loomleaf::finding::sort(&mut sorted);
        proptest::prop_assert_eq!(sorted, findings);
    }
}
