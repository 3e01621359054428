//! Thermistors: resistance from temperature by the B value or by the Steinhart-Hart equation.
//!
//! In: coefficients and degrees Celsius. Out: ohms, or none where the formula has no answer.

use crate::quantity::maths::{exp, ln, pow, sqrt};

/// Kelvin at 0 °C.
const ICE_POINT: f64 = 273.15;
/// The temperature at which `r25` is given, kelvin.
const ROOM: f64 = 298.15;

/// Resistance by the B value.
///
/// ```text
/// R = R25 * exp(B * (1/T - 1/298.15))        T in kelvin
/// ```
/// Source: IEC 60539-1, B-value equation. Good within some 50 K of the two temperatures that B was
/// taken between. None at or below absolute zero, or where the result is not a finite number above 0.
///
/// ```
/// let ohms = loomleaf::calc::thermistor::by_beta(10_000.0, 3950.0, 0.0).expect("in range");
/// assert!((ohms - 33_620.604).abs() < 0.5);
/// ```
pub fn by_beta(r25: f64, beta: f64, celsius: f64) -> Option<f64> {
    let kelvin = celsius + ICE_POINT;
    if kelvin <= 0.0 {
        return None;
    }
    usable(r25 * exp(beta * (1.0 / kelvin - 1.0 / ROOM)))
}

/// Resistance by the Steinhart-Hart equation, solved for resistance by Cardano's formula.
///
/// ```text
/// 1/T = A + B ln R + C (ln R)^3              T in kelvin, R in ohm
/// ```
/// Source: Steinhart and Hart, Deep-Sea Research 15 (1968). Needs `c > 0` (a real NTC's); none
/// otherwise, or where the result is not a finite number above 0.
///
/// ```
/// let ohms = loomleaf::calc::thermistor::by_steinhart_hart(1.40e-3, 2.37e-4, 9.90e-8, 25.0).expect("in range");
/// assert!((ohms - 3067.50).abs() < 0.05);
/// ```
pub fn by_steinhart_hart(a: f64, b: f64, c: f64, celsius: f64) -> Option<f64> {
    let kelvin = celsius + ICE_POINT;
    if kelvin <= 0.0 || c <= 0.0 {
        return None;
    }
    // x^3 + p x + q = 0 with x = ln R; one real root, since p > 0.
    let p = b / c;
    let q = (a - 1.0 / kelvin) / c;
    let root = sqrt(p * p * p / 27.0 + q * q / 4.0);
    usable(exp(cube_root(root - q / 2.0) - cube_root(root + q / 2.0)))
}

fn cube_root(x: f64) -> f64 {
    x.signum() * pow(x.abs(), 1.0 / 3.0)
}

fn usable(ohms: f64) -> Option<f64> {
    (ohms.is_finite() && ohms > 0.0).then_some(ohms)
}

/// Temperature from resistance by the Steinhart-Hart equation, degrees Celsius.
///
/// None for a resistance at or below zero, or where the sum has no physical temperature.
pub fn temperature_by_steinhart_hart(a: f64, b: f64, c: f64, ohms: f64) -> Option<f64> {
    if ohms <= 0.0 {
        return None;
    }
    let x = ln(ohms);
    let inverse = a + b * x + c * x * x * x;
    (inverse > 0.0 && inverse.is_finite()).then(|| 1.0 / inverse - ICE_POINT)
}
