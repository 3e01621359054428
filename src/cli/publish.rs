//! `publish`: findings first; then the site, put in place as a whole, and one closing line.

use super::args::Publish;
use super::console::Console;
use super::draw::{Drawn, draw_all};
use super::report::{Counts, PublishReport};
use super::words::{counted, size};
use super::{Ending, Stop};
use crate::publish::SiteOptions;
use crate::publish::output::{self, Written, keep_apart};
use crate::publish::pipeline::{Built, build, cards};
use std::time::Instant;

pub(super) fn publish(asked: &Publish, console: &mut Console<'_>) -> Result<Ending, Stop> {
    let started = Instant::now();
    let built = console.during("solving the cards and drawing the pages", || {
        keep_apart(&asked.deck, &asked.to)?;
        let options = SiteOptions {
            address: asked.address.clone(),
            offline: true,
        };
        Ok::<_, Stop>(build(&asked.deck, &options)?)
    })?;
    let drawn = Drawn {
        findings: &built.findings,
        folder: &asked.deck,
        texts: &built.texts,
    };
    draw_all(&drawn, console.err_look, console.err)?;
    let counts = Counts::of(&built.findings);
    let written = match counts.ending() {
        Ending::Fine => console.during("writing the site", || {
            output::write(&built.files, &asked.to)
        })?,
        _ => Written { files: 0, bytes: 0 },
    };
    let report = PublishReport {
        pages: pages(&built, written),
        cards: cards(&built.texts),
        bytes: written.bytes,
        seconds: (started.elapsed().as_secs_f64() * 1_000.0).round() / 1_000.0,
        findings: counts,
    };
    if asked.json {
        console.answer_json(&report)?;
    } else {
        close(asked, &report, console)?;
    }
    Ok(counts.ending())
}

/// Pages that were written: none where an error stopped before output.
fn pages(built: &Built, written: Written) -> usize {
    let is_page = |name: &&String| name.ends_with(".html");
    match written.files {
        0 => 0,
        _ => built.files.keys().filter(is_page).count(),
    }
}

fn close(asked: &Publish, report: &PublishReport, console: &mut Console<'_>) -> Result<(), Stop> {
    let counts = report.findings;
    if counts.error > 0 {
        let to = asked.to.display();
        writeln!(
            console.err,
            "{counts}; nothing was published, {to} is as it was"
        )?;
        return Ok(());
    }
    if counts.any() {
        writeln!(console.err, "{counts}")?;
    }
    writeln!(
        console.out,
        "published {} as {}, {}, to {} in {:.1} s",
        counted(report.cards, "card", "cards"),
        counted(report.pages, "page", "pages"),
        size(report.bytes),
        asked.to.display(),
        report.seconds
    )?;
    if asked.address.is_none() {
        writeln!(
            console.out,
            "no --address was given, so paper sheets and labels carry no QR code"
        )?;
    }
    Ok(())
}
