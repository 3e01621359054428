//! Reasoning for one card: its circuit's fault signatures and what follows from them.
//!
//! In: the variants of a card with their tests hooked up. Out: [`Reasoning`]. Never: sentences.

use super::assemble::order;
use super::types::{Hooked, Reasoning, Variant};
use crate::card::{Card, Family, Key, ObserveSpec, Plug, ScanKind, TestSpec};
use crate::circuit::fault::{Fault, FaultKind, FaultScope, faults};
use crate::circuit::{Bands, CircuitError, HookUp, Meter, Network, Observe};
use crate::reason::{
    Condition, Probe, ProbeKind, Row, Signal, Signatures, Technique, When, at_once, audit,
    outcomes, reach, safe_load, signatures_of,
};

/// Everything that is reasoned about a card's circuit.
pub(super) fn reasoning(
    card: &Card,
    family: &Family,
    specs: &[&TestSpec],
    variants: &[Variant],
    bands: &Bands,
) -> Result<Reasoning, CircuitError> {
    let scope = scope(card, family);
    let ready = |variant: &Variant| {
        let faults = faults(&variant.network, &scope);
        (probes(card, specs, variant), faults)
    };
    let ready: Vec<(Vec<Probe>, Vec<Fault>)> = variants.iter().map(ready).collect();
    let each = variants.iter().zip(&ready);
    let each = each.map(|(variant, (probes, faults))| (&variant.network, &probes[..], &faults[..]));
    let signatures = side_by_side(each, bands)?;
    let order: Vec<String> = order(card, family)
        .iter()
        .map(|id| id.value.clone())
        .collect();
    let first = variants.first();
    let reach = match first.zip(ready.first()) {
        Some((first, (_, faults))) => {
            reach(&first.network, &signatures, faults, &signals(first, specs))?
        }
        None => Vec::new(),
    };
    let (audit, outcomes) = at_once::both(|| audit(&signatures, &order), || outcomes(&signatures));
    Ok(Reasoning {
        of_test: first.map_or_else(Vec::new, |first| {
            first.hooked.iter().map(|hooked| hooked.test).collect()
        }),
        audit,
        outcomes,
        reach,
        load: first
            .filter(|_| feeds_a_pin(&signatures))
            .and_then(|first| safe_load(&first.network)),
        signatures,
    })
}

/// Whether a regulator feeds a pin, where a neighbour could load it, too.
fn feeds_a_pin(signatures: &Signatures) -> bool {
    let pulled = |row: &Row| row.kind == Some(FaultKind::PulledDown);
    signatures.rows.iter().any(pulled)
}

/// The signatures of all variants of a circuit. Page and phone come to their signatures by this one way, so that
/// both have the same digits.
pub(super) fn side_by_side<'v>(
    variants: impl IntoIterator<Item = (&'v Network, &'v [Probe], &'v [Fault])>,
    bands: &Bands,
) -> Result<Signatures, CircuitError> {
    let each = variants.into_iter();
    let each = each.map(|(network, probes, faults)| signatures_of(network, probes, faults, bands));
    Ok(Signatures::joined(each.collect::<Result<_, _>>()?))
}

/// The words of the card that faults are told in.
pub(super) fn scope(card: &Card, family: &Family) -> FaultScope {
    let labels = card
        .pins
        .iter()
        .map(|pin| (pin.role.value.clone(), pin.label.value.clone()))
        .collect();
    let title = family.title.to_lowercase();
    let words: Vec<&str> = title.split(|c: char| !c.is_alphanumeric()).collect();
    let known = ["sensor", "switch", "sender", "heater", "coil", "load"];
    let part = known
        .into_iter()
        .find(|word| words.contains(word))
        .unwrap_or("part");
    FaultScope {
        labels,
        part: part.to_owned(),
    }
}

/// Every test of a variant in every state, ready for reasoning.
pub(super) fn probes(card: &Card, specs: &[&TestSpec], variant: &Variant) -> Vec<Probe> {
    let ready = |hooked: &Hooked| Some(probe(card, specs.get(hooked.test).copied()?, hooked));
    variant.hooked.iter().filter_map(ready).collect()
}

fn probe(card: &Card, spec: &TestSpec, hooked: &Hooked) -> Probe {
    Probe {
        test: spec.id.value.clone(),
        state: hooked.state.clone(),
        hookup: hooked.hookup.clone(),
        minutes: spec.minutes,
        kind: kind(card, hooked),
        technique: technique(spec),
        when: spec.when.as_ref().and_then(|when| condition(&when.value)),
    }
}

/// What a reading can prove: a meter, a raw scan value, or a derived one.
fn kind(card: &Card, hooked: &Hooked) -> ProbeKind {
    if !matches!(hooked.hookup.observe, Observe::Scan { .. }) {
        return ProbeKind::Meter;
    }
    match hooked
        .scan
        .and_then(|scan| card.scan.get(scan))
        .map(|scan| &scan.kind)
    {
        Some(ScanKind::Derived { valid, .. }) => ProbeKind::Derived { valid: *valid },
        Some(ScanKind::Raw) | None => ProbeKind::Raw,
    }
}

fn technique(spec: &TestSpec) -> Technique {
    let loaded = spec.links.iter().any(|link| link.through.is_some());
    match &spec.observes {
        ObserveSpec::Scan { .. } if spec.links.is_empty() => Technique::ScanValue,
        ObserveSpec::Scan { .. } if loaded => Technique::ForceInRange,
        ObserveSpec::Scan { .. } => Technique::ForceSignal,
        ObserveSpec::Ohms { red, .. } if red.value.starts_with("part.") => Technique::MeasurePart,
        ObserveSpec::Ohms { .. } => Technique::MeasureHarness,
        ObserveSpec::Amps { .. } => Technique::MeasureCurrent,
        ObserveSpec::Volts { .. } if !spec.links.is_empty() => Technique::VoltsLoaded,
        ObserveSpec::Volts { .. } if spec.plug == Plug::Unplugged => Technique::VoltsUnplugged,
        ObserveSpec::Volts { .. } => Technique::VoltsBackProbed,
    }
}

/// `supply is low` as a condition.
fn condition(when: &str) -> Option<When> {
    let (test, how) = when.split_once(" is ")?;
    let is = match how.trim() {
        "low" => Condition::Low,
        "high" => Condition::High,
        "off" => Condition::Off,
        "good" => Condition::Good,
        _ => return None,
    };
    Some(When {
        test: test.trim().to_owned(),
        is,
    })
}

/// The signal as the module sees it in every state, plugged in: what a resistance does to it.
fn signals(variant: &Variant, specs: &[&TestSpec]) -> Vec<Signal> {
    let Some(input) = variant
        .network
        .inputs()
        .iter()
        .position(|input| input.role == "signal")
    else {
        return Vec::new();
    };
    let working = |hooked: &&Hooked| {
        let spec = specs[hooked.test];
        spec.plug != Plug::Unplugged
            && spec.key == Key::On
            && spec.links.is_empty()
            && !hooked.state.is_empty()
    };
    let mut signals: Vec<Signal> = Vec::new();
    for hooked in variant.hooked.iter().filter(working) {
        if signals.iter().all(|signal| signal.state != hooked.state) {
            let hookup = HookUp {
                observe: Observe::Scan { input },
                meter: Meter::common(),
                ..hooked.hookup.clone()
            };
            signals.push(Signal {
                state: hooked.state.clone(),
                hookup,
            });
        }
    }
    signals
}
