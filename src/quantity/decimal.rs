//! Decimal text to the nearest double: the one reading of numbers in program and phone.
//!
//! In: digits with an optional sign, point and exponent. Out: the double nearest to them, ties to even,
//! as IEEE 754 asks. The standard library does the same with ten kilobytes of powers of five, which do
//! not pack and would be a fifteenth of the engine in a phone; nobody types numbers so fast.
//!
//! Up to 15 digits with a power of ten up to 22 are exact in one multiplication or division. Others start
//! near the answer and are moved to it by comparing whole numbers of any length.

use std::cmp::Ordering;

/// Powers of ten that are doubles exactly.
const TENS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
];
/// Digits of a whole number that is surely below 2^53.
const EXACT_DIGITS: usize = 15;

/// The double nearest to a decimal number; none where the text is none. Beyond all doubles it is infinite.
///
/// ```
/// assert_eq!(loomleaf::quantity::decimal("-4.7e3"), Some(-4700.0));
/// assert_eq!(loomleaf::quantity::decimal("4,7"), None);
/// ```
pub fn decimal(text: &str) -> Option<f64> {
    let (negative, unsigned) = match text.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let (mantissa, exponent) = match unsigned.split_once(['e', 'E']) {
        Some((mantissa, exponent)) => (mantissa, whole(exponent)?),
        None => (unsigned, 0),
    };
    let (before, after) = mantissa.split_once('.').unwrap_or((mantissa, ""));
    let digits: Vec<u8> = before.bytes().chain(after.bytes()).collect();
    if digits.is_empty() || !digits.iter().all(u8::is_ascii_digit) {
        return None;
    }
    let places = i64::try_from(after.len()).ok()?;
    let number = nearest(&digits, exponent.checked_sub(places)?);
    Some(if negative { -number } else { number })
}

/// An exponent; beyond a million it is a million, which no double reaches.
fn whole(text: &str) -> Option<i64> {
    let (sign, digits) = match text.strip_prefix('-') {
        Some(rest) => (-1, rest),
        None => (1, text.strip_prefix('+').unwrap_or(text)),
    };
    if digits.is_empty() {
        return None;
    }
    let mut value = 0_i64;
    for digit in digits.bytes() {
        let digit = digit.is_ascii_digit().then(|| i64::from(digit - b'0'))?;
        value = (value * 10 + digit).min(1_000_000);
    }
    Some(sign * value)
}

/// The double nearest to `digits * 10^power`.
fn nearest(digits: &[u8], power: i64) -> f64 {
    let start = digits.iter().position(|digit| *digit != b'0');
    let Some(digits) = start.map(|start| &digits[start..]) else {
        return 0.0;
    };
    let count = i64::try_from(digits.len()).unwrap_or(i64::MAX);
    // The largest double has 309 digits, the least begins 324 places after the point.
    match count.saturating_add(power) {
        310.. => return f64::INFINITY,
        ..-325 => return 0.0,
        _ => {}
    }
    let leading = digits.iter().take(EXACT_DIGITS);
    let leading = leading.fold(0.0, |sum, digit| sum * 10.0 + f64::from(digit - b'0'));
    let left_out = count - count.min(15);
    let near = scaled(leading, power + left_out);
    match usize::try_from(power.unsigned_abs()) {
        Ok(size) if left_out == 0 && size < TENS.len() => near,
        _ => corrected(near, digits, power),
    }
}

/// `number * 10^power`, rounded at each step.
fn scaled(mut number: f64, power: i64) -> f64 {
    let mut left = power.unsigned_abs();
    while left > 0 {
        let step = left.min(22);
        let ten = usize::try_from(step).map_or(1.0, |step| TENS[step]);
        number = if power < 0 {
            number / ten
        } else {
            number * ten
        };
        left -= step;
    }
    number.min(f64::MAX)
}

/// Moves a double beside the answer to it.
fn corrected(near: f64, digits: &[u8], power: i64) -> f64 {
    let mut bits = near.to_bits();
    loop {
        let above = against_middle(digits, power, bits);
        let even = bits & 1 == 0;
        if above == Ordering::Greater || (above == Ordering::Equal && !even) {
            bits += 1;
            if f64::from_bits(bits).is_infinite() {
                return f64::INFINITY;
            }
            continue;
        }
        let Some(lower) = bits.checked_sub(1) else {
            return 0.0;
        };
        let below = against_middle(digits, power, lower);
        if below == Ordering::Less || (below == Ordering::Equal && !even) {
            bits = lower;
            continue;
        }
        return f64::from_bits(bits);
    }
}

/// `digits * 10^power` against the middle between the double of these bits and the next one.
fn against_middle(digits: &[u8], power: i64, bits: u64) -> Ordering {
    let (fraction, field) = (bits & ((1 << 52) - 1), bits >> 52);
    // In units of 2^exponent; below the least normal double all stand in the same units.
    let (mantissa, exponent) = match field {
        0 => (fraction, -1074),
        _ => (
            fraction | (1 << 52),
            i64::try_from(field).unwrap_or(0) - 1075,
        ),
    };
    let (mut ours, mut middle) = (Whole::of_digits(digits), Whole::of(2 * mantissa + 1));
    let twos = exponent - 1;
    // Negative powers of one side are positive powers of the other.
    let (mut up, mut down) = (&mut ours, &mut middle);
    up.times_power(5, power.max(0));
    down.times_power(5, (-power).max(0));
    let shift = power - twos;
    if shift < 0 {
        std::mem::swap(&mut up, &mut down);
    }
    up.times_power(2, shift.abs());
    ours.compare(&middle)
}

/// A whole number of any length, least part first.
struct Whole {
    parts: Vec<u32>,
}

impl Whole {
    fn of(number: u64) -> Self {
        let mut whole = Self { parts: Vec::new() };
        let mut left = number;
        while left > 0 {
            // The low half, by intent.
            whole
                .parts
                .push((left & 0xffff_ffff).try_into().unwrap_or(0));
            left >>= 32;
        }
        whole
    }

    fn of_digits(digits: &[u8]) -> Self {
        let mut whole = Self { parts: Vec::new() };
        for digit in digits {
            whole.times_plus(10, u32::from(digit - b'0'));
        }
        whole
    }

    fn times_plus(&mut self, factor: u32, more: u32) {
        let mut carried = u64::from(more);
        for part in &mut self.parts {
            let product = u64::from(*part) * u64::from(factor) + carried;
            *part = (product & 0xffff_ffff).try_into().unwrap_or(0);
            carried = product >> 32;
        }
        if carried > 0 {
            self.parts.push(carried.try_into().unwrap_or(0));
        }
    }

    /// Times a small number to a power.
    fn times_power(&mut self, base: u32, power: i64) {
        // 5^13 and 2^31 are the largest that fit one part.
        let (most, largest) = match base {
            5 => (13, 1_220_703_125),
            _ => (31, 1 << 31),
        };
        for _ in 0..power / most {
            self.times_plus(largest, 0);
        }
        for _ in 0..power % most {
            self.times_plus(base, 0);
        }
    }

    fn compare(&self, other: &Self) -> Ordering {
        let lengths = self.parts.len().cmp(&other.parts.len());
        lengths.then_with(|| self.parts.iter().rev().cmp(other.parts.iter().rev()))
    }
}
