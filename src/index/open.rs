//! A pack opened: the index's columns, the table of pages, the words that mean the same.
//!
//! In: the bytes of a pack. Out: a [`Search`], which `search` lets answer. A pack that is not whole, or of
//! another make, is not opened.

use super::entry::{APART, Kind};
use super::fields::Field;
use super::pack::Pack;
use super::postings;
use super::tally::Tally;
use super::wrong::{MARK, phrase};
use std::fmt;
use std::sync::Arc;
use tantivy::directory::{CompositeFile, FileSlice, OwnedBytes};
use tantivy::fieldnorm::FieldNormReader;
use tantivy::postings::TermInfo;
use tantivy::termdict::TermDictionary;

/// Why a pack was not opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotOpened;

impl fmt::Display for NotOpened {
    fn fmt(&self, words: &mut fmt::Formatter<'_>) -> fmt::Result {
        words.write_str("the search index is damaged or of another version")
    }
}

impl std::error::Error for NotOpened {}

/// An index that answers.
#[derive(Debug)]
pub struct Search {
    pub(super) columns: Vec<Column>,
    /// Whether lessons are searched, or everything else.
    pub(super) in_lessons: bool,
    pub(super) pages: Pages,
    /// Groups of phrases that mean the same, each phrase its words.
    pub(super) same: Vec<Vec<Vec<String>>>,
    /// Phrases for what is wrong with a part.
    pub(super) wrong: Vec<Vec<String>>,
    /// Each line a code and its standard meaning.
    pub(super) codes: OwnedBytes,
    pub(super) tally: Tally,
}

/// A column of the index.
pub(super) struct Column {
    pub(super) field: Field,
    pub(super) boost: f64,
    pub(super) terms: TermDictionary,
    /// The pages of its words, one list behind the other.
    lists: OwnedBytes,
    pub(super) lengths: Option<Lengths>,
}

/// How long a page's text in a column is, and what that counts.
pub(super) struct Lengths {
    /// A code for each page.
    of: OwnedBytes,
    /// The part of BM25's divisor that a length gives, by its code.
    parts: Vec<f64>,
}

/// What comes to stand beside a page's count of a word where length does not matter.
pub(super) const EVEN: f64 = K1;
/// BM25, with the usual constants (Robertson and Zaragoza, 2009).
pub(super) const K1: f64 = 1.2;
const B: f64 = 0.75;

impl Search {
    /// Opens a pack.
    ///
    /// # Errors
    /// Where it is damaged or of another make.
    pub fn open(bytes: Vec<u8>) -> Result<Self, NotOpened> {
        let pack = Pack::open(bytes).ok_or(NotOpened)?;
        let file = |name: &str| pack.file(name).ok_or(NotOpened);
        let pages = Pages::of(file("pages")?, &file("lines")?).ok_or(NotOpened)?;
        let (same, codes) = (groups(&file("words")?).ok_or(NotOpened)?, file("codes")?);
        let is_wrong = |group: &Vec<Vec<String>>| group.first().is_some_and(|first| *first == MARK);
        let (wrong, same): (Vec<_>, Vec<_>) = same.into_iter().partition(is_wrong);
        let wrong = wrong
            .into_iter()
            .flat_map(|group| group.into_iter().skip(1));
        let wrong = wrong.map(phrase).filter(|phrase| !phrase.is_empty());
        let part = |name: &str| CompositeFile::open(&slice(file(name)?)).map_err(|_| NotOpened);
        let files = (part("terms")?, part("lists")?, part("lengths")?);
        let count = pages.ends.len();
        let columns = Field::ALL
            .iter()
            .map(|field| Column::of(*field, &files, count));
        let columns = columns.collect::<Option<Vec<Column>>>();
        Ok(Self {
            columns: columns.ok_or(NotOpened)?,
            in_lessons: false,
            pages,
            same,
            wrong: wrong.collect(),
            codes,
            tally: Tally::new(count),
        })
    }
}

fn slice(bytes: OwnedBytes) -> FileSlice {
    FileSlice::new(Arc::new(bytes))
}

impl Column {
    /// A column of so many pages from the files of terms, lists and lengths; one that no page has a word in has neither
    /// of the first two.
    fn of(
        field: Field,
        (terms, lists, lengths): &(CompositeFile, CompositeFile, CompositeFile),
        pages: usize,
    ) -> Option<Self> {
        let row = field.row();
        let number = tantivy::schema::Field::from_field_id(u32::try_from(field.at()).ok()?);
        let terms = match terms.open_read(number) {
            Some(file) => TermDictionary::open(file).ok()?,
            None => TermDictionary::empty(),
        };
        let lists = lists.open_read(number);
        let mut lists = lists.map_or(Some(OwnedBytes::empty()), |file| file.read_bytes().ok())?;
        let words = match lists.is_empty() {
            true => 0,
            false => lists.read_u64(),
        };
        let lengths = match row.lengths {
            true => {
                let of = lengths.open_read(number)?.read_bytes().ok()?;
                let lengths = Lengths::of(of, count(words));
                (lengths.of.len() == pages).then_some(Some(lengths))?
            }
            false => None,
        };
        Some(Self {
            field,
            boost: row.boost,
            terms,
            lists,
            lengths,
        })
    }

    /// Calls with each page of a term.
    pub(super) fn pages(&self, term: &TermInfo, each: impl FnMut(u32)) {
        if let Some(list) = self.lists.get(term.postings_range.clone()) {
            let _ = postings::pages(list, term.doc_freq, each);
        }
    }
}

