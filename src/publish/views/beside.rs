//! Pages beside the circuits: lost addresses, runs, labels, what is not on a phone, a reader's choices.
//!
//! In: what all pages share. Out: pages ready for their templates.

use super::{Binder, Content, Page, comfort, labels};
use crate::publish::address;

/// The page for an address that leads nowhere; its links hold at any address.
pub(super) fn missing_page(binder: &Binder) -> Page {
    let describes = "This address leads to no page of the site";
    let names = ("missing.html", "No page here", describes);
    let mut page = binder.page(address::MISSING.to_owned(), names, Content::Missing {});
    page.frame.root = address::root_on_server(binder.options.address.as_deref());
    page.frame.address = None;
    page
}

pub(super) fn runs_page(binder: &Binder) -> Page {
    let names = (
        "runs.html",
        "Runs on this phone",
        "Cards worked through in bench mode, kept on this phone alone",
    );
    let mut page = binder.page(address::RUNS.to_owned(), names, Content::Runs {});
    page.frame.own_style.clone_from(&binder.assets.runs_style);
    page.frame.own_script.clone_from(&binder.assets.runs_script);
    page
}

/// Labels for a wall, and what a phone shows in place of a page it has not got.
pub(super) fn kept_pages(binder: &Binder) -> [Page; 2] {
    let labels = labels::view(
        binder.shelf,
        binder.codes,
        binder.options.address.as_deref(),
    );
    [
        binder.page(
            address::LABELS.to_owned(),
            (
                "labels.html",
                "QR labels",
                "QR codes of all circuits, to print on a sheet of labels",
            ),
            Content::Labels(labels),
        ),
        binder.page(
            address::OFFLINE.to_owned(),
            (
                "offline.html",
                "Not on this phone",
                "This page is not on this phone, and there is no network",
            ),
            Content::Missing {},
        ),
    ]
}

pub(super) fn comfort_page(binder: &Binder) -> Page {
    let names = (
        "comfort.html",
        "Light and units",
        "Day, night or high contrast, and the units of this phone",
    );
    let content = Content::Comfort(comfort::view());
    let mut page = binder.page(address::COMFORT.to_owned(), names, content);
    page.frame
        .own_style
        .clone_from(&binder.assets.comfort_style);
    page.frame
        .own_script
        .clone_from(&binder.assets.choose_script);
    page
}
