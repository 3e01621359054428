//! Lessons: a shop's or school's own texts in Markdown, `lessons/NAME.md`, as written.
//!
//! In: the files of a deck. Out: a [`Lesson`] each, in the order of their names, its first heading its title. Never:
//! Markdown turned into anything.

use super::Lesson;
use super::places::text_of;
use super::read_deck::{check_name, name_in};
use crate::finding::{Finding, Place, kinds};
use std::collections::BTreeMap;

/// Reads every lesson of a deck.
pub(super) fn read_lessons(
    files: &BTreeMap<String, Vec<u8>>,
    findings: &mut Vec<Finding>,
) -> Vec<Lesson> {
    let lessons = files.iter().filter(|(file, _)| is_lesson(file));
    let read = lessons.filter_map(|(file, bytes)| read_lesson(file, bytes, findings));
    read.collect()
}

/// `lessons/x.md`, not deeper.
pub(super) fn is_lesson(file: &str) -> bool {
    name_in(file, "lessons").is_some_and(|name| name.ends_with(".md"))
}

fn read_lesson(file: &str, bytes: &[u8], findings: &mut Vec<Finding>) -> Option<Lesson> {
    let id = check_name(file, findings);
    let text = text_of(file, bytes, findings)?.trim_start();
    if text.is_empty() {
        findings.push(kinds::empty_file(
            &Place::whole_file(file),
            "# Loaded tests",
        ));
        return None;
    }
    let (first, rest) = text.split_once('\n').unwrap_or((text, ""));
    let title = first
        .strip_prefix("# ")
        .map(|title| title.trim().trim_end_matches('#').trim());
    let (title, text) = match title.filter(|title| !title.is_empty()) {
        Some(title) => (title.to_owned(), rest),
        None => {
            findings.push(kinds::untitled_lesson(file, &id));
            (id.replace('-', " "), text)
        }
    };
    Some(Lesson {
        id,
        file: file.to_owned(),
        title,
        text: text.to_owned(),
    })
}
