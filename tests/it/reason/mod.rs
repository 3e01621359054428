//! Reasoning asked from the outside: signatures and readings in, what they mean out.

mod bench;
mod by_hand;
mod circuits;
mod outcome;
mod plan;
mod reach;
mod suspects;
pub(crate) mod trials;
mod verdict;
