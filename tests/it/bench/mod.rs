//! Bench mode in the hand: a phone's screen, tapped and typed at, and what it says held against the program.

mod access;
mod comfort;
mod hand;
mod kept;
mod keys;
mod kinds;
mod led;
mod marks;
mod refused;
mod screen;
mod states;
mod typed;
mod walks;
