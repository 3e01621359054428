//! The tally: which pages have which words of a query, and how well. A place for each page, kept from query
//! to query, so that nothing is allocated while somebody types.
//!
//! A page's count for a need is its best single hit and a small part of its other hits, so that a word that
//! stands in many columns does not drown one that stands in the title.

use super::expand::Found;
use super::open::{Column, EVEN, K1};
use super::query::Need;
use crate::quantity::maths::ln;

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
    /// The number of the find by which a page has the first of them.
    part_by: Vec<u32>,
    part_touched: Vec<u32>,
    /// Over all needs.
    total: Vec<f64>,
    /// A bit for each need.
    pub(super) has: Vec<u16>,
    /// Needs that a page must have already to be counted.
    wanted: u16,
    /// Pages that any need touched.
    pub(super) pages: Vec<u32>,
    /// For each need the number of the find that a page's best hit came from.
    by: Vec<Vec<u32>>,
}

/// What was asked, and how pages have it.
#[derive(Clone, Copy)]
pub(super) struct Counted<'a> {
    pub(super) query: &'a str,
    pub(super) needs: &'a [Need],
    pub(super) finds: &'a [Found],
    pub(super) tally: &'a Tally,
}

impl<'a> Counted<'a> {
    pub(super) fn of(
        query: &'a str,
        needs: &'a [Need],
        finds: &'a [Found],
        tally: &'a Tally,
    ) -> Self {
        Self {
            query,
            needs,
            finds,
            tally,
        }
    }

    /// All needs' bits.
    pub(super) fn all(&self) -> u16 {
        all(self.needs)
    }

    /// Whether a page has these needs.
    pub(super) fn has(&self, page: u32, needs: u16) -> bool {
        self.tally.has[page as usize] & needs == needs
    }

    /// What a page has a need by.
    pub(super) fn by(&self, need: usize, page: u32) -> Option<&'a Found> {
        self.finds.get(self.tally.by(need, page) as usize)
    }

    /// A need as it was typed.
    pub(super) fn typed(&self, need: &Need) -> &'a str {
        &self.query[need.typed.clone()]
    }
}

/// All needs' bits.
pub(super) fn all(needs: &[Need]) -> u16 {
    u16::MAX >> (16 - needs.len().clamp(1, 16))
}

/// Hits of one need.
#[derive(Debug, Default)]
struct Hand {
    of: Vec<Hits>,
    /// Pages it touched.
    touched: Vec<u32>,
}

/// Hits of one need on a page: the best and the number of its find, and all together.
#[derive(Clone, Debug, Default)]
struct Hits {
    best: f64,
    sum: f64,
    by: u32,
}

impl Hand {
    /// Gives a page a hit from a find.
    fn give(&mut self, page: u32, score: f64, number: u32) {
        let hits = &mut self.of[at(page)];
        if hits.sum == 0.0 {
            self.touched.push(page);
        }
        hits.sum += score;
        if score > hits.best {
            hits.best = score;
            hits.by = number;
        }
    }
}

fn at(page: u32) -> usize {
    page as usize
}

/// The number of a find, kept by page in little room.
fn short(number: usize) -> u32 {
    u32::try_from(number).unwrap_or_default()
}

impl Tally {
    pub(super) fn new(pages: usize) -> Self {
        Self {
            hand: Hand {
                of: vec![Hits::default(); pages],
                touched: Vec::new(),
            },
            parts: vec![0; pages],
            part_sum: vec![0.0; pages],
            part_by: vec![0; pages],
            total: vec![0.0; pages],
            has: vec![0; pages],
            ..Self::default()
        }
    }

    /// Forgets the last query.
    pub(super) fn clear(&mut self) {
        self.wanted = 0;
        for page in self.pages.drain(..) {
            self.total[at(page)] = 0.0;
            self.has[at(page)] = 0;
        }
    }

    /// Counts the hits of a word found, for the need in hand; `number` is that of the find.
    pub(super) fn count(&mut self, column: &Column, found: &Found, number: usize) {
        let (hand, number) = (&mut self.hand, short(number));
        hits(column, found, &self.has, self.wanted, |page, score| {
            hand.give(page, score, number);
        });
    }

    /// Counts the hits of one word of an alternative of several; `part` is its place among them.
    pub(super) fn count_part(
        &mut self,
        column: &Column,
        found: &Found,
        (part, number): (u8, usize),
    ) {
        let number = short(number);
        hits(column, found, &self.has, self.wanted, |page, score| {
            let place = at(page);
            if self.part_sum[place] == 0.0 {
                self.part_touched.push(page);
                self.part_by[place] = number;
            }
            self.parts[place] |= 1 << part;
            self.part_sum[place] += score;
        });
    }

    /// Ends an alternative of so many words: pages that have all of them have the need.
    pub(super) fn end_parts(&mut self, words: usize) {
        let all = u8::MAX >> (8 - words.clamp(1, 8));
        for page in self.part_touched.drain(..) {
            let place = at(page);
            if self.parts[place] == all {
                let number = self.part_by[place];
                self.hand.give(page, self.part_sum[place], number);
            }
            self.parts[place] = 0;
            self.part_sum[place] = 0.0;
        }
    }

    /// Ends a need, which pages must have from now on if it `must`; how many pages have it.
    pub(super) fn end(&mut self, need: usize, must: bool) -> usize {
        let pages = self.total.len();
        if self.by.len() <= need {
            self.by.resize_with(need + 1, || vec![0; pages]);
        }
        let count = self.hand.touched.len();
        for page in self.hand.touched.drain(..) {
            let place = at(page);
            let hits = std::mem::take(&mut self.hand.of[place]);
            if self.has[place] == 0 {
                self.pages.push(page);
            }
            self.has[place] |= 1 << need;
            self.total[place] += hits.best + OTHERS * (hits.sum - hits.best);
            self.by[need][place] = hits.by;
        }
        if must {
            self.wanted |= 1 << need;
        }
        count
    }

    /// Adds to pages that have what they must: what is good beside the needs.
    pub(super) fn add(&mut self, column: &Column, found: &Found) {
        hits(column, found, &self.has, self.wanted, |page, score| {
            self.total[at(page)] += score;
        });
    }

    /// What a page counts.
    pub(super) fn total(&self, page: u32) -> f64 {
        self.total[at(page)]
    }

    /// The number of the find by which a page has a need.
    fn by(&self, need: usize, page: u32) -> u32 {
        let own = self.by.get(need).and_then(|by| by.get(at(page)));
        own.copied().unwrap_or_default()
    }
}

/// Every page of a word found that has what it must, with its count by BM25, a word being there once or not at all.
fn hits(column: &Column, found: &Found, has: &[u16], wanted: u16, mut hit: impl FnMut(u32, f64)) {
    let rarity = rarity(found.pages, has.len());
    let weight = found.weight * column.boost * rarity * (1.0 + K1);
    let even = weight / (1.0 + EVEN);
    column.pages(&found.term, |page| {
        if has.get(at(page)).is_none_or(|has| has & wanted != wanted) {
            return;
        }
        let part = column.lengths.as_ref().map(|lengths| lengths.part(page));
        hit(page, part.map_or(even, |part| weight / (1.0 + part)));
    });
}

/// How rare a word is: `ln(1 + (N - n + 1/2) / (n + 1/2))` for n of N pages, above zero also where all have it.
fn rarity(with: f64, pages: usize) -> f64 {
    let all = u32::try_from(pages).map_or(f64::from(u32::MAX), f64::from);
    ln(1.0 + (all - with.min(all) + 0.5) / (with.min(all) + 0.5))
}
