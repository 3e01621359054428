//! Platinum resistance thermometers after IEC 60751.
//!
//! In: resistance at 0 °C and degrees Celsius. Out: ohms, none outside the standard's range.

use crate::quantity::maths::sqrt;

/// Steps of Newton's method below 0 °C; three give all digits, the rest costs nothing.
const STEPS: usize = 8;

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

/// Temperature from resistance, the inverse of [`resistance`]; none outside -200 to 850 °C.
///
/// Above 0 °C by the quadratic, below by Newton's method from there.
///
/// ```
/// let celsius = loomleaf::calc::platinum::temperature(100.0, 138.5055).expect("in range");
/// assert!((celsius - 100.0).abs() < 1e-6);
/// ```
pub fn temperature(r0: f64, ohms: f64) -> Option<f64> {
    let (least, most) = (resistance(r0, -200.0)?, resistance(r0, 850.0)?);
    if !(least..=most).contains(&ohms) {
        return None;
    }
    let ratio = ohms / r0;
    let mut t = (sqrt(A * A - 4.0 * B * (1.0 - ratio)) - A) / (2.0 * B);
    if ratio < 1.0 {
        for _ in 0..STEPS {
            let value = 1.0 + A * t + B * t * t + C * (t - 100.0) * t * t * t;
            let slope = A + 2.0 * B * t + C * (4.0 * t - 300.0) * t * t;
            t -= (value - ratio) / slope;
        }
    }
    t.is_finite().then(|| t.clamp(-200.0, 850.0))
}

/// How far a thermometer of a class may be off, kelvin: A is 0.15 + 0.002 |t|, B is 0.3 + 0.005 |t|.
///
/// Source: IEC 60751.
pub fn may_be_off(is_class_a: bool, celsius: f64) -> f64 {
    match is_class_a {
        true => 0.15 + 0.002 * celsius.abs(),
        false => 0.3 + 0.005 * celsius.abs(),
    }
}
