//! Outcomes: what each reading of a test means, the short answer first.

use crate::publish::words;
use crate::sheet::{OutcomeLine, OutcomeSheet, TestSheet};
use serde::Serialize;

/// What the readings of a test mean.
#[derive(Serialize)]
pub(super) struct Outcomes {
    /// In the first state, or in the only one.
    first: OutcomeView,
    /// In the other states.
    others: Vec<OutcomeView>,
}

/// In one state of the part.
#[derive(Serialize)]
struct OutcomeView {
    state: String,
    worth: String,
    short: Vec<OutcomeRow>,
    full: Vec<OutcomeRow>,
    counted: String,
    blind_to: String,
}

/// One stretch of readings.
#[derive(Serialize)]
struct OutcomeRow {
    reads: String,
    good: bool,
    means: Vec<MeaningView>,
    more: usize,
    next: String,
}

/// One thing it can mean.
#[derive(Serialize)]
struct MeaningView {
    says: String,
    ohms: String,
}

/// The outcome tables of a test; none where nothing could be worked out.
pub(super) fn view(test: &TestSheet) -> Option<Outcomes> {
    let mut all = test.outcomes.iter();
    let first = outcome(all.next()?);
    // In the other states the short answer is enough: their full tables would double the page.
    let others = all.map(|sheet| OutcomeView {
        full: Vec::new(),
        ..outcome(sheet)
    });
    Some(Outcomes {
        first,
        others: others.collect(),
    })
}

fn outcome(sheet: &OutcomeSheet) -> OutcomeView {
    let full: Vec<OutcomeRow> = sheet.full.iter().map(row).collect();
    OutcomeView {
        state: sheet.state.clone(),
        worth: words::sentence(&sheet.worth),
        short: sheet.short.iter().map(row).collect(),
        counted: words::counted(full.len(), "row", "rows"),
        full,
        blind_to: sheet.blind_to.join("; "),
    }
}

fn row(line: &OutcomeLine) -> OutcomeRow {
    let means = line.means.iter().map(|meaning| MeaningView {
        says: meaning.says.clone(),
        ohms: words::together(&meaning.ohms),
    });
    OutcomeRow {
        reads: line.reads.clone(),
        good: line.good,
        means: means.collect(),
        more: line.more,
        next: words::sentence(&line.next),
    }
}
