//! `find`: circuits by words as they are typed, the same hits in the same order as on the site.
//!
//! The index is made in memory from the deck's files: no card is solved for it, and there is no folder of
//! stale indexes to keep.

use super::args::Find;
use super::console::{Console, Trouble};
use super::draw::visible;
use super::words::{counted, listed};
use super::{Ending, Stop};
use crate::card::{Deck, code_about, load, shipped};
use crate::index::{Answer, Hit, Kind, Reason, Search};
use crate::publish::search_pack;
use crate::report::FindReport;
use std::io::{self, Write};

pub(super) fn find(asked: &Find, console: &mut Console<'_>) -> Result<Ending, Stop> {
    let loaded = load(&asked.deck, &shipped())?;
    let Some(deck) = loaded.deck else {
        let says = "this deck can't be read: see `loomleaf inspect`";
        writeln!(console.err, "{says}")?;
        return Ok(Ending::Errors);
    };
    let mut search = console.during("reading the deck", || opened(&deck))?;
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
        print_code(&answer, console.out)?;
        print_lost(&answer, &query, console.err)?;
    }
    Ok(ending)
}

fn opened(deck: &Deck) -> Result<Search, Trouble> {
    let trouble = |cause: String| Trouble {
        what: "could not search this deck".into(),
        cause,
        hint: "free some memory and try again".into(),
    };
    let pack = search_pack(deck).map_err(|error| trouble(error.to_string()))?;
    Search::open(pack).map_err(|error| trouble(error.to_string()))
}

fn print_hits(answer: &Answer, out: &mut dyn Write) -> io::Result<()> {
    for kind in Kind::ALL {
        let mut hits = answer.hits.iter().filter(|hit| hit.kind == kind).peekable();
        if hits.peek().is_some() {
            writeln!(out, "{}", kind.heading())?;
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
    let Some((code, says)) = &answer.code else {
        return Ok(());
    };
    let says = says
        .as_deref()
        .map_or_else(String::new, |says| format!("{says}. "));
    let about = code_about(code);
    writeln!(
        out,
        "{}",
        visible(&format!(
            "{code}: {says}{about} No circuit of this deck names it."
        ))
    )
}

fn print_lost(answer: &Answer, query: &str, to: &mut dyn Write) -> io::Result<()> {
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
        let says = format!("nothing here has `{}`{near}", missing.word);
        writeln!(to, "{}", visible(&says))?;
    }
    if lost.missing.is_empty() {
        let says = format!("no page has all of `{query}`");
        writeln!(to, "{}", visible(&says))?;
    }
    for apart in &lost.apart {
        let cards = counted(apart.cards, "circuit", "circuits");
        let says = format!("  without `{}`: {cards}", apart.without);
        writeln!(to, "{}", visible(&says))?;
    }
    Ok(())
}
