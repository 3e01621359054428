//! YAML with places: a text becomes a tree in which every key and value knows where it stands.
//!
//! In: the bytes of one file. Out: a [`Node`] tree that keeps order, doubled keys and the author's
//! own spelling of numbers, or findings. Never: meaning; that is the readers'.

use crate::finding::{Finding, Place, kinds};
use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};
use serde_saphyr::{DuplicateKeyPolicy, MergeKeyPolicy, NonFiniteFloatPolicy, Spanned};
use std::fmt;

/// A value and where it stands.
#[derive(Clone, Debug)]
pub(super) struct Node {
    /// Its span.
    pub place: Place,
    /// What it is.
    pub kind: NodeKind,
}

/// What a value is.
#[derive(Clone, Debug)]
pub(super) enum NodeKind {
    /// Nothing after the colon, or `~`.
    Nothing,
    /// A text or number as written, without its quotes.
    Scalar(String),
    /// A list.
    List(Vec<Node>),
    /// Keys with values, in the order written, doubled ones kept.
    Map(Vec<Entry>),
}

/// A key with its value.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    /// The key as written.
    pub key: String,
    /// Where the key stands.
    pub place: Place,
    /// Its value.
    pub value: Node,
}

impl NodeKind {
    /// What was found, in words.
    pub(super) fn words(&self) -> &'static str {
        match self {
            NodeKind::Nothing => "nothing",
            NodeKind::Scalar(_) => "a text",
            NodeKind::List(_) => "a list",
            NodeKind::Map(_) => "keys with values",
        }
    }
}

/// Bytes of a card at most; a full card has under 10 kB.
const LARGEST: usize = 512 * 1024;
/// Nesting at most; a full card nests 6 deep.
const DEEPEST: usize = 32;
/// Values of a file at most.
const MOST_NODES: usize = 50_000;
/// Values that repeats (`*name`) may add.
const MOST_REPEATS: usize = 10_000;

/// Reads a file's bytes into a tree; `starts` is a line an empty file could begin with.
pub(super) fn tree(
    file: &str,
    bytes: &[u8],
    starts: &str,
    findings: &mut Vec<Finding>,
) -> Option<Node> {
    let text = text_of(file, bytes, findings)?;
    let root = match serde_saphyr::from_str_with_options::<Spanned<Raw>>(text, options()) {
        Ok(root) => Scribe {
            file,
            text,
            findings,
        }
        .node(root),
        Err(error) => {
            findings.push(unreadable(file, text, &error));
            return None;
        }
    };
    if matches!(root.kind, NodeKind::Nothing) {
        findings.push(kinds::empty_file(&Place::whole_file(file), starts));
        return None;
    }
    Some(root)
}

/// The text of a file without its byte-order mark.
pub(super) fn text_of<'a>(
    file: &str,
    bytes: &'a [u8],
    findings: &mut Vec<Finding>,
) -> Option<&'a str> {
    if bytes.len() > LARGEST {
        let place = Place::whole_file(file);
        let size = format!("the file has {} kB", bytes.len() / 1024);
        findings.push(kinds::too_large(&place, &size));
        return None;
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => Some(text.strip_prefix('\u{feff}').unwrap_or(text)),
        Err(error) => {
            let before = String::from_utf8_lossy(&bytes[..error.valid_up_to()]);
            findings.push(kinds::not_utf8(&end_of(file, &before)));
            None
        }
    }
}

fn options() -> serde_saphyr::Options {
    let budget = serde_saphyr::budget! {
        max_depth: DEEPEST,
        max_nodes: MOST_NODES,
        max_aliases: MOST_REPEATS,
        max_documents: 2,
    };
    let mut options = serde_saphyr::options! {
        budget: budget,
        duplicate_keys: DuplicateKeyPolicy::PassThrough,
        merge_keys: MergeKeyPolicy::AsOrdinary,
        non_finite_float_policy: NonFiniteFloatPolicy::AsString,
        with_snippet: false,
    };
    options.alias_limits.max_total_replayed_events = MOST_REPEATS;
    options
}

