//! Units of bench mode's keys: what a reading can be typed in at a test, and at a value that the module works out.
//!
//! In: a test, a scan value's kind. Out: units with bars between them, the usual one first; an empty one stands for what
//! the tool shows without any.

use crate::card::ScanKind;
use crate::quantity::Dimension;
use crate::report::words::nominal;
use crate::sheet::{Sheet, TestSheet};

/// Units that are usual, in the order of their keys: volts, the second choice for what a tool shows, behind.
const USUAL: [&str; 10] = ["C", "F", "%", "Hz", "ohm", "kohm", "mA", "A", "V", "mV"];

/// Words after a number that go on with the sentence, and are no unit.
const NO_UNITS: [&str; 12] = [
    "or", "and", "while", "until", "when", "whenever", "if", "for", "with", "then", "all", "at",
];

/// Units a reading of this test can be typed in, the one in which a good circuit is read first.
pub(super) fn of_test(sheet: &Sheet, test: &TestSheet) -> String {
    let usual = test.expected.first().and_then(|one| nominal(&one.band));
    let usual = usual.unwrap_or_default().abs();
    let units = match test.dimension {
        Dimension::Voltage if test.scan.is_some() && !sheet.shown.is_empty() => "C|F|V",
        Dimension::Voltage if test.scan.is_some() => "V",
        Dimension::Voltage => "V|mV",
        Dimension::Resistance if usual >= 1000.0 => "kohm|ohm",
        Dimension::Resistance => "ohm|kohm",
        Dimension::Current => "mA|A",
        other => other.base_unit(),
    };
    units.to_owned()
}

/// Units of a value that the module works out: the tool's own, told by what it shows in place of the value, then volts.
pub(super) fn of_derived(sheet: &Sheet, kind: &ScanKind) -> Option<String> {
    let ScanKind::Derived { substitute, .. } = kind else {
        return None;
    };
    let own = substitute.as_deref().and_then(unit_shown);
    let in_degrees = !sheet.shown.is_empty();
    let units = match own.as_deref() {
        Some("F") if in_degrees => "F|C|V".to_owned(),
        Some("C") | None if in_degrees => "C|F|V".to_owned(),
        Some("V") => "V".to_owned(),
        own => format!("{}|V", own.unwrap_or_default()),
    };
    Some(units)
}

/// The unit of what a tool shows: `kPa` of `shows 0 kPa`; empty for a bare number, none where no number is told.
fn unit_shown(words: &str) -> Option<String> {
    let digit = words.find(|letter: char| letter.is_ascii_digit())?;
    let number = |letter: char| letter.is_ascii_digit() || letter == '.';
    let rest = words[digit..].trim_start_matches(number);
    let rest = rest.split([',', ';', '(', '|']).next().unwrap_or_default();
    let is_unit = |word: &&str| !NO_UNITS.contains(word);
    let named = rest.split_whitespace().take_while(is_unit).take(2);
    let named = named.collect::<Vec<_>>().join(" ");
    Some(
        match named.trim_end_matches('.').trim_start_matches('\u{b0}') {
            "deg C" => "C".to_owned(),
            "deg F" => "F".to_owned(),
            unit => unit.to_owned(),
        },
    )
}

/// Every unit once: a tool's own first, the usual ones behind.
pub(super) fn keys<'a>(all: impl Iterator<Item = &'a String>) -> Vec<String> {
    let mut found: Vec<&str> = Vec::new();
    for unit in all
        .filter(|units| !units.is_empty())
        .flat_map(|units| units.split('|'))
    {
        if !found.contains(&unit) {
            found.push(unit);
        }
    }
    let own = found.iter().filter(|unit| !USUAL.contains(unit));
    let usual = USUAL.iter().filter(|unit| found.contains(unit));
    own.chain(usual).map(|unit| (*unit).to_owned()).collect()
}
