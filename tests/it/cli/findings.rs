//! Findings in the terminal: drawn for people, listed for programs.

use super::{DECK, GOOD, Room};
use loomleaf::cli::Look;
use std::io;

#[test]
fn a_sound_deck_has_no_findings() {
    let room = Room::with(&[DECK, GOOD]);
    room.run("inspect /deck")
        .check(0, "no findings in 1 card\n", "");
    let json = room.run("inspect /deck --json");
    json.check(0, "{\"findings\":[]}\n", "");
}

#[test]
fn a_finding_is_drawn_under_the_authors_line() {
    let bad = GOOD
        .1
        .replace("family: position-pot", "family: position-pod");
    let room = Room::with(&[DECK, ("deck/cards/lever.yaml", &bad)]);
    let picture = "\
error[unknown-family]: there is no family `position-pod`
 --> ROOM/deck/cards/lever.yaml:2:9
  |
2 | family: position-pod
  |         ^^^^^^^^^^^^
  |
try: did you mean `position-pot`

1 error in 1 card
";
    room.run("inspect /deck").check(1, picture, "");
}

#[test]
fn a_finding_in_json_says_where_and_what() {
    let bad = GOOD.1.replace("position-pot", "position-pod");
    let room = Room::with(&[DECK, ("deck/cards/lever.yaml", &bad)]);
    let ran = room.run("inspect /deck --json");
    assert_eq!((ran.status, ran.err.as_str()), (1, ""));
    let finding = &ran.json()["findings"][0];
    let place = (&finding["file"], &finding["line"], &finding["column"]);
    assert_eq!(place, (&"cards/lever.yaml".into(), &2.into(), &9.into()));
    assert_eq!(finding["kind"], "unknown-family");
    assert_eq!(finding["severity"], "error");
    assert!(
        finding["message"]
            .as_str()
            .unwrap()
            .contains("position-pod")
    );
    assert!(finding["hint"].as_str().unwrap().contains("position-pot"));
}

#[test]
fn an_author_can_not_write_to_the_terminal() {
    let bad = GOOD
        .1
        .replace("role: ground", "role: \"\\e[2J\\u202Egrund\"");
    let room = Room::with(&[DECK, ("deck/cards/lever.yaml", &bad)]);
    let ran = room.run("inspect /deck");
    assert_eq!(ran.status, 1);
    assert!(!ran.out.contains(['\u{1b}', '\u{202e}']), "{}", ran.out);
}

#[test]
fn colours_come_only_where_they_show() {
    let bad = GOOD.1.replace("role: ground", "role: grund");
    let room = Room::with(&[DECK, ("deck/cards/lever.yaml", &bad)]);
    for (look, colours) in [
        (Look::Plain, false),
        (Look::Terminal, false),
        (Look::Coloured, true),
    ] {
        let mut out = Vec::new();
        assert_eq!(
            room.run_on("inspect /deck", &mut out, &mut io::sink(), look),
            1
        );
        assert_eq!(out.contains(&0x1b), colours, "{look:?}");
    }
}
