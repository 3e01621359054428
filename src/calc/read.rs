//! Reading one input's text by its kind, within its limits.
//!
//! In: an input and a text as typed. Out: a value within the limits, or a refusal that names the input.

use super::given::{lower_first, short};
use super::shape::{Alternative, Input, Kind, Refusal, shown};
use crate::quantity::{Dimension, Misread, Quantity, dimension_of, read_quantity, write_number};

/// Longest text taken for one value, bytes.
const LONGEST: usize = 300;
/// Longest text taken for a list of values, bytes.
const LONGEST_LIST: usize = 20_000;
/// The sizes of conductors, square metres: thinner than 40 AWG to thicker than any vehicle cable.
const SIZES: (f64, f64) = (1e-9, 1e-3);

/// A value as read.
#[derive(Debug)]
pub(super) enum Read {
    Quantity(Quantity),
    List(Vec<f64>, Dimension),
    Size(WireSize),
    Number(f64),
    Choice(&'static str),
    Words,
}

/// A conductor's size as typed.
#[derive(Debug)]
pub(super) struct WireSize {
    /// Square metres.
    pub(super) area: f64,
    /// Whether it was typed as a wire gauge.
    pub(super) is_gauge: bool,
    /// As typed.
    pub(super) text: String,
}

/// Reads a text for an input.
pub(super) fn read(input: &Input, text: &str) -> Result<Read, Refusal> {
    let longest = match input.kind {
        Kind::List { .. } => LONGEST_LIST,
        _ => LONGEST,
    };
    if text.len() > longest {
        return Err(too_long(input, text));
    }
    match input.kind {
        Kind::Quantity {
            dimension,
            low,
            high,
        } => one(input, text, &[dimension], (low, high)).map(Read::Quantity),
        Kind::Any {
            dimensions,
            low,
            high,
        } => one(input, text, dimensions, (low, high)).map(Read::Quantity),
        Kind::List {
            dimensions,
            low,
            high,
            least,
            most,
        } => list(input, text, dimensions, (low, high), (least, most)),
        Kind::WireSize => size(input, text),
        Kind::Number { low, high } => number(input, text, (low, high)),
        Kind::Count { low, high } => count(input, text, (low, high)),
        Kind::Choice(words) => choice(input, text, words),
        Kind::Words(most) => words(input, text, most),
    }
}

fn refused(input: &Input, says: impl Into<String>, hint: impl Into<String>) -> Refusal {
    Refusal::of(input.key, says, hint)
}

fn too_long(input: &Input, text: &str) -> Refusal {
    let says = format!("expected a short text, found {} bytes", text.len());
    refused(input, says, "type the value alone")
}

/// A number without unit.
fn is_bare(text: &str) -> bool {
    let part = |letter: char| {
        letter.is_ascii_digit() || matches!(letter, '.' | ',' | '+' | '-' | '\u{2212}' | 'e' | 'E')
    };
    text.contains(|letter: char| letter.is_ascii_digit()) && text.chars().all(part)
}

/// One value of one of these dimensions, within its limits.
fn one(
    input: &Input,
    text: &str,
    dimensions: &[Dimension],
    (low, high): (f64, f64),
) -> Result<Quantity, Refusal> {
    let quantity = unchecked(input, text, dimensions)?;
    if (low..=high).contains(&quantity.number) {
        return Ok(quantity);
    }
    let dimension = quantity.dimension;
    Err(refused(
        input,
        format!(
            "expected {} from {} to {}, found `{text}`",
            dimension.name(),
            shown(low, dimension),
            shown(high, dimension)
        ),
        "type a value in that range",
    ))
}

fn unchecked(input: &Input, text: &str, dimensions: &[Dimension]) -> Result<Quantity, Refusal> {
    let with_unit;
    let text = match (is_bare(text), input.unit) {
        (true, "") => {
            return Err(refused(
                input,
                format!("`{text}` has no unit"),
                format!("type it with its unit, such as {}", examples(dimensions)),
            ));
        }
        (true, unit) => {
            with_unit = format!("{text} {unit}");
            &with_unit
        }
        (false, _) => text,
    };
    let read = |dimension: &Dimension| read_quantity(text, *dimension);
    if let Some(quantity) = dimensions.iter().find_map(|one| read(one).ok()) {
        return Ok(quantity);
    }
    // The message is about the dimension that the unit tells, if it is one of these.
    let told = dimension_of(text).filter(|told| dimensions.contains(told));
    let about = told.or_else(|| dimensions.first().copied());
    match about.map(|dimension| read_quantity(text, dimension)) {
        Some(Err(misread)) => Err(misread_as(input, &misread, dimensions)),
        _ => Err(refused(
            input,
            format!("`{text}` can't be read"),
            "type a value with its unit",
        )),
    }
}

fn misread_as(input: &Input, misread: &Misread, dimensions: &[Dimension]) -> Refusal {
    let expected = match dimensions {
        [_] => misread.expected.clone(),
        several => {
            let names: Vec<&str> = several.iter().map(|one| one.name()).collect();
            format!("one of {}", names.join(", "))
        }
    };
    let hint = match &misread.correction {
        Some(meant) => format!("did you mean `{meant}`?"),
        None => format!("type it as in {}", examples(dimensions)),
    };
    let says = format!("expected {expected}, found {}", misread.found);
    refused(input, says, hint)
}

fn examples(dimensions: &[Dimension]) -> String {
    let examples: Vec<&str> = dimensions.iter().take(3).map(|one| one.example()).collect();
    examples.join(" or ")
}

fn list(
    input: &Input,
    text: &str,
    dimensions: &[Dimension],
    limits: (f64, f64),
    (least, most): (usize, usize),
) -> Result<Read, Refusal> {
    let pieces = split(text);
    if !(least..=most).contains(&pieces.len()) {
        return Err(refused(
            input,
            format!("expected {least} to {most} values, found {}", pieces.len()),
            "separate the values by ; as in 4.52 V; 4.55 V",
        ));
    }
    if let Some(long) = pieces.iter().find(|piece| piece.len() > LONGEST) {
        return Err(too_long(input, long));
    }
    let last = pieces.last().copied().unwrap_or("");
    let unit = last.trim_start_matches(part_of_number);
    let with_unit = |piece: &str| match is_bare(piece) {
        true => format!("{piece} {}", unit.trim()).trim().to_owned(),
        false => piece.to_owned(),
    };
    let first = one(input, &with_unit(pieces[0]), dimensions, limits)?;
    let same = [first.dimension];
    let numbers: Result<Vec<f64>, Refusal> = pieces
        .iter()
        .map(|piece| one(input, &with_unit(piece), &same, limits).map(|read| read.number))
        .collect();
    Ok(Read::List(numbers?, first.dimension))
}

fn part_of_number(letter: char) -> bool {
    letter.is_ascii_digit() || matches!(letter, '.' | ',' | '+' | '-' | '\u{2212}')
}

/// Pieces between `;`, line ends, and commas that are no decimal mark.
fn split(text: &str) -> Vec<&str> {
    let digit = |letter: Option<char>| letter.is_some_and(|letter| letter.is_ascii_digit());
    let mut pieces = Vec::new();
    let mut start = 0;
    for (at, letter) in text.char_indices() {
        let decimal =
            || digit(text[..at].chars().next_back()) && digit(text[at + 1..].chars().next());
        if matches!(letter, ';' | '\n') || letter == ',' && !decimal() {
            pieces.push(&text[start..at]);
            start = at + 1;
        }
    }
    pieces.push(&text[start..]);
    let full = pieces.into_iter().map(str::trim);
    full.filter(|piece| !piece.is_empty()).collect()
}

fn size(input: &Input, text: &str) -> Result<Read, Refusal> {
    // 10 mm2 is nearly twice 10 AWG: a number alone is never taken for either.
    if is_bare(text) {
        return Err(refused(
            input,
            format!("`{text}` can be mm2 or a gauge"),
            format!("type `{text} mm2` or `{text} AWG`"),
        ));
    }
    let quantity = one(input, text, &[Dimension::Area], SIZES)?;
    Ok(Read::Size(WireSize {
        area: quantity.number,
        is_gauge: text.to_ascii_uppercase().contains("AWG"),
        text: text.to_owned(),
    }))
}

fn number(input: &Input, text: &str, (low, high): (f64, f64)) -> Result<Read, Refusal> {
    let read = match is_bare(text) {
        true => read_quantity(text, Dimension::Ratio).ok(),
        false => None,
    };
    match read {
        Some(read) if (low..=high).contains(&read.number) => Ok(Read::Number(read.number)),
        _ => Err(refused(
            input,
            format!(
                "expected a plain number from {} to {}, found `{text}`",
                write_number(low),
                write_number(high)
            ),
            format!(
                "type {} as a number in that range",
                lower_first(input.label)
            ),
        )),
    }
}

fn count(input: &Input, text: &str, (low, high): (u32, u32)) -> Result<Read, Refusal> {
    match text.parse::<u32>() {
        Ok(count) if (low..=high).contains(&count) => Ok(Read::Number(f64::from(count))),
        _ => Err(refused(
            input,
            format!("expected a whole number from {low} to {high}, found `{text}`"),
            "type a whole number in that range",
        )),
    }
}

fn choice(input: &Input, text: &str, words: &[Alternative]) -> Result<Read, Refusal> {
    let typed = text.to_ascii_lowercase().replace([' ', '_'], "-");
    match words.iter().find(|word| word.key == typed) {
        Some(word) => Ok(Read::Choice(word.key)),
        None => {
            let keys: Vec<&str> = words.iter().map(|word| word.key).collect();
            Err(refused(
                input,
                format!(
                    "expected one of {}, found `{}`",
                    keys.join(", "),
                    short(text)
                ),
                "type one of these words",
            ))
        }
    }
}

fn words(input: &Input, text: &str, most: usize) -> Result<Read, Refusal> {
    if text.chars().count() > most || text.contains(char::is_control) {
        return Err(refused(
            input,
            format!("expected at most {most} characters on one line"),
            "shorten it",
        ));
    }
    Ok(Read::Words)
}
