//! Many people at once: every row of every run is there once, whole, under one header.

use super::{HEADER, Room};
use std::collections::BTreeSet;
use std::process::{Child, Command};

/// Rows a run writes.
const READINGS: usize = 40;

fn note(who: &str) -> String {
    format!(
        "{who}, {}",
        "long enough for more than one block. ".repeat(4)
    )
}

fn words(who: &str) -> Vec<String> {
    let mut words = vec!["lever".to_owned()];
    words.extend((0..READINGS).map(|at| {
        format!(
            "supply={:.3} V",
            4.95 + f64::from(u8::try_from(at).unwrap()) / 1e3
        )
    }));
    words.extend(["--vehicle", who, "--note", &note(who)].map(str::to_owned));
    words
}

fn check(room: &Room, who: &[String]) {
    let text = room.rows();
    assert_eq!(text.matches(HEADER.trim_end()).count(), 1, "one header");
    assert!(text.starts_with(HEADER) && text.ends_with('\n'));
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let mut found = Vec::new();
    for row in reader.records() {
        let row = row.unwrap();
        assert_eq!(row.len(), 7, "{row:?}");
        assert_eq!(&row[6], note(&row[1]).trim(), "{row:?}");
        found.push((row[1].to_owned(), row[4].to_owned()));
    }
    assert_eq!(found.len(), who.len() * READINGS);
    let each: BTreeSet<_> = found.iter().cloned().collect();
    assert_eq!(each.len(), found.len(), "no row twice");
    // All rows of one call stand together: they were written in one piece.
    let mut vehicles: Vec<&String> = found.iter().map(|(vehicle, _)| vehicle).collect();
    vehicles.dedup();
    assert_eq!(vehicles.len(), who.len());
    assert!(room.sheet().1.is_empty());
}

#[test]
fn threads_at_once_lose_nothing() {
    let room = Room::new();
    let who: Vec<String> = (0..12).map(|n| format!("thread {n}")).collect();
    std::thread::scope(|scope| {
        for who in &who {
            let room = &room;
            scope.spawn(move || {
                let words = words(who);
                let words: Vec<&str> = words.iter().map(String::as_str).collect();
                let (status, _, err) = room.run("record", &words);
                assert_eq!(status, 0, "{err}");
            });
        }
    });
    check(&room, &who);
}

#[test]
fn processes_at_once_lose_nothing() {
    let room = Room::new();
    let who: Vec<String> = (0..12).map(|n| format!("process {n}")).collect();
    let start = |who: &String| -> Child {
        let mut run = Command::new(env!("CARGO_BIN_EXE_loomleaf"));
        run.arg("record").arg(room.0.path()).args(words(who));
        run.stdout(std::process::Stdio::null()).spawn().unwrap()
    };
    let children: Vec<Child> = who.iter().map(start).collect();
    for mut child in children {
        assert!(child.wait().unwrap().success());
    }
    check(&room, &who);
}
