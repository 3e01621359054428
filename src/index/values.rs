//! Numbers with units as search knows them: every way of writing one value becomes one word.
//!
//! `4.7 kohm`, `4k7` and `4700 ohms` are all `4700ohm`. Digits are moved, never computed with. Wider than
//! the units of a card, since people also search for `3 pin` and `12 volts`; and blind to letter case but
//! for the one prefix where it tells a million from a thousandth.

/// Spellings in small letters, the unit they stand for, and the power of ten.
const UNITS: &[(&str, &str, i32)] = &[
    ("v", "v", 0),
    ("volt", "v", 0),
    ("volts", "v", 0),
    ("vdc", "v", 0),
    ("mv", "v", -3),
    ("millivolt", "v", -3),
    ("millivolts", "v", -3),
    ("kv", "v", 3),
    ("ohm", "ohm", 0),
    ("ohms", "ohm", 0),
    ("k", "ohm", 3),
    ("kohm", "ohm", 3),
    ("kohms", "ohm", 3),
    ("kiloohm", "ohm", 3),
    ("kilohm", "ohm", 3),
    ("kilohms", "ohm", 3),
    ("mohm", "ohm", -3),
    ("milliohm", "ohm", -3),
    ("milliohms", "ohm", -3),
    ("megohm", "ohm", 6),
    ("a", "a", 0),
    ("amp", "a", 0),
    ("amps", "a", 0),
    ("ma", "a", -3),
    ("milliamp", "a", -3),
    ("milliamps", "a", -3),
    ("ua", "a", -6),
    ("w", "w", 0),
    ("watt", "w", 0),
    ("watts", "w", 0),
    ("kw", "w", 3),
    ("hz", "hz", 0),
    ("khz", "hz", 3),
    ("mhz", "hz", 6),
    ("rpm", "rpm", 0),
    ("pa", "pa", 0),
    ("kpa", "pa", 3),
    ("mpa", "pa", 6),
    ("bar", "bar", 0),
    ("mbar", "bar", -3),
    ("psi", "psi", 0),
    ("c", "c", 0),
    ("degc", "c", 0),
    ("celsius", "c", 0),
    ("f", "f", 0),
    ("degf", "f", 0),
    ("deg", "deg", 0),
    ("degree", "deg", 0),
    ("degrees", "deg", 0),
    ("%", "%", 0),
    ("percent", "%", 0),
    ("mm", "m", -3),
    ("cm", "m", -2),
    ("m", "m", 0),
    ("mm2", "mm2", 0),
    ("awg", "awg", 0),
    ("ms", "s", -3),
    ("pin", "pin", 0),
    ("pins", "pin", 0),
    ("way", "pin", 0),
    // A sensor of three wires has three pins.
    ("wire", "pin", 0),
    ("wires", "pin", 0),
];

/// A number in small letters, digits with at most one point, and the unit behind it; `mega` where that
/// began with a capital M.
pub(super) fn value(number: &str, unit: &str, mega: bool) -> Option<String> {
    let (_, unit, power) = *UNITS.iter().find(|(spelling, ..)| *spelling == unit)?;
    let power = if mega && power == -3 { 6 } else { power };
    Some(format!("{}{unit}", moved(number, power)?))
}

/// A word that holds a number and its unit: `120ohm`, `4k7`, `2r2`.
pub(super) fn joined(word: &str, mega: bool) -> Option<String> {
    let end = word.find(|letter: char| !is_digit(letter))?;
    let (number, rest) = word.split_at(end);
    if number.is_empty() {
        return None;
    }
    let mut letters = rest.chars();
    let (mark, after) = (letters.next()?, letters.as_str());
    if rest == "r" {
        return value(number, "ohm", false);
    }
    if !after.is_empty() && after.bytes().all(|byte| byte.is_ascii_digit()) && !number.contains('.')
    {
        let unit = match mark {
            'r' => "ohm",
            'k' => "kohm",
            _ => return None,
        };
        return value(&format!("{number}.{after}"), unit, false);
    }
    value(number, rest, mega)
}

