//! The kinds of finding: one table, and one named constructor a kind.

use super::Severity;

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
    /// A card that has it.
    pub wrong: &'static str,
    /// The same card without it.
    pub right: &'static str,
}
