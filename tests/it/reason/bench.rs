//! The two-wire sensor and the three-wire potentiometer of a workshop bench, with their probes and faults.

use super::by_hand::read;
use crate::circuit::build::Sketch;
use crate::circuit::sketches::{position, thermistor};
use loomleaf::circuit::fault::{Fault, FaultScope, faults};
use loomleaf::circuit::{HookUp, Site};
use loomleaf::reason::{Probe, ProbeKind, Signatures, Technique, Verdict, signatures, suspects};

/// A probe of a hook-up.
pub(super) fn probe(sketch: &Sketch, test: &str, minutes: f64, hookup: HookUp) -> Probe {
    let technique = Technique::of(&sketch.network, &hookup);
    let raw = matches!(technique, Technique::ScanValue | Technique::ForceSignal);
    Probe {
        test: test.into(),
        state: String::new(),
        hookup,
        minutes,
        kind: if raw {
            ProbeKind::Raw
        } else {
            ProbeKind::Meter
        },
        technique,
        when: None,
    }
}

pub(super) fn all_faults(sketch: &Sketch) -> Vec<Fault> {
    faults(&sketch.network, &FaultScope::default())
}

/// Two-wire sensor: supply across the pins, signal pin to good ground, forced, ohms of the part, at rest.
pub(super) fn two_wire() -> (Sketch, Vec<Probe>) {
    let s = thermistor();
    let ask = || s.hookup();
    let probes = vec![
        probe(
            &s,
            "supply",
            1.0,
            ask().unplugged().volts("signal", "ground"),
        ),
        probe(
            &s,
            "signal-far",
            1.0,
            ask().unplugged().volts("signal", "good ground"),
        ),
        probe(
            &s,
            "force",
            2.0,
            ask().unplugged().jumper("signal", "ground").scan(0),
        ),
        probe(
            &s,
            "part-ohms",
            3.0,
            ask().unplugged().ohms("part.signal", "part.ground"),
        ),
        probe(&s, "at-rest", 2.0, ask().volts("signal", "ground")),
        probe(&s, "scan", 0.5, ask().scan(0)),
    ];
    (s, probes)
}

/// Three-wire sensor whose open input rests at the reference.
pub(super) fn three_wire() -> (Sketch, Vec<Probe>) {
    let s = position("module.reference");
    let ask = || s.hookup();
    let probes = vec![
        probe(
            &s,
            "supply",
            1.0,
            ask().unplugged().volts("reference", "ground"),
        ),
        probe(&s, "scan-open", 1.0, ask().unplugged().scan(0)),
        probe(
            &s,
            "force",
            2.0,
            ask().unplugged().jumper("signal", "ground").scan(0),
        ),
        probe(
            &s,
            "force-wrong",
            2.0,
            ask().unplugged().jumper("signal", "reference").scan(0),
        ),
        probe(&s, "at-rest", 2.0, ask().volts("signal", "ground")),
    ];
    (s, probes)
}

pub(super) fn solved((sketch, probes): (Sketch, Vec<Probe>)) -> Signatures {
    signatures(&sketch.network, &probes, &all_faults(&sketch)).unwrap()
}

pub(super) fn left_sites(signatures: &Signatures, readings: &[(usize, f64)]) -> Vec<Site> {
    let found = suspects(signatures, &read(readings));
    let mut sites: Vec<Site> = found
        .left
        .into_iter()
        .filter(|one| !one.faint)
        .flat_map(|one| one.sites)
        .collect();
    sites.sort();
    sites.dedup();
    sites
}

pub(super) fn proves(verdict: &Verdict, subject: &str) -> bool {
    verdict.proven.iter().any(|one| one.subject == subject)
}
