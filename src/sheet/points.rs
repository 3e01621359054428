//! Points of a test: from the words of a card to nodes and to words for the reader.
//!
//! In: a point as written (`signal`, `2`, `part.signal`, `good ground`). Out: a node's name, a [`Lead`].

use super::types::Lead;
use super::wiring::{BATTERY_NODE, GOOD_GROUND, Wiring};
use crate::card::Card;
use crate::circuit::{CircuitError, NodeId};

/// A point as written, in node names: a pin's label stands for its role.
pub(super) fn node_name(card: &Card, written: &str) -> String {
    let (side, name) = split(written);
    let pin = card.pins.iter().find(|pin| pin.label.value == name);
    let role = pin.map_or(name, |pin| pin.role.value.as_str());
    format!("{side}{role}")
}

/// The node a point stands for.
pub(super) fn node(card: &Card, wiring: &Wiring, written: &str) -> Result<NodeId, CircuitError> {
    let name = node_name(card, written);
    let name = wiring.aliases.get(&name).unwrap_or(&name);
    wiring.network.find(name)
}

/// Where a lead goes, in words.
pub(super) fn lead(card: &Card, written: &str) -> Lead {
    let name = node_name(card, written);
    let (side, role) = split(&name);
    let pin = card
        .pins
        .iter()
        .find(|pin| pin.role.value == role)
        .map(|pin| pin.label.value.clone());
    match (&pin, role) {
        (_, GOOD_GROUND) => plain(
            "good ground: bare metal of the body, or battery minus",
            "good ground",
        ),
        (_, BATTERY_NODE) => plain("battery plus", "battery plus"),
        (Some(label), _) => {
            let words = match side {
                "part." => format!("{label} ({role}) on the part's own pins"),
                "module." => format!("{role}, at the module's connector"),
                _ => format!("{label} ({role})"),
            };
            let short = match side {
                "part." => format!("{label} (part)"),
                "module." => format!("{label} (module)"),
                _ => label.clone(),
            };
            Lead { pin, words, short }
        }
        (None, _) => plain(role, role),
    }
}

fn plain(words: &str, short: &str) -> Lead {
    Lead {
        pin: None,
        words: words.into(),
        short: short.into(),
    }
}

/// `part.signal` to (`part.`, `signal`).
fn split(written: &str) -> (&str, &str) {
    for side in ["part.", "module."] {
        if let Some(name) = written.strip_prefix(side) {
            return (side, name);
        }
    }
    ("", written)
}
