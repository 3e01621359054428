//! The tally: which pages have which words of a query, and how well. A place for each page, kept from query
//! to query, so that nothing is allocated while somebody types.
//!
//! A page's count for a need is its best single hit and a small part of its other hits, so that a word that
//! stands in many columns does not drown one that stands in the title.

use super::expand::Found;
use super::open::{Column, EVEN, K1};
use crate::quantity::maths::ln;
use tantivy::schema::IndexRecordOption;

/// What other hits of a need add, beside its best.
const OTHERS: f64 = 0.15;

/// Counts by page.
#[derive(Debug, Default)]
pub(super) struct Tally {
    /// The need in hand.
    hand: Hand,
    /// Which words of an alternative of several words a page has.
    parts: Vec<u8>,
    part_sum: Vec<f64>,
    part_touched: Vec<u32>,
    /// Over all needs.
    total: Vec<f64>,
    /// A bit for each need.
    pub(super) has: Vec<u16>,
    /// Pages that any need touched.
    pub(super) pages: Vec<u32>,
    /// For each need the number of the find that a page's best hit came from.
    by: Vec<Vec<u32>>,
}

/// Hits of one need.
#[derive(Debug, Default)]
struct Hand {
    /// The best hit of each page, and all its hits together.
    best: Vec<f64>,
    sum: Vec<f64>,
    /// Pages it touched.
    touched: Vec<u32>,
}

impl Hand {
    /// Gives a page a hit from a find; `by` keeps which find its best hit came from.
    fn give(&mut self, by: &mut [u32], page: u32, score: f64, number: u32) {
        let place = at(page);
        if self.sum[place] == 0.0 {
            self.touched.push(page);
        }
        self.sum[place] += score;
        if score > self.best[place] {
            self.best[place] = score;
            by[place] = number;
        }
    }
}

fn at(page: u32) -> usize {
    page as usize
}

impl Tally {
    pub(super) fn new(pages: usize) -> Self {
        Self {
            hand: Hand {
                best: vec![0.0; pages],
                sum: vec![0.0; pages],
                touched: Vec::new(),
            },
            parts: vec![0; pages],
            part_sum: vec![0.0; pages],
            total: vec![0.0; pages],
            has: vec![0; pages],
            ..Self::default()
        }
    }

    /// Forgets the last query.
    pub(super) fn clear(&mut self) {
        for page in self.pages.drain(..) {
            self.total[at(page)] = 0.0;
            self.has[at(page)] = 0;
        }
    }

    /// Makes room for what a need's best hits came from.
    fn room(&mut self, need: usize) {
        let pages = self.total.len();
        if self.by.len() <= need {
            self.by.resize_with(need + 1, || vec![0; pages]);
        }
    }

    /// Counts the hits of a word found, for the need in hand.
    pub(super) fn count(&mut self, column: &Column, found: &Found, need: usize) {
        self.room(need);
        let (hand, by) = (&mut self.hand, &mut self.by[need]);
        hits(column, found, self.total.len(), |page, score| {
            hand.give(by, page, score, found.number);
        });
    }

    /// Counts the hits of one word of an alternative of several; `part` is its place among them.
    pub(super) fn count_part(&mut self, column: &Column, found: &Found, part: u8) {
        let pages = self.total.len();
        hits(column, found, pages, |page, score| {
            let place = at(page);
            if self.part_sum[place] == 0.0 {
                self.part_touched.push(page);
            }
            self.parts[place] |= 1 << part;
            self.part_sum[place] += score;
        });
    }

    /// Ends an alternative of so many words: pages that have all of them have the need.
    pub(super) fn end_parts(&mut self, need: usize, words: u8, number: u32) {
        let all = u8::MAX >> (8 - words.clamp(1, 8));
        self.room(need);
        for page in self.part_touched.drain(..) {
            let place = at(page);
            if self.parts[place] == all {
                let score = self.part_sum[place];
                self.hand.give(&mut self.by[need], page, score, number);
            }
            self.parts[place] = 0;
            self.part_sum[place] = 0.0;
        }
    }

    /// Ends a need; how many pages have it.
    pub(super) fn end(&mut self, need: usize) -> usize {
        let Hand { best, sum, touched } = &mut self.hand;
        let count = touched.len();
        for page in touched.drain(..) {
            let place = at(page);
            if self.has[place] == 0 {
                self.pages.push(page);
            }
            self.has[place] |= 1 << need;
            self.total[place] += best[place] + OTHERS * (sum[place] - best[place]);
            best[place] = 0.0;
            sum[place] = 0.0;
        }
        count
    }

    /// Adds to pages that were touched already: what is good beside the needs.
    pub(super) fn add(&mut self, column: &Column, found: &Found) {
        let pages = self.total.len();
        hits(column, found, pages, |page, score| {
            if self.has[at(page)] != 0 {
                self.total[at(page)] += score;
            }
        });
    }

    /// What a page counts.
    pub(super) fn total(&self, page: u32) -> f64 {
        self.total[at(page)]
    }

    /// The number of the find by which a page has a need.
    pub(super) fn by(&self, need: usize, page: u32) -> u32 {
        let own = self.by.get(need).and_then(|by| by.get(at(page)));
        own.copied().unwrap_or_default()
    }
}

/// Every page of a word found, with its count by BM25, a word being there once or not at all.
fn hits(column: &Column, found: &Found, pages: usize, mut hit: impl FnMut(u32, f64)) {
    let Ok(mut blocks) = column
        .index
        .read_block_postings_from_terminfo(&found.term, IndexRecordOption::Basic)
    else {
        return;
    };
    let rarity = rarity(found.pages, pages);
    let weight = found.weight * column.boost * rarity * (1.0 + K1);
    let even = weight / (1.0 + EVEN);
    loop {
        let docs = blocks.docs();
        if docs.is_empty() {
            return;
        }
        match &column.lengths {
            Some(lengths) => {
                for page in docs {
                    let part = lengths.part[usize::from(lengths.of.fieldnorm_id(*page))];
                    hit(*page, weight / (1.0 + part));
                }
            }
            None => docs.iter().for_each(|page| hit(*page, even)),
        }
        blocks.advance();
    }
}

/// How rare a word is: `ln(1 + (N - n + 1/2) / (n + 1/2))` for n of N pages, above zero also where all have it.
fn rarity(with: f64, pages: usize) -> f64 {
    let all = u32::try_from(pages).map_or(f64::from(u32::MAX), f64::from);
    ln(1.0 + (all - with.min(all) + 0.5) / (with.min(all) + 0.5))
}
