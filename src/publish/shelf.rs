//! The shelf: cards sorted by what people look for: system, code, family, vehicle.
//!
//! In: a deck and its sheets. Out: entries (a card with its sheet) and groups of them, in the order
//! pages list them. Never: wording, markup.

use super::address;
use crate::calc::CALCULATORS;
use crate::card::{Card, Deck, Family};
use crate::sheet::Sheet;
use std::collections::{BTreeMap, BTreeSet};

/// A card with all that was computed for it.
#[derive(Clone, Copy)]
pub(super) struct Entry<'a> {
    /// As written.
    pub(super) card: &'a Card,
    /// As computed.
    pub(super) sheet: &'a Sheet,
    /// Its family, or the circuit written on the card; none only where the deck has errors.
    pub(super) family: Option<&'a Family>,
}

/// Cards that belong together under one name.
pub(super) struct Group<'a> {
    /// Id, code, family name or slug.
    pub(super) id: String,
    /// As people say it.
    pub(super) title: String,
    /// Its page.
    pub(super) path: String,
    /// In the order of card titles.
    pub(super) entries: Vec<Entry<'a>>,
}

/// All cards of a deck, sorted four ways.
pub(super) struct Shelf<'a> {
    /// The deck.
    pub(super) deck: &'a Deck,
    /// Every card with a sheet, by id.
    pub(super) entries: Vec<Entry<'a>>,
    /// In the deck's order; a group without a system last.
    pub(super) systems: Vec<Group<'a>>,
    /// Every code on a card or usual for the family of one, sorted.
    pub(super) codes: Vec<Group<'a>>,
    /// Every family, sorted by name.
    pub(super) families: Vec<Group<'a>>,
    /// Every vehicle or machine, sorted by name.
    pub(super) vehicles: Vec<Group<'a>>,
}

/// Id of the group of cards that name no system.
const NO_SYSTEM: &str = "no-system";

impl<'a> Shelf<'a> {
    /// Sorts the cards that have a sheet.
    pub(super) fn sort(deck: &'a Deck, sheets: &'a [Sheet]) -> Self {
        let by_id: BTreeMap<&str, &Sheet> = sheets
            .iter()
            .map(|sheet| (sheet.card.as_str(), sheet))
            .collect();
        let entries: Vec<Entry> = deck
            .cards
            .iter()
            .filter_map(|card| {
                let sheet = by_id.get(card.id.as_str())?;
                let family = match &card.circuit {
                    Some(own) => Some(own.as_ref()),
                    None => deck.families.get(&card.family.value),
                };
                Some(Entry {
                    card,
                    sheet,
                    family,
                })
            })
            .collect();
        Self {
            deck,
            systems: systems(deck, &entries),
            codes: codes(&entries),
            families: families(deck, &entries),
            vehicles: vehicles(&entries),
            entries,
        }
    }

    /// The group of this id among `groups`.
    pub(super) fn group<'g>(groups: &'g [Group<'a>], id: &str) -> Option<&'g Group<'a>> {
        groups.iter().find(|group| group.id == id)
    }

    /// The page that an author means by the name of a file of the deck (`egr.yaml`, `../lessons/loaded-tests.md`) or by
    /// `calculator:voltage-drop`.
    pub(super) fn page_of(&self, link: &str) -> Option<String> {
        if let Some(name) = link.strip_prefix("calculator:") {
            let known = CALCULATORS.iter().any(|one| one.name == name);
            return known.then(|| address::calculator(name));
        }
        let file = link.rsplit('/').next()?;
        if let Some(id) = file.strip_suffix(".md") {
            let known = self.deck.lessons.iter().any(|lesson| lesson.id == id);
            return known.then(|| address::lesson(id));
        }
        let id = file.strip_suffix(".yaml")?;
        let known = self.entries.iter().any(|entry| entry.card.id == id);
        known.then(|| address::card(id))
    }

