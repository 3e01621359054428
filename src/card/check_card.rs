//! What a card names must be there: its family's roles, tests and states, the deck's systems.
//!
//! In: a card as read, and the shelf it is checked against. Out: findings. Never: physics.

use super::check_tests::{Names, ids, state_names};
use super::fields::Fields;
use super::{Card, CautionSpec, Family, ParameterKind, ParameterSpec};
use crate::finding::{Finding, kinds};
use std::collections::{BTreeMap, BTreeSet};

/// What the deck knows besides its cards.
pub(super) struct Shelf<'a> {
    /// Families by name.
    pub families: &'a BTreeMap<String, Family>,
    /// Names of families whose file has errors: a card of theirs is not to blame.
    pub broken: &'a BTreeSet<String>,
    /// The table of cautions.
    pub cautions: &'a BTreeMap<String, CautionSpec>,
    /// Ids of the deck's systems; empty where it lists none.
    pub systems: Vec<&'a str>,
}

impl Shelf<'_> {
    /// Checks everything a card names.
    pub(super) fn check(&self, card: &Card, fields: &Fields<'_>, findings: &mut Vec<Finding>) {
        self.check_system(card, findings);
        match self.circuit(card) {
            Some(circuit) => check_against(card, circuit, fields, findings),
            None => self.check_family(card, findings),
        }
    }

    /// The circuit a card uses.
    pub(super) fn circuit<'a>(&'a self, card: &'a Card) -> Option<&'a Family> {
        let own = card.circuit.as_deref();
        own.or_else(|| self.families.get(&card.family.value))
    }

    fn check_system(&self, card: &Card, findings: &mut Vec<Finding>) {
        let Some(system) = &card.system else { return };
        if !self.systems.is_empty() && !self.systems.contains(&system.value.as_str()) {
            findings.push(kinds::unknown_system(
                &system.place,
                &system.value,
                &self.systems,
            ));
        }
    }

    fn check_family(&self, card: &Card, findings: &mut Vec<Finding>) {
        let name = &card.family;
        if !name.value.is_empty() && !self.broken.contains(&name.value) {
            let known: Vec<&str> = self.families.keys().map(String::as_str).collect();
            findings.push(kinds::unknown_family(&name.place, &name.value, &known));
        }
    }
}

fn check_against(card: &Card, circuit: &Family, fields: &Fields<'_>, findings: &mut Vec<Finding>) {
    check_roles(card, circuit, fields, findings);
    check_signal(card, circuit, fields, findings);
    check_states(card, circuit, findings);
    check_also(card, circuit, findings);
    check_covers(card, circuit, findings);
    let mut tests = ids(&circuit.tests);
    tests.extend(ids(&card.tests));
    let points = match card.signal.is_empty() {
        true => &circuit.signal,
        false => &card.signal,
    };
    let names = Names {
        roles: circuit.roles.iter().map(String::as_str).collect(),
        pins: card
            .pins
            .iter()
            .map(|pin| (pin.label.value.as_str(), pin.role.value.as_str()))
            .collect(),
        tests,
        states: state_names(points, &circuit.states),
    };
    names.check_tests(&card.tests, findings);
    names.check_order(&card.order, findings);
}

fn check_roles(card: &Card, circuit: &Family, fields: &Fields<'_>, findings: &mut Vec<Finding>) {
    let roles: Vec<&str> = circuit.roles.iter().map(String::as_str).collect();
    for pin in card
        .pins
        .iter()
        .filter(|pin| !roles.contains(&pin.role.value.as_str()))
    {
        findings.push(kinds::unknown_role(
            &pin.role.place,
            &pin.role.value,
            &roles,
        ));
    }
    let called = match circuit.name.as_str() {
        "" => "this circuit".to_owned(),
        name => format!("the family `{name}`"),
    };
    // Where no pin could be read, that is the one thing to say.
    let missing = roles
        .iter()
        .filter(|role| !card.pins.iter().any(|pin| pin.role.value == **role));
    for role in missing.filter(|_| !card.pins.is_empty()) {
        findings.push(kinds::missing_role(fields.place_of("pins"), role, &called));
    }
}

/// The signal points of a part with states of its own are named after them.
fn check_states(card: &Card, circuit: &Family, findings: &mut Vec<Finding>) {
    let follows = |spec: &ParameterSpec| matches!(spec.kind, ParameterKind::FollowsSignal { .. });
    if circuit.states.is_empty() || circuit.parameters.iter().any(follows) {
        return;
    }
    let known: Vec<&str> = circuit
        .states
        .iter()
        .map(|state| state.name.value.as_str())
        .collect();
    for point in card
        .signal
        .iter()
        .filter(|point| !known.contains(&point.at.value.as_str()))
    {
        findings.push(kinds::unknown_state(
            &point.at.place,
            &point.at.value,
            &known,
        ));
    }
}

/// A circuit that follows the signal needs points, the card's or the family's.
fn check_signal(card: &Card, circuit: &Family, fields: &Fields<'_>, findings: &mut Vec<Finding>) {
    let follows = circuit
        .parameters
        .iter()
        .find(|spec| matches!(spec.kind, ParameterKind::FollowsSignal { .. }));
    if let Some(spec) = follows
        && card.signal.is_empty()
        && circuit.signal.is_empty()
    {
        let key = if fields.has_key("signal") {
            "signal"
        } else {
            "family"
        };
        let place = fields.place_of(key);
        findings.push(kinds::no_signal_points(place, &spec.name.value));
    }
}

/// Other pins read at a signal point are named by role.
fn check_also(card: &Card, circuit: &Family, findings: &mut Vec<Finding>) {
    let roles: Vec<&str> = circuit.roles.iter().map(String::as_str).collect();
    for (role, reads) in card.signal.iter().flat_map(|point| &point.also) {
        if !roles.contains(&role.as_str()) {
            findings.push(kinds::unknown_role(&reads.place, role, &roles));
        }
    }
}

/// What a source may cover besides parameters.
const COVERED: &[&str] = &[
    "pins",
    "signal",
    "reference",
    "battery",
    "curve",
    "wires",
    "scan",
    "codes",
    "connector",
    "order",
    "tests",
    "fits",
    "cautions",
    "notes",
];

fn check_covers(card: &Card, circuit: &Family, findings: &mut Vec<Finding>) {
    let mut known = COVERED.to_vec();
    known.extend(
        circuit
            .parameters
            .iter()
            .map(|spec| spec.name.value.as_str()),
    );
    for covered in card.sources.iter().flat_map(|source| &source.covers) {
        if !known.contains(&covered.value.as_str()) {
            findings.push(kinds::unknown_cover(&covered.place, &covered.value, &known));
        }
    }
}
