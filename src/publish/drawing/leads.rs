//! Where a test's leads, jumpers and loads go: on the pins of a drawn connector, and on points beside it.
//!
//! In: [`Marks`] and where the pins stand. Out: elements and the sentences that say the same. A lead is told
//! by sign and shape (+ in a circle, − in a square) before colour, a jumper by its line, a load by the
//! resistor in it; all stand under the drawing in words.

use super::connector::Detail;
use super::svg::{Element, circle, outlined, path, rectangle, words};
use crate::quantity::maths;

/// What a test puts on a connector.
#[derive(Clone, Default)]
pub(in crate::publish) struct Marks {
    /// Red lead.
    pub(in crate::publish) red: Option<Spot>,
    /// Black lead.
    pub(in crate::publish) black: Option<Spot>,
    /// Jumpers and loads.
    pub(in crate::publish) bridges: Vec<BridgeMark>,
}

/// A jumper or a load.
#[derive(Clone)]
pub(in crate::publish) struct BridgeMark {
    /// One end.
    pub(in crate::publish) from: Spot,
    /// The other; none where it depends on what the card leaves open.
    pub(in crate::publish) to: Option<Spot>,
    /// Its ohms; empty for a jumper.
    pub(in crate::publish) through: String,
}

/// The place of a lead.
#[derive(Clone, PartialEq, Eq)]
pub(in crate::publish) enum Spot {
    /// On the pin of this label.
    Pin(String),
    /// Elsewhere, in a few words: `good ground`.
    Elsewhere(String),
}

/// A pin on the drawing.
#[derive(Clone, Copy)]
pub(super) struct Stand {
    /// Middle.
    pub(super) x: f64,
    /// Middle.
    pub(super) y: f64,
    /// From the middle to its edge at the side.
    pub(super) across: f64,
    /// From the middle to its edge above and below.
    pub(super) down: f64,
    /// From the middle to the middle of a lead's mark.
    pub(super) mark: (f64, f64),
    /// Whether it is no pin, but a point beside the connector.
    pub(super) is_point: bool,
}

impl Stand {
    /// Where a line in this direction leaves it.
    fn edge(self, (across, down): (f64, f64)) -> (f64, f64) {
        let round = self.across <= self.down;
        let far = match round {
            true => self.across,
            false => (self.across / across.abs()).min(self.down / down.abs()),
        };
        (self.x + across * far, self.y + down * far)
    }
}

/// Radius of a lead mark.
pub(super) const MARK: f64 = 10.0;
/// Height of a line under the connector.
const ROW: f64 = 26.0;
/// Middle of a point beside the connector, from the left.
const POINT: f64 = 22.0;
/// Where its words begin.
const WORDS: f64 = 54.0;
/// Where a jumper to such a point leaves the connector, from the left.
const OUTSIDE: f64 = 3.0;
/// Width of a letter at 13 px, a generous mean of common sans-serif faces.
const LETTER: f64 = 7.2;

/// Elements, how wide they reach, and how far down.
pub(super) struct Drawn {
    pub(super) elements: Vec<Element>,
    pub(super) width: f64,
    pub(super) foot: f64,
}

/// The marks on and below a connector whose drawing ends at `foot`; `pin` knows where pins stand.
pub(super) fn draw(
    marks: &Marks,
    foot: f64,
    detail: Detail,
    pin: impl Fn(&str) -> Option<Stand>,
) -> Drawn {
    let points = points(marks);
    let row = |number: usize| foot + ROW * (number as f64 + 0.5);
    let stand = |spot: &Spot| match spot {
        Spot::Pin(label) => pin(label),
        Spot::Elsewhere(words) => {
            let number = points.iter().position(|point| point == words)?;
            Some(Stand {
                x: POINT,
                y: row(number),
                across: 7.0,
                down: 7.0,
                mark: (17.0, 0.0),
                is_point: true,
            })
        }
    };
    let mut elements = Vec::new();
    for (number, bridge) in marks.bridges.iter().enumerate() {
        if let (Some(from), Some(to)) = (stand(&bridge.from), bridge.to.as_ref().and_then(stand)) {
            let lane = 7.0 + 4.0 * number as f64;
            elements.extend(line_of(&way(from, to, lane), !bridge.through.is_empty()));
        }
    }
    let mut texts: Vec<String> = Vec::new();
    for (number, words) in points.iter().enumerate() {
        elements.push(point(words, row(number)));
        texts.push(words.clone());
    }
    let told = marks.bridges.iter().filter(|_| detail != Detail::Bare);
    for bridge in told {
        let y = row(texts.len());
        let sample = [(POINT - 12.0, y), (POINT + 18.0, y)];
        elements.extend(line_of(&sample, !bridge.through.is_empty()));
        texts.push(short(bridge));
    }
    for (number, text) in texts.iter().enumerate() {
        elements.push(words(WORDS, row(number) + 4.6, 13.0, text));
    }
    for (lead, spot) in [(Lead::Red, &marks.red), (Lead::Black, &marks.black)] {
        if let Some(at) = spot.as_ref().and_then(stand) {
            let (across, down) = at.mark;
            elements.push(mark(lead, at.x + across, at.y + down));
        }
    }
    let widest = texts.iter().map(|text| text.chars().count()).max();
    Drawn {
        elements,
        width: widest.map_or(0.0, |letters| WORDS + letters as f64 * LETTER),
        foot: foot + ROW * texts.len() as f64,
    }
}

