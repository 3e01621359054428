//! From a card to what the drawing of its connector needs.

use crate::card::{Card, Shape};
use crate::publish::drawing::connector::{Face, FacePin, Marks, Spot};
use crate::publish::words;
use crate::sheet::{Lead, Leads, Sheet};

/// The connector of a card as it is drawn.
pub(super) fn face(card: &Card, sheet: &Sheet) -> Face {
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

/// Where the leads of a test go in the drawing.
pub(super) fn marks(leads: &Leads) -> Marks {
    let spot = |lead: &Lead| match &lead.pin {
        Some(pin) => Spot::Pin(pin.clone()),
        None => Spot::Elsewhere(lead.short.clone()),
    };
    Marks {
        red: Some(spot(&leads.red)),
        black: Some(spot(&leads.black)),
    }
}
