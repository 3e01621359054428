//! Misuse, help, and output that nobody reads to its end.

use super::{DECK, GOOD, Room};
use loomleaf::cli::Look;
use std::io::{self, Write};

#[test]
fn misuse_and_help_differ_in_status_and_stream() {
    let room = Room::with(&[]);
    for line in [
        "frobnicate",
        "inspect",
        "publish /deck",
        "inspect /deck --jsn",
        "preview /deck --port x",
        "diagnose /deck",
    ] {
        let ran = room.run(line);
        assert_eq!((ran.status, ran.out.as_str()), (2, ""), "{line}");
        assert!(ran.err.starts_with("error: "), "{line}: {}", ran.err);
    }
    for line in [
        "--help",
        "inspect --help",
        "publish --help",
        "preview --help",
        "find --help",
        "expect --help",
        "diagnose --help",
        "order --help",
        "reckon --help",
    ] {
        let ran = room.run(line);
        assert_eq!((ran.status, ran.err.as_str()), (0, ""), "{line}");
        assert!(ran.out.contains("loomleaf "), "{line}: {}", ran.out);
        assert!(
            line == "--help" || ran.out.contains("Example:"),
            "{line}: {}",
            ran.out
        );
    }
    let version = format!("loomleaf {}\n", env!("CARGO_PKG_VERSION"));
    room.run("--version").check(0, &version, "");
}

/// A reader that has enough after some bytes, as `head` does; or a full disk.
struct Closing {
    left: usize,
    then: io::ErrorKind,
}

impl Write for Closing {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if self.left == 0 {
            return Err(self.then.into());
        }
        let taken = bytes.len().min(self.left);
        self.left -= taken;
        Ok(taken)
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[test]
fn a_reader_that_has_enough_is_no_failure_and_a_full_disk_is() {
    let room = Room::with(&[DECK, GOOD]);
    for line in [
        "inspect /deck",
        "expect /deck lever",
        "expect /deck lever --json",
        "diagnose /deck lever supply=5.00",
        "order /deck lever",
        "reckon",
        "reckon duty",
        "reckon duty on=1 off=1",
        "--help",
    ] {
        for left in [0, 5] {
            let status = |then, err: &mut Vec<u8>| {
                room.run_on(line, &mut Closing { left, then }, err, Look::Plain)
            };
            assert_eq!(
                status(io::ErrorKind::BrokenPipe, &mut Vec::new()),
                0,
                "{line}"
            );
            let mut err = Vec::new();
            assert_eq!(status(io::ErrorKind::StorageFull, &mut err), 2, "{line}");
            assert!(
                err.starts_with(b"error: could not print the answer"),
                "{line}"
            );
        }
    }
}
