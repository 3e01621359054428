//! Assets: style and icon that ship inside the program, under names that change with their content.
//!
//! In: the folder `site/`, embedded when the program is built. Out: files for the site and the names
//! pages call them by. Never: anything from a disk or another host at run time.

use super::Files;
use rust_embed::Embed;

/// The folder `site/`.
#[derive(Embed)]
#[folder = "$CARGO_MANIFEST_DIR/site/"]
struct Shipped;

/// The shipped files as they go into a site.
#[derive(Debug)]
pub(super) struct Assets {
    /// Path to bytes.
    pub(super) files: Files,
    /// Where the style sheet stands.
    pub(super) style: String,
    /// Where the icon stands.
    pub(super) icon: String,
}

/// All shipped files; each name carries a hash of its content, so a cache never shows an old one.
pub(super) fn shipped() -> Assets {
    let mut assets = Assets {
        files: Files::new(),
        style: String::new(),
        icon: String::new(),
    };
    for name in Shipped::iter() {
        let Some(file) = Shipped::get(&name) else {
            continue;
        };
        let path = hashed(&name, &file.data);
        match name.as_ref() {
            "loomleaf.css" => assets.style.clone_from(&path),
            "icon.svg" => assets.icon.clone_from(&path),
            _ => {}
        }
        assets.files.insert(path, file.data.into_owned());
    }
    assets
}

/// `assets/loomleaf-1f2e3d4c5b.css`.
fn hashed(name: &str, bytes: &[u8]) -> String {
    let hash = blake3::hash(bytes).to_hex();
    let (stem, ending) = name.rsplit_once('.').unwrap_or((name, ""));
    format!("assets/{stem}-{}.{ending}", &hash[..10])
}
