//! The fields of a map: taken by key, every slip in form a finding, reading goes on after it.
//!
//! In: a [`Node`]. Out: texts, lists, quantities with places. Never: what a key means.

use super::Placed;
use super::places::{Entry, Node, NodeKind};
use crate::finding::{Finding, Place, kinds, nearest};
use crate::quantity::{
    Dimension, Interval, Misread, Quantity, Toleranced, read_interval, read_quantity,
    read_toleranced,
};

/// A map's entries, with what the map is called in messages.
pub(super) struct Fields<'a> {
    entries: &'a [Entry],
    /// Keys that mean nothing here.
    unknown: Vec<&'a str>,
    /// Where the map stands.
    pub place: &'a Place,
    /// `a card`, `a pin`.
    pub of: &'static str,
}

impl<'a> Fields<'a> {
    /// The fields of a node that must be a map with these keys. Reports another shape, unknown and
    /// doubled keys.
    pub(super) fn of(
        node: &'a Node,
        of: &'static str,
        known: &[&str],
        findings: &mut Vec<Finding>,
    ) -> Option<Fields<'a>> {
        let mut fields = Fields::unchecked(node, of, findings)?;
        for (at, entry) in fields.entries.iter().enumerate() {
            if known.contains(&entry.key.as_str()) {
                if let Some(first) = fields.earlier(at) {
                    findings.push(kinds::doubled_key(&entry.place, &entry.key, &first.place));
                }
            } else {
                findings.push(kinds::unknown_key(&entry.place, &entry.key, of, known));
                fields.unknown.push(&entry.key);
            }
        }
        Some(fields)
    }

    /// The fields of a node that must be a map; the keys are the author's.
    pub(super) fn unchecked(
        node: &'a Node,
        of: &'static str,
        findings: &mut Vec<Finding>,
    ) -> Option<Fields<'a>> {
        let NodeKind::Map(entries) = &node.kind else {
            let found = node.kind.words();
            findings.push(kinds::wrong_shape(
                &node.place,
                of,
                "keys with values",
                found,
            ));
            return None;
        };
        Some(Fields {
            entries,
            unknown: Vec::new(),
            place: &node.place,
            of,
        })
    }

    /// All entries in order.
    pub(super) fn entries(&self) -> &'a [Entry] {
        self.entries
    }

    /// The entry above with the same key.
    pub(super) fn earlier(&self, at: usize) -> Option<&'a Entry> {
        let key = &self.entries[at].key;
        self.entries[..at].iter().find(|entry| entry.key == *key)
    }

    /// The first entry of a key, where something stands after its colon.
    pub(super) fn entry(&self, key: &str) -> Option<&'a Entry> {
        self.entries
            .iter()
            .find(|entry| entry.key == key && !matches!(entry.value.kind, NodeKind::Nothing))
    }

    /// The first value of a key.
    pub(super) fn get(&self, key: &str) -> Option<&'a Node> {
        self.entry(key).map(|entry| &entry.value)
    }

    /// Whether a key stands there, with or without a value.
    pub(super) fn has_key(&self, key: &str) -> bool {
        self.entries.iter().any(|entry| entry.key == key)
    }

    /// Where a key stands, or the map where it does not.
    pub(super) fn place_of(&self, key: &str) -> &'a Place {
        self.entries
            .iter()
            .find(|entry| entry.key == key)
            .map_or(self.place, |entry| &entry.place)
    }

    /// A text.
    pub(super) fn text(&self, key: &str, findings: &mut Vec<Finding>) -> Option<Placed<String>> {
        self.get(key).and_then(|node| text(node, key, findings))
    }

    /// A text, empty where there is none.
    pub(super) fn words(&self, key: &str, findings: &mut Vec<Finding>) -> String {
        let text = self.text(key, findings);
        text.map(|text| text.value.trim().to_owned())
            .unwrap_or_default()
    }

    /// A text that must be there; `example` is a line that gives it.
    pub(super) fn required(
        &self,
        key: &str,
        example: &str,
        findings: &mut Vec<Finding>,
    ) -> Option<Placed<String>> {
        match self.get(key) {
            Some(node) => text(node, key, findings),
            None => {
                self.missing(key, example, findings);
                None
            }
        }
    }

    /// Reports that a key is missing, unless it is only mistyped, which is reported already.
    pub(super) fn missing(&self, key: &str, example: &str, findings: &mut Vec<Finding>) {
        let mistyped = |typed: &&str| nearest(typed, [key]).is_some();
        if !self.unknown.iter().any(mistyped) {
            let place = self.place_of(key);
            findings.push(kinds::missing_key(place, key, self.of, example));
        }
    }

    /// A list of texts; one text alone is a list of one.
    pub(super) fn texts(&self, key: &str, findings: &mut Vec<Finding>) -> Vec<Placed<String>> {
        self.get(key)
            .map(|node| texts(node, key, findings))
            .unwrap_or_default()
    }

    /// The items of a list.
    pub(super) fn list(&self, key: &str, findings: &mut Vec<Finding>) -> &'a [Node] {
        match self.get(key) {
            None => &[],
            Some(node) => match &node.kind {
                NodeKind::List(items) => items,
                other => {
                    let expected = "a list, each item on a line that begins with `- `";
                    findings.push(kinds::wrong_shape(
                        &node.place,
                        &quoted(key),
                        expected,
                        other.words(),
                    ));
                    &[]
                }
            },
        }
    }

    /// A value with tolerance.
    pub(super) fn toleranced(
        &self,
        key: &str,
        dimension: Dimension,
        findings: &mut Vec<Finding>,
    ) -> Option<Placed<Toleranced>> {
        self.measured(key, findings, |text| read_toleranced(text, dimension))
    }

    /// An interval.
    pub(super) fn interval(
        &self,
        key: &str,
        dimension: Dimension,
        findings: &mut Vec<Finding>,
    ) -> Option<Placed<Interval>> {
        self.measured(key, findings, |text| read_interval(text, dimension))
    }

    /// A quantity.
    pub(super) fn quantity(
        &self,
        key: &str,
        dimension: Dimension,
        findings: &mut Vec<Finding>,
    ) -> Option<Placed<Quantity>> {
        self.measured(key, findings, |text| read_quantity(text, dimension))
    }

    fn measured<T>(
        &self,
        key: &str,
        findings: &mut Vec<Finding>,
        read: impl Fn(&str) -> Result<T, Misread>,
    ) -> Option<Placed<T>> {
        let typed = self.text(key, findings)?;
        measured(&typed, findings, read)
    }
}

