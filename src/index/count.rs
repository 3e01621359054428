//! Needs counted: which words of the index each can mean, and which pages have them.
//!
//! In: the needs of a query. Out: a tally of pages. The need that the fewest pages can have goes first, and the
//! others are looked for on its pages alone: a common word costs little beside a rare one.

use super::expand::{Found, Reach};
use super::fields::Field;
use super::open::Search;
use super::query::{Need, Sought, Way};
use super::tally::Tally;
use std::ops::Range;

/// What the needs of a query can mean.
pub(super) struct Meant {
    pub(super) finds: Vec<Found>,
    /// Which of the finds: by need, by way, by word.
    needs: Vec<Vec<Vec<Range<usize>>>>,
}

impl Search {
    /// What needs can mean.
    pub(super) fn meant(&self, needs: &[Need], reach: Reach) -> Meant {
        let mut finds = Vec::new();
        let mut of_word = |word: &Sought, way: &Way| {
            let from = finds.len();
            finds.extend(self.found(word, way.is_typed, reach));
            for found in &mut finds[from..] {
                found.weight *= match way.is_typed && found.weight < 1.0 {
                    true => way.worth * way.goes_on,
                    false => way.worth,
                };
            }
            from..finds.len()
        };
        let mut of_way = |way: &Way| way.words.iter().map(|word| of_word(word, way)).collect();
        let needs = needs.iter();
        let needs = needs
            .map(|need| need.ways.iter().map(&mut of_way).collect())
            .collect();
        Meant { finds, needs }
    }

    /// Counts pages that have every need; whether there are any.
    pub(super) fn count_together(&self, meant: &Meant, tally: &mut Tally) -> bool {
        tally.clear();
        let mut order: Vec<(u64, usize)> = (0..meant.needs.len())
            .map(|need| (meant.pages(need), need))
            .collect();
        order.sort_unstable();
        order.into_iter().all(|(pages, need)| {
            pages > 0 && {
                self.count(meant, need, tally);
                tally.end(need, true) > 0
            }
        })
    }

    /// Counts pages that have any need; how many have each.
    pub(super) fn count_each(&self, meant: &Meant, tally: &mut Tally) -> Vec<usize> {
        tally.clear();
        let mut with = |need| {
            self.count(meant, need, tally);
            tally.end(need, false)
        };
        (0..meant.needs.len()).map(&mut with).collect()
    }

    fn count(&self, meant: &Meant, need: usize, tally: &mut Tally) {
        let found = |number: usize| {
            let found = &meant.finds[number];
            (&self.columns[found.column], found)
        };
        for way in &meant.needs[need] {
            if let [alone] = way.as_slice() {
                for number in alone.clone() {
                    let (column, found) = found(number);
                    tally.count(column, found, number);
                }
                continue;
            }
            let first = way.first().map_or(0, |word| word.start);
            for (part, word) in (0..8).zip(way) {
                for number in word.clone() {
                    let (column, found) = found(number);
                    // What only the meaning of a code says is told by that code.
                    let by = match column.field {
                        Field::Codes => number,
                        _ => first,
                    };
                    tally.count_part(column, found, (part, by));
                }
            }
            tally.end_parts(way.len());
        }
    }
}

impl Meant {
    /// Whether every need can have a page.
    pub(super) fn is_whole(&self) -> bool {
        (0..self.needs.len()).all(|need| self.pages(need) > 0)
    }

    /// How many pages can have a need, at most.
    fn pages(&self, need: usize) -> u64 {
        let word = |word: &Range<usize>| -> u64 {
            let finds = self.finds[word.clone()].iter();
            finds.map(|found| u64::from(found.term.doc_freq)).sum()
        };
        let way = |way: &Vec<Range<usize>>| way.iter().map(word).min().unwrap_or_default();
        self.needs[need].iter().map(way).sum()
    }
}
