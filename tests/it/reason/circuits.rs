//! Reasoning over solved circuits: the two-wire sensor and the three-wire potentiometer of a workshop bench.

use super::bench::{all_faults, left_sites, proves, solved, three_wire, two_wire};
use super::by_hand::read;
use crate::circuit::sketches::position;
use loomleaf::circuit::{Band, Site};
use loomleaf::quantity::Interval;
use loomleaf::reason::{
    Change, Establishes, Open, Signatures, Slight, Technique, audit, other_rail, rank_probes,
    signatures, suspects, verdict,
};

/// Common practice, no source: 0 V across the pins and 5 V from signal to good ground is the ground circuit.
#[test]
fn two_wire_nothing_across_and_supply_to_ground_names_the_ground_circuit() {
    let signatures = solved(two_wire());
    let found = verdict(&signatures, &read(&[(0, 0.0), (1, 5.0)]));
    let left = suspects(&signatures, &read(&[(0, 0.0), (1, 5.0)])).left;
    let faults: Vec<&String> = left.iter().flat_map(|one| &one.faults).collect();
    assert!(
        faults.iter().any(|fault| *fault == "ground wire open"),
        "{faults:?}"
    );
    // The wire, or the module's own pin of it: nothing else, and never the body ground.
    assert!(
        faults
            .iter()
            .all(|fault| fault.contains("ground wire") || fault.contains("ground tie")),
        "{faults:?}"
    );
    assert!(!matches!(
        found.establishes,
        Establishes::HealthySoFar { .. }
    ));
    assert_eq!(found.rests_on, [0, 1]);
}

/// Common practice, no source: 0 V at both is signal wire, reference or module, and volts do not tell which.
#[test]
fn two_wire_nothing_at_both_is_one_group_of_wire_and_module() {
    let signatures = solved(two_wire());
    let sites = left_sites(&signatures, &[(0, 0.0), (1, 0.0)]);
    assert!(
        sites.contains(&Site::Wire("signal".into())) && sites.contains(&Site::Module),
        "{sites:?}"
    );
    assert!(
        !sites.contains(&Site::Part) && !sites.contains(&Site::Wire("ground".into())),
        "{sites:?}"
    );
    let two = ["supply".to_owned(), "signal-far".to_owned()];
    let groups = audit(&signatures, &two).groups;
    assert!(
        groups.iter().any(|group| !group.looks_healthy
            && group
                .faults
                .iter()
                .any(|fault| fault.contains("signal wire"))
            && group.repairs.len() >= 2),
        "{groups:?}"
    );
}

/// Full supply at both leaves the part, its contacts and small series resistance; the next test splits them.
#[test]
fn two_wire_full_supply_leaves_part_contacts_and_small_resistance() {
    let signatures = solved(two_wire());
    let readings = read(&[(0, 5.0), (1, 5.0)]);
    let found = verdict(&signatures, &readings);
    let Establishes::HealthySoFar { sites, .. } = &found.establishes else {
        panic!("{found:?}")
    };
    assert!(sites.contains(&Site::Part) && sites.contains(&Site::Contact("signal".into())));
    assert!(found.cannot_rule_out.contains(&Open::Intermittent));
    let wire = found.cannot_rule_out.iter().find_map(|open| match open {
        Open::Slight {
            subject,
            slight: Slight::SeriesBelow(ohms),
            ..
        } if subject == "signal wire" => Some(*ohms),
        _ => None,
    });
    // By hand: 5 V may be 4.9 V and the meter 0.5 % + 2 counts low; 10 Mohm passes (5.1 x 1.005 / 4.97 - 1) x 10 M
    // = 0.3 Mohm at the very most before 5.0 V can no longer be shown.
    assert!((100e3..1e6).contains(&wire.unwrap()), "{wire:?}");
    let next = &rank_probes(&signatures, &readings)[0];
    assert!(next.branches.len() >= 2 && next.bits > 0.1, "{next:?}");
    let splits = |next: &loomleaf::reason::Next| {
        next.branches.iter().any(|branch| {
            branch
                .repairs
                .iter()
                .any(|repair| repair.contains("part") || repair.contains("sensor"))
        })
    };
    assert!(splits(next), "{next:?}");
}

/// Three-wire, common practice, no source: supply good, 5 V open, 0 V forced to ground proves wire and input.
#[test]
fn three_wire_forced_low_proves_wire_and_input_and_suspects_the_part() {
    let signatures = solved(three_wire());
    let readings = [(0, 5.0), (1, 5.0), (2, 0.0)];
    let found = verdict(&signatures, &read(&readings));
    assert!(proves(&found, "signal wire"), "{:?}", found.proven);
    let sites = left_sites(&signatures, &readings);
    assert!(sites.contains(&Site::Part) && sites.contains(&Site::Contact("signal".into())));
    // What rests at the reference anyway cannot show a short to it: the proof names it as its one exception.
    let wire = found
        .proven
        .iter()
        .find(|one| one.subject == "signal wire")
        .unwrap();
    assert_eq!(
        wire.unless,
        [
            "signal wire shorted to the reference vref",
            "signal wire shorted to battery"
        ]
    );
    let input = found
        .proven
        .iter()
        .find(|one| one.subject == "module input signal")
        .unwrap();
    assert!(input.unless.is_empty() && input.but.is_empty());
    assert!(found.rests_on.contains(&2));
}

