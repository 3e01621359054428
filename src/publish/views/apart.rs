//! What the order can tell apart, and what stays alike to its end.

use super::order;
use crate::publish::words;
use crate::quantity::{Dimension, Quantity, write_quantity};
use crate::reason::{Group, Missing, Seen, Unseen};
use crate::sheet::{Sheet, TestSheet};
use serde::Serialize;

/// What the order of a card can and cannot tell apart.
#[derive(Serialize)]
pub(super) struct Apart {
    separated: String,
    alike: Vec<AlikeLine>,
    hidden: Vec<HiddenLine>,
    better: Option<BetterOrder>,
}

/// Repairs that no test of the order tells apart.
#[derive(Serialize)]
struct AlikeLine {
    repairs: Vec<String>,
    looks_healthy: bool,
    split_by: Vec<Split>,
    kinds: Vec<&'static str>,
}

/// A test that tells them apart, always or at times.
#[derive(Serialize)]
struct Split {
    test: TestLink,
    at_times: bool,
}

/// A fault the order never sees, or only from some resistance.
#[derive(Serialize)]
struct HiddenLine {
    fault: String,
    below: String,
    /// The test outside the order that would show it.
    shown_by: Option<Split>,
    /// The kind of test that would, where the card knows none.
    kind: &'static str,
}

/// A test on the same page.
#[derive(Serialize)]
struct TestLink {
    title: String,
    anchor: String,
}

/// An order that separates more.
#[derive(Serialize)]
struct BetterOrder {
    separated: String,
    tests: Vec<TestLink>,
}

/// The audit of a card's order; none where the order is empty.
pub(super) fn view(sheet: &Sheet) -> Option<Apart> {
    let audit = &sheet.reasoning.audit;
    if sheet.in_order == 0 || sheet.tests.is_empty() {
        return None;
    }
    Some(Apart {
        separated: percent(audit.separated),
        alike: audit
            .groups
            .iter()
            .map(|group| alike(sheet, group))
            .collect(),
        hidden: audit.unseen.iter().map(|one| hidden(sheet, one)).collect(),
        better: audit.is_bettered().then(|| BetterOrder {
            separated: percent(audit.better_separated),
            tests: audit
                .better
                .iter()
                .filter_map(|step| sheet.tests.iter().find(|test| test.id == step.test))
                .map(TestLink::to)
                .collect(),
        }),
    })
}

fn percent(part: f64) -> String {
    words::together(&write_quantity(Quantity {
        number: (part * 100.0).round() / 100.0,
        dimension: Dimension::Ratio,
    }))
}

fn alike(sheet: &Sheet, group: &Group) -> AlikeLine {
    let split = |missing: &Missing| Split::by(sheet, missing);
    let unknown = group
        .split_by
        .iter()
        .filter(|missing| missing.probe.is_none());
    AlikeLine {
        repairs: group.repairs.clone(),
        looks_healthy: group.looks_healthy,
        split_by: group.split_by.iter().filter_map(split).collect(),
        kinds: unknown
            .map(|missing| words::technique(missing.technique))
            .collect(),
    }
}

fn hidden(sheet: &Sheet, unseen: &Unseen) -> HiddenLine {
    let below = |ohms: f64| words::rough(ohms, Dimension::Resistance);
    let by = unseen.by.as_ref();
    let shown_by = by.and_then(|missing| Split::by(sheet, missing));
    let unknown = by.filter(|_| shown_by.is_none());
    HiddenLine {
        fault: unseen.fault.clone(),
        below: unseen.below.map(below).unwrap_or_default(),
        shown_by,
        kind: unknown.map_or("", |missing| words::technique(missing.technique)),
    }
}

impl Split {
    fn by(sheet: &Sheet, missing: &Missing) -> Option<Self> {
        Some(Self {
            test: TestLink::to(sheet.test_at(missing.probe?)?),
            at_times: missing.splits != Seen::Always,
        })
    }
}

impl TestLink {
    fn to(test: &TestSheet) -> Self {
        Self {
            title: test.title.clone(),
            anchor: order::anchor(test),
        }
    }
}
