//! Known-good bands: the interval that holds most good readings, from the few that were measured.
//!
//! In: readings, confidence, coverage. Out: mean, spread, tolerance factors; none outside each one's range.
//! Exact factors carry plain names; approximations carry the names of those who gave them.

use super::distributions::{
    chi_square_quantile, gamma, normal_below, normal_density, normal_quantile,
};
use crate::quantity::maths::{exp, pow, sqrt};
use std::f64::consts::FRAC_PI_2;

/// Fewer readings than this are shown themselves: at three, the 95 %/95 % factor is near ten.
pub const FEWEST: usize = 5;
/// Most readings a factor is worked out for.
pub const MOST: usize = 10_000;
/// Nearest to all that confidence and coverage may come.
pub const NEAREST_TO_ALL: f64 = 0.9999;
/// A standard normal number is further out than this in 1 of 10^15 cases.
const FAR: f64 = 8.0;
/// Steps a unit of the integral over the mean: the trapezoid rule errs by some exp(-30) at this one
/// (Trefethen and Weideman, SIAM Review 56, 2014).
const STEPS: u32 = 8;

/// Readings whose spread is less than this part of their mean are alike.
const ALIKE: f64 = 1e-12;

/// What a tolerance interval claims.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Claim {
    confidence: f64,
    coverage: f64,
}

impl Claim {
    /// With `confidence`, at least the part `coverage` of all good readings lies in the interval. None
    /// unless both are more than 0.5 and at most [`NEAREST_TO_ALL`].
    ///
    /// ```
    /// use loomleaf::calc::tolerance::Claim;
    /// assert!(Claim::new(0.95, 0.95).is_some());
    /// assert!(Claim::new(0.95, 1.0).is_none());
    /// ```
    pub fn new(confidence: f64, coverage: f64) -> Option<Claim> {
        let sound = |part: f64| 0.5 < part && part <= NEAREST_TO_ALL;
        (sound(confidence) && sound(coverage)).then_some(Claim {
            confidence,
            coverage,
        })
    }

    /// How often such an interval holds what it claims.
    pub fn confidence(self) -> f64 {
        self.confidence
    }

    /// The part of all good readings it holds.
    pub fn coverage(self) -> f64 {
        self.coverage
    }
}

/// 95 % confidence, 95 % coverage: the customary choice, common practice.
pub const USUAL: Claim = Claim {
    confidence: 0.95,
    coverage: 0.95,
};

/// Count, mean and spread of some readings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// How many.
    pub count: usize,
    /// Their mean.
    pub mean: f64,
    /// Their standard deviation with `n - 1`; 0 for one reading.
    pub deviation: f64,
}

/// Count, mean and standard deviation.
///
/// ```text
/// mean = sum of x / n        s = sqrt(sum of (x - mean)^2 / (n - 1))
/// ```
/// Readings that differ by less than 10^-12 of themselves are alike and spread by 0: text in two units is read no
/// nearer. None for no readings, or where one or a result is not finite.
///
/// ```
/// let spread = loomleaf::calc::tolerance::spread(&[4.98, 5.00, 5.02]).expect("finite");
/// assert!((spread.mean - 5.0).abs() < 1e-12 && (spread.deviation - 0.02).abs() < 1e-12);
/// ```
pub fn spread(readings: &[f64]) -> Option<Spread> {
    let first = *readings.first()?;
    let count = readings.len();
    let number: f64 = readings.iter().map(|_| 1.0).sum();
    // Sums of distances keep the digits in which readings differ.
    let mean = first + readings.iter().map(|x| x - first).sum::<f64>() / number;
    let squares: f64 = readings.iter().map(|x| (x - mean) * (x - mean)).sum();
    let deviation = sqrt(squares / (number - 1.0).max(1.0));
    let alike = deviation <= ALIKE * mean.abs();
    (mean.is_finite() && deviation.is_finite()).then_some(Spread {
        count,
        mean,
        deviation: if alike { 0.0 } else { deviation },
    })
}

