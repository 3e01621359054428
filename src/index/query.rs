//! What somebody typed to what is meant: needs, each with the ways in which a page can have it.
//!
//! In: the text of a query. Out: at most twelve needs in the order typed. A need is one word, or a run of
//! words that the trade knows as one name; its first way is what was typed, the others mean the same.

use super::fields::Field;
use super::fold::{Shape, Word, words};
use super::names::Near;
use super::open::Search;
use super::search::code_of;
use super::values;
use std::ops::Range;

/// Words looked for at most; the rest of a query is not read.
const MOST: usize = 12;
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
/// Words, as singulars, that say what is wrong with a part and not which part it is.
const FAULTS: &[&str] = &[
    "bad",
    "broken",
    "circuit",
    "code",
    "dead",
    "defect",
    "defective",
    "dtc",
    "erratic",
    "error",
    "fail",
    "failed",
    "failing",
    "failure",
    "fault",
    "faulty",
    "intermittent",
    "loose",
    "open",
    "problem",
    "short",
    "shorted",
    "shorting",
    "stuck",
    "trouble",
    "wrong",
];

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
pub(super) struct Asked<'a> {
    pub(super) query: &'a str,
    words: Vec<(Range<usize>, Sought)>,
}

impl Asked<'_> {
    /// The same without the words that say what is wrong, which are told; none where it has none, or nothing else.
    pub(super) fn without_faults(&self) -> Option<(Self, Vec<String>)> {
        let says = |(_, word): &&(Range<usize>, Sought)| FAULTS.contains(&word.text.as_str());
        let (out, words): (Vec<_>, Vec<_>) = self.words.iter().partition(says);
        let out: Vec<String> = out
            .into_iter()
            .map(|(typed, _)| self.query[typed.clone()].to_owned())
            .collect();
        let words: Vec<_> = words.into_iter().cloned().collect();
        let query = self.query;
        (!out.is_empty() && !words.is_empty()).then_some((Self { query, words }, out))
    }
}

impl Search {
    /// The words of a query that say something.
    pub(super) fn asked<'a>(&self, query: &'a str) -> Asked<'a> {
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
        if let Some(word) = typed
            .last_mut()
            .filter(|word| open && self.is_strange(word))
            && let Some(pins) = values::half_pins(&query[word.from..word.to])
        {
            word.text = pins;
        }
        let is_code = |word: &Word| code_of(&word.text, word.shape).is_some();
        let has_code = typed.iter().any(is_code);
        let says = |word: &Word| {
            let about_code = has_code && ABOUT_CODES.contains(&word.text.as_str());
            !is_empty(&word.typed) && !about_code
        };
        if typed.iter().any(says) {
            typed.retain(says);
        }
        let last = typed.len();
        let sought = typed.into_iter().enumerate().map(|(at, word)| {
            let sought = Sought {
                text: word.text,
                start: word.typed,
                shape: word.shape,
                is_open: open && at + 1 == last,
            };
            (word.from..word.to, sought)
        });
        let words = sought.collect();
        Asked { query, words }
    }

    /// Whether a word is a value that no page has.
    fn is_strange(&self, word: &Word) -> bool {
        let known = &self.columns[Field::Values.at()].terms;
        word.shape == Shape::Value && !matches!(known.get(&word.text), Ok(Some(_)))
    }

    /// The needs of a query, names of the trade being as near as this.
    pub(super) fn needs(&self, asked: &Asked<'_>, near: Near) -> Vec<Need> {
        let sought: Vec<Sought> = asked.words.iter().map(|(_, word)| word.clone()).collect();
        let typed: Vec<&Range<usize>> = asked.words.iter().map(|(typed, _)| typed).collect();
        let alike: Vec<Vec<&str>> = sought.iter().map(|word| self.alike(&word.text)).collect();
        let mut needs = Vec::new();
        let mut at = 0;
        while at < sought.len() {
            let (long, mut others) = self.name(&sought[at..], &alike[at..], near);
            let typed = typed[at].start..typed[at + long - 1].end;
            if long == 1 && sought[at].shape == Shape::Wire {
                others.extend(two_wires(&asked.query[typed.clone()]));
            }
            needs.push(need(typed, &sought[at..at + long], others));
            at += long;
        }
        needs
    }
}

/// Colour letters with a space between them, which may be two wires and not one: `gn wh`.
fn two_wires(typed: &str) -> Option<Vec<String>> {
    let letters: Vec<String> = typed.split_whitespace().map(str::to_lowercase).collect();
    (letters.len() > 1 && letters.iter().all(|one| one.len() == 2)).then_some(letters)
}

fn need(typed: Range<usize>, own: &[Sought], others: Vec<Vec<String>>) -> Need {
    let mut ways = vec![Way {
        words: own.to_vec(),
        is_typed: true,
    }];
    let whole = |text: String| Sought {
        start: text.clone(),
        text,
        shape: Shape::Plain,
        is_open: false,
    };
    ways.extend(others.into_iter().map(|phrase| Way {
        words: phrase.into_iter().map(whole).collect(),
        is_typed: false,
    }));
    Need { typed, ways }
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
