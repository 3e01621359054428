//! Working at once: the same work for many things, on all cores where there are several.
//!
//! In: things, work that changes none of them. Out: the results in the order of the things. A phone's engine has one
//! core, so there they come one after another. Never: an order that shows in a result.

#[cfg(not(target_arch = "wasm32"))]
use rayon::prelude::*;

/// Does the work for each thing.
#[cfg(not(target_arch = "wasm32"))]
pub fn each<T: Sync, R: Send>(things: &[T], work: impl Fn(&T) -> R + Sync + Send) -> Vec<R> {
    things.par_iter().map(work).collect()
}

/// Does the work for each thing.
#[cfg(target_arch = "wasm32")]
pub fn each<T: Sync, R: Send>(things: &[T], work: impl Fn(&T) -> R + Sync + Send) -> Vec<R> {
    things.iter().map(work).collect()
}

/// Does two things.
#[cfg(not(target_arch = "wasm32"))]
pub fn both<A: Send, B: Send>(
    one: impl FnOnce() -> A + Send,
    other: impl FnOnce() -> B + Send,
) -> (A, B) {
    rayon::join(one, other)
}

/// Does two things.
#[cfg(target_arch = "wasm32")]
pub fn both<A: Send, B: Send>(
    one: impl FnOnce() -> A + Send,
    other: impl FnOnce() -> B + Send,
) -> (A, B) {
    (one(), other())
}
