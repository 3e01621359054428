//! Reasoning asked from the outside: signatures and readings in, what they mean out.

mod by_hand;
mod circuits;
mod outcome;
mod plan;
mod suspects;
mod trials;
mod verdict;
