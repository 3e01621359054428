//! The resistance chart: what the signal reads against series resistance in one place.
//!
//! In: a [`ResistanceChart`] of plain values. Out: SVG. One line a state, told by its words at its left
//! end and by its dashes; the page's table has the same values at every tenfold.

use super::plot::{self, CodeRegions, LEFT, RIGHT, Scale, WIDTH};
use super::svg::{Element, Picture, in_both, label, line, words};
use crate::publish::units::Both;
use crate::quantity::maths;

/// What is drawn.
pub(in crate::publish) struct ResistanceChart {
    /// A line a state: its words, then ohms and volts.
    pub(in crate::publish) lines: Vec<(Both, Vec<(f64, f64)>)>,
    /// Where the module sets a code.
    pub(in crate::publish) codes: Option<CodeRegions>,
    /// Full scale in volts.
    pub(in crate::publish) full: f64,
    /// What it is.
    pub(in crate::publish) title: String,
    /// All it says, in words.
    pub(in crate::publish) describes: String,
}

/// Ohms at the left and right edge, and the tenfolds between them.
pub(in crate::publish) const DECADES: [(f64, &str); 7] = [
    (1.0, "1"),
    (10.0, "10"),
    (100.0, "100"),
    (1e3, "1k"),
    (1e4, "10k"),
    (1e5, "100k"),
    (1e6, "1M"),
];

/// Dashes of the first, second and third line.
const DASHES: [&str; 3] = ["none", "7 3", "2 3"];

/// The drawing. None where there is nothing to draw.
pub(in crate::publish) fn draw(chart: &ResistanceChart) -> Option<String> {
    if chart.lines.is_empty() || chart.full <= 0.0 {
        return None;
    }
    let scale = Scale::of(chart.full, chart.codes.as_ref());
    let mut elements = plot::frame(&scale, chart.codes.as_ref());
    for (ohms, words) in DECADES {
        elements.push(line((x(ohms), scale.foot), (x(ohms), scale.foot + 4.0)));
        elements.push(label(
            x(ohms).min(RIGHT - 8.0),
            scale.foot + 17.0,
            12.0,
            words,
        ));
    }
    elements.push(label(
        f64::midpoint(LEFT, RIGHT),
        scale.foot + 33.0,
        12.0,
        "series resistance in ohm",
    ));
    for (number, (state, points)) in chart.lines.iter().enumerate() {
        elements.extend(state_line(
            state,
            points,
            DASHES[number % DASHES.len()],
            &scale,
        ));
    }
    let picture = Picture {
        title: &chart.title,
        describes: &chart.describes,
        width: WIDTH,
        height: scale.foot + 40.0,
    };
    Some(picture.of(elements))
}

/// A tenfold is as wide as the next.
fn x(ohms: f64) -> f64 {
    let decades = maths::log10(ohms) / 6.0;
    LEFT + decades.clamp(0.0, 1.0) * (RIGHT - LEFT)
}

fn state_line(state: &Both, points: &[(f64, f64)], dashes: &str, scale: &Scale) -> Vec<Element> {
    let mut inside = points
        .iter()
        .filter(|(ohms, _)| (0.99..1.01e6).contains(ohms))
        .map(|(ohms, volts)| (x(*ohms), scale.y(*volts)))
        .peekable();
    let Some(&(_, start)) = inside.peek() else {
        return Vec::new();
    };
    let drawn = plot::curve(inside, 0).word("stroke-dasharray", dashes);
    let mut elements = vec![drawn];
    let write = |text: &str| words(LEFT + 4.0, start - 4.0, 12.0, text);
    elements.extend(in_both(state, write));
    elements
}
