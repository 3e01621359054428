//! The one test binary: each module asks the program a kind of question from the outside.
#![allow(clippy::unwrap_used, missing_docs)]

mod bench;
mod browser;
mod calc;
mod cards;
mod circuit;
mod cli;
mod families;
mod loading;
mod output;
mod pages;
mod phone;
mod preview;
mod quantity;
mod reason;
mod record;
mod search;
mod tidy;
mod tolerance;
