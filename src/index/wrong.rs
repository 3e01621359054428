//! Words for what is wrong with a part: `short to battery`, `corroded`. They do not tell which part it is.
//!
//! In: the words of a query, and those for what is wrong, which are data. Out: where the query has them; and the query
//! with fewer words, to be tried where no card has all of them.

use super::fold::{Shape, Word};
use super::names::has_slips;
use super::open::Search;
use super::query::{Asked, Sought, is_empty};
use std::ops::Range;

/// The first words of a group of words for what is wrong; they mean nothing alike.
pub(super) const MARK: [&str; 3] = ["what", "is", "wrong"];
/// Small words that do say something here: `no signal`.
const KEPT: [&str; 2] = ["no", "not"];
/// Letters from which on the start of a word is one for what is wrong.
const LEAST: usize = 3;
/// Letters from which on one may have a slip.
const LEAST_WITH_SLIP: usize = 6;
/// Letters of a last word that may be the start of anything.
const SHORT: usize = 2;

/// Whether a word says nothing in a phrase for what is wrong.
fn is_small(word: &str) -> bool {
    is_empty(word) && !KEPT.contains(&word)
}

/// The words of a phrase that say something.
pub(super) fn phrase(mut words: Vec<String>) -> Vec<String> {
    words.retain(|word| !is_small(word));
    words
}

impl Search {
    /// Where words say what is wrong, in the order typed.
    pub(super) fn wrongs(&self, typed: &[Word], open: bool) -> Vec<Range<usize>> {
        let last = typed.len().wrapping_sub(1);
        let own = typed.iter().enumerate();
        let own = own.filter(|(_, word)| !is_small(&word.typed));
        let own: Vec<Sought> = own
            .map(|(at, word)| Sought {
                text: word.text.clone(),
                start: word.typed.clone(),
                shape: word.shape,
                is_open: open && at == last,
            })
            .collect();
        let places = typed.iter().filter(|word| !is_small(&word.typed));
        let places: Vec<Range<usize>> = places.map(|word| word.from..word.to).collect();
        let (mut at, mut wrongs) = (0, Vec::new());
        while at < own.len() {
            let phrases = self.wrong.iter();
            let long = phrases.map(|phrase| like(phrase, &own[at..])).max();
            let long = long.unwrap_or_default();
            if long > 0 {
                wrongs.push(places[at].start..places[at + long - 1].end);
            }
            at += long.max(1);
        }
        wrongs
    }
}

/// How many words at the front are this phrase, the last of all as far as it is typed; none of them are is 0.
fn like(phrase: &[String], typed: &[Sought]) -> usize {
    let is_one = |(own, word): (&String, &Sought)| {
        let least = if phrase.len() == 1 { LEAST } else { 1 };
        let is_start = word.is_open && word.start.len() >= least && own.starts_with(&word.start);
        let is_slip = || {
            // `pump` is no slip of `jump`.
            let is_long = word.text.len() >= LEAST_WITH_SLIP
                && own.chars().next() == word.text.chars().next();
            is_long && word.shape == Shape::Plain && has_slips(own, word)
        };
        // `shorted to plus` is `short to plus`.
        let mut endings = ["", "ed", "ing"].into_iter();
        let is_own = endings.any(|ending| word.text.strip_suffix(ending) == Some(own.as_str()));
        is_own || is_start || is_slip()
    };
    let is_whole = phrase.len() <= typed.len() && phrase.iter().zip(typed).all(is_one);
    if is_whole { phrase.len() } else { 0 }
}

impl Asked<'_> {
    /// The same with fewer words, which are told, to be tried in this order: without the last word for what is wrong,
    /// without all of them; where nothing at all was found, also without a last word that has only begun.
    pub(super) fn fewer(
        &self,
        is_nothing: bool,
        has: impl Fn(&str) -> bool,
    ) -> Vec<(Self, Vec<String>)> {
        let mut fewer = self.without_wrongs();
        let short = self.words.last().filter(|last| {
            let short = last.word.is_open && last.word.start.chars().count() <= SHORT;
            short && last.word.shape == Shape::Plain && !has(&last.word.text)
        });
        if let Some(short) = short.filter(|_| is_nothing && self.words.len() > 1) {
            let told = self.query[short.place.clone()].to_owned();
            let (mut less, place) = (self.clone(), short.place.clone());
            less.words.pop();
            less.wrongs.retain(|wrong| !holds(wrong, &place));
            let without = less.without_wrongs().into_iter();
            let without: Vec<_> = without
                .map(|(less, out)| (less, [out, vec![told.clone()]].concat()))
                .collect();
            fewer.push((less, vec![told.clone()]));
            fewer.extend(without);
        }
        fewer
    }

    fn without_wrongs(&self) -> Vec<(Self, Vec<String>)> {
        let mut from = vec![self.wrongs.len().saturating_sub(1), 0];
        from.dedup();
        let tried = from.into_iter().map(|from| &self.wrongs[from..]);
        let tried = tried.filter(|wrongs| !wrongs.is_empty());
        tried.filter_map(|wrongs| self.without(wrongs)).collect()
    }

    fn without(&self, wrongs: &[Range<usize>]) -> Option<(Self, Vec<String>)> {
        let mut less = self.clone();
        let is_out = |place: &Range<usize>| wrongs.iter().any(|wrong| holds(wrong, place));
        less.words.retain(|typed| !is_out(&typed.place));
        less.wrongs.retain(|wrong| !is_out(wrong));
        let told = wrongs.iter().map(|wrong| {
            let words: Vec<&str> = self.query[wrong.clone()].split_whitespace().collect();
            words.join(" ")
        });
        (!less.words.is_empty()).then(|| (less, told.collect()))
    }
}

fn holds(whole: &Range<usize>, part: &Range<usize>) -> bool {
    whole.start <= part.start && part.end <= whole.end
}
