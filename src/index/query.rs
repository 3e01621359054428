//! What somebody typed to what is meant: needs, each with the ways in which a page can have it.
//!
//! In: the text of a query. Out: at most twelve needs in the order typed. A need is one word, or a run of
//! words that the trade knows as one name; its first way is what was typed, the others mean the same.

use super::fields::Field;
use super::fold::{Shape, Word, words};
use super::names::{Name, Near};
use super::open::Search;
use super::search::code_of;
use super::values;
use super::wrong::{Wrong, holds};
use super::years::year;
use crate::card::is_code;
use std::ops::Range;

/// Words looked for at most; the rest of a query is not read.
const MOST: usize = 12;
/// What a word counts that goes on from a whole name of the trade: `apple` of `app`.
const BEYOND: f64 = 0.2;
/// What it counts that the name meant may be another, since it is not whole.
const HALF: f64 = 0.4;
/// Bytes of a query that are read.
const READ: usize = 400;
/// Words that say nothing about a circuit.
const EMPTY: &[&str] = &[
    "a", "an", "and", "are", "as", "at", "but", "by", "do", "does", "for", "from", "has", "have",
    "how", "i", "if", "in", "is", "it", "its", "my", "no", "not", "of", "on", "or", "that", "the",
    "then", "there", "this", "to", "was", "what", "when", "where", "which", "why", "with",
];

/// Words beside a code that say only that it is one.
const ABOUT_CODES: &[&str] = &["code", "dtc", "error", "fault", "trouble"];
/// Whether a word says nothing about a circuit.
pub(super) fn is_empty(word: &str) -> bool {
    EMPTY.contains(&word)
}

/// What a page must have.
#[derive(Clone, Debug)]
pub(super) struct Need {
    /// Where it stands in what was typed.
    pub(super) typed: Range<usize>,
    pub(super) ways: Vec<Way>,
}

/// One way to have it: all of these words.
#[derive(Clone, Debug)]
pub(super) struct Way {
    pub(super) words: Vec<Sought>,
    /// Whether it was typed, and not only means the same.
    pub(super) is_typed: bool,
    /// What it counts.
    pub(super) worth: f64,
    /// What words count beside that which only go on from what was typed.
    pub(super) goes_on: f64,
}

/// A word looked for.
#[derive(Clone, Debug)]
pub(super) struct Sought {
    pub(super) text: String,
    /// As typed, which is what it may go on from.
    pub(super) start: String,
    pub(super) shape: Shape,
    /// Whether it may still be typed on.
    pub(super) is_open: bool,
    /// Whether it may be a slip of another word.
    pub(super) may_slip: bool,
}

/// The part of a query that is read.
pub(super) fn read_part(query: &str) -> &str {
    let mut end = query.len().min(READ);
    while !query.is_char_boundary(end) {
        end -= 1;
    }
    &query[..end]
}

/// A query cut into words.
#[derive(Clone)]
pub(super) struct Asked<'a> {
    pub(super) query: &'a str,
    pub(super) words: Vec<Typed<'a>>,
    /// Where it says what is wrong with a part.
    pub(super) wrongs: Vec<Wrong>,
    /// Whether words that are known may be slips of others. Not while it has a phrase for what is wrong, which goes first.
    pub(super) is_wide: bool,
}

/// A word of a query.
#[derive(Clone)]
pub(super) struct Typed<'a> {
    pub(super) place: Range<usize>,
    pub(super) word: Sought,
    /// Other single words that mean the same.
    pub(super) alike: Vec<&'a str>,
}

impl Search {
    /// The words of a query that say something.
    pub(super) fn asked<'a>(&'a self, query: &'a str) -> Asked<'a> {
        let mut typed = words(query);
        // Said twice, a word asks for no more.
        let mut seen: Vec<String> = Vec::new();
        typed.retain(|word| {
            let is_new = !seen.contains(&word.text);
            if is_new {
                seen.push(word.text.clone());
            }
            is_new
        });
        typed.truncate(MOST);
        let open = query.chars().next_back().is_some_and(char::is_alphanumeric);
        drop_half_unit(&mut typed, open);
        let strange = typed.last_mut();
        if let Some(word) = strange.filter(|word| open && self.is_strange(word)) {
            other_value(word, query);
        }
        let wrongs = self.wrongs(&typed, open);
        keep_saying(&mut typed);
        let is_wrong = |place: &Range<usize>| {
            let mut whole = wrongs.iter().filter(|wrong| wrong.is_whole);
            whole.any(|wrong| holds(&wrong.place, place))
        };
        let last = typed.len();
        let words = typed.into_iter().enumerate().map(|(at, word)| Typed {
            place: word.from..word.to,
            alike: self.alike(&word.text),
            word: Sought {
                text: word.text,
                start: word.typed,
                shape: word.shape,
                is_open: open && at + 1 == last,
                may_slip: !is_wrong(&(word.from..word.to)),
            },
        });
        let words: Vec<Typed<'_>> = words.collect();
        let is_about = |typed: &Typed<'_>| !is_wrong(&typed.place);
        Asked {
            query,
            is_wide: wrongs.is_empty() || !words.iter().any(is_about),
            words,
            wrongs: wrongs.clone(),
        }
    }

