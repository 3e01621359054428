//! Distributions that statistics of readings rest on: normal, chi-square, Student's t.
//!
//! In: plain numbers. Out: probabilities and quantiles, never NaN for the ranges each names. Only through
//! `quantity`'s maths, so that phone and desk print the same digits.

use crate::quantity::maths::{erfc, exp, ln, ln_gamma, pow, sqrt};
use std::f64::consts::{PI, SQRT_2};

/// Terms after which a series or a continued fraction is cut off; 10,000 readings need some 800.
const TERMS: usize = 20_000;
/// A change that no longer matters beside what has been summed.
const SMALL: f64 = 1e-16;
/// Keeps a continued fraction from dividing by nothing (modified Lentz).
const TINY: f64 = 1e-300;

/// Density of the standard normal distribution.
pub(super) fn normal_density(z: f64) -> f64 {
    exp(-z * z / 2.0) / sqrt(2.0 * PI)
}

/// Probability that a standard normal number is at most `z`: `erfc(-z / sqrt 2) / 2`.
///
/// Source: NIST Digital Library of Mathematical Functions (DLMF) 7.2.2 and 7.17.
pub(super) fn normal_below(z: f64) -> f64 {
    erfc(-z / SQRT_2) / 2.0
}

/// The `z` below which a part `p` of a standard normal population lies, `0.5 <= p < 1`.
///
/// Start by Abramowitz and Stegun 26.2.23 (error below 4.5e-4), then Newton on [`normal_below`].
pub(super) fn normal_quantile(p: f64) -> f64 {
    let above = 1.0 - p;
    let t = sqrt(-2.0 * ln(above));
    let top = 2.515517 + t * (0.802853 + t * 0.010328);
    let bottom = 1.0 + t * (1.432788 + t * (0.189269 + t * 0.001308));
    let mut z = t - top / bottom;
    for _ in 0..4 {
        z += (erfc(z / SQRT_2) / 2.0 - above) / normal_density(z);
    }
    z
}

/// The incomplete gamma function at one place.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gamma {
    /// `P(a, x)`, from 0 to `x`.
    pub lower: f64,
    /// `Q(a, x) = 1 - P(a, x)`.
    pub upper: f64,
    /// `x^a exp(-x) / Gamma(a)`: how fast `P` grows with `ln x`.
    pub growth: f64,
}

/// Regularised incomplete gamma function for `a > 0`, `x >= 0`.
///
/// ```text
/// P = growth * sum of x^k / (a (a+1) .. (a+k))                         x < a + 1   (DLMF 8.11.4)
/// Q = growth / (x+1-a - 1(1-a)/(x+3-a - 2(2-a)/(x+5-a - ..)))          else        (DLMF 8.9.2)
/// ```
pub(super) fn gamma(a: f64, x: f64) -> Gamma {
    if x <= 0.0 {
        return Gamma {
            lower: 0.0,
            upper: 1.0,
            growth: 0.0,
        };
    }
    let growth = exp(a * ln(x) - x - ln_gamma(a));
    if x < a + 1.0 {
        let lower = (growth * gamma_series(a, x)).min(1.0);
        let upper = 1.0 - lower;
        return Gamma {
            lower,
            upper,
            growth,
        };
    }
    let upper = (growth * gamma_fraction(a, x)).min(1.0);
    Gamma {
        lower: 1.0 - upper,
        upper,
        growth,
    }
}

fn gamma_series(a: f64, x: f64) -> f64 {
    let mut term = 1.0 / a;
    let mut sum = term;
    let mut next = a;
    for _ in 0..TERMS {
        next += 1.0;
        term *= x / next;
        sum += term;
        if term < sum * SMALL {
            break;
        }
    }
    sum
}

fn gamma_fraction(a: f64, x: f64) -> f64 {
    let mut b = x + 1.0 - a;
    let mut c = 1.0 / TINY;
    let mut d = 1.0 / b;
    let mut value = d;
    let mut k = 0.0;
    for _ in 0..TERMS {
        k += 1.0;
        let numerator = k * (a - k);
        b += 2.0;
        d = 1.0 / away_from_nothing(numerator * d + b);
        c = away_from_nothing(b + numerator / c);
        let change = c * d;
        value *= change;
        if (change - 1.0).abs() < SMALL * 4.0 {
            break;
        }
    }
    value
}

fn away_from_nothing(x: f64) -> f64 {
    if x.abs() < TINY { TINY } else { x }
}

/// Above these degrees of freedom the start by Wilson and Hilferty is close on either side.
const MANY: f64 = 60.0;

/// The value below which a part `p` (less than a half) of a chi-square distribution lies.
///
/// Solves `P(df/2, x/2) = p` by Newton's rule on `ln P` over `ln x`, which is concave: from the left of the
/// root it never steps over it. Start for few degrees of freedom `(p Gamma(a+1))^(1/a)`, which is at the left, as
/// `P` lies below `x^a / Gamma(a+1)`; for many by Wilson and Hilferty (Abramowitz and Stegun 26.4.17).
pub(super) fn chi_square_quantile(p: f64, df: f64) -> f64 {
    let a = df / 2.0;
    let mut u = if df > MANY {
        let of_variance = 2.0 / (9.0 * df);
        let root = 1.0 - of_variance - normal_quantile(1.0 - p) * sqrt(of_variance);
        ln(a * root * root * root)
    } else {
        (ln(p) + ln_gamma(a + 1.0)) / a
    };
    for _ in 0..60 {
        let at = gamma(a, exp(u));
        if at.growth <= 0.0 || at.lower <= 0.0 {
            break;
        }
        let step = ln(p / at.lower) * at.lower / at.growth;
        u += step;
        if step.abs() < 1e-14 {
            break;
        }
    }
    2.0 * exp(u)
}

/// Probability that Student's t with `df > 0` degrees of freedom exceeds `t >= 0`.
///
/// ```text
/// I(df / (df + t^2); df/2, 1/2) / 2          I the regularised incomplete beta function
/// ```
/// Source: DLMF 8.17; Abramowitz and Stegun 26.7.1.
pub(super) fn student_above(t: f64, df: f64) -> f64 {
    beta(df / (df + t * t), df / 2.0, 0.5) / 2.0
}

/// Regularised incomplete beta function for `0 <= x <= 1`, by its continued fraction (DLMF 8.17.22).
fn beta(x: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    let front = exp(ln_gamma(a + b) - ln_gamma(a) - ln_gamma(b)) * pow(x, a) * pow(1.0 - x, b);
    if x < (a + 1.0) / (a + b + 2.0) {
        front * beta_fraction(x, a, b) / a
    } else {
        1.0 - front * beta_fraction(1.0 - x, b, a) / b
    }
}

fn beta_fraction(x: f64, a: f64, b: f64) -> f64 {
    let mut c = 1.0;
    let mut d = 1.0 / away_from_nothing(1.0 - (a + b) * x / (a + 1.0));
    let mut value = d;
    let mut m = 0.0;
    for _ in 0..TERMS {
        m += 1.0;
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        d = 1.0 / away_from_nothing(1.0 + even * d);
        c = away_from_nothing(1.0 + even / c);
        value *= d * c;
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        d = 1.0 / away_from_nothing(1.0 + odd * d);
        c = away_from_nothing(1.0 + odd / c);
        let change = d * c;
        value *= change;
        if (change - 1.0).abs() < SMALL * 4.0 {
            break;
        }
    }
    value
}
