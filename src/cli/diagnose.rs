//! `diagnose`: readings in, what they establish out: verdict, suspects, what is ruled out, the next test.

use super::args::Diagnose;
use super::ask::ask;
use super::console::Console;
use super::draw::visible;
use super::expect::how;
use super::named::{heading, sheet, solved};
use super::words::{LAST_WORD, listed};
use super::{Ending, Stop};
use crate::publish::pipeline::Prepared;
use crate::quantity::maths;
use crate::report::words::band;
use crate::report::{DiagnoseReport, in_percent};
use crate::sheet::{
    Mistaken, NextLine, Sheet, Taken, VerdictSheet, carried, out_of_turn, place_name, take,
    tell_verdict,
};
use std::io::{self, Write};

pub(super) fn diagnose(asked: &Diagnose, console: &mut Console<'_>) -> Result<Ending, Stop> {
    let prepared = solved(&asked.deck, &asked.card, console)?;
    let sheet = match sheet(&prepared, &asked.deck, &asked.card, console)? {
        Ok(sheet) => sheet,
        Err(ending) => return Ok(ending),
    };
    if asked.readings.is_empty() && !asked.json {
        writeln!(console.out, "{}\n", heading(&prepared, sheet))?;
        let taken = ask(sheet, console)?;
        print_verdict(sheet, &taken, &tell_verdict(sheet, &taken), console.out)?;
        return Ok(Ending::Fine);
    }
    let own = with_points(&prepared, sheet, &asked.readings);
    let sheet = own.as_ref().unwrap_or(sheet);
    let Some(taken) = take_all(sheet, &asked.readings, console)? else {
        return Ok(Ending::Misused);
    };
    let told = tell_verdict(sheet, &taken);
    if asked.json {
        console.answer_json(&DiagnoseReport::of(sheet, &taken, &told))?;
    } else {
        writeln!(console.out, "{}\n", heading(&prepared, sheet))?;
        print_verdict(sheet, &taken, &told, console.out)?;
    }
    Ok(Ending::Fine)
}

/// The sheet with the points that readings name and the card does not: `at-rest@34 C`; none where there are none.
fn with_points(prepared: &Prepared, sheet: &Sheet, typed: &[String]) -> Option<Sheet> {
    let deck = prepared.deck.as_ref()?;
    let card = deck.cards.iter().find(|card| card.id == sheet.card)?;
    let mut carried = carried(deck, card, sheet)?;
    let places = typed.iter().filter_map(|typed| typed.split_once('='));
    let added = places.filter(|(place, _)| carried.add_point(place)).count();
    if added == 0 {
        return None;
    }
    carried.sheet().ok()
}

/// All readings, or none after every wrong one was told.
fn take_all(
    sheet: &Sheet,
    typed: &[String],
    console: &mut Console<'_>,
) -> Result<Option<Vec<Taken>>, Stop> {
    let mut taken: Vec<Taken> = Vec::new();
    let mut wrong = false;
    for typed in typed {
        match take(sheet, typed) {
            Ok(one) => {
                let again = |other: &Taken| other.observation.probe == one.observation.probe;
                if taken.iter().any(again) {
                    let place = place_name(sheet, one.observation.probe);
                    let says = format!("`{place}` is given twice: give one reading a test");
                    print_mistake(
                        &Mistaken {
                            says,
                            ..Mistaken::default()
                        },
                        console.err,
                    )?;
                    wrong = true;
                }
                taken.push(one);
            }
            Err(mistaken) => {
                print_mistake(&mistaken, console.err)?;
                wrong = true;
            }
        }
    }
    Ok((!wrong).then_some(taken))
}

pub(super) fn print_mistake(mistaken: &Mistaken, to: &mut dyn Write) -> io::Result<()> {
    let near = mistaken.near.as_ref();
    let near = near
        .map(|name| format!("; did you mean {name}?"))
        .unwrap_or_default();
    writeln!(to, "{}{}", visible(&mistaken.says), visible(&near))?;
    if !mistaken.all.is_empty() {
        writeln!(to, "  there are: {}", visible(&listed(&mistaken.all)))?;
    }
    Ok(())
}

