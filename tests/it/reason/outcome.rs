//! Outcome tables.

use super::by_hand::*;
use loomleaf::quantity::Interval;
use loomleaf::reason::{Reads, SHORT, Seen, outcome};

/// Every number any circuit can read lies in a cell, and the healthy cells are the healthy band.
#[test]
fn the_table_covers_every_reading_and_keeps_the_healthy_band() {
    let signatures = two_wire();
    for probe in 0..signatures.probes.len() {
        let table = outcome(&signatures, probe);
        for row in &signatures.rows {
            for span in &row.bands[probe].intervals {
                for part in [0.0, 0.25, 0.5, 0.75, 1.0] {
                    let number = span.low + part * (span.high - span.low);
                    let cells = table.cells_for(&read(&[(probe, number)])[0]);
                    let named = cells.iter().any(|cell| match row.fault {
                        None => table.cells[*cell].healthy,
                        Some(_) => table.cells[*cell]
                            .meanings
                            .iter()
                            .any(|m| m.repair == row.repair),
                    });
                    assert!(named, "{} at {number}", row.name);
                }
            }
        }
        let healthy = signatures.healthy(probe).intervals;
        let shown: Vec<Interval> = table
            .cells
            .iter()
            .filter(|cell| cell.healthy)
            .filter_map(|cell| match cell.reads {
                Reads::Between(span) => Some(span),
                Reads::Floating | Reads::NoPath | Reads::Still => None,
            })
            .collect();
        assert_eq!(
            shown.first().map(|span| span.low),
            healthy.first().map(|span| span.low)
        );
        assert_eq!(
            shown.last().map(|span| span.high),
            healthy.last().map(|span| span.high)
        );
    }
}

/// A floating island has a cell of its own and is not 0 V; a reading near 0 V falls in both.
#[test]
fn floating_has_a_cell_of_its_own() {
    let table = outcome(&two_wire(), SUPPLY);
    let floating = table
        .cells
        .iter()
        .find(|cell| cell.reads == Reads::Floating)
        .unwrap();
    assert_eq!(floating.meanings.len(), 1);
    assert_eq!(floating.meanings[0].repair, SIGNAL_WIRE);
    assert_eq!(table.cells_for(&read(&[(SUPPLY, 0.0)])[0]).len(), 2);
    assert_eq!(table.cells_for(&read(&[(SUPPLY, 0.2)])[0]).len(), 1);
}

/// Three-valued by fault: an open ground is always seen at the supply, an open contact never, a high
/// resistance depends and says from which ohms.
#[test]
fn each_fault_is_seen_always_never_or_depends() {
    let table = outcome(&two_wire(), SUPPLY);
    let of = |name: &str| {
        table
            .faults
            .iter()
            .find(|fault| fault.name == name)
            .unwrap()
    };
    assert_eq!(of("ground wire open").seen, Seen::Always);
    assert_eq!(of("contact open").seen, Seen::Never);
    assert_eq!(of("ground wire high").seen, Seen::Depends);
    let from = of("ground wire high").resistance.unwrap();
    assert_eq!((from.low, from.high), (400_000.0, 10e6));
}

/// The short answer has at most six rows, healthy first, then falling mass.
#[test]
fn the_short_answer_is_short_and_likeliest_first() {
    let signatures = two_wire();
    for probe in 0..signatures.probes.len() {
        let short = outcome(&signatures, probe).short;
        assert!(short.len() <= SHORT && short[0].healthy);
        let rest: Vec<f64> = short
            .iter()
            .filter(|cell| !cell.healthy)
            .map(|cell| cell.mass)
            .collect();
        assert!(rest.windows(2).all(|pair| pair[0] >= pair[1]), "{rest:?}");
    }
}
