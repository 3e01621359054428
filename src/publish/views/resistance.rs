//! What series resistance does here: from where each test shows it, and what it does to the signal.

use super::signal;
use crate::publish::drawing::resistance::{DECADES, ResistanceChart, draw};
use crate::publish::units::Both;
use crate::publish::words;
use crate::quantity::{Dimension, Quantity, write_quantity};
use crate::sheet::{SeriesEffect, SeriesSheet, SeriesTest, Sheet, TestSheet};
use serde::Serialize;

/// What series resistance does in each wire and contact.
#[derive(Serialize)]
pub(super) struct Resistance {
    plain_test: String,
    passes: String,
    loaded_test: String,
    load: String,
    /// From where the loaded test always shows resistance in a wire.
    loaded_sees: String,
    /// The test that sees least in one place: a loaded one that sees far less than that test; any, where none is loaded.
    finer: Option<Finer>,
    places: Vec<PlaceLine>,
    charts: Vec<PlaceChart>,
}

/// What a finer loaded test sees, and where.
#[derive(Serialize)]
struct Finer {
    test: String,
    place: String,
    sees: String,
}

/// One wire or contact.
#[derive(Serialize)]
struct PlaceLine {
    place: String,
    plain: String,
    loaded: String,
    best_test: String,
    best_state: Both,
    best: String,
    code: Option<Code>,
    kelvin: Vec<KelvinAt>,
}

/// From where the module sets a code: how much, which side, in which state.
#[derive(Serialize)]
struct Code {
    from: String,
    side: String,
    state: Both,
}

/// What 100 ohm does to the temperature shown, and where.
#[derive(Serialize)]
struct KelvinAt {
    kelvin: String,
    place: Both,
}

/// The signal against resistance in one wire.
#[derive(Serialize)]
struct PlaceChart {
    place: String,
    drawing: Option<String>,
    states: Vec<Both>,
    rows: Vec<OhmRow>,
}

/// What each state reads at one resistance.
#[derive(Serialize)]
struct OhmRow {
    ohms: String,
    volts: Vec<String>,
}

/// States in one chart; more lines than this can't be told apart.
const LINES: usize = 3;

/// Series resistance in the circuit of a card; none where there is nothing to say.
pub(super) fn view(sheet: &Sheet) -> Option<Resistance> {
    if sheet.series.is_empty() {
        return None;
    }
    let plain = plain_test(sheet);
    let loaded = sheet
        .series
        .iter()
        .flat_map(|series| &series.shows)
        .find(|seen| seen.loaded);
    let loaded = loaded.map(|seen| seen.test.clone()).unwrap_or_default();
    let title = plain.map(|test| test.title.clone()).unwrap_or_default();
    Some(Resistance {
        passes: most_missed(sheet, &title),
        load: sheet.reasoning.load.map(load_words).unwrap_or_default(),
        loaded_sees: most_missed(sheet, &loaded),
        finer: finer(sheet, &loaded),
        places: sheet
            .series
            .iter()
            .map(|series| place(series, &title, &loaded))
            .collect(),
        charts: charts(sheet),
        plain_test: title,
        loaded_test: loaded,
    })
}

/// The first test of the order that reads volts without a load.
fn plain_test(sheet: &Sheet) -> Option<&TestSheet> {
    let in_order = &sheet.tests[..sheet.in_order.min(sheet.tests.len())];
    let volts = |test: &&TestSheet| {
        test.dimension == Dimension::Voltage && test.scan.is_none() && test.links.is_empty()
    };
    in_order.iter().find(volts)
}

fn load_words(load: crate::reason::Load) -> String {
    let write =
        |number, dimension| words::together(&write_quantity(Quantity { number, dimension }));
    format!(
        "{} of at least {}, which draws at most {} and shows every resistance from {} up on the way to it",
        write(load.ohms, Dimension::Resistance),
        write(load.watts, Dimension::Power),
        words::rough(load.amps, Dimension::Current),
        ohms(load.sees)
    )
}

fn ohms(number: f64) -> String {
    words::rough(number, Dimension::Resistance)
}

/// From where a test always shows a resistance, at its worst state; none where it does not always.
fn worst(series: &SeriesSheet, test: &str) -> Option<f64> {
    let seen = series.shows.iter().filter(|seen| seen.test == test);
    let always: Option<Vec<f64>> = seen.map(|seen| seen.always).collect();
    always?.into_iter().reduce(f64::max)
}

/// The most resistance in a wire that a test can miss, over all wires it sees at all.
fn most_missed(sheet: &Sheet, test: &str) -> String {
    let each = wires(sheet).filter_map(|series| worst(series, test));
    each.reduce(f64::max).map(ohms).unwrap_or_default()
}

/// The loaded test and the wire with the least resistance always seen, where that is another test than the
/// first and sees a tenth of what that one does. Where there is no loaded test, that of all tests: one with the
/// circuit's own load running.
fn finer(sheet: &Sheet, first: &str) -> Option<Finer> {
    let loaded = |series: &'_ SeriesSheet| -> Option<(f64, String)> {
        let all = series.shows.iter();
        let seen = all.filter(|seen| seen.loaded || first.is_empty());
        seen.filter_map(|seen| Some((worst(series, &seen.test)?, seen.test.clone())))
            .min_by(|a, b| a.0.total_cmp(&b.0))
    };
    let each = wires(sheet).filter_map(|series| Some((series, loaded(series)?)));
    let (series, (sees, test)) = each.min_by(|a, b| a.1.0.total_cmp(&b.1.0))?;
    let coarse = worst(series, first).or(first.is_empty().then_some(f64::INFINITY))?;
    (test != first && sees < coarse / 10.0).then(|| Finer {
        test,
        place: place_name(series).to_owned(),
        sees: ohms(sees),
    })
}

