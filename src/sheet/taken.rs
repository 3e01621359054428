//! Taken: readings as people type them, `signal-to-ground=5.03 V` or `at-rest@20 C=2.9 V`.
//!
//! In: a sheet and text. Out: [`Taken`] observations, or a [`Mistaken`] that names what there is. Never:
//! a guess between two tests, states or units.

use super::carried::is_one_point;
use super::shown::volts_shown;
use super::types::Sheet;
use crate::circuit::Observe;
use crate::finding::nearest;
use crate::quantity::{Dimension, read_quantity};
use crate::reason::{Observation, Observed, ProbeKind};

/// A reading taken, with the words it was typed in.
#[derive(Clone, Debug, PartialEq)]
pub struct Taken {
    /// What it says to reasoning.
    pub observation: Observation,
    /// The reading as typed, with the unit it was taken in.
    pub typed: String,
}

/// Why a typed reading could not be taken.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Mistaken {
    /// What is wrong: "no test is named `suply`".
    pub says: String,
    /// The nearest right name, where one is near.
    pub near: Option<String>,
    /// All right names, where one of them was asked for.
    pub all: Vec<String>,
}

/// Takes `TEST=READING` or `TEST@STATE=READING`.
///
/// # Errors
/// No such test or state, a state missing where the test has several, a reading that can't be read.
pub fn take(sheet: &Sheet, typed: &str) -> Result<Taken, Mistaken> {
    let Some((place, reading)) = typed.split_once('=') else {
        return Err(plain(format!(
            "`{typed}` has no `=`: write TEST=READING, such as {}",
            example(sheet)
        )));
    };
    take_at(sheet, probe_named(sheet, place)?, reading)
}

/// Takes a reading at a place as [`place_name`] gives it: `supply`, `at-rest@20 C`.
///
/// # Errors
/// As [`take`].
pub fn take_named(sheet: &Sheet, place: &str, typed: &str) -> Result<Taken, Mistaken> {
    take_at(sheet, probe_named(sheet, place)?, typed)
}

/// The probe of a place as [`place_name`] gives it.
///
/// # Errors
/// No such test or state, or a state missing where the test has several.
pub fn place_named(sheet: &Sheet, place: &str) -> Result<usize, Mistaken> {
    probe_named(sheet, place)
}

/// A meter zeroed with worse contact than it has now shows up to this much less than nothing, ohm. Common practice, no
/// source.
const ZEROED: f64 = 1.0;

/// Takes a reading at a probe: `5.03 V`, `5.03`, `12k`, `OL`, `no change`, `cannot measure`, `drifts`.
///
/// Half of the last digit typed is how far the number is known.
///
/// # Errors
/// A reading that can't be read, or that a test of this kind can't give.
pub fn take_at(sheet: &Sheet, probe: usize, typed: &str) -> Result<Taken, Mistaken> {
    let typed = typed.trim();
    let asked = Asked::of(sheet, probe)?;
    let word = typed.to_ascii_lowercase();
    let (reading, typed) = match word.as_str() {
        "cannot measure" | "can't measure" | "not measured" => (Observed::CannotMeasure, word),
        "no change" if asked.scan => (Observed::NoChange, word),
        "ol" | "0l" | "o.l" | "no path" | "overload"
            if asked.dimension == Dimension::Resistance =>
        {
            (Observed::NoPath, "OL".to_owned())
        }
        "floating" | "drifting" | "drifts" if asked.dimension == Dimension::Voltage => {
            (Observed::Floating, "drifts".to_owned())
        }
        _ => number(&asked, &sheet.shown, typed)?,
    };
    Ok(Taken {
        observation: Observation { probe, reading },
        typed,
    })
}

/// `at-rest@20 C`, or the test alone where it has one state.
pub fn place_name(sheet: &Sheet, probe: usize) -> String {
    match sheet.reasoning.signatures.probes.get(probe) {
        Some(probe) if probe.state.is_empty() => probe.test.clone(),
        Some(probe) => format!("{}@{}", probe.test, bare(&probe.state)),
        None => String::new(),
    }
}

fn example(sheet: &Sheet) -> String {
    let test = sheet.tests.first().map_or("supply", |test| &test.id);
    format!("`{test}=5.03 V`")
}

fn plain(says: String) -> Mistaken {
    Mistaken {
        says,
        ..Mistaken::default()
    }
}

/// A name nobody knows, with those there are.
fn unknown(says: String, typed: &str, all: Vec<String>) -> Mistaken {
    Mistaken {
        says,
        near: nearest(typed, all.iter().map(String::as_str)).map(str::to_owned),
        all,
    }
}

