//! The test order: each test in words, with its drawing, its band and its cautions.

use super::about::CautionLine;
use super::expected::ReadsLine;
use super::face;
use crate::publish::drawing::connector::{self, Detail, Face};
use crate::publish::words;
use crate::sheet::TestSheet;
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
    cautions: Vec<CautionLine>,
}

/// One thing to set up: `Red lead`, `1 (reference), harness side`.
#[derive(Serialize)]
struct Step {
    name: &'static str,
    words: String,
}

/// A test as the page shows it.
pub(super) fn view(test: &TestSheet, face: &Face) -> TestView {
    TestView {
        anchor: anchor(test),
        title: test.title.clone(),
        when: test.when.clone(),
        why: words::sentence(&test.why),
        minutes: words::minutes(test.minutes),
        steps: steps(test),
        drawing: drawing(test, face),
        reads: ReadsLine::all(test),
        cautions: test.cautions.iter().map(CautionLine::of).collect(),
    }
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
    for link in &test.links {
        steps.push(Step {
            name: "Jumper",
            words: link.clone(),
        });
    }
    if let Some(leads) = &test.leads {
        steps.push(Step {
            name: "Red lead R",
            words: leads.red.words.clone(),
        });
        steps.push(Step {
            name: "Black lead B",
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

fn drawing(test: &TestSheet, face: &Face) -> Option<String> {
    let leads = test.leads.as_ref()?;
    let on_a_pin = leads.red.pin.is_some() || leads.black.pin.is_some();
    let id = format!("face-{}", test.id);
    on_a_pin.then(|| connector::draw(face, &face::marks(leads), Detail::Small, &id))
}