/// Places off the connector, each once.
fn points(marks: &Marks) -> Vec<String> {
    let ends = marks
        .bridges
        .iter()
        .flat_map(|bridge| [Some(&bridge.from), bridge.to.as_ref()]);
    let mut points: Vec<String> = Vec::new();
    for spot in [marks.red.as_ref(), marks.black.as_ref()]
        .into_iter()
        .chain(ends)
    {
        if let Some(Spot::Elsewhere(words)) = spot
            && !points.contains(words)
        {
            points.push(words.clone());
        }
    }
    points
}

/// A bolt for a ground, a terminal for anything else.
fn point(words: &str, y: f64) -> Element {
    let drawn = match words.contains("ground") {
        // Chassis and earth alike: a stem and three strokes, each shorter (IEC 60617, earth).
        true => {
            let (top, x) = (y - 8.0, POINT);
            path(&format!(
                "M{x} {top}v7M{} {}h16M{} {}h10M{} {}h4",
                x - 8.0,
                top + 7.0,
                x - 5.0,
                top + 11.0,
                x - 2.0,
                top + 15.0
            ))
        }
        false => circle(POINT, y, 6.0),
    };
    outlined(drawn, 2.0)
}

/// From one end to the other: under the row of both, around the left side to a point, between close pins from row to row, else
/// straight.
fn way(from: Stand, to: Stand, lane: f64) -> Vec<(f64, f64)> {
    let is_lower = to.mark.0 == 0.0 && to.y < from.y;
    if !to.is_point && (from.is_point || is_lower) {
        return way(to, from, lane);
    }
    let under = from.y + from.down + lane;
    let start = [(from.x, from.y + from.down), (from.x, under)];
    if to.is_point {
        let rest = [(OUTSIDE, under), (OUTSIDE, to.y), (to.x - 8.0, to.y)];
        return start.into_iter().chain(rest).collect();
    }
    if (from.y - to.y).abs() < 1.0 {
        return vec![start[0], start[1], (to.x, under), (to.x, to.y + to.down)];
    }
    if from.mark.0 == 0.0 {
        // Marks stand between the rows: past them, and up to the other pin from below.
        let side = if from.x <= to.x { -1.0 } else { 1.0 };
        let gap = to.x + side * (to.across + 2.0);
        let up = to.y + to.down + lane;
        // In pieces beside the pin, so that a load's resistor, in the longest of all, stands between the rows.
        let beside = [to.y - to.down, to.y, up].map(|y| (gap, y));
        let rest = [(to.x, up), (to.x, to.y + to.down)];
        let way = start.into_iter().chain([(gap, under)]);
        return way.chain(beside).chain(rest).collect();
    }
    let (across, down) = unit((from.x, from.y), (to.x, to.y));
    vec![from.edge((across, down)), to.edge((-across, -down))]
}

