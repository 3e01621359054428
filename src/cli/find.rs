//! `find`: circuits by words as they are typed, the same hits in the same order as on the site.

use super::args::Find;
use super::console::Console;
use super::draw::visible;
use super::words::{counted, listed};
use super::{Ending, Stop, kept_index};
use crate::card::code_about;
use crate::index::{Answer, Hit, Kind, Reason, Told};
use crate::report::FindReport;
use std::io::{self, Write};

/// Letters of what was typed that are told again, at most.
const SHOWN: usize = 60;

pub(super) fn find(asked: &Find, console: &mut Console<'_>) -> Result<Ending, Stop> {
    let opened = console.during("reading the deck", || kept_index::open(&asked.deck))?;
    let Some(mut search) = opened else {
        let says = "this deck can't be read: see `loomleaf inspect`";
        writeln!(console.err, "{says}")?;
        return Ok(Ending::Errors);
    };
    let query = asked.words.join(" ");
    let answer = search.find(&query);
    let ending = match answer.hits.is_empty() {
        true => Ending::NoMatch,
        false => Ending::Fine,
    };
    if asked.json {
        console.answer_json(&FindReport::of(&answer))?;
    } else {
        print_hits(&answer, console.out)?;
        if let Some(without) = FindReport::without(&answer) {
            writeln!(console.err, "{}", visible(&without))?;
        }
        print_code(&answer, console.out)?;
        print_lost(&answer, console.err)?;
    }
    Ok(ending)
}

fn print_hits(answer: &Answer, out: &mut dyn Write) -> io::Result<()> {
    for kind in Kind::ALL {
        let hits = answer.hits.iter().filter(|hit| hit.kind == kind);
        match (hits.clone().count(), answer.totals[kind as usize]) {
            (0, _) => {}
            (shown, total) if shown < total => {
                let kind = kind.heading().to_lowercase();
                writeln!(out, "{shown} of {total} {kind}, best first")?;
            }
            _ => writeln!(out, "{}", kind.heading())?,
        }
        for hit in hits {
            writeln!(out, "  {}", visible(&line(hit)))?;
        }
    }
    Ok(())
}

/// `Ramp angle sensor  [ramp-angle]  wire green`.
fn line(hit: &Hit) -> String {
    let why: Vec<String> = hit.why.iter().map(Reason::words).collect();
    let mut parts = vec![hit.whole_title()];
    if hit.kind == Kind::Card || hit.kind == Kind::Calculator {
        parts.push(format!("[{}]", hit.id));
    }
    parts.extend([hit.line.clone(), why.join(", ")]);
    parts.retain(|part| !part.is_empty());
    parts.join("  ")
}

fn print_code(answer: &Answer, out: &mut dyn Write) -> io::Result<()> {
    for Told {
        code,
        says,
        is_named,
    } in &answer.codes
    {
        let says = says
            .as_deref()
            .map_or_else(String::new, |says| format!("{says}. "));
        let about = code_about(code);
        let unnamed = match is_named {
            true => "",
            false => " No circuit of this deck names it.",
        };
        writeln!(
            out,
            "{}",
            visible(&format!("{code}: {says}{about}{unnamed}"))
        )?;
    }
    Ok(())
}

fn print_lost(answer: &Answer, to: &mut dyn Write) -> io::Result<()> {
    let Some(lost) = &answer.lost else {
        if answer.hits.is_empty() {
            writeln!(
                to,
                "type a word, a code, a wire colour or a value to look for"
            )?;
        }
        return Ok(());
    };
    for missing in &lost.missing {
        let near = match missing.near.as_slice() {
            [] => String::new(),
            near => format!("; near to it: {}", listed(near)),
        };
        let says = format!("nothing here has `{}`{near}", short(&missing.word));
        writeln!(to, "{}", visible(&says))?;
    }
    if lost.missing.is_empty() && answer.hits.is_empty() {
        writeln!(to, "no page has all of these words")?;
    }
    for apart in &lost.apart {
        let cards = counted(apart.cards, "circuit", "circuits");
        let asked = match apart.without.as_slice() {
            [one] => format!("without `{}`", short(one)),
            _ => format!("only `{}`", short(&apart.left.join(" "))),
        };
        let says = format!("  {asked}: {cards}");
        writeln!(to, "{}", visible(&says))?;
    }
    Ok(())
}

/// The start of a text that nobody would read whole.
fn short(text: &str) -> String {
    match text.char_indices().nth(SHOWN) {
        Some((end, _)) => format!("{}\u{2026}", &text[..end]),
        None => text.to_owned(),
    }
}
