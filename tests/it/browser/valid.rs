//! Every page by the letter of the HTML standard, as a validator reads it that knows nothing of us.

use super::demo;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The validator that `tests/run` fetches.
fn validator() -> PathBuf {
    let tools = Path::new(env!("CARGO_TARGET_TMPDIR")).with_file_name("tools");
    let found = std::fs::read_dir(&tools).into_iter().flatten();
    found
        .map(|entry| entry.unwrap().path())
        .find(|path| path.extension().is_some_and(|ending| ending == "jar"))
        .unwrap_or_else(|| panic!("no validator in {}: run tests/run", tools.display()))
}

/// What the validator has against the pages, pictures and styles of this folder.
fn complaints(folder: &Path) -> String {
    let told = Command::new("java")
        .args(["-Xss8m", "-jar"])
        .arg(validator())
        .args([
            "--errors-only",
            "--format",
            "gnu",
            "--also-check-css",
            "--also-check-svg",
        ])
        .arg(folder)
        .output()
        .expect("java is installed: run tests/run");
    String::from_utf8_lossy(&told.stderr).into_owned() + &String::from_utf8_lossy(&told.stdout)
}

/// What the validator does not know yet of CSS: container queries (CSS Conditional Rules Level 5, in every browser since 2023).
const UNKNOWN: [&str; 2] = [
    "CSS: Unrecognized at-rule “@container”",
    "CSS: “container-type”: Property “container-type” doesn't exist.",
];

#[test]
fn every_page_is_valid_html() {
    let room = tempfile::tempdir().unwrap();
    // Scripts, engines and what a phone is handed are no pages; their own tests read them.
    let shown = |name: &str| {
        [".html", ".css", ".svg"]
            .iter()
            .any(|end| name.ends_with(end))
    };
    for (name, bytes) in demo().iter().filter(|(name, _)| shown(name)) {
        let path = room.path().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, bytes).unwrap();
    }
    let told = complaints(room.path());
    let known = |line: &str| UNKNOWN.iter().any(|new| line.ends_with(new));
    let told: Vec<&str> = told.lines().filter(|line| !known(line)).collect();
    assert!(told.concat().trim().is_empty(), "{told:#?}");
}

#[test]
fn the_validator_sees_a_fault() {
    let room = tempfile::tempdir().unwrap();
    let page = String::from_utf8(demo()["index.html"].clone()).unwrap();
    let broken = page.replacen("</main>", "<p id=content><li>", 1);
    assert_ne!(page, broken, "the fault was not placed");
    std::fs::write(room.path().join("index.html"), broken).unwrap();
    let told = complaints(room.path());
    assert!(
        told.contains("index.html") && told.contains("error:"),
        "{told}"
    );
}
