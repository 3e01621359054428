//! Links: every link inside the site leads to a page that is there, and to a place on it.
//!
//! In: the pages and assets of a site. Out: a finding for every link that leads nowhere. Never: a
//! request; links to other hosts are left alone.

use super::{Files, address, shelf::Shelf};
use crate::finding::{Finding, Place, kinds};
use std::collections::{BTreeMap, BTreeSet};

/// A finding of severity error for every link that leads nowhere.
/// On the page for addresses that lead nowhere, links start from `root`, the site's root on its server.
pub(super) fn check(pages: &Files, assets: &Files, shelf: &Shelf, root: &str) -> Vec<Finding> {
    let anchors: BTreeMap<&str, BTreeSet<&str>> = pages
        .iter()
        .map(|(path, bytes)| {
            (
                path.as_str(),
                attribute_values(text(bytes), " id=\"").collect(),
            )
        })
        .collect();
    let mut findings = Vec::new();
    for (path, bytes) in pages {
        for link in links_of(text(bytes)) {
            let inside = match path == address::MISSING {
                true => link.strip_prefix(root).unwrap_or(&link),
                false => &link,
            };
            if !leads_somewhere(path, inside, &anchors, assets) {
                findings.push(kinds::broken_link(&place_of(path, shelf), path, &link));
            }
        }
    }
    findings
}

/// Pages are UTF-8 because templates and decks are.
fn text(bytes: &[u8]) -> &str {
    std::str::from_utf8(bytes).unwrap_or_default()
}

fn links_of(html: &str) -> BTreeSet<String> {
    attribute_values(html, " href=\"")
        .chain(attribute_values(html, " src=\""))
        .chain(attribute_values(html, " data-circuit=\""))
        .map(|value| value.replace("&amp;", "&"))
        .filter(|value| !is_elsewhere(value))
        .collect()
}

/// Values of an attribute. Text on our pages holds no plain quotation mark (it is escaped), so the
/// pattern with its quotation mark can only be an attribute.
fn attribute_values<'a>(html: &'a str, pattern: &'a str) -> impl Iterator<Item = &'a str> {
    html.split(pattern)
        .skip(1)
        .filter_map(|rest| rest.split_once('"').map(|(value, _)| value))
}

fn is_elsewhere(link: &str) -> bool {
    ["http://", "https://", "mailto:"]
        .iter()
        .any(|scheme| link.to_lowercase().starts_with(scheme))
}

fn leads_somewhere(
    from: &str,
    link: &str,
    anchors: &BTreeMap<&str, BTreeSet<&str>>,
    assets: &Files,
) -> bool {
    let (path, anchor) = link.split_once('#').unwrap_or((link, ""));
    // What stands behind a question mark is for the page itself.
    let path = path.split('?').next().unwrap_or_default();
    let Some(target) = resolve(from, path) else {
        return false;
    };
    match anchors.get(target.as_str()) {
        Some(ids) => anchor.is_empty() || ids.contains(anchor),
        None => assets.contains_key(&target),
    }
}

/// The path a relative link means; none where it climbs out of the site.
fn resolve(from: &str, link: &str) -> Option<String> {
    if link.is_empty() {
        return Some(from.to_owned());
    }
    let mut folders: Vec<&str> = from.split('/').collect();
    folders.pop();
    for step in link.split('/') {
        match step {
            "." => {}
            ".." => {
                folders.pop()?;
            }
            name => folders.push(name),
        }
    }
    Some(folders.join("/"))
}

/// Only notes and lessons carry links that an author typed, so a broken link on such a page is the author's.
fn place_of(path: &str, shelf: &Shelf) -> Place {
    let mut parts = path.split('/');
    let (kind, id) = (parts.next(), parts.next().unwrap_or_default());
    let lessons = &shelf.deck.lessons;
    let file = match kind {
        Some("cards") => shelf
            .entries
            .iter()
            .find(|one| one.card.id == id)
            .map(|one| &one.card.file),
        Some("lessons") => lessons.iter().find(|one| one.id == id).map(|one| &one.file),
        _ => None,
    };
    Place::whole_file(file.map_or("deck.yaml", String::as_str))
}
