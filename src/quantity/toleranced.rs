//! A value with its tolerance, and an interval: the two shapes of "about".

/// A closed interval in base units, `low <= high`, both finite.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

/// A part's value: nominal inside its limits, in base units, all finite, `low <= nominal <= high`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Toleranced {
    /// Lower limit.
    pub low: f64,
    /// The value written on the part or in the book.
    pub nominal: f64,
    /// Upper limit.
    pub high: f64,
}
