//! `expect`: what a meter should read at each test of a card's sound circuit, with bands; and with a fault.

use super::args::Expect;
use super::console::Console;
use super::draw::visible;
use super::named::{heading, no_match, sheet, solved};
use super::words::LAST_WORD;
use super::{Ending, Stop};
use crate::finding::nearest;
use crate::quantity::write_interval;
use crate::reason::{FaultSeen, Seen};
use crate::report::words::{band, hookup};
use crate::report::{ExpectReport, measured_lines};
use crate::sheet::{Expected, Sheet, TestSheet};
use std::io::{self, Write};

pub(super) fn expect(asked: &Expect, console: &mut Console<'_>) -> Result<Ending, Stop> {
    let prepared = solved(&asked.deck, &asked.card, console)?;
    let sheet = match sheet(&prepared, &asked.deck, &asked.card, console)? {
        Ok(sheet) => sheet,
        Err(ending) => return Ok(ending),
    };
    let tests: Vec<usize> = (0..sheet.tests.len())
        .filter(|at| {
            let wanted = asked.test.as_ref();
            wanted.is_none_or(|wanted| *wanted == sheet.tests[*at].id)
        })
        .collect();
    if let (Some(wanted), true) = (&asked.test, tests.is_empty()) {
        let names: Vec<String> = sheet.tests.iter().map(|test| test.id.clone()).collect();
        no_match(&format!("test of {}", sheet.card), wanted, &names, console)?;
        return Ok(Ending::NoMatch);
    }
    let fault = match &asked.fault {
        None => None,
        Some(typed) => match fault_named(sheet, typed) {
            Some(fault) => Some(fault),
            None => {
                let noun = format!("fault of {}", sheet.card);
                no_match(&noun, typed, &fault_names(sheet), console)?;
                return Ok(Ending::NoMatch);
            }
        },
    };
    if asked.json {
        console.answer_json(&ExpectReport::of(sheet, &tests, fault.as_deref()))?;
    } else {
        writeln!(console.out, "{}\n", heading(&prepared, sheet))?;
        print_sheet(sheet, &tests, fault.as_deref(), console.out)?;
    }
    Ok(Ending::Fine)
}

/// Names of all faults, in their order.
fn fault_names(sheet: &Sheet) -> Vec<String> {
    let first = sheet.reasoning.outcomes.first();
    let faults = first.into_iter().flat_map(|outcome| &outcome.faults);
    let mut names: Vec<String> = faults.map(|fault| fault.name.clone()).collect();
    names.dedup();
    names
}

/// The fault that was typed: by name, by a part that only one name has, or the nearest name.
fn fault_named(sheet: &Sheet, typed: &str) -> Option<String> {
    let names = fault_names(sheet);
    let typed = typed.trim().to_lowercase();
    let equal = names.iter().find(|name| name.to_lowercase() == typed);
    let holding = || {
        let mut holding = names
            .iter()
            .filter(|name| !typed.is_empty() && name.to_lowercase().contains(&typed));
        holding.next().filter(|_| holding.next().is_none())
    };
    equal
        .or_else(holding)
        .cloned()
        .or_else(|| nearest(&typed, names.iter().map(String::as_str)).map(str::to_owned))
}

fn print_sheet(
    sheet: &Sheet,
    tests: &[usize],
    fault: Option<&str>,
    out: &mut dyn Write,
) -> Result<(), Stop> {
    if let Some(fault) = fault {
        let row = sheet
            .reasoning
            .signatures
            .rows
            .iter()
            .find(|row| row.name == fault);
        let (says, repair) = row.map_or(("", ""), |row| (&row.says, &row.repair));
        writeln!(
            out,
            "With a fault: {}\nIts repair: {}\n",
            visible(says),
            visible(repair)
        )?;
    }
    for test in tests {
        print_test(sheet, *test, fault, out)?;
    }
    let whose = match fault {
        Some(_) => "Readings of a sound circuit and of one with this fault alone",
        None => "Readings of a sound circuit",
    };
    writeln!(
        out,
        "{whose}, with the tolerances of its parts and of the meter.\n{LAST_WORD}"
    )?;
    Ok(())
}

