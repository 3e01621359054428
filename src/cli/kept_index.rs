//! The search index of a large deck, kept in the user's folder for caches and refreshed by content.
//!
//! In: the folder of a deck. Out: a search that is open. The file is named by all that it was made of, so that a deck
//! that changed, or another program, makes a new one and removes the old. A damaged one is made again; where
//! nothing can be kept, nothing is.

use super::Stop;
use super::console::Trouble;
use crate::card::{DeckFiles, files, read, shipped};
use crate::index::Search;
use crate::publish::search_pack;
use std::env;
use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};

/// A deck of fewer files is read and indexed before anybody could notice.
const KEPT_FROM: usize = 300;

/// The search of a deck; none where the deck can't be read.
pub(super) fn open(deck: &Path) -> Result<Option<Search>, Stop> {
    let (files, _) = files(deck)?;
    let shipped = shipped();
    let place = match files.len() < KEPT_FROM {
        true => None,
        false => place(deck, &sum(&files, &shipped)),
    };
    let kept = place.as_deref().and_then(|place| fs::read(place).ok());
    if let Some(search) = kept.and_then(|pack| Search::open(pack).ok()) {
        return Ok(Some(search));
    }
    let (Some(deck), _) = read(&files, &shipped) else {
        return Ok(None);
    };
    let pack = search_pack(&deck).map_err(|error| trouble(&error.to_string()))?;
    if let Some(place) = place {
        keep(&place, &pack);
    }
    let search = Search::open(pack).map_err(|error| trouble(&error.to_string()))?;
    Ok(Some(search))
}

fn trouble(cause: &str) -> Trouble {
    Trouble {
        what: "could not search this deck".into(),
        cause: cause.to_owned(),
        hint: "free some memory and try again".into(),
    }
}

/// A sum of everything that an index is made of: texts of the deck, texts that ship, and the program.
fn sum(files: &DeckFiles, shipped: &[(String, String)]) -> String {
    let mut sum = blake3::Hasher::new();
    let mut add = |bytes: &[u8]| {
        sum.update(&bytes.len().to_le_bytes()).update(bytes);
    };
    let is_found = |name: &&String| name.ends_with(".yaml") || name.ends_with(".yml");
    for name in files.keys().filter(is_found) {
        add(name.as_bytes());
        add(&files[name]);
    }
    for (name, text) in shipped {
        add(name.as_bytes());
        add(text.as_bytes());
    }
    let program = env::current_exe().and_then(fs::metadata);
    let program = program.map(|about| format!("{} {:?}", about.len(), about.modified().ok()));
    add(program.unwrap_or_default().as_bytes());
    sum.finalize().to_hex()[..32].to_owned()
}

/// Where an index of this sum is kept: the deck's folder, then the sum, in the name.
fn place(deck: &Path, sum: &str) -> Option<PathBuf> {
    let set = |name: &str| env::var_os(name).filter(|value| !value.is_empty());
    let caches = set("XDG_CACHE_HOME")
        .or_else(|| set("LOCALAPPDATA"))
        .map(PathBuf::from)
        .or_else(|| Some(PathBuf::from(set("HOME")?).join(".cache")))?;
    let folder = fs::canonicalize(deck).ok()?;
    let whose = blake3::hash(folder.as_os_str().as_encoded_bytes()).to_hex();
    let name = format!("{}-{sum}.pack", &whose[..16]);
    Some(caches.join("loomleaf").join(name))
}

/// Puts an index in its place, whole or not at all, and removes those that the deck had before.
fn keep(place: &Path, pack: &[u8]) {
    let (Some(folder), Some(name)) = (place.parent(), place.file_name().and_then(OsStr::to_str))
    else {
        return;
    };
    let half = folder.join(format!("{name}.{}", std::process::id()));
    let kept = fs::create_dir_all(folder)
        .and_then(|()| fs::write(&half, pack))
        .and_then(|()| fs::rename(&half, place));
    // Only a shorter wait the next time is lost.
    if kept.is_err() {
        let _ = fs::remove_file(&half);
        return;
    }
    let whose = name.split('-').next().unwrap_or(name);
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let other = entry.file_name();
        let other = other.to_str().unwrap_or("");
        if other != name && other.starts_with(whose) && other.ends_with(".pack") {
            let _ = fs::remove_file(entry.path());
        }
    }
}
