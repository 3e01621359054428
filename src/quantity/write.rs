//! Writing: sensible digits, prefix and unit; rounding happens here and nowhere else.
//!
//! In: values in base units. Out: text that [`super::read_quantity`] and its kin read back to the
//! digits shown. Never: negative zero, or two units in one interval.

use super::decimal::decimal;
use super::number::gauge_area;
use super::{Dimension, Interval, Quantity, Toleranced};

/// Significant digits shown at most.
const DIGITS: i32 = 4;
/// Decimals shown at most, unless the number is so small that they would say nothing.
const DECIMALS: i32 = 3;
/// Beyond these powers of ten a number is written with an exponent.
const PLAIN_POWERS: std::ops::RangeInclusive<i32> = -6..=9;

/// `4.7 kohm`, `0.652 V`, `20 C`: up to four significant digits and three decimals, no zeros at
/// the end.
///
/// ```
/// use loomleaf::quantity::{Dimension, Quantity, write_quantity};
/// let write = |number, dimension| write_quantity(Quantity { number, dimension });
/// assert_eq!(write(4700.0, Dimension::Resistance), "4.7 kohm");
/// assert_eq!(write(0.65234, Dimension::Voltage), "0.652 V");
/// assert_eq!(write(-0.0, Dimension::Voltage), "0 V");
/// assert_eq!(write(999.96, Dimension::Resistance), "1 kohm");
/// ```
pub fn write_quantity(quantity: Quantity) -> String {
    let (factor, unit) = written_unit(quantity.number.abs(), quantity.dimension);
    let number = quantity.number / factor;
    format!("{} {unit}", trimmed(number, decimals(number)))
}

/// The area of a wire: as a gauge where it is one's, since tables of gauges know no other area.
///
/// ```
/// use loomleaf::quantity::{Dimension, read_quantity, write_wire_size};
/// let size = |text| write_wire_size(read_quantity(text, Dimension::Area).unwrap().number);
/// assert_eq!(size("18 AWG"), "18 AWG");
/// assert_eq!(size("0.75 mm2"), "0.75 mm2");
/// ```
pub fn write_wire_size(area: f64) -> String {
    let near = |gauge: &i32| (gauge_area(*gauge) / area - 1.0).abs() < 1e-9;
    match (0..=40).find(near) {
        Some(gauge) => format!("{gauge} AWG"),
        None => write_quantity(Quantity {
            number: area,
            dimension: Dimension::Area,
        }),
    }
}

/// A number without unit, to four significant digits: `0.0014`, `3948`.
///
/// ```
/// use loomleaf::quantity::write_number;
/// assert_eq!(write_number(2.37e-4), "0.000237");
/// assert_eq!(write_number(9.9e-8), "9.9e-8");
/// ```
pub fn write_number(number: f64) -> String {
    trimmed(number, decimals(number))
}

/// `0.45 to 0.75 V`: one unit and one number of decimals for both ends; the ends are rounded
/// outward never, to nearest always.
///
/// Two ends that differ are written so that they do, up to seven decimals.
///
/// ```
/// use loomleaf::quantity::{Dimension, Interval, write_interval};
/// let volts = |low, high| write_interval(Interval { low, high }, Dimension::Voltage);
/// assert_eq!(volts(0.45, 0.75), "0.45 to 0.75 V");
/// assert_eq!(volts(0.7, 1.25), "0.70 to 1.25 V");
/// assert_eq!(volts(0.0, 0.08), "0 to 80 mV");
/// ```
pub fn write_interval(interval: Interval, dimension: Dimension) -> String {
    let larger = interval.low.abs().max(interval.high.abs());
    let (factor, unit) = written_unit(larger, dimension);
    let (low, high) = (interval.low / factor, interval.high / factor);
    let fixed = |places| (fixed(low, places), fixed(high, places));
    let least = decimals(low.abs().max(high.abs()));
    let (low, high) = (least..=least.max(7))
        .map(fixed)
        .find(|(one, other)| low >= high || one != other)
        .unwrap_or_else(|| fixed(least));
    // Zero is written `0` and does not hold its partner's digits back.
    let spare = [&low, &high]
        .into_iter()
        .filter(|text| !is_zero(text))
        .map(|text| spare_zeros(text))
        .min()
        .unwrap_or(0);
    let end = |text: &str| match is_zero(text) {
        true => "0".to_owned(),
        false => without_last(text, spare).to_owned(),
    };
    format!("{} to {} {unit}", end(&low), end(&high))
}

