//! The terminal: a deck on disk and arguments in, what is printed and the exit status out.

use loomleaf::cli::{Console, Look, run_to};
use serde_json::Value;
use std::collections::BTreeMap;
use std::ffi::OsString;
use std::fs;
use std::io::Write;

mod diagnose;
mod digits;
mod expect;
mod findings;
mod own_orders;
mod preview;
mod publish;
mod reckon;
mod usage;
mod wording;

const DECK: (&str, &str) = ("deck/deck.yaml", "title: Slip three\n");

const GOOD: (&str, &str) = (
    "deck/cards/lever.yaml",
    "title: Winch lever
family: position-pot
codes: [P0120]
pins:
  1: {role: reference}
  2: {role: signal}
  3: {role: ground}
parameters:
  pull: down
signal:
  - {at: rest, reads: 0.7 to 1.2 V}
  - {at: full, reads: 3.9 to 4.5 V}
",
);

/// A folder to work in, `ROOM` in all that is printed.
struct Room(tempfile::TempDir);

/// What a run printed, and its status.
pub(crate) struct Ran {
    pub(crate) status: u8,
    pub(crate) out: String,
    pub(crate) err: String,
}

/// Runs the program in this process, with lines typed at its prompts.
pub(crate) fn run(args: impl IntoIterator<Item = impl Into<OsString>>, typed: &str) -> Ran {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let mut console = Console {
        input: &mut typed.as_bytes(),
        out: &mut out,
        err: &mut err,
        out_look: Look::Plain,
        err_look: Look::Plain,
    };
    let args = args.into_iter().map(Into::into);
    let status = run_to(std::iter::once("loomleaf".into()).chain(args), &mut console);
    let text = |bytes| String::from_utf8(bytes).unwrap();
    Ran {
        status,
        out: text(out),
        err: text(err),
    }
}

impl Room {
    fn with(files: &[(&str, &str)]) -> Self {
        let room = Self(tempfile::tempdir().unwrap());
        for (name, text) in files {
            room.put(name, text);
        }
        room
    }

    fn put(&self, name: &str, text: &str) {
        let path = self.0.path().join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    /// Runs the program; words with a slash at their head are in the room.
    fn run(&self, line: &str) -> Ran {
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let status = self.run_on(line, &mut out, &mut err, Look::Plain);
        let shown = |bytes: Vec<u8>| {
            let text = String::from_utf8(bytes).unwrap();
            let real = self.0.path().canonicalize().unwrap();
            text.replace(real.to_str().unwrap(), "ROOM")
                .replace(self.0.path().to_str().unwrap(), "ROOM")
        };
        Ran {
            status,
            out: shown(out),
            err: shown(err),
        }
    }

    fn run_on(
        &self,
        line: &str,
        out: &mut dyn Write,
        err: &mut (dyn Write + Send),
        look: Look,
    ) -> u8 {
        self.run_from(&mut std::io::empty(), line, out, err, look)
    }

    fn run_from(
        &self,
        input: &mut dyn std::io::BufRead,
        line: &str,
        out: &mut dyn Write,
        err: &mut (dyn Write + Send),
        look: Look,
    ) -> u8 {
        let words = line.split(' ').map(|word| match word.strip_prefix('/') {
            Some(name) => self.0.path().join(name).into_os_string(),
            None => OsString::from(word),
        });
        let args = std::iter::once("loomleaf".into()).chain(words);
        let mut console = Console {
            input,
            out,
            err,
            out_look: look,
            err_look: look,
        };
        run_to(args, &mut console)
    }

    fn site(&self) -> BTreeMap<String, Vec<u8>> {
        let site = self.0.path().join("site");
        let entries = walkdir::WalkDir::new(&site).into_iter().map(Result::unwrap);
        entries
            .filter(|entry| entry.file_type().is_file())
            .map(|entry| {
                let name = entry.path().strip_prefix(&site).unwrap();
                (
                    name.to_str().unwrap().to_string(),
                    fs::read(entry.path()).unwrap(),
                )
            })
            .collect()
    }
}

impl Ran {
    fn check(&self, status: u8, out: &str, err: &str) {
        assert_eq!((self.out.as_str(), self.err.as_str()), (out, err));
        assert_eq!(self.status, status);
    }

    fn json(&self) -> Value {
        serde_json::from_str(&self.out).unwrap()
    }
}