/// The probe that `test` or `test@state` names.
pub(super) fn probe_named(sheet: &Sheet, place: &str) -> Result<usize, Mistaken> {
    let (test, state) = match place.split_once('@') {
        Some((test, state)) => (test.trim(), Some(state.trim())),
        None => (place.trim(), None),
    };
    let probes = &sheet.reasoning.signatures.probes;
    let own: Vec<usize> = (0..probes.len())
        .filter(|probe| probes[*probe].test == test)
        .collect();
    let [first, others @ ..] = own.as_slice() else {
        let all = sheet.tests.iter().map(|test| test.id.clone()).collect();
        return Err(unknown(format!("no test is named `{test}`"), test, all));
    };
    let states = || own.iter().map(|probe| bare(&probes[*probe].state));
    let named = || states().filter(|state| !state.is_empty()).collect();
    match state {
        None if others.is_empty() || probes[*first].state.is_empty() => Ok(*first),
        None => Err(Mistaken {
            says: format!("`{test}` is read in several states: write {test}@STATE=READING"),
            near: None,
            all: named(),
        }),
        Some(state) => {
            let is_it = |known: String| same(&known, state) || is_one_point(&known, state);
            let found = states().position(is_it);
            found
                .map(|at| own[at])
                .or_else(|| {
                    own.iter()
                        .copied()
                        .find(|at| is_first_value(sheet, *at, state))
                })
                .ok_or_else(|| unknown(format!("`{test}` has no state `{state}`"), state, named()))
        }
    }
}

/// Whether a state names the scan value that a test watches first, which need not be named: `20 C, Gate volts`.
fn is_first_value(sheet: &Sheet, probe: usize, typed: &str) -> bool {
    let watched = sheet.test_at(probe).and_then(|test| test.scan.as_deref());
    let state = &sheet.reasoning.signatures.probes[probe].state;
    let full = |watched: &str| match state.is_empty() {
        true => watched.to_owned(),
        false => format!("{state}, {watched}"),
    };
    !state.contains("by \u{201c}") && watched.is_some_and(|watched| same(&full(watched), typed))
}

/// A state as one types it: `20 C, by “Ramp angle”` is `20 C, Ramp angle`.
pub(super) fn bare(state: &str) -> String {
    let parts = state.split(", ").map(|part| {
        let name = part.strip_prefix("by \u{201c}");
        name.and_then(|name| name.strip_suffix('\u{201d}'))
            .unwrap_or(part)
    });
    parts.collect::<Vec<_>>().join(", ")
}

/// Alike but for case, spaces, quotes and the word before a scan value's name.
fn same(known: &str, typed: &str) -> bool {
    let squeezed = |text: &str| -> String {
        bare(text)
            .chars()
            .map(lower)
            .filter(|letter| {
                !letter.is_whitespace() && !matches!(letter, '"' | '\u{201c}' | '\u{201d}' | '°')
            })
            .collect()
    };
    squeezed(known) == squeezed(typed)
}

/// The small letter of Latin, Greek and Cyrillic capitals. (The whole of Unicode would be four kilobytes
/// of the engine in a phone.)
fn lower(letter: char) -> char {
    let distance = match letter {
        'A'..='Z' | '\u{c0}'..='\u{d6}' | '\u{d8}'..='\u{de}' => 32,
        '\u{391}'..='\u{3a9}' | '\u{410}'..='\u{42f}' => 32,
        '\u{400}'..='\u{40f}' => 80,
        _ => 0,
    };
    char::from_u32(u32::from(letter) + distance).unwrap_or(letter)
}

/// What a probe asks for.
struct Asked {
    dimension: Dimension,
    scan: bool,
    derived: bool,
}

impl Asked {
    fn of(sheet: &Sheet, probe: usize) -> Result<Self, Mistaken> {
        let reasoning = &sheet.reasoning;
        let known = reasoning.signatures.probes.get(probe);
        let test = reasoning
            .of_test
            .get(probe)
            .and_then(|at| sheet.tests.get(*at));
        let (Some(known), Some(test)) = (known, test) else {
            return Err(plain("there is no such reading".to_owned()));
        };
        Ok(Self {
            dimension: test.dimension,
            scan: matches!(known.hookup.observe, Observe::Scan { .. }),
            derived: matches!(known.kind, ProbeKind::Derived { .. }),
        })
    }

    fn wanted(&self) -> &'static str {
        match (self.dimension, self.scan) {
            (Dimension::Resistance, _) => "`2.8 kohm`, `OL` or `cannot measure`",
            (_, true) => {
                "the voltage that the scan tool shows for this pin, `5.03 V`, `no change` or `cannot measure`"
            }
            (Dimension::Voltage, _) => "`5.03 V`, `drifts` or `cannot measure`",
            (Dimension::Current, _) => "`7.1 mA` or `cannot measure`",
            _ => "a number with its unit or `cannot measure`",
        }
    }
}