impl Lengths {
    /// The codes of all pages, and how many words those have together.
    fn of(of: OwnedBytes, words: f64) -> Self {
        let mean = words / count(of.len().max(1) as u64);
        let part = |code: u8| {
            let length = f64::from(FieldNormReader::id_to_fieldnorm(code));
            K1 * (1.0 - B + B * length / mean.max(0.01))
        };
        let parts = (0..=u8::MAX).map(part).collect();
        Self { of, parts }
    }

    /// The part of BM25's divisor that a page's length gives.
    pub(super) fn part(&self, page: u32) -> f64 {
        self.parts[usize::from(self.of[page as usize])]
    }

    /// How many words a page has, about.
    pub(super) fn of_page(&self, page: u32) -> u32 {
        FieldNormReader::id_to_fieldnorm(self.of[page as usize])
    }
}

/// A count as a number to reckon with.
fn count(number: u64) -> f64 {
    u32::try_from(number).map_or(f64::from(u32::MAX), f64::from)
}

impl fmt::Debug for Column {
    fn fmt(&self, words: &mut fmt::Formatter<'_>) -> fmt::Result {
        words.write_str(self.field.row().name)
    }
}

/// Each line a group, its phrases between tabs, their words between spaces.
fn groups(text: &[u8]) -> Option<Vec<Vec<Vec<String>>>> {
    let phrase = |phrase: &str| phrase.split(' ').map(str::to_owned).collect();
    let lines = std::str::from_utf8(text).ok()?.lines();
    Some(
        lines
            .map(|line| line.split('\t').map(phrase).collect())
            .collect(),
    )
}

/// The table of pages, in the order of their kinds. Its text is read a line at a time, where it is shown.
#[derive(Debug)]
pub(super) struct Pages {
    text: OwnedBytes,
    /// Where each line ends.
    ends: Vec<usize>,
    /// The number behind the last page of each kind.
    kinds: [usize; Kind::ALL.len()],
}

/// A line of the table.
pub(super) struct Line<'a> {
    pub(super) kind: Kind,
    pub(super) id: &'a str,
    pub(super) title: &'a str,
    /// Empty where [`Pages::address`] has to be asked.
    address: &'a str,
    line: &'a str,
}

impl<'a> Line<'a> {
    /// The vehicles of a card, each under its whole name.
    pub(super) fn vehicles(&self) -> impl Iterator<Item = &'a str> {
        self.line.split(APART).skip(1)
    }

    /// What stands under the title: codes, then vehicles.
    pub(super) fn shown(&self) -> String {
        let codes = self.line.split(APART).next().unwrap_or("");
        let vehicles: Vec<&str> = self.vehicles().collect();
        let mut parts = vec![codes.to_owned(), vehicles.join(", ")];
        parts.retain(|part| !part.is_empty());
        parts.join(" \u{b7} ")
    }
}

/// The address of another page of its kind, which differs by the id.
pub(super) fn like(address: &str, id: &str, own: &str) -> Option<String> {
    let (before, behind) = address.split_once(id)?;
    Some([before, own, behind].concat())
}

impl Pages {
    /// A text; and how many lines are of each kind, then how long each line is.
    fn of(text: OwnedBytes, lines: &[u8]) -> Option<Self> {
        let (numbers, _) = lines.as_chunks::<4>();
        let mut numbers = numbers
            .iter()
            .map(|number| u32::from_le_bytes(*number) as usize);
        let mut kinds = [0; Kind::ALL.len()];
        let mut count = 0;
        for behind in &mut kinds {
            count += numbers.next()?;
            *behind = count;
        }
        let mut place = 0;
        let ends: Vec<usize> = numbers
            .map(|length| {
                place += length;
                place
            })
            .collect();
        (count == ends.len() && place == text.len()).then_some(Self { text, ends, kinds })
    }

    /// Kind of a page.
    pub(super) fn kind(&self, page: u32) -> Option<Kind> {
        let before = self.kinds.iter().filter(|behind| **behind <= page as usize);
        Kind::ALL.get(before.count()).copied()
    }

    /// How many pages stand before those of a kind.
    pub(super) fn before(&self, kind: Kind) -> usize {
        let at = (kind as usize).checked_sub(1);
        at.map_or(0, |at| self.kinds[at])
    }

    /// The address of a page: its own, or like that of the first page of its kind.
    pub(super) fn address(&self, line: &Line<'_>) -> String {
        if !line.address.is_empty() {
            return line.address.to_owned();
        }
        let first = u32::try_from(self.before(line.kind)).ok();
        let first = first.and_then(|first| self.line(first));
        let address = first.and_then(|first| like(first.address, first.id, line.id));
        address.unwrap_or_default()
    }

    /// The line of a page.
    pub(super) fn line(&self, page: u32) -> Option<Line<'_>> {
        let at = page as usize;
        let from = match at {
            0 => 0,
            _ => *self.ends.get(at - 1)?,
        };
        let line = self.text.get(from..self.ends.get(at)?.checked_sub(1)?)?;
        let mut cells = std::str::from_utf8(line).ok()?.split('\t');
        let mut cell = || cells.next().unwrap_or("");
        Some(Line {
            kind: self.kind(page)?,
            id: cell(),
            title: cell(),
            address: cell(),
            line: cell(),
        })
    }
}
