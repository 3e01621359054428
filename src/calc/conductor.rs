//! Conductors: resistance from length and area, copper and aluminium, with temperature.
//!
//! In: metres, square metres, degrees Celsius. Out: ohms.

/// Resistivity of annealed copper at 20 °C, ohm metre (IACS: 58 S m/mm², IEC 60028).
pub const COPPER_RESISTIVITY: f64 = 1.0 / 58.0e6;
/// Temperature coefficient of copper's resistance at 20 °C, per kelvin (IEC 60028).
pub const COPPER_COEFFICIENT: f64 = 0.00393;
/// Resistivity of electrical aluminium at 20 °C, ohm metre: 61 % of the conductivity of copper (from
/// memory of IEC 60889, not confirmed).
const ALUMINIUM_RESISTIVITY: f64 = COPPER_RESISTIVITY / 0.61;
/// Degrees below 0 °C at which aluminium's resistance would vanish by its straight line, so that
/// R(T) = R20 (238.1 + T) / 258.1 (FAA AC 43.13-1B, 11-66).
const ALUMINIUM_ZERO: f64 = 238.1;

/// What a conductor is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Metal {
    /// Annealed copper.
    Copper,
    /// Electrical aluminium.
    Aluminium,
}

impl Metal {
    /// Resistivity at 20 °C, ohm metre.
    pub fn resistivity(self) -> f64 {
        match self {
            Metal::Copper => COPPER_RESISTIVITY,
            Metal::Aluminium => ALUMINIUM_RESISTIVITY,
        }
    }

    /// Resistance at a temperature, as a multiple of that at 20 °C; never below zero.
    ///
    /// ```
    /// use loomleaf::calc::conductor::Metal;
    /// assert!((Metal::Copper.at(85.0) - 1.25545).abs() < 1e-5);
    /// ```
    pub fn at(self, celsius: f64) -> f64 {
        let factor = match self {
            Metal::Copper => 1.0 + COPPER_COEFFICIENT * (celsius - 20.0),
            Metal::Aluminium => (ALUMINIUM_ZERO + celsius) / (ALUMINIUM_ZERO + 20.0),
        };
        factor.max(0.0)
    }
}

/// Resistance of a solid copper conductor.
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
