//! `expect`: what a meter should read at each test of a card's sound circuit, with bands.

use super::args::Expect;
use super::console::Console;
use super::draw::{Drawn, draw_all, visible};
use super::report::{Counts, ExpectReport};
use super::words::listed;
use super::{Ending, Stop};
use crate::finding::nearest;
use crate::publish::pipeline::{Prepared, prepare};
use crate::publish::words::{band, hookup};
use crate::quantity::write_interval;
use crate::sheet::{Expected, Sheet, TestSheet};
use std::io::{self, Write};
use std::path::Path;

pub(super) fn expect(asked: &Expect, console: &mut Console<'_>) -> Result<Ending, Stop> {
    let prepared = console.during("solving the cards", || prepare(&asked.deck))?;
    let id = card_id(&asked.card);
    let Some(sheet) = prepared.sheets.iter().find(|sheet| sheet.card == id) else {
        return no_card(id, &prepared, asked, console);
    };
    let tests: Vec<&TestSheet> = sheet
        .tests
        .iter()
        .filter(|test| asked.test.as_ref().is_none_or(|wanted| *wanted == test.id))
        .collect();
    if let (Some(wanted), true) = (&asked.test, tests.is_empty()) {
        let names: Vec<String> = sheet.tests.iter().map(|test| test.id.clone()).collect();
        no_match(&format!("test of {id}"), wanted, &names, console)?;
        return Ok(Ending::NoMatch);
    }
    if asked.json {
        console.answer_json(&ExpectReport::of(&sheet.card, &tests))?;
    } else {
        print_sheet(&prepared, sheet, &tests, console)?;
    }
    Ok(Ending::Fine)
}

/// People also type the card's file: `cards/ramp-angle.yaml`.
fn card_id(typed: &str) -> &str {
    let named = Path::new(typed);
    match (named.extension(), named.file_stem()) {
        (Some(ending), Some(stem)) if ending == "yaml" => stem.to_str().unwrap_or(typed),
        _ => typed,
    }
}

/// A card that is not there, or is there and can't be solved: its findings say why.
fn no_card(
    id: &str,
    prepared: &Prepared,
    asked: &Expect,
    console: &mut Console<'_>,
) -> Result<Ending, Stop> {
    let file = format!("cards/{id}.yaml");
    let own: Vec<_> = prepared
        .findings
        .iter()
        .filter(|finding| finding.place.file == file)
        .cloned()
        .collect();
    if own.is_empty() {
        let names: Vec<String> = prepared.sheets.iter().map(|s| s.card.clone()).collect();
        no_match("card", id, &names, console)?;
        return Ok(Ending::NoMatch);
    }
    let drawn = Drawn {
        findings: &own,
        folder: &asked.deck,
        texts: &prepared.texts,
    };
    draw_all(&drawn, console.err_look, console.err)?;
    writeln!(console.err, "{} in {file}", Counts::of(&own))?;
    Ok(Ending::Errors)
}

fn no_match(
    noun: &str,
    typed: &str,
    names: &[String],
    console: &mut Console<'_>,
) -> Result<(), Stop> {
    let near = nearest(typed, names.iter().map(String::as_str))
        .map(|name| format!("; did you mean {name}?"))
        .unwrap_or_default();
    writeln!(console.err, "no {noun} is named `{}`{near}", visible(typed))?;
    if !names.is_empty() {
        writeln!(console.err, "  there are: {}", listed(names))?;
    }
    Ok(())
}

fn print_sheet(
    prepared: &Prepared,
    sheet: &Sheet,
    tests: &[&TestSheet],
    console: &mut Console<'_>,
) -> Result<(), Stop> {
    let mut cards = prepared.deck.iter().flat_map(|deck| &deck.cards);
    let card = cards.find(|card| card.id == sheet.card);
    if let Some(card) = card {
        let codes = card.codes.iter().map(|code| format!(" · {}", code.value));
        let codes: String = codes.collect();
        writeln!(
            console.out,
            "{}{}\n",
            visible(&card.title.value),
            visible(&codes)
        )?;
    }
    let ordered = |test: &TestSheet| {
        let at = sheet.tests.iter().position(|known| known.id == test.id);
        at.filter(|at| *at < sheet.in_order)
    };
    for test in tests {
        print_test(test, ordered(test), console.out)?;
    }
    writeln!(
        console.out,
        "Readings of a sound circuit, with the tolerances of its parts and of the meter.\n\
         The maker's service information and local rules come first."
    )?;
    Ok(())
}

fn print_test(test: &TestSheet, place: Option<usize>, out: &mut dyn Write) -> io::Result<()> {
    let number = place.map_or("-".into(), |place| (place + 1).to_string());
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
    writeln!(out)
}

/// Connector, key, leads, jumpers and condition, a line each.
fn how(test: &TestSheet) -> Vec<String> {
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
    format!(
        "{state:width$}{gap}{}{stated}",
        visible(&band(&expected.band, test.dimension))
    )
}
