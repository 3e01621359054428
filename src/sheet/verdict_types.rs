//! The shapes of a verdict in words: what the terminal, pages and phone show after some readings.

use crate::reason::Suspect;

/// What some readings say, in words.
#[derive(Clone, Debug, PartialEq)]
pub struct VerdictSheet {
    /// A single fault or a good circuit gives all of it.
    pub fits: bool,
    /// What is established, one sentence.
    pub says: String,
    /// What is proven good, a phrase each.
    pub proven: Vec<String>,
    /// The readings it rests on, by place in what was taken, and as a phrase.
    pub rests_on: Vec<Cited>,
    /// What it cannot rule out, a phrase each.
    pub cannot_rule_out: Vec<String>,
    /// Readings it does not rest on, and why.
    pub set_aside: Vec<Cited>,
    /// Where nothing fits: what conflicts and what would make it consistent, a sentence each.
    pub conflict: Vec<String>,
    /// Repairs left, the commonest first.
    pub suspects: Vec<Suspect>,
    /// Repairs ruled out, and by which readings.
    pub ruled_out: Vec<Cleared>,
    /// The next best test; none where no further test tells anything.
    pub next: Option<NextLine>,
    /// The next test of the card's order, by place in the sheet's tests.
    pub in_turn: Option<usize>,
    /// What to look at before anything is replaced, a sentence each; empty where no fault is found yet.
    pub before: Vec<String>,
    /// How to prove the repair, a sentence each; empty as `before`.
    pub afterwards: Vec<String>,
}

/// A reading with what is said of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cited {
    /// Place in what was taken.
    pub taken: usize,
    /// `“Supply across the two pins” read 0 V`, and why where it is set aside.
    pub says: String,
}

/// A repair that the readings rule out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cleared {
    /// The repair.
    pub repair: String,
    /// The readings that do it together, by place in what was taken.
    pub by: Vec<usize>,
    /// Their tests by title.
    pub says: String,
}

/// The next best test.
#[derive(Clone, Debug, PartialEq)]
pub struct NextLine {
    /// Which probe.
    pub probe: usize,
    /// Place in the sheet's tests.
    pub test: usize,
    /// State of the part, empty where it does not matter.
    pub state: String,
    /// How its readings would split what is left, one sentence.
    pub why: String,
    /// Expected drop in entropy over repairs, bits.
    pub bits: f64,
    /// Minutes it takes.
    pub minutes: f64,
}
