//! Putting a site in place: file map and target folder in, folder on disk or one clear refusal out.

use loomleaf::publish::output::{MARKER, OutputError, keep_apart, write};
use std::collections::BTreeMap;
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};

fn site(files: &[(&str, &str)]) -> BTreeMap<String, Vec<u8>> {
    let owned = |(name, text): &(&str, &str)| (name.to_string(), text.as_bytes().to_vec());
    files.iter().map(owned).collect()
}

fn one_page(text: &str) -> BTreeMap<String, Vec<u8>> {
    site(&[("index.html", text)])
}

/// Every file under a folder, folder-relative.
fn listing(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    walkdir::WalkDir::new(folder)
        .into_iter()
        .map(Result::unwrap)
        .filter(|entry| entry.file_type().is_file())
        .map(|entry| {
            let name = entry.path().strip_prefix(folder).unwrap().to_path_buf();
            (name, fs::read(entry.path()).unwrap())
        })
        .collect()
}

/// Names beside the target, hidden ones included.
fn beside(folder: &Path) -> Vec<String> {
    let name = |entry: std::io::Result<fs::DirEntry>| entry.unwrap().file_name();
    let mut names: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| name(entry).into_string().unwrap())
        .collect();
    names.sort();
    names
}

fn check_refused(result: Result<impl Sized, OutputError>, cause: &str) {
    let Err(error) = result else {
        panic!("was not refused, expected: {cause}")
    };
    assert_eq!(error.cause, cause, "{error}");
    assert!(!error.hint.is_empty());
}

#[test]
fn a_new_site_replaces_the_old_one_whole() {
    let room = tempfile::tempdir().unwrap();
    let to = room.path().join("shop/site");
    let first = site(&[("index.html", "one"), ("card/old.html", "gone later")]);
    assert_eq!(write(&first, &to).unwrap().files, 2);
    assert_eq!(write(&one_page("two"), &to).unwrap().bytes, 3);
    let names: Vec<_> = listing(&to).into_keys().collect();
    assert_eq!(names, [PathBuf::from(MARKER), PathBuf::from("index.html")]);
    assert_eq!(fs::read(to.join("index.html")).unwrap(), b"two");
    assert_eq!(beside(to.parent().unwrap()), ["site"]);
}

#[test]
fn packed_copies_unpack_to_the_page_and_never_differ_between_runs() {
    let room = tempfile::tempdir().unwrap();
    let page = "expected reading 4.8 V\n".repeat(200);
    let files = site(&[
        ("long.html", &page),
        ("short.html", "4.8 V"),
        ("photo.png", &page),
    ]);
    let (one, two) = (room.path().join("one"), room.path().join("two"));
    write(&files, &one).unwrap();
    write(&files, &two).unwrap();
    let listed = listing(&one);
    assert_eq!(listed, listing(&two));
    let packed: Vec<_> = listed
        .keys()
        .filter(|name| {
            name.extension()
                .is_some_and(|end| end == "gz" || end == "br")
        })
        .collect();
    assert_eq!(
        packed,
        [Path::new("long.html.br"), Path::new("long.html.gz")]
    );
    let mut from_gz = String::new();
    flate2::read::GzDecoder::new(&listed[Path::new("long.html.gz")][..])
        .read_to_string(&mut from_gz)
        .unwrap();
    let mut from_br = Vec::new();
    brotli::BrotliDecompress(&mut &listed[Path::new("long.html.br")][..], &mut from_br).unwrap();
    assert_eq!(
        (from_gz.as_bytes(), &from_br[..]),
        (page.as_bytes(), page.as_bytes())
    );
}

#[test]
fn only_an_empty_folder_or_a_site_is_replaced() {
    let room = tempfile::tempdir().unwrap();
    let photos = room.path().join("photos");
    fs::create_dir(&photos).unwrap();
    write(&one_page("into an empty folder"), &photos).unwrap();
    fs::remove_file(photos.join(MARKER)).unwrap();
    check_refused(
        write(&one_page("new"), &photos),
        "it is not empty, and no earlier site of ours",
    );
    assert_eq!(
        fs::read(photos.join("index.html")).unwrap(),
        b"into an empty folder"
    );
    assert_eq!(beside(room.path()), ["photos"]);
}