fn print_test(
    sheet: &Sheet,
    at: usize,
    fault: Option<&str>,
    out: &mut dyn Write,
) -> io::Result<()> {
    let test = &sheet.tests[at];
    let number = if at < sheet.in_order {
        (at + 1).to_string()
    } else {
        "-".into()
    };
    writeln!(
        out,
        "{number:>2}  {}  [{}]",
        visible(&test.title),
        visible(&test.id)
    )?;
    for line in how(test) {
        writeln!(out, "    {}", visible(&line))?;
    }
    let states = test.expected.iter().map(|e| e.state.chars().count());
    let width = states.max().unwrap_or(0);
    for expected in &test.expected {
        writeln!(out, "      {}", reading(expected, test, width))?;
    }
    for known in sheet.known_good.iter().filter(|known| known.test == at) {
        let gap = if known.state.is_empty() { "" } else { " at " };
        writeln!(out, "    measured here{gap}{}", visible(&known.state))?;
        for line in measured_lines(sheet, known) {
            writeln!(out, "      {}", visible(&line))?;
        }
    }
    if let Some(fault) = fault {
        print_fault(sheet, at, fault, out)?;
    }
    writeln!(out)
}

/// What the fault reads in each state, and whether that can be told from a sound circuit.
fn print_fault(sheet: &Sheet, at: usize, fault: &str, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "    with the fault")?;
    let reasoning = &sheet.reasoning;
    for (probe, outcome) in reasoning.outcomes.iter().enumerate() {
        if reasoning.of_test.get(probe) != Some(&at) {
            continue;
        }
        let state = reasoning
            .signatures
            .probes
            .get(probe)
            .map_or("", |one| &one.state);
        for seen in outcome.faults.iter().filter(|seen| seen.name == fault) {
            let gap = if state.is_empty() { "" } else { "  " };
            let reads = band(&seen.band, sheet.tests[at].dimension);
            let told = told_apart(seen);
            writeln!(
                out,
                "      {}{gap}{}  ({told})",
                visible(state),
                visible(&reads)
            )?;
        }
    }
    Ok(())
}

fn told_apart(seen: &FaultSeen) -> &'static str {
    match seen.seen {
        Seen::Always => "always shows",
        Seen::Depends if seen.resistance.is_some() => "shows from some resistance on",
        Seen::Depends => "can show, within tolerances",
        Seen::Never => "never shows here",
    }
}

/// Connector, key, leads, jumpers and condition, a line each.
pub(super) fn how(test: &TestSheet) -> Vec<String> {
    let mut lines = vec![hookup(test.plug, test.key)];
    if !test.when.is_empty() {
        lines.push(format!("only when {}", test.when));
    }
    lines.extend(test.links.iter().cloned());
    if let Some(leads) = &test.leads {
        lines.push(format!("red to {}", leads.red.words));
        lines.push(format!("black to {}", leads.black.words));
    }
    if let Some(scan) = &test.scan {
        lines.push(format!("watch {scan} on the scan tool"));
    }
    lines
}

fn reading(expected: &Expected, test: &TestSheet, width: usize) -> String {
    let state = visible(&expected.state);
    let gap = if width > 0 { "  " } else { "" };
    let stated = match expected.stated {
        Some(stated) => format!("  (card: {})", write_interval(stated, test.dimension)),
        None => String::new(),
    };
    let instead = match expected.instead.as_str() {
        "" => String::new(),
        instead => format!("  (the scan tool {})", visible(instead)),
    };
    format!(
        "{state:width$}{gap}{}{instead}{stated}",
        visible(&band(&expected.band, test.dimension))
    )
}
