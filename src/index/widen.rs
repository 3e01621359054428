//! From near to far: what was meant, each step wider than the last, until a card has all of it.
//!
//! In: a query cut into words, its needs as typed. Out: the needs that found pages, what they mean, the pages counted.

use super::count::Meant;
use super::entry::Kind;
use super::expand::Reach;
use super::fold::Shape;
use super::names::Near;
use super::open::Search;
use super::query::{Asked, Need};
use super::tally::{Counted, Tally, all};

/// A page that has a need by no more than this has it by a word that only goes on from what was typed.
const WHOLE: f64 = 0.25;
/// Cards of a list that is not looked into further.
const ENOUGH: usize = 10;

/// What was meant in the end.
pub(super) struct Widened {
    pub(super) needs: Vec<Need>,
    pub(super) meant: Meant,
    /// Whether pages have all of it.
    pub(super) is_found: bool,
}

impl Search {
    /// What was meant, from near to far until cards have all of it.
    pub(super) fn widened(
        &self,
        asked: &Asked<'_>,
        needs: Vec<Need>,
        tally: &mut Tally,
    ) -> Widened {
        let mut meant = self.meant(&needs, Reach::Near);
        let mut is_found = self.count_together(&meant, tally);
        if is_found && self.has_card(&needs, tally) {
            let near = Widened {
                needs,
                meant,
                is_found,
            };
            return self.beside(asked, near, tally);
        }
        let is_plain = |need: &Need| {
            let mut words = need.ways.iter().flat_map(|way| &way.words);
            words.any(|word| word.shape == Shape::Plain)
        };
        let mut has_card = false;
        if meant.is_whole() && needs.iter().any(is_plain) {
            meant = self.meant(&needs, Reach::Codes);
            is_found = self.count_together(&meant, tally);
            has_card = is_found && self.has_card(&needs, tally);
        }
        // A name of the trade that is still being typed comes before slips, one with a slip in it behind them.
        if !has_card && let Some(other) = self.renamed(asked, &needs, Near::Begun, tally) {
            return other;
        }
        if asked.is_wide && !has_card && !is_found {
            meant = self.meant(&needs, Reach::Far);
            is_found = self.count_together(&meant, tally);
            has_card = is_found && self.has_card(&needs, tally);
        }
        if asked.is_wide && !has_card {
            let mut asked = asked.clone();
            for typed in &mut asked.words {
                typed.word.may_slip &= !self.has_word(&typed.word.text);
            }
            if let Some(other) = self.renamed(&asked, &needs, Near::Slipped, tally) {
                return other;
            }
        }
        // What was tried in between left the tally its own.
        is_found = has_card || (is_found && self.count_together(&meant, tally));
        Widened {
            needs,
            meant,
            is_found,
        }
    }

    /// Cards were found: others stand beside them where a whole name of the trade is hidden behind words that only
    /// begin like it, or where what was typed is half of a name and the list has room.
    fn beside(&self, asked: &Asked<'_>, near: Widened, tally: &mut Tally) -> Widened {
        if self.is_hidden(asked, &near, tally) {
            let meant = self.meant(&near.needs, Reach::Codes);
            let is_found = self.count_together(&meant, tally);
            return Widened {
                meant,
                is_found,
                ..near
            };
        }
        if self.cards(&near.needs, tally).nth(ENOUGH).is_some() {
            return near;
        }
        if let Some(other) = self.renamed(asked, &near.needs, Near::Half, tally) {
            return other;
        }
        near
    }

    /// Whether no card has a whole name of the trade but by words that go on from it.
    fn is_hidden(&self, asked: &Asked<'_>, near: &Widened, tally: &Tally) -> bool {
        let counted = Counted::of(asked.query, &near.needs, &near.meant.finds, tally);
        let names = near.needs.iter().enumerate();
        let mut names = names.filter(|(_, need)| need.ways[0].goes_on < 1.0);
        names.any(|(at, _)| {
            let by = |page| counted.by(at, page).map_or(0.0, |found| found.weight);
            self.cards(&near.needs, tally).all(|page| by(page) < WHOLE)
        })
    }

    /// What was meant where names of the trade may be less than whole; none where that changes nothing or finds no card.
    fn renamed(
        &self,
        asked: &Asked<'_>,
        needs: &[Need],
        near: Near,
        tally: &mut Tally,
    ) -> Option<Widened> {
        let other = self.needs(asked, near);
        let ways = |needs: &[Need]| needs.iter().map(|need| need.ways.len()).sum::<usize>();
        if other.len() == needs.len() && ways(&other) == ways(needs) {
            return None;
        }
        let reach = match near {
            Near::Slipped => Reach::Far,
            _ => Reach::Near,
        };
        let meant = self.meant(&other, reach);
        let is_found = self.count_together(&meant, tally) && self.has_card(&other, tally);
        is_found.then_some(Widened {
            needs: other,
            meant,
            is_found,
        })
    }

    /// Cards that have every need.
    fn cards<'a>(&'a self, needs: &[Need], tally: &'a Tally) -> impl Iterator<Item = u32> + 'a {
        let all = all(needs);
        let pages = tally.pages.iter().copied();
        pages.filter(move |page| {
            tally.has[*page as usize] == all && self.pages.kind(*page) == Some(Kind::Card)
        })
    }

    /// Whether a card has every need.
    fn has_card(&self, needs: &[Need], tally: &Tally) -> bool {
        self.cards(needs, tally).next().is_some()
    }
}
