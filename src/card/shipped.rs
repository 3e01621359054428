//! Content that ships inside the program as text: families, the table of cautions, words and codes.
//!
//! Out: file names under `content/` with their text. Knows nothing of what they say.

use include_dir::{Dir, include_dir};

static CONTENT: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/content");

/// `families/*.yaml` and the tables beside them with their text, sorted by name.
pub fn shipped() -> Vec<(String, String)> {
    let wanted = |name: &str| {
        let is_table = ["cautions.yaml", "codes.yaml", "words.yaml"].contains(&name);
        is_table || (name.starts_with("families/") && name.ends_with(".yaml"))
    };
    let mut files: Vec<(String, String)> = embedded(&CONTENT)
        .into_iter()
        .filter(|(name, _)| wanted(name))
        .map(|(name, bytes)| (name.to_owned(), String::from_utf8_lossy(bytes).into_owned()))
        .collect();
    files.sort();
    files
}

/// Every file of a folder inside the program, by its way there, at any depth.
pub fn embedded(folder: &'static Dir<'static>) -> Vec<(&'static str, &'static [u8])> {
    let own = folder.files();
    let own = own.filter_map(|file| Some((file.path().to_str()?, file.contents())));
    own.chain(folder.dirs().flat_map(embedded)).collect()
}