/// A thick line with a clip at each end; with a resistor in its longest stretch where it is a load.
fn line_of(way: &[(f64, f64)], is_load: bool) -> Vec<Element> {
    let mut d = String::new();
    let long = |at: usize| length(way[at], way[at + 1]);
    let longest = (0..way.len() - 1).max_by(|a, b| long(*a).total_cmp(&long(*b)));
    let mut body = None;
    for (at, (x, y)) in way.iter().enumerate() {
        d.push_str(&format!("{}{x:.0} {y:.0}", if at == 0 { "M" } else { "L" }));
        if is_load && longest == Some(at) {
            let (ux, uy) = unit(way[at], way[at + 1]);
            let middle = ((x + way[at + 1].0) / 2.0, (y + way[at + 1].1) / 2.0);
            let along = |by: f64| (middle.0 + ux * by, middle.1 + uy * by);
            let ((x1, y1), (x2, y2)) = (along(-9.0), along(9.0));
            d.push_str(&format!("L{x1:.0} {y1:.0}M{x2:.0} {y2:.0}"));
            let (px, py) = (-uy * 4.5, ux * 4.5);
            body = Some(format!(
                "M{:.0} {:.0}L{:.0} {:.0} {:.0} {:.0} {:.0} {:.0}Z",
                x1 + px,
                y1 + py,
                x2 + px,
                y2 + py,
                x2 - px,
                y2 - py,
                x1 - px,
                y1 - py
            ));
        }
    }
    let ends = [way.first(), way.last()];
    let clips = ends.into_iter().flatten();
    let clips = clips.map(|(x, y)| circle(*x, *y, 4.0).word("fill", "currentColor"));
    std::iter::once(outlined(path(&d), 3.0))
        .chain(body.map(|body| outlined(path(&body), 2.0)))
        .chain(clips)
        .collect()
}

/// The direction from one place to another.
fn unit(from: (f64, f64), to: (f64, f64)) -> (f64, f64) {
    let (x, y) = (to.0 - from.0, to.1 - from.1);
    let length = length(from, to).max(1.0);
    (x / length, y / length)
}

fn length(from: (f64, f64), to: (f64, f64)) -> f64 {
    let (x, y) = (to.0 - from.0, to.1 - from.1);
    maths::sqrt(x * x + y * y)
}

/// A test lead.
#[derive(Clone, Copy)]
enum Lead {
    Red,
    Black,
}

/// The lead's sign in its shape; white on both fills keeps over 6:1.
fn mark(lead: Lead, x: f64, y: f64) -> Element {
    let (body, fill, sign) = match lead {
        Lead::Red => (circle(x, y, MARK), "#a8201a", "+"),
        Lead::Black => {
            let body = rectangle(x - MARK, y - MARK, 2.0 * MARK, 2.0 * MARK);
            (body, "#16191a", "−")
        }
    };
    let body = body
        .word("fill", fill)
        .word("stroke", "#fff")
        .number("stroke-width", 1.5);
    let sign = Element::new("text")
        .number("x", x)
        .number("y", y + 4.6)
        .number("font-size", 13.0)
        .word("font-weight", "700")
        .word("text-anchor", "middle")
        .word("fill", "#fff")
        .text(sign);
    Element::new("g").child(body).child(sign)
}

/// `pin C`, `good ground`.
fn named(spot: &Spot) -> String {
    match spot {
        Spot::Pin(label) => format!("pin {label}"),
        Spot::Elsewhere(words) => words.clone(),
    }
}

/// `jumper C to B`, `1 kohm, 2 to battery plus`.
fn short(bridge: &BridgeMark) -> String {
    let name = |spot: &Spot| match spot {
        Spot::Pin(label) => label.clone(),
        Spot::Elsewhere(words) => words.clone(),
    };
    let what = match bridge.through.as_str() {
        "" => "jumper",
        ohms => ohms,
    };
    match &bridge.to {
        Some(to) => format!("{what}: {} to {}", name(&bridge.from), name(to)),
        None => format!("{what} from {}: as said", name(&bridge.from)),
    }
}

/// All marks in sentences.
pub(super) fn sentences(marks: &Marks) -> Vec<String> {
    let mut sentences = Vec::new();
    for (lead, spot) in [("Red", &marks.red), ("Black", &marks.black)] {
        if let Some(spot) = spot {
            sentences.push(format!("{lead} lead on {}.", named(spot)));
        }
    }
    for bridge in &marks.bridges {
        let what = match bridge.through.as_str() {
            "" => "Jumper".to_owned(),
            ohms => format!("A load of {ohms}"),
        };
        let to = match &bridge.to {
            Some(to) => named(to),
            None => "a rail that depends on where the open input rests".to_owned(),
        };
        sentences.push(format!("{what} from {} to {to}.", named(&bridge.from)));
    }
    sentences
}
