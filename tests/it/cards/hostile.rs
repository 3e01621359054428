//! Hostile, damaged and odd text: findings, never a panic, never a long wait.

use super::{CARD, FULL, card, codes, deck_with, lines};
use loomleaf::finding::Severity;

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
