//! Doubtful readings: one that stands so far from the others that it hardly belongs to them.
//!
//! In: readings. Out: which one, and how likely so far a one is by chance. Never: whether it is left out.

use super::distributions::student_above;
use super::tolerance::spread;
use crate::quantity::maths::sqrt;

/// The reading farthest from the mean of all.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Farthest {
    /// Its place among the readings.
    pub at: usize,
    /// Its distance from the mean in standard deviations, Grubbs' `G`.
    pub deviations: f64,
    /// How likely the farthest of so many good readings stands this far out, at most 1.
    pub chance: f64,
}

/// Grubbs' test: the farthest reading on either side, and its chance among normal readings.
///
/// ```text
/// G = |x - mean| / s        t^2 = n (n - 2) G^2 / ((n - 1)^2 - n G^2)
/// chance = 2 n P(Student's t with n-2 degrees of freedom > t)
/// ```
/// which is the two-sided critical value of the e-Handbook solved for its significance. Source: Grubbs,
/// Technometrics 11 (1969); NIST/SEMATECH e-Handbook 1.3.5.17.1. None for fewer than three readings or
/// readings without spread.
///
/// ```
/// let readings = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57];
/// let farthest = loomleaf::calc::outlier::farthest(&readings).expect("eight with spread");
/// assert_eq!(farthest.at, 7);
/// assert!((farthest.deviations - 2.4687).abs() < 1e-4);
/// ```
pub fn farthest(readings: &[f64]) -> Option<Farthest> {
    let known = spread(readings)?;
    let n = f64::from(u32::try_from(known.count).ok()?);
    if known.count < 3 || known.deviation <= 0.0 {
        return None;
    }
    let away = |x: &f64| (x - known.mean).abs();
    let (at, distance) = readings
        .iter()
        .map(away)
        .enumerate()
        .max_by(|one, other| one.1.total_cmp(&other.1))?;
    let g = distance / known.deviation;
    let rest = (n - 1.0) * (n - 1.0) - n * g * g;
    let chance = if rest > 0.0 {
        let t = g * sqrt(n * (n - 2.0) / rest);
        (2.0 * n * student_above(t, n - 2.0)).min(1.0)
    } else {
        // All the others are alike: as far out as a reading among so many can be.
        0.0
    };
    Some(Farthest {
        at,
        deviations: g,
        chance,
    })
}
