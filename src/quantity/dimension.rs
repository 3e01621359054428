//! The dimensions a card can speak of, and the units people write for each.

/// What is measured. The base unit is named at each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Dimension {
    /// Volt.
    Voltage,
    /// Ohm.
    Resistance,
    /// Ampere.
    Current,
    /// Watt.
    Power,
    /// Degree Celsius.
    Temperature,
    /// Kelvin, a difference or a B value, never a point on a scale.
    TemperatureSpan,
    /// Pascal.
    Pressure,
    /// Hertz.
    Frequency,
    /// Second.
    Time,
    /// Metre.
    Length,
    /// Square metre.
    Area,
    /// Degree of angle.
    Angle,
    /// Part of one (50 % is 0.5).
    Ratio,
}

/// One way of writing a dimension: `base = number * factor + offset`.
#[derive(Clone, Copy, Debug)]
pub struct Unit {
    /// The spellings accepted, the first is the one written.
    pub spellings: &'static [&'static str],
    /// What it measures.
    pub dimension: Dimension,
    /// Base units per one of this unit.
    pub factor: f64,
    /// Added after the factor (Fahrenheit).
    pub offset: f64,
}
