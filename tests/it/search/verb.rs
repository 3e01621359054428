//! `find` in the terminal: what is printed, what `--json` holds, how it ends.

use crate::cli::run;
use serde_json::Value;

/// Status, what went to the one stream and to the other.
fn find(words: &[&str]) -> (u8, String, String) {
    let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/demo");
    let args = ["find", demo].into_iter().chain(words.iter().copied());
    let ran = run(args, "");
    (ran.status, ran.out, ran.err)
}

#[test]
fn hits_stand_under_their_kinds() {
    let (status, out, err) = find(&["P", "0405"]);
    assert_eq!((status, err.as_str()), (0, ""));
    let lines: Vec<&str> = out.lines().collect();
    assert_eq!(lines[0], "Circuits");
    assert!(
        lines[1].starts_with("  EGR valve position sensor  [egr-position]  P0404 P0405"),
        "{out}"
    );
    assert_eq!(lines[2], "Codes");
}

#[test]
fn json_holds_cards_with_title_address_and_score() {
    let (status, out, _) = find(&["ramp", "angle", "--json"]);
    let answer: Value = serde_json::from_str(&out).unwrap();
    let first = &answer["hits"][0];
    assert_eq!(status, 0);
    assert_eq!(first["card"], "ramp-angle");
    assert_eq!(first["title"], "Ramp angle sensor");
    assert_eq!(first["address"], "cards/ramp-angle/index.html");
    assert!(first["score"].as_u64().unwrap() > 0);
}

#[test]
fn more_than_is_shown_and_words_left_out_are_told() {
    let (_, out, _) = find(&["sensor"]);
    let first = out.lines().next().unwrap();
    assert!(
        first.starts_with("10 of ") && first.ends_with(" circuits, best first"),
        "{out}"
    );
    let (_, out, _) = find(&["sensor", "--json"]);
    let answer: Value = serde_json::from_str(&out).unwrap();
    assert!(answer["total"].as_u64().unwrap() > 10, "{answer}");
    let (status, out, err) = find(&["bilge", "stuck"]);
    assert!(status == 0 && out.contains("[bilge-level]"), "{out}");
    assert_eq!(
        err,
        "Found without `stuck`: what fits best does not say it.\n"
    );
}

#[test]
fn nothing_found_says_which_word() {
    let (status, out, err) = find(&["xyzzy", "ramp"]);
    assert_eq!((status, out.as_str()), (1, ""));
    let (unknown, left) = err.split_once('\n').unwrap();
    assert_eq!(unknown, "nothing here has `xyzzy`");
    assert!(
        left.starts_with("  without `xyzzy`: ") && left.ends_with(" circuits\n"),
        "{err}"
    );
    let (status, out, _) = find(&["P0335", "P1234"]);
    assert_eq!(status, 1);
    assert!(
        out.contains("P1234: A powertrain code. Each maker defines"),
        "{out}"
    );
    let (status, _, err) = find(&["?"]);
    assert_eq!(
        (status, err.as_str()),
        (
            1,
            "type a word, a code, a wire colour or a value to look for\n"
        )
    );
    // What was typed is not printed back at length.
    let long = "ramp coolant winch bilge ".repeat(400);
    let (status, out, err) = find(&[&long]);
    assert_eq!((status, out.as_str()), (1, ""));
    assert!(
        err.starts_with("no page has all of these words\n  ") && err.len() < 400,
        "{err}"
    );
    let (status, _, err) = find(&[&"x".repeat(10_000)]);
    assert!(status == 1 && err.len() < 200, "{err}");
    let (_, out, _) = find(&["🔧", "--json"]);
    let answer: Value = serde_json::from_str(&out).unwrap();
    assert!(answer["none"].as_str().unwrap().starts_with("Type a word"));
}
