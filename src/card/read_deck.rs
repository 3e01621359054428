//! A deck: `deck.yaml`, families, cautions and cards from the bytes of its files, without a disk.
//!
//! In: files by deck-relative path, and the files that ship. Out: a [`Deck`] and all its findings,
//! sorted by place. Never: the disk; that is `load`.

use super::check_card::Shelf;
use super::fields::Fields;
use super::places::{Node, tree};
use super::read_card::read_card;
use super::read_family::read_family;
use super::read_head::read_head;
use super::read_lessons::{is_lesson, read_lessons};
use super::read_tests::known_word;
use super::read_words::{shipped_groups, shipped_meanings};
use super::{Card, CautionSpec, Deck, Family, Placed, RecordedReading};
use crate::finding::{self, Finding, Severity, kinds};
use std::collections::{BTreeMap, BTreeSet};

/// Reads a deck from its files. `shipped` are the files under `content/` by their path there:
/// `cautions.yaml`, `families/position-pot.yaml`.
///
/// There is no deck without a readable `deck.yaml`. Cards and families with errors that concern
/// their circuit are left out of the deck, so that nothing is computed from what could not be read.
pub fn read<N: AsRef<str>, T: AsRef<str>>(
    files: &BTreeMap<String, Vec<u8>>,
    shipped: &[(N, T)],
) -> (Option<Deck>, Vec<Finding>) {
    let mut findings = Vec::new();
    let cautions = read_cautions(shipped, &mut findings);
    let mut families = Families::default();
    for (name, text) in shipped {
        if let Some(file) = name.as_ref().strip_prefix("families/") {
            families.read(
                &format!("shipped/{file}"),
                text.as_ref().as_bytes(),
                &cautions,
                &mut findings,
            );
        }
    }
    for (file, bytes) in files.iter().filter(|(file, _)| is_in(file, "families")) {
        check_name(file, &mut findings);
        families.read(file, bytes, &cautions, &mut findings);
    }
    let head = read_head(files, &mut findings);
    let shelf = Shelf {
        families: &families.sound,
        broken: &families.broken,
        cautions: &cautions,
        systems: head
            .iter()
            .flat_map(|deck| &deck.systems)
            .map(|(id, _)| id.as_str())
            .collect(),
    };
    let cards = read_cards(files, &shelf, &mut findings);
    for file in files.keys().filter(|file| !is_known(file)) {
        findings.push(kinds::stray_file(file));
    }
    let readings = recorded(files, &mut findings);
    let lessons = read_lessons(files, &mut findings);
    let mut words = shipped_groups(shipped, &mut findings);
    let meanings = shipped_meanings(shipped, &mut findings);
    finding::sort(&mut findings);
    let deck = head.map(|head| Deck {
        cards,
        families: families.sound,
        cautions,
        readings,
        lessons,
        words: {
            words.extend(head.words);
            words
        },
        meanings,
        ..head
    });
    (deck, findings)
}

/// `folder/x.yaml` or `.yml`, not deeper.
fn is_in(file: &str, folder: &str) -> bool {
    name_in(file, folder).is_some_and(|name| stem(name).is_some())
}

/// A file's name, where it lies in this folder and not deeper.
pub(super) fn name_in<'f>(file: &'f str, folder: &str) -> Option<&'f str> {
    let name = file.strip_prefix(folder)?.strip_prefix('/')?;
    (!name.contains('/')).then_some(name)
}

/// A YAML file's name without its ending.
fn stem(name: &str) -> Option<&str> {
    name.strip_suffix(".yaml")
        .or_else(|| name.strip_suffix(".yml"))
}

/// Whether something reads this file.
fn is_known(file: &str) -> bool {
    let folder = |folder: &str| file.starts_with(folder);
    file == "deck.yaml"
        || is_in(file, "cards")
        || is_in(file, "families")
        || is_lesson(file)
        || (folder("readings/") && file.ends_with(".csv"))
        || file.eq_ignore_ascii_case("readme.md")
}

/// The name of a file that becomes an address: small letters, digits and hyphens.
pub(super) fn check_name(file: &str, findings: &mut Vec<Finding>) -> String {
    let name = file.rsplit('/').next().unwrap_or(file);
    let stem = stem(name).or(name.strip_suffix(".md")).unwrap_or(name);
    if name.ends_with(".yml") {
        findings.push(kinds::yml_ending(file));
    }
    let good =
        |letter: char| letter.is_ascii_lowercase() || letter.is_ascii_digit() || letter == '-';
    if stem.is_empty() || !stem.chars().all(good) {
        let meant: String = stem
            .to_lowercase()
            .chars()
            .map(|letter| if good(letter) { letter } else { '-' })
            .collect();
        findings.push(kinds::bad_address(file, stem, meant.trim_matches('-')));
    }
    stem.to_owned()
}

/// Errors that leave the circuit whole, so that physics can still be asked about it.
const BESIDE_THE_CIRCUIT: &[&str] = &[
    "no-code",
    "unknown-caution",
    "unknown-colour",
    "unknown-pin",
    "unknown-scan-kind",
    "unknown-source-kind",
    "unknown-system",
];

