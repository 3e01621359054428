//! The index that `find` keeps of a large deck: made once, made again when a card changes, never trusted when damaged.

use std::fs;
use std::path::Path;
use std::process::Command;

/// More than a deck that is indexed anew each time.
const CARDS: usize = 310;

/// `find` as a process of its own: its status, and what it printed.
fn find(room: &Path, words: &str) -> (bool, String) {
    let ran = Command::new(env!("CARGO_BIN_EXE_loomleaf"))
        .arg("find")
        .arg(room.join("deck"))
        .arg(words)
        .env("XDG_CACHE_HOME", room.join("caches"))
        .output()
        .unwrap();
    let out = String::from_utf8(ran.stdout).unwrap();
    (ran.status.success(), out)
}

/// What is kept, by name.
fn kept(room: &Path) -> Vec<(String, Vec<u8>)> {
    let entries = fs::read_dir(room.join("caches/loomleaf")).unwrap();
    let files = entries.map(|entry| {
        let entry = entry.unwrap();
        let bytes = fs::read(entry.path()).unwrap();
        (entry.file_name().into_string().unwrap(), bytes)
    });
    files.collect()
}

#[test]
fn the_index_of_a_large_deck_is_kept_and_made_again_when_a_card_changes() {
    let room = tempfile::tempdir().unwrap();
    let (room, cards) = (room.path(), room.path().join("deck/cards"));
    fs::create_dir_all(&cards).unwrap();
    fs::write(room.join("deck/deck.yaml"), "title: Large\n").unwrap();
    let like = fs::read_to_string(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/demo/cards/oil-pressure.yaml"
    ));
    let like = like.unwrap().replace("system: engine\n", "");
    for number in 0..CARDS {
        let title = format!("title: Pump {number} pressure");
        let card = like.replace("title: Engine oil pressure sensor", &title);
        fs::write(cards.join(format!("pump-{number}.yaml")), card).unwrap();
    }
    let (found, first) = find(room, "pump 217");
    assert!(found && first.contains("[pump-217]"), "{first}");
    let made = kept(room);
    assert_eq!(made.len(), 1);

    assert_eq!(find(room, "pump 217"), (true, first.clone()));
    assert_eq!(kept(room), made, "read, not made again");

    let place = room.join("caches/loomleaf").join(&made[0].0);
    let mut damaged = made[0].1.clone();
    let middle = damaged.len() / 2;
    damaged[middle] ^= 1;
    fs::write(&place, damaged).unwrap();
    assert_eq!(find(room, "pump 217"), (true, first));
    assert_eq!(kept(room), made, "made again");

    let card = cards.join("pump-217.yaml");
    let changed = fs::read_to_string(&card)
        .unwrap()
        .replace("Pump 217", "Gearbox 217");
    fs::write(&card, changed).unwrap();
    let (_, now) = find(room, "gearbox 217");
    assert!(now.contains("Gearbox 217 pressure  [pump-217]"), "{now}");
    let after = kept(room);
    assert_eq!(after.len(), 1, "the old one is gone");
    assert_ne!(after[0].0, made[0].0);
}
