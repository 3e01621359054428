//! The way from a folder on disk to a site in memory: load, solve, draw; findings beside all of it.
//!
//! In: a deck's folder. Out: what was loaded, solved and drawn, with every finding of the deck sorted
//! by place. An error stops before pages. Never writes.

use super::{Files, SiteOptions, site};
use crate::card::{Deck, LoadError, Loaded, load, shipped};
use crate::circuit::Bands;
use crate::finding::{self, Finding, Severity};
use crate::sheet::{Sheet, sheet, sheet_with};
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::path::Path;

/// A deck, solved.
#[derive(Debug)]
pub struct Prepared {
    /// As loaded; none where its `deck.yaml` can't be used.
    pub deck: Option<Deck>,
    /// One for each card that could be solved.
    pub sheets: Vec<Sheet>,
    /// All findings, by place.
    pub findings: Vec<Finding>,
    /// The texts that findings point into, by file.
    pub texts: BTreeMap<String, String>,
}

/// A site in memory.
#[derive(Debug)]
pub struct Built {
    /// Path to bytes; empty where an error stopped before pages.
    pub files: Files,
    /// All findings, by place.
    pub findings: Vec<Finding>,
    /// The texts that findings point into, by file.
    pub texts: BTreeMap<String, String>,
}

/// Loads and solves the deck in this folder.
///
/// # Errors
/// When there is no such folder, or something in it can't be read.
pub fn prepare(folder: &Path) -> Result<Prepared, LoadError> {
    let Loaded {
        deck,
        mut findings,
        texts,
    } = load(folder, &shipped())?;
    let (sheets, physics) = deck.as_ref().map(solved).unwrap_or_default();
    findings.extend(physics);
    finding::sort(&mut findings);
    Ok(Prepared {
        deck,
        sheets,
        findings,
        texts,
    })
}

/// The sheets of all cards and what physics found, solved on all cores, in the deck's order.
fn solved(deck: &Deck) -> (Vec<Sheet>, Vec<Finding>) {
    let bands = Bands::default();
    let cards = deck.cards.par_iter();
    let each = cards.map(|card| sheet_with(deck, card, &bands));
    let (sheets, findings): (Vec<_>, Vec<_>) = each.unzip();
    (
        sheets.into_iter().flatten().collect(),
        findings.into_iter().flatten().collect(),
    )
}

/// Loads a deck and solves one of its cards: `sheets` holds that one, or none.
///
/// # Errors
/// When there is no such folder, or something in it can't be read.
pub fn prepare_card(folder: &Path, id: &str) -> Result<Prepared, LoadError> {
    let Loaded {
        deck,
        mut findings,
        texts,
    } = load(folder, &shipped())?;
    let solved = deck.as_ref().and_then(|deck| {
        let card = deck.cards.iter().find(|card| card.id == id)?;
        Some(sheet(deck, card))
    });
    let (sheet, physics) = solved.unwrap_or_default();
    findings.extend(physics);
    finding::sort(&mut findings);
    Ok(Prepared {
        deck,
        sheets: sheet.into_iter().collect(),
        findings,
        texts,
    })
}

/// Loads, solves and draws the deck in this folder.
///
/// # Errors
/// When there is no such folder, or something in it can't be read.
pub fn build(folder: &Path, options: &SiteOptions) -> Result<Built, LoadError> {
    let Prepared {
        deck,
        sheets,
        mut findings,
        texts,
    } = prepare(folder)?;
    let mut files = Files::new();
    if let Some(deck) = deck.as_ref().filter(|_| !has_error(&findings)) {
        let (drawn, broken) = site(deck, &sheets, options);
        findings.extend(broken);
        finding::sort(&mut findings);
        if !has_error(&findings) {
            files = drawn;
        }
    }
    Ok(Built {
        files,
        findings,
        texts,
    })
}

/// How many files of cards these texts hold, good ones and bad ones.
pub fn cards(texts: &BTreeMap<String, String>) -> usize {
    let is_card = |file: &&String| file.starts_with("cards/") && file.ends_with(".yaml");
    texts.keys().filter(is_card).count()
}

fn has_error(findings: &[Finding]) -> bool {
    findings
        .iter()
        .any(|finding| finding.kind.severity == Severity::Error)
}
