//! ngspice, the independent method, on every family: healthy and every fault, every test in every state.

use super::deck;
use crate::circuit::oracle::compare;
use loomleaf::circuit::fault::{FaultScope, faults};
use loomleaf::circuit::{HookUp, Network};
use loomleaf::sheet::sheet;

#[test]
#[allow(
    clippy::print_stdout,
    reason = "what was compared is part of the check"
)]
fn ngspice_agrees_on_every_family_with_every_fault_in_every_test() {
    let (deck, _) = deck();
    let mut circuits: Vec<(String, Network, HookUp)> = Vec::new();
    for card in deck
        .cards
        .iter()
        .filter(|card| card.id == card.family.value)
    {
        let found = sheet(&deck, card).0.unwrap();
        // Where a card leaves open which way the input is pulled, one way is enough: the other differs in one
        // resistor's end.
        let variant = &found.variants[0];
        let broken = faults(&variant.network, &FaultScope::default());
        let broken = broken
            .iter()
            .map(|fault| (fault.name.as_str(), fault.apply(&variant.network)));
        let all: Vec<(&str, Network)> = std::iter::once(("healthy", variant.network.clone()))
            .chain(broken)
            .collect();
        for (fault, network) in &all {
            for hooked in &variant.hooked {
                let test = &found.tests[hooked.test].id;
                let name = format!("{}, {fault}, {test}, {}", card.id, hooked.state);
                circuits.push((name, network.clone(), hooked.hookup.clone()));
            }
        }
    }
    let tally = compare(&circuits);
    println!(
        "{} comparisons with ngspice over all families, the largest deviation {:.3} of what is allowed at {}",
        tally.comparisons, tally.largest, tally.at
    );
    assert!(4000 < tally.comparisons);
    let few: Vec<&String> = tally.failures.iter().take(20).collect();
    assert!(
        few.is_empty(),
        "{} failures: {few:#?}",
        tally.failures.len()
    );
}
