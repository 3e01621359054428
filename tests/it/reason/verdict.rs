//! Verdicts: never more than the readings prove.

use super::by_hand::*;
use loomleaf::circuit::Site;
use loomleaf::reason::{
    Aside, Change, Establishes, Observation, Observed, Open, ProbeKind, Slight, Technique, verdict,
};

/// Common practice, no source: nothing across the pins, supply to good ground, names the ground circuit.
#[test]
fn the_ground_circuit_is_established_by_two_readings() {
    let found = verdict(&two_wire(), &read(&[(SUPPLY, 0.0), (FAR, 5.0)]));
    assert_eq!(
        found.establishes,
        Establishes::Repair {
            repair: GROUND_WIRE.into(),
            sites: vec![Site::Wire("ground".into())],
        }
    );
    assert_eq!(found.rests_on, [0, 1]);
    assert_eq!(found.cannot_rule_out, [Open::SecondFault]);
}

/// One reading alone does not establish it.
#[test]
fn one_reading_is_not_enough_for_the_ground() {
    let found = verdict(&two_wire(), &read(&[(SUPPLY, 0.0)]));
    assert!(
        matches!(found.establishes, Establishes::Several { .. }),
        "{found:?}"
    );
}

/// Nothing at both: one group, as no probe left tells an open wire or one to ground from a dead supply.
#[test]
fn what_no_probe_separates_is_one_group() {
    let found = verdict(&two_wire(), &read(&[(SUPPLY, 0.0), (FAR, 0.0)]));
    match found.establishes {
        Establishes::NotSeparable { repairs, .. } => assert_eq!(repairs, [SIGNAL_WIRE, MODULE]),
        other => panic!("{other:?}"),
    }
}

/// Full supply at both proves the wires but for a resistance that is named, and leaves part and contacts.
#[test]
fn full_supply_leaves_the_part_its_contacts_and_small_resistance() {
    let found = verdict(&two_wire(), &read(&[(SUPPLY, 5.0), (FAR, 5.0)]));
    match &found.establishes {
        Establishes::HealthySoFar { left, sites } => {
            assert!(left.contains(&PART.to_owned()) && left.contains(&CONTACTS.to_owned()));
            assert!(sites.contains(&Site::Part) && sites.contains(&Site::Contact("signal".into())));
        }
        other => panic!("{other:?}"),
    }
    assert!(found.cannot_rule_out.contains(&Open::Intermittent));
    let roles = vec!["signal".to_owned()];
    assert!(
        found
            .cannot_rule_out
            .contains(&Open::MatedContacts { roles })
    );
    let subjects: Vec<&str> = found
        .proven
        .iter()
        .map(|one| one.subject.as_str())
        .collect();
    assert_eq!(subjects, ["signal wire", "module supply", "ground wire"]);
    // The ground wire only but for 400 kohm, below which it reads full supply.
    assert_eq!(found.proven[2].but, [Slight::SeriesBelow(400_000.0)]);
}

/// Nothing read, nothing claimed.
#[test]
fn no_reading_establishes_nothing() {
    let found = verdict(&two_wire(), &[]);
    assert_eq!(found.establishes, Establishes::NothingYet);
    assert!(found.proven.is_empty() && found.rests_on.is_empty());
}

/// Readings that fit nothing prove nothing good either.
#[test]
fn nothing_fits_proves_nothing() {
    let found = verdict(&two_wire(), &read(&[(SUPPLY, 12.0)]));
    assert_eq!(found.establishes, Establishes::NothingFits);
    assert!(found.proven.is_empty());
}

/// With a raw and a derived value of one pin the verdict rests on the raw one and says why.
#[test]
fn the_verdict_rests_on_the_raw_value() {
    let mut signatures = two_wire();
    let mut derived = signatures.probes[REST].clone();
    signatures.probes[REST].kind = ProbeKind::Raw;
    derived.kind = ProbeKind::Derived { valid: None };
    derived.test = "at-rest-shown".into();
    signatures.probes.push(derived);
    for row in &mut signatures.rows {
        let same = row.bands[REST].clone();
        row.bands.push(same);
        row.before.push(None);
    }
    let found = verdict(&signatures, &read(&[(SUPPLY, 5.0), (4, 3.0), (REST, 5.0)]));
    assert_eq!(found.rests_on, [0, 2]);
    assert_eq!(found.set_aside.len(), 1);
    assert_eq!(found.set_aside[0].observation, 1);
    assert_eq!(
        found.set_aside[0].why,
        Aside::Derived {
            instead: Some(REST)
        }
    );
}

/// A jumper to where the open input already rests: no change expected, proves nothing.
#[test]
fn a_jumper_to_the_resting_rail_proves_nothing() {
    let mut signatures = two_wire();
    signatures
        .probes
        .push(probe("force", Technique::ForceSignal, 1.0));
    for row in &mut signatures.rows {
        let scan = row.bands[FAR].clone();
        row.before.push(Some(scan.clone()));
        row.bands.push(scan);
    }
    assert_eq!(signatures.expects_change(4), Some(Change::NotExpected));
    let seen = Observation {
        probe: 4,
        reading: Observed::NoChange,
    };
    let found = verdict(&signatures, &[seen]);
    assert_eq!(found.establishes, Establishes::NothingYet);
    assert_eq!(found.set_aside[0].why, Aside::NoChangeExpected);
}