/// The place just after a text that begins a file.
fn end_of(file: &str, before: &str) -> Place {
    let line = before.rsplit('\n').next().unwrap_or("");
    Place {
        file: file.to_owned(),
        line: before.matches('\n').count() + 1,
        column: line.chars().count() + 1,
        length: 1,
    }
}

/// The parser's word for what is wrong, and what usually mends it.
fn unreadable(file: &str, text: &str, error: &serde_saphyr::Error) -> Finding {
    let place = error.location().map_or_else(
        || Place::whole_file(file),
        |at| Place {
            file: file.to_owned(),
            line: usize::try_from(at.line()).unwrap_or(1).max(1),
            column: usize::try_from(at.column()).unwrap_or(1).max(1),
            length: 1,
        },
    );
    let said = error.to_string();
    let cause = said.lines().next().unwrap_or("");
    let cause = cause
        .rsplit_once(" at line ")
        .map_or(cause, |(cause, _)| cause);
    let lower = cause.to_lowercase();
    if [
        "limit", "budget", "exceed", "too many", "too deep", "recursi",
    ]
    .iter()
    .any(|word| lower.contains(word))
    {
        return kinds::too_large(&place, "the file nests or repeats beyond all bounds");
    }
    let line = text.lines().nth(place.line.saturating_sub(1)).unwrap_or("");
    let hint = if lower.contains("tab") || line.starts_with('\t') {
        Some("indent with spaces, never with tabs")
    } else if lower.contains("mapping values") {
        Some("put quotes around a text that has a colon in it, and check the indentation")
    } else if lower.contains("unexpected character") {
        Some("put quotes around a text that begins with a sign such as @ % ` or &")
    } else if lower.contains("quote") {
        Some("close the quotes that are opened here")
    } else if lower.contains("bracket") || lower.contains("illegal placement") {
        Some("close every { and [ that is opened, and put quotes around a text that has them in it")
    } else if lower.contains("multiple") {
        Some("remove the line `---`: one file is one card")
    } else {
        None
    };
    kinds::unreadable_yaml(&place, cause, hint.map(str::to_owned))
}

/// What the parser gives, before the author's spelling and places are added.
enum Raw {
    Nothing,
    /// Text, quotes resolved and lines folded.
    Text(String),
    /// A number or truth value, whose spelling only the source has.
    Plain,
    List(Vec<Spanned<Raw>>),
    Map(Vec<(Spanned<Raw>, Spanned<Raw>)>),
}

impl<'de> Deserialize<'de> for Raw {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Raw, D::Error> {
        deserializer.deserialize_any(RawVisitor)
    }
}

struct RawVisitor;

impl<'de> Visitor<'de> for RawVisitor {
    type Value = Raw;

    fn expecting(&self, words: &mut fmt::Formatter<'_>) -> fmt::Result {
        words.write_str("any YAML value")
    }

    fn visit_unit<E>(self) -> Result<Raw, E> {
        Ok(Raw::Nothing)
    }

    fn visit_bool<E>(self, _: bool) -> Result<Raw, E> {
        Ok(Raw::Plain)
    }

    fn visit_i64<E>(self, _: i64) -> Result<Raw, E> {
        Ok(Raw::Plain)
    }

    fn visit_u64<E>(self, _: u64) -> Result<Raw, E> {
        Ok(Raw::Plain)
    }

    fn visit_f64<E>(self, _: f64) -> Result<Raw, E> {
        Ok(Raw::Plain)
    }

