//! What the pages claim: kelvin by hand, what loaded and unloaded tests see, what an order lacks.

use super::{deck, sheet_of};
use loomleaf::reason::Technique;
use loomleaf::sheet::{SeriesSheet, SeriesTest, Sheet, sheet};

fn thermistor() -> Sheet {
    let (deck, _) = deck();
    let card = deck
        .cards
        .iter()
        .find(|card| card.id == "thermistor-2wire")
        .unwrap();
    sheet(&deck, card).0.unwrap()
}

fn place<'a>(sheet: &'a Sheet, name: &str) -> &'a SeriesSheet {
    sheet
        .series
        .iter()
        .find(|one| one.place.starts_with(name))
        .unwrap()
}

/// By hand from R = 2500 exp(3600 (1/T - 1/298.15)): what the module takes R + 100 ohm for, less the truth.
fn kelvin_by_hand(celsius: f64) -> f64 {
    let kelvin = celsius + 273.15;
    let ohms = 2500.0 * f64::exp(3600.0 * (1.0 / kelvin - 1.0 / 298.15));
    1.0 / (1.0 / 298.15 + f64::ln((ohms + 100.0) / 2500.0) / 3600.0) - kelvin
}

#[test]
fn a_hundred_ohms_in_the_ground_of_a_thermistor_are_told_in_kelvin() {
    let sheet = thermistor();
    for (state, celsius) in [("20 C", 20.0), ("at 95 C", 95.0)] {
        let effects = &place(&sheet, "ground wire").effects;
        let told: Vec<f64> = effects
            .iter()
            .filter(|effect| effect.state == state)
            .filter_map(|effect| effect.kelvin)
            .collect();
        let by_hand = kelvin_by_hand(celsius);
        assert_eq!(told.len(), 1, "{state}");
        assert!(
            (told[0] - by_hand).abs() < 1e-3,
            "{state}: {told:?}, {by_hand}"
        );
    }
    // The order of size, once more outside the formula: under a kelvin cold, above ten hot.
    assert!(kelvin_by_hand(20.0) > -1.0 && kelvin_by_hand(95.0) < -10.0);
}

/// A sensor that ends at 850 C cannot be told in kelvin beyond.
#[test]
fn nothing_is_told_beyond_the_end_of_a_curve() {
    let (deck, _) = deck();
    let card = deck
        .cards
        .iter()
        .find(|card| card.id == "exhaust-rtd")
        .unwrap();
    let sheet = sheet(&deck, card).0.unwrap();
    let effects = &place(&sheet, "ground wire").effects;
    let at = |state: &str| {
        effects
            .iter()
            .find(|effect| effect.state == state)
            .unwrap()
            .kelvin
    };
    assert_eq!(at("850 C"), None);
    assert!(at("600 C").unwrap() > 100.0);
}

#[test]
fn a_loaded_test_sees_a_hundred_ohms_where_an_unloaded_one_passes_hundreds_of_kilohms() {
    let sheet = thermistor();
    let seen = |place_name: &str, title: &str| -> SeriesTest {
        let shows = &place(&sheet, place_name).shows;
        shows.iter().find(|one| one.test == title).unwrap().clone()
    };
    for wire in ["signal wire", "ground wire"] {
        let loaded = seen(wire, "Supply with 1 kohm across the pins");
        assert!(loaded.loaded);
        let (first, always) = (loaded.first.unwrap(), loaded.always.unwrap());
        // Order of 100 ohm with 1 kohm at the pins: common practice, no source.
        assert!(
            first < 100.0 && 100.0 < always && always < 1000.0,
            "{wire}: {first} {always}"
        );
        let unloaded = seen(wire, "Supply across the two pins");
        assert!(!unloaded.loaded);
        // Hand-derived: 10 Mohm x (5.1 / 4.9 - 1) is 400 kohm, less the meter's own error on either side.
        assert!(unloaded.always.unwrap() > 200e3, "{wire}: {unloaded:?}");
    }
    let fed = seen(
        "ground wire",
        "Ground pin fed from the battery through 1 kohm",
    );
    // By hand: 12.6 V over 1 kohm is 12.6 mA, so an ohm moves the reading by 12.6 mV: tens of times what a
    // meter errs there (0.5 % + 2 counts of 0.1 mV); what the ground of the module itself lifts comes on top.
    let (first, always) = (fed.first.unwrap(), fed.always.unwrap());
    assert!(fed.loaded && 0.01 < first && always < 10.0, "{fed:?}");
}

#[test]
fn an_order_that_cannot_tell_a_signal_wire_from_an_input_names_what_is_missing() {
    let card = |order: &str| {
        sheet_of(&format!(
            "title: Flap\nfamily: position-pot\npins:\n  1: {{role: reference}}\n  2: {{role: ground}}\n  \
             3: {{role: signal}}\nparameters: {{pull: up}}\norder: {order}\n"
        ))
    };
    let both = |sheet: &Sheet| -> Vec<loomleaf::reason::Group> {
        let names = |repair: &String, words: &str| repair.contains(words);
        let groups = sheet.reasoning.audit.groups.iter();
        groups
            .filter(|group| {
                group.repairs.iter().any(|one| names(one, "signal wire"))
                    && group
                        .repairs
                        .iter()
                        .any(|one| names(one, "replace the module"))
            })
            .cloned()
            .collect()
    };
    let lacking = card("[supply, at-rest]");
    let groups = both(&lacking);
    assert!(!groups.is_empty(), "{:#?}", lacking.reasoning.audit.groups);
    let scan = |technique: Technique| {
        matches!(
            technique,
            Technique::ForceSignal | Technique::ScanValue | Technique::ForceInRange
        )
    };
    assert!(
        groups
            .iter()
            .any(|group| group.split_by.iter().any(|one| scan(one.technique)))
    );
    assert!(
        lacking
            .reasoning
            .audit
            .missing
            .iter()
            .any(|one| scan(one.technique))
    );
}

/// Two tracks that are alike do not move alike: one rises where the other falls, or rises half as far.
#[test]
fn wires_of_two_like_tracks_can_be_crossed() {
    let (deck, _) = deck();
    for family in ["position-dual", "position-dual-separate"] {
        let card = deck.cards.iter().find(|card| card.id == family).unwrap();
        let sheet = sheet(&deck, card).0.unwrap();
        let mut rows = sheet.reasoning.signatures.rows.iter();
        assert!(rows.any(|row| row.name == "signal and signal 2 wires crossed"));
    }
}

/// Common practice, no source: which of two wires is broken, or touches what it must not, ohms of the wires tell with both
/// ends off.
#[test]
fn an_order_of_a_pair_names_the_ohms_that_its_tests_do_not_measure() {
    let sheet = sheet_of(
        "title: Pair\nfamily: can-pair\npins:\n  1: {role: bus high}\n  2: {role: bus low}\n",
    );
    let split_by = |words: &str| -> Vec<Technique> {
        let mut groups = sheet.reasoning.audit.groups.iter();
        let group = groups.find(|group| {
            group
                .repairs
                .iter()
                .filter(|one| one.contains(words))
                .count()
                == 2
        });
        let group = group.unwrap_or_else(|| panic!("{words}"));
        group.split_by.iter().map(|one| one.technique).collect()
    };
    assert_eq!(split_by("repair the bus"), [Technique::MeasureHarness]);
    assert_eq!(split_by(") and ground"), [Technique::MeasureInsulation]);
    assert_eq!(split_by(") and battery"), [Technique::MeasureInsulation]);
}
