//! Reasoning: what readings mean, which faults are left, what to test next, what an order can tell apart.
//!
//! In: a circuit's [`Signatures`] (the bands every fault gives at every probe) and the readings taken.
//! Out: data: [`Outcome`], [`Suspects`], [`Verdict`], [`Next`], [`Audit`], reach. Texts (names, repairs,
//! test titles) come in as strings and go out as they came. Never: cards, files, sentences for a reader.
//!
//! Elimination is hard and by bands only; priors only rank. Nothing here draws random numbers.

pub mod at_once;
mod audit;
mod better;
mod by_state;
mod cells;
mod class;
mod compute;
mod conflict;
mod crossing;
mod evidence;
mod faint;
mod load;
mod outcome;
mod plan;
mod probe;
mod proof;
mod reach;
mod resistance;
mod rest;
mod separate;
mod set;
mod shows;
mod sight;
mod signature;
mod span;
mod split;
mod suspects;
mod tell;
mod verdict;

pub use audit::{Audit, Group, Pairs, Unseen, audit};
pub use better::{Step, better_order};
pub use cells::Reads;
pub use compute::{signatures, signatures_of};
pub use conflict::{Conflict, WayOut};
pub use evidence::{Observation, Observed};
pub use faint::Slight;
pub use load::{Load, safe_load};
pub use outcome::{Cell, FaultSeen, Meaning, Outcome, SHORT, Worth, outcome, outcomes, worth};
pub use plan::{Branch, Next, Planner, may_do, next_probe, rank_probes};
pub use probe::{Condition, Probe, ProbeKind, Technique, When};
pub use proof::{Open, Proven};
pub use reach::{Code, Effect, Limit, Point, Reach, Signal, TestReach, decades, looks_like, reach};
pub use rest::{Rest, other_rail};
pub use separate::Seen;
pub use sight::Sight;
pub use signature::{Change, FaultSights, Row, Signatures};
pub use split::Missing;
pub use suspects::{RuledOut, Suspect, Suspects, suspects};
pub use verdict::{Aside, Establishes, SetAside, Verdict, verdict};
