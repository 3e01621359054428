//! Reading: what people really type, or a clear word of what was expected.
//!
//! In: text. Out: values in base units, always finite. Never: a guess between two meanings.

use super::dimension::{self, Spelled};
use super::number::{self, Leading, NoNumber};
use super::{Dimension, Interval, Quantity, Toleranced};

/// Why a text could not be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misread {
    /// What was expected, lower case: `a voltage such as 3.6 V`.
    pub expected: String,
    /// What was found, in the author's own text: `3.6 A is a current`.
    pub found: String,
    /// The corrected text, where it is known.
    pub correction: Option<String>,
    /// True where the text is sound but its lower end stands above its upper one.
    pub upside_down: bool,
}

/// Reads one quantity: `3.6 V`, `3,6 V`, `4k7`, `85 C`.
///
/// # Errors
/// A [`Misread`] for empty text, a missing, unknown or wrong unit, a number that is not finite or
/// below what the dimension allows (a resistance below zero, a temperature below -273.15 C).
///
/// ```
/// use loomleaf::quantity::{Dimension, read_quantity};
/// let ohms = |text| read_quantity(text, Dimension::Resistance).map(|read| read.number);
/// assert_eq!(ohms("4k7"), Ok(4700.0));
/// assert_eq!(ohms("4,7 kΩ"), Ok(4700.0));
/// let misread = read_quantity("3.6 A", Dimension::Voltage).unwrap_err();
/// assert_eq!(misread.expected, "a voltage such as 3.6 V");
/// assert_eq!(misread.found, "`3.6 A` is a current");
/// ```
pub fn read_quantity(text: &str, dimension: Dimension) -> Result<Quantity, Misread> {
    let number = value(text.trim(), dimension, "")?;
    Ok(Quantity { number, dimension })
}

/// Reads a value with tolerance: `4.7 kohm ± 5 %`, `5 V +/- 0.1 V`, `4.5 to 5.5 V` (nominal in the
/// middle), `12.6 V (11.8 to 14.8 V)` (nominal and limits), `5 V` (exact).
///
/// A percentage is of the nominal value, except of a ratio, where it is in points (`50 % ± 5 %` is
/// 45 to 55 %).
///
/// # Errors
/// As [`read_quantity`]; and limits upside down, a nominal outside its limits, a tolerance below
/// zero or without unit, a percentage of a temperature.
///
/// ```
/// use loomleaf::quantity::{Dimension, read_toleranced};
/// let battery = read_toleranced("12.6 V (11.8 to 14.8 V)", Dimension::Voltage).unwrap();
/// assert_eq!((battery.low, battery.nominal, battery.high), (11.8, 12.6, 14.8));
/// ```
pub fn read_toleranced(text: &str, dimension: Dimension) -> Result<Toleranced, Misread> {
    let text = text.trim();
    if let Some((nominal, limits)) = split_limits(text) {
        return read_with_limits(text, nominal, limits, dimension);
    }
    if let Some((nominal, by)) = split_tolerance(text) {
        return read_give_or_take(text, nominal, by, dimension);
    }
    if let Some((low, high)) = split_range(text) {
        let limits = read_range(low, high, dimension)?;
        return Toleranced::between(limits.low, limits.high)
            .ok_or_else(|| not_finite(text, dimension));
    }
    value(text, dimension, "").map(Toleranced::exact)
}

