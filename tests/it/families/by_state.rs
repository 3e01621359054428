//! A part whose value is off in some states only: a curve that is wrong when it is hot and right when it is cold. Some
//! readings are taken, in whatever states; it must stay among the suspects. Law, no source: a reading in one state says
//! nothing of another.

use super::deck;
use super::trials::{all_faults, holds};
use crate::reason::trials::{Dice, draw, shown};
use loomleaf::circuit::fault::Fault;
use loomleaf::circuit::{HookUp, Setting, Values, solve};
use loomleaf::reason::{Observation, suspects, verdict};
use loomleaf::sheet::{Sheet, Variant, sheet};

/// Trials a fault.
const TRIALS: usize = 300;

/// A value for every state that the card names, off in one or more of those in which it is felt.
fn values_by_state(
    circuit: &Variant,
    (fault, felt): (&Fault, &[bool]),
    dice: &mut Dice,
) -> Vec<(Setting, Values)> {
    let faulty = fault.apply(&circuit.network);
    let is_felt = |own: &&HookUp| {
        let mut hooked = circuit.hooked.iter().zip(felt);
        hooked.any(|(hooked, felt)| *felt && hooked.hookup.setting == own.setting)
    };
    let mut states: Vec<&HookUp> = Vec::new();
    for hooked in circuit
        .hooked
        .iter()
        .filter(|hooked| !hooked.state.is_empty())
    {
        if states
            .iter()
            .all(|own| own.setting != hooked.hookup.setting)
        {
            states.push(&hooked.hookup);
        }
    }
    let at: Vec<usize> = (0..states.len())
        .filter(|place| is_felt(&states[*place]))
        .collect();
    let first = at[dice.pick(at.len())];
    let each = states.iter().enumerate().map(|(place, hookup)| {
        let off = place == first || dice.roll() < 0.5;
        let network = if off { &faulty } else { &circuit.network };
        (hookup.setting.clone(), draw(network, dice, hookup))
    });
    each.collect()
}

fn trial(sheet: &Sheet, (variant, row): (usize, usize), dice: &mut Dice) {
    let signatures = &sheet.reasoning.signatures;
    let circuit = &sheet.variants[variant];
    let number = signatures.rows[row].fault.unwrap();
    let fault = &all_faults(sheet)[variant][number];
    let good = signatures.rows[..row]
        .iter()
        .rfind(|row| row.fault.is_none())
        .unwrap();
    let bands = signatures.rows[row].bands.iter().zip(&good.bands);
    let felt: Vec<bool> = bands.map(|(off, good)| off != good).collect();
    let states = values_by_state(circuit, (fault, &felt), dice);
    let mut read = Vec::new();
    for (probe, hooked) in circuit.hooked.iter().enumerate() {
        if dice.roll() < 0.6 {
            continue;
        }
        // A test in which the state does not matter is done in some state.
        let own = states
            .iter()
            .find(|(setting, _)| *setting == hooked.hookup.setting);
        let (setting, values) = own.unwrap_or_else(|| &states[dice.pick(states.len())]);
        let hookup = HookUp {
            setting: setting.clone(),
            ..hooked.hookup.clone()
        };
        if let Ok(reading) = solve::read(&circuit.network, &hookup, values) {
            let reading = shown(reading, dice, &circuit.network, &hookup);
            read.push(Observation { probe, reading });
        }
    }
    let found = suspects(signatures, &read);
    let kept = found.left.iter().any(|one| one.rows.contains(&row));
    assert!(kept, "{}: {} by {read:?}", sheet.card, fault.name);
    holds(&verdict(signatures, &read), fault, f64::NAN);
}

#[test]
fn a_value_off_in_some_states_only_is_never_eliminated() {
    let (deck, _) = deck();
    let mut dice = Dice(0x0B57_A7E5);
    let mut kinds = 0;
    for card in deck
        .cards
        .iter()
        .filter(|card| card.id == card.family.value)
    {
        let sheet = sheet(&deck, card).0.unwrap();
        let rows = sheet.reasoning.signatures.rows.iter().enumerate();
        let followed: Vec<(usize, usize)> = rows
            .filter(|(_, row)| row.by_state)
            .map(|(place, row)| (row.variant, place))
            .collect();
        for one in &followed {
            kinds += 1;
            (0..TRIALS).for_each(|_| trial(&sheet, *one, &mut dice));
        }
    }
    // Thermistor, platinum, sender and the thermistor of a pressure sensor, above and below; currents of a speed sensor.
    assert!(8 <= kinds, "{kinds}");
}
