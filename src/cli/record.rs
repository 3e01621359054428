//! `record`: known-good readings appended to the deck's `readings/CARD.csv`, and told at once how they stand.
//!
//! All readings of a call are written, or none. The only verb that asks the clock, for the day.

use super::args::Record;
use super::console::Console;
use super::diagnose::print_mistake;
use super::draw::visible;
use super::named::{heading, sheet, solved};
use super::record_file::append;
use super::{Ending, Stop};
use crate::card::{Date, READINGS_HEADER, load, shipped};
use crate::quantity::Dimension;
use crate::reason::Observed;
use crate::report::words::{band, unit};
use crate::report::{MeasuredReport, measured_lines};
use crate::sheet::{
    KnownGood, Mistaken, Sheet, Stands, Taken, known_good, place_name, stands, take,
};
use serde::Serialize;
use std::path::Path;

pub(super) fn record(asked: &Record, console: &mut Console<'_>) -> Result<Ending, Stop> {
    let Some(said) = Said::of(asked, console)? else {
        return Ok(Ending::Misused);
    };
    let prepared = solved(&asked.deck, &asked.card, console)?;
    let sheet = match sheet(&prepared, &asked.deck, &asked.card, console)? {
        Ok(sheet) => sheet,
        Err(ending) => return Ok(ending),
    };
    let Some(rows) = rows(sheet, asked, console)? else {
        return Ok(Ending::Misused);
    };
    let fields: Vec<_> = rows.iter().map(|row| row.fields(&said)).collect();
    let file = append(&asked.deck, &sheet.card, &fields)?;
    let recorded = Recorded {
        card: &sheet.card,
        file: file.display().to_string(),
        said: &said,
        known: known_now(&asked.deck, sheet, &rows),
        rows: &rows,
        sheet,
    };
    if asked.json {
        console.answer_json(&recorded.report())?;
    } else {
        writeln!(console.out, "{}\n", heading(&prepared, sheet))?;
        recorded.print(console)?;
    }
    Ok(Ending::Fine)
}

/// What is said beside the readings, the same for all of a call.
struct Said {
    date: String,
    vehicle: String,
    meter: String,
    note: String,
}

impl Said {
    /// None after it was told what makes no sense.
    fn of(asked: &Record, console: &mut Console<'_>) -> Result<Option<Said>, Stop> {
        let date = match &asked.date {
            Some(typed) => typed.trim().to_owned(),
            None => jiff::ZonedDateTime::now().strftime("%Y-%m-%d").to_string(),
        };
        if Date::read(&date).is_none() {
            let date = visible(&date);
            writeln!(
                console.err,
                "`{date}` is no day: write the year, the month and the day, such as 2026-11-25"
            )?;
            return Ok(None);
        }
        let mut plain = true;
        let mut words = |option: &str, typed: &Option<String>| -> Result<String, Stop> {
            let typed = typed.as_deref().unwrap_or("").trim();
            if typed.contains(char::is_control) {
                writeln!(console.err, "--{option} must stand on one line")?;
                plain = false;
            }
            Ok(typed.to_owned())
        };
        let said = Said {
            vehicle: words("vehicle", &asked.vehicle)?,
            meter: words("meter", &asked.meter)?,
            note: words("note", &asked.note)?,
            date,
        };
        Ok(plain.then_some(said))
    }
}

/// A row to be written.
struct Row {
    taken: Taken,
    test: String,
    state: String,
    stands: Stands,
    dimension: Dimension,
}

impl Row {
    fn fields<'a>(&'a self, said: &'a Said) -> [&'a str; READINGS_HEADER.len()] {
        [
            &said.date,
            &said.vehicle,
            &self.test,
            &self.state,
            &self.taken.typed,
            &said.meter,
            &said.note,
        ]
    }

    fn probe(&self) -> usize {
        self.taken.observation.probe
    }
}

/// All readings typed, or none after every wrong one was told.
fn rows(
    sheet: &Sheet,
    asked: &Record,
    console: &mut Console<'_>,
) -> Result<Option<Vec<Row>>, Stop> {
    let mut rows = Vec::new();
    let mut wrong = false;
    for typed in &asked.readings {
        match row(sheet, &with_state(sheet, typed, asked.at.as_deref())) {
            Ok(row) => rows.push(row),
            Err(mistaken) => {
                print_mistake(&mistaken, console.err)?;
                wrong = true;
            }
        }
    }
    Ok((!wrong).then_some(rows))
}

/// `TEST=READING` as `TEST@STATE=READING`, where the test is read in states and names none itself.
fn with_state(sheet: &Sheet, typed: &str, at: Option<&str>) -> String {
    let Some(((test, reading), state)) = typed.split_once('=').zip(at) else {
        return typed.to_owned();
    };
    let test = test.trim();
    let probes = &sheet.reasoning.signatures.probes;
    let in_states = |test: &str| {
        let mut own = probes.iter().filter(|probe| probe.test == test);
        own.any(|probe| !probe.state.is_empty())
    };
    match in_states(test) {
        true => format!("{test}@{state}={reading}"),
        false => typed.to_owned(),
    }
}

