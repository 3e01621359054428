//! Rows on disk: what stands there stays to the byte, in the file's own manner; what could not be read back is refused.

use super::{HEADER, Room};
use std::fs;

const ROW: &str = "2026-11-25,,supply,,5.01 V,,\n";

fn check(before: &str, after: &str) {
    let room = Room::new();
    room.put("readings/lever.csv", before);
    let (status, _, err) = room.record(&["supply=5.01 V"]);
    assert_eq!(status, 0, "{before}: {err}");
    assert_eq!(room.rows(), after);
    assert!(room.known().1.is_empty(), "{after}: {:?}", room.known().1);
}

#[test]
fn a_row_goes_after_what_stands_there_in_the_same_manner() {
    let one = "2026-01-05,van,supply,,5 V,,by hand";
    check("", &format!("{HEADER}{ROW}"));
    check("\n", &format!("\n{HEADER}{ROW}"));
    check(HEADER, &format!("{HEADER}{ROW}"));
    check(HEADER.trim_end(), &format!("{HEADER}{ROW}"));
    check(&format!("{HEADER}{one}"), &format!("{HEADER}{one}\n{ROW}"));
    let windows = format!("{HEADER}{one}").replace('\n', "\r\n");
    check(
        &windows,
        &format!("{windows}\r\n{}", ROW.replace('\n', "\r\n")),
    );
    let marked = format!("\u{feff}{HEADER}");
    check(&marked, &format!("{marked}{ROW}"));
    let semicolons = HEADER.replace(',', ";");
    check(
        &semicolons,
        &format!("{semicolons}{}", ROW.replace(',', ";")),
    );
    let quoted = format!(
        "{HEADER}{},\"two\nlines \"\"5\"\"\"\n",
        one.rsplit_once(',').unwrap().0
    );
    check(&quoted, &format!("{quoted}{ROW}"));
    let inch = format!("{HEADER}{one} 5\" pipe\n");
    check(&inch, &format!("{inch}{ROW}"));
}

#[test]
fn what_could_not_be_read_back_is_refused_and_left_as_it_is() {
    let open = format!("{HEADER}2026-01-05,van,supply,,5 V,,\"by hand\n");
    for (before, says) in [
        (
            b"date,van\n".to_vec(),
            "its first line does not name the columns",
        ),
        (open.into_bytes(), "it ends inside double quotes"),
        (b"caf\xe9".to_vec(), "it is not UTF-8 text"),
    ] {
        let room = Room::new();
        room.put("readings/lever.csv", "");
        fs::write(room.path("readings/lever.csv"), &before).unwrap();
        let (status, _, err) = room.record(&["supply=5.01 V"]);
        assert_eq!(status, 2);
        assert!(
            err.contains("could not add to DECK/readings/lever.csv") && err.contains(says),
            "{err}"
        );
        assert_eq!(fs::read(room.path("readings/lever.csv")).unwrap(), before);
    }
}

#[test]
fn a_place_where_nothing_can_be_written_is_named() {
    let room = Room::new();
    room.put("readings", "a file");
    let (status, _, err) = room.record(&["supply=5.01 V"]);
    assert_eq!(status, 2);
    assert!(
        err.contains("could not make the folder DECK/readings"),
        "{err}"
    );
    let room = Room::new();
    fs::create_dir_all(room.path("readings/lever.csv")).unwrap();
    let (status, _, err) = room.record(&["supply=5.01 V"]);
    assert_eq!(status, 2);
    assert!(
        err.contains("could not open DECK/readings/lever.csv"),
        "{err}"
    );
}

/// A link out of the deck is not read, so nothing may be written there either.
#[cfg(unix)]
#[test]
fn no_row_leaves_the_deck_by_a_link() {
    let outside = tempfile::tempdir().unwrap();
    let goal = outside.path().join("theirs.csv");
    fs::write(&goal, HEADER).unwrap();
    let room = Room::new();
    fs::create_dir(room.path("readings")).unwrap();
    std::os::unix::fs::symlink(&goal, room.path("readings/lever.csv")).unwrap();
    let (status, _, err) = room.record(&["supply=5.01 V"]);
    assert_eq!(status, 2);
    assert!(err.contains("it is a link that leaves the deck"), "{err}");
    assert_eq!(fs::read_to_string(goal).unwrap(), HEADER);
}
