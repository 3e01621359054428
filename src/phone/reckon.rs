//! Values typed into a calculator to its answer.

use super::question::Question;
use super::{Answered, write};
use crate::calc::{by_name, reckon as answer};
use crate::report::{AnswerReport, RefusedReport};

/// What a calculator answers or refuses: its name, then pairs of key and text as typed.
pub(super) fn reckon(mut asked: Question<'_>) -> Answered {
    let name = asked.text()?;
    let calculator = by_name(name).ok_or_else(|| format!("no calculator is named `{name}`"))?;
    match answer(calculator, &asked.pairs()?) {
        Ok(answer) => write(&AnswerReport::of(calculator, &answer)),
        Err(refusals) => write(&RefusedReport::of(calculator, &refusals)),
    }
}
