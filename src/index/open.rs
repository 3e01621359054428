//! A pack opened: the index's columns, the table of pages, the words that mean the same.
//!
//! In: the bytes of a pack. Out: a [`Search`], which `search` lets answer. A pack that is not whole, or of
//! another make, is not opened.

use super::entry::Kind;
use super::fields::Field;
use super::pack::Pack;
use super::tally::Tally;
use std::fmt;
use std::mem::ManuallyDrop;
use std::sync::Arc;
use tantivy::directory::OwnedBytes;
use tantivy::fieldnorm::FieldNormReader;
use tantivy::{Index, InvertedIndexReader, SegmentReader};

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
    pub(super) pages: Pages,
    /// Each line a group, its phrases between tabs.
    pub(super) same: OwnedBytes,
    /// Each line a code and its standard meaning.
    pub(super) codes: OwnedBytes,
    pub(super) tally: Tally,
}

/// A column of the index.
pub(super) struct Column {
    pub(super) field: Field,
    pub(super) boost: f64,
    pub(super) index: Arc<InvertedIndexReader>,
    pub(super) lengths: Option<Lengths>,
}

/// How long a page's text in a column is, and what that counts.
pub(super) struct Lengths {
    pub(super) of: FieldNormReader,
    /// The part of BM25's divisor that a length gives, by its code.
    pub(super) part: Vec<f64>,
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
        let (same, codes) = (file("words")?, file("codes")?);
        let pages = Pages::of(file("pages")?).ok_or(NotOpened)?;
        // An index lives as long as who asks it. That none is ever taken down leaves the end of tantivy's threads,
        // which a phone has none of, out of the engine.
        let index = ManuallyDrop::new(Index::open(pack).map_err(|_| NotOpened)?);
        let segments = index.searchable_segments().map_err(|_| NotOpened)?;
        let segments = ManuallyDrop::new(segments);
        let segment = SegmentReader::open(segments.first().ok_or(NotOpened)?);
        let segment = ManuallyDrop::new(segment.map_err(|_| NotOpened)?);
        let count = pages.ends.len();
        if usize::try_from(segment.max_doc()) != Ok(count) {
            return Err(NotOpened);
        }
        let columns = Field::ALL.iter().map(|field| Column::of(*field, &segment));
        let columns = columns.collect::<Option<Vec<Column>>>();
        Ok(Self {
            columns: columns.ok_or(NotOpened)?,
            pages,
            same,
            codes,
            tally: Tally::new(count),
        })
    }
}

impl Column {
    fn of(field: Field, segment: &SegmentReader) -> Option<Self> {
        let row = field.row();
        let own = segment.schema().get_field(row.name).ok()?;
        let index = segment.inverted_index(own).ok()?;
        let lengths = match row.lengths {
            true => segment.get_fieldnorms_reader(own).ok(),
            false => None,
        };
        let mean = count(index.total_num_tokens()) / f64::from(segment.max_doc().max(1));
        let part = |code: u8| {
            let length = f64::from(FieldNormReader::id_to_fieldnorm(code));
            K1 * (1.0 - B + B * length / mean.max(0.01))
        };
        Some(Self {
            field,
            boost: row.boost,
            index,
            lengths: lengths.map(|of| Lengths {
                of,
                part: (0..=u8::MAX).map(part).collect(),
            }),
        })
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

/// The table of pages.
#[derive(Debug)]
pub(super) struct Pages {
    text: OwnedBytes,
    /// Where each line ends.
    ends: Vec<usize>,
    kinds: Vec<Kind>,
}

/// A line of the table.
pub(super) struct Line<'a> {
    pub(super) kind: Kind,
    pub(super) id: &'a str,
    pub(super) title: &'a str,
    pub(super) address: &'a str,
    pub(super) line: &'a str,
}

impl Pages {
    fn of(text: OwnedBytes) -> Option<Self> {
        let all = std::str::from_utf8(&text).ok()?;
        let (mut ends, mut kinds) = (Vec::new(), Vec::new());
        let mut place = 0;
        for line in all.split_terminator('\n') {
            kinds.push(Kind::of(line.split('\t').next()?)?);
            place += line.len() + 1;
            ends.push(place);
        }
        Some(Self { text, ends, kinds })
    }

    /// Kind of a page.
    pub(super) fn kind(&self, page: u32) -> Option<Kind> {
        self.kinds.get(usize::try_from(page).ok()?).copied()
    }

    /// The line of a page.
    pub(super) fn line(&self, page: u32) -> Option<Line<'_>> {
        let at = usize::try_from(page).ok()?;
        let from = match at {
            0 => 0,
            _ => *self.ends.get(at - 1)?,
        };
        let line = self.text.get(from..self.ends.get(at)?.checked_sub(1)?)?;
        let mut cells = std::str::from_utf8(line).ok()?.split('\t');
        let mut cell = || cells.next().unwrap_or("");
        Some(Line {
            kind: Kind::of(cell())?,
            id: cell(),
            title: cell(),
            address: cell(),
            line: cell(),
        })
    }
}
