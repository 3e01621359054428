//! Known-good readings: what was measured in the shop, beside the computed band and the card's.

use super::order;
use crate::publish::units::Both;
use crate::publish::words;
use crate::quantity::{Dimension, Quantity, write_interval, write_quantity, write_reading};
use crate::report::{claim, measured_from, spread as spread_words};
use crate::sheet::{KnownGood, Sheet};
use serde::Serialize;

/// What was measured here.
#[derive(Serialize)]
pub(super) struct KnownGoodReadings {
    lines: Vec<Line>,
    left_out: Vec<LeftOutLine>,
    /// What the bands claim; empty where there is none.
    claim: String,
    states_any: bool,
    stated_source: String,
    /// A band of one vehicle's readings alone is among them.
    one_vehicle: bool,
}

/// One test in one state.
#[derive(Serialize)]
struct Line {
    test: String,
    anchor: String,
    state: Both,
    computed: String,
    stated: String,
    from: String,
    /// The band with mean and spread, or the readings where they are too few for one.
    band: String,
    mean: String,
    spread: String,
    readings: String,
}

/// A reading that is not used.
#[derive(Serialize)]
struct LeftOutLine {
    reading: String,
    test: String,
    date: String,
    vehicle: String,
    why: &'static str,
}

/// None where nothing was recorded.
pub(super) fn view(sheet: &Sheet, stated_source: String) -> Option<KnownGoodReadings> {
    let known = &sheet.known_good;
    let with_band = known.iter().find(|one| one.interval.is_some());
    let one_vehicle = |one: &KnownGood| one.interval.is_some() && one.vehicles < 2;
    (!known.is_empty()).then(|| KnownGoodReadings {
        lines: known.iter().filter_map(|one| line(sheet, one)).collect(),
        left_out: known.iter().flat_map(|one| left_out(sheet, one)).collect(),
        claim: with_band.map_or_else(String::new, |one| words::together(&claim(one.claim))),
        states_any: known.iter().any(|one| one.stated.is_some()),
        stated_source,
        one_vehicle: known.iter().any(one_vehicle),
    })
}

fn line(sheet: &Sheet, known: &KnownGood) -> Option<Line> {
    let test = sheet.tests.get(known.test)?;
    let written = |number| {
        let quantity = Quantity {
            number,
            dimension: test.dimension,
        };
        words::together(&write_quantity(quantity))
    };
    let spread = known.spread.filter(|_| known.interval.is_some());
    let stated = known
        .stated
        .map(|stated| words::together(&write_interval(stated, Dimension::Voltage)));
    let band = known
        .interval
        .map(|one| words::together(&write_reading(one, test.dimension)));
    let readings: Vec<String> = match known.interval {
        Some(_) => Vec::new(),
        None => known.typed().into_iter().map(words::together).collect(),
    };
    Some(Line {
        test: test.title.clone(),
        anchor: order::anchor(test),
        state: Both::of(&known.state),
        computed: words::band_on_page(&known.computed, test.dimension),
        stated: stated.unwrap_or_default(),
        from: measured_from(known),
        band: band.unwrap_or_default(),
        mean: spread
            .map(|spread| written(spread.mean))
            .unwrap_or_default(),
        spread: spread
            .map(|spread| words::together(&spread_words(spread.deviation, test.dimension)))
            .unwrap_or_default(),
        readings: readings.join(", "),
    })
}

fn left_out(sheet: &Sheet, known: &KnownGood) -> Vec<LeftOutLine> {
    let test = sheet.tests.get(known.test);
    let title = test.map(|test| test.title.as_str()).unwrap_or_default();
    let place = match known.state.as_str() {
        "" => title.to_owned(),
        state => format!("{title}, {state}"),
    };
    known
        .left_out()
        .map(|(one, why)| LeftOutLine {
            reading: words::together(&one.typed),
            test: place.clone(),
            date: one.date.to_string(),
            vehicle: one.vehicle.clone(),
            why: why.says(),
        })
        .collect()
}
