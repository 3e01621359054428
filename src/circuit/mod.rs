//! The electrical core: a network of toleranced elements, hooked up, solved, banded, faulted.
//!
//! In: a [`Network`] and a [`HookUp`]. Out: a [`Reading`] or a [`Band`]. Pure: no files, clock,
//! random numbers, cards or languages. No NaN or infinity leaves this module.

mod hookup;
mod network;

pub use hookup::*;
pub use network::*;
