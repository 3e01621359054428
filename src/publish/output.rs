//! Putting a site in place: a new folder beside the old one, then both swapped in one step.
//!
//! In: every file of the site in memory, and the folder it should stand in. Out: that folder, holding
//! the new site or, after any failure or kill, the old one; never a mixture. A folder is replaced only
//! when it is empty or carries [`MARKER`]. Never decides what is in a site.

use super::pack::{has_copy, is_copy, packed};
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Component, Path, PathBuf};

/// The file by which a folder is known as a site that may be replaced.
pub const MARKER: &str = ".loomleaf-site";

const MARKER_TEXT: &str =
    "A site published by loomleaf. Publishing again replaces this folder as a whole.\n";

/// What was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Written {
    /// Files of the site, packed copies and the marker not counted.
    pub files: usize,
    /// Bytes of these files.
    pub bytes: u64,
}

/// Why a site could not be put in place. The old one still stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OutputError {
    /// What was tried: `replace the folder`.
    pub tried: &'static str,
    /// Where.
    pub path: PathBuf,
    /// Why it failed.
    pub cause: String,
    /// One thing to do about it.
    pub hint: String,
}

impl std::fmt::Display for OutputError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self {
            tried, path, cause, ..
        } = self;
        write!(f, "could not {tried} {}: {cause}", path.display())
    }
}

impl std::error::Error for OutputError {}

/// Writes the site so that `to` holds either the old or the new one at every moment.
///
/// The new site is built in a hidden folder beside `to`, with `.gz` and `.br` copies of its text
/// files, then exchanged with the old one in one step where the system can, else by two renames (a
/// kill between the two leaves the old site hidden; the next run puts it back first).
///
/// # Errors
/// When `to` is a link, a file, the folder one stands in, or holds anything but a site; when a folder
/// can't be made or a file can't be written.
pub fn write(files: &BTreeMap<String, Vec<u8>>, to: &Path) -> Result<Written, OutputError> {
    let site = Site::at(to)?;
    let _turn = site.wait_for_turn();
    site.clear_leftovers()?;
    site.check_replaceable()?;
    let put = site.fill(files).and_then(|()| site.swap());
    if put.is_err() {
        // The first failure is the one to tell; a folder left behind here is cleared by the next run.
        let _ = remove_site(&site.new);
    }
    put?;
    let own = files.iter().filter(|(name, _)| !is_copy(name, files));
    let sizes: Vec<u64> = own.map(|(_, bytes)| bytes.len() as u64).collect();
    Ok(Written {
        files: sizes.len(),
        bytes: sizes.iter().sum(),
    })
}

/// Refuses a target that lies in the deck, is the deck, or holds it: swapping would move the deck away.
///
/// # Errors
/// When the two overlap, after links are resolved as far as the paths exist.
pub fn keep_apart(deck: &Path, to: &Path) -> Result<(), OutputError> {
    let deck = resolved(deck);
    let to = resolved(to);
    let cause = if to == deck {
        "it is the deck itself"
    } else if to.starts_with(&deck) {
        "it lies inside the deck"
    } else if deck.starts_with(&to) {
        "the deck lies inside it"
    } else {
        return Ok(());
    };
    let name = deck.file_name().unwrap_or_default().to_string_lossy();
    let beside = deck.with_file_name(format!("{name}-site"));
    Err(OutputError {
        tried: "publish to",
        path: to,
        cause: cause.into(),
        hint: format!(
            "choose a folder beside the deck, such as {}",
            beside.display()
        ),
    })
}

/// The path with links and dots resolved as far as it exists.
fn resolved(path: &Path) -> PathBuf {
    let whole = std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
    let existing = whole
        .ancestors()
        .find_map(|part| Some((part, part.canonicalize().ok()?)));
    match existing {
        Some((part, real)) => match whole.strip_prefix(part) {
            Ok(rest) if rest.as_os_str().is_empty() => real,
            Ok(rest) => real.join(rest),
            Err(_) => whole.clone(),
        },
        None => whole,
    }
}

/// The target and the two hidden folders beside it.
struct Site {
    to: PathBuf,
    parent: PathBuf,
    new: PathBuf,
    old: PathBuf,
}

