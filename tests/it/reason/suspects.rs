//! Suspects: what readings leave and strike out.

use super::by_hand::*;
use loomleaf::circuit::Site;
use loomleaf::reason::{Observation, Observed, ProbeKind, Signatures, Technique, suspects};

fn repairs(signatures: &Signatures, readings: &[(usize, f64)]) -> Vec<String> {
    let left = suspects(signatures, &read(readings)).left;
    left.into_iter().map(|suspect| suspect.repair).collect()
}

/// Common practice, no source: no supply across the pins, full supply to good ground, is an open ground.
#[test]
fn ground_is_named_by_nothing_across_and_supply_to_good_ground() {
    assert_eq!(
        repairs(&two_wire(), &[(SUPPLY, 0.0), (FAR, 5.0)]),
        [GROUND_WIRE]
    );
}

/// Common practice, no source: nothing at both leaves wire and module, which these two cannot tell apart.
#[test]
fn nothing_at_both_leaves_wire_and_module() {
    let left = suspects(&two_wire(), &read(&[(SUPPLY, 0.0), (FAR, 0.0)]));
    let names: Vec<&str> = left.left.iter().map(|one| one.repair.as_str()).collect();
    assert_eq!(names, [SIGNAL_WIRE, MODULE]);
    // Priors 3 + 1 against 1.
    assert!((left.left[0].share - 0.8).abs() < 1e-12);
    let part = left
        .ruled_out
        .iter()
        .find(|one| one.repair == PART)
        .unwrap();
    assert_eq!(part.by, [0]);
}

/// A lead that nothing holds drifts near zero: a typed 0.12 V fits it, and no circuit held at 0 V.
#[test]
fn a_drifting_reading_fits_a_floating_lead_only() {
    let left = suspects(&two_wire(), &read(&[(SUPPLY, 0.12)]));
    assert_eq!(left.left.len(), 1);
    assert_eq!(left.left[0].faults, ["signal wire open"]);
}

/// Ranking is by prior only: a fault with a narrow band at the reading is no likelier than one with a wide band.
#[test]
fn a_narrow_band_makes_no_fault_likelier() {
    let site = Some(Site::Part);
    let mut both = Signatures {
        probes: vec![probe("volts", Technique::VoltsBackProbed, 1.0)],
        sights: vec![],
        unsure: vec![],
        forced: vec![],
        rows: vec![
            row(0, ["", "", ""], None, 0.0, vec![span(9.0, 9.1)]),
            row(
                1,
                ["a", "mend a", "a"],
                site.clone(),
                1.0,
                vec![span(1.0, 1.001)],
            ),
            row(2, ["b", "mend b", "b"], site, 3.0, vec![span(0.0, 5.0)]),
        ],
    };
    let share = |signatures: &Signatures| -> Vec<(String, f64)> {
        suspects(signatures, &read(&[(0, 1.0)]))
            .left
            .into_iter()
            .map(|one| (one.repair, one.share))
            .collect()
    };
    let expected = [("mend b".to_owned(), 0.75), ("mend a".to_owned(), 0.25)];
    assert_eq!(share(&both), expected);
    both.rows[1].bands[0] = span(0.0, 5.0);
    assert_eq!(share(&both), expected);
}

/// Nothing fits: said so, with the readings that conflict and what would make them consistent.
#[test]
fn when_no_single_fault_fits_the_conflict_is_named() {
    let signatures = two_wire();
    // No supply at the pins, and yet the plugged sensor reads as if all were well.
    let found = suspects(
        &signatures,
        &read(&[(SUPPLY, 0.0), (OHMS, 3800.0), (REST, 3.0)]),
    );
    assert!(!found.healthy && found.left.is_empty());
    let conflict = found.conflict.unwrap();
    assert_eq!(conflict.between, [0, 2]);
    let doubts: Vec<&[usize]> = conflict
        .ways_out
        .iter()
        .map(|way| way.doubt.as_slice())
        .collect();
    assert_eq!(doubts, [&[0][..], &[2][..]]);
    assert!(conflict.ways_out[0].healthy);
    assert_eq!(
        conflict.ways_out[0].would_read[0].intervals,
        signatures.healthy(SUPPLY).intervals
    );
}

/// A reading that nothing modelled gives conflicts by itself.
#[test]
fn a_reading_outside_everything_conflicts_alone() {
    let found = suspects(&two_wire(), &read(&[(SUPPLY, 12.0), (OHMS, 3800.0)]));
    assert_eq!(found.conflict.unwrap().between, [0]);
}

