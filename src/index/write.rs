//! Entries to a pack: tantivy writes one segment in memory, of which the files that a query reads are kept.
//!
//! In: pages with their words, trade words that mean the same, standard meanings of codes. Out: the same
//! bytes for the same input.

use super::entry::{Entry, Kind};
use super::fields::Field;
use super::fold::words;
use super::open::like;
use super::pack::packed;
use super::query::keep_saying;
use super::texts::same_words;
use super::wrong::MARK;
use crate::card::Deck;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use tantivy::directory::RamDirectory;
use tantivy::index::SegmentComponent;
use tantivy::schema::{IndexRecordOption, Schema, TextFieldIndexing, TextOptions};
use tantivy::tokenizer::{PreTokenizedString, Token};
use tantivy::{Index, IndexSettings, TantivyDocument};

/// What a pack holds beside the pages.
#[derive(Clone, Debug)]
pub struct Beside<'a> {
    /// Groups of words and phrases that mean the same.
    words: Vec<Vec<String>>,
    /// Standard meanings of codes.
    meanings: &'a BTreeMap<String, String>,
}

impl<'a> Beside<'a> {
    /// What the pack of a deck holds.
    pub fn of(deck: &'a Deck) -> Self {
        Self {
            words: same_words(deck),
            meanings: &deck.meanings,
        }
    }
}

/// Why no pack was written.
#[derive(Debug)]
pub struct NotWritten(String);

impl fmt::Display for NotWritten {
    fn fmt(&self, words: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(words, "the search index could not be written: {}", self.0)
    }
}

impl std::error::Error for NotWritten {}

impl<E: Into<tantivy::TantivyError>> From<E> for NotWritten {
    fn from(error: E) -> Self {
        Self(error.into().to_string())
    }
}

/// Memory for the writer; 10,000 cards take a tenth of it.
const MEMORY: usize = 200_000_000;

/// The pack of these pages; they are sorted by kind and address first.
///
/// # Errors
/// Where tantivy can not write, which in memory means that it is too much.
pub fn pack(mut pages: Vec<Entry>, beside: &Beside<'_>) -> Result<Vec<u8>, NotWritten> {
    pages.sort_by(|a, b| (a.kind, &a.address).cmp(&(b.kind, &b.address)));
    for page in &mut pages {
        page.settle();
    }
    let mut files = segment(&pages)?;
    let (table, lines) = table(&pages);
    files.insert("pages".to_owned(), table.into_bytes());
    files.insert("lines".to_owned(), lines);
    files.insert("words".to_owned(), same(&beside.words).into_bytes());
    files.insert(
        "codes".to_owned(),
        meanings(beside.meanings, &pages).into_bytes(),
    );
    packed(&files).ok_or_else(|| NotWritten("it is larger than four gigabytes".to_owned()))
}

/// The files of the index that a query reads.
fn segment(pages: &[Entry]) -> Result<BTreeMap<String, Vec<u8>>, NotWritten> {
    let mut writer = Index::builder()
        .schema(schema())
        .settings(IndexSettings::default())
        .single_segment_index_writer(RamDirectory::create(), MEMORY)?;
    for page in pages {
        writer.add_document(document(page))?;
    }
    let segments = writer.finalize()?.searchable_segments()?;
    let [segment] = segments.as_slice() else {
        return Err(NotWritten("expected one segment".to_owned()));
    };
    let mut files = BTreeMap::new();
    for (name, part) in [
        ("terms", SegmentComponent::Terms),
        ("lists", SegmentComponent::Postings),
        ("lengths", SegmentComponent::FieldNorms),
    ] {
        let bytes = segment.open_read(part).map_err(read_error)?.read_bytes();
        let bytes = bytes.map_err(|error| NotWritten(error.to_string()))?;
        files.insert(name.to_owned(), bytes.to_vec());
    }
    Ok(files)
}

fn read_error(error: impl fmt::Display) -> NotWritten {
    NotWritten(error.to_string())
}

fn schema() -> Schema {
    let mut schema = Schema::builder();
    for field in Field::ALL {
        let row = field.row();
        let indexing = TextFieldIndexing::default()
            .set_tokenizer("raw")
            .set_index_option(IndexRecordOption::Basic)
            .set_fieldnorms(row.lengths);
        let options = TextOptions::default().set_indexing_options(indexing);
        schema.add_text_field(row.name, options);
    }
    schema.build()
}

fn document(page: &Entry) -> TantivyDocument {
    let mut document = TantivyDocument::default();
    for field in Field::ALL {
        let own = page.words.iter().filter(|(of, _)| *of == field);
        let tokens: Vec<Token> = own
            .enumerate()
            .map(|(position, (_, text))| Token {
                position,
                text: text.clone(),
                ..Token::default()
            })
            .collect();
        if !tokens.is_empty() {
            let number = u32::try_from(field.at()).unwrap_or_default();
            let field = tantivy::schema::Field::from_field_id(number);
            let text = String::new();
            document.add_pre_tokenized_text(field, PreTokenizedString { text, tokens });
        }
    }
    document
}

/// A line a page, in the order of the index: id, title, address, line; no address where the first page of its kind tells it.
/// And how many are of each kind, then how long each is, or a phone would have to look for the ends of all before it
/// shows ten.
fn table(pages: &[Entry]) -> (String, Vec<u8>) {
    let number = |number: usize| u32::try_from(number).unwrap_or_default().to_le_bytes();
    let cell = |text: &str| text.replace(['\t', '\n', '\r'], " ");
    let of_kind = |kind: Kind| pages.iter().filter(|page| page.kind == kind).count();
    let mut lines: Vec<u8> = Kind::ALL.map(|kind| number(of_kind(kind))).concat();
    let mut table = String::new();
    let mut first = pages.first();
    for page in pages {
        first = first.filter(|first| first.kind == page.kind).or(Some(page));
        let told = first.filter(|first| first.id != page.id);
        let told = told.and_then(|first| like(&first.address, &first.id, &page.id));
        let address = match told {
            Some(told) if told == page.address => "",
            _ => &page.address,
        };
        let cells = [&page.id, &page.title, address, &page.line];
        let line = cells.map(cell).join("\t") + "\n";
        lines.extend(number(line.len()));
        table.push_str(&line);
    }
    (table, lines)
}

/// A line a group, its phrases as the query cuts them.
fn same(groups: &[Vec<String>]) -> String {
    let phrase = |text: &String, has_small: bool| {
        let mut words = words(text);
        if !has_small {
            keep_saying(&mut words);
        }
        let mut texts: Vec<String> = Vec::new();
        for word in words {
            if has_small || !texts.contains(&word.text) {
                texts.push(word.text);
            }
        }
        texts.join(" ")
    };
    let mut lines = String::new();
    for group in groups {
        // What is wrong may be that there is no signal.
        let is_wrong = group.first().is_some_and(|first| *first == MARK.join(" "));
        let phrases = group.iter().map(|text| phrase(text, is_wrong));
        let phrases: Vec<String> = phrases.collect();
        lines.push_str(&phrases.join("\t"));
        lines.push('\n');
    }
    lines
}

/// A line a code that has no page of its own.
fn meanings(meanings: &BTreeMap<String, String>, pages: &[Entry]) -> String {
    let known: BTreeSet<&str> = pages
        .iter()
        .filter(|page| page.kind == Kind::Code)
        .map(|page| page.id.as_str())
        .collect();
    let left = meanings.iter();
    left.filter(|(code, _)| !known.contains(code.as_str()))
        .map(|(code, says)| format!("{code}\t{says}\n"))
        .collect()
}