/// `4.7 kohm ± 5 %` where the limits are a short percentage away, `4.5 to 5.2 kohm` where the
/// nominal value is in the middle, else `12.6 V (11.8 to 14.8 V)`.
///
/// ```
/// use loomleaf::quantity::{Dimension, Toleranced, read_toleranced, write_toleranced};
/// let again = |text| write_toleranced(read_toleranced(text, Dimension::Voltage).unwrap(), Dimension::Voltage);
/// assert_eq!(again("5 V +/- 0.1 V"), "5 V ± 2 %");
/// assert_eq!(again("4.5 - 5.2 V"), "4.5 to 5.2 V");
/// assert_eq!(again("12.6 V (11.8 to 14.8 V)"), "12.6 V (11.8 to 14.8 V)");
/// assert_eq!(again("5 V"), "5 V");
/// ```
pub fn write_toleranced(toleranced: Toleranced, dimension: Dimension) -> String {
    let Toleranced { low, nominal, high } = toleranced;
    let centre = write_quantity(Quantity {
        number: nominal,
        dimension,
    });
    if toleranced.is_exact() {
        return centre;
    }
    let limits = write_interval(toleranced.interval(), dimension);
    let (below, above) = (nominal - low, high - nominal);
    if (below - above).abs() > 1e-9 * (high - low) {
        return format!("{centre} ({limits})");
    }
    match short_percentage(above, nominal) {
        Some(percent) if takes_percentage(dimension) => format!("{centre} ± {percent} %"),
        _ => limits,
    }
}

/// A percentage of a point on a temperature scale means nothing; of a ratio it is unclear.
fn takes_percentage(dimension: Dimension) -> bool {
    !matches!(
        dimension,
        Dimension::Temperature | Dimension::Ratio | Dimension::Angle
    )
}

/// The tolerance in percent where two significant digits tell it exactly.
fn short_percentage(by: f64, nominal: f64) -> Option<String> {
    let percent = 100.0 * by / nominal.abs();
    if !percent.is_finite() || percent <= 0.0 {
        return None;
    }
    let short = round_to(percent, 2);
    ((short - percent).abs() < 1e-9 * percent).then(|| trimmed(short, 1 - power(short)))
}

