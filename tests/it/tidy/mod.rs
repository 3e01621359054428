//! Rules of the tree: the files themselves in, every breach with its place out.
//!
//! A breach is mended, or the rule is changed here and in DEVELOPERS.md, which must agree.

mod arrows;

use std::fs;
use std::path::Path;

const LINES_OF_FILE: usize = 400;
const LINES_OF_FUNCTION: usize = 60;
const USUAL_LINES_OF_FUNCTION: usize = 35;

/// A comment line above a function that is one long table or match: `// flat: why it is not cut up`.
const FLAT: &str = "// flat: ";

/// A file of the tree, path from its top.
struct Source {
    path: String,
    text: String,
}

impl Source {
    /// The module of `src/` it belongs to; empty for lib.rs, main.rs and tests.
    fn module(&self) -> &str {
        let inner = self.path.strip_prefix("src/").unwrap_or("");
        inner.split_once('/').map_or("", |(module, _)| module)
    }

    /// Lines that are code of the program: numbered from 1, without comments and without its own tests.
    fn code(&self) -> impl Iterator<Item = (usize, &str)> {
        self.text
            .lines()
            .take_while(|line| !line.contains("#[cfg(test)]"))
            .enumerate()
            .map(|(at, line)| (at + 1, line.split("//").next().unwrap_or("")))
    }
}

/// The file's text, from the top of the tree.
fn read(path: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).unwrap()
}

/// Files below a folder with one of these endings, sorted.
fn files(folder: &str, endings: &[&str]) -> Vec<Source> {
    let top = Path::new(env!("CARGO_MANIFEST_DIR"));
    walkdir::WalkDir::new(top.join(folder))
        .sort_by_file_name()
        .into_iter()
        .filter_entry(|entry| {
            let name = entry.file_name().to_string_lossy();
            entry.depth() == 0 || !(name == "target" || name == ".git")
        })
        .map(Result::unwrap)
        .filter(|entry| entry.file_type().is_file())
        .filter(|entry| {
            let ending = entry.path().extension().unwrap_or_default();
            endings.is_empty() || endings.iter().any(|known| ending == *known)
        })
        .filter_map(|entry| {
            let path = entry
                .path()
                .strip_prefix(top)
                .unwrap()
                .to_str()?
                .to_string();
            // Pictures are no text.
            let text = String::from_utf8(fs::read(entry.path()).unwrap()).ok()?;
            Some(Source { path, text })
        })
        .collect()
}

fn rust() -> Vec<Source> {
    let mut all = files("src", &["rs"]);
    all.extend(files("tests", &["rs"]));
    assert!(all.len() > 20, "the tree was not found");
    all
}

fn check_none(rule: &str, breaches: &[String]) {
    assert!(breaches.is_empty(), "{rule}:\n{}", breaches.join("\n"));
}

#[test]
fn every_file_says_first_what_it_owns() {
    let breaches: Vec<String> = rust()
        .iter()
        .filter(|source| !source.text.starts_with("//! "))
        .map(|source| source.path.clone())
        .collect();
    check_none("files that don't start with //!", &breaches);
}

#[test]
fn files_stay_short() {
    let breaches: Vec<String> = rust()
        .iter()
        .map(|source| (&source.path, source.text.lines().count()))
        .filter(|(_, lines)| *lines > LINES_OF_FILE)
        .map(|(path, lines)| format!("{path}: {lines} lines"))
        .collect();
    check_none("files over 400 lines", &breaches);
}

/// Functions with their length in lines, read by the formatter's rule that a body ends at a brace as far
/// in as its `fn` line.
fn functions(source: &Source) -> Vec<(String, usize)> {
    let lines: Vec<&str> = source.text.lines().collect();
    let mut found = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        let code = line.trim_start();
        let words: Vec<&str> = code.split(' ').collect();
        let starts = words
            .iter()
            .take_while(|word| !word.starts_with("fn"))
            .all(|word| word.starts_with("pub") || ["const", "async", "unsafe"].contains(word));
        let is_function = starts && words.contains(&"fn");
        let flat = lines[..at]
            .iter()
            .rev()
            .take_while(|above| above.trim_start().starts_with(['/', '#']))
            .any(|above| above.trim_start().starts_with(FLAT));
        if !is_function || flat {
            continue;
        }
        let indent = &line[..line.len() - code.len()];
        let end = lines[at..]
            .iter()
            .position(|below| {
                let closes = below.strip_prefix(indent).unwrap_or("");
                closes == "}"
                    || (closes.starts_with("fn") || closes.starts_with("pub"))
                        && below.ends_with(['}', ';'])
            })
            .unwrap_or(0);
        found.push((format!("{}:{}", source.path, at + 1), end + 1));
    }
    found
}

