//! Queries that nobody means well: no word of them does harm, and what was asked before is not remembered.

use super::decks::{Lot, demo};
use super::opened;

#[test]
fn queries_of_any_shape_are_answered() {
    let mut search = opened(&demo());
    let usual = search.find("coolant");
    let long = "ramp ".repeat(2_000);
    let wide = "r".repeat(10_000);
    for query in [
        "",
        " ",
        "\u{0}",
        "\t\n\r",
        "...",
        "- -",
        "%",
        "Ω",
        "🔧🔩",
        "🔧 coolant",
        "חיישן טמפרטורה",
        "مستشعر",
        "датчик давления",
        "温度センサー",
        "\u{202e}tnalooc",
        "e\u{301}\u{301}\u{301}",
        "\"coolant\" 'temp' \"\"\"",
        "<script>alert(1)</script>",
        "</td><img src=x onerror=alert(1)>",
        "title:coolant AND +x -y *:* ~2 [a TO b]",
        "{\"a\":[1]}",
        "a\\b\\\\",
        "1e309 -0 NaN 0x10",
        "99999999999999999999999999 ohm",
        "0.00000000000000000000001 V",
        long.as_str(),
        wide.as_str(),
    ] {
        let answer = search.find(query);
        let scores = answer.hits.iter().map(|hit| hit.score);
        assert!(
            scores.clone().all(|score| score.is_finite() && score > 0.0),
            "{query:.40}"
        );
        assert_eq!(search.find("coolant"), usual, "after {query:.40}");
    }
}

#[test]
fn letters_drawn_by_lot_are_answered() {
    let mut search = opened(&demo());
    let usual = search.find("ramp");
    let letters: Vec<char> = "abcdeghiklmnoprstuvwxyzP0123456789 .,-%Ωé\u{301}'\"<&+:/🔧ק"
        .chars()
        .collect();
    let mut lot = Lot(20_261_125);
    for _ in 0..3_000 {
        let query: String = (0..lot.draw(24))
            .map(|_| letters[lot.draw(letters.len())])
            .collect();
        search.find(&query);
    }
    assert_eq!(search.find("ramp"), usual);
}