    /// The group of a vehicle as a card names it.
    pub(super) fn vehicle(&self, name: &str) -> Option<&Group<'a>> {
        let name = name.to_lowercase();
        self.vehicles
            .iter()
            .find(|group| group.title.to_lowercase() == name)
    }
}

fn systems<'a>(deck: &Deck, entries: &[Entry<'a>]) -> Vec<Group<'a>> {
    let mut titles: Vec<(String, String)> = deck.systems.clone();
    let listed: BTreeSet<String> = titles.iter().map(|(id, _)| id.clone()).collect();
    let named: BTreeSet<&str> = entries
        .iter()
        .filter_map(|entry| system_of(entry))
        .collect();
    for id in named {
        if !listed.contains(id) {
            titles.push((id.to_owned(), id.to_owned()));
        }
    }
    let mut groups: Vec<Group> = titles
        .into_iter()
        .map(|(id, title)| {
            let members = entries.iter().filter(|entry| system_of(entry) == Some(&id));
            group(address::system(&id), id.clone(), title, members)
        })
        .filter(|group| !group.entries.is_empty())
        .collect();
    let rest = entries.iter().filter(|entry| system_of(entry).is_none());
    let path = address::system(NO_SYSTEM);
    let rest = group(path, String::new(), "Other circuits".to_owned(), rest);
    if !rest.entries.is_empty() {
        groups.push(rest);
    }
    groups
}

fn system_of<'e>(entry: &Entry<'e>) -> Option<&'e str> {
    entry
        .card
        .system
        .as_ref()
        .map(|system| system.value.as_str())
}

fn codes<'a>(entries: &[Entry<'a>]) -> Vec<Group<'a>> {
    let mut all: BTreeSet<&str> = entries
        .iter()
        .filter_map(|entry| entry.family)
        .flat_map(|family| family.codes.iter().map(String::as_str))
        .collect();
    all.extend(
        entries
            .iter()
            .flat_map(|entry| entry.card.codes.iter().map(|code| code.value.as_str())),
    );
    all.into_iter()
        .map(|code| {
            let names_it = |entry: &&Entry| entry.card.codes.iter().any(|own| own.value == code);
            let members = entries.iter().filter(names_it);
            group(
                address::code(code),
                code.to_owned(),
                code.to_owned(),
                members,
            )
        })
        .collect()
}

fn families<'a>(deck: &Deck, entries: &[Entry<'a>]) -> Vec<Group<'a>> {
    deck.families
        .values()
        .map(|family| {
            let of_it = |entry: &&Entry| {
                entry.card.circuit.is_none() && entry.card.family.value == family.name
            };
            let members = entries.iter().filter(of_it);
            let path = address::family(&family.name);
            group(path, family.name.clone(), family.title.clone(), members)
        })
        .collect()
}

fn vehicles<'a>(entries: &[Entry<'a>]) -> Vec<Group<'a>> {
    let names = || {
        entries
            .iter()
            .flat_map(|entry| entry.card.fits.iter().map(|fits| fits.value.as_str()))
    };
    let slugs = address::slugs(names());
    let mut titles: BTreeMap<String, &str> = BTreeMap::new();
    for name in names() {
        titles.entry(name.to_lowercase()).or_insert(name);
    }
    titles
        .into_iter()
        .map(|(key, title)| {
            let slug = &slugs[&key];
            let fits_it = |entry: &&Entry| {
                entry
                    .card
                    .fits
                    .iter()
                    .any(|fits| fits.value.to_lowercase() == key)
            };
            let members = entries.iter().filter(fits_it);
            group(
                address::vehicle(slug),
                slug.clone(),
                title.to_owned(),
                members,
            )
        })
        .collect()
}

fn group<'e, 'a: 'e>(
    path: String,
    id: String,
    title: String,
    members: impl Iterator<Item = &'e Entry<'a>>,
) -> Group<'a> {
    let mut entries: Vec<Entry<'a>> = members.copied().collect();
    entries.sort_by_key(|entry| (entry.card.title.value.to_lowercase(), &entry.card.id));
    Group {
        id,
        title,
        path,
        entries,
    }
}
