//! What cards and families have in common: trouble codes, colours, signal points, curves.
//!
//! In: fields. Out: typed values and findings. The shape of codes stands in `codes`,
//! colours in `colours`.

use super::codes::is_code;
use super::colours::COLOURS;
use super::fields::{Fields, doubled};
use super::{Curve, Placed, SignalPoint};
use crate::finding::{Finding, kinds};
use crate::quantity::{Dimension, Interval, Quantity, dimension_of, read_quantity};
use std::collections::BTreeMap;

/// Reads `codes`: upper case, in the shape of SAE J2012.
pub(super) fn read_codes(fields: &Fields<'_>, findings: &mut Vec<Finding>) -> Vec<Placed<String>> {
    let mut codes = Vec::new();
    for typed in fields.texts("codes", findings) {
        if is_code(&typed.value) {
            codes.push(typed);
            continue;
        }
        match code_meant(&typed.value) {
            Some(value) => {
                findings.push(kinds::code_spelling(&typed.place, &typed.value, &value));
                codes.push(Placed { value, ..typed });
            }
            None => findings.push(kinds::no_code(&typed.place, &typed.value)),
        }
    }
    doubled(&codes, |code, first| {
        findings.push(kinds::doubled_code(&code.place, &code.value, first));
    });
    codes
}

/// The code meant by small letters, spaces, hyphens, or a letter O or I for a digit.
fn code_meant(typed: &str) -> Option<String> {
    let bare = typed.to_uppercase().replace([' ', '-', '_', '.'], "");
    let mut letters = bare.chars();
    let system = letters.next()?;
    let digits = letters.map(|letter| match letter {
        'O' => '0',
        'I' | 'L' => '1',
        other => other,
    });
    let code: String = std::iter::once(system).chain(digits).collect();
    is_code(&code).then_some(code)
}

/// Checks a wire's letters.
pub(super) fn check_colour(typed: &Placed<String>, findings: &mut Vec<Finding>) {
    if !is_colour(&typed.value) {
        let meant = colour_meant(&typed.value);
        findings.push(kinds::unknown_colour(
            &typed.place,
            &typed.value,
            meant.as_deref(),
        ));
    }
}

fn is_colour(text: &str) -> bool {
    let pairs = text.as_bytes().chunks(2);
    !text.is_empty()
        && pairs
            .into_iter()
            .all(|pair| COLOURS.iter().any(|one| one.letters.as_bytes() == pair))
}

/// The letters for words, other abbreviations, small letters or letters with signs between them.
fn colour_meant(typed: &str) -> Option<String> {
    let joined = typed.to_uppercase().replace(['/', '-', ' ', '+', ','], "");
    if is_colour(&joined) {
        return Some(joined);
    }
    let letters = |word: &str| {
        let word = word.to_lowercase();
        let known = COLOURS.iter().find(|one| {
            one.letters.to_lowercase() == word
                || one.word == word
                || one.also.contains(&word.as_str())
        });
        known.map(|one| one.letters)
    };
    let words = typed.split(|letter: char| !letter.is_alphabetic());
    let words: Option<Vec<&str>> = words.filter(|word| !word.is_empty()).map(letters).collect();
    words
        .map(|words| words.concat())
        .filter(|words| !words.is_empty())
}

/// Reads `signal`: where it is, what it reads there.
pub(super) fn read_signal(fields: &Fields<'_>, findings: &mut Vec<Finding>) -> Vec<SignalPoint> {
    let mut points = Vec::new();
    for node in fields.list("signal", findings) {
        let known = &["at", "reads", "also"];
        let Some(given) = Fields::of(node, "a signal point", known, findings) else {
            continue;
        };
        let reads = given.interval("reads", Dimension::Voltage, findings);
        if let Some(at) = given.required("at", "at: valve closed", findings) {
            points.push(SignalPoint {
                at_quantity: quantity(&at.value),
                at,
                reads,
                also: read_also(&given, findings),
            });
        }
    }
    doubled(points.iter().map(|point| &point.at), |at, first| {
        findings.push(kinds::doubled_signal_point(&at.place, &at.value, first));
    });
    points
}

/// Reads `also`: what other signal pins of the part read at the same point, by role.
fn read_also(
    fields: &Fields<'_>,
    findings: &mut Vec<Finding>,
) -> BTreeMap<String, Placed<Interval>> {
    let mut also = BTreeMap::new();
    let Some(given) = fields
        .get("also")
        .and_then(|node| Fields::unchecked(node, "readings of other pins", findings))
    else {
        return also;
    };
    for (at, entry) in given.entries().iter().enumerate() {
        if let Some(first) = given.earlier(at) {
            findings.push(kinds::doubled_key(&entry.place, &entry.key, &first.place));
        } else if let Some(reads) = given.interval(&entry.key, Dimension::Voltage, findings) {
            also.insert(entry.key.clone(), reads);
        }
    }
    also
}

/// A text that is a quantity with a unit; a plain number is none.
fn quantity(text: &str) -> Option<Quantity> {
    let dimension = dimension_of(text)?;
    let plain = text.trim().ends_with(|last: char| last.is_ascii_digit());
    let read = read_quantity(text, dimension).ok()?;
    (dimension != Dimension::Ratio || !plain).then_some(read)
}

const CURVE_KEYS: &[&str] = &["r25", "beta", "a", "b", "c", "within", "r0"];

/// Reads `curve`: B value, Steinhart-Hart or platinum, told by its keys.
pub(super) fn read_curve(
    fields: &Fields<'_>,
    findings: &mut Vec<Finding>,
) -> Option<Placed<Curve>> {
    let node = fields.get("curve")?;
    let given = Fields::of(node, "a curve", CURVE_KEYS, findings)?;
    let value = if given.get("r0").is_some() {
        let r0 = given.toleranced("r0", Dimension::Resistance, findings)?;
        Curve::Platinum { r0: r0.value }
    } else if given.get("a").is_some() {
        read_steinhart_hart(&given, findings)?
    } else {
        given.required("r25", "r25: 3 kohm ± 5 %", findings)?;
        given.required("beta", "beta: 3950 K ± 1 %", findings)?;
        let r25 = given.toleranced("r25", Dimension::Resistance, findings);
        let beta = given.toleranced("beta", Dimension::TemperatureSpan, findings);
        Curve::Beta {
            r25: r25?.value,
            beta: beta?.value,
        }
    };
    Some(Placed {
        value,
        place: fields.place_of("curve").clone(),
    })
}

fn read_steinhart_hart(given: &Fields<'_>, findings: &mut Vec<Finding>) -> Option<Curve> {
    let mut coefficient = |key: &str, example: &str| {
        given.required(key, example, findings)?;
        let read = given.quantity(key, Dimension::Ratio, findings)?;
        Some(read.value.number)
    };
    let a = coefficient("a", "a: 1.40e-3");
    let b = coefficient("b", "b: 2.37e-4");
    let c = coefficient("c", "c: 9.90e-8");
    let within = given.quantity("within", Dimension::Ratio, findings);
    Some(Curve::SteinhartHart {
        a: a?,
        b: b?,
        c: c?,
        within: within.map_or(0.0, |within| within.value.number.abs()),
    })
}