    fn visit_str<E>(self, text: &str) -> Result<Raw, E> {
        Ok(Raw::Text(text.to_owned()))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Raw, A::Error> {
        let mut items = Vec::new();
        while let Some(item) = seq.next_element()? {
            items.push(item);
        }
        Ok(Raw::List(items))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Raw, A::Error> {
        let mut entries = Vec::new();
        while let Some(entry) = map.next_entry()? {
            entries.push(entry);
        }
        Ok(Raw::Map(entries))
    }
}

/// Adds places and the author's spelling, and joins values that a comma cut in two.
struct Scribe<'a> {
    file: &'a str,
    text: &'a str,
    findings: &'a mut Vec<Finding>,
}

impl Scribe<'_> {
    fn node(&mut self, raw: Spanned<Raw>) -> Node {
        let place = self.place(raw.referenced);
        let kind = match raw.value {
            Raw::Nothing => NodeKind::Nothing,
            Raw::Text(text) => NodeKind::Scalar(text),
            Raw::Plain => NodeKind::Scalar(self.source(raw.defined).unwrap_or_default().to_owned()),
            Raw::List(items) => {
                NodeKind::List(items.into_iter().map(|item| self.node(item)).collect())
            }
            Raw::Map(entries) => NodeKind::Map(self.entries(entries)),
        };
        Node { place, kind }
    }

    fn entries(&mut self, raw: Vec<(Spanned<Raw>, Spanned<Raw>)>) -> Vec<Entry> {
        let mut entries: Vec<Entry> = Vec::new();
        let mut pieces: Vec<Entry> = Vec::new();
        for (key, value) in raw {
            let entry = self.entry(key, value);
            if is_piece(&entry) {
                pieces.push(entry);
            } else {
                self.join(entries.last_mut(), &mut pieces);
                entries.push(entry);
            }
        }
        self.join(entries.last_mut(), &mut pieces);
        entries
    }

    /// Puts the pieces that commas cut off back to the value before them, and says so once.
    fn join(&mut self, before: Option<&mut Entry>, pieces: &mut Vec<Entry>) {
        let Some(first) = pieces.first() else { return };
        let whole = before.and_then(|before| match &mut before.value.kind {
            NodeKind::Scalar(text) => {
                let mut end = before.value.place.column + before.value.place.length;
                for piece in pieces.iter() {
                    let close = piece.place.column == end + 1;
                    text.push_str(if close { "," } else { ", " });
                    text.push_str(&piece.key);
                    end = piece.place.column + piece.place.length;
                }
                Some(format!("{}: \"{text}\"", before.key))
            }
            _ => None,
        });
        let finding = kinds::split_by_comma(&first.place, &first.key, whole.as_deref());
        self.findings.push(finding);
        pieces.clear();
    }

    fn entry(&mut self, key: Spanned<Raw>, value: Spanned<Raw>) -> Entry {
        let key = self.node(key);
        let value = self.node(value);
        let text = match key.kind {
            NodeKind::Scalar(text) => text,
            // A key that is a list or map matches nothing and is reported as unknown.
            other => other.words().to_owned(),
        };
        Entry {
            key: text,
            place: key.place,
            value,
        }
    }

    fn source(&self, at: serde_saphyr::Location) -> Option<&str> {
        let span = at.span();
        let start = usize::try_from(span.byte_offset()?).ok()?;
        let length = usize::try_from(span.byte_len()?).ok()?;
        self.text.get(start..start.checked_add(length)?)
    }

    /// A value over several lines is marked on its first.
    fn place(&self, at: serde_saphyr::Location) -> Place {
        let first = self.source(at).and_then(|text| text.lines().next());
        Place {
            file: self.file.to_owned(),
            line: usize::try_from(at.line()).unwrap_or(1).max(1),
            column: usize::try_from(at.column()).unwrap_or(1).max(1),
            length: first.map_or(1, |text| text.trim_end().chars().count().max(1)),
        }
    }
}

/// A key without a colon: a piece of text between commas inside `{ }`. Its empty value stands at its
/// very end, where a colon would be.
fn is_piece(entry: &Entry) -> bool {
    let (key, value) = (&entry.place, &entry.value.place);
    matches!(entry.value.kind, NodeKind::Nothing)
        && value.line == key.line
        && value.column == key.column + key.length
}
