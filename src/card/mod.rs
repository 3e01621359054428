//! Decks, cards and families as written: typed, placed, every problem a finding.
//!
//! In: files of a deck. Out: a [`Deck`] and findings. Knows no physics: whether a circuit can
//! produce a typed reading is asked in `sheet`.
//! `types` holds the shapes, `places` YAML with places, `read_card`/`read_family`/`read_deck` the
//! conversions, `load` the only contact with the disk.

#[cfg(not(target_arch = "wasm32"))]
mod shipped;
mod types;

#[cfg(not(target_arch = "wasm32"))]
pub use shipped::shipped;
pub use types::*;
