//! `publish`: what is written, and what is refused.

use super::{DECK, GOOD, Room};
use loomleaf::publish::output::MARKER;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Instant;

#[test]
fn publishing_closes_with_counts() {
    let room = Room::with(&[DECK, GOOD]);
    let ran = room.run("publish /deck --to /site");
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    assert!(ran.out.starts_with("published 1 card as "), "{}", ran.out);
    assert!(ran.out.contains(" to ROOM/site in "), "{}", ran.out);
    let without = "no --address was given, so paper sheets and labels carry no QR code";
    assert!(ran.out.contains(without), "{}", ran.out);
    let pages = room
        .site()
        .keys()
        .filter(|name| name.ends_with(".html"))
        .count();
    let json = room.run("publish /deck --to /site --json").json();
    assert_eq!((&json["cards"], &json["pages"]), (&1.into(), &pages.into()));
    assert_eq!(
        json["findings"],
        serde_json::json!({"error": 0, "warning": 0, "advice": 0})
    );
    assert!(
        json["bytes"].as_u64().unwrap() > 1_000 && json["seconds"].is_f64(),
        "{json}"
    );
}

#[test]
fn two_publishes_are_the_same_to_the_byte() {
    let room = Room::with(&[]);
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo");
    // A path from the top joined to the room stays what it is.
    let address = crate::browser::ADDRESS;
    let ran = room.run(&format!(
        "publish /{} --to /site --address {address}",
        demo.display()
    ));
    assert_eq!(ran.status, 0, "{}", ran.err);
    let mut published = room.site();
    let built = crate::browser::published();
    // The list of files and what knows its name get their packed copies when they are written.
    let is_extra = |name: &str| name.ends_with(".gz") || name.ends_with(".br") || name == MARKER;
    published.retain(|name, _| built.contains_key(name) || !is_extra(name));
    assert!(built.len() > 50, "{} files", built.len());
    assert!(published == *built, "the demo published twice differs");
}

#[test]
fn an_address_that_no_phone_can_open_is_refused() {
    let room = Room::with(&[DECK, GOOD]);
    for address in [
        "wiring.example",
        "https://",
        "https:///x",
        "ftp://x.example",
        "https://a<b",
    ] {
        let ran = room.run(&format!("publish /deck --to /site --address {address}"));
        assert_eq!(ran.status, 2, "{address}");
        assert!(
            ran.err.contains("such as https://wiring.example/"),
            "{}",
            ran.err
        );
    }
    let ran = room.run("publish /deck --to /site --address http://bench.local:8040/wiring");
    assert_eq!(ran.status, 0, "{}", ran.err);
}

#[test]
fn one_bad_card_leaves_the_old_site_as_it_was() {
    let room = Room::with(&[DECK, GOOD]);
    assert_eq!(room.run("publish /deck --to /site").status, 0);
    let before = room.site();
    room.put(
        "deck/cards/other.yaml",
        &GOOD.1.replace("role: ground", "role: grund"),
    );
    let ran = room.run("publish /deck --to /site");
    assert_eq!((ran.status, ran.out.as_str()), (1, ""));
    assert!(
        ran.err.contains("ROOM/deck/cards/other.yaml:7:13"),
        "{}",
        ran.err
    );
    let close = "; nothing was published, ROOM/site is as it was\n";
    assert!(ran.err.ends_with(close), "{}", ran.err);
    assert!(before == room.site());
    let json = room.run("publish /deck --to /site --json").json();
    assert_eq!((&json["pages"], &json["bytes"]), (&0.into(), &0.into()));
}

#[test]
fn an_empty_deck_is_published_with_a_warning() {
    let room = Room::with(&[DECK]);
    let ran = room.run("publish /deck --to /site");
    assert_eq!(ran.status, 0);
    let warning = "warning[empty-deck]: the deck has no cards yet\n--> ROOM/deck/deck.yaml\n |\n\
                   try: write the first card as `cards/NAME.yaml`\n\n1 warning\n";
    assert_eq!(ran.err, warning);
    assert!(ran.out.starts_with("published 0 cards as "), "{}", ran.out);
}

