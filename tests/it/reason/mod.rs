//! Reasoning asked from the outside: signatures and readings in, what they mean out.

mod by_hand;
mod outcome;
mod plan;
mod suspects;
mod verdict;
