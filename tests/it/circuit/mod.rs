//! The electrical core against what is known outside it: laws, published examples, other solvers.

mod bands;
pub(crate) mod build;
mod fault_words;
mod faults;
mod laws;
mod mesh;
mod netlist;
pub(crate) mod oracle;
mod published;
pub(crate) mod sketches;
mod spice;
mod traps;
