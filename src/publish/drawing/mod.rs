//! Drawings: a connector's face and charts of the signal, as SVG inside the page.
//!
//! In: views' plain values. Out: SVG text. Every drawing has a title and a description, takes its
//! colours from the page, and stands beside a table with the same values.

pub(super) mod connector;
pub(super) mod plot;
pub(super) mod resistance;
pub(super) mod signal;
mod svg;
