//! Words that mean the same, and standard meanings of codes: what search knows of the trade.
//!
//! In: `content/words.yaml`, `content/codes.yaml` and the key `words` of a deck. Out: groups of words,
//! meanings by code; what can't be one is a finding.

use super::fields::{Fields, texts};
use super::is_code;
use super::places::{Node, NodeKind, tree};
use crate::finding::{Finding, kinds};
use std::collections::BTreeMap;

/// The longest phrase: a query is compared with all of them while somebody types.
const WORDS: usize = 6;

/// The groups of a list, each a list of at least two words or short phrases.
pub(super) fn read_groups(node: &Node, findings: &mut Vec<Finding>) -> Vec<Vec<String>> {
    let NodeKind::List(items) = &node.kind else {
        let expected = "a list, each item a list of words that mean the same";
        findings.push(kinds::wrong_shape(
            &node.place,
            "`words`",
            expected,
            node.kind.words(),
        ));
        return Vec::new();
    };
    items
        .iter()
        .filter_map(|item| read_group(item, findings))
        .collect()
}

fn read_group(node: &Node, findings: &mut Vec<Finding>) -> Option<Vec<String>> {
    let typed = texts(node, "words", findings);
    let mut group: Vec<String> = Vec::new();
    for text in &typed {
        let count = text.value.split_whitespace().count();
        let is_words = text.value.chars().any(char::is_alphanumeric);
        if count > WORDS || !is_words {
            findings.push(kinds::no_phrase(&text.place, &text.value, WORDS));
        } else if group
            .iter()
            .any(|other| other.eq_ignore_ascii_case(&text.value))
        {
            findings.push(kinds::lone_word(&text.place, &text.value));
        } else {
            group.push(text.value.clone());
        }
    }
    if typed.len() == 1 {
        findings.push(kinds::lone_word(&typed[0].place, &typed[0].value));
    }
    (group.len() > 1).then_some(group)
}

/// The shipped groups.
pub(super) fn shipped_groups<N: AsRef<str>, T: AsRef<str>>(
    shipped: &[(N, T)],
    findings: &mut Vec<Finding>,
) -> Vec<Vec<String>> {
    let node = shipped_tree("words.yaml", shipped, findings);
    node.map_or_else(Vec::new, |node| read_groups(&node, findings))
}

/// The shipped meanings of codes.
pub(super) fn shipped_meanings<N: AsRef<str>, T: AsRef<str>>(
    shipped: &[(N, T)],
    findings: &mut Vec<Finding>,
) -> BTreeMap<String, String> {
    let Some(node) = shipped_tree("codes.yaml", shipped, findings) else {
        return BTreeMap::new();
    };
    let Some(fields) = Fields::unchecked(&node, "the codes", findings) else {
        return BTreeMap::new();
    };
    let mut meanings = BTreeMap::new();
    for entry in fields.entries() {
        if !is_code(&entry.key) {
            findings.push(kinds::no_code(&entry.place, &entry.key));
        } else if let Some(says) = super::fields::text(&entry.value, &entry.key, findings) {
            meanings.insert(entry.key.clone(), says.value);
        }
    }
    meanings
}

fn shipped_tree<N: AsRef<str>, T: AsRef<str>>(
    file: &str,
    shipped: &[(N, T)],
    findings: &mut Vec<Finding>,
) -> Option<Node> {
    let (_, text) = shipped.iter().find(|(name, _)| name.as_ref() == file)?;
    tree(
        &format!("shipped/{file}"),
        text.as_ref().as_bytes(),
        "- [ground, earth]",
        findings,
    )
}
