//! QR codes: for each card the address of its page, as a file under a name that changes with it.
//!
//! In: the shelf and the site's address. Out: a file a card and where it stands; nothing where no address
//! was given.

use super::assets::hashed;
use super::drawing::qr;
use super::shelf::Shelf;
use super::{Files, address};
use std::collections::BTreeMap;

/// The QR codes of a site.
#[derive(Debug, Default)]
pub(super) struct Codes {
    /// Path to bytes.
    pub(super) files: Files,
    /// Path of each card's code, by the card's id.
    pub(super) of_card: BTreeMap<String, String>,
}

impl Codes {
    /// Those of all cards on the shelf.
    pub(super) fn of(shelf: &Shelf<'_>, site: Option<&str>) -> Self {
        let mut codes = Self::default();
        let Some(site) = site.filter(|site| address::is_whole(site)) else {
            return codes;
        };
        for entry in &shelf.entries {
            let id = &entry.card.id;
            let page = address::on_site(site, &address::card(id));
            if let Some(code) = qr::draw(&page) {
                let path = hashed(&format!("codes/{id}.svg"), code.as_bytes());
                codes.of_card.insert(id.clone(), path.clone());
                codes.files.insert(path, code.into_bytes());
            }
        }
        codes
    }
}