/// Errors that make what was read unfit to be solved.
fn errors(findings: &[Finding]) -> usize {
    let error = |finding: &&Finding| {
        finding.kind.severity == Severity::Error && !BESIDE_THE_CIRCUIT.contains(&finding.kind.code)
    };
    findings.iter().filter(error).count()
}

/// Families as they are read.
#[derive(Default)]
struct Families {
    sound: BTreeMap<String, Family>,
    broken: BTreeSet<String>,
}

impl Families {
    fn read(
        &mut self,
        file: &str,
        bytes: &[u8],
        cautions: &BTreeMap<String, CautionSpec>,
        findings: &mut Vec<Finding>,
    ) {
        let before = errors(findings);
        let family = tree(file, bytes, "family: my-family", findings)
            .and_then(|node| read_family(&node, cautions, findings));
        let name = file.rsplit('/').next().and_then(stem).unwrap_or(file);
        match family {
            Some(family) if errors(findings) == before => {
                self.sound.insert(family.name.clone(), family);
            }
            family => {
                self.broken.insert(name.to_owned());
                self.broken.extend(family.map(|family| family.name));
            }
        }
    }
}

fn read_cards(
    files: &BTreeMap<String, Vec<u8>>,
    shelf: &Shelf<'_>,
    findings: &mut Vec<Finding>,
) -> Vec<Card> {
    let mut cards: Vec<Card> = Vec::new();
    let mut titles: BTreeMap<String, Placed<String>> = BTreeMap::new();
    let mut addresses: BTreeMap<String, &str> = BTreeMap::new();
    for (file, bytes) in files.iter().filter(|(file, _)| is_in(file, "cards")) {
        let id = check_name(file, findings);
        if let Some(first) = addresses.insert(id.clone(), file) {
            findings.push(kinds::doubled_card(file, first));
        }
        let before = errors(findings);
        let card = tree(file, bytes, "title: Throttle position sensor", findings)
            .and_then(|node| read_card(&node, &id, shelf, findings));
        let Some(card) = card else { continue };
        match titles.get(&card.title.value.to_lowercase()) {
            Some(first) => findings.push(kinds::doubled_title(
                &card.title.place,
                &card.title.value,
                &first.place,
            )),
            None => {
                titles.insert(card.title.value.to_lowercase(), card.title.clone());
            }
        }
        if errors(findings) == before && shelf.circuit(&card).is_some() {
            cards.push(card);
        }
    }
    if addresses.is_empty() {
        findings.push(kinds::empty_deck());
    }
    cards.sort_by(|a, b| a.id.cmp(&b.id));
    cards
}

/// What was recorded for each card, also for one with errors: its readings are not to blame.
#[cfg(not(target_arch = "wasm32"))]
fn recorded(
    files: &BTreeMap<String, Vec<u8>>,
    findings: &mut Vec<Finding>,
) -> BTreeMap<String, Vec<RecordedReading>> {
    let cards = files.keys().filter(|file| is_in(file, "cards"));
    let cards: Vec<&str> = cards
        .filter_map(|file| stem(file.strip_prefix("cards/")?))
        .collect();
    super::readings::read_all(files, &cards, findings)
}

/// A phone is given what the readings say, not their files.
#[cfg(target_arch = "wasm32")]
fn recorded(
    _: &BTreeMap<String, Vec<u8>>,
    _: &mut Vec<Finding>,
) -> BTreeMap<String, Vec<RecordedReading>> {
    BTreeMap::new()
}

/// Reads the shipped table of cautions.
fn read_cautions<N: AsRef<str>, T: AsRef<str>>(
    shipped: &[(N, T)],
    findings: &mut Vec<Finding>,
) -> BTreeMap<String, CautionSpec> {
    let table = shipped
        .iter()
        .find(|(name, _)| name.as_ref() == "cautions.yaml");
    let node = table.and_then(|(_, text)| {
        tree(
            "shipped/cautions.yaml",
            text.as_ref().as_bytes(),
            "hot-parts:",
            findings,
        )
    });
    let Some(fields) = node
        .as_ref()
        .and_then(|node| Fields::unchecked(node, "the cautions", findings))
    else {
        return BTreeMap::new();
    };
    let entries = fields.entries().iter();
    entries
        .filter_map(|entry| Some((entry.key.clone(), read_caution(&entry.value, findings)?)))
        .collect()
}

fn read_caution(node: &Node, findings: &mut Vec<Finding>) -> Option<CautionSpec> {
    let fields = Fields::of(node, "a caution", &["title", "says", "hurts"], findings)?;
    let hurts = fields.required("hurts", "hurts: person", findings);
    let words = &[("person", true), ("circuit", false)];
    let can_hurt = hurts.and_then(|hurts| known_word(&hurts, "hurts", words, findings));
    Some(CautionSpec {
        title: fields
            .required("title", "title: Hot parts", findings)?
            .value,
        says: fields.words("says", findings),
        can_hurt: can_hurt?,
    })
}
