//! Writing a band of readings: as many digits as the band knows, and no more.
//!
//! In: an interval in base units. Out: words. Never: which circuit it comes from.

use super::{Dimension, Interval, Quantity, maths, write_interval, write_quantity};

/// Largest voltage that is told as `under X`: what a technician calls nothing, in volts.
const NEAR_ZERO_VOLTS: f64 = 0.1;

/// A band that reaches further below nothing than this many times as far as above is told with its sign, unless it is
/// no more than a few counts of a meter, in volts.
const SIDED: f64 = 1.5;
const COUNTS_VOLTS: f64 = 0.003;

/// A low end that rounding to the width of the band would move by more than this part of it is written by itself.
const VANISHES: f64 = 0.1;

/// A band of readings to a tenth of its own width: `4.87 to 5.13 V`, `under 22 mV`.
///
/// ```
/// use loomleaf::quantity::{Dimension, Interval, write_reading};
/// let volts = |low, high| write_reading(Interval { low, high }, Dimension::Voltage);
/// assert_eq!(volts(4.8726, 5.1264), "4.87 to 5.13 V");
/// assert_eq!(volts(-0.0017, 0.0218), "under 22 mV");
/// assert_eq!(volts(-0.0217, 0.0122), "-22 to 12 mV");
/// // Leads the wrong way round: the sign is the finding.
/// assert_eq!(volts(-5.13, -4.87), "-5.13 to -4.87 V");
/// // A meter may err below nothing; no resistance is there.
/// let ohms = |low, high| write_reading(Interval { low, high }, Dimension::Resistance);
/// assert_eq!(ohms(-0.2, 2.21), "0 to 2.2 ohm");
/// assert_eq!(ohms(48_700.0, 2.4e6), "49 kohm to 2.4 Mohm");
/// ```
pub fn write_reading(interval: Interval, dimension: Dimension) -> String {
    let largest = interval.high.max(-interval.low);
    let near_zero = dimension == Dimension::Voltage && largest <= NEAR_ZERO_VOLTS;
    let about_zero = -interval.low <= interval.high * SIDED || largest <= COUNTS_VOLTS;
    if near_zero && about_zero && interval.low <= 0.0 && 0.0 < largest {
        let step = step(largest);
        let number = (largest / step).ceil() * step;
        return format!("under {}", write_quantity(Quantity { number, dimension }));
    }
    let mut shown = sensible(interval);
    // Of a wide band the low end has digits of its own: nothing is nothing.
    if 0.0 < interval.low && VANISHES * interval.low < (shown.low - interval.low).abs() {
        let end = |number| {
            let number = two_digits(number);
            write_quantity(Quantity { number, dimension })
        };
        return format!("{} to {}", end(interval.low), end(interval.high));
    }
    if dimension == Dimension::Resistance && 0.0 <= shown.high {
        shown.low = shown.low.max(0.0);
    }
    write_interval(shown, dimension)
}

/// To a tenth of its own width or finer: more digits would say more than the band knows.
fn sensible(interval: Interval) -> Interval {
    let width = interval.high - interval.low;
    if width <= 0.0 {
        return interval;
    }
    let step = step(width);
    Interval {
        low: (interval.low / step).round() * step,
        high: (interval.high / step).round() * step,
    }
}

/// A unit in the second significant digit of a positive number.
fn step(number: f64) -> f64 {
    maths::pow(10.0, maths::log10(number).floor() - 1.0)
}

/// To two significant digits; what is not above zero stays.
pub(crate) fn two_digits(number: f64) -> f64 {
    if number <= 0.0 {
        return number;
    }
    let scale = maths::pow(10.0, 1.0 - maths::log10(number).floor());
    (number * scale).round() / scale
}
