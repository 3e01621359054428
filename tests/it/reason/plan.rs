//! The plan and the audit of an order.

use super::by_hand::*;
use loomleaf::reason::{
    Condition, Signatures, Technique, When, audit, better_order, next_probe, rank_probes,
};

fn named(signatures: &Signatures, readings: &[(usize, f64)]) -> Option<String> {
    let next = next_probe(signatures, &read(readings))?;
    Some(signatures.probes[next.probe].test.clone())
}

/// After full supply at both, measuring the part splits it from its contacts; it costs more but says more
/// than the volts at rest, which an open part and an open contact give alike.
#[test]
fn the_next_test_splits_what_is_left() {
    let signatures = two_wire();
    let ranked = rank_probes(&signatures, &read(&[(SUPPLY, 5.0), (FAR, 5.0)]));
    let ohms = ranked.iter().find(|next| next.probe == OHMS).unwrap();
    let apart = ohms
        .branches
        .iter()
        .find(|branch| branch.repairs == [PART])
        .unwrap();
    assert!(apart.chance > 0.2, "{ohms:?}");
    assert!(
        ohms.branches
            .iter()
            .any(|b| b.repairs.contains(&CONTACTS.to_owned())
                && !b.repairs.contains(&PART.to_owned()))
    );
}

/// Minutes count: of two probes that say the same the quicker is next; of equals the first.
#[test]
fn minutes_decide_between_equals() {
    let mut signatures = two_wire();
    assert_eq!(named(&signatures, &[]).as_deref(), Some("supply"));
    signatures.probes[SUPPLY].minutes = 60.0;
    assert_ne!(named(&signatures, &[]).as_deref(), Some("supply"));
}

/// Pulling a plug or putting it back takes time: of two probes that say the same, the one that needs no plugging is next.
#[test]
fn plugging_counts() {
    let mut signatures = two_wire();
    let twin = signatures.probes[FAR].clone();
    for row in &mut signatures.rows {
        row.bands.insert(FAR, row.bands[FAR].clone());
        row.before.insert(FAR, None);
    }
    signatures.probes.insert(FAR, twin);
    signatures.probes[FAR].test = "signal-far plugged in".into();
    signatures.probes[FAR].hookup.mated = true;
    assert_eq!(
        named(&signatures, &[(SUPPLY, 0.0)]).as_deref(),
        Some("signal-far")
    );
}

/// What was read, or could not be, is not proposed again; when nothing tells, nothing is proposed.
#[test]
fn nothing_is_proposed_where_nothing_would_tell() {
    let signatures = two_wire();
    assert_eq!(named(&signatures, &[(SUPPLY, 0.0), (FAR, 0.0)]), None);
}

/// A conditional test waits for its condition.
#[test]
fn a_conditional_test_waits_for_its_condition() {
    let mut signatures = two_wire();
    signatures.probes[FAR].when = Some(When {
        test: "supply".into(),
        is: Condition::Low,
    });
    let offered = |readings: &[(usize, f64)]| {
        rank_probes(&signatures, &read(readings))
            .iter()
            .any(|next| next.probe == FAR)
    };
    assert!(!offered(&[]));
    assert!(!offered(&[(SUPPLY, 5.0)]));
    assert!(offered(&[(SUPPLY, 0.0)]));
    // Dear enough that the quick conditional reading still has something to say before it.
    signatures.probes[REST].minutes = 60.0;
    let better = better_order(&signatures);
    let place = |test: &str| better.iter().position(|step| step.test == test).unwrap();
    assert!(place("supply") < place("signal-far"));
    assert!(better[place("signal-far")].when.is_some());
}

/// The entropy gained is that of the split: two repairs of one weight, told apart for sure, are one bit
/// (definition of entropy).
#[test]
fn one_certain_split_of_two_equals_is_one_bit() {
    let site = Some(loomleaf::circuit::Site::Part);
    let signatures = Signatures {
        probes: vec![
            probe("known", Technique::VoltsBackProbed, 1.0),
            probe("split", Technique::VoltsBackProbed, 1.0),
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
                vec![span(9.0, 9.1), span(9.0, 9.1)],
            ),
            row(
                1,
                ["a", "mend a", "a"],
                site.clone(),
                1.0,
                vec![span(0.0, 0.1), span(1.0, 1.5)],
            ),
            row(
                2,
                ["b", "mend b", "b"],
                site,
                1.0,
                vec![span(0.0, 0.1), span(2.0, 4.0)],
            ),
        ],
    };
    let next = next_probe(&signatures, &read(&[(0, 0.0)])).unwrap();
    assert!((next.bits - 1.0).abs() < 1e-12, "{next:?}");
}

/// An order of the two supply readings alone cannot tell part from contact and names the kind that is missing.
#[test]
fn the_missing_kind_of_test_is_named() {
    let signatures = two_wire();
    let order = ["supply".to_owned(), "signal-far".to_owned()];
    let found = audit(&signatures, &order);
    let group = found
        .groups
        .iter()
        .find(|group| group.repairs.contains(&PART.to_owned()))
        .unwrap();
    assert!(group.repairs.contains(&CONTACTS.to_owned()) && group.looks_healthy);
    // By hand: ohms tell open part (4) and shorted part (1) from the contact (4), 20 in 3 minutes; volts at
    // rest only the shorted part, 4 in 2 minutes.
    let split = &group.split_by[0];
    assert_eq!(
        (split.technique, split.probe),
        (Technique::MeasurePart, Some(OHMS))
    );
    let wire = found
        .groups
        .iter()
        .find(|group| group.repairs.contains(&MODULE.to_owned()))
        .unwrap();
    assert_eq!(wire.split_by[0].technique, Technique::MeasureHarness);
    assert_eq!(wire.split_by[0].probe, None);
    assert!(found.better_separated > found.separated);
}

/// Counts of pairs over all four tests, by hand: eight faults in five repairs and the healthy circuit.
#[test]
fn pairs_are_counted_by_fault() {
    let signatures = two_wire();
    let order: Vec<String> = signatures
        .probes
        .iter()
        .map(|probe| probe.test.clone())
        .collect();
    let pairs = audit(&signatures, &order).pairs;
    // Faults 1..8 and healthy give 36 pairs; of one repair: 1-2 (signal wire), 4-8 (ground wire), 5-6 (sensor).
    assert_eq!(pairs.always + pairs.depends + pairs.never, 36 - 3);
    // Never: open or grounded signal wire against the dead supply.
    assert_eq!(pairs.never, 2);
}
