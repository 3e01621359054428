//! Loomleaf: circuit cards in, a solved wiring reference out.
//!
//! Modules stand in layer order; each imports only from layers above it in this list
//! (`tests/it/tidy` fails on any other arrow):
//!
//! 1. [`quantity`] values in SI units, read and written as people write them
//! 2. [`finding`] problems in a deck, as data
//! 3. [`circuit`] the electrical core: network, hook-up, solve, band, fault
//!    [`calc`] calculators: one file a family of formulas
//! 4. [`card`] decks, cards and families as written, with places
//! 5. [`reason`] outcomes, suspects, verdict, plan, audit, reach
//! 6. [`sheet`] card to network to expectations; findings that come from physics
//! 7. `index` words of a deck in one file, and the query that terminal and phone ask it
//! 8. [`report`] what is answered as data, the same in terminal and phone
//! 9. [`phone`] the engine in a phone: questions and answers as JSON
//!    `publish` sheets to pages, drawings and files
//! 10. `preview` a local server that publishes again when the deck changes
//! 11. `cli` one verb a file, the only printer, the only exit status
//!
//! The pipeline: load -> read -> sheet -> pages -> links -> output.
//! Findings travel beside the data; an error stops before output.

pub mod calc;
pub mod card;
pub mod circuit;
#[cfg(not(target_arch = "wasm32"))]
pub mod cli;
pub mod finding;
#[cfg(any(not(target_arch = "wasm32"), feature = "search"))]
pub mod index;
pub mod phone;
#[cfg(not(target_arch = "wasm32"))]
pub mod preview;
#[cfg(not(target_arch = "wasm32"))]
pub mod publish;
pub mod quantity;
pub mod reason;
pub mod report;
pub mod sheet;
