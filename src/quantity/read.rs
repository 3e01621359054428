//! Reading: what people really type, or a clear word of what was expected.

use super::{Dimension, Interval, Quantity, Toleranced};

/// Why a text could not be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misread {
    /// What was expected, lower case: `a voltage such as 3.6 V`.
    pub expected: String,
    /// What was found, in the author's own text: `3.6 A is a current`.
    pub found: String,
    /// The corrected text, where it is known.
    pub correction: Option<String>,
}

/// Reads one quantity: `3.6 V`, `3,6 V`, `4k7`, `85 C`.
pub fn read_quantity(_text: &str, _dimension: Dimension) -> Result<Quantity, Misread> {
    todo!()
}

/// Reads a value with tolerance: `4.7 kohm ± 5 %`, `5 V +/- 0.1 V`, `4.5 to 5.5 V` (nominal in the middle), `5 V` (exact).
pub fn read_toleranced(_text: &str, _dimension: Dimension) -> Result<Toleranced, Misread> {
    todo!()
}

/// Reads an interval: `0.45 to 0.75 V`, `0.45..0.75 V`, also `5 V ± 2 %`.
pub fn read_interval(_text: &str, _dimension: Dimension) -> Result<Interval, Misread> {
    todo!()
}
