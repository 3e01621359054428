//! The report of what was measured in the shop, and the words for it that pages and terminal share.

use super::words::unit;
use crate::calc::tolerance::Claim;
use crate::quantity::{Dimension, Quantity, write_quantity, write_reading};
use crate::sheet::{KnownGood, KnownReading, LeftOut, Sheet};
use serde::Serialize;

/// What one test reads in one state, measured here. Empty numbers are null.
#[derive(Debug, Serialize)]
pub struct MeasuredReport {
    test: String,
    state: String,
    unit: &'static str,
    /// Readings used.
    count: usize,
    /// Null under two readings, as the next; in the unit.
    mean: Option<f64>,
    spread: Option<f64>,
    interval: Option<[f64; 2]>,
    confidence: f64,
    coverage: f64,
    vehicles: usize,
    from: String,
    to: String,
    source: &'static str,
    readings: Vec<ReadingReport>,
}

#[derive(Debug, Serialize)]
struct ReadingReport {
    date: String,
    vehicle: String,
    reading: String,
    value: Option<f64>,
    left_out: Option<&'static str>,
}

impl MeasuredReport {
    /// What is known at one test in one state.
    pub fn of(sheet: &Sheet, known: &KnownGood) -> Self {
        let spread = known.spread.filter(|spread| spread.count > 1);
        let test = sheet.tests.get(known.test);
        Self {
            test: test.map(|test| test.id.clone()).unwrap_or_default(),
            state: known.state.clone(),
            unit: unit(dimension(sheet, known)),
            count: known.used().count(),
            mean: spread.map(|spread| spread.mean),
            spread: spread.map(|spread| spread.deviation),
            interval: known.interval.map(|one| [one.low, one.high]),
            confidence: known.claim.confidence(),
            coverage: known.claim.coverage(),
            vehicles: known.vehicles,
            from: known.from.to_string(),
            to: known.to.to_string(),
            source: "measured here",
            readings: known.readings.iter().map(ReadingReport::of).collect(),
        }
    }

    /// All of one test.
    pub fn of_test(sheet: &Sheet, test: usize) -> Vec<Self> {
        let own = sheet.known_good.iter().filter(|known| known.test == test);
        own.map(|known| Self::of(sheet, known)).collect()
    }
}

impl ReadingReport {
    fn of(reading: &KnownReading) -> Self {
        Self {
            date: reading.date.to_string(),
            vehicle: reading.vehicle.clone(),
            reading: reading.typed.clone(),
            value: reading.number,
            left_out: reading.left_out.map(LeftOut::says),
        }
    }
}

/// A line on how many and from where, one on what they give, one for each reading left out.
pub fn measured_lines(sheet: &Sheet, known: &KnownGood) -> Vec<String> {
    let dimension = dimension(sheet, known);
    let mut lines = vec![measured_from(known)];
    match (known.spread, known.interval) {
        (Some(numbers), Some(interval)) => {
            let write = |number| write_quantity(Quantity { number, dimension });
            lines.push(format!(
                "mean {}, spread {}, known-good band {} ({})",
                write(numbers.mean),
                spread(numbers.deviation, dimension),
                write_reading(interval, dimension),
                claim(known.claim)
            ));
        }
        _ => {
            let typed = known.typed();
            if !typed.is_empty() {
                lines.push(typed.join(", "));
            }
        }
    }
    lines.extend(
        known
            .left_out()
            .map(|(one, why)| format!("left out: {} of {}, {}", one.typed, one.date, why.says())),
    );
    lines
}

fn dimension(sheet: &Sheet, known: &KnownGood) -> Dimension {
    let test = sheet.tests.get(known.test);
    test.map_or(Dimension::Voltage, |test| test.dimension)
}

/// How many known-good readings are used, and whose: `6 readings, 2 vehicles, 2026-10-05 to 2026-11-20`.
pub fn measured_from(known: &KnownGood) -> String {
    let count = match known.used().count() {
        0 => "no reading that is used".to_owned(),
        count => counted(count, "reading"),
    };
    let vehicles = match known.vehicles {
        0 => String::new(),
        vehicles => format!(", {}", counted(vehicles, "vehicle")),
    };
    let (from, to) = (known.from, known.to);
    let days = match from == to {
        true => from.to_string(),
        false => format!("{from} to {to}"),
    };
    format!("{count}{vehicles}, {days}")
}

/// A spread to two digits: some ten readings know no more of it.
pub fn spread(deviation: f64, dimension: Dimension) -> String {
    let number = format!("{deviation:.1e}").parse().unwrap_or(deviation);
    let dimension = dimension.of_difference();
    write_quantity(Quantity { number, dimension })
}

/// What a known-good band claims: `with 95 % confidence it holds 95 % of good readings`.
pub fn claim(claim: Claim) -> String {
    let percent = |number| {
        let dimension = Dimension::Ratio;
        write_quantity(Quantity { number, dimension })
    };
    format!(
        "with {} confidence it holds {} of good readings",
        percent(claim.confidence()),
        percent(claim.coverage())
    )
}

fn counted(count: usize, noun: &str) -> String {
    let end = if count == 1 { "" } else { "s" };
    format!("{count} {noun}{end}")
}
