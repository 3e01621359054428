//! `inspect`: every finding of a deck in one run, and how many.

use super::args::Inspect;
use super::console::Console;
use super::draw::draw_all;
use super::report::{Counts, InspectReport};
use super::words::counted;
use super::{Ending, Stop};
use crate::publish::pipeline::prepare;

pub(super) fn inspect(asked: &Inspect, console: &mut Console<'_>) -> Result<Ending, Stop> {
    let prepared = console.during("solving the cards", || prepare(&asked.deck))?;
    let counts = Counts::of(&prepared.findings);
    if asked.json {
        console.answer_json(&InspectReport::of(&prepared.findings))?;
    } else {
        draw_all(
            &prepared.findings,
            &asked.deck,
            console.out_look,
            console.out,
        )?;
        let cards = counted(prepared.deck.cards.len(), "card", "cards");
        writeln!(console.out, "{counts} in {cards}")?;
    }
    Ok(counts.ending())
}
