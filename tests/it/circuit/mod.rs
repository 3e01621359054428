//! The electrical core against what is known outside it: laws, published examples, other solvers.

mod bands;
pub(crate) mod build;
mod faults;
mod laws;
mod published;
mod traps;
