//! A page as the index knows it: what kind it is, how it is shown in a list, and its words by column.

use super::fields::Field;
use super::fold::words;
#[cfg(not(target_arch = "wasm32"))]
use super::query::is_empty;

/// The kinds of page that are found. Results stand grouped by them, in this order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A card.
    Card,
    /// A trouble code.
    Code,
    /// A lesson.
    Lesson,
    /// A calculator.
    Calculator,
    /// A kind of circuit.
    Family,
    /// A vehicle or machine.
    Vehicle,
}

impl Kind {
    /// All kinds, in the order of their groups. A new kind of page needs a row here and in the functions below.
    pub const ALL: [Kind; 6] = [
        Kind::Card,
        Kind::Code,
        Kind::Lesson,
        Kind::Calculator,
        Kind::Family,
        Kind::Vehicle,
    ];

    /// Heading of its group.
    pub fn heading(self) -> &'static str {
        match self {
            Kind::Card => "Circuits",
            Kind::Code => "Codes",
            Kind::Lesson => "Lessons",
            Kind::Calculator => "Calculators",
            Kind::Family => "Kinds of circuit",
            Kind::Vehicle => "Vehicles and machines",
        }
    }

    /// How many of it are shown.
    pub(super) fn most(self) -> usize {
        match self {
            Kind::Card => 10,
            _ => 3,
        }
    }
}

/// What stands in a card's line between its codes, its first vehicle and each further one: a sign that no name has, as a
/// comma may be part of one (`Launch, long wheelbase`).
pub(super) const APART: char = '\u{1f}';

/// What stands behind the meaning of a code that no card has.
pub(super) const UNNAMED: &str = "; no circuit of this deck names it";

/// A page.
#[derive(Clone, Debug)]
pub struct Entry {
    /// Its kind.
    pub kind: Kind,
    /// Its id: a card's file name, a code, a calculator's name.
    pub id: String,
    /// What it is called.
    pub title: String,
    /// Its path from the site's root.
    pub address: String,
    /// What stands under the title in a list: codes, vehicles.
    pub line: String,
    /// Words by column.
    pub(super) words: Vec<(Field, String)>,
}

impl Entry {
    /// A page whose title is found.
    pub fn new(kind: Kind, id: &str, title: &str, address: String) -> Self {
        let mut entry = Self {
            kind,
            id: id.to_owned(),
            title: title.to_owned(),
            address,
            line: String::new(),
            words: Vec::new(),
        };
        let field = match kind {
            Kind::Lesson => Field::Lesson,
            _ => Field::Title,
        };
        entry.add(field, title);
        entry
    }

    /// Adds a text to a column; where a hyphen joins two words, also the word without it.
    pub fn add(&mut self, field: Field, text: &str) {
        let words = words(text);
        for pair in words.windows(2) {
            if text[pair[0].to..pair[1].from] == *"-" {
                let joined = format!("{}{}", pair[0].typed, pair[1].text);
                self.words.push((field, joined));
            }
        }
        let own = words.into_iter().map(|word| (field, word.text));
        self.words.extend(own);
    }

    /// Adds a pair of words that belong to one pin.
    pub fn pair(&mut self, one: &str, other: &str) {
        self.words.push((Field::Pairs, pair(one, other)));
    }

    /// Removes words that stand in a column twice, since how often a card says a word tells little; and from long texts
    /// those that no query looks for.
    #[cfg(not(target_arch = "wasm32"))]
    pub(super) fn settle(&mut self) {
        let says = |(field, word): &(Field, String)| {
            !matches!(field, Field::Body | Field::Lesson) || !is_empty(word)
        };
        self.words.retain(says);
        self.words.sort();
        self.words.dedup();
    }
}

/// Two words of one pin as the index has them.
pub(super) fn pair(one: &str, other: &str) -> String {
    let (first, second) = if one <= other {
        (one, other)
    } else {
        (other, one)
    };
    format!("{first}+{second}")
}
