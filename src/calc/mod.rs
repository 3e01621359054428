//! Calculators: one file a family of formulas, one row of the table a calculator. Text as typed in,
//! answers or refusals out.
//!
//! [`CALCULATORS`] is the one table that pages, phone, terminal and tests walk; [`reckon`] answers a row.
//! Knows no card, file or language; every formula names its source, its range and what it answers
//! at the ends of it. No number that leaves is infinite or not a number.

pub mod conductor;
mod distributions;
mod divider;
#[allow(dead_code)]
mod given;
pub mod outlier;
pub mod platinum;
#[allow(dead_code)]
mod read;
mod shape;
pub mod thermistor;
pub mod tolerance;

pub use given::{Given, reckon};
pub use shape::{Alternative, Answer, Calculator, Input, Kind, Outcome, Refusal, Used, Value};

/// Every calculator, in the order shown; those of one group stand together.
pub static CALCULATORS: &[Calculator] = &[divider::DIVIDER];

/// The calculator of this name.
pub fn by_name(name: &str) -> Option<&'static Calculator> {
    CALCULATORS
        .iter()
        .find(|calculator| calculator.name == name)
}
