//! The signal chart: what the signal pin reads at each point, and where the module sets a code.
//!
//! In: a [`Chart`] of plain values. Out: SVG. Filled bars are computed, brackets are what the card
//! states, shaded strips are where the module sets a code; the page's table has the same values.

use super::plot::{self, CodeRegions, LEFT, LETTER, RIGHT, Scale, WIDTH};
use super::svg::{Element, Picture, in_both, label, rectangle};
use crate::publish::units::Both;
use crate::quantity::Interval;

/// What is drawn.
pub(in crate::publish) struct Chart {
    /// Points in order.
    pub(in crate::publish) points: Vec<ChartPoint>,
    /// Outside these volts the module sets a code: interval, words above, words below.
    pub(in crate::publish) codes: Option<CodeRegions>,
    /// Full scale in volts.
    pub(in crate::publish) full: f64,
    /// What it is.
    pub(in crate::publish) title: String,
    /// All it says, in words.
    pub(in crate::publish) describes: String,
}

/// One point.
pub(in crate::publish) struct ChartPoint {
    /// The author's words.
    pub(in crate::publish) at: Both,
    /// Place on the axis, where the points are numbers of one dimension.
    pub(in crate::publish) x: Option<f64>,
    /// Computed band in volts.
    pub(in crate::publish) computed: Interval,
    /// Stated band in volts.
    pub(in crate::publish) stated: Option<Interval>,
}

/// The drawing. None where there is nothing to draw.
pub(in crate::publish) fn draw(chart: &Chart) -> Option<String> {
    if chart.points.is_empty() || chart.full <= 0.0 {
        return None;
    }
    let scale = Scale::of(chart.full, chart.codes.as_ref());
    let foot = scale.foot;
    let mut elements = plot::frame(&scale, chart.codes.as_ref());
    let places = places(&chart.points);
    for (point, x) in chart.points.iter().zip(&places) {
        elements.extend(bars(point, *x, &scale));
    }
    let (labels, foot) = point_labels(&chart.points, &places, foot);
    elements.extend(labels);
    let picture = Picture {
        title: &chart.title,
        describes: &chart.describes,
        width: WIDTH,
        height: foot,
    };
    Some(picture.of(elements))
}

/// Where each point stands: to scale where all are numbers, else evenly spaced.
fn places(points: &[ChartPoint]) -> Vec<f64> {
    let (left, right) = (LEFT + 26.0, RIGHT - 26.0);
    let numbers: Option<Vec<f64>> = points.iter().map(|point| point.x).collect();
    let spread = |numbers: &[f64]| {
        let low = numbers.iter().copied().fold(f64::INFINITY, f64::min);
        let high = numbers.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        (low, high)
    };
    match numbers {
        Some(numbers) if spread(&numbers).0 < spread(&numbers).1 => {
            let (low, high) = spread(&numbers);
            let to_scale = |number: &f64| left + (number - low) / (high - low) * (right - left);
            numbers.iter().map(to_scale).collect()
        }
        _ => {
            let step = (RIGHT - LEFT) / points.len() as f64;
            (0..points.len())
                .map(|index| LEFT + (index as f64 + 0.5) * step)
                .collect()
        }
    }
}

/// The computed band as a filled bar, the stated one as a bracket at its left.
fn bars(point: &ChartPoint, x: f64, scale: &Scale) -> Vec<Element> {
    let (top, foot) = (scale.y(point.computed.high), scale.y(point.computed.low));
    // A very narrow band still has to be seen.
    let height = (foot - top).max(4.0);
    let bar = rectangle(
        x - 5.0,
        f64::midpoint(top, foot) - height / 2.0,
        10.0,
        height,
    )
    .number("rx", 2.0)
    .word("class", "bar")
    .word("fill", "currentColor");
    let mut elements = vec![bar];
    if let Some(stated) = point.stated {
        let (top, foot) = (scale.y(stated.high), scale.y(stated.low));
        let path = format!("M{:.1} {top:.1}h-6V{foot:.1}h6", x - 7.0);
        let bracket = Element::new("path")
            .word("d", &path)
            .word("fill", "none")
            .word("stroke", "currentColor")
            .number("stroke-width", 2.0);
        elements.push(bracket);
    }
    elements
}

/// The points' words under the plot, on as many lines as keep them apart; also the drawing's foot.
fn point_labels(points: &[ChartPoint], places: &[f64], top: f64) -> (Vec<Element>, f64) {
    let mut line_ends: Vec<f64> = Vec::new();
    let mut elements = Vec::new();
    for (point, x) in points.iter().zip(places) {
        let letters = point.at.si.chars().count().max(point.at.us.chars().count());
        let half = letters as f64 * LETTER / 2.0;
        let middle = x.clamp(half, (WIDTH - half).max(half));
        let line = line_ends
            .iter()
            .position(|end| *end < middle - half)
            .unwrap_or(line_ends.len());
        if line == line_ends.len() {
            line_ends.push(0.0);
        }
        line_ends[line] = middle + half + 4.0;
        let foot = top + 16.0 + 15.0 * line as f64;
        elements.extend(in_both(&point.at, |text| label(middle, foot, 12.0, text)));
    }
    let foot = top + 8.0 + 15.0 * line_ends.len() as f64;
    (elements, foot)
}
