//! Reasoning over solved circuits: the two-wire sensor and the three-wire potentiometer of a workshop bench.

use crate::circuit::build::{Sketch, about};
use crate::circuit::sketches::{position, thermistor};
use loomleaf::circuit::fault::{Fault, FaultScope, faults};
use loomleaf::circuit::{HookUp, Site};
use loomleaf::quantity::Interval;
use loomleaf::reason::{
    Change, Establishes, Open, Probe, ProbeKind, Signal, Signatures, Slight, Technique, Verdict,
    audit, looks_like, other_rail, rank_probes, reach, safe_load, signatures, suspects, verdict,
};

use super::by_hand::read;

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
            ask()
                .unplugged()
                .ohms("part.signal", "part.ground"),
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

fn solved((sketch, probes): (Sketch, Vec<Probe>)) -> Signatures {
    signatures(&sketch.network, &probes, &all_faults(&sketch)).unwrap()
}

fn left_sites(signatures: &Signatures, readings: &[(usize, f64)]) -> Vec<Site> {
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

fn proves(verdict: &Verdict, subject: &str) -> bool {
    verdict.proven.iter().any(|one| one.subject == subject)
}

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
    assert_eq!(wire.unless, ["signal wire shorted to the reference vref"]);
    let input = found
        .proven
        .iter()
        .find(|one| one.subject == "module input signal")
        .unwrap();
    assert!(input.unless.is_empty() && input.but.is_none());
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

/// The three-kelvin thermistor of the pull-up table: 3 kohm at 25 C, coefficients of its Steinhart-Hart curve.
fn kelvin(ohms: f64) -> f64 {
    let l = loomleaf::quantity::maths::ln(ohms);
    1.0 / (1.40e-3 + 2.37e-4 * l + 9.90e-8 * l * l * l)
}

/// 100 ohm in the ground of a thermistor: to the module it is 100 ohm more of thermistor (series adds, by
/// hand), 0.6 K at 20 C but more than 8 K near 95 C. Its rows for 20 C and 100 C read 3.0311 V and 0.3852 V
/// (table of an NTC with a 2490 ohm pull-up, computed).
#[test]
fn a_hundred_ohm_in_the_ground_matter_when_hot() {
    let (sketch, probes) = two_wire();
    let sensor = sketch.network.parameter_named("sensor").unwrap();
    let faults = all_faults(&sketch);
    let solved = signatures(&sketch.network, &probes[..2], &faults).unwrap();
    let states = [("20 C", 3833.4, 3.0311), ("100 C", 207.85, 0.3852)];
    let signals: Vec<Signal> = states
        .iter()
        .map(|(state, ohms, _)| Signal {
            state: (*state).into(),
            hookup: sketch.hookup().with("sensor", about(*ohms, 0.0)).scan(0),
        })
        .collect();
    let all = reach(&sketch.network, &solved, &faults, &signals).unwrap();
    let ground = all
        .iter()
        .find(|one| one.site == Site::Wire("ground".into()))
        .unwrap();
    let mut shifts = Vec::new();
    for ((effect, signal), (_, ohms, volts)) in ground.effects.iter().zip(&signals).zip(states) {
        assert!((effect.healthy.unwrap() - volts).abs() < 2e-3, "{effect:?}");
        let point = effect
            .points
            .iter()
            .find(|point| (point.ohms / 100.0 - 1.0).abs() < 1e-6)
            .unwrap();
        let between = Interval {
            low: 10.0,
            high: 1e6,
        };
        let seen = looks_like(
            &sketch.network,
            &signal.hookup,
            sensor,
            between,
            point.reading.unwrap(),
        );
        let seen = seen.unwrap().unwrap();
        assert!((seen - ohms - 100.0).abs() < 0.2, "{seen}");
        shifts.push(kelvin(ohms) - kelvin(seen));
    }
    assert!((0.5..0.7).contains(&shifts[0]), "{shifts:?}");
    assert!(shifts[1] > 8.0, "{shifts:?}");
    // By hand, 20 C: 4.75 V of 5 V with 2490 ohm above takes 47310 ohm below, 43477 ohm more than the sensor.
    let code = ground.effects[0].code.unwrap();
    assert!((code.ohms / 43_477.0 - 1.0).abs() < 0.03, "{code:?}");
}

/// An unloaded 10 Mohm voltmeter passes hundreds of kilohms; a load of 1 kohm at the pins shows the order of
/// 100 ohm, and from ground pin to good ground about an ohm (common practice, no source; figures by hand:
/// 10 M x (2 x 2 % + 2 x 0.54 %) = 0.5 Mohm; 3.5 kohm x (5 + 3) % = 280 ohm; 2 counts of 1 mV, once for the
/// healthy and once for the faulty reading, at 1.4 mA = 2.8 ohm, half of it where the parts are nominal).
#[test]
fn a_loaded_test_reaches_further() {
    let s = thermistor();
    let at = |name: &str| s.network.find(name).unwrap();
    let load = safe_load(&s.network).unwrap();
    let base = s.hookup().unplugged().hookup;
    let pins = (at("signal"), at("ground"));
    let far = (at("ground"), at("good ground"));
    let probes = [
        probe(
            &s,
            "supply",
            1.0,
            s.hookup().unplugged().volts("signal", "ground"),
        ),
        probe(&s, "loaded", 2.0, load.hook_up(&base, pins, pins)),
        probe(&s, "loaded ground", 2.0, load.hook_up(&base, pins, far)),
    ];
    assert_eq!(probes[1].technique, Technique::VoltsLoaded);
    let faults = all_faults(&s);
    let solved = signatures(&s.network, &probes, &faults).unwrap();
    let all = reach(&s.network, &solved, &faults, &[]).unwrap();
    let ground = all
        .iter()
        .find(|one| one.site == Site::Wire("ground".into()))
        .unwrap();
    let always: Vec<f64> = ground
        .tests
        .iter()
        .map(|test| test.always.unwrap())
        .collect();
    assert!((200e3..900e3).contains(&always[0]), "{always:?}");
    assert!((50.0..400.0).contains(&always[1]), "{always:?}");
    assert!((2.5..3.5).contains(&always[2]), "{always:?}");
    let nominal = ground.tests[2].nominal.unwrap();
    assert!((1.0..2.0).contains(&nominal), "{nominal}");
    for test in &ground.tests {
        let (first, nominal, always) = (
            test.first.unwrap(),
            test.nominal.unwrap(),
            test.always.unwrap(),
        );
        assert!(first <= nominal && nominal <= always, "{test:?}");
    }
}

/// The load respects the regulator: 5.1 V and 80 mA at least leave 8 mA, so 638 ohm at least, 1 kohm of the
/// E3 series (IEC 60063), 26 mW, a quarter watt.
#[test]
fn the_proposed_load_is_safe_for_the_reference() {
    let load = safe_load(&thermistor().network).unwrap();
    assert_eq!(load.ohms, 1000.0);
    assert_eq!(load.watts, 0.25);
    assert!(load.amps <= 0.1 * load.limit && (load.limit - 0.08).abs() < 1e-12);
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

/// What a hook-up cannot feel is taken from the healthy circuit: the shortcut gives the same bands as solving.
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
                assert_eq!(*band, solved, "{} at {}", row.name, probe.test);
            }
        }
    }
}