/// A conflict of more than three readings is still brought down to one from which nothing can be left out.
#[test]
fn a_conflict_of_four_is_found() {
    // Row k reads 1 everywhere but at probe k, where it reads 0: all ones fit nothing, any three fit one row.
    let rows = (0..4).map(|own| {
        let bands = (0..4).map(|probe| {
            if probe == own {
                span(-0.1, 0.1)
            } else {
                span(0.9, 1.1)
            }
        });
        row(
            own + 1,
            ["x", "mend", "x"],
            Some(Site::Part),
            1.0,
            bands.collect(),
        )
    });
    let signatures = Signatures {
        probes: (0..4)
            .map(|_| probe("t", Technique::VoltsBackProbed, 1.0))
            .collect(),
        rows: rows.collect(),
        sights: vec![],
        unsure: vec![],
        forced: vec![],
    };
    let found = suspects(
        &signatures,
        &read(&[(0, 1.0), (1, 1.0), (2, 1.0), (3, 1.0)]),
    );
    assert_eq!(found.conflict.unwrap().between, [0, 1, 2, 3]);
}

/// A derived value need not follow the pin: its value and its standing still strike out nothing, unless
/// the pin would be inside the range in which it follows.
#[test]
fn a_derived_value_strikes_out_nothing_outside_its_range() {
    let mut signatures = two_wire();
    let all = signatures.rows.len();
    let left = |signatures: &Signatures, reading| {
        let seen = Observation {
            probe: REST,
            reading,
        };
        (0..all).filter(|row| signatures.fits(*row, &seen)).count()
    };
    signatures.probes[REST].kind = ProbeKind::Derived { valid: None };
    assert_eq!(left(&signatures, Observed::value(5.0)), all);
    assert_eq!(left(&signatures, Observed::NoChange), all);
    let valid = loomleaf::quantity::Interval {
        low: 0.3,
        high: 4.7,
    };
    signatures.probes[REST].kind = ProbeKind::Derived { valid: Some(valid) };
    // Healthy and the faint segment read 2.9 to 3.16 V, inside the range: 5 V strikes them out, no others.
    assert_eq!(left(&signatures, Observed::value(5.0)), all - 2);
}

/// Not a number, a probe that does not exist, a test that could not be done: nothing is struck out, nothing breaks.
#[test]
fn readings_that_are_none_strike_out_nothing() {
    let signatures = two_wire();
    for observation in [
        Observation {
            probe: 99,
            reading: Observed::value(1.0),
        },
        Observation {
            probe: 0,
            reading: Observed::value(f64::NAN),
        },
        Observation {
            probe: 0,
            reading: Observed::value(f64::INFINITY),
        },
        Observation {
            probe: 0,
            reading: Observed::CannotMeasure,
        },
    ] {
        let found = suspects(&signatures, &[observation]);
        assert!(
            found.healthy && found.ruled_out.is_empty(),
            "{observation:?}"
        );
    }
}

/// A reading typed with one decimal is known to ± 0.05: it must not strike out what shows 5.13 V as 5.2 V.
#[test]
fn a_coarsely_typed_reading_keeps_its_neighbours() {
    let seen = |within| Observation {
        probe: SUPPLY,
        reading: Observed::Value {
            number: 5.17,
            within,
        },
    };
    assert!(!suspects(&two_wire(), &[seen(0.005)]).healthy);
    assert!(suspects(&two_wire(), &[seen(0.05)]).healthy);
}

/// Both ways of an unknown pull direction side by side: a reading settles which it is.
#[test]
fn variants_are_settled_by_readings() {
    let site = Some(Site::Wire("signal".into()));
    let one = |open: f64, forced: f64| Signatures {
        probes: vec![
            probe("open-scan", Technique::ScanValue, 1.0),
            probe("force", Technique::ForceSignal, 1.0),
        ],
        sights: vec![],
        unsure: vec![],
        forced: vec![],
        rows: vec![
            row(
                0,
                ["", "", ""],
                None,
                0.0,
                vec![span(open, open), span(forced, forced)],
            ),
            row(
                1,
                ["wire open", "mend wire", "wire"],
                site.clone(),
                1.0,
                vec![span(open, open); 2],
            ),
        ],
    };
    let both = Signatures::joined(vec![one(5.0, 0.0), one(0.0, 0.0)]);
    assert!(
        suspects(&both, &read(&[(1, 0.0)])).left.len() == 1,
        "may rest there"
    );
    let settled = suspects(&both, &read(&[(0, 5.0), (1, 0.0)]));
    assert!(settled.healthy && settled.left.is_empty());
}