/// The wires; contacts lie in a row with them, and the module's ground is no wire of this connector.
fn wires(sheet: &Sheet) -> impl Iterator<Item = &SeriesSheet> {
    let all = sheet.series.iter();
    all.filter(|series| place_name(series).ends_with(" wire"))
}

fn place(series: &SeriesSheet, plain: &str, loaded: &str) -> PlaceLine {
    let best = series
        .shows
        .iter()
        .filter_map(|seen| Some((seen.always?, seen)))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    PlaceLine {
        place: place_name(series).to_owned(),
        plain: shows(series, plain),
        loaded: if loaded.is_empty() {
            String::new()
        } else {
            shows(series, loaded)
        },
        best_test: best.map(|(_, seen)| seen.test.clone()).unwrap_or_default(),
        best_state: best
            .map(|(_, seen)| Both::of(&seen.state))
            .unwrap_or_default(),
        best: best.map(|(always, _)| ohms(always)).unwrap_or_default(),
        code: code(series),
        kelvin: kelvin(series),
    }
}

fn place_name(series: &SeriesSheet) -> &str {
    series
        .place
        .strip_suffix(" high resistance")
        .unwrap_or(&series.place)
}

/// `can from 0.12 ohm, always from 580 kohm`, `never`.
fn shows(series: &SeriesSheet, test: &str) -> String {
    let seen: Vec<&SeriesTest> = series
        .shows
        .iter()
        .filter(|seen| seen.test == test)
        .collect();
    let first = seen.iter().filter_map(|seen| seen.first).reduce(f64::min);
    match (first, worst(series, test)) {
        (Some(first), Some(always)) => {
            format!("can from {}, always from {}", ohms(first), ohms(always))
        }
        (Some(first), None) => format!("can from {}, never for certain", ohms(first)),
        (None, _) => "never".to_owned(),
    }
}

/// The least resistance from which the module sets a code, over all states.
fn code(series: &SeriesSheet) -> Option<Code> {
    let codes = series
        .effects
        .iter()
        .filter_map(|effect| Some((effect.code?, &effect.state)));
    let ((at, side), state) = codes.min_by(|a, b| a.0.0.total_cmp(&b.0.0))?;
    Some(Code {
        from: ohms(at),
        side: side.to_string(),
        state: Both::of(state),
    })
}

/// What 100 ohm does to the temperature the module works out, where it does anything at all.
fn kelvin(series: &SeriesSheet) -> Vec<KelvinAt> {
    let moves = |effect: &SeriesEffect| {
        let healthy = effect.healthy;
        effect
            .points
            .iter()
            .any(|(_, volts)| healthy.is_some_and(|at| 0.01 < (volts - at).abs()))
    };
    if !series.effects.iter().any(moves) {
        return Vec::new();
    }
    let told = series.effects.iter().filter(|effect| effect.told);
    let each = told.filter_map(|effect| {
        Some(KelvinAt {
            kelvin: words::rough(effect.kelvin?, Dimension::TemperatureSpan),
            place: Both::place(&effect.state),
        })
    });
    each.collect()
}

/// A chart for each wire; a contact does the same to the signal as its wire.
fn charts(sheet: &Sheet) -> Vec<PlaceChart> {
    let Some(frame) = &sheet.signal else {
        return Vec::new();
    };
    wires(sheet)
        .map(|series| {
            let shown = spread(series);
            let name = place_name(series);
            let rows = rows(&shown);
            let chart = ResistanceChart {
                lines: shown
                    .iter()
                    .map(|effect| (Both::of(&effect.state), effect.points.clone()))
                    .collect(),
                codes: signal::code_regions(frame),
                full: frame.full,
                title: format!("Signal against series resistance in the {name}"),
                describes: describe(&shown, &rows),
            };
            PlaceChart {
                place: name.to_owned(),
                drawing: draw(&chart),
                states: shown.iter().map(|effect| Both::of(&effect.state)).collect(),
                rows,
            }
        })
        .collect()
}

/// The first, the middle and the last of the states that have points.
fn spread(series: &SeriesSheet) -> Vec<&SeriesEffect> {
    let all: Vec<&SeriesEffect> = series
        .effects
        .iter()
        .filter(|effect| !effect.points.is_empty())
        .collect();
    if all.len() <= LINES {
        return all;
    }
    vec![all[0], all[all.len() / 2], all[all.len() - 1]]
}

/// The signal at every tenfold of resistance.
fn rows(effects: &[&SeriesEffect]) -> Vec<OhmRow> {
    let at = |effect: &SeriesEffect, ohms: f64| {
        let near = effect
            .points
            .iter()
            .find(|(x, _)| (x / ohms - 1.0).abs() < 0.01);
        near.map(|(_, volts)| words::rough_volts(*volts))
            .unwrap_or_default()
    };
    DECADES
        .into_iter()
        .map(|(ohms, _)| OhmRow {
            ohms: self::ohms(ohms),
            volts: effects.iter().map(|effect| at(effect, ohms)).collect(),
        })
        .collect()
}

fn describe(effects: &[&SeriesEffect], rows: &[OhmRow]) -> String {
    let (Some(first), Some(last)) = (rows.first(), rows.last()) else {
        return String::new();
    };
    let states = effects.iter().zip(first.volts.iter().zip(&last.volts));
    let sentences: Vec<String> = states
        .map(|(effect, (from, to))| {
            format!(
                "{}: {from} at {}, {to} at {}.",
                effect.state, first.ohms, last.ohms
            )
        })
        .collect();
    sentences.join(" ")
}
