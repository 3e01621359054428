//! The shapes of an answer.

use super::entry::Kind;
use super::fields::Field;

/// What a query found, or why nothing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Answer {
    /// Pages that have every word: by kind in the order of [`Kind::ALL`], best first.
    pub hits: Vec<Hit>,
    /// How many pages of each kind have every word; only the best of them are hits.
    pub totals: [usize; Kind::ALL.len()],
    /// Why there are none.
    pub lost: Option<Lost>,
    /// Codes that were asked for: those without a page here, and where nothing was found all of them.
    pub codes: Vec<Told>,
    /// Words, as typed, that say what is wrong with a part and that no card has beside the others.
    pub left_out: Vec<String>,
}

/// A code told beside what was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// The code.
    pub code: String,
    /// Its standard meaning, where one is known here.
    pub says: Option<String>,
    /// Whether a circuit of this deck names it.
    pub is_named: bool,
}

/// A page found.
#[derive(Clone, Debug, PartialEq)]
pub struct Hit {
    /// Its kind.
    pub kind: Kind,
    /// Its id.
    pub id: String,
    /// Its title in parts, those that were asked for marked.
    pub title: Vec<(String, bool)>,
    /// Its path from the site's root.
    pub address: String,
    /// What stands under its title.
    pub line: String,
    /// How good it is, beside others of the same query.
    pub score: f64,
    /// Where the words stand that its title has not.
    pub why: Vec<Reason>,
}

/// Where a word of the query stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reason {
    /// In which column.
    pub field: Field,
    /// As the page has it.
    pub text: String,
}

/// Why nothing was found.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Lost {
    /// Words that no page has.
    pub missing: Vec<Missing>,
    /// What would be found without one of them, most first: any where all are known, else the one that is not. Where that
    /// is not enough, the most of them that a card has.
    pub apart: Vec<Apart>,
}

/// A word that no page has.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Missing {
    /// As typed.
    pub word: String,
    /// The nearest that pages have.
    pub near: Vec<String>,
}

/// What would be found without a word or more.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Apart {
    /// Words left out, as typed.
    pub without: Vec<String>,
    /// Words that are left to ask for, as typed.
    pub left: Vec<String>,
    /// How many cards.
    pub cards: usize,
}

impl Reason {
    /// `wire green`, `value 120 ohm`.
    pub fn words(&self) -> String {
        format!("{} {}", self.field.label(), self.text)
    }
}

impl Hit {
    /// Its title in one text.
    pub fn whole_title(&self) -> String {
        self.title.iter().map(|(part, _)| part.as_str()).collect()
    }
}
