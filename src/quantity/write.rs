//! Writing: sensible digits, prefix and unit; rounding happens here and nowhere else.

use super::{Dimension, Interval, Quantity, Toleranced};

/// `4.7 kohm`, `0.652 V`, `20 C`: up to four significant digits, trailing zeros kept only where they say something.
pub fn write_quantity(_quantity: Quantity) -> String {
    todo!()
}

/// `0.45 to 0.75 V`: one unit and one number of decimals for both ends; the ends are rounded outward never, to nearest always.
pub fn write_interval(_interval: Interval, _dimension: Dimension) -> String {
    todo!()
}

/// `4.7 kohm ± 5 %` where symmetric, else `4.5 to 5.2 kohm`.
pub fn write_toleranced(_toleranced: Toleranced, _dimension: Dimension) -> String {
    todo!()
}
