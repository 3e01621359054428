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
    by_beta_from((ROOM - ICE_POINT, r25), beta, celsius)
}

/// As [`by_beta`], from the resistance at any temperature: `known` is degrees Celsius and ohms.
pub fn by_beta_from(known: (f64, f64), beta: f64, celsius: f64) -> Option<f64> {
    let (kelvin, kelvin_known) = (celsius + ICE_POINT, known.0 + ICE_POINT);
    if kelvin <= 0.0 || kelvin_known <= 0.0 {
        return None;
    }
    usable(known.1 * exp(beta * (1.0 / kelvin - 1.0 / kelvin_known)))
}

/// Temperature from resistance by the B value, degrees Celsius; `known` as in [`by_beta_from`].
///
/// ```text
/// 1/T = 1/T0 + ln(R / R0) / B                T in kelvin
/// ```
/// None for a resistance at or below zero, or where there is no such temperature.
pub fn temperature_by_beta(known: (f64, f64), beta: f64, ohms: f64) -> Option<f64> {
    let kelvin_known = known.0 + ICE_POINT;
    if ohms <= 0.0 || known.1 <= 0.0 || kelvin_known <= 0.0 {
        return None;
    }
    let inverse = 1.0 / kelvin_known + ln(ohms / known.1) / beta;
    (inverse > 0.0 && inverse.is_finite()).then(|| 1.0 / inverse - ICE_POINT)
}

/// The B value between two points, each degrees Celsius and ohms.
///
/// ```text
/// B = ln(R1 / R2) / (1/T1 - 1/T2)
/// ```
/// None where the points coincide or are not physical. Below zero for a resistance that rises.
///
/// ```
/// let b = loomleaf::calc::thermistor::beta_between((0.0, 7360.0), (100.0, 153.0)).expect("two points");
/// assert!((b - 3947.98).abs() < 0.01);
/// ```
pub fn beta_between(first: (f64, f64), second: (f64, f64)) -> Option<f64> {
    let (t1, t2) = (first.0 + ICE_POINT, second.0 + ICE_POINT);
    if t1 <= 0.0 || t2 <= 0.0 || first.1 <= 0.0 || second.1 <= 0.0 {
        return None;
    }
    let beta = ln(first.1 / second.1) / (1.0 / t1 - 1.0 / t2);
    (beta.is_finite() && beta != 0.0).then_some(beta)
}

/// The Steinhart-Hart coefficients through three points, each degrees Celsius and ohms.
///
/// The cubic in ln R through three points, by divided differences. None where points coincide or are
/// not physical.
pub fn fit_steinhart_hart(points: [(f64, f64); 3]) -> Option<(f64, f64, f64)> {
    if points
        .iter()
        .any(|(celsius, ohms)| *celsius <= -ICE_POINT || *ohms <= 0.0)
    {
        return None;
    }
    let [l1, l2, l3] = points.map(|(_, ohms)| ln(ohms));
    let [y1, y2, y3] = points.map(|(celsius, _)| 1.0 / (celsius + ICE_POINT));
    let (g2, g3) = ((y2 - y1) / (l2 - l1), (y3 - y1) / (l3 - l1));
    let c = (g3 - g2) / (l3 - l2) / (l1 + l2 + l3);
    let b = g2 - c * (l1 * l1 + l1 * l2 + l2 * l2);
    let a = y1 - (b + c * l1 * l1) * l1;
    (a.is_finite() && b.is_finite() && c.is_finite()).then_some((a, b, c))
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
