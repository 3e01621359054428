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

/// Words of a query that say what is wrong.
#[derive(Clone)]
pub(super) struct Wrong {
    pub(super) place: Range<usize>,
    /// Whether they were typed whole and without a slip.
    pub(super) is_whole: bool,
    /// How many they are.
    pub(super) long: usize,
}

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
    pub(super) fn wrongs(&self, typed: &[Word], open: bool) -> Vec<Wrong> {
        let last = typed.len().wrapping_sub(1);
        let own = typed.iter().enumerate();
        let own = own.filter(|(_, word)| !is_small(&word.typed));
        let own: Vec<Sought> = own
            .map(|(at, word)| Sought {
                text: word.text.clone(),
                start: word.typed.clone(),
                shape: word.shape,
                is_open: open && at == last,
                may_slip: true,
            })
            .collect();
        let places = typed.iter().filter(|word| !is_small(&word.typed));
        let places: Vec<Range<usize>> = places.map(|word| word.from..word.to).collect();
        let wrongs = self.wrongs_of(&own, &places, usize::MAX);
        let long: usize = wrongs.iter().map(|wrong| wrong.long).sum();
        // Of `reference missing` alone the first word is the one to look for.
        match long == own.len() && wrongs.iter().any(|wrong| wrong.long > 1) {
            true => self.wrongs_of(&own, &places, 1),
            false => wrongs,
        }
    }

    /// The longest phrases of at most so many words.
    fn wrongs_of(&self, own: &[Sought], places: &[Range<usize>], most: usize) -> Vec<Wrong> {
        let (mut at, mut wrongs) = (0, Vec::new());
        while at < own.len() {
            let phrases = self.wrong.iter().filter(|phrase| phrase.len() <= most);
            let longest = phrases.map(|phrase| like(phrase, &own[at..])).max();
            let (long, is_whole) = longest.unwrap_or_default();
            if long > 0 {
                wrongs.push(Wrong {
                    place: places[at].start..places[at + long - 1].end,
                    is_whole,
                    long,
                });
            }
            at += long.max(1);
        }
        wrongs
    }
}

/// How many words at the front are this phrase, the last of all as far as it is typed, and whether they are it to the
/// letter; none of them are is 0.
fn like(phrase: &[String], typed: &[Sought]) -> (usize, bool) {
    // `shorted to plus` is `short to plus`.
    let is_own = |(own, word): (&String, &Sought)| {
        let mut endings = ["", "ed", "ing"].into_iter();
        endings.any(|ending| word.text.strip_suffix(ending) == Some(own.as_str()))
    };
    let is_one = |(own, word): (&String, &Sought)| {
        let least = if phrase.len() == 1 { LEAST } else { 1 };
        let is_start = word.is_open && word.start.len() >= least && own.starts_with(&word.start);
        let is_slip = || {
            // `pump` is no slip of `jump`.
            let is_long = word.text.len() >= LEAST_WITH_SLIP
                && own.chars().next() == word.text.chars().next();
            is_long && word.shape == Shape::Plain && has_slips(own, word)
        };
        is_own((own, word)) || is_start || is_slip()
    };
    let mut pairs = phrase.iter().zip(typed);
    if phrase.len() > typed.len() || !pairs.clone().all(is_one) {
        return (0, false);
    }
    (phrase.len(), pairs.all(is_own))
}

impl Asked<'_> {
    /// The same with fewer words, which are told, to be tried in this order: without the last word for what is wrong,
    /// without all of them; where nothing at all was found, also without a last word that has only begun.
    pub(super) fn fewer(&self, is_nothing: bool, search: &Search) -> Vec<(Self, Vec<String>)> {
        let mut fewer = self.without_wrongs();
        let short = self.words.last().filter(|last| {
            let short = last.word.is_open && last.word.start.chars().count() <= SHORT;
            short && last.word.shape == Shape::Plain && !search.has_word(&last.word.text)
        });
        if let Some(short) = short.filter(|_| is_nothing && self.words.len() > 1) {
            let told = self.query[short.place.clone()].to_owned();
            let (mut less, place) = (self.clone(), short.place.clone());
            less.words.pop();
            less.wrongs.retain(|wrong| !holds(&wrong.place, &place));
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

    /// The same without these, if words are left.
    pub(super) fn without(&self, wrongs: &[Wrong]) -> Option<(Self, Vec<String>)> {
        let mut less = self.clone();
        less.is_wide = true;
        let is_out = |place: &Range<usize>| wrongs.iter().any(|wrong| holds(&wrong.place, place));
        less.words.retain(|typed| !is_out(&typed.place));
        less.wrongs.retain(|wrong| !is_out(&wrong.place));
        let told = wrongs.iter().map(|wrong| {
            let words: Vec<&str> = self.query[wrong.place.clone()].split_whitespace().collect();
            words.join(" ")
        });
        (!less.words.is_empty()).then(|| (less, told.collect()))
    }
}

pub(super) fn holds(whole: &Range<usize>, part: &Range<usize>) -> bool {
    whole.start <= part.start && part.end <= whole.end
}
