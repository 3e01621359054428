//! Labels: a QR code a card, for a bay wall or a training bench, on sheets of labels.

use crate::publish::codes::Codes;
use crate::publish::shelf::Shelf;
use serde::Serialize;

/// The page of labels.
#[derive(Serialize)]
pub(super) struct LabelsPage {
    /// Where the site is found, or empty.
    site: String,
    labels: Vec<Label>,
}

/// One label.
#[derive(Serialize)]
struct Label {
    title: String,
    codes: String,
    fits: String,
    /// Path of its QR code from the root.
    code: String,
}

/// A label a card that has a code.
pub(super) fn view(shelf: &Shelf, codes: &Codes, site: Option<&str>) -> LabelsPage {
    let label = |entry: &crate::publish::shelf::Entry| {
        let row = super::CardRow::of(entry);
        Some(Label {
            code: codes.of_card.get(&entry.card.id)?.clone(),
            title: row.title,
            codes: row.codes,
            fits: row.fits,
        })
    };
    LabelsPage {
        site: site.unwrap_or_default().to_owned(),
        labels: shelf.entries.iter().filter_map(label).collect(),
    }
}
