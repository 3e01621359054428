//! Which module and which crate may be used where: the tree, its map and its list must agree.

use super::{check_none, files, read};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

/// Modules in layer order, each with what it may use.
const ARROWS: [(&str, &[&str]); 13] = [
    ("quantity", &[]),
    ("finding", &[]),
    ("circuit", &["quantity"]),
    ("calc", &["quantity"]),
    ("card", &["quantity", "finding"]),
    ("reason", &["quantity", "circuit"]),
    (
        "sheet",
        &["quantity", "finding", "circuit", "calc", "card", "reason"],
    ),
    ("index", &["quantity", "calc", "card"]),
    (
        "report",
        &[
            "quantity", "circuit", "calc", "card", "reason", "sheet", "index",
        ],
    ),
    ("phone", &["calc", "sheet", "index", "report"]),
    (
        "publish",
        &[
            "quantity", "finding", "circuit", "calc", "card", "reason", "sheet", "index", "report",
        ],
    ),
    ("preview", &["finding", "card", "sheet", "publish"]),
    (
        "cli",
        &[
            "quantity", "finding", "circuit", "calc", "card", "reason", "sheet", "index", "report",
            "publish", "preview",
        ],
    ),
];

#[test]
fn imports_follow_the_arrows() {
    let mut breaches = Vec::new();
    for source in files("src", &["rs"]) {
        let module = source.module();
        let Some((_, allowed)) = ARROWS.iter().find(|(name, _)| *name == module) else {
            assert!(module.is_empty(), "{module} has no arrows in this test");
            continue;
        };
        let code: String = source.code().map(|(_, line)| format!("{line}\n")).collect();
        for used in heads(&code, "crate::") {
            let known = ARROWS.iter().any(|(name, _)| *name == used);
            if known && used != module && !allowed.contains(&used) {
                breaches.push(format!("{} uses {used}", source.path));
            }
        }
        // Types of the circuit may be shown; its functions solve it.
        let borrowed = heads(&code, "circuit::");
        let function = borrowed
            .iter()
            .find(|name| name.starts_with(char::is_lowercase));
        if let ("publish", Some(function)) = (module, function) {
            breaches.push(format!("{} solves with {function}", source.path));
        }
    }
    check_none("arrows that are not allowed", &breaches);
}

/// The rows of the table of crates in DEVELOPERS.md: crate to the folders it may be used in.
fn crates() -> BTreeMap<String, BTreeSet<String>> {
    let text = read("DEVELOPERS.md");
    let table = text.split("| crate | where |").nth(1).unwrap();
    let words = |cell: &str| -> Vec<String> {
        let cells = cell.split(',').map(|word| word.trim().to_string());
        cells.collect()
    };
    let mut known = BTreeMap::new();
    for row in table
        .lines()
        .skip(2)
        .take_while(|line| line.starts_with('|'))
    {
        let cells: Vec<&str> = row.split('|').collect();
        for name in words(cells[1]) {
            known.insert(name, words(cells[2]).into_iter().collect());
        }
    }
    known
}

#[test]
fn each_crate_is_used_where_its_reason_says() {
    let known = crates();
    let manifest = read("Cargo.toml");
    let named: BTreeSet<String> = manifest
        .split("\n[")
        .filter(|part| part.lines().next().unwrap_or("").contains("dependencies]"))
        .flat_map(|part| part.lines().skip(1))
        .filter_map(|line| Some(line.split_once(" = ")?.0.to_string()))
        .collect();
    let told: BTreeSet<String> = known.keys().cloned().collect();
    assert_eq!(named, told, "Cargo.toml, and the reasons in DEVELOPERS.md");
    let mut breaches = Vec::new();
    for source in files("src", &["rs"]) {
        for (line, code) in source.code() {
            for (name, places) in &known {
                let path = format!("{}::", name.replace('-', "_"));
                let used = code.match_indices(&path).any(|(at, _)| {
                    let before = code[..at].chars().next_back().unwrap_or(' ');
                    !(before.is_alphanumeric() || before == '_' || before == ':')
                });
                if used && !places.contains(source.module()) {
                    breaches.push(format!("{}:{line} uses {name}", source.path));
                }
            }
        }
    }
    check_none("crates used outside their folder", &breaches);
}

/// The names right after `root` in code, each of those a `root{..}` lists.
fn heads<'a>(code: &'a str, root: &str) -> Vec<&'a str> {
    let word = |text: &'a str| {
        let text = text.trim_start();
        let end = text.find(|c: char| !(c.is_alphanumeric() || c == '_'));
        &text[..end.unwrap_or(text.len())]
    };
    let mut names = Vec::new();
    for (at, _) in code.match_indices(root) {
        let rest = &code[at + root.len()..];
        let Some(list) = rest.strip_prefix('{') else {
            names.push(word(rest));
            continue;
        };
        names.push(word(list));
        let mut depth = 1;
        for (at, letter) in list.char_indices() {
            match letter {
                '{' => depth += 1,
                '}' => depth -= 1,
                ',' if depth == 1 => names.push(word(&list[at + 1..])),
                _ => {}
            }
            if depth == 0 {
                break;
            }
        }
    }
    names.retain(|name| !name.is_empty());
    names
}

#[test]
fn names_after_a_root_are_found_in_lists_too() {
    let code =
        "use crate::{card::{Deck, load}, sheet, circuit::solve};\nlet x = crate::finding::Kind;";
    assert_eq!(
        heads(code, "crate::"),
        ["card", "sheet", "circuit", "finding"]
    );
    assert_eq!(heads(code, "circuit::"), ["solve"]);
}

#[test]
fn the_map_the_list_and_the_tree_name_the_same_modules() {
    let top = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let tree: BTreeSet<String> = fs::read_dir(top)
        .unwrap()
        .map(Result::unwrap)
        .filter(|entry| entry.path().is_dir())
        .map(|entry| entry.file_name().into_string().unwrap())
        .collect();
    let library = read("src/lib.rs");
    let declared: BTreeSet<String> = library
        .lines()
        .filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';'))
        .map(str::to_string)
        .collect();
    let listed: BTreeSet<String> = library
        .lines()
        .filter(|line| {
            line.starts_with("//! ")
                && line[4..]
                    .trim_start_matches(|c: char| c == ' ' || c == '.' || c.is_ascii_digit())
                    .starts_with(['[', '`'])
        })
        .filter_map(|line| line.split('`').nth(1))
        .filter(|name| name.chars().all(|c| c.is_ascii_lowercase()))
        .map(str::to_string)
        .collect();
    let developers = read("DEVELOPERS.md");
    let mapped: BTreeSet<String> = developers
        .lines()
        .filter_map(|line| {
            line.strip_prefix("src/")?
                .split_once("/ ")
                .map(|(name, _)| name.to_string())
        })
        .collect();
    let arrows: BTreeSet<String> = ARROWS.iter().map(|(name, _)| (*name).to_string()).collect();
    assert_eq!(declared, tree, "lib.rs, and the tree");
    assert_eq!(listed, tree, "the list in lib.rs, and the tree");
    assert_eq!(mapped, tree, "the map in DEVELOPERS.md, and the tree");
    assert_eq!(arrows, tree, "the arrows of this test, and the tree");
}
