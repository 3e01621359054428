//! Numbers as people type them: decimal comma or point, real minus signs, `4k7`, wire gauges.
//!
//! In: text that begins with a number. Out: the number and the text after it.
//! Never: units beyond the letter inside `4k7`; those are `dimension`'s.

use super::decimal::decimal;
use super::maths;

/// A number at the beginning of a text.
pub(super) struct Leading<'a> {
    /// The number.
    pub number: f64,
    /// Its text.
    pub written: &'a str,
    /// What follows, trimmed.
    pub rest: &'a str,
}

/// Why a text does not begin with a usable number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum NoNumber {
    /// It begins with something else.
    NotANumber,
    /// Infinite or not a number at all.
    NotFinite,
    /// `1,000`: a decimal comma or a thousands mark.
    CommaUnclear,
}

/// Splits a number off the beginning of a trimmed text.
pub(super) fn leading(text: &str) -> Result<Leading<'_>, NoNumber> {
    let length = number_length(text);
    let (written, rest) = text.split_at(length);
    let plain = written.replace(',', ".").replace('\u{2212}', "-");
    if !plain.contains(|letter: char| letter.is_ascii_digit()) {
        return Err(not_a_number(text));
    }
    if rest.starts_with(['.', ',']) {
        return Err(NoNumber::NotANumber);
    }
    if comma_unclear(written) {
        return Err(NoNumber::CommaUnclear);
    }
    match decimal(&plain) {
        Some(number) if number.is_finite() => Ok(Leading {
            // Adding zero turns -0 into 0.
            number: number + 0.0,
            written,
            rest: rest.trim(),
        }),
        Some(_) => Err(NoNumber::NotFinite),
        None => Err(NoNumber::NotANumber),
    }
}

fn not_a_number(text: &str) -> NoNumber {
    let word = text.trim_start_matches(['-', '+', '.', '\u{2212}']);
    let word = word.to_ascii_lowercase();
    let endless = ["inf", "nan", "∞"];
    if endless.iter().any(|known| word.starts_with(known)) {
        NoNumber::NotFinite
    } else {
        NoNumber::NotANumber
    }
}

/// Bytes of sign, digits, one decimal mark, digits, and an exponent.
fn number_length(text: &str) -> usize {
    let sign = text
        .chars()
        .next()
        .filter(|first| matches!(first, '+' | '-' | '\u{2212}'))
        .map_or(0, char::len_utf8);
    let mut end = sign + digits(&text[sign..]);
    if text[end..].starts_with(['.', ',']) && !text[end..].starts_with("..") {
        end += 1 + digits(&text[end + 1..]);
    }
    end + exponent_length(&text[end..])
}

fn exponent_length(text: &str) -> usize {
    if !text.starts_with(['e', 'E']) {
        return 0;
    }
    let sign = usize::from(text[1..].starts_with(['+', '-']));
    match digits(&text[1 + sign..]) {
        0 => 0,
        count => 1 + sign + count,
    }
}

fn digits(text: &str) -> usize {
    text.bytes().take_while(u8::is_ascii_digit).count()
}

/// `1,000` can be one or a thousand; `0,450` and `1,5` can only be decimals.
fn comma_unclear(written: &str) -> bool {
    let unsigned = written.trim_start_matches(['+', '-', '\u{2212}']);
    unsigned.split_once(',').is_some_and(|(whole, part)| {
        !whole.is_empty() && !whole.starts_with('0') && whole.len() <= 3 && digits(part) == 3
    })
}

/// A resistance with its letter in place of the decimal mark: `4k7`, `2R2`, `1M0`, `R47`.
/// Gives ohms and the text after it.
pub(super) fn infix_ohms(text: &str) -> Option<(f64, &str)> {
    let whole = digits(text);
    let letter = text[whole..].chars().next()?;
    let factor = match letter {
        'R' | 'r' => 1.0,
        'k' | 'K' => 1e3,
        'M' => 1e6,
        _ => return None,
    };
    let after = &text[whole + 1..];
    let part = digits(after);
    if part == 0 {
        return None;
    }
    let number = decimal(&format!("0{}.{}", &text[..whole], &after[..part]))?;
    let ohms = number * factor;
    ohms.is_finite().then_some((ohms, after[part..].trim()))
}

/// A wire gauge: `20 AWG`, `AWG 20`, `4/0 AWG`. Gives the gauge number, 0 to -3 for 1/0 to 4/0;
/// `Err` where it is a gauge of no known number.
pub(super) fn gauge(text: &str) -> Option<Result<i32, ()>> {
    let upper = text.trim().to_ascii_uppercase();
    let number = upper
        .strip_suffix("AWG")
        .or_else(|| upper.strip_prefix("AWG"))?
        .trim()
        .trim_start_matches('#');
    let gauge = match number.strip_suffix("/0") {
        Some(zeros) => zeros.parse::<i32>().ok().map(|zeros| 1 - zeros),
        None => number.parse::<i32>().ok().filter(|gauge| *gauge >= 0),
    };
    Some(gauge.filter(|gauge| (-3..=40).contains(gauge)).ok_or(()))
}

/// Area of a solid round wire of this gauge, square metres.
///
/// ASTM B258: `d = 0.127 mm * 92^((36 - n) / 39)`, area `pi d^2 / 4`; n from -3 (4/0) to 40.
pub(super) fn gauge_area(gauge: i32) -> f64 {
    let diameter = 0.127e-3 * maths::pow(92.0, f64::from(36 - gauge) / 39.0);
    std::f64::consts::PI / 4.0 * diameter * diameter
}
