//! Cards with values of their own: resistances far from a family's defaults, choices answered at random; every fault in
//! turn, and the true one must stay among the suspects. Law, no source: elimination by bands is safe if and only if bands
//! hold.

use super::trials::{all_faults, trial_of};
use crate::reason::trials::Dice;
use loomleaf::card::{Family, ParameterKind, read, shipped};
use loomleaf::finding::Severity;
use loomleaf::quantity::{Dimension, maths};
use loomleaf::sheet::{Sheet, sheet};
use std::collections::BTreeMap;

/// Cards a family, and trials a fault.
const CARDS: usize = 8;
const TRIALS: usize = 3;
/// Trials of a fault that was lost once.
const AGAIN: usize = 1000;
/// A resistance is up to so many times its default, or as small a part of it.
const TIMES: f64 = 4.0;
/// Less than this stands for a joint, ohm: joints are alike in all circuits.
const JOINT: f64 = 20.0;

/// A card of a family with values drawn.
fn card(family: &Family, dice: &mut Dice) -> String {
    let mut parameters = Vec::new();
    for one in &family.parameters {
        let name = &one.name.value;
        match &one.kind {
            ParameterKind::Value {
                dimension: Dimension::Resistance,
                default,
            } if JOINT < default.nominal => {
                let times = dice.between(-maths::ln(TIMES), maths::ln(TIMES));
                let ohms = default.nominal * maths::exp(times);
                parameters.push(format!("{name}: {ohms:.1} ohm ± 10 %"));
            }
            ParameterKind::Choice { choices, .. } => {
                let choice = &choices[dice.pick(choices.len())];
                parameters.push(format!("{name}: {choice}"));
            }
            _ => {}
        }
    }
    with_parameters(family, &parameters.join(", "))
}

fn with_parameters(family: &Family, parameters: &str) -> String {
    let mut text = format!("title: Own values\nfamily: {}\n", family.name);
    text += &format!("parameters: {{{parameters}}}\npins:\n");
    for (number, role) in (1..).zip(&family.roles) {
        text += &format!("  {number}: {{role: {role}}}\n");
    }
    text
}

/// The sheet of a card; none where its values make no circuit that works.
fn sheet_of(text: &str) -> Option<Sheet> {
    let files = BTreeMap::from([
        ("deck.yaml".to_owned(), b"title: Own values\n".to_vec()),
        ("cards/one.yaml".to_owned(), text.as_bytes().to_vec()),
    ]);
    let (deck, findings) = read(&files, &shipped());
    let deck = deck?;
    let (sheet, more) = sheet(&deck, deck.cards.first()?);
    let wrong = |one: &loomleaf::finding::Finding| one.kind.severity == Severity::Error;
    assert!(!findings.iter().any(wrong), "{text}{findings:#?}");
    sheet.filter(|_| !more.iter().any(wrong))
}

fn families() -> BTreeMap<String, Family> {
    let empty = BTreeMap::from([("deck.yaml".to_owned(), b"title: Own values\n".to_vec())]);
    read(&empty, &shipped()).0.unwrap().families
}

#[test]
fn the_true_fault_is_never_eliminated_on_cards_with_values_of_their_own() {
    let families = families();
    let mut dice = Dice(0x0A11_0E50);
    let (mut sheets, mut trials) = (0, 0);
    for family in families.values() {
        for _ in 0..CARDS {
            let text = card(family, &mut dice);
            let Some(sheet) = sheet_of(&text) else {
                continue;
            };
            sheets += 1;
            let all = all_faults(&sheet);
            for (variant, faults) in all.iter().enumerate() {
                for number in 0..faults.len() {
                    for _ in 0..TRIALS {
                        trials += 1;
                        let _left = trial_of(&sheet, &all, (variant, number), &mut dice);
                    }
                }
            }
        }
    }
    assert!(100 < sheets && 5000 < trials, "{sheets} {trials}");
}

/// Cards on which a true fault was once lost, one trial in some hundreds: what lies behind a border was not looked at
/// (ground lifted to the reference; two currents that nearly cancel in a reference fed back), microamperes were taken for
/// none, a reading that turns back over decades was not followed to its end.
const LOST: [(&str, &str, &str); 5] = [
    (
        "hall-switch",
        "fed_by: battery, pulled_to: reference, pull_up: 1143.0 ohm ± 10 %, draws: 836.9 ohm ± 10 %",
        "ground wire high resistance",
    ),
    (
        "pressure-ratiometric",
        "bridge: 252.0 ohm ± 10 %, output: 258.1 ohm ± 10 %, pull: down, bias: 806339.1 ohm ± 10 %",
        "measuring bridge above its range",
    ),
    (
        "position-dual",
        "track: 11861.3 ohm ± 10 %, track_2: 5406.6 ohm ± 10 %, pull: down, bias: 707865.8 ohm ± 10 %",
        "signal wire shorted to battery",
    ),
    (
        "position-dual",
        "track: 16621.5 ohm ± 10 %, track_2: 17656.8 ohm ± 10 %, pull: up, bias: 59296.7 ohm ± 10 %",
        "signal 2 wire shorted to battery",
    ),
    (
        "position-dual-separate",
        "track: 1925.7 ohm ± 10 %, track_2: 18676.9 ohm ± 10 %, pull: up, bias: 59404.4 ohm ± 10 %",
        "signal wire shorted to battery",
    ),
];

#[test]
fn no_fault_is_lost_where_one_was_once() {
    let families = families();
    let mut dice = Dice(0x0A11_0E51);
    for (family, parameters, name) in LOST {
        let sheet = sheet_of(&with_parameters(&families[family], parameters)).unwrap();
        let all = all_faults(&sheet);
        let mut trials = 0;
        for (variant, faults) in all.iter().enumerate() {
            for number in (0..faults.len()).filter(|number| faults[*number].name == name) {
                for _ in 0..AGAIN {
                    trials += 1;
                    let _left = trial_of(&sheet, &all, (variant, number), &mut dice);
                }
            }
        }
        assert!(0 < trials, "{family} has no fault {name}");
    }
}
