//! Values with a dimension, in base units: read as people write them, written with sensible digits.
//!
//! In: text a person typed. Out: numbers in base units. Never: files, cards, circuits.
//! Base units are SI, except temperature (degree Celsius) and ratio (1 = 100 %).

mod decimal;
mod dimension;
pub mod maths;
mod number;
mod read;
mod reading;
mod toleranced;
mod write;

pub use decimal::decimal;
pub use dimension::{Dimension, UNITS, Unit};
pub use read::{Misread, dimension_of, read_any, read_interval, read_quantity, read_toleranced};
pub(crate) use reading::two_digits;
pub use reading::write_reading;
pub use toleranced::{Interval, Toleranced};
pub use write::{write_interval, write_number, write_quantity, write_toleranced, write_wire_size};

/// A number in the base unit of its dimension.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// The number in the base unit; always finite.
    pub number: f64,
    /// What is measured.
    pub dimension: Dimension,
}
