//! `preview`: the deck in a browser on this machine, until Ctrl-C.

use super::args::Preview;
use super::console::Console;
use super::draw::{Drawn, draw_all};
use super::report::Counts;
use super::words::counted;
use super::{Ending, Stop};
use crate::preview::{Event, Port, preview as show};
use std::path::Path;

pub(super) fn preview(asked: &Preview, console: &mut Console<'_>) -> Result<Ending, Stop> {
    let port = asked.port.map_or(Port::Usual, Port::Only);
    let mut told = Ok(());
    show(&asked.deck, port, &mut |event| {
        // After one failed print the server goes on: whoever closed the output can still read pages.
        let printed = tell(event, &asked.deck, console);
        if told.is_ok() {
            told = printed;
        }
    })?;
    told?;
    Ok(Ending::Fine)
}

fn tell(event: Event, deck: &Path, console: &mut Console<'_>) -> Result<(), Stop> {
    match event {
        Event::Listening(address) => {
            writeln!(
                console.out,
                "{address}\nCtrl-C stops; a changed file shows on the next load"
            )?;
        }
        Event::Published {
            pages,
            findings,
            texts,
        } => {
            let drawn = Drawn {
                findings: &findings,
                folder: deck,
                texts: &texts,
            };
            draw_all(&drawn, console.err_look, console.err)?;
            let pages = counted(pages, "page", "pages");
            writeln!(console.err, "{pages}, {}", Counts::of(&findings))?;
        }
        Event::Kept { findings, texts } => {
            let drawn = Drawn {
                findings: &findings,
                folder: deck,
                texts: &texts,
            };
            draw_all(&drawn, console.err_look, console.err)?;
            let counts = Counts::of(&findings);
            writeln!(console.err, "{counts}; the pages stay as they were")?;
        }
        Event::Gone(error) => {
            writeln!(console.err, "{}; the pages stay as they were", error.cause)?;
        }
        Event::Blind(cause) => {
            writeln!(
                console.err,
                "changes can't be followed ({cause}); start again to see them"
            )?;
        }
    }
    console.flush()
}
