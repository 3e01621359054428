//! Pins: what each should read to good ground, unplugged and plugged in.
//!
//! In: a hooked-up bench. Out: [`PinSheet`]s with bands over all variants.

use super::hooking::Bench;
use super::states;
use super::types::PinSheet;
use super::{points, wiring};
use crate::card::{Card, Pin, colours_of};
use crate::circuit::{Band, Bands, CircuitError, HookUp, Observe, Setting};

/// Pins in the card's order, without bands yet.
pub(super) fn pins(card: &Card) -> Vec<PinSheet> {
    let sheet = |pin: &Pin| PinSheet {
        label: pin.label.value.clone(),
        role: pin.role.value.clone(),
        wire: pin
            .wire
            .as_ref()
            .map_or_else(String::new, |wire| wire.value.clone()),
        wire_words: pin
            .wire
            .as_ref()
            .map_or_else(String::new, |wire| colour_words(&wire.value)),
        unplugged: None,
        plugged: None,
    };
    card.pins.iter().map(sheet).collect()
}

/// Adds what one variant says of each pin; variants that differ join as a union.
pub(super) fn add_bands(
    bench: &Bench<'_>,
    pins: &mut [PinSheet],
    bands: &Bands,
) -> Result<(), CircuitError> {
    for pin in pins {
        if points::node(bench.card, bench.wiring, &pin.role).is_err() {
            continue;
        }
        let unplugged = reads(bench, &pin.role, false, states::any(bench.states), bands)?;
        pin.unplugged = join(pin.unplugged.take(), unplugged);
        for state in bench.states {
            let plugged = reads(bench, &pin.role, true, state.setting.clone(), bands)?;
            pin.plugged = join(pin.plugged.take(), plugged);
        }
    }
    Ok(())
}

fn reads(
    bench: &Bench<'_>,
    role: &str,
    mated: bool,
    setting: Setting,
    bands: &Bands,
) -> Result<Band, CircuitError> {
    let network = &bench.wiring.network;
    let observe = Observe::Volts {
        red: points::node(bench.card, bench.wiring, role)?,
        black: network.find(wiring::GOOD_GROUND)?,
    };
    let hookup = HookUp {
        mated,
        powered: true,
        links: Vec::new(),
        observe,
        setting,
        meter: bench.meter(),
    };
    bands.band(network, &hookup)
}

/// `GNWH` to `green and white`.
fn colour_words(letters: &str) -> String {
    let words = colours_of(letters).into_iter().map(|one| one.word);
    words.collect::<Vec<_>>().join(" and ")
}

/// What was known of a pin and what one more circuit says; what was known first keeps its nominal.
fn join(known: Option<Band>, more: Band) -> Option<Band> {
    Some(match known {
        None => more,
        Some(known) => Band::union([&known, &more]),
    })
}
