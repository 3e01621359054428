//! The kinds of finding: one table, and one named constructor a kind.
//!
//! `form` is what any file can have wrong, `names` what a card names but is not there, `circuits` the
//! same of elements and tests, `trade` what the trade would not accept, `decks` what concerns the
//! folder, `physics` what only the solved circuit tells, `readings` what is wrong with what a shop recorded. Nothing
//! else makes a [`super::Finding`].

mod circuits;
mod decks;
mod form;
mod names;
mod physics;
mod readings;
mod trade;

pub use circuits::*;
pub use decks::*;
pub use form::*;
pub use names::*;
pub use physics::*;
pub use readings::*;
pub use trade::*;

use super::{Severity, nearest};

/// A kind of finding. `code` names the fault, not the cure, and is never used again for another.
#[derive(Debug, PartialEq, Eq)]
pub struct Kind {
    /// `unknown-key`.
    pub code: &'static str,
    /// How much it matters.
    pub severity: Severity,
    /// A few words.
    pub title: &'static str,
    /// Why it matters to the reader at the vehicle.
    pub why: &'static str,
    /// Where the example stands: `cards/example.yaml`, `families/example.yaml`, `deck.yaml`, `lessons/example.md`.
    pub file: &'static str,
    /// The lines of a file that have it; the rest of the file is left out. Empty where the file is
    /// missing or empty.
    pub wrong: &'static str,
    /// The same lines without it.
    pub right: &'static str,
}

const CARD: &str = "cards/example.yaml";
const FAMILY: &str = "families/example.yaml";
const DECK: &str = "deck.yaml";
const LESSON: &str = "lessons/example.md";

/// A kind that is an error in a card.
const fn error(
    code: &'static str,
    title: &'static str,
    why: &'static str,
    wrong: &'static str,
    right: &'static str,
) -> Kind {
    Kind {
        code,
        severity: Severity::Error,
        title,
        why,
        file: CARD,
        wrong,
        right,
    }
}

/// All kinds, for the reference page and the tests.
pub fn all() -> impl Iterator<Item = &'static Kind> {
    [
        form::KINDS,
        names::KINDS,
        circuits::KINDS,
        trade::KINDS,
        decks::KINDS,
        physics::KINDS,
        readings::KINDS,
    ]
    .into_iter()
    .flatten()
    .copied()
}

/// Names listed in full where no near one is found.
const LISTED: usize = 12;

/// "did you mean" the nearest name, or the names there are where they are few.
fn name_hint(typed: &str, names: &[&str]) -> Option<String> {
    match nearest(typed, names.iter().copied()) {
        Some(name) => Some(format!("did you mean `{name}`")),
        None if names.is_empty() => None,
        None if names.len() <= LISTED => Some(format!("use {}", one_of(names))),
        None => None,
    }
}

/// `a`, `one of a or b`.
fn one_of(names: &[&str]) -> String {
    match names {
        [] => "nothing".into(),
        [only] => format!("`{only}`"),
        [most @ .., last] => {
            let most: Vec<String> = most.iter().map(|name| format!("`{name}`")).collect();
            format!("{} or `{last}`", most.join(", "))
        }
    }
}