/// Whether this could still become a unit behind a number.
pub(super) fn begins_unit(start: &str) -> bool {
    UNITS
        .iter()
        .any(|(spelling, ..)| spelling.starts_with(start))
}

/// Pins, where a unit behind a number may still become another word for them: `3 w` on its way to `3 wires`.
pub(super) fn half_pins(typed: &str) -> Option<String> {
    let end = typed.find(|letter: char| !is_digit(letter))?;
    let unit = typed[end..].trim_start().to_ascii_lowercase();
    let goes_on = |(spelling, of, _): &(&str, &str, i32)| {
        *of == "pin" && !unit.is_empty() && spelling.starts_with(unit.as_str())
    };
    UNITS.iter().find(|row| goes_on(row))?;
    value(&typed[..end], "pin", false)
}

/// A value as people write it, with its number apart from its unit.
pub(super) fn shown(value: &str) -> String {
    let end = value.find(|letter: char| !is_digit(letter));
    let (number, unit) = value.split_at(end.unwrap_or(value.len()));
    match unit {
        "" | "%" => value.to_owned(),
        "v" | "a" | "w" | "c" | "f" => format!("{number} {}", unit.to_uppercase()),
        "hz" => format!("{number} Hz"),
        "pa" => format!("{number} Pa"),
        "pin" if number != "1" => format!("{number} pins"),
        _ => format!("{number} {unit}"),
    }
}

/// Digits with at most one point.
pub(super) fn is_number(word: &str) -> bool {
    word.starts_with(|letter: char| letter.is_ascii_digit()) && word.chars().all(is_digit)
}

fn is_digit(letter: char) -> bool {
    letter.is_ascii_digit() || letter == '.'
}

/// The number with its point moved, in plain digits.
pub(super) fn moved(number: &str, power: i32) -> Option<String> {
    let (whole, part) = number.split_once('.').unwrap_or((number, ""));
    let digits: String = [whole, part].concat();
    if digits.is_empty() || digits.len() > 15 || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let power = power - i32::try_from(part.len()).ok()?;
    let trailing = digits.len() - digits.trim_end_matches('0').len();
    let digits = digits.trim_matches('0');
    if digits.is_empty() {
        return Some("0".to_owned());
    }
    // Zeros that were cut off at the end count as powers of ten.
    let power = power + i32::try_from(trailing).ok()?;
    let zeros = usize::try_from(power.unsigned_abs()).ok()?;
    if power >= 0 {
        return Some(format!("{digits}{}", "0".repeat(zeros)));
    }
    match digits.len().checked_sub(zeros) {
        Some(point) if point > 0 => Some(format!("{}.{}", &digits[..point], &digits[point..])),
        _ => Some(format!("0.{}{digits}", "0".repeat(zeros - digits.len()))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_way_of_writing_a_value_is_one_word() {
        for (number, unit, word) in [
            ("4.7", "kohm", "4700ohm"),
            ("4700", "ohms", "4700ohm"),
            ("0.50", "v", "0.5v"),
            ("500", "mv", "0.5v"),
            ("0", "v", "0v"),
            ("120", "ohm", "120ohm"),
            ("0.5", "mm2", "0.5mm2"),
            ("12.60", "volts", "12.6v"),
        ] {
            assert_eq!(value(number, unit, false).as_deref(), Some(word));
        }
        assert_eq!(joined("4k7", false).as_deref(), Some("4700ohm"));
        assert_eq!(joined("2r2", false).as_deref(), Some("2.2ohm"));
        assert_eq!(joined("10k", false).as_deref(), Some("10000ohm"));
        assert_eq!(joined("120r", false).as_deref(), Some("120ohm"));
        assert_eq!(joined("3wire", false).as_deref(), Some("3pin"));
        assert_eq!(value("10", "mohm", true).as_deref(), Some("10000000ohm"));
        assert_eq!(joined("p0405", false), None);
        assert_eq!(joined("12x", false), None);
    }
}