/// The exact factor `k` of the two-sided interval `mean ± k s` of a normal population.
///
/// ```text
/// 2 * integral over z from 0 of  phi(z) P(chi2 > (n-1) r^2 / k^2)  = confidence
/// r(z):  Phi(z/sqrt n + r) - Phi(z/sqrt n - r) = coverage           chi2 with n-1 degrees of freedom
/// ```
/// Source: definition as in ISO 16269-6. For 2 to [`MOST`] readings; none outside.
///
/// ```
/// use loomleaf::calc::tolerance::{USUAL, two_sided};
/// assert!((two_sided(10, USUAL).expect("in range") - 3.3934).abs() < 1e-4);
/// assert_eq!(two_sided(1, USUAL), None);
/// ```
pub fn two_sided(n: usize, claim: Claim) -> Option<f64> {
    let number = counted(n)?;
    let step = 1.0 / f64::from(STEPS);
    let root = sqrt(number);
    let mut nodes = Vec::new();
    let mut reach = normal_quantile((1.0 + claim.coverage) / 2.0);
    let mut z = 0.0;
    while z < FAR {
        reach = reach_at(z / root, claim.coverage, reach);
        let half = if z > 0.0 { 1.0 } else { 0.5 };
        nodes.push((2.0 * half * step * normal_density(z), reach));
        z += step;
    }
    Some(solve(&nodes, 0.0, number, claim))
}

/// Half the width around 0 that holds the coverage of a unit normal population whose mean is at `w`.
fn reach_at(w: f64, coverage: f64, near: f64) -> f64 {
    let mut r = near;
    for _ in 0..20 {
        let held = normal_below(w + r) - normal_below(w - r);
        let grows = normal_density(w + r) + normal_density(w - r);
        let step = (coverage - held) / grows;
        r += step;
        if step.abs() < 1e-13 {
            break;
        }
    }
    r
}

/// The exact factor `k` of the one-sided bounds `mean + k s` or `mean - k s` of a normal population.
///
/// ```text
/// integral over z of  phi(z) P(chi2 > (n-1) max(0, z_p - z/sqrt n)^2 / k^2)  = confidence
/// ```
/// which is the quantile of the noncentral t distribution over `sqrt n`. `z_p` is the normal quantile of the
/// coverage. Source: definition as in ISO 16269-6. For 2 to [`MOST`] readings; none outside.
///
/// ```
/// use loomleaf::calc::tolerance::{USUAL, one_sided};
/// assert!((one_sided(10, USUAL).expect("in range") - 2.9110).abs() < 1e-4);
/// ```
pub fn one_sided(n: usize, claim: Claim) -> Option<f64> {
    let number = counted(n)?;
    let root = sqrt(number);
    let zp = normal_quantile(claim.coverage);
    // Beyond this mean the bound lies below the mean itself and always holds: the integrand has a kink.
    let kink = (zp * root).min(FAR);
    let nodes: Vec<(f64, f64)> = ends_clustered(-FAR, kink)
        .map(|(weight, z)| (weight * normal_density(z), (zp - z / root).max(0.0)))
        .collect();
    Some(solve(&nodes, normal_below(-kink), number, claim))
}

/// Weights and places of the double exponential rule, whose places crowd at the ends, where the integrand
/// may bend (Takahasi and Mori, Publications of RIMS 9, 1974).
fn ends_clustered(low: f64, high: f64) -> impl Iterator<Item = (f64, f64)> {
    let half = (high - low) / 2.0;
    let step = 1.0 / 24.0;
    (-77..=77).map(move |at| {
        let grown = exp(f64::from(at) * step);
        let (sinh, cosh) = ((grown - 1.0 / grown) / 2.0, (grown + 1.0 / grown) / 2.0);
        let e = exp(-2.0 * FRAC_PI_2 * sinh.abs());
        let to_end = half * 2.0 * e / (1.0 + e);
        let place = if sinh < 0.0 {
            low + to_end
        } else {
            high - to_end
        };
        let weight = step * half * FRAC_PI_2 * cosh * 4.0 * e / ((1.0 + e) * (1.0 + e));
        (weight, place)
    })
}

/// The `k` at which `always + sum of weight * P(chi2 > (n-1) reach^2 / k^2)` is the confidence.
///
/// Newton's rule, kept between the ends found so far; the sum grows with `k`.
fn solve(nodes: &[(f64, f64)], always: f64, n: f64, claim: Claim) -> f64 {
    let a = (n - 1.0) / 2.0;
    let (mut low, mut high) = (0.0_f64, f64::INFINITY);
    let mut k = howe_of(n, claim);
    for _ in 0..100 {
        let (mut held, mut grows) = (always, 0.0);
        for (weight, reach) in nodes {
            let at = gamma(a, a * reach * reach / (k * k));
            held += weight * at.upper;
            grows += weight * 2.0 * at.growth / k;
        }
        if held < claim.confidence {
            low = k;
        } else {
            high = k;
        }
        let newton = k + (claim.confidence - held) / grows;
        let next = match newton {
            // An end that is infinite is passed, not halved.
            _ if low < newton && newton < high => newton,
            _ if high.is_finite() => low + (high - low) / 2.0,
            _ => 2.0 * k,
        };
        let step = (next - k).abs();
        k = next;
        if step < 1e-11 * k {
            break;
        }
    }
    k
}

