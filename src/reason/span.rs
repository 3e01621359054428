//! Bands as sets on the readings axis: does a reading lie in one, how far do two cover each other.
//!
//! In: bands. Out: yes, no, or a part of one. Never: solves, names.
//! A floating lead shows about nothing, so a floating part of a band also covers [`FLOATING_SHOWS`].

use crate::circuit::{Band, FLOATING_SHOWS};
use crate::quantity::Interval;

/// Whether a reading of `value` ± `within` can come from the band.
pub(crate) fn admits(band: &Band, value: f64, within: f64) -> bool {
    let touches = |span: &Interval| value + within >= span.low && value - within <= span.high;
    band.intervals.iter().any(touches) || (band.floating && touches(&FLOATING_SHOWS))
}

/// Whether no reading can come from both bands.
pub(crate) fn disjoint(a: &Band, b: &Band) -> bool {
    !(a.no_path && b.no_path || a.floating && b.floating)
        && !(a.floating && touches_floating(b) || b.floating && touches_floating(a))
        && !a
            .intervals
            .iter()
            .any(|x| b.intervals.iter().any(|y| meet(*x, *y)))
}

/// The part of `a` (0 to 1) whose readings `b` also gives; every interval, floating and no path count
/// alike, so that one wide state does not drown a narrow one. An empty band is covered by anything.
pub(crate) fn covered(a: &Band, b: &Band) -> f64 {
    let mut parts = 0.0;
    let mut sum = 0.0;
    for span in &a.intervals {
        parts += 1.0;
        sum += cover_of(*span, b);
    }
    if a.floating {
        parts += 1.0;
        sum += one_if(b.floating || touches_floating(b));
    }
    if a.no_path {
        parts += 1.0;
        sum += one_if(b.no_path);
    }
    if parts == 0.0 { 1.0 } else { sum / parts }
}

/// The part of an interval that a band covers.
fn cover_of(span: Interval, band: &Band) -> f64 {
    if band.floating && FLOATING_SHOWS.low <= span.low && span.high <= FLOATING_SHOWS.high {
        return 1.0;
    }
    let shared: f64 = band
        .intervals
        .iter()
        .map(|other| (span.high.min(other.high) - span.low.max(other.low)).max(0.0))
        .sum();
    let width = span.high - span.low;
    if width > 0.0 {
        shared / width
    } else {
        one_if(band.intervals.iter().any(|other| meet(span, *other)))
    }
}

/// Whether some number the band gives is near enough to nothing to be taken for a floating lead.
fn touches_floating(band: &Band) -> bool {
    band.intervals
        .iter()
        .any(|span| meet(*span, FLOATING_SHOWS))
}

/// Whether two closed intervals share a point.
pub(crate) fn meet(a: Interval, b: Interval) -> bool {
    a.low <= b.high && b.low <= a.high
}

pub(crate) fn one_if(yes: bool) -> f64 {
    if yes { 1.0 } else { 0.0 }
}
