//! Content that ships inside the program as text: families, the table of cautions, words and codes.
//!
//! Out: file names under `content/` with their text. Knows nothing of what they say.

use rust_embed::Embed;

#[derive(Embed)]
#[folder = "$CARGO_MANIFEST_DIR/content"]
struct Content;

/// `families/*.yaml` and the tables beside them with their text, sorted by name.
pub fn shipped() -> Vec<(String, String)> {
    let wanted = |name: &str| {
        let is_table = ["cautions.yaml", "codes.yaml", "words.yaml"].contains(&name);
        is_table || (name.starts_with("families/") && name.ends_with(".yaml"))
    };
    let mut files: Vec<(String, String)> = Content::iter()
        .filter(|name| wanted(name))
        .filter_map(|name| {
            let text = String::from_utf8_lossy(&Content::get(&name)?.data).into_owned();
            Some((name.into_owned(), text))
        })
        .collect();
    files.sort();
    files
}
