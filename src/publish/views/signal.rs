//! The signal: a chart and a table with the same values.

use crate::card::Card;
use crate::publish::drawing::plot::CodeRegions;
use crate::publish::drawing::signal::{Chart, ChartPoint, draw};
use crate::publish::units::Both;
use crate::publish::words;
use crate::quantity::{
    Dimension, Interval, Quantity, write_interval, write_quantity, write_toleranced,
};
use crate::sheet::{Sheet, SignalLine, SignalSheet};
use serde::Serialize;

/// The signal against its points.
#[derive(Serialize)]
pub(super) struct SignalView {
    pin: String,
    drawing: Option<String>,
    points: Vec<PointLine>,
    states_any: bool,
    ohms_any: bool,
    stated_source: String,
    below: String,
    above: String,
    limits_source: String,
}

/// One point.
#[derive(Serialize)]
struct PointLine {
    at: Both,
    computed: String,
    stated: String,
    ohms: String,
}

/// The signal of a card; none where the circuit has none.
pub(super) fn view(card: &Card, sheet: &Sheet) -> Option<SignalView> {
    let signal = sheet.signal.as_ref()?;
    let (below, above) = match signal.valid {
        Some(valid) => (volts(valid.low), volts(valid.high)),
        None => Default::default(),
    };
    Some(SignalView {
        pin: signal.pin.clone(),
        drawing: draw(&chart(signal)),
        points: signal.points.iter().map(point_line).collect(),
        states_any: signal.points.iter().any(|point| point.stated.is_some()),
        ohms_any: signal.points.iter().any(|point| point.ohms.is_some()),
        stated_source: words::source_of(card, "signal"),
        below,
        above,
        limits_source: words::source_of_parameter(card, "valid"),
    })
}

fn volts(number: f64) -> String {
    write_quantity(Quantity {
        number,
        dimension: Dimension::Voltage,
    })
}

fn volt_band(band: Interval) -> String {
    words::together(&write_interval(band, Dimension::Voltage))
}

fn point_line(point: &SignalLine) -> PointLine {
    PointLine {
        at: Both::of(&point.at),
        computed: volt_band(point.band),
        stated: point.stated.map(volt_band).unwrap_or_default(),
        ohms: point
            .ohms
            .map(|ohms| write_toleranced(ohms, Dimension::Resistance))
            .unwrap_or_default(),
    }
}

fn chart(signal: &SignalSheet) -> Chart {
    let codes = code_regions(signal);
    Chart {
        points: signal
            .points
            .iter()
            .map(|point| chart_point(signal, point))
            .collect(),
        full: signal.full,
        title: format!("Signal at pin {} by state of the part", signal.pin),
        describes: describe(signal, codes.as_ref()),
        codes,
    }
}

/// Where the module sets a code, in words for a chart.
pub(super) fn code_regions(signal: &SignalSheet) -> Option<CodeRegions> {
    signal.valid.map(|valid| CodeRegions {
        valid,
        above: format!("above {} the module sets a code", volts(valid.high)),
        below: format!("below {} the module sets a code", volts(valid.low)),
    })
}

/// A place on the axis only where every point is a number of one dimension.
fn chart_point(signal: &SignalSheet, point: &SignalLine) -> ChartPoint {
    let dimension = |line: &SignalLine| line.x.map(|(_, dimension)| dimension);
    let comparable = signal
        .points
        .iter()
        .all(|other| dimension(other) == dimension(point));
    ChartPoint {
        at: Both::of(&point.at),
        x: point.x.filter(|_| comparable).map(|(number, _)| number),
        computed: point.band,
        stated: point.stated,
    }
}

fn describe(signal: &SignalSheet, codes: Option<&CodeRegions>) -> String {
    let mut parts: Vec<String> = signal
        .points
        .iter()
        .map(|point| format!("{}: {}", point.at, volt_band(point.band)))
        .collect();
    if let Some(regions) = codes {
        parts.push(regions.below.clone());
        parts.push(regions.above.clone());
    }
    format!("{}.", parts.join("; "))
}