fn print_verdict(
    sheet: &Sheet,
    taken: &[Taken],
    told: &VerdictSheet,
    out: &mut dyn Write,
) -> io::Result<()> {
    if taken.is_empty() {
        writeln!(out, "Nothing was read, so nothing is ruled out.\n")?;
    } else {
        writeln!(out, "{}", visible(&told.says))?;
        let cited = |cited: &[crate::sheet::Cited]| -> Vec<String> {
            cited.iter().map(|one| one.says.clone()).collect()
        };
        print_list("It rests on", &cited(&told.rests_on), out)?;
        print_list("Out of turn", &out_of_turn(sheet, taken), out)?;
        print_list("Set aside", &cited(&told.set_aside), out)?;
        print_list("Proven good", &told.proven, out)?;
        print_list("It cannot rule out", &told.cannot_rule_out, out)?;
        for line in &told.conflict {
            writeln!(out, "  {}", visible(line))?;
        }
        writeln!(out)?;
    }
    if !taken.is_empty() && !told.suspects.is_empty() {
        print_suspects(told, usize::MAX, out)?;
        writeln!(out)?;
    }
    if told.fits && !told.ruled_out.is_empty() {
        writeln!(out, "Ruled out")?;
        for one in &told.ruled_out {
            writeln!(out, "  {}: by {}", visible(&one.repair), visible(&one.says))?;
        }
        writeln!(out)?;
    }
    for (head, lines) in [
        ("Before anything is replaced", &told.before),
        ("Afterwards", &told.afterwards),
    ] {
        print_chapter(head, lines, out)?;
    }
    match &told.next {
        Some(next) => {
            writeln!(out, "Next")?;
            print_next(sheet, next, out)?;
        }
        None if told.fits => writeln!(out, "No further test here tells more.")?,
        None => {}
    }
    writeln!(out, "\n{LAST_WORD}")
}

fn print_chapter(head: &str, lines: &[String], out: &mut dyn Write) -> io::Result<()> {
    if lines.is_empty() {
        return Ok(());
    }
    writeln!(out, "{head}")?;
    for line in lines {
        writeln!(out, "  {}", visible(line))?;
    }
    writeln!(out)
}

fn print_list(head: &str, lines: &[String], out: &mut dyn Write) -> io::Result<()> {
    if lines.is_empty() {
        return Ok(());
    }
    writeln!(out, "  {head}:")?;
    for line in lines {
        writeln!(out, "    {}", visible(line))?;
    }
    Ok(())
}

/// Repairs left with their shares, at most so many.
pub(super) fn print_suspects(
    told: &VerdictSheet,
    most: usize,
    out: &mut dyn Write,
) -> io::Result<()> {
    writeln!(
        out,
        "Suspects (shares say how often such faults occur, not what the readings weigh)"
    )?;
    let shares: Vec<f64> = told.suspects.iter().map(|one| one.share).collect();
    for (one, share) in told.suspects.iter().zip(in_percent(&shares)).take(most) {
        let faint = if one.faint {
            "  (only where these readings do not show it)"
        } else {
            ""
        };
        writeln!(out, "  {share:>4}  {}{faint}", visible(&one.repair))?;
    }
    match told.suspects.len().saturating_sub(most) {
        0 => Ok(()),
        more => writeln!(out, "        and {more} more"),
    }
}

/// The other states of the same test, as they are typed: nobody heats an engine for a reading.
fn other_states(sheet: &Sheet, next: &NextLine) -> Vec<String> {
    let probes = &sheet.reasoning.signatures.probes;
    let same = |probe: &usize| {
        let own = probes.get(next.probe);
        own.is_some_and(|own| {
            let probe = &probes[*probe];
            probe.test == own.test
                && probe.kind == own.kind
                && probe.hookup.setting != own.hookup.setting
        })
    };
    (0..probes.len())
        .filter(same)
        .map(|probe| place_name(sheet, probe))
        .collect()
}

/// A test to do: how, what a sound circuit reads, why, cautions.
pub(super) fn print_next(sheet: &Sheet, next: &NextLine, out: &mut dyn Write) -> io::Result<()> {
    let Some(test) = sheet.tests.get(next.test) else {
        return Ok(());
    };
    let state = match next.state.as_str() {
        "" => String::new(),
        state => format!(", {state}"),
    };
    let place = place_name(sheet, next.probe);
    let others = other_states(sheet, next);
    writeln!(
        out,
        "  {}{}  [{}]",
        visible(&test.title),
        visible(&state),
        visible(&place)
    )?;
    if !others.is_empty() {
        let others = visible(&listed(&others));
        writeln!(
            out,
            "    where that state can't be had, take one that can: {others}"
        )?;
    }
    for caution in &test.cautions {
        writeln!(out, "    Caution: {}", visible(&caution.says))?;
    }
    for line in how(test) {
        writeln!(out, "    {}", visible(&line))?;
    }
    let healthy = sheet.reasoning.signatures.healthy(next.probe);
    let good = band(&healthy, test.dimension);
    writeln!(out, "    a sound circuit reads {}", visible(&good))?;
    if !test.why.is_empty() {
        writeln!(out, "    why: {}", visible(&test.why))?;
    }
    writeln!(out, "    {}", visible(&next.why))?;
    let minutes = (next.minutes * 10.0).round() / 10.0;
    // So many bits halve the suspicion so many times.
    let left = maths::pow(2.0, -next.bits) * 100.0;
    writeln!(
        out,
        "    {minutes} min; on average about {left:.0}% of what is suspected now stays suspected"
    )
}
