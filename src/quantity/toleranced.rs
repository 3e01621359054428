//! A value with its tolerance, and an interval: the two shapes of "about".
//!
//! In: finite numbers in base units. Out: shapes whose ends stand in order.
//! Never: text; see `read` and `write`.

/// A closed interval in base units, `low <= high`, both finite.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

impl Interval {
    /// The interval between two ends, none where they are out of order or not finite.
    ///
    /// ```
    /// use loomleaf::quantity::Interval;
    /// assert!(Interval::new(0.45, 0.75).is_some());
    /// assert!(Interval::new(0.75, 0.45).is_none());
    /// assert!(Interval::new(0.0, f64::NAN).is_none());
    /// ```
    pub fn new(low: f64, high: f64) -> Option<Interval> {
        let sound = low.is_finite() && high.is_finite() && low <= high;
        sound.then_some(Interval { low, high })
    }

    /// The interval spanned by two finite ends in either order; none where one is not finite.
    pub fn spanning(a: f64, b: f64) -> Option<Interval> {
        Interval::new(a.min(b), a.max(b))
    }

    /// Whether a value lies inside or on an end.
    ///
    /// ```
    /// use loomleaf::quantity::Interval;
    /// let band = Interval { low: 0.45, high: 0.75 };
    /// assert!(band.contains(0.45) && !band.contains(0.76));
    /// ```
    pub fn contains(self, value: f64) -> bool {
        self.low <= value && value <= self.high
    }

    /// Whether the other lies wholly inside.
    pub fn contains_all_of(self, other: Interval) -> bool {
        self.low <= other.low && other.high <= self.high
    }

    /// Whether the two share a value (touching ends do).
    ///
    /// ```
    /// use loomleaf::quantity::Interval;
    /// let low = Interval { low: 0.0, high: 1.0 };
    /// assert!(low.overlaps(Interval { low: 1.0, high: 2.0 }));
    /// assert!(!low.overlaps(Interval { low: 1.1, high: 2.0 }));
    /// ```
    pub fn overlaps(self, other: Interval) -> bool {
        self.low <= other.high && other.low <= self.high
    }

    /// What the two share.
    pub fn intersection(self, other: Interval) -> Option<Interval> {
        Interval::new(self.low.max(other.low), self.high.min(other.high))
    }

    /// The smallest interval around both.
    pub fn hull(self, other: Interval) -> Interval {
        Interval {
            low: self.low.min(other.low),
            high: self.high.max(other.high),
        }
    }

    /// `high - low`, at least zero.
    pub fn width(self) -> f64 {
        self.high - self.low
    }

    /// Halfway between the ends.
    pub fn middle(self) -> f64 {
        self.low + (self.high - self.low) / 2.0
    }
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

impl Toleranced {
    /// A value with its limits, none where they are out of order or not finite.
    pub fn new(low: f64, nominal: f64, high: f64) -> Option<Toleranced> {
        let sound = low.is_finite() && high.is_finite() && low <= nominal && nominal <= high;
        sound.then_some(Toleranced { low, nominal, high })
    }

    /// A value without tolerance.
    ///
    /// # Panics
    /// Never; a value that is not finite stays so, and the caller's reading refuses it.
    pub fn exact(nominal: f64) -> Toleranced {
        Toleranced {
            low: nominal,
            nominal,
            high: nominal,
        }
    }

    /// A value give or take `by` (its sign does not matter); none where one is not finite.
    ///
    /// ```
    /// use loomleaf::quantity::Toleranced;
    /// let reference = Toleranced::symmetric(5.0, 0.1).expect("finite");
    /// assert_eq!((reference.low, reference.high), (4.9, 5.1));
    /// ```
    pub fn symmetric(nominal: f64, by: f64) -> Option<Toleranced> {
        Toleranced::new(nominal - by.abs(), nominal, nominal + by.abs())
    }

    /// A value give or take a part of itself: `within(4700.0, 0.05)` is 4.7 kohm ± 5 %.
    pub fn within(nominal: f64, part: f64) -> Option<Toleranced> {
        Toleranced::symmetric(nominal, nominal * part)
    }

    /// Two limits, nominal in the middle.
    ///
    /// ```
    /// use loomleaf::quantity::Toleranced;
    /// assert_eq!(Toleranced::between(4.5, 5.5).map(|volts| volts.nominal), Some(5.0));
    /// assert_eq!(Toleranced::between(5.5, 4.5), None);
    /// ```
    pub fn between(low: f64, high: f64) -> Option<Toleranced> {
        let limits = Interval::new(low, high)?;
        Toleranced::new(low, limits.middle(), high)
    }

    /// Its limits.
    pub fn interval(self) -> Interval {
        Interval {
            low: self.low,
            high: self.high,
        }
    }

    /// Whether it has no tolerance.
    pub fn is_exact(self) -> bool {
        self.low >= self.high
    }

    /// Whether a value lies within its limits.
    pub fn contains(self, value: f64) -> bool {
        self.interval().contains(value)
    }
}
