//! The way from a folder on disk to a site in memory: load, solve, draw; findings beside all of it.
//!
//! In: a deck's folder. Out: what was loaded, solved and drawn, with every finding of the deck sorted
//! by place. An error stops before pages. Never writes.

use super::{Files, SiteOptions, site};
use crate::card::{Deck, shipped};
use crate::finding::{Finding, Severity, nearest};
use crate::sheet::Sheet;
use awaited::{load, sheets};
use std::fs;
use std::path::{Path, PathBuf};

/// A deck, solved.
#[derive(Debug)]
pub struct Prepared {
    /// As loaded.
    pub deck: Deck,
    /// One for each card that could be solved.
    pub sheets: Vec<Sheet>,
    /// All findings, by place.
    pub findings: Vec<Finding>,
}

/// A site in memory.
#[derive(Debug)]
pub struct Built {
    /// Path to bytes; empty where an error stopped before pages.
    pub files: Files,
    /// How many cards the deck has.
    pub cards: usize,
    /// All findings, by place.
    pub findings: Vec<Finding>,
}

/// Why a folder could not be read as a deck at all.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DeckError {
    /// The folder.
    pub folder: PathBuf,
    /// Why.
    pub cause: String,
    /// One thing to do.
    pub hint: String,
}

/// Loads and solves the deck in this folder.
///
/// # Errors
/// When there is no such folder, or it can't be listed.
pub fn prepare(folder: &Path) -> Result<Prepared, DeckError> {
    check_folder(folder)?;
    let (deck, mut findings) = load(folder, &shipped());
    let (sheets, physics) = sheets(&deck);
    findings.extend(physics);
    sort(&mut findings);
    Ok(Prepared {
        deck,
        sheets,
        findings,
    })
}

/// Loads, solves and draws the deck in this folder.
///
/// # Errors
/// When there is no such folder, or it can't be listed.
pub fn build(folder: &Path, options: &SiteOptions) -> Result<Built, DeckError> {
    let Prepared {
        deck,
        sheets,
        mut findings,
    } = prepare(folder)?;
    let mut files = Files::new();
    if !has_error(&findings) {
        let (drawn, broken) = site(&deck, &sheets, options);
        findings.extend(broken);
        sort(&mut findings);
        files = drawn;
    }
    if has_error(&findings) {
        files.clear();
    }
    Ok(Built {
        files,
        cards: deck.cards.len(),
        findings,
    })
}

/// The text a finding's place stands in: a file of the deck, or of the content that ships.
pub fn source_text(folder: &Path, file: &str) -> Option<String> {
    if let Some(name) = file.strip_prefix("shipped/") {
        let ours = |known: &str| known == name || known.strip_prefix("families/") == Some(name);
        return shipped()
            .into_iter()
            .find(|(known, _)| ours(known))
            .map(|(_, text)| text);
    }
    let bytes = fs::read(folder.join(file)).ok()?;
    Some(String::from_utf8_lossy(&bytes).into_owned())
}

fn has_error(findings: &[Finding]) -> bool {
    findings
        .iter()
        .any(|finding| finding.kind.severity == Severity::Error)
}

fn sort(findings: &mut [Finding]) {
    findings.sort_by(|a, b| (&a.place, a.kind.code).cmp(&(&b.place, b.kind.code)));
}

fn check_folder(folder: &Path) -> Result<(), DeckError> {
    let error = |cause: &str, hint: String| {
        Err(DeckError {
            folder: folder.to_path_buf(),
            cause: cause.into(),
            hint,
        })
    };
    match fs::metadata(folder) {
        Ok(found) if !found.is_dir() => error(
            "it is a file, not a folder",
            "give the folder that holds deck.yaml".into(),
        ),
        Ok(_) => match fs::read_dir(folder) {
            Ok(_) => Ok(()),
            Err(e) => error(&e.to_string(), "check who may read this folder".into()),
        },
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => error(
            "there is no such folder",
            match sibling(folder) {
                Some(near) => format!("did you mean {}?", near.display()),
                None => "give the folder that holds deck.yaml".into(),
            },
        ),
        Err(e) => error(
            &e.to_string(),
            "give the folder that holds deck.yaml".into(),
        ),
    }
}

/// A deck beside the folder that was asked for, with nearly its name.
fn sibling(folder: &Path) -> Option<PathBuf> {
    let parent = match folder.parent()? {
        here if here.as_os_str().is_empty() => Path::new("."),
        parent => parent,
    };
    let mut names: Vec<String> = fs::read_dir(parent)
        .ok()?
        .filter_map(Result::ok)
        .filter(|entry| entry.path().join("deck.yaml").is_file())
        .filter_map(|entry| entry.file_name().into_string().ok())
        .collect();
    names.sort();
    let typed = folder.file_name()?.to_str()?;
    let near = nearest(typed, names.iter().map(String::as_str))?;
    Some(folder.with_file_name(near))
}

/// Stand-ins of the stages that are still on their way to this branch.
mod awaited {
    use crate::card::{Deck, MeterSpec};
    use crate::finding::Finding;
    use crate::quantity::Toleranced;
    use crate::sheet::Sheet;
    use std::collections::BTreeMap;
    use std::path::Path;

    pub(super) fn load(_: &Path, _: &[(String, String)]) -> (Deck, Vec<Finding>) {
        let deck = Deck {
            title: String::new(),
            says: String::new(),
            systems: Vec::new(),
            meter: MeterSpec {
                of_reading: 0.005,
                counts: 2.0,
                display: 6_000.0,
            },
            battery: Toleranced {
                low: 11.8,
                nominal: 12.6,
                high: 14.8,
            },
            cards: Vec::new(),
            families: BTreeMap::new(),
            cautions: BTreeMap::new(),
        };
        (deck, Vec::new())
    }

    pub(super) fn sheets(_: &Deck) -> (Vec<Sheet>, Vec<Finding>) {
        (Vec::new(), Vec::new())
    }
}
