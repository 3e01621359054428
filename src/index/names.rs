//! Names of the trade: runs of words that mean one thing, and what else means the same.
//!
//! In: words looked for. Out: how many at the front are one name, and its other names. A name may be whole, or still
//! being typed, or with a slip in it: while somebody types one that no card has, its cards must not wait for the last
//! letter.

use super::expand::slips_allowed;
use super::fields::Field;
use super::fold::Shape;
use super::open::Search;
use super::query::Sought;

/// How near to a name words must be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Near {
    /// The name itself.
    Whole,
    /// Or a start of it at the end of what is typed.
    Begun,
    /// Or with a slip or two in a word of it.
    Slipped,
}

/// Letters from which on a start tells something.
const LEAST: usize = 3;
/// Letters from which on a start may have a slip.
const LEAST_WITH_SLIP: usize = 5;

impl Search {
    /// This word and single words that mean the same.
    pub(super) fn alike<'a>(&'a self, word: &'a str) -> Vec<&'a str> {
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
    pub(super) fn name(
        &self,
        sought: &[Sought],
        alike: &[Vec<&str>],
        near: Near,
    ) -> (usize, Vec<Vec<String>>) {
        let mut long = 1;
        let mut others: Vec<&Vec<String>> = Vec::new();
        for group in &self.same {
            for phrase in group {
                let count = phrase.len().min(sought.len());
                if count < long || !is_name(phrase, sought, alike, near) {
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
        let named = &self.columns[..=Field::Family.at()];
        named
            .iter()
            .any(|column| matches!(column.terms.get(word), Ok(Some(_))))
    }
}

/// Whether words begin with this name, or are all a start of it where that is near enough.
fn is_name(phrase: &[String], sought: &[Sought], alike: &[Vec<&str>], near: Near) -> bool {
    if let ([only], Near::Whole) = (phrase, near) {
        return *only == sought[0].text;
    }
    if phrase.len() > sought.len() && near == Near::Whole {
        return false;
    }
    let letters: usize = sought.iter().map(|word| word.start.chars().count()).sum();
    let is_alone = phrase.len() == 1;
    let mut pairs = phrase.iter().zip(sought).zip(alike);
    letters >= LEAST
        && pairs.all(|((own, word), alike)| {
            let is_own = match is_alone {
                true => *own == word.text,
                false => alike.contains(&own.as_str()),
            };
            is_own || is_near(own, word, near)
        })
}

/// Whether a word is a start of one of a name, or has slips.
fn is_near(own: &str, word: &Sought, near: Near) -> bool {
    if near == Near::Whole || word.shape != Shape::Plain {
        return false;
    }
    if word.is_open && own.starts_with(word.start.as_str()) {
        return true;
    }
    near == Near::Slipped && has_slips(own, word)
}

fn has_slips(own: &str, word: &Sought) -> bool {
    let count = word.start.chars().count();
    let within =
        |own: &str, word: &str, most: u8| strsim::osa_distance(own, word) <= usize::from(most);
    let whole = slips_allowed(&word.text).is_some_and(|most| within(own, &word.text, most));
    let start = |long: usize| {
        let end = own
            .char_indices()
            .nth(long)
            .map_or(own.len(), |(end, _)| end);
        within(&own[..end], &word.start, 1)
    };
    let begun = || word.is_open && count >= LEAST_WITH_SLIP && (count - 1..=count + 1).any(start);
    whole || begun()
}
