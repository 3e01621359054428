//! Card text to a deck and its findings: one small deck, changed file by file.

mod examples;
mod files;
mod fixtures;
mod hostile;
mod sound;

use loomleaf::card::{Deck, read};
use loomleaf::finding::Finding;
use std::collections::BTreeMap;

pub(super) const DECK: &str = "title: Our workshop\nsystems:\n  engine: Engine\n";
pub(super) const OTHER_CARD: &str = "title: Throttle position sensor\nfamily: position-pot\npins:\n  1: {role: reference}\n  2: {role: signal}\n  3: {role: ground}\nsignal:\n  - {at: shut, reads: 0.7 to 1.2 V}\n";
pub(super) const CARD: &str = "title: Example sensor\nfamily: position-pot\npins:\n  1: {role: reference}\n  2: {role: signal}\n  3: {role: ground}\nsignal:\n  - {at: valve closed, reads: 0.7 to 1.2 V}\n  - {at: valve open, reads: 3.9 to 4.5 V}\n";
pub(super) const OWN_FAMILY: &str = "family: example\ntitle: Example\nroles: [reference, signal, ground]\npart:\n  - {resistor: 5 kohm, between: [reference, ground]}\n";
pub(super) const CAUTIONS: &str = "hot-exhaust: {title: Hot parts, says: They burn., hurts: person}\nprobe-gently: {title: Gently, says: Pins bend., hurts: circuit}\n";
pub(super) const FAMILY: &str = "family: position-pot
title: Three-wire position sensor
roles: [reference, ground, signal]
parameters:
  reference: {default: 5 V ± 2 %, says: what the module supplies}
  track: {default: 5 kohm ± 20 %}
  pull: {choice: [up, down], default: unknown}
  bias: {default: 220 kohm ± 5 %}
  valid: {default: 0.25 to 4.75 V, limits: true}
  position: {follows: signal, between: 0 to 100 %}
module:
  - {regulator: vref, feeds: reference, volts: $reference, series: 0.5 ohm ± 50 %, limit: 100 mA}
  - {resistor: $bias, name: bias, from: signal, to: {up: vref, down: ground}, by: pull}
  - {input: signal, against: vref, series: 10 kohm, valid: $valid}
part:
  - {potentiometer: $track, name: track, ends: [reference, ground], slider: signal, at: $position}
tests:
  supply: {title: Supply, plug: unplugged, key: on, volts: [reference, ground], minutes: 1}
  force: {title: Force, plug: unplugged, key: on, bridge: [signal, other rail], scan: signal}
  at-rest: {title: At rest, plug: back-probed, key: on, volts: [signal, ground], at: each signal point}
order: [supply, at-rest]
cautions: [hot-exhaust]
codes: [P0120]
";

pub(super) fn our_shipped() -> Vec<(&'static str, &'static str)> {
    vec![
        ("cautions.yaml", CAUTIONS),
        ("families/position-pot.yaml", FAMILY),
    ]
}

/// The small deck, with some files put in place or (`None`) taken away.
pub(super) fn deck_with(changes: &[(&str, Option<&[u8]>)]) -> (Option<Deck>, Vec<Finding>) {
    let mut files: BTreeMap<String, Vec<u8>> =
        [("deck.yaml", DECK), ("cards/a-throttle.yaml", OTHER_CARD)]
            .into_iter()
            .map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec()))
            .collect();
    for (name, bytes) in changes {
        match bytes {
            Some(bytes) => files.insert((*name).to_owned(), bytes.to_vec()),
            None => files.remove(*name),
        };
    }
    read(&files, &our_shipped())
}

pub(super) fn card(text: &str) -> (Option<Deck>, Vec<Finding>) {
    deck_with(&[("cards/example.yaml", Some(text.as_bytes()))])
}

pub(super) fn codes(findings: &[Finding]) -> Vec<&str> {
    findings.iter().map(|finding| finding.kind.code).collect()
}

pub(super) fn lines(findings: &[Finding]) -> String {
    let line = |finding: &Finding| {
        let place = &finding.place;
        let hint = finding.hint.as_deref().unwrap_or("-");
        format!(
            "{}:{}:{} {}: {} | {hint}\n",
            place.file, place.line, place.column, finding.kind.code, finding.message
        )
    };
    findings.iter().map(line).collect()
}

/// A card that says all a card can say.
pub(super) const FULL: &str = "title: EGR valve position sensor
family: position-pot
system: engine
codes: [P0405, P0406]
fits: [Harbour shuttle 2017-2020]
also_called: valve lift sensor
pins:
  1: {role: reference, wire: YE}
  2: {role: signal, wire: GNWH}
  A: {role: ground, wire: BK}
reference: 5 V ± 5 %
parameters: {track: 4k7 ± 20 %, pull: up, valid: 0,3 to 4.7 V}
signal:
  - {at: valve closed, reads: 0.7 to 1.2 V}
  - {at: 50 %, reads: 2.2 V ± 5 %}
scan:
  - {name: Lift 1, kind: raw}
  - {name: Lift, kind: derived, valid: 0.3 to 4.7 V, substitute: shows 0}
order: [supply, loaded, at-rest]
tests:
  loaded: {title: Loaded, plug: unplugged, key: on, bridge: [1, A], through: 1 kohm, volts: [reference, good ground], when: supply is good, minutes: 3}
connector: {shape: round, rows: [[1, 2], [A]], keying: left, view: harness wire side}
wires:
  signal: {length: 10 ft, size: 20 AWG}
sources:
  - {kind: measured here, says: van 3, covers: [signal, track]}
cautions: [hot-exhaust, Block the valve first.]
notes: |
  Look first.
";
