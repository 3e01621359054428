//! `inspect`: every finding of a deck in one run, and how many.

use super::args::Inspect;
use super::console::Console;
use super::draw::{Drawn, draw_all};
use super::report::{Counts, InspectReport};
use super::words::counted;
use super::{Ending, Stop};
use crate::publish::pipeline::{cards, prepare};

pub(super) fn inspect(asked: &Inspect, console: &mut Console<'_>) -> Result<Ending, Stop> {
    let prepared = console.during("solving the cards", || prepare(&asked.deck))?;
    let counts = Counts::of(&prepared.findings);
    if asked.json {
        console.answer_json(&InspectReport::of(&prepared.findings))?;
    } else {
        let drawn = Drawn {
            findings: &prepared.findings,
            folder: &asked.deck,
            texts: &prepared.texts,
        };
        draw_all(&drawn, console.out_look, console.out)?;
        let cards = counted(cards(&prepared.texts), "card", "cards");
        writeln!(console.out, "{counts} in {cards}")?;
    }
    Ok(counts.ending())
}
