//! The files of a deck: names, places, what is missing.

use super::{CARD, codes, deck_with};
use loomleaf::finding::Severity;

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
    assert_eq!(given("readings/egr.csv"), "readings-of-no-card");
    for known in ["README.md", "cards/example-2.yaml"] {
        assert_eq!(given(known), "", "{known}");
    }
}

#[test]
fn a_card_in_yml_is_read_all_the_same() {
    let (deck, _) = deck_with(&[("cards/example.yml", Some(CARD.as_bytes()))]);
    assert_eq!(deck.unwrap().cards.len(), 2);
}

#[test]
fn a_lesson_is_called_by_its_first_heading_or_by_its_file() {
    let given = |file: &str, text: &[u8]| {
        let (deck, findings) = deck_with(&[(file, Some(text))]);
        let lessons = deck.unwrap().lessons.into_iter();
        let told: Vec<(String, String)> = lessons.map(|one| (one.title, one.text)).collect();
        (codes(&findings).join(" "), told)
    };
    let one = |title: &str, text: &str| vec![(title.to_owned(), text.to_owned())];
    let file = "lessons/good-grounds.md";
    for (text, code, told) in [
        (
            "# Grounds #\n\nBare metal.\n",
            "",
            one("Grounds", "\nBare metal.\n"),
        ),
        ("\u{feff}\n# Grounds", "", one("Grounds", "")),
        (
            "Bare metal.",
            "untitled-lesson",
            one("good grounds", "Bare metal."),
        ),
        (
            "#\nBare metal.",
            "untitled-lesson",
            one("good grounds", "#\nBare metal."),
        ),
        (" \n", "empty-file", vec![]),
    ] {
        assert_eq!(
            given(file, text.as_bytes()),
            (code.to_owned(), told),
            "{text:?}"
        );
    }
    assert_eq!(given(file, b"# Gr\xfcnds").0, "not-utf8");
    assert_eq!(
        given("lessons/Good Grounds.md", b"# Grounds").0,
        "bad-address"
    );
    assert_eq!(
        given("lessons/old/grounds.md", b"# Grounds").0,
        "stray-file"
    );
}