/// The jumper to the rail where the open input rests: no change expected, proves nothing; the other rail is
/// found from where the input rests, and with an unknown pull the answer depends.
#[test]
fn three_wire_jumper_to_the_resting_rail_proves_nothing() {
    let up = solved(three_wire());
    assert_eq!(up.expects_change(2), Some(Change::Expected));
    assert_eq!(up.expects_change(3), Some(Change::NotExpected));
    let before = verdict(&up, &read(&[(0, 5.0), (1, 5.0)]));
    let after = verdict(&up, &read(&[(0, 5.0), (1, 5.0), (3, 5.0)]));
    assert_eq!(before.establishes, after.establishes);
    assert_eq!(before.proven, after.proven);

    let down = {
        let (_, probes) = three_wire();
        let s = position("module");
        signatures(&s.network, &probes, &all_faults(&s)).unwrap()
    };
    let both = Signatures::joined(vec![up, down]);
    assert_eq!(both.expects_change(2), Some(Change::Depends));
    for (pull, rail) in [("module.reference", "ground"), ("module", "reference")] {
        let s = position(pull);
        let at = |name: &str| s.network.find(name).unwrap();
        let asked = s.hookup().unplugged().hookup;
        let rails = [at("ground"), at("reference")];
        let found = other_rail(&s.network, &asked, at("signal"), &rails)
            .unwrap()
            .unwrap();
        assert_eq!(found.other_rail, at(rail), "{pull}");
    }
}

/// An order without the forced test cannot tell an open signal wire from a dead input, and says which kind is missing.
#[test]
fn an_order_without_forcing_names_the_missing_kind() {
    let signatures = solved(three_wire());
    let order = ["supply".to_owned(), "scan-open".to_owned()];
    let found = audit(&signatures, &order);
    let group = found.groups.iter().find(|group| {
        let has = |words: &str| group.faults.iter().any(|fault| fault.contains(words));
        has("signal wire open") && has("module input signal stuck high")
    });
    let force = group
        .unwrap()
        .split_by
        .iter()
        .find(|one| one.technique == Technique::ForceSignal);
    let named = &force.unwrap().repairs;
    let of = |subject: &str| {
        let row = signatures
            .rows
            .iter()
            .find(|row| row.subject == subject)
            .unwrap();
        named.contains(&row.repair)
    };
    assert!(of("signal wire") && of("module input signal"), "{named:?}");
    assert!(
        found
            .missing
            .iter()
            .any(|one| one.technique == Technique::ForceSignal)
    );
}

/// Rows of a continuous fault cover its whole range without a gap, the lowest segment is seen by no probe,
/// and priors add up to the fault's own.
#[test]
fn resistance_is_cut_without_gaps() {
    let (sketch, probes) = two_wire();
    let faults = all_faults(&sketch);
    let signatures = signatures(&sketch.network, &probes, &faults).unwrap();
    for (number, fault) in faults.iter().enumerate() {
        let rows: Vec<_> = signatures
            .rows
            .iter()
            .filter(|row| row.fault == Some(number))
            .collect();
        let prior: f64 = rows.iter().map(|row| row.prior).sum();
        assert!((prior - fault.prior).abs() < 1e-9, "{}", fault.name);
        let spans: Vec<Interval> = rows.iter().filter_map(|row| row.resistance).collect();
        assert!(
            spans.windows(2).all(|pair| pair[0].high == pair[1].low),
            "{spans:?}"
        );
    }
    let high = signatures
        .rows
        .iter()
        .filter(|row| row.subject == "ground wire" && row.resistance.is_some());
    assert!(high.count() >= 3);
}

/// A bad contact in the mated connector is invisible unplugged, for every unplugged probe.
#[test]
fn a_bad_contact_is_invisible_unplugged() {
    let signatures = solved(two_wire());
    for row in signatures
        .rows
        .iter()
        .filter(|row| matches!(row.site, Some(Site::Contact(_))))
    {
        for (probe, asked) in signatures.probes.iter().enumerate() {
            if !asked.hookup.mated {
                assert_eq!(
                    row.bands[probe], signatures.rows[0].bands[probe],
                    "{}",
                    row.name
                );
            }
        }
    }
}

/// Circuits that reduce to one another are solved once: the bands are those of solving each, but for the last bits
/// that another order of the same sums leaves.
#[test]
fn untouched_readings_are_those_of_solving() {
    for (sketch, probes) in [two_wire(), three_wire()] {
        let faults = all_faults(&sketch);
        let signatures = signatures(&sketch.network, &probes, &faults).unwrap();
        for row in signatures
            .rows
            .iter()
            .filter(|row| row.resistance.is_none())
        {
            let Some(number) = row.fault else { continue };
            let changed = faults[number].apply(&sketch.network);
            for (band, probe) in row.bands.iter().zip(&probes) {
                let solved = loomleaf::circuit::band::band(&changed, &probe.hookup).unwrap();
                let ends = |band: &Band| -> Vec<f64> {
                    let each = band.intervals.iter();
                    each.flat_map(|span| [span.low, span.high]).collect()
                };
                let (known, fresh) = (ends(band), ends(&solved));
                let near = |(a, b): (&f64, &f64)| (a - b).abs() <= 1e-12 * a.abs().max(1.0);
                let alike = known.len() == fresh.len() && known.iter().zip(&fresh).all(near);
                let (own, other) = (
                    (band.floating, band.no_path),
                    (solved.floating, solved.no_path),
                );
                assert!(alike && own == other, "{} at {}", row.name, probe.test);
            }
        }
    }
}
