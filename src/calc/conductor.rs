//! Copper conductors: resistance from length and area.
//!
//! In: metres, square metres, degrees Celsius. Out: ohms.

/// Resistivity of annealed copper at 20 °C, ohm metre (IACS: 58 S m/mm², IEC 60028).
pub const COPPER_RESISTIVITY: f64 = 1.0 / 58.0e6;
/// Temperature coefficient of copper's resistance at 20 °C, per kelvin (IEC 60028).
pub const COPPER_COEFFICIENT: f64 = 0.00393;

/// Resistance of a copper conductor.
///
/// ```text
/// R = rho20 * length / area * (1 + 0.00393 (t - 20))
/// ```
/// Source: IEC 60028. For `area > 0`; a stranded vehicle cable is 5 to 11 % higher (ISO 6722).
///
/// ```
/// let ohms = loomleaf::calc::conductor::copper(1000.0, 0.5176e-6, 20.0);
/// assert!((ohms - 33.3083).abs() < 0.02);  // 20 AWG, ohm per km
/// ```
pub fn copper(length: f64, area: f64, celsius: f64) -> f64 {
    COPPER_RESISTIVITY * length / area * (1.0 + COPPER_COEFFICIENT * (celsius - 20.0))
}