#[test]
fn functions_stay_short() {
    let all: Vec<(String, usize)> = rust().iter().flat_map(functions).collect();
    let over = |most: usize| -> Vec<String> {
        let long = all.iter().filter(|(_, lines)| *lines > most);
        long.map(|(place, lines)| format!("{place}: {lines} lines"))
            .collect()
    };
    assert!(all.len() > 100, "functions were not found");
    check_none("functions over 60 lines", &over(LINES_OF_FUNCTION));
    let long = over(USUAL_LINES_OF_FUNCTION);
    let one_in_ten = all.len() / 10;
    assert!(
        long.len() <= one_in_ten,
        "over 35 lines, more than one in ten:\n{}",
        long.join("\n")
    );
}

#[test]
fn the_program_has_no_word_that_stops_or_prints() {
    let mut breaches = Vec::new();
    for source in files("src", &["rs"]) {
        for (line, code) in source.code() {
            let prints = ["println!", "print!(", "eprint!(", "process::exit"];
            let stops = [".unwrap()", "dbg!", "todo!", "unimplemented!", "panic!"];
            let printing =
                source.module() != "cli" && prints.iter().any(|word| code.contains(word));
            if printing || stops.iter().any(|word| code.contains(word)) {
                breaches.push(format!("{}:{line}: {}", source.path, code.trim()));
            }
        }
    }
    check_none("words that stop or print", &breaches);
}

#[test]
fn logarithms_powers_and_roots_come_from_quantity() {
    let own = [
        ".ln()", ".log10()", ".log2()", ".log(", ".exp()", ".exp2()", ".powf(", ".powi(",
        ".sqrt()", ".cbrt()", ".sin()", ".cos()", ".tan()", ".atan2(", ".hypot(", "libm::",
    ];
    let mut breaches = Vec::new();
    for source in files("src", &["rs"]) {
        let lines = source.code().filter(|_| source.module() != "quantity");
        for (line, code) in lines {
            if own.iter().any(|word| code.contains(word)) {
                breaches.push(format!("{}:{line}: {}", source.path, code.trim()));
            }
        }
    }
    check_none(
        "the platform's own functions, whose last digit differs",
        &breaches,
    );
}

#[test]
fn nothing_names_a_machine_or_a_registry() {
    // Cut in two, so that this file may stand in the tree it looks through.
    let banned = [
        ("/ro", "ot/"),
        ("/ho", "me/"),
        ("/Us", "ers/"),
        ("/wo", "rk/"),
        ("../sha", "red"),
        ("registry.", "npmjs"),
        ("index.cra", "tes"),
        ("static.cra", "tes"),
        ("deb.deb", "ian"),
    ];
    let banned: Vec<String> = banned.iter().map(|(a, b)| format!("{a}{b}")).collect();
    let mut breaches = Vec::new();
    for source in files("", &[]) {
        for (at, line) in source.text.lines().enumerate() {
            if banned.iter().any(|word| line.contains(word.as_str())) {
                breaches.push(format!("{}:{}: {line}", source.path, at + 1));
            }
        }
    }
    check_none("texts of one machine", &breaches);
}

#[test]
fn tests_run_always_and_wait_for_nothing() {
    let banned = [
        ("#[ign", "ore"),
        ("should_", "panic"),
        ("thread::", "sleep"),
    ];
    let banned: Vec<String> = banned.iter().map(|(a, b)| format!("{a}{b}")).collect();
    let mut breaches = Vec::new();
    for source in rust() {
        for (at, line) in source.text.lines().enumerate() {
            if banned.iter().any(|word| line.contains(word.as_str())) {
                breaches.push(format!("{}:{}: {line}", source.path, at + 1));
            }
        }
    }
    check_none("tests that are skipped or sleep", &breaches);
}
