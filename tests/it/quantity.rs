//! Quantities: what people type, what is refused, and that what is written reads back.
//!
//! Each numeric row names its source beside it.

mod decimal;
mod reading;
mod refused;
mod writing;

use loomleaf::quantity::{Dimension, read_quantity};

pub(super) fn read(text: &str, dimension: Dimension) -> f64 {
    match read_quantity(text, dimension) {
        Ok(read) => read.number,
        Err(misread) => panic!("`{text}`: {misread:?}"),
    }
}

#[track_caller]
pub(super) fn near(found: f64, wanted: f64, relative: f64) {
    let allowed = relative * wanted.abs();
    assert!((found - wanted).abs() <= allowed, "{found} is not {wanted}");
}