/// Reads an interval: `0.45 to 0.75 V`, `0.45..0.75 V`, `450 mV - 0.75 V`, also `5 V ± 2 %`.
///
/// # Errors
/// As [`read_toleranced`]; and one value without tolerance, which is no interval.
///
/// ```
/// use loomleaf::quantity::{Dimension, read_interval};
/// let band = read_interval("450 mV to 0.75 V", Dimension::Voltage).unwrap();
/// assert_eq!((band.low, band.high), (0.45, 0.75));
/// let misread = read_interval("0.75 to 0.45 V", Dimension::Voltage).unwrap_err();
/// assert_eq!(misread.correction.as_deref(), Some("0.45 to 0.75 V"));
/// ```
pub fn read_interval(text: &str, dimension: Dimension) -> Result<Interval, Misread> {
    let text = text.trim();
    if split_tolerance(text).is_some() || split_range(text).is_some() {
        return read_toleranced(text, dimension).map(Toleranced::interval);
    }
    value(text, dimension, "")?;
    let unit = dimension.usual_unit();
    Err(misread(
        format!(
            "a range such as 0.45 to 0.75 {unit} or {} ± 5 %",
            dimension.example()
        ),
        format!("`{text}` is one value"),
        None,
    ))
}

/// Reads a value with tolerance of any dimension that its unit tells; a plain number is a ratio.
///
/// # Errors
/// A [`Misread`] where the unit is unknown, else as [`read_toleranced`].
///
/// ```
/// use loomleaf::quantity::{Dimension, read_any};
/// assert_eq!(read_any("3950 K ± 1 %").unwrap().1, Dimension::TemperatureSpan);
/// assert_eq!(read_any("100 mA").unwrap().1, Dimension::Current);
/// ```
pub fn read_any(text: &str) -> Result<(Toleranced, Dimension), Misread> {
    let dimension = dimension_of(text).ok_or_else(|| {
        misread(
            "a quantity with its unit such as 5 V or 4.7 kohm".into(),
            format!("`{}` has no known unit", text.trim()),
            None,
        )
    })?;
    read_toleranced(text, dimension).map(|read| (read, dimension))
}

/// The dimension that a text's unit tells, whether it is a value, a value with tolerance or a range.
pub fn dimension_of(text: &str) -> Option<Dimension> {
    let text = text.trim();
    let text = split_limits(text).map_or(text, |(nominal, _)| nominal);
    let (first, second) = split_tolerance(text)
        .or_else(|| split_range(text))
        .unwrap_or((text, text));
    let told = dimension_of_one(first);
    // The unit may stand at the second only (`0.45 to 0.75 V`); a plain number alone is a ratio.
    match told {
        Some(Dimension::Ratio) | None => dimension_of_one(second).or(told),
        told => told,
    }
}

fn dimension_of_one(text: &str) -> Option<Dimension> {
    let text = text.trim();
    if number::gauge(text).is_some() {
        return Some(Dimension::Area);
    }
    if let Some((_, rest)) = number::infix_ohms(text) {
        return (rest.is_empty() || is_ohm(rest)).then_some(Dimension::Resistance);
    }
    let unit = number::leading(text).ok()?.rest;
    dimension::dimension_spelled(unit)
}

/// `12.6 V (11.8 to 14.8 V)` into nominal and limits.
fn split_limits(text: &str) -> Option<(&str, &str)> {
    let (nominal, limits) = text.strip_suffix(')')?.split_once('(')?;
    Some((nominal.trim(), limits.trim()))
}

/// `5 V ± 2 %` into value and tolerance.
fn split_tolerance(text: &str) -> Option<(&str, &str)> {
    ["±", "+/-", "+/\u{2212}", "+-"]
        .iter()
        .find_map(|mark| text.split_once(mark))
        .map(|(nominal, by)| (nominal.trim(), by.trim()))
}

/// `0.45 to 0.75 V` into its ends.
fn split_range(text: &str) -> Option<(&str, &str)> {
    [" to ", "..", "…", "–", "—"]
        .iter()
        .find_map(|mark| text.split_once(mark))
        .or_else(|| split_at_hyphen(text))
        .map(|(low, high)| (low.trim(), high.trim()))
}

