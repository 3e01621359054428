//! Names of the trade: runs of words that mean one thing, and what else means the same.
//!
//! In: words looked for. Out: how many at the front are one name, and its other names. A name may be whole, or only
//! begun, or with a slip in it: while somebody types one that no card has, its cards must not wait for the last letter.

use super::expand::slips_allowed;
use super::fields::Field;
use super::fold::Shape;
use super::open::Search;
use super::query::{Sought, Typed};
use super::values;
use std::cmp::Reverse;

/// How near to a name words must be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Near {
    /// The name itself.
    Whole,
    /// Or its first words at the end of what is typed.
    Half,
    /// Or a start of it, of each word a start.
    Begun,
    /// Or with a slip or two in a word of it.
    Slipped,
}

/// Words that are one name, or one word that is none.
#[derive(Debug)]
pub(super) struct Name {
    /// How many.
    pub(super) long: usize,
    /// What else means the same, each with whether the name was whole for it.
    pub(super) others: Vec<(Vec<String>, bool)>,
}

/// Numbers of pins as words, from one on.
const NUMBERS: [&str; 6] = ["one", "two", "three", "four", "five", "six"];
/// Letters from which on a start tells something.
const LEAST: usize = 3;
/// Letters from which on a start may have a slip.
const LEAST_WITH_SLIP: usize = 5;

impl Search {
    /// Other single words that mean the same.
    pub(super) fn alike(&self, word: &str) -> Vec<&str> {
        let mut alike = Vec::new();
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
    pub(super) fn name(&self, typed: &[Typed<'_>], near: Near) -> Name {
        let mut name = Name {
            long: 1,
            others: Vec::new(),
        };
        match near {
            Near::Half => {
                self.add_names(typed, Near::Whole, &mut name);
                self.add_names(typed, Near::Half, &mut name);
            }
            _ => self.add_names(typed, near, &mut name),
        }
        let own = |(phrase, is_whole): &(Vec<String>, bool)| (phrase.clone(), Reverse(*is_whole));
        name.others.sort_by_key(own);
        name.others.dedup_by(|one, other| one.0 == other.0);
        if let (1, Some(pins)) = (name.long, pins(typed)) {
            name.long = 2;
            name.others = vec![(vec![pins], true)];
            return name;
        }
        // Two words that others write as one: `cam shaft`.
        if let (1, [one, two, ..]) = (name.long, typed)
            && one.word.shape == Shape::Plain
            && two.word.shape == Shape::Plain
        {
            let joined = format!("{}{}", one.word.start, two.word.text);
            if self.knows(&joined) {
                name.long = 2;
                name.others = vec![(vec![joined], true)];
            }
        }
        name
    }

    /// Adds names that are as near as this to the longest run of words; half a name does not make it longer, or its
    /// words would lose what each means alone.
    fn add_names(&self, typed: &[Typed<'_>], near: Near, name: &mut Name) {
        for group in &self.same {
            for phrase in group {
                let count = like(phrase, typed, near);
                if count < name.long || (near == Near::Half && count > name.long) {
                    continue;
                }
                if count > name.long {
                    name.long = count;
                    name.others.clear();
                }
                let own = typed[..count].iter().map(|typed| &typed.word.text);
                let is_typed = phrase.iter().eq(own);
                let is_whole = like(phrase, typed, Near::Whole) > 0;
                let others = group.iter().filter(|other| !(is_typed && *other == phrase));
                let others = others.map(|other| (other.clone(), is_whole));
                name.others.extend(others);
            }
        }
    }

    /// Whether the index has this word in a title or a name.
    fn knows(&self, word: &str) -> bool {
        let named = &self.columns[..=Field::Family.at()];
        named
            .iter()
            .any(|column| matches!(column.terms.get(word), Ok(Some(_))))
    }
}

/// Pins, where their number is a word: `two wire`.
fn pins(typed: &[Typed<'_>]) -> Option<String> {
    let [number, unit, ..] = typed else {
        return None;
    };
    let number = NUMBERS.iter().position(|own| *own == number.word.text)?;
    let pins = values::value(&(number + 1).to_string(), &unit.word.text, false);
    pins.filter(|value| value.ends_with("pin"))
}

/// How many words at the front are this name or near enough to it; none of them are is 0.
fn like(phrase: &[String], typed: &[Typed<'_>], near: Near) -> usize {
    let is_alone = phrase.len() == 1;
    let is_own = |own: &String, typed: &Typed<'_>| {
        *own == typed.word.text || (!is_alone && typed.alike.contains(&own.as_str()))
    };
    let pairs = phrase.iter().zip(typed);
    let is_one = |(own, typed): &(&String, &Typed<'_>)| {
        is_own(own, typed) || is_near(own, &typed.word, near)
    };
    let count = pairs.take_while(is_one).count();
    let is_enough = match near {
        Near::Whole => count == phrase.len(),
        Near::Half => count == phrase.len() || count == typed.len(),
        Near::Begun | Near::Slipped => true,
    };
    let letters = typed[..count].iter();
    let letters: usize = letters.map(|typed| typed.word.start.chars().count()).sum();
    let is_enough = is_enough && (letters >= LEAST || (is_alone && near == Near::Whole));
    if is_enough { count } else { 0 }
}

/// Whether a word is a start of one of a name, or has slips.
fn is_near(own: &str, word: &Sought, near: Near) -> bool {
    if matches!(near, Near::Whole | Near::Half) || word.shape != Shape::Plain {
        return false;
    }
    let is_start = word.is_open || word.start.len() >= LEAST;
    if is_start && own.starts_with(word.start.as_str()) {
        return true;
    }
    near == Near::Slipped && word.may_slip && has_slips(own, word)
}

/// Whether a word, or what was typed of it, has slips; also asked by words for what is wrong.
pub(super) fn has_slips(own: &str, word: &Sought) -> bool {
    let count = word.start.chars().count();
    let long = own.chars().count();
    let within =
        |own: &str, word: &str, most: u8| strsim::osa_distance(own, word) <= usize::from(most);
    let whole = slips_allowed(&word.text).is_some_and(|most| {
        long.abs_diff(count) <= usize::from(most) + 1 && within(own, &word.text, most)
    });
    let start = |long: usize| {
        let end = own
            .char_indices()
            .nth(long)
            .map_or(own.len(), |(end, _)| end);
        within(&own[..end], &word.start, 1)
    };
    let begun = || {
        count >= LEAST_WITH_SLIP
            && long + 1 >= count
            && may_be_one_slip(own, &word.start)
            && (count - 1..=count + 1).any(start)
    };
    whole || begun()
}

/// Whether two words can be one slip apart by their first two letters, which spares most of the tables of distances.
fn may_be_one_slip(own: &str, typed: &str) -> bool {
    match (own.as_bytes(), typed.as_bytes()) {
        ([a, b, ..], [c, d, ..]) => a == c || b == d || a == d || b == c,
        _ => true,
    }
}
