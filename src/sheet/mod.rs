//! The sheet: all that is computed for one card. Card -> network -> expectations.
//!
//! In: a [`crate::card::Deck`] and one of its cards. Out: a [`Sheet`] and the findings that physics gives.
//! Pages, index, phone and terminal show sheets; they never solve.

mod assemble;
mod backwards;
mod carried;
mod cautions;
mod claim;
mod elements;
mod expected;
mod hooking;
mod known_good;
mod known_good_types;
mod near_zero;
mod order_check;
mod out_of_turn;
mod pins;
mod points;
mod reasoning;
mod repair_words;
mod series;
mod shown;
mod signal;
mod site;
mod states;
mod taken;
mod tell;
mod told_types;
mod types;
mod values;
mod variants;
mod verdict_types;
mod verdict_words;
mod wiring;

pub use assemble::{definition, sheet, sheet_with, sheets};
pub use carried::{Carried, carried, carry, unpack};
pub use expected::instead;
pub use known_good::{known_good, stands};
pub use known_good_types::*;
pub use out_of_turn::{in_turn, out_of_turn};
pub use taken::{Mistaken, Taken, place_name, place_named, take, take_at, take_named};
pub use told_types::*;
pub use types::*;
pub use verdict_types::*;
pub use verdict_words::{next_test, tell_verdict};
