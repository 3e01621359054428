//! Search: the words of a deck in one file, and the one query that terminal and phone ask it.
//!
//! In: a deck, and an address for each of its pages. Out: a pack of bytes; and for words as a technician
//! types them the pages that have all of them, best first, each with the reason, or which word found
//! nothing. Same deck, same pack; same pack and words, same answer to the last digit, here and in a phone.
//! Never: solving, files, the clock, wording of pages.
//!
//! `fields` are the columns of the index, `fold` cuts texts into words, `values` reads numbers with units, `years`
//! ranges of years, `entry` is a page as the index knows it; `texts` says what of a deck is found and `write` makes
//! the pack (both on a desk only). `pack` is the file, `open` opens it and `search` answers, by way of `query` (what
//! was meant), `names` (what the trade calls it), `wrong` (what is wrong with it), `widen` (from near to far), `expand` (which words of the index), `lend` (which codes say so) and `slips` (those a slip away),
//! `count` and `tally` (which pages, how good), `vehicle` (of one machine, not of two) and `lost` (why none).

mod answer;
mod count;
mod entry;
mod expand;
mod fields;
mod fold;
mod lend;
mod lost;
mod names;
mod open;
mod pack;
mod postings;
mod query;
mod search;
mod slips;
mod tally;
#[cfg(not(target_arch = "wasm32"))]
mod texts;
mod values;
mod vehicle;
mod widen;
#[cfg(not(target_arch = "wasm32"))]
mod write;
mod wrong;
mod years;

pub use answer::{Answer, Apart, Hit, Lost, Missing, Reason, Told};
pub use entry::{Entry, Kind};
pub use fields::Field;
pub use open::{NotOpened, Search};
#[cfg(not(target_arch = "wasm32"))]
pub use texts::{Page, entries};
#[cfg(not(target_arch = "wasm32"))]
pub use write::{Beside, NotWritten, pack};
