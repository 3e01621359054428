//! From a card to what the drawing of its connector needs.

use crate::card::{Card, Plug, Shape, Side, View};
use crate::publish::drawing::connector::{self, Detail, Face, FacePin};
use crate::publish::drawing::leads::{BridgeMark, Marks, Spot};
use crate::publish::words;
use crate::sheet::{Lead, Sheet, TestSheet};

/// The connector of a card from the two sides from which it is probed.
pub(super) struct Faces {
    /// As the card draws it.
    pub(super) own: Face,
    /// Looking into the open harness connector.
    mating: Face,
    /// From behind, where the wires go in.
    wire_side: Face,
    /// The part's own pins, looking at them.
    part: Face,
}

impl Faces {
    /// Both sides of a card's connector.
    pub(super) fn of(card: &Card, sheet: &Sheet) -> Self {
        let own = face(card, sheet);
        // A part's pins, seen from the front, stand like the harness connector's from behind.
        let is_mating = card.connector.view == View::HarnessMatingFace;
        let other = if is_mating {
            View::HarnessWireSide
        } else {
            View::HarnessMatingFace
        };
        let places_known = !card.connector.rows.is_empty();
        let seen = |view: View, mirrored: bool| {
            let mut seen = if mirrored {
                from_behind(&own)
            } else {
                own.clone()
            };
            seen.view = words::view(view).to_owned();
            seen.note = words::short_view(view).to_owned();
            seen
        };
        if !places_known {
            return Self {
                mating: own.clone(),
                wire_side: own.clone(),
                part: Face {
                    view: words::view(View::PartFace).to_owned(),
                    note: words::short_view(View::PartFace).to_owned(),
                    ..own.clone()
                },
                own,
            };
        }
        let (mating, wire_side) = if is_mating {
            (seen(View::HarnessMatingFace, false), seen(other, true))
        } else {
            (seen(other, true), seen(View::HarnessWireSide, false))
        };
        Self {
            part: Face {
                view: words::view(View::PartFace).to_owned(),
                note: words::short_view(View::PartFace).to_owned(),
                ..wire_side.clone()
            },
            own,
            mating,
            wire_side,
        }
    }

    /// The side that a test looks at.
    pub(super) fn for_plug(&self, plug: Plug) -> &Face {
        match plug {
            Plug::Unplugged => &self.mating,
            Plug::Plugged | Plug::BackProbed => &self.wire_side,
        }
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
    let pin = |label: &str| FacePin {
        label: label.to_owned(),
        role: sheet
            .pins
            .iter()
            .find(|pin| pin.label == label)
            .map(|pin| pin.role.clone())
            .unwrap_or_default(),
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
            .map(|row| row.iter().map(|label| pin(label)).collect())
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

/// What stands under the drawing: the view, the key, and what the card does not say.
pub(super) fn caption(card: &Card) -> String {
    let connector = &card.connector;
    let mut caption = words::view(connector.view).to_owned();
    if let Some(side) = connector.keying {
        caption.push_str(&format!("; key at the {}", words::side(side)));
    }
    caption.push('.');
    if connector.rows.is_empty() && connector.shape == Shape::Rectangular {
        caption.push_str(" Places of the pins not given: drawn in the card's order.");
    } else if connector.rows.is_empty() {
        caption.push_str(" Places of the pins not given: drawn clockwise in the card's order.");
    }
    caption
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
/// touches no pin. `id` must be unique on the page.
pub(super) fn of_test(test: &TestSheet, faces: &Faces, detail: Detail, id: &str) -> Option<String> {
    let (pins, marks) = marks(test)?;
    let face = match pins {
        Pins::Harness => faces.for_plug(test.plug),
        Pins::Part => &faces.part,
    };
    Some(connector::draw(face, &marks, detail, id))
}

/// From which side that drawing looks; empty where there is none.
pub(super) fn view_of(test: &TestSheet, faces: &Faces) -> String {
    let face = match marks(test) {
        Some((Pins::Harness, _)) => faces.for_plug(test.plug),
        Some((Pins::Part, _)) => &faces.part,
        None => return String::new(),
    };
    face.note.clone()
}

/// What the first test puts on the connector as the card draws it; nothing where it goes to the part's pins.
pub(super) fn on_harness(test: &TestSheet) -> Marks {
    match marks(test) {
        Some((Pins::Harness, marks)) => marks,
        _ => Marks::default(),
    }
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
        Pins::Part => lead.short.ends_with("(sensor)"),
    }
}
