//! `inspect`: every finding of a deck in one run, and how many.

use super::args::Inspect;
use super::console::Console;
use super::draw::{Drawn, draw_all};
use super::report::{Counts, InspectReport};
use super::words::counted;
use super::{Ending, Stop};
use crate::publish::pipeline::{Prepared, cards, prepare};

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
        writeln!(console.out, "{counts} in {}", read(&prepared))?;
    }
    Ok(counts.ending())
}

/// `21 cards`; `2 files, no card among them` where nothing stands where cards are looked for.
fn read(prepared: &Prepared) -> String {
    let number = cards(&prepared.texts);
    if number > 0 {
        return counted(number, "card", "cards");
    }
    let own = prepared
        .texts
        .keys()
        .filter(|file| !file.starts_with("shipped/"));
    format!(
        "{}, no card among them",
        counted(own.count(), "file", "files")
    )
}
