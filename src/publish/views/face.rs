//! From a card to what the drawing of its connector needs.

use crate::card::{Card, Plug, Seat, Shape, Side, View};
use crate::publish::drawing::Drawing;
use crate::publish::drawing::connector::{self, Detail, Face, FacePin};
use crate::publish::drawing::leads::{BridgeMark, Marks, Spot};
use crate::publish::words;
use crate::sheet::{Lead, Sheet, TestSheet};

/// The connector of a card from every side from which it is probed: the one place where pages, paper and bench mode ask how a
/// test sees it.
pub(super) struct Faces {
    /// As the card draws it.
    own: Face,
    /// Looking into the open harness connector.
    mating: Face,
    /// From behind, where the wires go in.
    wire_side: Face,
    /// The part's own pins, looking at them.
    part: Face,
    /// Whether the card says where each pin stands.
    places_given: bool,
}

impl Faces {
    /// All sides of a card's connector.
    pub(super) fn of(card: &Card, sheet: &Sheet) -> Self {
        let own = face(card, sheet);
        let places_given = !card.connector.rows.is_empty();
        // A part's pins, seen from the front, stand like the harness connector's from behind.
        let is_mating = card.connector.view == View::HarnessMatingFace;
        let seen = |view: View, mirrored: bool| {
            let mut seen = match mirrored && places_given {
                true => from_behind(&own),
                false => own.clone(),
            };
            seen.view = words::view(view).to_owned();
            seen.note = match places_given {
                true => words::short_view(view).to_owned(),
                false => String::new(),
            };
            seen
        };
        Self {
            mating: seen(View::HarnessMatingFace, !is_mating),
            wire_side: seen(View::HarnessWireSide, is_mating),
            part: seen(View::PartFace, is_mating),
            places_given,
            own,
        }
    }

    /// The side that a test looks at, and what it puts there; none where it touches no pin.
    fn seen_by(&self, test: &TestSheet) -> Option<(&Face, Marks)> {
        let (pins, marks) = marks(test)?;
        let face = match (pins, test.plug) {
            (Pins::Part, _) => &self.part,
            (Pins::Harness, Plug::Unplugged) => &self.mating,
            (Pins::Harness, Plug::Plugged | Plug::BackProbed) => &self.wire_side,
        };
        Some((face, marks))
    }

    /// What stands under a drawing: the view, the key, and what the card does not say.
    fn caption(&self, face: &Face) -> String {
        let mut caption = face.view.clone();
        if let Some(side) = face.keying {
            caption.push_str(&format!("; key at the {}", words::side(side)));
        }
        caption.push('.');
        if !self.places_given {
            caption.push_str(" Places of the pins not given: drawn ");
            caption.push_str(match face.shape {
                Shape::Rectangular => "in the card's order.",
                Shape::Round => "clockwise in the card's order.",
            });
        }
        caption
    }
}

/// The same connector from its other side: left is right.
fn from_behind(face: &Face) -> Face {
    let mirrored = |row: &Vec<FacePin>| {
        let mut row = row.clone();
        row.reverse();
        // On a ring the first pin stands at the top and stays there; a ring of two has no top.
        if face.shape == Shape::Round && 2 < row.len() {
            row.rotate_right(1);
        }
        row
    };
    Face {
        rows: face.rows.iter().map(mirrored).collect(),
        keying: face.keying.map(|side| match side {
            Side::Left => Side::Right,
            Side::Right => Side::Left,
            upright => upright,
        }),
        ..face.clone()
    }
}

/// A ring has no rows.
fn rows_of_four(card: &Card) -> bool {
    card.connector.shape == Shape::Rectangular
}

