//! Outcomes: what each reading of a test means, the short answer first.

use crate::publish::units::Both;
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

/// The short answer, for the card itself.
#[derive(Serialize)]
pub(super) struct Short {
    /// In the first state, or in the only one.
    first: OutcomeView,
    /// The same for paper: a line a reading.
    brief: Vec<Brief>,
    /// The states told elsewhere.
    elsewhere: Vec<Both>,
}

impl Short {
    /// Takes it off the sheet of paper.
    pub(super) fn keep_off_paper(&mut self) {
        self.brief.clear();
    }

    /// Letters of what paper tells of a reading, and of the place where it is read.
    pub(super) fn letters(&self) -> usize {
        let each = self.brief.iter();
        let each = each.map(|one| one.reads.chars().count() + one.says.chars().count() + 4);
        let told: usize = each.sum();
        match told {
            0 => 0,
            told => told + self.first.place.letters() + 2,
        }
    }
}

/// A reading and what it means most likely.
#[derive(Serialize)]
struct Brief {
    reads: String,
    says: String,
}

/// In one state of the part.
#[derive(Serialize)]
struct OutcomeView {
    /// `at 20 C`, or empty where there is but one.
    place: Both,
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

/// All outcome tables of a test; none where nothing could be worked out.
pub(super) fn whole(test: &TestSheet) -> Option<Outcomes> {
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

/// Readings told on paper; more would not fit one sheet.
const BRIEF: usize = 2;

/// The first state's short answer.
pub(super) fn short(test: &TestSheet) -> Option<Short> {
    let (first, others) = test.outcomes.split_first()?;
    let wrong = first.short.iter().filter(|line| !line.good);
    let elsewhere = others.iter().map(|sheet| Both::place(&sheet.state));
    Some(Short {
        brief: wrong.take(BRIEF).map(brief).collect(),
        elsewhere: elsewhere.collect(),
        first: OutcomeView {
            full: Vec::new(),
            ..outcome(first)
        },
    })
}

fn brief(line: &OutcomeLine) -> Brief {
    let mut says: Vec<&str> = line.means.iter().map(|one| one.says.as_str()).collect();
    let more = says.len().saturating_sub(2) + line.more;
    says.truncate(2);
    let more = match more {
        0 => String::new(),
        more => format!(", or {more} more"),
    };
    Brief {
        reads: words::together(&line.reads),
        says: format!("{}{more}", says.join(" or ")),
    }
}

fn outcome(sheet: &OutcomeSheet) -> OutcomeView {
    let full: Vec<OutcomeRow> = sheet.full.iter().map(row).collect();
    OutcomeView {
        place: Both::place(&sheet.state),
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
