//! The page of all calculators, each under its heading.

use super::Link;
use crate::calc::CALCULATORS;
use crate::publish::{address, words};
use serde::Serialize;

/// The list of calculators.
#[derive(Serialize)]
pub(super) struct CalculatorsPage {
    groups: Vec<GroupLines>,
}

/// Calculators that belong together.
#[derive(Serialize)]
struct GroupLines {
    anchor: String,
    title: &'static str,
    lines: Vec<CalculatorLine>,
}

/// A calculator and what it answers.
#[derive(Serialize)]
struct CalculatorLine {
    link: Link,
    says: String,
}

/// The page; the table keeps those of one group together.
pub(super) fn view() -> CalculatorsPage {
    let mut groups: Vec<GroupLines> = Vec::new();
    for calculator in CALCULATORS {
        if groups
            .last()
            .is_none_or(|last| last.title != calculator.group)
        {
            groups.push(GroupLines {
                anchor: format!("group-{}", groups.len() + 1),
                title: calculator.group,
                lines: Vec::new(),
            });
        }
        let line = CalculatorLine {
            link: Link {
                title: calculator.title.to_owned(),
                href: address::calculator(calculator.name),
            },
            says: words::sentence(calculator.says),
        };
        if let Some(group) = groups.last_mut() {
            group.lines.push(line);
        }
    }
    CalculatorsPage { groups }
}
