//! The electrical core: a network of toleranced elements, hooked up, solved, banded, faulted.
//!
//! In: a [`Network`] and a [`HookUp`]. Out: a [`Reading`] or a [`Band`]. Pure: no files, clock,
//! random numbers, cards or languages. No NaN or infinity leaves this module.
//!
//! The way of a question: [`Network`] + [`HookUp`] -> `compile` (branches between rows,
//! `blocks` without those the question cannot feel) -> `settle`
//! (a state that agrees with itself, by `mesh`) -> [`solve::read`]; [`band::band`] joins what lies in a row
//! (`reduce`) and asks at the corners that `climb` picks; [`Sweep`] asks again and again while one parameter
//! moves; [`Bands`] solves no circuit twice; [`fault`] changes a network before the question is put.

pub mod band;
mod blocks;
mod branch;
mod calm;
mod climb;
mod compile;
mod element;
pub mod fault;
mod felt;
mod gate;
mod hookup;
mod known;
mod mesh;
mod meter;
mod network;
mod order;
mod peak;
mod question;
mod reduce;
mod restart;
mod settle;
pub mod solve;
mod space;
mod sweep;

pub use element::*;
pub use felt::Felt;
pub use hookup::*;
pub use known::Bands;
pub use mesh::Mesh;
pub use meter::*;
pub use network::*;
pub use solve::{Flow, Response, Solution, Values};
pub use sweep::Sweep;
