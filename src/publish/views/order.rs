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
        drawing: face::of_test(test, faces, Detail::Small, &format!("face-{}", test.id)),
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
    /// Lines that it takes on paper, about: title, set-up, two states a line, what readings mean.
    pub(super) fn lines(&self) -> usize {
        let steps = self.steps.iter();
        let letters: usize = steps
            .map(|step| step.name.len() + step.words.len() + 4)
            .sum();
        let means = self.outcomes.as_ref().map_or(0, Short::letters);
        let when = usize::from(!self.when.is_empty());
        2 + when + on_paper(letters) + on_paper(means) + self.reads.len().div_ceil(2)
    }
}

/// Lines of so many letters in a column of a card's sheet.
pub(super) fn on_paper(letters: usize) -> usize {
    /// Letters in a line of 88 mm at 8.2 points, counted on prints.
    const LINE: usize = 58;
    letters.div_ceil(LINE)
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
