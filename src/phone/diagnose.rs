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
    fn of(at: usize, mistaken: Mistaken) -> Self {
        let Mistaken { says, near, all } = mistaken;
        Self {
            at,
            says,
            near,
            all,
        }
    }
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
            Err(mistaken) => wrong.push(Wrong::of(at, mistaken)),
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