#[test]
fn a_file_or_a_link_is_no_target() {
    let room = tempfile::tempdir().unwrap();
    let file = room.path().join("file");
    fs::write(&file, "mine").unwrap();
    check_refused(write(&one_page("new"), &file), "it is a file, not a folder");
    check_refused(
        write(&one_page("new"), &file.join("site")),
        "a file stands where a folder is needed",
    );
    check_refused(
        write(&one_page("new"), Path::new("/")),
        "this names no folder of its own",
    );
    assert_eq!(fs::read(&file).unwrap(), b"mine");
}

#[cfg(unix)]
#[test]
fn a_link_is_left_alone_and_its_goal_named() {
    let room = tempfile::tempdir().unwrap();
    let link = room.path().join("current");
    std::os::unix::fs::symlink("release-7", &link).unwrap();
    let error = write(&one_page("new"), &link).unwrap_err();
    assert_eq!(error.cause, "it is a link, not a folder");
    assert!(error.hint.contains("release-7"), "{}", error.hint);
}

/// Tests often run as root, whom permissions don't stop; nobody can make a folder in /proc.
#[cfg(target_os = "linux")]
#[test]
fn a_place_that_takes_no_folder_is_named() {
    let error = write(&one_page("new"), Path::new("/proc/site")).unwrap_err();
    assert_eq!(
        (error.tried, error.path),
        ("make the folder", PathBuf::from("/proc/.site.loomleaf-new"))
    );
}

#[test]
fn leftovers_of_a_killed_run_are_cleared() {
    let room = tempfile::tempdir().unwrap();
    let to = room.path().join("site");
    write(&one_page("old"), &to).unwrap();
    let half = room.path().join(".site.loomleaf-new");
    fs::create_dir_all(half.join("card")).unwrap();
    fs::write(half.join(MARKER), "").unwrap();
    write(&one_page("new"), &to).unwrap();
    assert_eq!(beside(room.path()), ["site"]);
    assert_eq!(fs::read(to.join("index.html")).unwrap(), b"new");
}

#[test]
fn an_old_site_moved_aside_by_a_killed_run_comes_back_even_when_writing_fails() {
    let room = tempfile::tempdir().unwrap();
    let to = room.path().join("site");
    write(&one_page("old"), &to).unwrap();
    fs::rename(&to, room.path().join(".site.loomleaf-old")).unwrap();
    check_refused(
        write(&site(&[("../out.html", "new")]), &to),
        "its name leads out of the site",
    );
    assert_eq!(fs::read(to.join("index.html")).unwrap(), b"old");
    assert_eq!(beside(room.path()), ["site"]);
}

#[test]
fn someone_elses_folder_under_a_hidden_name_is_not_removed() {
    let room = tempfile::tempdir().unwrap();
    let theirs = room.path().join(".site.loomleaf-new");
    fs::create_dir(&theirs).unwrap();
    fs::write(theirs.join("letter.txt"), "dear").unwrap();
    check_refused(
        write(&one_page("new"), &room.path().join("site")),
        "it is not empty, and no earlier site of ours",
    );
    assert_eq!(fs::read(theirs.join("letter.txt")).unwrap(), b"dear");
}

#[test]
fn deck_and_site_stay_apart() {
    let room = tempfile::tempdir().unwrap();
    let deck = room.path().join("deck");
    fs::create_dir(&deck).unwrap();
    check_refused(keep_apart(&deck, &deck), "it is the deck itself");
    check_refused(
        keep_apart(&deck, &deck.join("not/yet/there")),
        "it lies inside the deck",
    );
    check_refused(keep_apart(&deck, room.path()), "the deck lies inside it");
    check_refused(
        keep_apart(&deck, &deck.join("../deck/site")),
        "it lies inside the deck",
    );
    keep_apart(&deck, &room.path().join("deck-site")).unwrap();
    #[cfg(unix)]
    {
        let side_door = room.path().join("side-door");
        std::os::unix::fs::symlink(&deck, &side_door).unwrap();
        check_refused(
            keep_apart(&deck, &side_door.join("site")),
            "it lies inside the deck",
        );
    }
}
