//! Readings of a card to what they establish.

use super::held::Held;
use super::question::Question;
use super::{Answered, write};
use crate::report::DiagnoseReport;
use crate::sheet::{Mistaken, Taken, in_turn, next_test, place_named, take_named, tell_verdict};
use serde::Serialize;

/// The diagnosis, and the readings that could not be taken.
#[derive(Debug, Serialize)]
struct Diagnosed<'a> {
    diagnosis: DiagnoseReport<'a>,
    wrong: Vec<Wrong>,
}

/// A reading that could not be taken.
#[derive(Debug, Serialize)]
struct Wrong {
    /// Place among the readings.
    at: usize,
    says: String,
    near: Option<String>,
    all: Vec<String>,
}

impl Wrong {
    fn of(at: usize, place: &str, mistaken: Mistaken) -> Self {
        let Mistaken { says, near, all } = mistaken;
        Self {
            at,
            says: match place.split_once('@') {
                Some((_, state)) if !all.is_empty() => format!(
                    "\u{201c}{state}\u{201d} can't be taken here: it is none of the card's points, and beyond what can \
                     be worked out from them."
                ),
                _ => quoted(&says),
            },
            near,
            all,
        }
    }
}

/// Quotes of a page in place of those of a terminal.
fn quoted(says: &str) -> String {
    let mut parts = says.split('`');
    let mut text = parts.next().unwrap_or_default().to_owned();
    for (number, part) in parts.enumerate() {
        text.push(['\u{201c}', '\u{201d}'][number % 2]);
        text.push_str(part);
    }
    text
}

/// What readings establish: the card's text, pairs of place and reading, then places not to be
/// proposed next. A reading that can't be taken is told and left out; of two at one place the later
/// counts.
pub(super) fn diagnose(held: &mut Held, mut asked: Question<'_>) -> Answered {
    let (text, pairs) = (asked.text()?, asked.pairs()?);
    let sheet = held.sheet(text, pairs.iter().map(|(place, _)| *place))?;
    let (mut taken, mut wrong): (Vec<Taken>, Vec<Wrong>) = (Vec::new(), Vec::new());
    for (at, (place, text)) in pairs.into_iter().enumerate() {
        match take_named(sheet, place, text) {
            Ok(one) => {
                taken.retain(|old| old.observation.probe != one.observation.probe);
                taken.push(one);
            }
            Err(mistaken) => wrong.push(Wrong::of(at, place, mistaken)),
        }
    }
    let mut told = tell_verdict(sheet, &taken);
    let skip: Vec<usize> = asked
        .filter_map(|place| place_named(sheet, place).ok())
        .collect();
    if told.fits && !skip.is_empty() {
        told.next = next_test(sheet, &taken, &skip);
    }
    told.in_turn = in_turn(sheet, &taken, &skip);
    let diagnosis = DiagnoseReport::of(sheet, &taken, &told);
    write(&Diagnosed { diagnosis, wrong })
}
