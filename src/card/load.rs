//! A deck on disk: the only contact of cards with files.
//!
//! In: a folder. Out: what `read` makes of its files, and their texts for drawing findings. Never
//! writes; follows no link that leaves the deck.

use super::Deck;
use super::read_deck::read;
use crate::finding::{self, Finding, kinds};
use std::collections::BTreeMap;
use std::fmt;
use std::fs;
use std::path::{Path, PathBuf};
use walkdir::{DirEntry, WalkDir};

/// A deck as loaded.
#[derive(Clone, Debug)]
pub struct Loaded {
    /// The deck; none where there is no readable `deck.yaml`.
    pub deck: Option<Deck>,
    /// Every problem of its files, sorted by place.
    pub findings: Vec<Finding>,
    /// The files' texts by deck-relative path, and the shipped ones as `shipped/NAME.yaml`.
    pub texts: BTreeMap<String, String>,
}

/// Why a folder could not be read as a deck.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LoadError {
    /// What was tried: `read the deck`.
    pub tried: &'static str,
    /// On what.
    pub path: PathBuf,
    /// Why it failed.
    pub cause: String,
    /// One thing to do.
    pub hint: String,
}

impl fmt::Display for LoadError {
    fn fmt(&self, words: &mut fmt::Formatter<'_>) -> fmt::Result {
        let path = self.path.display();
        write!(words, "could not {} {path}: {}", self.tried, self.cause)
    }
}

impl std::error::Error for LoadError {}

/// The files of a deck by deck-relative path.
pub type DeckFiles = BTreeMap<String, Vec<u8>>;

/// Loads the deck in a folder, with the files that ship beside it.
///
/// # Errors
/// As [`files`].
pub fn load<N: AsRef<str>, T: AsRef<str>>(
    folder: &Path,
    shipped: &[(N, T)],
) -> Result<Loaded, LoadError> {
    let (files, mut findings) = files(folder)?;
    let (deck, read_findings) = read(&files, shipped);
    findings.extend(read_findings);
    finding::sort(&mut findings);
    Ok(Loaded {
        deck,
        findings,
        texts: texts(&files, shipped),
    })
}

/// The files of the deck in a folder, and what is wrong with files that are not read.
///
/// # Errors
/// A [`LoadError`] where the folder is missing or no folder, or where it or a file in it can not be read.
pub fn files(folder: &Path) -> Result<(DeckFiles, Vec<Finding>), LoadError> {
    check_folder(folder)?;
    let mut files = BTreeMap::new();
    let mut findings = Vec::new();
    let walk = WalkDir::new(folder).follow_links(false).max_depth(8);
    for entry in walk.into_iter().filter_entry(is_of_the_deck) {
        let entry = entry.map_err(|error| {
            let path = error.path().unwrap_or(folder).to_path_buf();
            failed("read the folder", path, &error.to_string())
        })?;
        let Some(name) = name_in(folder, entry.path()) else {
            continue;
        };
        if entry.file_type().is_symlink() && !stays_inside(folder, entry.path()) {
            findings.push(kinds::link_outside(&name));
        } else if entry.path().is_file() {
            let read = fs::read(entry.path());
            let bytes = read.map_err(|error| {
                failed(
                    "read the file",
                    entry.path().to_path_buf(),
                    &error.to_string(),
                )
            })?;
            files.insert(name, bytes);
        }
    }
    Ok((files, findings))
}

fn texts<N: AsRef<str>, T: AsRef<str>>(
    files: &BTreeMap<String, Vec<u8>>,
    shipped: &[(N, T)],
) -> BTreeMap<String, String> {
    let own = files
        .iter()
        .map(|(name, bytes)| (name.clone(), text(bytes)));
    let ours = shipped.iter().map(|(name, text)| {
        let name = name.as_ref();
        let name = name.strip_prefix("families/").unwrap_or(name);
        (format!("shipped/{name}"), text.as_ref().to_owned())
    });
    own.chain(ours).collect()
}

fn check_folder(folder: &Path) -> Result<(), LoadError> {
    let error = |cause: String, hint: &str| {
        Err(LoadError {
            tried: "read the deck",
            path: folder.to_path_buf(),
            cause,
            hint: hint.to_owned(),
        })
    };
    match fs::metadata(folder) {
        Ok(found) if found.is_dir() => Ok(()),
        Ok(_) => error(
            "it is a file, not a folder".into(),
            "name the folder that holds `deck.yaml`",
        ),
        Err(cause) if cause.kind() == std::io::ErrorKind::NotFound => error(
            "there is no such folder".into(),
            "check the name: a deck is a folder with a `deck.yaml` in it",
        ),
        Err(cause) => error(cause.to_string(), "check who may read the folder"),
    }
}

fn failed(tried: &'static str, path: PathBuf, cause: &str) -> LoadError {
    LoadError {
        tried,
        path,
        cause: cause.to_owned(),
        hint: "check who may read it".to_owned(),
    }
}

/// Not hidden, and no left-over of an editor.
fn is_of_the_deck(entry: &DirEntry) -> bool {
    let name = entry.file_name().to_string_lossy();
    let left_over = name.ends_with('~')
        || name.starts_with('#')
        || [".bak", ".swp", ".swo", ".orig", ".tmp"]
            .iter()
            .any(|ending| name.ends_with(ending));
    entry.depth() == 0 || !(name.starts_with('.') || left_over)
}

/// The path below the folder with `/` between its parts; none for the folder itself.
fn name_in(folder: &Path, path: &Path) -> Option<String> {
    let below = path.strip_prefix(folder).ok()?;
    let parts: Vec<_> = below.iter().map(|part| part.to_string_lossy()).collect();
    (!parts.is_empty()).then(|| parts.join("/"))
}

/// Whether a link ends at something inside the folder.
fn stays_inside(folder: &Path, link: &Path) -> bool {
    let real = |path: &Path| fs::canonicalize(path).ok();
    match (real(folder), real(link)) {
        (Some(folder), Some(target)) => target.starts_with(folder),
        _ => false,
    }
}

/// The text of a file without its byte-order mark, bad bytes replaced.
fn text(bytes: &[u8]) -> String {
    let text = String::from_utf8_lossy(bytes);
    text.strip_prefix('\u{feff}').unwrap_or(&text).to_owned()
}
