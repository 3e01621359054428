//! Calculators: one file a family of formulas, one row of the table a calculator. Text as typed in,
//! answers or refusals out.
//!
//! [`CALCULATORS`] is the one table that pages, phone, terminal and tests walk; [`reckon`] answers a row.
//! Knows no card, file or language; every formula names its source, its range and what it answers
//! at the ends of it. No number that leaves is infinite or not a number.

mod cable;
pub mod conductor;
mod distributions;
mod divider;
mod fitting;
#[allow(dead_code)]
mod given;
mod limit;
mod measured_drop;
pub mod outlier;
pub mod platinum;
#[allow(dead_code)]
mod read;
mod shape;
mod sizes;
pub mod thermistor;
pub mod tolerance;
mod voltage_drop;
mod wire_size;

pub use given::{Given, reckon};
pub use shape::{Alternative, Answer, Calculator, Input, Kind, Outcome, Refusal, Used, Value};

/// Every calculator, in the order shown; those of one group stand together.
pub static CALCULATORS: &[Calculator] = &[
    voltage_drop::VOLTAGE_DROP,
    measured_drop::MEASURED_DROP,
    wire_size::WIRE_SIZE,
    wire_size::WIRE_RUN,
    wire_size::WIRE_RESISTANCE,
    divider::DIVIDER,
];

/// The calculator of this name.
pub fn by_name(name: &str) -> Option<&'static Calculator> {
    CALCULATORS
        .iter()
        .find(|calculator| calculator.name == name)
}
