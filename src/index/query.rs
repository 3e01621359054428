//! What somebody typed to what is meant: needs, each with the ways in which a page can have it.
//!
//! In: the text of a query. Out: at most twelve needs in the order typed. A need is one word, or a run of
//! words that the trade knows as one name; its first way is what was typed, the others mean the same.

use super::fold::{Shape, Word, words};
use super::open::Search;
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

impl Search {
    /// The needs of a query.
    pub(super) fn needs(&self, query: &str) -> Vec<Need> {
        let query = read_part(query);
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
        let says = |word: &Word| !is_empty(&word.typed);
        if typed.iter().any(says) {
            typed.retain(says);
        }
        let last = typed.len();
        let sought: Vec<Sought> = typed
            .iter()
            .enumerate()
            .map(|(at, word)| Sought {
                text: word.text.clone(),
                start: word.typed.clone(),
                shape: word.shape,
                is_open: open && at + 1 == last,
            })
            .collect();
        let alike: Vec<Vec<&str>> = sought.iter().map(|word| self.alike(&word.text)).collect();
        let mut needs = Vec::new();
        let mut at = 0;
        while at < sought.len() {
            let (long, mut others) = self.name(&sought[at..], &alike[at..]);
            let typed = typed[at].from..typed[at + long - 1].to;
            if long == 1 && sought[at].shape == Shape::Wire {
                others.extend(two_wires(&query[typed.clone()]));
            }
            needs.push(need(typed, &sought[at..at + long], others));
            at += long;
        }
        needs
    }

    /// This word and single words that mean the same.
    fn alike<'a>(&'a self, word: &'a str) -> Vec<&'a str> {
        let mut alike = vec![word];
        for group in &self.same {
            if group.iter().any(|phrase| *phrase == [word]) {
                let single = group.iter().filter(|other| other.len() == 1);
                alike.extend(single.map(|other| other[0].as_str()));
            }
        }
        alike
    }

    /// How many of these words are one name, and what else means the same. A name is known also where a word of
    /// it has another that means the same in its place: `engine temp`.
    fn name(&self, sought: &[Sought], alike: &[Vec<&str>]) -> (usize, Vec<Vec<String>>) {
        let mut long = 1;
        let mut others: Vec<&Vec<String>> = Vec::new();
        for group in &self.same {
            for phrase in group {
                let count = phrase.len();
                if count > sought.len() || count < long {
                    continue;
                }
                let same = match phrase.as_slice() {
                    [only] => *only == sought[0].text,
                    words => {
                        let mut pairs = words.iter().zip(alike);
                        pairs.all(|(own, alike)| alike.contains(&own.as_str()))
                    }
                };
                if !same {
                    continue;
                }
                if count > long {
                    (long, others) = (count, Vec::new());
                }
                let typed = sought[..count].iter().map(|word| &word.text);
                let is_typed = phrase.iter().eq(typed);
                others.extend(group.iter().filter(|other| !(is_typed && *other == phrase)));
            }
        }
        others.sort_unstable();
        others.dedup();
        let mut others: Vec<Vec<String>> = others.into_iter().cloned().collect();
        // Two words that others write as one: `cam shaft`.
        if let (1, [one, two, ..]) = (long, sought)
            && one.shape == Shape::Plain
            && two.shape == Shape::Plain
        {
            let joined = format!("{}{}", one.start, two.text);
            if self.knows(&joined) {
                (long, others) = (2, vec![vec![joined]]);
            }
        }
        (long, others)
    }

    /// Whether the index has this word in a title or a name.
    fn knows(&self, word: &str) -> bool {
        let named = &self.columns[..=super::fields::Field::Family.at()];
        named
            .iter()
            .any(|column| matches!(column.terms.get(word), Ok(Some(_))))
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
