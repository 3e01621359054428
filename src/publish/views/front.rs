//! The front page: what this is, and every circuit under what people look for.

use super::{CardRow, Link, counted_circuits, lesson};
use crate::publish::shelf::{Group, Shelf};
use crate::publish::words;
use serde::Serialize;

/// The front page.
#[derive(Serialize)]
pub(super) struct Front {
    says: String,
    counted: String,
    is_empty: bool,
    /// Where the search pack stands, or empty.
    pack: String,
    systems: Vec<Section>,
    codes: Vec<Link>,
    families: Vec<FamilyLine>,
    families_without: Vec<Link>,
    vehicles: Vec<GroupLine>,
    lessons: Vec<Link>,
}

/// A system with its circuits; without them where the whole list would be too long for one page.
#[derive(Serialize)]
struct Section {
    anchor: String,
    title: String,
    href: String,
    counted: String,
    circuits: Vec<CardRow>,
}

/// A family and what it is.
#[derive(Serialize)]
struct FamilyLine {
    title: String,
    href: String,
    says: String,
    counted: String,
}

/// A vehicle or machine.
#[derive(Serialize)]
struct GroupLine {
    title: String,
    href: String,
    counted: String,
}

/// Up to so many circuits stand on the front page itself; a longer list is a slow page on a phone.
const MOST_CIRCUITS: usize = 150;

/// The front page of this shelf.
pub(super) fn view(shelf: &Shelf, pack: &str) -> Front {
    let (with, without): (Vec<&Group>, Vec<&Group>) = shelf
        .families
        .iter()
        .partition(|family| !family.entries.is_empty());
    Front {
        says: words::sentence(&shelf.deck.says),
        counted: words::counted(shelf.entries.len(), "circuit", "circuits"),
        is_empty: shelf.entries.is_empty(),
        pack: pack.to_owned(),
        systems: sections(shelf),
        codes: codes(shelf),
        families: with
            .into_iter()
            .map(|group| family_line(shelf, group))
            .collect(),
        families_without: without.into_iter().map(Link::to).collect(),
        vehicles: shelf.vehicles.iter().map(group_line).collect(),
        lessons: lesson::all(shelf),
    }
}

fn sections(shelf: &Shelf) -> Vec<Section> {
    let short = shelf.entries.len() <= MOST_CIRCUITS;
    shelf
        .systems
        .iter()
        .enumerate()
        .map(|(number, group)| Section {
            anchor: format!("system-{}", number + 1),
            title: group.title.clone(),
            href: group.path.clone(),
            counted: counted_circuits(group),
            circuits: if short {
                CardRow::all(group)
            } else {
                Vec::new()
            },
        })
        .collect()
}

/// Codes that a card names; those only usual for a family stand on the family's page.
fn codes(shelf: &Shelf) -> Vec<Link> {
    let named = shelf.codes.iter().filter(|group| !group.entries.is_empty());
    named.map(Link::to).collect()
}

fn family_line(shelf: &Shelf, group: &Group) -> FamilyLine {
    let family = shelf.deck.families.get(&group.id);
    FamilyLine {
        title: group.title.clone(),
        href: group.path.clone(),
        says: family
            .map(|family| words::sentence(&family.says))
            .unwrap_or_default(),
        counted: counted_circuits(group),
    }
}

fn group_line(group: &Group) -> GroupLine {
    GroupLine {
        title: group.title.clone(),
        href: group.path.clone(),
        counted: counted_circuits(group),
    }
}
