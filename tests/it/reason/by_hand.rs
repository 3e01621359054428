//! Signatures made by hand, for reasoning that must hold whatever circuit gave the bands.
//!
//! The first fixture is a two-wire sensor on 5 V behind 2.49 kohm, read by a 10 Mohm meter; its bands are
//! divider values worked out by hand: unplugged 5 V x 10 M / (10 M + 2490) = 4.999 V, plugged at 20 C
//! 5 V x 3.83 k / (3.83 k + 2.49 k) = 3.03 V; widths are 2 % of supply and 0.5 % of reading, rounded.

use loomleaf::circuit::fault::FaultKind;
use loomleaf::circuit::{Band, HookUp, Meter, NodeId, Observe, Setting, Site};
use loomleaf::quantity::Interval;
use loomleaf::reason::{Observation, Observed, Probe, ProbeKind, Row, Signatures, Technique};

pub(super) const SUPPLY: usize = 0;
pub(super) const FAR: usize = 1;
pub(super) const OHMS: usize = 2;
pub(super) const REST: usize = 3;

pub(super) const SIGNAL_WIRE: &str = "repair the signal wire";
pub(super) const GROUND_WIRE: &str = "repair the ground wire";
pub(super) const MODULE: &str = "replace the module";
pub(super) const PART: &str = "replace the sensor";
pub(super) const CONTACTS: &str = "clean and tighten the contacts";

/// A probe with a technique, an id and minutes.
pub(super) fn probe(test: &str, technique: Technique, minutes: f64) -> Probe {
    Probe {
        test: test.into(),
        state: String::new(),
        hookup: HookUp {
            mated: matches!(technique, Technique::VoltsBackProbed | Technique::ScanValue),
            powered: technique != Technique::MeasurePart,
            links: vec![],
            observe: Observe::Volts {
                red: NodeId(1),
                black: NodeId(0),
            },
            setting: Setting::default(),
            meter: Meter {
                input: 10e6,
                of_reading: 0.005,
                counts: 2.0,
                display: 6000.0,
            },
        },
        minutes,
        kind: ProbeKind::Meter,
        technique,
        when: None,
    }
}

/// A band of one interval.
pub(super) fn span(low: f64, high: f64) -> Band {
    Band {
        nominal: None,
        intervals: vec![Interval { low, high }],
        ..Band::default()
    }
}

/// A lead that nothing holds.
pub(super) fn floating() -> Band {
    Band {
        floating: true,
        ..Band::default()
    }
}

/// An ohmmeter's overload sign.
pub(super) fn no_path() -> Band {
    Band {
        no_path: true,
        ..Band::default()
    }
}

/// A row; number 0 is the healthy circuit.
pub(super) fn row(
    number: usize,
    words: [&str; 3],
    site: Option<Site>,
    prior: f64,
    bands: Vec<Band>,
) -> Row {
    let [name, repair, subject] = words;
    Row {
        fault: number.checked_sub(1),
        name: name.into(),
        says: String::new(),
        kind: None,
        repair: repair.into(),
        subject: subject.into(),
        site,
        prior,
        resistance: None,
        variant: 0,
        before: vec![None; bands.len()],
        bands,
    }
}

/// The same row as a segment of series resistance.
pub(super) fn ohms(mut row: Row, low: f64, high: f64) -> Row {
    row.resistance = Some(Interval { low, high });
    row.kind = Some(FaultKind::High);
    row
}

/// What the probes read.
pub(super) fn read(readings: &[(usize, f64)]) -> Vec<Observation> {
    readings
        .iter()
        .map(|(probe, number)| Observation {
            probe: *probe,
            reading: Observed::value(*number),
        })
        .collect()
}

/// The two-wire sensor.
pub(super) fn two_wire() -> Signatures {
    let full = || span(4.86, 5.13);
    let nothing = || span(-0.002, 0.002);
    let good = || span(3600.0, 4050.0);
    let rest = || span(2.9, 3.16);
    let wire = |role: &str| Some(Site::Wire(role.into()));
    let contact = Some(Site::Contact("signal".into()));
    Signatures {
        probes: vec![
            probe("supply", Technique::VoltsUnplugged, 1.0),
            probe("signal-far", Technique::VoltsUnplugged, 1.0),
            probe("part-ohms", Technique::MeasurePart, 3.0),
            probe("at-rest", Technique::VoltsBackProbed, 2.0),
        ],
        sights: vec![],
        rows: vec![
            row(
                0,
                ["", "", ""],
                None,
                0.0,
                vec![full(), full(), good(), rest()],
            ),
            row(
                1,
                ["signal wire open", SIGNAL_WIRE, "signal wire"],
                wire("signal"),
                3.0,
                vec![floating(), floating(), good(), nothing()],
            ),
            row(
                2,
                ["signal wire to ground", SIGNAL_WIRE, "signal wire"],
                wire("signal"),
                1.0,
                vec![nothing(), nothing(), good(), nothing()],
            ),
            row(
                3,
                ["module supply dead", MODULE, "module supply"],
                Some(Site::Module),
                1.0,
                vec![nothing(), nothing(), good(), nothing()],
            ),
            row(
                4,
                ["ground wire open", GROUND_WIRE, "ground wire"],
                wire("ground"),
                3.0,
                vec![nothing(), full(), good(), full()],
            ),
            row(
                5,
                ["sensor open", PART, "sensor"],
                Some(Site::Part),
                4.0,
                vec![full(), full(), no_path(), full()],
            ),
            row(
                6,
                ["sensor shorted", PART, "sensor"],
                Some(Site::Part),
                1.0,
                vec![full(), full(), span(0.0, 2.0), nothing()],
            ),
            row(
                7,
                ["contact open", CONTACTS, "signal contact"],
                contact,
                4.0,
                vec![full(), full(), good(), full()],
            ),
            ohms(
                row(
                    8,
                    ["ground wire high", GROUND_WIRE, "ground wire"],
                    wire("ground"),
                    0.5,
                    vec![full(), full(), good(), rest()],
                ),
                1.0,
                100.0,
            ),
            ohms(
                row(
                    8,
                    ["ground wire high", GROUND_WIRE, "ground wire"],
                    wire("ground"),
                    0.5,
                    vec![full(), full(), good(), span(2.95, 4.98)],
                ),
                100.0,
                400_000.0,
            ),
            ohms(
                row(
                    8,
                    ["ground wire high", GROUND_WIRE, "ground wire"],
                    wire("ground"),
                    0.5,
                    vec![span(2.4, 4.9), full(), good(), span(4.8, 5.13)],
                ),
                400_000.0,
                10e6,
            ),
        ],
    }
}
