//! Findings as pictures: the author's own line, a caret under the place, what to do.

use super::console::Look;
use crate::finding::{Finding, Place, Severity};
use annotate_snippets::{
    Annotation, AnnotationKind, Element, Group, Level, Origin, Padding, Renderer, Snippet,
};
use std::collections::BTreeMap;
use std::io::{self, Write};
use std::ops::Range;
use std::path::Path;

/// Findings with what it takes to draw them.
pub(super) struct Drawn<'a> {
    pub(super) findings: &'a [Finding],
    /// The deck's folder, as it was typed.
    pub(super) folder: &'a Path,
    /// The texts they point into.
    pub(super) texts: &'a BTreeMap<String, String>,
}

/// Draws findings, a blank line after each.
pub(super) fn draw_all(drawn: &Drawn<'_>, look: Look, to: &mut dyn Write) -> io::Result<()> {
    let each = drawn.findings.iter();
    each.map(|finding| draw(finding, drawn, look))
        .try_for_each(|picture| writeln!(to, "{picture}\n"))
}

fn draw(finding: &Finding, drawn: &Drawn<'_>, look: Look) -> String {
    let (level, marks) = (level(finding.kind.severity), marks(finding));
    let mut main = level
        .primary_title(visible(&finding.message))
        .id(finding.kind.code)
        .elements(marks.into_iter().map(|(file, marks)| {
            let text = drawn.texts.get(file).map(String::as_str);
            picture(&shown_path(drawn.folder, file), text, &marks)
        }));
    let mut groups = Vec::new();
    if let Some(hint) = &finding.hint {
        main = main.element(Padding);
        groups.push(Group::with_title(
            Level::HELP.with_name("try").secondary_title(visible(hint)),
        ));
    }
    groups.insert(0, main);
    match look {
        Look::Coloured => Renderer::styled(),
        _ => Renderer::plain(),
    }
    .render(&groups)
}

fn level(severity: Severity) -> Level<'static> {
    match severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Advice => Level::INFO.with_name("advice"),
    }
}

/// A place to underline, and the words beside it.
struct Mark<'a> {
    kind: AnnotationKind,
    place: &'a Place,
    says: &'a str,
}

/// The places of a finding by file, its own file first.
fn marks(finding: &Finding) -> Vec<(&str, Vec<Mark<'_>>)> {
    let own = Mark {
        kind: AnnotationKind::Primary,
        place: &finding.place,
        says: "",
    };
    let related = finding.related.iter().map(|(place, says)| Mark {
        kind: AnnotationKind::Context,
        place,
        says,
    });
    let mut files: Vec<(&str, Vec<Mark<'_>>)> = Vec::new();
    for mark in std::iter::once(own).chain(related) {
        let file = mark.place.file.as_str();
        match files.iter_mut().find(|(known, _)| *known == file) {
            Some((_, marks)) => marks.push(mark),
            None => files.push((file, vec![mark])),
        }
    }
    files
}

/// The author's lines with marks, or the file's name alone where there is no line to show.
fn picture<'a>(path: &str, text: Option<&'a str>, marks: &[Mark<'_>]) -> Element<'a> {
    let drawn: Vec<Annotation<'a>> = text
        .map(|text| {
            marks
                .iter()
                .filter_map(|mark| {
                    let label = Some(visible(mark.says)).filter(|says| !says.is_empty());
                    Some(mark.kind.span(span(text, mark.place)?).label(label))
                })
                .collect()
        })
        .unwrap_or_default();
    match text {
        Some(text) if !drawn.is_empty() => Snippet::source(text)
            .path(path.to_string())
            .annotations(drawn)
            .into(),
        _ => Origin::path(path.to_string()).into(),
    }
}

/// The bytes of a place; none for a whole file, or where the file has changed since it was read.
fn span(text: &str, place: &Place) -> Option<Range<usize>> {
    let line = text
        .split_inclusive('\n')
        .nth(place.line.checked_sub(1)?)?
        .trim_end_matches(['\n', '\r']);
    let line_start = line.as_ptr() as usize - text.as_ptr() as usize;
    let at = |characters: usize| {
        line.char_indices()
            .nth(characters)
            .map_or(line.len(), |(byte, _)| byte)
    };
    let first = place.column.saturating_sub(1);
    let start = at(first);
    let end = at(first.saturating_add(place.length.max(1)));
    Some(line_start + start..line_start + end)
}

/// As one would type it from here; content that ships with the program keeps its own name.
fn shown_path(folder: &Path, file: &str) -> String {
    if file.starts_with("shipped/") {
        return file.to_string();
    }
    visible(&folder.join(file).display().to_string())
}

/// Text from a deck, safe on a terminal: control and direction characters can't act there, and
/// spaces are plain ones, so that readings can be searched and copied.
pub(super) fn visible(text: &str) -> String {
    let acts = |c: char| {
        (c.is_control() && c != '\n')
            || matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    text.replace('\u{a0}', " ").replace(acts, "\u{fffd}")
}