impl Site {
    fn at(to: &Path) -> Result<Self, OutputError> {
        let whole = std::path::absolute(to).map_err(|e| failed("find the folder", to, &e))?;
        let (Some(name), Some(parent)) = (whole.file_name(), whole.parent()) else {
            return Err(OutputError {
                tried: "publish to",
                path: to.to_path_buf(),
                cause: "this names no folder of its own".into(),
                hint: "give the site a folder with a name, such as site".into(),
            });
        };
        let name = name.to_string_lossy().into_owned();
        fs::create_dir_all(parent).map_err(|e| failed("make the folder", parent, &e))?;
        let parent = parent
            .canonicalize()
            .map_err(|e| failed("open the folder", parent, &e))?;
        Ok(Self {
            to: parent.join(&name),
            new: parent.join(format!(".{name}.loomleaf-new")),
            old: parent.join(format!(".{name}.loomleaf-old")),
            parent,
        })
    }

    /// One run at a time in a folder; the system ends the wait when the other run ends or is killed.
    /// Where folders can't be locked, two runs at once are the caller's care.
    fn wait_for_turn(&self) -> Option<File> {
        let folder = File::open(&self.parent).ok()?;
        folder.lock().ok()?;
        Some(folder)
    }

    /// Undoes what a killed run left: puts back an old site moved aside, removes half-written ones.
    fn clear_leftovers(&self) -> Result<(), OutputError> {
        if !exists(&self.to) && is_site(&self.old) {
            fs::rename(&self.old, &self.to)
                .map_err(|e| failed("put back the old site at", &self.to, &e))?;
        }
        for leftover in [&self.new, &self.old] {
            if !exists(leftover) {
                continue;
            }
            if !(is_site(leftover) || is_empty_folder(leftover)) {
                return Err(not_ours(leftover));
            }
            remove_site(leftover)
                .map_err(|e| failed("remove what a stopped run left at", leftover, &e))?;
        }
        Ok(())
    }

    fn check_replaceable(&self) -> Result<(), OutputError> {
        let refuse = |cause: &str, hint: String| {
            Err(OutputError {
                tried: "replace",
                path: self.to.clone(),
                cause: cause.into(),
                hint,
            })
        };
        let Ok(kind) = fs::symlink_metadata(&self.to).map(|m| m.file_type()) else {
            return Ok(());
        };
        if kind.is_symlink() {
            let goal = fs::read_link(&self.to).unwrap_or_default();
            let hint = format!("give the folder it points to, {}", goal.display());
            return refuse("it is a link, not a folder", hint);
        }
        if !kind.is_dir() {
            let hint = "choose a folder for the site, or move this file away".into();
            return refuse("it is a file, not a folder", hint);
        }
        if std::env::current_dir().is_ok_and(|here| here.starts_with(&self.to)) {
            let hint = "go to another folder first, or choose another one for the site".into();
            return refuse("it is the folder you are in, or holds it", hint);
        }
        if is_site(&self.to) || is_empty_folder(&self.to) {
            return Ok(());
        }
        Err(not_ours(&self.to))
    }

    /// Writes the whole new site into its hidden folder and waits until it is on the disk.
    fn fill(&self, files: &BTreeMap<String, Vec<u8>>) -> Result<(), OutputError> {
        let new = &self.new;
        fs::create_dir(new).map_err(|e| failed("make the folder", new, &e))?;
        // First, so that a half-written folder is known as ours.
        put(&new.join(MARKER), MARKER_TEXT.as_bytes())?;
        for name in files.keys() {
            let path = inside(new, name)?;
            if let Some(folder) = path.parent() {
                fs::create_dir_all(folder).map_err(|e| failed("make the folder", folder, &e))?;
            }
        }
        files.par_iter().try_for_each(|(name, bytes)| {
            put(&inside(new, name)?, bytes)?;
            if has_copy(name, files) {
                return Ok(());
            }
            for (ending, packed) in packed(name, bytes) {
                put(&inside(new, &format!("{name}.{ending}"))?, &packed)?;
            }
            Ok(())
        })
    }

