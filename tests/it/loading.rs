//! Folders on disk to decks: what is read, what is left alone, what is said where nothing can be read.

use loomleaf::card::{load, shipped};
use std::fs;
use std::path::Path;

fn write(folder: &Path, files: &[(&str, &str)]) {
    for (name, text) in files {
        let path = folder.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }
}

fn codes(folder: &Path) -> Vec<(String, &'static str)> {
    let loaded = load(folder, &shipped()).unwrap();
    let code = |finding: loomleaf::finding::Finding| (finding.place.file, finding.kind.code);
    loaded.findings.into_iter().map(code).collect()
}

#[test]
fn hidden_files_and_left_overs_of_editors_are_no_part_of_a_deck() {
    let folder = tempfile::tempdir().unwrap();
    let files = [
        ("deck.yaml", "title: x"),
        (".git/config", "x"),
        ("cards/.hidden.yaml", "x"),
        ("cards/egr.yaml~", "x"),
        ("cards/egr.yaml.bak", "x"),
        ("cards/#egr.yaml#", "x"),
        ("lessons/ground.md", "# x"),
    ];
    write(folder.path(), &files);
    assert_eq!(
        codes(folder.path()),
        [("deck.yaml".to_owned(), "empty-deck")]
    );
    let loaded = load(folder.path(), &shipped()).unwrap();
    assert_eq!(loaded.texts["deck.yaml"], "title: x");
    assert!(loaded.texts.contains_key("shipped/cautions.yaml"));
    assert!(!loaded.texts.contains_key(".git/config"));
}

#[test]
fn what_cannot_be_loaded_says_why_and_what_to_try() {
    let folder = tempfile::tempdir().unwrap();
    let missing = load(&folder.path().join("nowhere"), &shipped()).unwrap_err();
    assert_eq!(missing.cause, "there is no such folder");
    assert!(missing.to_string().contains("nowhere"));
    assert!(missing.hint.contains("deck.yaml"));
    write(folder.path(), &[("deck.yaml", "title: x")]);
    let file = load(&folder.path().join("deck.yaml"), &shipped()).unwrap_err();
    assert!(file.cause.contains("not a folder"));
}

#[cfg(unix)]
#[test]
fn links_are_followed_inside_the_deck_only() {
    use std::os::unix::fs::symlink;
    let outside = tempfile::tempdir().unwrap();
    write(
        outside.path(),
        &[
            ("secret.yaml", "title: secret"),
            ("cards/far.yaml", "title: far"),
        ],
    );
    let folder = tempfile::tempdir().unwrap();
    write(
        folder.path(),
        &[("deck.yaml", "title: x"), ("lessons/a.md", "x")],
    );
    fs::create_dir_all(folder.path().join("cards")).unwrap();
    symlink(
        outside.path().join("secret.yaml"),
        folder.path().join("cards/linked.yaml"),
    )
    .unwrap();
    symlink(outside.path(), folder.path().join("families")).unwrap();
    symlink("nothing", folder.path().join("cards/broken.yaml")).unwrap();
    symlink("a.md", folder.path().join("lessons/b.md")).unwrap();
    symlink(".", folder.path().join("lessons/loop")).unwrap();
    let found = codes(folder.path());
    let links: Vec<&str> = found
        .iter()
        .filter(|(_, code)| *code == "link-outside")
        .map(|(file, _)| file.as_str())
        .collect();
    assert_eq!(
        links,
        ["cards/broken.yaml", "cards/linked.yaml", "families"]
    );
    let loaded = load(folder.path(), &shipped()).unwrap();
    assert!(loaded.texts.contains_key("lessons/b.md"));
    assert!(!loaded.texts.values().any(|text| text.contains("secret")));
}

#[test]
fn the_demo_is_read_without_findings() {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo");
    let loaded = load(&demo, &shipped()).unwrap();
    let found: Vec<String> = loaded
        .findings
        .iter()
        .map(|finding| {
            format!(
                "{:?} {}: {}",
                finding.place, finding.kind.code, finding.message
            )
        })
        .collect();
    assert_eq!(found, Vec::<String>::new());
    let files = fs::read_dir(demo.join("cards")).unwrap().count();
    assert_eq!(loaded.deck.unwrap().cards.len(), files);
}
