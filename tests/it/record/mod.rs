//! Known-good readings: rows in a deck and arguments in; findings, bands, pages and files of rows out.

use crate::cli::run;
use loomleaf::card::{load, shipped};
use loomleaf::finding::Finding;
use loomleaf::sheet::{KnownGood, Sheet, known_good, sheet};
use serde_json::Value;
use std::ffi::OsString;
use std::fs;
use std::path::PathBuf;
use std::sync::LazyLock;

mod bands;
mod files;
mod rows;
mod together;
mod verb;

pub(super) const HEADER: &str = "date,vehicle,test,state,reading,meter,note\n";

const CARD: &str = "title: Winch lever
family: position-pot
pins:
  1: {role: reference}
  2: {role: signal}
  3: {role: ground}
parameters: {pull: down}
signal:
  - {at: rest, reads: 0.7 to 1.2 V}
  - {at: full, reads: 3.9 to 4.5 V}
";

/// A deck of one card, `lever`, in a folder of its own.
struct Room(tempfile::TempDir);

impl Room {
    fn new() -> Self {
        let room = Self(tempfile::tempdir().unwrap());
        room.put("deck.yaml", "title: Slip three\n");
        room.put("cards/lever.yaml", CARD);
        room
    }

    /// With these rows under the header.
    fn with(rows: &str) -> Self {
        let room = Self::new();
        room.put("readings/lever.csv", &format!("{HEADER}{rows}"));
        room
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn put(&self, name: &str, text: &str) {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    fn rows(&self) -> String {
        fs::read_to_string(self.path("readings/lever.csv")).unwrap()
    }

    /// `loomleaf VERB DECK ...`: status, answer, complaints.
    fn run(&self, verb: &str, words: &[&str]) -> (u8, String, String) {
        let head = [OsString::from(verb), self.0.path().into()];
        let ran = run(head.into_iter().chain(words.iter().map(OsString::from)), "");
        let shown = |text: String| text.replace(self.0.path().to_str().unwrap(), "DECK");
        (ran.status, shown(ran.out), shown(ran.err))
    }

    /// `record DECK lever ...` on a fixed day.
    fn record(&self, words: &[&str]) -> (u8, String, String) {
        let all = [&["lever", "--date", "2026-11-25"], words].concat();
        self.run("record", &all)
    }

    fn json(&self, verb: &str, words: &[&str]) -> Value {
        let (_, out, err) = self.run(verb, &[words, &["--json"]].concat());
        serde_json::from_str(&out).unwrap_or_else(|error| panic!("{error}: {out}{err}"))
    }

    /// What is known from the readings, and all findings of the deck: as [`Self::sheet`], with the card solved once
    /// for all tests.
    fn known(&self) -> (Vec<KnownGood>, Vec<Finding>) {
        static SOLVED: LazyLock<Sheet> = LazyLock::new(|| Room::new().sheet().0);
        let loaded = load(self.0.path(), &shipped()).unwrap();
        let (known, strange) = known_good(&loaded.deck.unwrap(), &SOLVED);
        let mut findings = loaded.findings;
        findings.extend(strange);
        (known, findings)
    }

    /// The sheet of the card, and all findings of the deck.
    fn sheet(&self) -> (Sheet, Vec<Finding>) {
        let loaded = load(self.0.path(), &shipped()).unwrap();
        let deck = loaded.deck.unwrap();
        let (sheet, physics) = sheet(&deck, &deck.cards[0]);
        let mut findings = loaded.findings;
        findings.extend(physics);
        (sheet.unwrap(), findings)
    }
}

/// Rows of one test in one state at shuttle 1, 2, ..., each on a day of its own.
fn rows_of(test: &str, state: &str, readings: &[&str]) -> String {
    let rows = readings.iter().zip(1..);
    rows.map(|(reading, n)| format!("2026-11-{n:02},shuttle {n},{test},{state},{reading},,\n"))
        .collect()
}
