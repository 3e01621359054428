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
        sights: None,
        by_state: false,
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
    Signatures {
        probes: vec![
            probe("supply", Technique::VoltsUnplugged, 1.0),
            probe("signal-far", Technique::VoltsUnplugged, 1.0),
            probe("part-ohms", Technique::MeasurePart, 3.0),
            probe("at-rest", Technique::VoltsBackProbed, 2.0),
        ],
        sights: vec![],
        unsure: vec![],
        forced: vec![],
        rows: two_wire_rows()
            .into_iter()
            .chain(ground_wire_high())
            .collect(),
    }
}

fn full() -> Band {
    span(4.86, 5.13)
}

fn nothing() -> Band {
    span(-0.002, 0.002)
}

fn good() -> Band {
    span(3600.0, 4050.0)
}

fn rest() -> Band {
    span(2.9, 3.16)
}

fn two_wire_rows() -> Vec<Row> {
    let wire = |role: &str| Some(Site::Wire(role.into()));
    let part = || Some(Site::Part);
    let contact = Some(Site::Contact("signal".into()));
    let signal_open = ["signal wire open", SIGNAL_WIRE, "signal wire"];
    let signal_short = ["signal wire to ground", SIGNAL_WIRE, "signal wire"];
    let dead = ["module supply dead", MODULE, "module supply"];
    let ground_open = ["ground wire open", GROUND_WIRE, "ground wire"];
    let part_open = ["sensor open", PART, "sensor"];
    let part_short = ["sensor shorted", PART, "sensor"];
    let contact_open = ["contact open", CONTACTS, "signal contact"];
    let low = || vec![nothing(), nothing(), good(), nothing()];
    let adrift = vec![floating(), floating(), good(), nothing()];
    let shorted = vec![full(), full(), span(0.0, 2.0), nothing()];
    vec![
        row(0, [""; 3], None, 0.0, vec![full(), full(), good(), rest()]),
        row(1, signal_open, wire("signal"), 3.0, adrift),
        row(2, signal_short, wire("signal"), 1.0, low()),
        row(3, dead, Some(Site::Module), 1.0, low()),
        row(
            4,
            ground_open,
            wire("ground"),
            3.0,
            vec![nothing(), full(), good(), full()],
        ),
        row(
            5,
            part_open,
            part(),
            4.0,
            vec![full(), full(), no_path(), full()],
        ),
        row(6, part_short, part(), 1.0, shorted),
        row(
            7,
            contact_open,
            contact,
            4.0,
            vec![full(), full(), good(), full()],
        ),
    ]
}

/// Too little to see, seen at rest at times, seen by both.
fn ground_wire_high() -> Vec<Row> {
    let high = |bands, low, to| {
        let words = ["ground wire high", GROUND_WIRE, "ground wire"];
        ohms(
            row(8, words, Some(Site::Wire("ground".into())), 0.5, bands),
            low,
            to,
        )
    };
    vec![
        high(vec![full(), full(), good(), rest()], 1.0, 100.0),
        high(
            vec![full(), full(), good(), span(2.95, 4.98)],
            100.0,
            400_000.0,
        ),
        high(
            vec![span(2.4, 4.9), full(), good(), span(4.8, 5.13)],
            400_000.0,
            10e6,
        ),
    ]
}