/// The units written for a dimension, each from the least value (in base units) that uses it.
fn ladder(dimension: Dimension) -> &'static [(f64, f64, &'static str)] {
    match dimension {
        Dimension::Voltage => &[(1e3, 1e3, "kV"), (0.1, 1.0, "V"), (0.0, 1e-3, "mV")],
        Dimension::Resistance => &[
            (1e6, 1e6, "Mohm"),
            (1e3, 1e3, "kohm"),
            (0.1, 1.0, "ohm"),
            (0.0, 1e-3, "mohm"),
        ],
        Dimension::Current => &[(1.0, 1.0, "A"), (1e-3, 1e-3, "mA"), (0.0, 1e-6, "µA")],
        Dimension::Power => &[(1e3, 1e3, "kW"), (0.1, 1.0, "W"), (0.0, 1e-3, "mW")],
        Dimension::Temperature => &[(0.0, 1.0, "C")],
        Dimension::TemperatureSpan => &[(0.0, 1.0, "K")],
        Dimension::Pressure => &[(1e7, 1e6, "MPa"), (1e3, 1e3, "kPa"), (0.0, 1.0, "Pa")],
        Dimension::Frequency => &[(1e6, 1e6, "MHz"), (1e3, 1e3, "kHz"), (0.0, 1.0, "Hz")],
        Dimension::Time => &[(1.0, 1.0, "s"), (1e-3, 1e-3, "ms"), (0.0, 1e-6, "µs")],
        Dimension::Length => &[(1.0, 1.0, "m"), (0.0, 1e-3, "mm")],
        Dimension::Area => &[(0.0, 1e-6, "mm2")],
        Dimension::Angle => &[(0.0, 1.0, "deg")],
        Dimension::Ratio => &[(0.0, 1e-2, "%")],
        Dimension::Speed => &[(0.0, 1.0 / 3.6, "km/h")],
        Dimension::Rotation => &[(0.0, 1.0, "rpm")],
        Dimension::ResistancePerLength => &[(0.1, 1.0, "ohm/m"), (0.0, 1e-3, "mohm/m")],
    }
}

/// Factor and spelling of the unit for a magnitude in base units; nothing at all is written in
/// the unit people expect (`0 V`, not `0 mV`).
fn written_unit(magnitude: f64, dimension: Dimension) -> (f64, &'static str) {
    let shown = round_to(magnitude, DIGITS);
    ladder(dimension)
        .iter()
        .find(|(least, factor, _)| {
            if shown > 0.0 {
                shown >= *least
            } else {
                *factor <= 1.0
            }
        })
        .map_or((1.0, dimension.base_unit()), |(_, factor, unit)| {
            (*factor, unit)
        })
}

/// Power of ten of the first digit; 0 for zero.
fn power(number: f64) -> i32 {
    let written = format!("{number:e}");
    let exponent = written
        .rsplit_once('e')
        .map_or("0", |(_, exponent)| exponent);
    exponent.parse().unwrap_or(0)
}

/// Rounded to so many significant digits.
fn round_to(number: f64, digits: i32) -> f64 {
    let places = usize::try_from(digits - 1).unwrap_or(0);
    decimal(&format!("{number:.places$e}")).unwrap_or(number)
}

/// Decimals worth showing of a number in its unit.
fn decimals(number: f64) -> i32 {
    let power = power(round_to(number, DIGITS));
    let significant = DIGITS - 1 - power;
    if power < -1 {
        significant
    } else {
        significant.clamp(0, DECIMALS)
    }
}

/// With so many decimals (never fewer than none), without the sign of a negative zero.
fn fixed(number: f64, places: i32) -> String {
    let places = usize::try_from(places).unwrap_or(0);
    let number = round_to(number, 15);
    let text = if PLAIN_POWERS.contains(&power(number)) {
        format!("{number:.places$}")
    } else {
        format!("{:e}", round_to(number, DIGITS))
    };
    if is_zero(&text) {
        text.trim_start_matches('-').to_owned()
    } else {
        text
    }
}

fn is_zero(text: &str) -> bool {
    text.chars().all(|letter| matches!(letter, '-' | '0' | '.'))
}

fn trimmed(number: f64, places: i32) -> String {
    let text = fixed(number, places);
    let spare = spare_zeros(&text);
    without_last(&text, spare).to_owned()
}

/// Zeros at the end after the point, and the point itself where only zeros follow it.
fn spare_zeros(text: &str) -> usize {
    match text.split_once('.') {
        Some((_, part)) if !text.contains('e') => {
            let kept = part.trim_end_matches('0').len();
            if kept == 0 {
                part.len() + 1
            } else {
                part.len() - kept
            }
        }
        // A text without decimals loses nothing, whatever its partner would lose.
        _ => 0,
    }
}

fn without_last(text: &str, spare: usize) -> &str {
    text.get(..text.len().saturating_sub(spare)).unwrap_or(text)
}
