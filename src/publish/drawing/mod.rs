//! Drawings: a connector's face with a test's leads, the circuit, charts of the signal, calculators' examples, as SVG
//! inside the page.
//!
//! In: views' plain values. Out: SVG text. Every drawing has a title and a description, takes its
//! colours from the page, and stands beside a table with the same values.

mod cell;
pub(super) mod chain;
pub(super) mod connector;
pub(super) mod curve;
pub(super) mod drop_loop;
pub(super) mod leads;
pub(super) mod plot;
pub(super) mod qr;
pub(super) mod resistance;
pub(super) mod schematic;
mod schematic_pen;
pub(super) mod signal;
mod svg;

pub(super) use svg::Drawing;
