//! Decks, cards and families as written: typed, placed, every problem a finding.
//!
//! In: files of a deck. Out: a [`Deck`] and findings. Knows no physics: whether a circuit can
//! produce a typed reading is asked in `sheet`.
//! `types` and `circuit_types` hold the shapes, `elements` the kinds of element, `colours` the letters of wires, `codes` those of trouble codes, `places` YAML with places, `fields` what is taken from a map, the
//! `read_` files the conversions, `check_card` what must be there because it is named, `shipped`
//! what is built in, `readings` what a shop recorded, `load` the only contact with the disk.

mod check_card;
mod check_tests;
mod circuit_types;
mod codes;
mod colours;
mod date;
mod elements;
mod fields;
#[cfg(not(target_arch = "wasm32"))]
mod load;
mod places;
mod read_card;
mod read_connector;
mod read_deck;
mod read_elements;
mod read_family;
mod read_head;
mod read_lessons;
mod read_parts;
mod read_tests;
mod read_words;
#[cfg(not(target_arch = "wasm32"))]
mod readings;
#[cfg(not(target_arch = "wasm32"))]
mod shipped;
mod types;

pub use circuit_types::*;
pub use codes::{code_about, code_defined_by, code_system, is_code};
pub use colours::{COLOURS, Colour, colours_of};
pub use date::Date;
pub use elements::{ELEMENT_KINDS, ElementKindSpec, FieldSpec, Takes};
#[cfg(not(target_arch = "wasm32"))]
pub use load::{DeckFiles, LoadError, Loaded, files, load};
pub use read_deck::read;
#[cfg(not(target_arch = "wasm32"))]
pub use readings::{READINGS_HEADER, delimiter_of, ends_inside_quotes};
#[cfg(not(target_arch = "wasm32"))]
pub use shipped::{embedded, shipped};
pub use types::*;
