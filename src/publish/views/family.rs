//! The page of a family: what kind of circuit it is, its values and their defaults, its tests.

use super::CardRow;
use crate::card::{Family, ParameterKind, ParameterSpec};
use crate::publish::shelf::{Group, Shelf};
use crate::publish::words;
use crate::quantity::{write_interval, write_toleranced};
use serde::Serialize;

/// A family's page.
#[derive(Serialize)]
pub(super) struct FamilyPage {
    title: String,
    name: String,
    says: String,
    limits: String,
    roles: Vec<String>,
    parameters: Vec<ParameterLine>,
    tests: Vec<TestLine>,
    codes: Vec<CodeLine>,
    circuits: Vec<CardRow>,
}

/// A code usual for the family; its page where the deck has one.
#[derive(Serialize)]
struct CodeLine {
    title: String,
    href: Option<String>,
}

/// A parameter, its default and what it is.
#[derive(Serialize)]
struct ParameterLine {
    name: String,
    default: String,
    says: String,
}

/// A test of the family.
#[derive(Serialize)]
struct TestLine {
    title: String,
    hookup: String,
    why: String,
    when: String,
}

/// The page of this family; none only where the deck has lost it.
pub(super) fn view(shelf: &Shelf, group: &Group) -> Option<FamilyPage> {
    let family = shelf.deck.families.get(&group.id)?;
    // A code that no circuit of the deck can set has no page.
    let code_line = |code: &String| CodeLine {
        title: code.clone(),
        href: Shelf::group(&shelf.codes, code).map(|group| group.path.clone()),
    };
    Some(FamilyPage {
        title: family.title.clone(),
        name: family.name.clone(),
        says: words::sentence(&family.says),
        limits: words::sentence(&family.limits),
        roles: family.roles.clone(),
        parameters: family.parameters.iter().map(parameter_line).collect(),
        tests: tests(family),
        codes: family.codes.iter().map(code_line).collect(),
        circuits: CardRow::all(group),
    })
}

fn parameter_line(parameter: &ParameterSpec) -> ParameterLine {
    let default = match &parameter.kind {
        ParameterKind::Value { dimension, default } => write_toleranced(*default, *dimension),
        ParameterKind::Choice { choices, default } => {
            format!("{default} (one of {})", choices.join(", "))
        }
        ParameterKind::Limits { dimension, default } => write_interval(*default, *dimension),
        ParameterKind::FollowsSignal { .. } => "worked out from the signal points".to_owned(),
    };
    ParameterLine {
        name: parameter.name.value.clone(),
        default,
        says: words::sentence(&parameter.says),
    }
}

/// In the family's order first, then the rest.
fn tests(family: &Family) -> Vec<TestLine> {
    let in_order = |id: &str| family.order.iter().position(|placed| placed.value == id);
    let mut tests: Vec<_> = family.tests.iter().collect();
    tests.sort_by_key(|test| in_order(&test.id.value).unwrap_or(usize::MAX));
    tests
        .into_iter()
        .map(|test| TestLine {
            title: test.title.clone(),
            hookup: words::hookup(test.plug, test.key),
            why: words::sentence(&test.why),
            when: test
                .when
                .as_ref()
                .map(|when| when.value.clone())
                .unwrap_or_default(),
        })
        .collect()
}