fn face(card: &Card, sheet: &Sheet) -> Face {
    let pin = |label: &str| FacePin::Own {
        label: label.to_owned(),
        role: sheet
            .pins
            .iter()
            .find(|pin| pin.label == label)
            .map(|pin| pin.role.clone())
            .unwrap_or_default(),
    };
    let seat = |seat: &Seat| match seat {
        Seat::Pin(label) => pin(label),
        Seat::Other(label) => FacePin::Other(label.clone()),
        Seat::Empty => FacePin::Empty,
    };
    // More than four in a row would be too small to read on a phone.
    let in_card_order = || {
        let rows = sheet
            .pins
            .chunks(if rows_of_four(card) { 4 } else { usize::MAX });
        rows.map(|row| row.iter().map(|line| pin(&line.label)).collect())
            .collect()
    };
    let given = &card.connector.rows;
    let rows = if given.is_empty() {
        in_card_order()
    } else {
        given
            .iter()
            .map(|row| row.iter().map(seat).collect())
            .collect()
    };
    Face {
        shape: card.connector.shape,
        rows,
        keying: card.connector.keying,
        view: words::view(card.connector.view).to_owned(),
        note: String::new(),
    }
}

/// Whose pins a test's drawing shows.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Pins {
    /// The harness connector's.
    Harness,
    /// The part's own.
    Part,
}

/// The connector as this test looks at it, with leads, jumpers and loads in their places; none where it
/// touches no pin.
pub(super) fn of_test(test: &TestSheet, faces: &Faces, detail: Detail) -> Option<Drawing> {
    let (face, marks) = faces.seen_by(test)?;
    Some(connector::draw(face, &marks, detail))
}

/// From which side that drawing looks, or that nobody said where the pins stand; empty where there is none.
pub(super) fn view_of(test: &TestSheet, faces: &Faces) -> String {
    let Some((face, _)) = faces.seen_by(test) else {
        return String::new();
    };
    match faces.places_given {
        true => face.note.clone(),
        false => "places of the pins not given".to_owned(),
    }
}

/// The connector with all its roles as the first test looks at it, and what stands under it; as the card draws it where no
/// test touches a pin.
pub(super) fn first(test: Option<&TestSheet>, faces: &Faces) -> (Drawing, String) {
    let (face, marks) = test
        .and_then(|test| faces.seen_by(test))
        .unwrap_or_else(|| (&faces.own, Marks::default()));
    let drawing = connector::draw(face, &marks, Detail::Full);
    (drawing, faces.caption(face))
}

/// Where a test's leads, jumpers and loads go, on the pins that most of them touch.
fn marks(test: &TestSheet) -> Option<(Pins, Marks)> {
    let leads = test.leads.as_ref();
    let ends = test.bridges.iter().flat_map(|one| [&one.from, &one.to]);
    let all: Vec<&Lead> = leads
        .into_iter()
        .flat_map(|leads| [&leads.red, &leads.black])
        .chain(ends)
        .collect();
    let pins = if all.iter().any(|lead| is_on(lead, Pins::Harness)) {
        Pins::Harness
    } else if all.iter().any(|lead| is_on(lead, Pins::Part)) {
        Pins::Part
    } else {
        return None;
    };
    let spot = |lead: &Lead| match &lead.pin {
        Some(label) if is_on(lead, pins) => Spot::Pin(label.clone()),
        _ => Spot::Elsewhere(lead.short.clone()),
    };
    let mut bridges: Vec<BridgeMark> = Vec::new();
    for bridge in &test.bridges {
        let from = spot(&bridge.from);
        if bridge.depends && bridges.iter().any(|known| known.from == from) {
            continue;
        }
        bridges.push(BridgeMark {
            from,
            to: (!bridge.depends).then(|| spot(&bridge.to)),
            through: bridge.through.clone(),
        });
    }
    let marks = Marks {
        red: leads.map(|leads| spot(&leads.red)),
        black: leads.map(|leads| spot(&leads.black)),
        bridges,
    };
    Some((pins, marks))
}

/// A lead on a pin of the harness connector is called by the pin's label alone.
fn is_on(lead: &Lead, pins: Pins) -> bool {
    let Some(label) = &lead.pin else {
        return false;
    };
    match pins {
        Pins::Harness => lead.short == *label,
        Pins::Part => lead.short.ends_with("(part)"),
    }
}
