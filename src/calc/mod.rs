//! Calculators: one file a family of formulas. Numbers in, numbers out.
//!
//! Knows no card, file or language; every formula names its source, its range and what it answers
//! at the ends of it.

pub mod conductor;
mod distributions;
pub mod outlier;
pub mod platinum;
pub mod thermistor;
pub mod tolerance;
