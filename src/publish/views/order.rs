//! The test order: each test in words, with its drawing, its band and its cautions.

use super::about::CautionLine;
use super::expected::ReadsLine;
use super::face::{self, Faces};
use super::outcome::{self, Short};
use crate::publish::drawing::connector::Detail;
use crate::publish::words;
use crate::sheet::{Caution, Sheet, TestSheet};
use serde::Serialize;

/// One test.
#[derive(Serialize)]
pub(super) struct TestView {
    anchor: String,
    title: String,
    when: String,
    why: String,
    minutes: String,
    steps: Vec<Step>,
    drawing: Option<String>,
    reads: Vec<ReadsLine>,
    outcomes: Option<Short>,
    /// Whether what its readings mean stands open: in the first test, as the example of all others.
    opens: bool,
    cautions: Vec<CautionLine>,
}

/// One thing to set up: `Red lead`, `1 (reference), harness side`.
#[derive(Serialize)]
struct Step {
    name: &'static str,
    words: String,
}

/// A test as the page shows it.
pub(super) fn view(sheet: &Sheet, test: &TestSheet, faces: &Faces) -> TestView {
    TestView {
        anchor: anchor(test),
        title: test.title.clone(),
        when: test.when.clone(),
        why: words::sentence(&test.why),
        minutes: words::minutes(test.minutes),
        steps: steps(test),
        drawing: face::of_test(test, faces, Detail::Small).map(|drawn| drawn.svg),
        reads: ReadsLine::all(test),
        outcomes: outcome::short(test),
        opens: sheet.tests.first().is_some_and(|first| first.id == test.id),
        cautions: test
            .cautions
            .iter()
            .map(|caution| reminder(sheet, caution))
            .collect(),
    }
}

impl TestView {
    /// Letters of what paper tells of it.
    pub(super) fn letters(&self) -> TestLetters {
        let steps = self.steps.iter();
        let step = |step: &Step| step.name.chars().count() + step.words.chars().count() + 4;
        TestLetters {
            when: self.when.chars().count(),
            steps: steps.map(step).sum(),
            reads: self.reads.iter().map(ReadsLine::letters).collect(),
            means: self.outcomes.as_ref().map_or(0, Short::letters),
            cautions: self.cautions.iter().map(CautionLine::letters).collect(),
        }
    }

    /// Whether what its wrong readings mean is told.
    pub(super) fn tells(&self) -> bool {
        self.outcomes.is_some()
    }

    /// Its wrong readings are told on its page only: the sheet is full.
    pub(super) fn keep_off_paper(&mut self) {
        if let Some(outcomes) = &mut self.outcomes {
            outcomes.keep_off_paper();
        }
    }
}

/// Letters that a test takes on paper.
pub(super) struct TestLetters {
    pub(super) when: usize,
    pub(super) steps: usize,
    /// Of each state, with what is computed for it, and of what the card states.
    pub(super) reads: Vec<[usize; 2]>,
    /// Of what wrong readings mean.
    pub(super) means: usize,
    /// Of each caution; none of one that stands above.
    pub(super) cautions: Vec<usize>,
}

/// The place of a test on its card's page.
pub(super) fn anchor(test: &TestSheet) -> String {
    format!("test-{}", test.id)
}

fn steps(test: &TestSheet) -> Vec<Step> {
    let mut steps = vec![
        Step {
            name: "Connector",
            words: words::plug(test.plug).to_owned(),
        },
        Step {
            name: "Key",
            words: words::key(test.key).to_owned(),
        },
    ];
    if !test.links.is_empty() {
        steps.push(Step {
            name: "Jumper",
            words: test.links.join("; "),
        });
    }
    if let Some(leads) = &test.leads {
        steps.push(Step {
            name: "Red lead (+)",
            words: leads.red.words.clone(),
        });
        steps.push(Step {
            name: "Black lead (−)",
            words: leads.black.words.clone(),
        });
    }
    if let Some(scan) = &test.scan {
        steps.push(Step {
            name: "Scan tool",
            words: scan.clone(),
        });
    }
    steps
}

/// A caution in full, or its title alone where the card's own list has it in full.
fn reminder(sheet: &Sheet, caution: &Caution) -> CautionLine {
    if sheet.cautions.contains(caution) && !caution.title.is_empty() {
        return CautionLine::reminder(caution);
    }
    CautionLine::of(caution)
}
