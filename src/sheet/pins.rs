//! Pins: what each should read to good ground, unplugged and plugged in.
//!
//! In: a hooked-up bench. Out: [`PinSheet`]s with bands over all variants.

use super::hooking::Bench;
use super::states;
use super::types::PinSheet;
use super::{points, wiring};
use crate::card::{Card, Pin};
use crate::circuit::{Band, CircuitError, HookUp, Observe, Setting, band};
use crate::quantity::Interval;

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
pub(super) fn add_bands(bench: &Bench<'_>, pins: &mut [PinSheet]) -> Result<(), CircuitError> {
    for pin in pins {
        if points::node(bench.card, bench.wiring, &pin.role).is_err() {
            continue;
        }
        let unplugged = reads(bench, &pin.role, false, states::any(bench.states))?;
        pin.unplugged = Some(join(pin.unplugged.take(), unplugged));
        for state in bench.states {
            let plugged = reads(bench, &pin.role, true, state.setting.clone())?;
            pin.plugged = Some(join(pin.plugged.take(), plugged));
        }
    }
    Ok(())
}

fn reads(
    bench: &Bench<'_>,
    role: &str,
    mated: bool,
    setting: Setting,
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
    band::band(network, &hookup)
}

/// The union of two bands; the first keeps its nominal.
pub(super) fn join(known: Option<Band>, more: Band) -> Band {
    match known {
        None => more,
        Some(known) => Band {
            nominal: known.nominal,
            intervals: merged(known.intervals.into_iter().chain(more.intervals).collect()),
            floating: known.floating || more.floating,
            no_path: known.no_path || more.no_path,
        },
    }
}

/// Sorted and disjoint.
fn merged(mut intervals: Vec<Interval>) -> Vec<Interval> {
    intervals.sort_by(|a, b| a.low.total_cmp(&b.low));
    let mut apart: Vec<Interval> = Vec::new();
    for next in intervals {
        match apart.last_mut() {
            Some(last) if next.low <= last.high => last.high = last.high.max(next.high),
            _ => apart.push(next),
        }
    }
    apart
}

/// Colours of IEC 60757 (1983 table): letters and words.
const COLOURS: [(&str, &str); 14] = [
    ("BK", "black"),
    ("BN", "brown"),
    ("RD", "red"),
    ("OG", "orange"),
    ("YE", "yellow"),
    ("GN", "green"),
    ("BU", "blue"),
    ("VT", "violet"),
    ("GY", "grey"),
    ("WH", "white"),
    ("PK", "pink"),
    ("GD", "gold"),
    ("TQ", "turquoise"),
    ("SR", "silver"),
];

/// `GNWH` to `green and white`.
pub(super) fn colour_words(letters: &str) -> String {
    let letters: Vec<char> = letters.chars().filter(char::is_ascii_alphabetic).collect();
    let pairs = letters
        .chunks(2)
        .map(|pair| pair.iter().collect::<String>());
    let words = pairs.filter_map(|pair| {
        COLOURS
            .iter()
            .find(|(code, _)| *code == pair)
            .map(|(_, word)| *word)
    });
    words.collect::<Vec<_>>().join(" and ")
}
