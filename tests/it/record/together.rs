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
    assert!(room.known().1.is_empty());
}

#[test]
fn threads_at_once_lose_nothing() {
    let room = Room::new();
    let who: Vec<String> = (0..8).map(|n| format!("thread {n}")).collect();
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
    let who: Vec<String> = (0..8).map(|n| format!("process {n}")).collect();
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

/// An editor saves by putting a new file in the place of the old one. A run that waited for the old one must not write
/// there: nobody would read it.
#[cfg(target_os = "linux")]
#[test]
fn a_file_replaced_while_a_run_waits_gets_the_row() {
    use std::fs::{self, File};
    use std::os::unix::fs::MetadataExt;
    let room = Room::with("");
    let held = File::open(room.path("readings/lever.csv")).unwrap();
    held.lock().unwrap();
    let mut run = Command::new(env!("CARGO_BIN_EXE_loomleaf"));
    run.arg("record")
        .arg(room.0.path())
        .args(["lever", "supply=5.01 V"]);
    let mut child = run.stdout(std::process::Stdio::null()).spawn().unwrap();
    // The kernel's list of locks shows who waits: `-> FLOCK ... device:inode`.
    let waits = format!(":{} ", held.metadata().unwrap().ino());
    let waiting = |line: &str| line.contains("->") && line.contains(&waits);
    while !fs::read_to_string("/proc/locks")
        .unwrap()
        .lines()
        .any(waiting)
    {
        assert!(
            child.try_wait().unwrap().is_none(),
            "it ended without waiting"
        );
        std::thread::yield_now();
    }
    let by_hand = "2026-01-05,van,supply,,5.00 V,,by hand\n";
    room.put("readings/lever.csv~", &format!("{HEADER}{by_hand}"));
    fs::rename(
        room.path("readings/lever.csv~"),
        room.path("readings/lever.csv"),
    )
    .unwrap();
    drop(held);
    assert!(child.wait().unwrap().success());
    let text = room.rows();
    assert!(text.starts_with(&format!("{HEADER}{by_hand}")), "{text}");
    assert!(text.ends_with(",,supply,,5.01 V,,\n"), "{text}");
}

/// A disk that is full in the middle of a row: a limit on the size of files refuses the rest of the piece.
#[cfg(unix)]
#[test]
fn a_row_that_only_half_fits_is_taken_back() {
    let room = Room::new();
    let row = "2026-01-05,van,supply,,5.00 V,,by hand\n";
    let before = format!("{HEADER}{}", row.repeat(11));
    // One block of 512 bytes ends inside the new row.
    assert!((470..512).contains(&before.len()), "{}", before.len());
    room.put("readings/lever.csv", &before);
    let line = "trap '' XFSZ; ulimit -f 1; exec \"$0\" record \"$1\" lever 'supply=5.01 V' --note 'long enough for the block'";
    let mut run = Command::new("sh");
    run.args(["-c", line, env!("CARGO_BIN_EXE_loomleaf")])
        .arg(room.0.path());
    let ran = run.output().unwrap();
    let err = String::from_utf8(ran.stderr).unwrap();
    assert_eq!(ran.status.code(), Some(2), "{err}");
    assert!(err.contains("could not write"), "{err}");
    assert_eq!(room.rows(), before);
}