    fn swap(&self) -> Result<(), OutputError> {
        let failed_swap = |e: io::Error| failed("put the new site in place at", &self.to, &e);
        if !exists(&self.to) {
            fs::rename(&self.new, &self.to).map_err(failed_swap)?;
        } else if exchange(&self.new, &self.to).is_ok() {
            self.settle_parent();
            // The new site stands; what can't be removed now is cleared by the next run.
            let _ = remove_site(&self.new);
        } else {
            fs::rename(&self.to, &self.old).map_err(failed_swap)?;
            if let Err(e) = fs::rename(&self.new, &self.to) {
                let _ = fs::rename(&self.old, &self.to);
                return Err(failed_swap(e));
            }
            let _ = remove_site(&self.old);
        }
        self.settle_parent();
        Ok(())
    }

    /// Makes the swap itself last through a power cut. Its failure changes nothing that readers see.
    fn settle_parent(&self) {
        if let Ok(folder) = File::open(&self.parent) {
            let _ = folder.sync_all();
        }
    }
}

/// The path of a file of the site, which must stay inside it.
fn inside(folder: &Path, name: &str) -> Result<PathBuf, OutputError> {
    let relative = Path::new(name);
    let stays = relative
        .components()
        .all(|part| matches!(part, Component::Normal(_)));
    if stays && !name.is_empty() {
        return Ok(folder.join(relative));
    }
    Err(OutputError {
        tried: "write the file",
        path: relative.to_path_buf(),
        cause: "its name leads out of the site".into(),
        hint: "give cards and families plain file names".into(),
    })
}

/// Writes a file and waits until it is on the disk, so that a power cut after the swap can't show
/// empty pages. (One call for the whole disk would also wait for what other programs write.)
fn put(path: &Path, bytes: &[u8]) -> Result<(), OutputError> {
    File::create(path)
        .and_then(|mut file| {
            file.write_all(bytes)?;
            file.sync_data()
        })
        .map_err(|e| failed("write the file", path, &e))
}

/// Removes a site, its marker last: a run killed half-way leaves a folder that is still known as ours.
fn remove_site(folder: &Path) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        if entry.file_type()?.is_dir() {
            fs::remove_dir_all(entry.path())?;
        } else if entry.file_name() != MARKER {
            fs::remove_file(entry.path())?;
        }
    }
    match fs::remove_file(folder.join(MARKER)) {
        Err(e) if e.kind() != io::ErrorKind::NotFound => Err(e),
        _ => fs::remove_dir(folder),
    }
}

fn exists(path: &Path) -> bool {
    path.symlink_metadata().is_ok()
}

fn is_site(folder: &Path) -> bool {
    let real = folder.symlink_metadata().is_ok_and(|m| m.is_dir());
    real && folder.join(MARKER).is_file()
}

fn is_empty_folder(folder: &Path) -> bool {
    fs::read_dir(folder).is_ok_and(|mut entries| entries.next().is_none())
}

/// Exchanges two folders in one step.
#[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
fn exchange(one: &Path, other: &Path) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    Ok(renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE)?)
}

#[cfg(not(any(target_os = "linux", target_os = "android", target_vendor = "apple")))]
fn exchange(_one: &Path, _other: &Path) -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}

fn not_ours(path: &Path) -> OutputError {
    OutputError {
        tried: "replace",
        path: path.to_path_buf(),
        cause: "it is not empty, and no earlier site of ours".into(),
        hint: "choose an empty or new folder; replacing would lose what is in this one".into(),
    }
}

/// The system's refusal in words, with what to try for its kind.
fn failed(tried: &'static str, path: &Path, error: &io::Error) -> OutputError {
    use io::ErrorKind as Kind;
    let (cause, hint) = match error.kind() {
        Kind::PermissionDenied => (
            "you may not write there".into(),
            "choose a folder you may write to",
        ),
        Kind::ReadOnlyFilesystem => (
            "the disk is read-only".into(),
            "choose a folder on another disk",
        ),
        Kind::StorageFull | Kind::QuotaExceeded => (
            "the disk is full".into(),
            "free some space, or choose another disk",
        ),
        Kind::NotADirectory | Kind::AlreadyExists => (
            "a file stands where a folder is needed".into(),
            "choose another folder, or move that file away",
        ),
        _ => (
            error.to_string(),
            "choose another folder with --to, or ask whoever looks after this machine",
        ),
    };
    OutputError {
        tried,
        path: path.to_path_buf(),
        cause,
        hint: hint.into(),
    }
}
