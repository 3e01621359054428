//! The frame of a plot of volts: scale, lines at whole volts, where the module sets a code.
//!
//! In: full scale and code regions. Out: elements and the scale to draw by. Shared by all charts of
//! volts, so that they look and read alike.

use super::svg::{Element, label, line, rectangle};
use crate::quantity::Interval;

/// Where the module sets a code.
pub(in crate::publish) struct CodeRegions {
    /// Volts the module accepts.
    pub(in crate::publish) valid: Interval,
    /// Words in the upper strip.
    pub(in crate::publish) above: String,
    /// Words in the lower strip.
    pub(in crate::publish) below: String,
}

/// Natural width in CSS pixels: fits the narrowest phone without shrinking.
pub(super) const WIDTH: f64 = 288.0;
/// Left edge of the plot, room for `10 V`.
pub(super) const LEFT: f64 = 38.0;
/// Right edge of the plot.
pub(super) const RIGHT: f64 = WIDTH - 4.0;
/// Height of the volts from nought to full scale.
const HEIGHT: f64 = 170.0;
/// Height of a strip in which the words about codes stand.
const STRIP: f64 = 24.0;
/// Width of a letter at 12 px.
pub(super) const LETTER: f64 = 6.6;

/// Volts to pixels.
pub(super) struct Scale {
    top: f64,
    full: f64,
    /// Lower edge of the plot.
    pub(super) foot: f64,
}

impl Scale {
    /// For these volts at full scale, with room for words about codes where there are any.
    pub(super) fn of(full: f64, codes: Option<&CodeRegions>) -> Self {
        let strip = if codes.is_some() { STRIP } else { 0.0 };
        let top = 6.0 + strip;
        Self {
            top,
            full,
            foot: top + HEIGHT + strip,
        }
    }

    /// Where these volts stand.
    pub(super) fn y(&self, volts: f64) -> f64 {
        self.top + (self.full - volts.clamp(0.0, self.full)) / self.full * HEIGHT
    }
}

/// A curve through points in pixels, written to this many decimals.
pub(super) fn curve(points: impl IntoIterator<Item = (f64, f64)>, decimals: usize) -> Element {
    let mut path = String::new();
    for (x, y) in points {
        let step = if path.is_empty() { 'M' } else { 'L' };
        path.push_str(&format!("{step}{x:.decimals$} {y:.decimals$}"));
    }
    Element::new("path")
        .word("d", &path)
        .word("fill", "none")
        .word("class", "curve")
        .word("stroke", "currentColor")
        .number("stroke-width", 2.0)
}

/// Lines at whole volts, then the regions where the module sets a code.
pub(super) fn frame(scale: &Scale, codes: Option<&CodeRegions>) -> Vec<Element> {
    let mut elements = axis(scale);
    if let Some(regions) = codes {
        elements.extend(code_regions(regions, scale));
    }
    elements
}

/// A line and a number for every volt, or every other where there are many.
fn axis(scale: &Scale) -> Vec<Element> {
    let step = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0]
        .into_iter()
        .find(|step| scale.full / step <= 6.0)
        .unwrap_or(scale.full);
    let mut elements = Vec::new();
    let mut volts = 0.0;
    while volts <= scale.full {
        let y = scale.y(volts);
        elements.push(line((LEFT, y), (RIGHT, y)).word("stroke-opacity", "0.25"));
        let text = Element::new("text")
            .number("x", LEFT - 5.0)
            .number("y", y + 4.0)
            .number("font-size", 12.0)
            .word("text-anchor", "end")
            .word("fill", "currentColor")
            .text(&format!("{volts} V"));
        elements.push(text);
        volts += step;
    }
    elements
}

fn code_regions(regions: &CodeRegions, scale: &Scale) -> Vec<Element> {
    let (high, low) = (scale.y(regions.valid.high), scale.y(regions.valid.low));
    let (ceiling, floor) = (scale.top - STRIP, scale.top + HEIGHT + STRIP);
    let middle = f64::midpoint(LEFT, RIGHT);
    let shade = |y: f64, height: f64| {
        rectangle(LEFT, y, RIGHT - LEFT, height)
            .word("fill", "currentColor")
            .word("fill-opacity", "0.12")
    };
    let edge = |y: f64| line((LEFT, y), (RIGHT, y)).word("stroke-dasharray", "5 3");
    vec![
        shade(ceiling, high - ceiling),
        shade(low, floor - low),
        edge(high),
        edge(low),
        label(middle, ceiling + 16.0, 12.0, &regions.above),
        label(middle, floor - 8.0, 12.0, &regions.below),
    ]
}