#[test]
fn a_folder_that_is_no_deck_is_one_clear_message() {
    let room = Room::with(&[("file", "x")]);
    let missing = "error: could not read the deck ROOM/deck: there is no such folder\n  \
                   try: check the name: a deck is a folder with a `deck.yaml` in it\n";
    for line in [
        "inspect /deck",
        "publish /deck --to /site",
        "expect /deck lever",
        "preview /deck",
    ] {
        room.run(line).check(2, "", missing);
    }
    let file = "error: could not read the deck ROOM/file: it is a file, not a folder\n  \
                try: name the folder that holds `deck.yaml`\n";
    room.run("inspect /file").check(2, "", file);
}

#[test]
fn a_place_that_takes_no_site_is_one_clear_message() {
    let room = Room::with(&[DECK, GOOD, ("file", "mine"), ("photos/cat.png", "mine")]);
    let cases = [
        (
            "/file/site",
            "error: could not make the folder ROOM/file: a file stands where a folder is needed\n  \
             try: choose another folder, or move that file away\n",
        ),
        (
            "/photos",
            "error: could not replace ROOM/photos: it is not empty, and no earlier site of ours\n  \
             try: choose an empty or new folder; replacing would lose what is in this one\n",
        ),
        (
            "/deck/site",
            "error: could not publish to ROOM/deck/site: it lies inside the deck\n  \
             try: choose a folder beside the deck, such as ROOM/deck-site\n",
        ),
    ];
    for (to, complaint) in cases {
        room.run(&format!("publish /deck --to {to}"))
            .check(2, "", complaint);
    }
}

#[test]
fn a_read_only_place_is_named() {
    let room = Room::with(&[DECK, GOOD]);
    let ran = room.run("publish /deck --to //proc/site");
    assert_eq!((ran.status, ran.out.as_str()), (2, ""));
    let start = "error: could not make the folder /proc/.site.loomleaf-new: ";
    assert!(ran.err.starts_with(start), "{}", ran.err);
    assert!(ran.err.contains("\n  try: "), "{}", ran.err);
}

#[test]
fn a_run_killed_at_any_moment_leaves_a_whole_site() {
    let room = Room::with(&[DECK, GOOD]);
    room.put("other/deck.yaml", "title: Slip four\n");
    room.put("other/cards/lever.yaml", GOOD.1);
    let whole: Vec<_> = ["deck", "other"]
        .map(|deck| {
            assert_eq!(room.run(&format!("publish /{deck} --to /site")).status, 0);
            room.site()
        })
        .into();
    assert!(whole[0] != whole[1]);
    let started = Instant::now();
    assert!(publisher(&room, "deck").wait().unwrap().success());
    let one_run = started.elapsed();
    for step in 0..12 {
        let mut run = publisher(&room, ["other", "deck"][step % 2]);
        // Nothing is ever sent: the channel is a clock.
        let (_clock, never) = std::sync::mpsc::channel::<()>();
        let _ = never.recv_timeout(one_run * u32::try_from(step).unwrap() / 10);
        run.kill().unwrap();
        run.wait().unwrap();
        let site = room.site();
        assert!(whole.contains(&site), "after {step} of 10 parts of a run");
    }
    assert_eq!(room.run("publish /deck --to /site").status, 0);
    let names = std::fs::read_dir(room.0.path()).unwrap();
    let mut names: Vec<_> = names.map(|entry| entry.unwrap().file_name()).collect();
    names.sort();
    assert_eq!(names, ["deck", "other", "site"], "leftovers are cleared");
}

/// The program itself, publishing.
fn publisher(room: &Room, deck: &str) -> Child {
    Command::new(env!("CARGO_BIN_EXE_loomleaf"))
        .args(["publish", deck, "--to", "site"])
        .current_dir(room.0.path())
        .stdout(Stdio::null())
        .spawn()
        .unwrap()
}