fn number(
    asked: &Asked,
    shown: &[(f64, f64)],
    typed: &str,
) -> Result<(Observed, String), Mistaken> {
    // A bare current would be amperes to one and milliamperes to another; a derived value is in the tool's own unit.
    let bare = matches!(asked.dimension, Dimension::Voltage | Dimension::Resistance)
        && !asked.derived
        && typed.ends_with(|last: char| last.is_ascii_digit() || last == '.')
        && !typed.contains(|letter: char| letter.is_ascii_alphabetic());
    let text = if bare {
        format!("{typed} {}", asked.dimension.base_unit())
    } else {
        typed.to_owned()
    };
    let below = text.strip_prefix(['-', '\u{2212}']);
    let below = below.filter(|_| asked.dimension == Dimension::Resistance);
    match read_quantity(below.unwrap_or(&text), asked.dimension) {
        Ok(read) if below.is_some() && ZEROED < read.number => Err(plain(format!(
            "`{text}` is less than nothing: take the power off the circuit, zero the meter and measure again"
        ))),
        Ok(read) if read.number.abs() > most(asked.dimension) => Err(plain(format!(
            "`{text}` is more than any such circuit gives: look at the digits and the unit again"
        ))),
        Ok(read) => {
            let number = read.number;
            let mut within = within(&text, asked.dimension);
            // Nobody types `0` where four tenths stand.
            if number == 0.0 && !text.contains('.') {
                within /= 10.0;
            }
            let number = match below {
                // No less than nothing, and as far from it as that.
                Some(_) => {
                    within += number;
                    0.0
                }
                None => number,
            };
            Ok((Observed::Value { number, within }, text))
        }
        Err(misread) => degrees(asked, shown, typed)
            .or_else(|| as_shown(asked, typed))
            .ok_or_else(|| {
                plain(format!(
                    "`{typed}` can't be taken here: expected {}; {}",
                    asked.wanted(),
                    misread.found
                ))
            }),
    }
}

/// More than this no meter is meant to read at a sensor's pins: the measuring range of category II hand-held meters in
/// volts, and beyond what they show in the rest (common practice, no source).
fn most(dimension: Dimension) -> f64 {
    match dimension {
        Dimension::Voltage => 1000.0,
        Dimension::Resistance => 1e9,
        Dimension::Current => 1000.0,
        _ => f64::INFINITY,
    }
}

/// A derived value may be shown in any unit; one that is no voltage is told as typed and held against nothing.
fn as_shown(asked: &Asked, typed: &str) -> Option<(Observed, String)> {
    let has_digit = typed.contains(|letter: char| letter.is_ascii_digit());
    let value = Observed::Value {
        number: f64::NAN,
        within: 0.0,
    };
    (asked.derived && has_digit).then(|| (value, typed.to_owned()))
}

/// A value that the tool shows in degrees, as the volts it stands for.
fn degrees(asked: &Asked, shown: &[(f64, f64)], typed: &str) -> Option<(Observed, String)> {
    let dimension = Dimension::Temperature;
    let celsius = read_quantity(typed, dimension)
        .ok()
        .filter(|_| asked.scan)?;
    let half = within(typed, dimension);
    let (number, within) = volts_shown(shown, celsius.number, half)?;
    Some((Observed::Value { number, within }, typed.to_owned()))
}

/// Half of the last digit typed, in base units: the same text with that digit alone left as a 1.
fn within(text: &str, dimension: Dimension) -> f64 {
    let exponent = text
        .char_indices()
        .zip(text.chars().skip(1))
        .find(|((at, letter), next)| {
            matches!(letter, 'e' | 'E')
                && text[..*at].ends_with(|before: char| before.is_ascii_digit())
                && matches!(next, '+' | '-' | '0'..='9')
        })
        .map_or(text.len(), |((at, _), _)| at);
    let (mantissa, rest) = text.split_at(exponent);
    let Some(last) = mantissa.rfind(|letter: char| letter.is_ascii_digit()) else {
        return 0.0;
    };
    let with = |digit: char| {
        let shown = mantissa.char_indices().map(|(at, letter)| match letter {
            _ if at == last => digit,
            '1'..='9' => '0',
            // A sign would turn the step round.
            '-' | '\u{2212}' => '+',
            letter => letter,
        });
        let text: String = shown.chain(rest.chars()).collect();
        read_quantity(&text, dimension).map(|read| read.number)
    };
    match (with('1'), with('0')) {
        (Ok(one), Ok(none)) => (one - none).abs() / 2.0,
        _ => 0.0,
    }
}
