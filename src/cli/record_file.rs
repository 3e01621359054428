//! The file of readings on disk: rows are added at its end, whole, and nothing in it is ever changed.
//!
//! In: a deck, a card's id, rows. Out: the file's path. Two people at once lose nothing: whoever writes holds a
//! lock on the file, writes everything in one piece at its end, and takes back a piece that did not fit.

use super::console::Trouble;
use crate::card::{READINGS_HEADER, delimiter_of, ends_inside_quotes};
use csv::{Terminator, WriterBuilder};
use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

/// How often a file that an editor replaces at this very moment is opened anew.
const PATIENCE: usize = 100;

/// Adds rows to `readings/CARD.csv`, which it makes where there is none.
pub(super) fn append(
    deck: &Path,
    card: &str,
    rows: &[[&str; READINGS_HEADER.len()]],
) -> Result<PathBuf, Trouble> {
    let folder = deck.join("readings");
    fs::create_dir_all(&folder).map_err(|error| trouble("make the folder", &folder, &error))?;
    let path = folder.join(format!("{card}.csv"));
    let mut file = locked(&path).map_err(|error| trouble("open", &path, &error))?;
    if !lies_inside(deck, &path) {
        let cause = "it is a link that leaves the deck";
        return Err(refused(&path, cause, "copy the file into the deck"));
    }
    let mut bytes = Vec::new();
    file.read_to_end(&mut bytes)
        .map_err(|error| trouble("read", &path, &error))?;
    let piece = piece(&bytes, rows).map_err(|(cause, hint)| refused(&path, cause, hint))?;
    let length = u64::try_from(bytes.len()).unwrap_or(u64::MAX);
    add(&mut file, &piece, length).map_err(|error| trouble("write", &path, &error))?;
    Ok(path)
}

/// The file, for this run alone until it is closed.
///
/// Editors save by putting a new file in the place of the old one: the file locked must still be the one that goes
/// by the name, or the rows would go where nobody reads them.
fn locked(path: &Path) -> io::Result<File> {
    let mut again = 0;
    loop {
        let file = OpenOptions::new()
            .read(true)
            .append(true)
            .create(true)
            .open(path)?;
        match file.lock() {
            // Where nothing can be locked, one write at the end of the file is what is left.
            Err(error) if error.kind() == io::ErrorKind::Unsupported => return Ok(file),
            locked => locked?,
        }
        if again == PATIENCE || is_still(path, &file)? {
            return Ok(file);
        }
        again += 1;
    }
}

#[cfg(unix)]
fn is_still(path: &Path, file: &File) -> io::Result<bool> {
    use std::os::unix::fs::MetadataExt;
    let held = file.metadata()?;
    match fs::metadata(path) {
        Ok(named) => Ok((named.dev(), named.ino()) == (held.dev(), held.ino())),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(false),
        Err(error) => Err(error),
    }
}

/// Elsewhere an open file can't be replaced.
#[cfg(not(unix))]
fn is_still(_: &Path, _: &File) -> io::Result<bool> {
    Ok(true)
}

fn lies_inside(deck: &Path, path: &Path) -> bool {
    match (fs::canonicalize(deck), fs::canonicalize(path)) {
        (Ok(deck), Ok(path)) => path.starts_with(deck),
        _ => false,
    }
}

/// What is added after what stands there: the header where the file is empty, the end of a last line that has none,
/// the rows. Delimiter and line ends are the file's own. Refuses what would not be read back.
fn piece(
    bytes: &[u8],
    rows: &[[&str; READINGS_HEADER.len()]],
) -> Result<Vec<u8>, (&'static str, &'static str)> {
    let Ok(text) = std::str::from_utf8(bytes) else {
        let hint = "save it from the spreadsheet as \u{201c}CSV UTF-8\u{201d}";
        return Err(("it is not UTF-8 text", hint));
    };
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let is_new = text.trim().is_empty();
    let delimiter = match delimiter_of(text) {
        Some(delimiter) => delimiter,
        None if is_new => b',',
        None => {
            let cause = "its first line does not name the columns of readings";
            return Err((cause, "begin it as README says, or move it away"));
        }
    };
    if ends_inside_quotes(text, delimiter) {
        return Err(("it ends inside double quotes", "close the quotes"));
    }
    let crlf = text.contains("\r\n");
    let end: &[u8] = if crlf { b"\r\n" } else { b"\n" };
    let mut piece = Vec::new();
    if !text.is_empty() && !text.ends_with('\n') {
        piece.extend_from_slice(end);
    }
    let mut writer = WriterBuilder::new()
        .delimiter(delimiter)
        .terminator(if crlf {
            Terminator::CRLF
        } else {
            Terminator::Any(b'\n')
        })
        .from_writer(piece);
    let header = is_new.then_some(READINGS_HEADER);
    for row in header.iter().chain(rows) {
        // A vector in memory takes every record of as many fields as the first.
        let written = writer.write_record(row);
        debug_assert!(written.is_ok());
    }
    writer
        .into_inner()
        .map_err(|_| ("its rows can't be put into words", "report this"))
}

/// Adds one piece and has the disk keep it; a piece that only half fits is taken back.
fn add(file: &mut File, piece: &[u8], length: u64) -> io::Result<()> {
    let written = file.write_all(piece).and_then(|()| file.sync_data());
    if written.is_err() {
        // Nobody else adds while the lock is held, so what stands after `length` is this run's own.
        let _ = file.set_len(length);
    }
    written
}

fn trouble(tried: &str, path: &Path, error: &io::Error) -> Trouble {
    Trouble {
        what: format!("could not {tried} {}", path.display()),
        cause: error.to_string(),
        hint: "check who may write there, and that the disk is not full".into(),
    }
}

fn refused(path: &Path, cause: &str, hint: &str) -> Trouble {
    Trouble {
        what: format!("could not add to {}", path.display()),
        cause: cause.into(),
        hint: hint.into(),
    }
}