    /// Whether a word is a value that no page has.
    fn is_strange(&self, word: &Word) -> bool {
        let known = &self.columns[Field::Values.at()].terms;
        word.shape == Shape::Value && !matches!(known.get(&word.text), Ok(Some(_)))
    }

    /// The needs of a query, names of the trade being as near as this.
    pub(super) fn needs(&self, asked: &Asked<'_>, near: Near) -> Vec<Need> {
        let mut needs = Vec::new();
        let mut left = asked.words.as_slice();
        while let [first, ..] = left {
            let mut name = self.name(left, near);
            let (own, rest) = left.split_at(name.long);
            let typed = first.place.start..own[name.long - 1].place.end;
            if name.long == 1 && first.word.shape == Shape::Wire {
                let wires = two_wires(&asked.query[typed.clone()]);
                name.others.extend(wires.map(|wires| (wires, true)));
            }
            needs.push(need(typed, own, name));
            left = rest;
        }
        needs
    }
}

/// Keeps words that say something, of a query as of a name of the trade, which is looked for in it.
pub(super) fn keep_saying(words: &mut Vec<Word>) {
    let is_code = |word: &Word| code_of(&word.text, word.shape).is_some();
    let has_code = words.iter().any(is_code);
    let says = |word: &Word| {
        let about_code = has_code && ABOUT_CODES.contains(&word.text.as_str());
        !is_empty(&word.typed) && !about_code
    };
    if words.iter().any(says) {
        words.retain(says);
    }
}

/// Colour letters with a space between them, which may be two wires and not one: `gn wh`.
fn two_wires(typed: &str) -> Option<Vec<String>> {
    let letters: Vec<String> = typed.split_whitespace().map(str::to_lowercase).collect();
    (letters.len() > 1 && letters.iter().all(|one| one.len() == 2)).then_some(letters)
}

fn need(typed: Range<usize>, own: &[Typed<'_>], name: Name) -> Need {
    let is_name = name.others.iter().any(|(_, is_whole)| *is_whole);
    let mut ways = vec![Way {
        words: own.iter().map(|typed| typed.word.clone()).collect(),
        is_typed: true,
        worth: 1.0,
        goes_on: if is_name && own.len() == 1 {
            BEYOND
        } else {
            1.0
        },
    }];
    let whole = |text: String| Sought {
        start: text.clone(),
        // A workshop may have a name of its own for a code.
        shape: match is_code(&text.to_uppercase()) {
            true => Shape::Code,
            false => Shape::Plain,
        },
        text,
        is_open: false,
        may_slip: false,
    };
    ways.extend(name.others.into_iter().map(|(phrase, is_whole)| Way {
        words: phrase.into_iter().map(whole).collect(),
        is_typed: false,
        worth: if is_whole { 1.0 } else { HALF },
        goes_on: 1.0,
    }));
    Need { typed, ways }
}

/// What is meant, while it is typed, by a value that no page has: `3 w` are pins on their way to `3 wires`, and `2018 c`
/// a year before some other word.
fn other_value(word: &mut Word, query: &str) {
    let typed = &query[word.from..word.to];
    let before = typed.rsplit_once(' ').map(|(before, _)| words(before));
    if let Some(pins) = values::half_pins(typed) {
        word.text = pins;
    } else if let Some([own]) = before.as_deref().filter(|own| own[0].shape == Shape::Value) {
        // `45 deg f` before some other word than Fahrenheit.
        word.to = word.from + own.to;
        (word.text, word.typed) = (own.text.clone(), own.typed.clone());
    } else if let Some(own) = typed
        .split_whitespace()
        .next()
        .filter(|own| year(own).is_some())
    {
        word.to = word.from + own.len();
        word.shape = Shape::Number;
        (word.text, word.typed) = (own.to_owned(), own.to_owned());
    }
}

/// A unit that is still being typed behind its number says nothing yet: `120 o`.
fn drop_half_unit(typed: &mut Vec<Word>, open: bool) {
    if let [.., number, unit] = typed.as_slice() {
        let half = open
            && number.shape == Shape::Number
            && values::is_number(&number.text)
            && unit.typed.len() <= 4
            && values::begins_unit(&unit.typed);
        if half {
            typed.pop();
        }
    }
}
