//! The site as an app: a manifest and icons that a browser accepts.

use super::{Host, phone, until, wait_for};
use crate::browser::{demo, published};
use serde_json::{Value, json};

#[test]
fn a_browser_finds_nothing_against_installing_the_site() {
    let host = Host::of(published());
    let mut chrome = phone();
    chrome.open(&host.address(""));
    wait_for(&mut chrome, "whole");
    let manifest = chrome.call("Page.getAppManifest", json!({}));
    assert_eq!(manifest["errors"], json!([]), "{manifest}");
    let against = chrome.call("Page.getInstallabilityErrors", json!({}));
    let against: Vec<&Value> = against["installabilityErrors"]
        .as_array()
        .unwrap()
        .iter()
        // A headless browser has windows without a memory.
        .filter(|one| one["errorId"] != "in-incognito")
        .collect();
    assert!(against.is_empty(), "{against:?}");
}

/// Width and height of a PNG (W3C PNG, 11.2.2), and whether its colours are looked up in a table.
fn size_of(png: &[u8]) -> (u32, u32) {
    assert!(png.starts_with(b"\x89PNG\r\n\x1a\n"));
    let number = |at: usize| u32::from_be_bytes(png[at..at + 4].try_into().unwrap());
    (number(16), number(20))
}

#[test]
fn icons_have_the_sizes_the_manifest_says_and_are_small() {
    let manifest: Value = serde_json::from_slice(&published()["manifest.webmanifest"]).unwrap();
    let mut purposes = Vec::new();
    for icon in manifest["icons"].as_array().unwrap() {
        let bytes = &published()[icon["src"].as_str().unwrap()];
        assert!(bytes.len() < 8_000, "{icon}: {} bytes", bytes.len());
        if icon["type"] == "image/png" {
            let (width, height) = size_of(bytes);
            assert_eq!(icon["sizes"], format!("{width}x{height}"));
            purposes.push((icon["purpose"].as_str().unwrap(), width));
        }
    }
    assert_eq!(purposes, [("any", 192), ("any", 512), ("maskable", 512)]);
    assert_eq!(manifest["name"], "Tern Island Ferries workshop");
    assert!(manifest["short_name"].as_str().unwrap().chars().count() <= 12);
}

#[test]
fn a_preview_at_the_same_address_lets_go_of_a_kept_site() {
    let mut host = Host::of(published());
    let mut chrome = phone();
    chrome.open(&host.address(""));
    wait_for(&mut chrome, "whole");
    host.show(demo());
    chrome.open(&host.address(""));
    let gone = "Promise.all([navigator.serviceWorker.getRegistrations(), caches.keys()]).then(([kept, names]) => kept.length + names.length === 0)";
    assert!(until(&mut chrome, gone), "the kept site is still there");
    chrome.open(&host.address("cards/ramp-angle/"));
    let asked = chrome.eval("document.querySelector('[data-part=\"offline\"]') === null");
    assert_eq!(asked, true, "the page is the preview's own");
}

#[test]
fn the_size_told_is_what_a_server_with_packed_copies_sends() {
    let site = crate::browser::published();
    let list = site
        .keys()
        .find(|path| path.starts_with("assets/offline/files-") && path.ends_with(".json"));
    let list: Value = serde_json::from_slice(&site[list.unwrap()]).unwrap();
    let room = tempfile::tempdir().unwrap();
    let to = room.path().join("site");
    let written = loomleaf::publish::output::write(site, &to).unwrap();
    let (mut sent, mut packed) = (0, 0);
    for (path, one) in list["files"].as_object().unwrap() {
        let copy = std::fs::metadata(to.join(format!("{path}.br")));
        packed += usize::from(copy.is_ok());
        let whole = || std::fs::metadata(to.join(path)).unwrap();
        let bytes = copy.unwrap_or_else(|_| whole()).len();
        assert_eq!(one[1].as_u64(), Some(bytes), "{path}");
        sent += bytes;
    }
    assert_eq!(list["bytes"].as_u64(), Some(sent));
    assert!(packed > 100, "{packed} packed");
    // Copies are no files of the site's own: those listed, the list, the worker, and the page for lost addresses.
    assert_eq!(written.files, list["files"].as_object().unwrap().len() + 3);
}
