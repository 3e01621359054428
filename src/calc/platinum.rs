//! Platinum resistance thermometers after IEC 60751.
//!
//! In: resistance at 0 °C and degrees Celsius. Out: ohms, none outside the standard's range.

/// Coefficients of IEC 60751 (EN 60751, ASTM E1137, JIS C1604), per kelvin and its powers.
const A: f64 = 3.9083e-3;
const B: f64 = -5.775e-7;
const C: f64 = -4.183e-12;

/// Resistance of a platinum thermometer.
///
/// ```text
/// t >= 0:  R = R0 (1 + A t + B t^2)
/// t <  0:  R = R0 (1 + A t + B t^2 + C (t - 100) t^3)
/// ```
/// Source: IEC 60751, -200 to 850 °C; none outside. Exhaust sensors in service follow a close but
/// own curve (common practice, no source): a fault is never stated from this table alone.
///
/// ```
/// let ohms = loomleaf::calc::platinum::resistance(100.0, 100.0).expect("in range");
/// assert!((ohms - 138.5055).abs() < 1e-4);
/// ```
pub fn resistance(r0: f64, celsius: f64) -> Option<f64> {
    if !(-200.0..=850.0).contains(&celsius) {
        return None;
    }
    let t = celsius;
    let below = if t < 0.0 {
        C * (t - 100.0) * t * t * t
    } else {
        0.0
    };
    Some(r0 * (1.0 + A * t + B * t * t + below))
}
