//! The straight line of a sensor: volts over a position, pressure or temperature, against the reference.
//!
//! In: the ends of the line, the reference it is stated for and the one measured. Out: volts and back.

use super::given::Given;
use super::shape::{Alternative, Input, Kind, Refusal, shown};
use crate::quantity::Dimension::{
    Angle, Current, Frequency, Length, Pressure, Ratio, Resistance, Rotation, Speed, Temperature,
    Voltage,
};
use crate::quantity::{Dimension, Quantity};

/// What a sensor may measure.
pub(super) const MEASURED: &[Dimension] = &[
    Ratio,
    Pressure,
    Temperature,
    Angle,
    Length,
    Speed,
    Rotation,
    Current,
    Frequency,
    Resistance,
];
/// Limits of what is measured, in base units.
pub(super) const LIMITS: (f64, f64) = (-1e9, 1e10);

pub(super) const REFERENCE: Input =
    Input::quantity("reference", "Reference, as measured", Voltage, (0.1, 100.0))
        .says("across the sensor's reference and ground, plugged in")
        .default("5 V");
pub(super) const STATED: Input = Input::quantity(
    "stated",
    "Reference the span is stated for",
    Voltage,
    (0.1, 100.0),
)
.default("5 V");
pub(super) const KIND: Input = Input::of(
    "kind",
    "The signal",
    Kind::Choice(&[
        Alternative {
            key: "ratiometric",
            label: "moves with the reference",
        },
        Alternative {
            key: "absolute",
            label: "does not move with the reference",
        },
    ]),
    "",
)
.default("ratiometric");
pub(super) const LOW_VOLTS: Input = Input::quantity(
    "low-volts",
    "Volts at the lower end",
    Voltage,
    (-10.0, 100.0),
)
.says("0.5 to 4.5 V is common practice")
.default("0.5 V");
pub(super) const HIGH_VOLTS: Input = Input::quantity(
    "high-volts",
    "Volts at the upper end",
    Voltage,
    (-10.0, 100.0),
)
.default("4.5 V");
pub(super) const LOW_VALUE: Input = Input::any(
    "low-value",
    "What it measures at the lower volts",
    MEASURED,
    LIMITS,
)
.says("may be the larger one, where the signal falls")
.default("0 %");
pub(super) const HIGH_VALUE: Input = Input::any(
    "high-value",
    "What it measures at the upper volts",
    MEASURED,
    LIMITS,
)
.default("100 %");
pub(super) const TOLERANCE: Input =
    Input::quantity("tolerance", "Tolerance, of the span", Ratio, (0.0, 0.5))
        .says("2 % stands in where the sensor's own is not known (no source)")
        .default("2 %");

/// A sensor's line at the reference measured.
pub(super) struct Span {
    /// Volts at the lower and the upper end, as measured.
    pub(super) low: f64,
    pub(super) high: f64,
    /// What is measured there, base units.
    pub(super) low_value: f64,
    pub(super) high_value: f64,
    /// Of what is measured.
    pub(super) dimension: Dimension,
    /// Measured reference over stated one; 1 where the signal does not follow.
    pub(super) scale: f64,
    /// Part of the span.
    pub(super) tolerance: f64,
}

impl Span {
    /// The line given; refused where its ends coincide or differ in kind.
    pub(super) fn of(given: &Given) -> Result<Span, Refusal> {
        let (low, high) = (given.need("low-volts")?, given.need("high-volts")?);
        if low >= high {
            return Err(Refusal::of(
                "high-volts",
                format!(
                    "expected more than the {} of the lower end, found {}",
                    shown(low, Voltage),
                    shown(high, Voltage)
                ),
                "type the lower volts as low-volts, and swap the values where the signal falls",
            ));
        }
        let from = given.need_quantity("low-value")?;
        let to = given.need_quantity("high-value")?;
        same(from.dimension, to, "high-value")?;
        if from.number == to.number {
            return Err(Refusal::of(
                "high-value",
                "both ends measure the same",
                "type two values that differ",
            ));
        }
        let scale = match given.choice("kind") {
            "absolute" => 1.0,
            _ => given.need("reference")? / given.need("stated")?,
        };
        Ok(Span {
            low: low * scale,
            high: high * scale,
            low_value: from.number,
            high_value: to.number,
            dimension: from.dimension,
            scale,
            tolerance: given.get("tolerance").unwrap_or(0.0),
        })
    }

    /// Part of the span at some volts: 0 at the lower end, 1 at the upper.
    pub(super) fn part(&self, volts: f64) -> f64 {
        (volts - self.low) / (self.high - self.low)
    }

    /// What is measured at some volts.
    pub(super) fn value(&self, volts: f64) -> f64 {
        self.low_value + self.part(volts) * (self.high_value - self.low_value)
    }

    /// Volts at what is measured.
    pub(super) fn volts(&self, value: f64) -> f64 {
        let part = (value - self.low_value) / (self.high_value - self.low_value);
        self.low + part * (self.high - self.low)
    }

    /// A value of this span's dimension.
    pub(super) fn shown(&self, value: f64) -> String {
        shown(value, self.dimension)
    }

    /// The line in words, with its numbers.
    pub(super) fn says(&self) -> String {
        format!(
            "{} at {}, {} at {}",
            shown(self.low, Voltage),
            self.shown(self.low_value),
            shown(self.high, Voltage),
            self.shown(self.high_value)
        )
    }

    /// Give or take this many volts.
    pub(super) fn give_or_take(&self) -> f64 {
        self.tolerance * (self.high - self.low)
    }
}

/// Refused where a value measures something else.
pub(super) fn same(
    dimension: Dimension,
    other: Quantity,
    key: &'static str,
) -> Result<(), Refusal> {
    if other.dimension == dimension {
        return Ok(());
    }
    Err(Refusal::of(
        key,
        format!(
            "expected {} as at the lower end, found {}",
            dimension.name(),
            other.dimension.name()
        ),
        format!("type it as in {}", dimension.example()),
    ))
}