/// A hyphen is a range where a value stands before it; else it is a sign or part of an exponent.
fn split_at_hyphen(text: &str) -> Option<(&str, &str)> {
    text.char_indices()
        .filter(|(at, letter)| *at > 0 && *letter == '-')
        .map(|(at, _)| (&text[..at], &text[at + 1..]))
        .find(|(before, after)| {
            let exponent = before.ends_with(['e', 'E'])
                && before[..before.len() - 1].ends_with(|last: char| last.is_ascii_digit());
            let value_before = before.contains(|letter: char| letter.is_ascii_digit());
            let value_after = after
                .trim_start()
                .starts_with(|first: char| first.is_ascii_digit() || first == '-');
            !exponent && value_before && value_after
        })
}

fn read_with_limits(
    text: &str,
    nominal: &str,
    limits: &str,
    dimension: Dimension,
) -> Result<Toleranced, Misread> {
    let centre = value(nominal, dimension, "")?;
    let range = read_interval(limits, dimension)?;
    Toleranced::new(range.low, centre, range.high).ok_or_else(|| {
        misread(
            format!("{} inside its limits", dimension.name()),
            format!("`{text}` has `{nominal}` outside `{limits}`"),
            None,
        )
    })
}

fn read_give_or_take(
    text: &str,
    nominal: &str,
    by: &str,
    dimension: Dimension,
) -> Result<Toleranced, Misread> {
    let unit_after = number::leading(by).map_or("", |read| read.rest);
    let percent = matches!(
        dimension::spelled(unit_after, Dimension::Ratio),
        Spelled::Unit(unit) if unit.factor < 1.0
    );
    // `20 ± 2 K` must not become 20 K on the absolute scale.
    let lends = if dimension == Dimension::Temperature {
        unit_after != "K"
    } else {
        !percent || dimension == Dimension::Ratio
    };
    let borrowed = if lends { unit_after } else { "" };
    let centre = value(nominal, dimension, borrowed)?;
    let tolerance = |found: String| {
        let unit = dimension.of_difference().usual_unit();
        let percent = if dimension == Dimension::Temperature {
            String::new()
        } else {
            "± 5 % or ".into()
        };
        misread(
            format!("a tolerance such as {percent}± 0.1 {unit}"),
            found,
            None,
        )
    };
    if unit_after.is_empty() && dimension != Dimension::Ratio && number::infix_ohms(by).is_none() {
        return Err(tolerance(format!("`± {by}` has no unit")));
    }
    let by_value = match (percent, dimension) {
        (true, Dimension::Temperature) => {
            return Err(tolerance(format!(
                "`{text}` is a percentage of a temperature"
            )));
        }
        (true, Dimension::Ratio) | (false, _) => value(by, dimension.of_difference(), "")?,
        (true, _) => value(by, Dimension::Ratio, "")? * centre.abs(),
    };
    if by_value < 0.0 {
        return Err(tolerance(format!("`± {by}` is below zero")));
    }
    Toleranced::symmetric(centre, by_value).ok_or_else(|| not_finite(text, dimension))
}

/// Reads the two ends of a range; an end without unit takes the other's.
fn read_range(low: &str, high: &str, dimension: Dimension) -> Result<Interval, Misread> {
    let unit = |text: &'_ str| {
        number::leading(text)
            .map_or("", |read| read.rest)
            .to_owned()
    };
    let (unit_low, unit_high) = (unit(low), unit(high));
    let first = value(low, dimension, &unit_high)?;
    let second = value(high, dimension, &unit_low)?;
    Interval::new(first, second).ok_or_else(|| {
        let (lower, upper) = if unit_low.is_empty() && !unit_high.is_empty() {
            let bare = number::leading(high).map_or(high, |read| read.written);
            (bare.to_owned(), format!("{low} {unit_high}"))
        } else {
            (high.to_owned(), low.to_owned())
        };
        Misread {
            upside_down: true,
            ..misread(
                "the lower end first".into(),
                format!("`{low} to {high}` runs downwards"),
                Some(format!("{lower} to {upper}")),
            )
        }
    })
}