/// Reads a placed text as a quantity of some shape.
pub(super) fn measured<T>(
    typed: &Placed<String>,
    findings: &mut Vec<Finding>,
    read: impl Fn(&str) -> Result<T, Misread>,
) -> Option<Placed<T>> {
    match read(&typed.value) {
        Ok(value) => Some(Placed {
            value,
            place: typed.place.clone(),
        }),
        Err(slip) => {
            findings.push(misread(&typed.place, &slip));
            None
        }
    }
}

/// The finding for a quantity that could not be read.
pub(super) fn misread(place: &Place, slip: &Misread) -> Finding {
    let make = if slip.upside_down {
        kinds::band_upside_down
    } else {
        kinds::misread_quantity
    };
    make(
        place,
        &slip.expected,
        &slip.found,
        slip.correction.as_deref(),
    )
}

/// A node that must be a text.
pub(super) fn text(node: &Node, key: &str, findings: &mut Vec<Finding>) -> Option<Placed<String>> {
    match &node.kind {
        NodeKind::Scalar(text) => Some(Placed {
            value: text.trim_end().to_owned(),
            place: node.place.clone(),
        }),
        other => {
            findings.push(kinds::wrong_shape(
                &node.place,
                &quoted(key),
                "a text",
                other.words(),
            ));
            None
        }
    }
}

/// A node that must be a list of texts, or one text.
pub(super) fn texts(node: &Node, key: &str, findings: &mut Vec<Finding>) -> Vec<Placed<String>> {
    match &node.kind {
        NodeKind::List(items) => items
            .iter()
            .filter_map(|item| text(item, key, findings))
            .collect(),
        NodeKind::Nothing => Vec::new(),
        _ => text(node, key, findings).into_iter().collect(),
    }
}

fn quoted(key: &str) -> String {
    format!("`{key}`")
}

/// The texts of placed texts.
pub(super) fn values(placed: &[Placed<String>]) -> Vec<&str> {
    placed.iter().map(|text| text.value.as_str()).collect()
}

/// Runs over texts in order and reports each that stood there before.
pub(super) fn doubled<'a>(
    placed: impl IntoIterator<Item = &'a Placed<String>>,
    mut report: impl FnMut(&Placed<String>, &Place),
) {
    let mut seen: Vec<&Placed<String>> = Vec::new();
    for text in placed {
        match seen.iter().find(|earlier| earlier.value == text.value) {
            Some(first) => report(text, &first.place),
            None => seen.push(text),
        }
    }
}
