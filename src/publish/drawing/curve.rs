//! A curve of volts against something measured, with one point marked.
//!
//! In: a [`CurveChart`] of plain values. Out: SVG. The words and the table beside it have the same
//! values.

use super::plot::{self, CodeRegions, LEFT, LETTER, RIGHT, Scale, WIDTH};
use super::svg::{Element, Picture, circle, label, line};

/// What is drawn.
pub(in crate::publish) struct CurveChart {
    /// What is measured, and volts; joined by straight lines.
    pub(in crate::publish) points: Vec<(f64, f64)>,
    /// Words under the plot, and where.
    pub(in crate::publish) ticks: Vec<(f64, String)>,
    /// The point marked, and its words.
    pub(in crate::publish) mark: Option<(f64, f64, String)>,
    /// Where the module sets a code.
    pub(in crate::publish) codes: Option<CodeRegions>,
    /// Full scale in volts.
    pub(in crate::publish) full: f64,
    /// Words for what is measured.
    pub(in crate::publish) axis: String,
    /// What it is.
    pub(in crate::publish) title: String,
    /// All it says, in words.
    pub(in crate::publish) describes: String,
}

/// The drawing. None where there is nothing to draw.
pub(in crate::publish) fn draw(chart: &CurveChart) -> Option<String> {
    let across = Across::of(&chart.points)?;
    if chart.full <= 0.0 {
        return None;
    }
    let scale = Scale::of(chart.full, chart.codes.as_ref());
    let mut elements = plot::frame(&scale, chart.codes.as_ref());
    for (at, words) in &chart.ticks {
        let x = across.x(*at);
        let half = words.chars().count() as f64 * LETTER / 2.0;
        elements.push(line((x, scale.foot), (x, scale.foot + 4.0)));
        let middle = x.clamp(LEFT.min(half), (RIGHT - half).max(LEFT));
        elements.push(label(middle, scale.foot + 17.0, 12.0, words));
    }
    let middle = f64::midpoint(LEFT, RIGHT);
    elements.push(label(middle, scale.foot + 33.0, 12.0, &chart.axis));
    let points = chart.points.iter();
    let points = points.map(|(at, volts)| (across.x(*at), scale.y(*volts)));
    elements.push(plot::curve(points, 1));
    if let Some((at, volts, words)) = &chart.mark {
        let ends = chart.points.first().zip(chart.points.last());
        let rises = ends.is_some_and(|(first, last)| (last.1 > first.1) == (last.0 > first.0));
        elements.extend(mark((across.x(*at), scale.y(*volts)), rises, words));
    }
    let picture = Picture {
        title: &chart.title,
        describes: &chart.describes,
        width: WIDTH,
        height: scale.foot + 40.0,
    };
    Some(picture.of(elements))
}

/// What is measured to pixels.
struct Across {
    low: f64,
    high: f64,
}

impl Across {
    fn of(points: &[(f64, f64)]) -> Option<Self> {
        let low = points.iter().map(|point| point.0).reduce(f64::min)?;
        let high = points.iter().map(|point| point.0).reduce(f64::max)?;
        (low < high).then_some(Self { low, high })
    }

    fn x(&self, at: f64) -> f64 {
        let part = (at - self.low) / (self.high - self.low);
        LEFT + part.clamp(0.0, 1.0) * (RIGHT - LEFT)
    }
}

/// A dot, and its words where the curve does not run.
fn mark((x, y): (f64, f64), rises: bool, words: &str) -> Vec<Element> {
    let is_left = x < f64::midpoint(LEFT, RIGHT);
    let (at, anchor) = match is_left {
        true => (x + 9.0, "start"),
        false => (x - 9.0, "end"),
    };
    let is_above = is_left != rises;
    let text = Element::new("text")
        .number("x", at)
        .number("y", if is_above { y - 6.0 } else { y + 16.0 })
        .number("font-size", 12.0)
        .word("font-weight", "700")
        .word("text-anchor", anchor)
        .word("fill", "currentColor")
        .text(words);
    vec![circle(x, y, 4.5).word("fill", "currentColor"), text]
}