fn row(sheet: &Sheet, typed: &str) -> Result<Row, Mistaken> {
    let taken = take(sheet, typed)?;
    let good = match taken.observation.reading {
        Observed::Value { number, .. } => number.is_finite(),
        Observed::Floating | Observed::NoPath => true,
        Observed::NoChange | Observed::CannotMeasure => false,
    };
    if !good {
        return Err(Mistaken {
            says: format!("`{}` is no reading of a good circuit to keep", taken.typed),
            ..Mistaken::default()
        });
    }
    let probe = taken.observation.probe;
    let place = place_name(sheet, probe);
    let (test, state) = place.split_once('@').unwrap_or((&place, ""));
    Ok(Row {
        test: test.to_owned(),
        state: state.to_owned(),
        stands: stands(sheet, &taken.observation),
        dimension: sheet.dimension_at(probe),
        taken,
    })
}

/// What the file now says of the tests recorded; nothing where it can't be read again.
fn known_now(deck: &Path, sheet: &Sheet, rows: &[Row]) -> Vec<KnownGood> {
    let loaded = load(deck, &shipped()).ok();
    let Some(deck) = loaded.and_then(|loaded| loaded.deck) else {
        return Vec::new();
    };
    let mut known = known_good(&deck, sheet).0;
    known.retain(|one| rows.iter().any(|row| row.probe() == one.probe));
    known
}

/// What was done.
struct Recorded<'a> {
    card: &'a str,
    file: String,
    said: &'a Said,
    rows: &'a [Row],
    known: Vec<KnownGood>,
    sheet: &'a Sheet,
}

impl Recorded<'_> {
    fn print(&self, console: &mut Console<'_>) -> Result<(), Stop> {
        let out = &mut console.out;
        writeln!(out, "recorded in {}", visible(&self.file))?;
        for row in self.rows {
            let place = place_name(self.sheet, row.probe());
            let healthy = self.sheet.reasoning.signatures.healthy(row.probe());
            let computed = visible(&band(&healthy, row.dimension));
            let stands = match row.stands {
                Stands::Inside => format!("inside the computed band, {computed}"),
                Stands::Outside => format!(
                    "OUTSIDE the computed band, {computed}: kept in the file, left out of the known-good band"
                ),
                Stands::NotHeld => "a derived value, held against no band".to_owned(),
            };
            writeln!(
                out,
                "  {} {}  {}  {stands}",
                self.said.date,
                visible(&place),
                visible(&row.taken.typed)
            )?;
        }
        if !self.known.is_empty() {
            writeln!(out, "\nmeasured here")?;
        }
        for known in &self.known {
            writeln!(out, "  {}", visible(&known.place))?;
            for line in measured_lines(self.sheet, known) {
                writeln!(out, "    {}", visible(&line))?;
            }
        }
        Ok(())
    }

    fn report(&self) -> RecordReport<'_> {
        let row = |row: &'_ Row| -> RowReport {
            let healthy = self.sheet.reasoning.signatures.healthy(row.probe());
            let value = match row.taken.observation.reading {
                Observed::Value { number, .. } => Some(number),
                _ => None,
            };
            RowReport {
                test: row.test.clone(),
                state: row.state.clone(),
                reading: row.taken.typed.clone(),
                value,
                unit: unit(row.dimension),
                inside: match row.stands {
                    Stands::Inside => Some(true),
                    Stands::Outside => Some(false),
                    Stands::NotHeld => None,
                },
                bands: healthy
                    .intervals
                    .iter()
                    .map(|one| [one.low, one.high])
                    .collect(),
            }
        };
        RecordReport {
            card: self.card,
            file: &self.file,
            date: &self.said.date,
            vehicle: &self.said.vehicle,
            meter: &self.said.meter,
            note: &self.said.note,
            rows: self.rows.iter().map(row).collect(),
            measured: self
                .known
                .iter()
                .map(|known| MeasuredReport::of(self.sheet, known))
                .collect(),
        }
    }
}

/// The answer of `record`.
#[derive(Debug, Serialize)]
struct RecordReport<'a> {
    card: &'a str,
    file: &'a str,
    date: &'a str,
    vehicle: &'a str,
    meter: &'a str,
    note: &'a str,
    rows: Vec<RowReport>,
    measured: Vec<MeasuredReport>,
}

#[derive(Debug, Serialize)]
struct RowReport {
    test: String,
    state: String,
    reading: String,
    value: Option<f64>,
    unit: &'static str,
    /// Null where it is held against no band.
    inside: Option<bool>,
    bands: Vec<[f64; 2]>,
}
