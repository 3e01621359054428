//! From a card to what the drawing of its connector needs.

use crate::card::{Card, Plug, Shape, Side, View};
use crate::publish::drawing::connector::{Face, FacePin, Marks, Spot};
use crate::publish::words;
use crate::sheet::{Lead, Leads, Sheet};

/// The connector of a card from the two sides from which it is probed.
pub(super) struct Faces {
    /// As the card draws it.
    pub(super) own: Face,
    /// Looking into the open harness connector.
    mating: Face,
    /// From behind, where the wires go in.
    wire_side: Face,
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
                own,
            };
        }
        let (mating, wire_side) = if is_mating {
            (seen(View::HarnessMatingFace, false), seen(other, true))
        } else {
            (seen(other, true), seen(View::HarnessWireSide, false))
        };
        Self {
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
    let in_card_order = || vec![sheet.pins.iter().map(|line| pin(&line.label)).collect()];
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

/// Where the leads of a test go in the drawing; none where neither is on the harness connector.
pub(super) fn marks(leads: &Leads) -> Option<Marks> {
    let on_harness = |lead: &Lead| lead.pin.as_ref() == Some(&lead.short);
    let spot = |lead: &Lead| {
        if on_harness(lead) {
            return Spot::Pin(lead.short.clone());
        }
        Spot::Elsewhere(lead.short.clone())
    };
    let drawn = on_harness(&leads.red) || on_harness(&leads.black);
    drawn.then(|| Marks {
        red: Some(spot(&leads.red)),
        black: Some(spot(&leads.black)),
    })
}
