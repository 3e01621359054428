//! Words that a card does not say, and a code that it carries does: `low`, of a card with P0405.
//!
//! In: what a word was found to mean. Out: the codes whose standard meaning says it, by which pages that carry them have
//! the word too. It costs the index nothing, since a code's own page has the words of its meaning, and its cards its name;
//! and is asked for only where no card has all words by itself.

use super::entry::Kind;
use super::expand::Found;
use super::fields::Field;
use super::open::Search;

/// What a word counts that only the meaning of a code has, beside that code itself.
const LENT: f64 = 0.02;

impl Search {
    /// Codes whose meaning says what was found.
    pub(super) fn lent(&self, found: &[Found]) -> Vec<Found> {
        let (body, codes) = (&self.columns[Field::Body.at()], Field::Codes.at());
        let first = self.pages.before(Kind::Code);
        let mut saying = vec![0.0_f64; self.pages.before(Kind::Calculator) - first];
        for one in found.iter().filter(|one| one.column == Field::Body.at()) {
            body.pages(&one.term, |page| {
                let place = (page as usize).checked_sub(first);
                if let Some(weight) = place.and_then(|place| saying.get_mut(place)) {
                    *weight = weight.max(one.weight);
                }
            });
        }
        let terms = &self.columns[codes].terms;
        let mut lent: Vec<Found> = Vec::new();
        let saying = saying.into_iter().zip(first..);
        for (weight, page) in saying.filter(|(weight, _)| *weight > 0.0) {
            let page = u32::try_from(page).unwrap_or_default();
            let text = self.pages.line(page).map(|line| line.id.to_lowercase());
            let Some(text) = text else { continue };
            if let Ok(Some(term)) = terms.get(&text) {
                lent.push(Found {
                    pages: 0.0,
                    term,
                    column: codes,
                    text,
                    weight: weight * LENT,
                });
            }
        }
        // Together they are as rare as the word.
        let pages = lent.iter().map(|one| f64::from(one.term.doc_freq)).sum();
        lent.iter_mut().for_each(|one| one.pages = pages);
        lent
    }
}
