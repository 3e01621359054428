//! Why a query found nothing: words that no page has with the nearest ones, or words that no page has
//! together; and a code without a page.

use super::answer::{Apart, Hit, Lost, Missing};
use super::entry::Kind;
use super::fields::Field;
use super::fold::Shape;
use super::open::Search;
use super::query::{Need, Sought};
use super::search::{all, code_of};
use super::slips::Slips;
use super::tally::Tally;
use std::collections::BTreeMap;

/// Near words told, and words that could be left out.
const TOLD: usize = 3;
/// Slips within which a word is near.
const NEAR: u8 = 2;

/// Which of so many words could be left out: each where all are known, else the only one that is not.
fn could_go(words: usize, unknown: &[usize]) -> Vec<usize> {
    match unknown {
        _ if words < 2 => Vec::new(),
        [] => (0..words).collect(),
        [one] => vec![*one],
        _ => Vec::new(),
    }
}

impl Search {
    pub(super) fn lost(&self, query: &str, needs: &[Need], with: &[usize], tally: &Tally) -> Lost {
        let typed = |need: &Need| query[need.typed.clone()].to_owned();
        let without = needs.iter().zip(with).filter(|(_, with)| **with == 0);
        let missing: Vec<Missing> = without
            .map(|(need, _)| Missing {
                word: typed(need),
                near: need
                    .ways
                    .first()
                    .map_or_else(Vec::new, |way| self.nearest(&way.words)),
            })
            .collect();
        let unknown: Vec<usize> = (0..needs.len()).filter(|at| with[*at] == 0).collect();
        let mut apart = Vec::new();
        for at in could_go(needs.len(), &unknown) {
            let left = all(needs) & !(1 << at);
            let has = |page: &&u32| {
                tally.has[**page as usize] & left == left
                    && self.pages.kind(**page) == Some(Kind::Card)
            };
            let cards = tally.pages.iter().filter(has).count();
            if cards > 0 {
                let without = typed(&needs[at]);
                apart.push(Apart { without, cards });
            }
        }
        apart.sort_unstable_by(|a, b| (b.cards, &a.without).cmp(&(a.cards, &b.without)));
        apart.truncate(TOLD);
        Lost { missing, apart }
    }

    /// The words of pages that are nearest to these.
    fn nearest(&self, sought: &[Sought]) -> Vec<String> {
        let [sought] = sought else {
            return Vec::new();
        };
        let mut near: BTreeMap<String, (usize, u32)> = BTreeMap::new();
        if code_of(&sought.text, sought.shape).is_some() {
            self.near_codes(sought, &mut near);
        } else if sought.shape == Shape::Plain && sought.text.chars().count() >= 3 {
            self.near_words(&sought.text, &mut near);
        }
        let mut near: Vec<(String, (usize, u32))> = near.into_iter().collect();
        near.sort_unstable_by(|(a, (slips, pages)), (b, (other_slips, other_pages))| {
            (slips, other_pages, a).cmp(&(other_slips, pages, b))
        });
        near.truncate(TOLD);
        near.into_iter().map(|(text, _)| text).collect()
    }

    fn near_words(&self, text: &str, near: &mut BTreeMap<String, (usize, u32)>) {
        let slips = Slips::of(text, NEAR);
        for column in &self.columns {
            if matches!(column.field, Field::Pairs | Field::Codes | Field::Values) {
                continue;
            }
            let Ok(mut stream) = column.terms.search(&slips).into_stream() else {
                continue;
            };
            while let Some((key, term)) = stream.next() {
                let Ok(found) = std::str::from_utf8(key) else {
                    continue;
                };
                let slips = strsim::osa_distance(text, found);
                if slips * 2 <= text.chars().count() {
                    let known = near.entry(found.to_owned()).or_insert((slips, 0));
                    known.1 += term.doc_freq;
                }
            }
        }
    }

    /// Codes that differ in the last digit alone.
    fn near_codes(&self, sought: &Sought, near: &mut BTreeMap<String, (usize, u32)>) {
        let Some(code) = code_of(&sought.text, sought.shape) else {
            return;
        };
        let start = code.to_lowercase()[..4].to_owned();
        let end = format!("{start}\u{10ffff}");
        let terms = &self.columns[Field::Codes.at()].terms;
        let Ok(mut stream) = terms.range().ge(&start).lt(&end).into_stream() else {
            return;
        };
        while let Some((key, term)) = stream.next() {
            if let Ok(text) = std::str::from_utf8(key) {
                near.insert(text.to_uppercase(), (1, term.doc_freq));
            }
        }
    }

    /// A code asked for that has no page, with its standard meaning.
    pub(super) fn code_without_page(
        &self,
        needs: &[Need],
        hits: &[Hit],
    ) -> Option<(String, Option<String>)> {
        if hits.iter().any(|hit| hit.kind == Kind::Card) {
            return None;
        }
        let known = &self.columns[Field::Codes.at()].terms;
        let words = needs.iter().filter_map(|need| need.ways.first());
        let mut codes = words
            .flat_map(|way| &way.words)
            .filter_map(|word| code_of(&word.text, word.shape));
        let code = codes.find(|code| !matches!(known.get(code.to_lowercase()), Ok(Some(_))))?;
        let lines = std::str::from_utf8(&self.codes).unwrap_or("");
        let says = lines
            .lines()
            .filter_map(|line| line.split_once('\t'))
            .find(|(own, _)| *own == code);
        Some((code, says.map(|(_, says)| says.to_owned())))
    }
}