/// One value in base units; `borrowed` is the unit it takes where it has none of its own.
fn value(text: &str, dimension: Dimension, borrowed: &str) -> Result<f64, Misread> {
    let base = unchecked_value(text, dimension, borrowed)?;
    match dimension.floor() {
        Some(floor) if base < floor => Err(misread(
            format!(
                "{} of at least {floor} {}",
                dimension.name(),
                dimension.base_unit()
            ),
            format!("`{text}` is below that"),
            None,
        )),
        _ if !base.is_finite() => Err(not_finite(text, dimension)),
        _ => Ok(base + 0.0),
    }
}

fn unchecked_value(text: &str, dimension: Dimension, borrowed: &str) -> Result<f64, Misread> {
    if dimension == Dimension::Area
        && let Some(gauge) = number::gauge(text)
    {
        return gauge.map(number::gauge_area).map_err(|()| {
            misread(
                "a wire gauge from 4/0 AWG to 40 AWG".into(),
                format!("`{text}` is none"),
                None,
            )
        });
    }
    if dimension == Dimension::Resistance
        && let Some((ohms, rest)) = number::infix_ohms(text)
        && (rest.is_empty() || is_ohm(rest))
    {
        return Ok(ohms);
    }
    let read = number::leading(text).map_err(|slip| no_number(text, dimension, slip))?;
    let unit = if read.rest.is_empty() {
        borrowed
    } else {
        read.rest
    };
    match dimension::spelled(unit, dimension) {
        Spelled::Unit(unit) => Ok(read.number * unit.factor + unit.offset),
        Spelled::Nearly(meant) => Err(wrong_unit(text, &read, dimension, Some(meant))),
        Spelled::Unknown => Err(wrong_unit(text, &read, dimension, None)),
    }
}

fn is_ohm(unit: &str) -> bool {
    matches!(dimension::spelled(unit, Dimension::Resistance), Spelled::Unit(unit) if unit.factor == 1.0)
}

fn wrong_unit(
    text: &str,
    read: &Leading<'_>,
    dimension: Dimension,
    meant: Option<&str>,
) -> Misread {
    let expected = expected(dimension);
    let Leading { written, rest, .. } = read;
    if rest.is_empty() {
        let meant = format!("{written} {}", dimension.usual_unit());
        return misread(expected, format!("`{text}` has no unit"), Some(meant));
    }
    let correction = meant.map(|unit| format!("{written} {unit}"));
    let found = match dimension_of_one(text) {
        Some(other) if other != dimension => format!("`{text}` is {}", other.name()),
        _ => format!("`{rest}` is no unit of {}", bare(dimension)),
    };
    misread(expected, found, correction)
}

fn no_number(text: &str, dimension: Dimension, slip: NoNumber) -> Misread {
    let found = match slip {
        NoNumber::NotANumber if text.is_empty() => "nothing".to_owned(),
        NoNumber::NotANumber => format!("`{text}` does not begin with a number"),
        NoNumber::NotFinite => return not_finite(text, dimension),
        NoNumber::CommaUnclear => {
            return misread(
                "one decimal mark and no thousands mark".into(),
                format!("`{text}` can be read two ways"),
                Some(text.replacen(',', "", 1)),
            );
        }
    };
    misread(expected(dimension), found, None)
}

fn not_finite(text: &str, dimension: Dimension) -> Misread {
    misread(
        expected(dimension),
        format!("`{text}` is no finite number"),
        None,
    )
}

fn expected(dimension: Dimension) -> String {
    format!("{} such as {}", dimension.name(), dimension.example())
}

/// `voltage` from `a voltage`.
fn bare(dimension: Dimension) -> &'static str {
    let name = dimension.name();
    name.split_once(' ').map_or(name, |(_, noun)| noun)
}

fn misread(expected: String, found: String, correction: Option<String>) -> Misread {
    Misread {
        expected,
        found,
        correction,
        upside_down: false,
    }
}