/// Howe's approximation of the two-sided factor.
///
/// ```text
/// k = z * sqrt((n - 1) (1 + 1/n) / chi2)     z the normal quantile of (1 + coverage)/2,
///                                            chi2 the lower quantile of 1 - confidence at n-1
/// ```
/// Source: Howe, JASA 64 (1969); NIST/SEMATECH e-Handbook 7.2.6.3. At 95 % confidence
/// and 90 to 99 % coverage up to 7 % above the exact factor for two readings, within 1.5 % of it from five on. For 2 to [`MOST`] readings; none outside.
pub fn howe(n: usize, claim: Claim) -> Option<f64> {
    counted(n).map(|n| howe_of(n, claim))
}

fn howe_of(n: f64, claim: Claim) -> f64 {
    let z = normal_quantile((1.0 + claim.coverage) / 2.0);
    let chi2 = chi_square_quantile(1.0 - claim.confidence, n - 1.0);
    z * sqrt((n - 1.0) * (1.0 + 1.0 / n) / chi2)
}

/// Howe's approximation with Guenther's correction.
///
/// ```text
/// k = k_Howe * sqrt(1 + (n - 3 - chi2) / (2 (n + 1)^2))
/// ```
/// Source: Guenther, Sampling Inspection in Statistical Quality Control (1977). Range as [`howe`].
pub fn guenther(n: usize, claim: Claim) -> Option<f64> {
    let number = counted(n)?;
    let chi2 = chi_square_quantile(1.0 - claim.confidence, number - 1.0);
    let beside = (number - 3.0 - chi2) / (2.0 * (number + 1.0) * (number + 1.0));
    Some(howe_of(number, claim) * sqrt(1.0 + beside))
}

/// Natrella's approximation of the one-sided factor.
///
/// ```text
/// k = (z_p + sqrt(z_p^2 - a b)) / a      a = 1 - z_g^2 / (2 (n - 1)),  b = z_p^2 - z_g^2 / n
/// ```
/// with `z_p`, `z_g` the normal quantiles of coverage and confidence. Source: Natrella, NBS Handbook 91 (1963);
/// NIST/SEMATECH e-Handbook 7.2.6.3. None where `a` is not positive (two readings at 95 %), or outside 2 to
/// [`MOST`] readings.
pub fn natrella(n: usize, claim: Claim) -> Option<f64> {
    let number = counted(n)?;
    let (zp, zg) = (
        normal_quantile(claim.coverage),
        normal_quantile(claim.confidence),
    );
    let a = 1.0 - zg * zg / (2.0 * (number - 1.0));
    let b = zp * zp - zg * zg / number;
    let inside = zp * zp - a * b;
    (a > 0.0 && inside >= 0.0).then(|| (zp + sqrt(inside)) / a)
}

fn counted(n: usize) -> Option<f64> {
    let number = u32::try_from(n).ok().filter(|_| (2..=MOST).contains(&n))?;
    Some(f64::from(number))
}

/// How many readings it takes until the lowest and the highest themselves claim as much, whatever the
/// distribution.
///
/// ```text
/// least n with  1 - n p^(n-1) + (n-1) p^n >= confidence           p the coverage
/// ```
/// Source: Wilks (1941), as in ISO 16269-6.
///
/// ```
/// use loomleaf::calc::tolerance::{Claim, fewest_for_both_extremes};
/// assert_eq!(fewest_for_both_extremes(Claim::new(0.95, 0.90).expect("in range")), 46);
/// ```
pub fn fewest_for_both_extremes(claim: Claim) -> u32 {
    let p = claim.coverage;
    least(|n| 1.0 - n * pow(p, n - 1.0) + (n - 1.0) * pow(p, n) >= claim.confidence)
}

/// The same for the highest reading alone, or the lowest: least `n` with `1 - p^n >= confidence`.
///
/// Source: as [`fewest_for_both_extremes`].
pub fn fewest_for_one_extreme(claim: Claim) -> u32 {
    least(|n| 1.0 - pow(claim.coverage, n) >= claim.confidence)
}

/// The least number from 1 on that is enough, by doubling, then halving.
fn least(enough: impl Fn(f64) -> bool) -> u32 {
    let mut high = 1_u32;
    // Confidence and coverage of 0.9999 need less than 2^17.
    while high < 1 << 20 && !enough(f64::from(high)) {
        high *= 2;
    }
    let mut low = high / 2;
    while 1 < high - low {
        let middle = low + (high - low) / 2;
        if enough(f64::from(middle)) {
            high = middle;
        } else {
            low = middle;
        }
    }
    high
}
