//! The values a calculator works on: every text as typed, read and held against its limits.
//!
//! In: pairs of key and text. Out: an [`Answer`] in which every number is finite, or all refusals at
//! once. Never: a formula.

use super::read::{Read, WireSize, read};
use super::shape::{Answer, Calculator, Input, Refusal, Used};
use crate::quantity::{Dimension, Quantity};

/// The values of one calculation, each within its limits.
#[derive(Debug)]
pub struct Given {
    entries: Vec<Entry>,
}

#[derive(Debug)]
struct Entry {
    input: &'static Input,
    text: String,
    by_default: bool,
    value: Read,
}

/// Answers a calculator's question from texts as people type them.
///
/// An empty text counts as not typed. Defaults stand in for what is not typed.
///
/// # Errors
/// All refusals at once: unknown or doubled keys, texts that can't be read, values outside their
/// limits, needed values that are missing; else the one thing the formula itself has no answer to.
/// Never panics, and no number of an answer is infinite or not a number.
///
/// ```
/// use loomleaf::calc::{by_name, reckon};
/// let divider = by_name("divider").expect("in the table");
/// let answer = reckon(divider, &[("supply", "45"), ("resistors", "5k; 10k; 7.5k")]).expect("sound");
/// assert_eq!(answer.results[0].value.says(), "2 mA");
/// let refused = reckon(divider, &[("supply", "45 A")]).unwrap_err();
/// assert_eq!(refused[0].key, Some("supply"));
/// ```
pub fn reckon(calculator: &Calculator, pairs: &[(&str, &str)]) -> Result<Answer, Vec<Refusal>> {
    let mut refusals = strays(calculator, pairs);
    let mut entries = Vec::new();
    for input in calculator.inputs {
        match entry(calculator, input, pairs) {
            Ok(entry) => entries.extend(entry),
            Err(refusal) => refusals.push(refusal),
        }
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let given = Given { entries };
    let mut answer = (calculator.work)(&given).map_err(|refusal| vec![refusal])?;
    if !answer.results.iter().all(|result| result.value.is_sound()) {
        return Err(vec![Refusal {
            key: None,
            says: "these values together give no finite number".into(),
            hint: "type values nearer to those of the example".into(),
        }]);
    }
    answer.used = given.used();
    Ok(answer)
}

/// Keys that no input has, or that are given twice.
fn strays(calculator: &Calculator, pairs: &[(&str, &str)]) -> Vec<Refusal> {
    let mut refusals = Vec::new();
    for (at, (key, _)) in pairs.iter().enumerate() {
        let earlier = pairs[..at].iter().any(|(other, _)| other == key);
        match calculator.input(key) {
            None => {
                let keys: Vec<&str> = calculator.inputs.iter().map(|input| input.key).collect();
                refusals.push(Refusal {
                    key: None,
                    says: format!("`{}` is no value of {}", short(key), calculator.name),
                    hint: format!("there are: {}", keys.join(", ")),
                });
            }
            Some(input) if earlier => refusals.push(Refusal::of(
                input.key,
                format!("`{key}` is given twice"),
                "keep one of them",
            )),
            Some(_) => {}
        }
    }
    refusals
}

/// What stands for an input: typed, by default, or nothing.
fn entry(
    calculator: &Calculator,
    input: &'static Input,
    pairs: &[(&str, &str)],
) -> Result<Option<Entry>, Refusal> {
    let typed = pairs
        .iter()
        .find(|(key, text)| *key == input.key && !text.trim().is_empty());
    let (text, by_default) = match (typed, input.default) {
        (Some((_, text)), _) => (text.trim(), false),
        (None, Some(default)) => (default, true),
        (None, None) if input.needed => return Err(missing(calculator, input)),
        (None, None) => return Ok(None),
    };
    let value = read(input, text)?;
    Ok(Some(Entry {
        input,
        text: text.to_owned(),
        by_default,
        value,
    }))
}

fn missing(calculator: &Calculator, input: &Input) -> Refusal {
    let example = calculator
        .example
        .iter()
        .find(|(key, _)| *key == input.key)
        .map_or_else(|| "a value".to_owned(), |(_, text)| format!("`{text}`"));
    Refusal::of(
        input.key,
        format!("{} is needed", lower_first(input.label)),
        format!("type it as in {example}"),
    )
}

/// `length, one way` from `Length, one way`; abbreviations such as `R25` stand.
pub(super) fn lower_first(label: &str) -> String {
    let mut letters = label.chars();
    match (letters.next(), letters.next()) {
        (Some(first), Some(second)) if second.is_ascii_lowercase() => {
            std::iter::once(first.to_ascii_lowercase())
                .chain(label.chars().skip(1))
                .collect()
        }
        _ => label.to_owned(),
    }
}

/// The beginning of a text, for messages.
pub(super) fn short(text: &str) -> String {
    const MOST: usize = 60;
    match text.char_indices().nth(MOST) {
        Some((end, _)) => format!("{}…", &text[..end]),
        None => text.to_owned(),
    }
}

impl Given {
    fn entry(&self, key: &str) -> Option<&Entry> {
        self.entries.iter().find(|entry| entry.input.key == key)
    }

    /// The number of a value in base units, a plain number or a count; none where nothing stands.
    pub(super) fn get(&self, key: &str) -> Option<f64> {
        match &self.entry(key)?.value {
            Read::Quantity(quantity) => Some(quantity.number),
            Read::Number(number) => Some(*number),
            _ => None,
        }
    }

    /// As [`Given::get`], refused where nothing stands.
    pub(super) fn need(&self, key: &'static str) -> Result<f64, Refusal> {
        self.get(key).ok_or_else(|| lacking(key))
    }

    /// A value with its dimension.
    pub(super) fn quantity(&self, key: &str) -> Option<Quantity> {
        match &self.entry(key)?.value {
            Read::Quantity(quantity) => Some(*quantity),
            _ => None,
        }
    }

    /// As [`Given::quantity`], refused where nothing stands.
    pub(super) fn need_quantity(&self, key: &'static str) -> Result<Quantity, Refusal> {
        self.quantity(key).ok_or_else(|| lacking(key))
    }

    /// Several values of one dimension.
    pub(super) fn list(&self, key: &'static str) -> Result<(&[f64], Dimension), Refusal> {
        match self.entry(key).map(|entry| &entry.value) {
            Some(Read::List(numbers, dimension)) => Ok((numbers, *dimension)),
            _ => Err(lacking(key)),
        }
    }

    /// A conductor's size.
    pub(super) fn size(&self, key: &'static str) -> Result<&WireSize, Refusal> {
        match self.entry(key).map(|entry| &entry.value) {
            Some(Read::Size(size)) => Ok(size),
            _ => Err(lacking(key)),
        }
    }

    /// The word chosen; empty where none is.
    pub(super) fn choice(&self, key: &str) -> &'static str {
        match self.entry(key).map(|entry| &entry.value) {
            Some(Read::Choice(word)) => word,
            _ => "",
        }
    }

    /// As typed, or the default's text; empty where nothing stands.
    pub(super) fn text(&self, key: &str) -> &str {
        self.entry(key).map_or("", |entry| entry.text.as_str())
    }

    /// Whether it was typed, not put in by default.
    pub(super) fn is_typed(&self, key: &str) -> bool {
        self.entry(key).is_some_and(|entry| !entry.by_default)
    }

    /// The one of these inputs that stands, with its number.
    ///
    /// Refused where none of them stands, or more than one.
    pub(super) fn one_of(
        &self,
        keys: &'static [&'static str],
    ) -> Result<(&'static str, f64), Refusal> {
        let mut standing = keys
            .iter()
            .filter_map(|key| self.get(key).map(|number| (*key, number)));
        match (standing.next(), standing.next()) {
            (Some(one), None) => Ok(one),
            (Some((first, _)), Some((second, _))) => Err(Refusal::of(
                second,
                format!("`{first}` and `{second}` are both given, and one follows from the other"),
                format!("leave `{first}` or `{second}` empty"),
            )),
            (None, _) => Err(Refusal {
                key: keys.first().copied(),
                says: format!("one of {} is needed", keys.join(", ")),
                hint: "type the one you know".into(),
            }),
        }
    }

    fn used(&self) -> Vec<Used> {
        let used = self.entries.iter().map(|entry| Used {
            key: entry.input.key,
            label: entry.input.label,
            text: entry.text.clone(),
            by_default: entry.by_default,
        });
        used.collect()
    }
}

fn lacking(key: &'static str) -> Refusal {
    Refusal::of(key, format!("`{key}` is needed here"), "type it")
}
