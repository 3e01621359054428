//! `order`: what a card's test order can tell apart, what stays together, and a better order.

use super::args::Order;
use super::console::Console;
use super::draw::visible;
use super::named::{heading, sheet, solved};
use super::words::LAST_WORD;
use super::{Ending, Stop};
use crate::reason::{Audit, Group, Missing, Seen};
use crate::report::OrderReport;
use crate::report::words::technique;
use crate::sheet::{Sheet, TestSheet};
use std::io::{self, Write};

pub(super) fn order(asked: &Order, console: &mut Console<'_>) -> Result<Ending, Stop> {
    let prepared = solved(&asked.deck, &asked.card, console)?;
    let sheet = match sheet(&prepared, &asked.deck, &asked.card, console)? {
        Ok(sheet) => sheet,
        Err(ending) => return Ok(ending),
    };
    if asked.json {
        console.answer_json(&OrderReport::of(sheet))?;
        return Ok(Ending::Fine);
    }
    writeln!(console.out, "{}\n", heading(&prepared, sheet))?;
    let audit = &sheet.reasoning.audit;
    print_order(sheet, audit, console.out)?;
    print_groups(sheet, audit, console.out)?;
    print_unseen(sheet, audit, console.out)?;
    print_missing(sheet, audit, console.out)?;
    print_better(sheet, audit, console.out)?;
    writeln!(console.out, "{LAST_WORD}")?;
    Ok(Ending::Fine)
}

fn print_order(sheet: &Sheet, audit: &Audit, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "Order")?;
    for (at, test) in sheet.tests.iter().take(sheet.in_order).enumerate() {
        writeln!(out, "  {}  {}", at + 1, line(test))?;
    }
    let pairs = audit.pairs;
    writeln!(
        out,
        "  Pairs of different repairs told apart: {} always, {} at times (it depends on tolerances, or on how large a resistance is), {} never.\n",
        pairs.always, pairs.depends, pairs.never
    )
}

/// `Supply across the pins  [supply]  1 min`, with its condition.
fn line(test: &TestSheet) -> String {
    let when = match test.when.as_str() {
        "" => String::new(),
        when => format!(", only when {when}"),
    };
    let minutes = test.minutes;
    visible(&format!(
        "{}  [{}]  {minutes} min{when}",
        test.title, test.id
    ))
}

fn print_groups(sheet: &Sheet, audit: &Audit, out: &mut dyn Write) -> io::Result<()> {
    if audit.groups.is_empty() {
        return writeln!(out, "No two repairs stay together to its end.\n");
    }
    writeln!(
        out,
        "Groups that stay alike to the end of the order: no test in it tells one from the next, at some size of a"
    )?;
    writeln!(
        out,
        "resistance at least. Two that come apart at another size count above as told apart at times."
    )?;
    for group in &audit.groups {
        for (at, repair) in group.repairs.iter().enumerate() {
            let mark = if at == 0 { "-" } else { " " };
            writeln!(out, "  {mark} {}", visible(repair))?;
        }
        if group.looks_healthy {
            writeln!(out, "    reads like a sound circuit throughout")?;
        }
        writeln!(out, "    {}", visible(&split(sheet, group)))?;
    }
    writeln!(out)
}

fn split(sheet: &Sheet, group: &Group) -> String {
    let ways: Vec<String> = group.split_by.iter().map(|one| way(sheet, one)).collect();
    match ways.as_slice() {
        [] => "no test known here splits them".to_owned(),
        ways => format!("split by {}", ways.join("; then ")),
    }
}

/// A test that splits, by title, or the kind of test it would be.
fn way(sheet: &Sheet, missing: &Missing) -> String {
    let title = missing
        .probe
        .and_then(|probe| sheet.test_at(probe))
        .map(|test| format!("“{}” ({})", test.title, technique(missing.technique)));
    let how = if missing.splits == Seen::Always {
        ""
    } else {
        ", at times"
    };
    match title {
        Some(title) => format!("{title}{how}"),
        None => format!("{}, a test not on this card", technique(missing.technique)),
    }
}

fn print_unseen(sheet: &Sheet, audit: &Audit, out: &mut dyn Write) -> io::Result<()> {
    let never = || audit.unseen.iter().filter(|one| one.below.is_none());
    if never().next().is_none() {
        return Ok(());
    }
    writeln!(out, "Faults it never sees")?;
    for one in never() {
        writeln!(out, "  {}", visible(&one.fault))?;
        if let Some(by) = &one.by {
            writeln!(out, "    shown by {}", visible(&way(sheet, by)))?;
        }
    }
    writeln!(out)
}

fn print_missing(sheet: &Sheet, audit: &Audit, out: &mut dyn Write) -> io::Result<()> {
    if audit.missing.is_empty() {
        return Ok(());
    }
    writeln!(out, "Kinds of test that are missing")?;
    for one in &audit.missing {
        writeln!(out, "  {}", visible(&way(sheet, one)))?;
    }
    writeln!(out)
}

fn print_better(sheet: &Sheet, audit: &Audit, out: &mut dyn Write) -> io::Result<()> {
    if !audit.is_bettered() {
        return writeln!(out, "No order of the tests known here tells more apart.");
    }
    writeln!(
        out,
        "A better order by what each test newly separates a minute ({:.1}% of all pairs by weight, now {:.1}%)",
        audit.better_separated * 100.0,
        audit.separated * 100.0
    )?;
    let mut minutes = 0.0;
    for (at, step) in audit.better.iter().enumerate() {
        let test = sheet.tests.iter().find(|test| test.id == step.test);
        let line = test.map_or_else(|| visible(&step.test), line);
        minutes += step.minutes;
        writeln!(out, "  {}  {line}", at + 1)?;
    }
    writeln!(
        out,
        "  {} min if every test is done\n",
        (minutes * 10.0).round() / 10.0
    )
}
