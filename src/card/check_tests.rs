//! Checking tests: what their points, conditions, orders and cautions name is there, and hurts nothing.
//!
//! In: tests as read, the names that a card and its circuit have. Out: findings. Never: reading.

use super::fields::{Fields, doubled};
use super::places::Node;
use super::{AtSpec, CautionSpec, ObserveSpec, Placed, TestSpec};
use crate::finding::{Finding, kinds};
use std::collections::BTreeMap;

/// Less than this between a battery and a pin is as good as nothing, ohm.
const BARE: f64 = 100.0;

/// What a test's points, conditions and cautions may name.
pub(super) struct Names<'a> {
    /// Roles of the circuit.
    pub roles: Vec<&'a str>,
    /// Label and role of each pin, where a card has them.
    pub pins: Vec<(&'a str, &'a str)>,
    /// Ids of all tests.
    pub tests: Vec<&'a str>,
    /// Signal points and states; empty where they are not known yet.
    pub states: Vec<&'a str>,
}

impl Names<'_> {
    /// Checks every name in these tests.
    pub(super) fn check_tests(&self, tests: &[TestSpec], findings: &mut Vec<Finding>) {
        for test in tests {
            self.check_test(test, findings);
        }
    }

    fn check_test(&self, test: &TestSpec, findings: &mut Vec<Finding>) {
        match &test.observes {
            ObserveSpec::Scan { input } => {
                if !self.roles.contains(&input.value.as_str()) {
                    findings.push(kinds::unknown_role(&input.place, &input.value, &self.roles));
                }
            }
            ObserveSpec::Volts { red, black } | ObserveSpec::Ohms { red, black } => {
                self.check_ends([red, black], (false, false), findings);
            }
            ObserveSpec::Amps { red, black } => {
                self.check_ends([red, black], (false, true), findings);
            }
        }
        for link in &test.links {
            let bare = link.through.is_none_or(|load| load.low < BARE);
            self.check_ends([&link.from, &link.to], (true, bare), findings);
        }
        if let Some(when) = &test.when
            && let Some((id, _)) = when.value.split_once(" is ")
        {
            if !self.tests.contains(&id) {
                findings.push(kinds::unknown_test(&when.place, id, &self.tests));
            } else if id == test.id.value {
                findings.push(kinds::waits_for_itself(&when.place, id));
            }
        }
        if let AtSpec::Named(name) = &test.at
            && !self.states.is_empty()
            && !self.states.contains(&name.as_str())
        {
            findings.push(kinds::unknown_state(&test.id.place, name, &self.states));
        }
    }

    /// The role of the pin that a point names by its label; any other point as it is.
    fn role_of<'t>(&'t self, point: &'t str) -> &'t str {
        let named = self.pins.iter().find(|(label, _)| *label == point);
        named.map_or(point, |(_, role)| role)
    }

    /// Two leads or the ends of a jumper, between which there may be nothing but metal.
    fn check_ends(
        &self,
        ends: [&Placed<String>; 2],
        (in_bridge, bare): (bool, bool),
        findings: &mut Vec<Finding>,
    ) {
        for end in ends {
            self.check_point(end, in_bridge, findings);
        }
        let points = ends.map(|end| self.role_of(&end.value));
        if points[0] == points[1] {
            findings.push(kinds::same_point(&ends[1].place, &ends[1].value));
        }
        let fed = match points {
            ["battery", _] => 1,
            [_, "battery"] => 0,
            _ => return,
        };
        // To a ground it burns the lead, to what the module's own supply feeds it destroys the module.
        let burns = ["ground", "body", "return", "reference", "signal"];
        if bare && burns.iter().any(|role| points[fed].contains(role)) {
            findings.push(kinds::bare_battery(&ends[fed].place, &ends[fed].value));
        }
    }

    fn check_point(&self, point: &Placed<String>, in_bridge: bool, findings: &mut Vec<Finding>) {
        let typed = point.value.as_str();
        let role = typed
            .strip_prefix("part.")
            .or_else(|| typed.strip_prefix("module."));
        let known = match role {
            Some(role) => self.roles.contains(&role),
            None => {
                self.roles.contains(&typed)
                    || self.role_of(typed) != typed
                    || matches!(typed, "good ground" | "battery")
                    || (in_bridge && typed == "other rail")
            }
        };
        if known {
            return;
        }
        let halves = ["part.", "module."];
        let mut names: Vec<String> = halves
            .iter()
            .flat_map(|half| self.roles.iter().map(move |role| format!("{half}{role}")))
            .collect();
        names.extend(["good ground", "battery"].map(str::to_owned));
        if in_bridge {
            names.push("other rail".into());
        }
        let mut known: Vec<&str> = self.roles.clone();
        known.extend(names.iter().map(String::as_str));
        findings.push(kinds::unknown_point(&point.place, typed, &known));
    }

    /// Checks an order of test ids.
    pub(super) fn check_order(&self, order: &[Placed<String>], findings: &mut Vec<Finding>) {
        for id in order {
            if !self.tests.contains(&id.value.as_str()) {
                findings.push(kinds::unknown_test(&id.place, &id.value, &self.tests));
            }
        }
        doubled(order, |id, first| {
            findings.push(kinds::doubled_test(&id.place, &id.value, first));
        });
    }
}

/// Checks caution ids; a text with a space in it is the author's own sentence.
pub(super) fn check_cautions(
    cautions: &[Placed<String>],
    table: &BTreeMap<String, CautionSpec>,
    findings: &mut Vec<Finding>,
) {
    let known: Vec<&str> = table.keys().map(String::as_str).collect();
    for caution in cautions {
        let own = caution.value.trim().contains(' ');
        if !own && !known.is_empty() && !known.contains(&caution.value.as_str()) {
            findings.push(kinds::unknown_caution(
                &caution.place,
                &caution.value,
                &known,
            ));
        }
    }
}

/// Checks the cautions of the tests in a map, which keep no places once read.
pub(super) fn check_test_cautions(
    node: Option<&Node>,
    table: &BTreeMap<String, CautionSpec>,
    findings: &mut Vec<Finding>,
) {
    let Some(tests) = node.and_then(|node| Fields::unchecked(node, "`tests`", &mut Vec::new()))
    else {
        return;
    };
    for entry in tests.entries() {
        let ignored = &mut Vec::new();
        if let Some(fields) = Fields::unchecked(&entry.value, "a test", ignored) {
            check_cautions(&fields.texts("cautions", ignored), table, findings);
        }
    }
}

/// Ids of tests.
pub(super) fn ids(tests: &[TestSpec]) -> Vec<&str> {
    tests.iter().map(|test| test.id.value.as_str()).collect()
}

/// Names of a family's or card's signal points and states.
pub(super) fn state_names<'a>(
    points: &'a [super::SignalPoint],
    states: &'a [super::StateSpec],
) -> Vec<&'a str> {
    let points = points.iter().map(|point| point.at.value.as_str());
    let states = states.iter().map(|state| state.name.value.as_str());
    points.chain(states).collect()
}
