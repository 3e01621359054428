//! A circuit as carried gives what the whole sheet gives: same diagnosis, same readings, to the digit.

use super::{circuit, question};
use crate::phone::digits::Dice;
use loomleaf::phone::Engine;
use loomleaf::report::{DiagnoseReport, ExpectReport};
use loomleaf::sheet::{Sheet, Taken, carry, sheet, take_named, tell_verdict, unpack};

/// The demo, solved.
pub(super) fn solved() -> &'static [Sheet] {
    &crate::browser::solved().sheets
}

#[test]
fn every_test_of_a_carried_circuit_reads_what_its_sheet_says() {
    assert!(solved().len() > 15, "the demo's cards were not found");
    for sheet in solved() {
        // What the shop measured stays on the page.
        let sheet = &Sheet {
            known_good: Vec::new(),
            ..sheet.clone()
        };
        let tests: Vec<usize> = (0..sheet.tests.len()).collect();
        let report = serde_json::to_string(&ExpectReport::of(sheet, &tests, None)).unwrap();
        let carried = unpack(circuit(&sheet.card)).unwrap().sheet().unwrap();
        let carried = serde_json::to_string(&ExpectReport::of(&carried, &tests, None)).unwrap();
        assert_eq!(carried, report, "{}", sheet.card);
    }
}

#[test]
fn a_circuit_of_every_family_can_be_carried() {
    let (deck, _) = crate::families::deck();
    for card in &deck.cards {
        let sheet = sheet(&deck, card).0.unwrap();
        let tests: Vec<usize> = (0..sheet.tests.len()).collect();
        let report = serde_json::to_string(&ExpectReport::of(&sheet, &tests, None)).unwrap();
        let text = carry(&deck, card, &sheet).unwrap();
        let carried = unpack(&text).unwrap_or_else(|| panic!("{} is not unpacked", card.id));
        let carried = carried.sheet().unwrap();
        let carried = serde_json::to_string(&ExpectReport::of(&carried, &tests, None)).unwrap();
        assert_eq!(carried, report, "{}", card.id);
    }
}

#[test]
fn a_carried_circuit_is_diagnosed_as_its_sheet_is() {
    let mut dice = Dice::new(11);
    for sheet in solved() {
        let mut engine = Engine::default();
        for _ in 0..5 {
            let readings = dice.readings(sheet);
            let mut taken: Vec<Taken> = Vec::new();
            for (place, text) in &readings {
                if let Ok(one) = take_named(sheet, place, text) {
                    taken.retain(|old| old.observation.probe != one.observation.probe);
                    taken.push(one);
                }
            }
            let told = tell_verdict(sheet, &taken);
            let report = DiagnoseReport::of(sheet, &taken, &told);
            let report = serde_json::to_string(&report).unwrap();
            let asked = super::digits::diagnose(sheet, &readings);
            let texts: Vec<&str> = asked.iter().map(String::as_str).collect();
            let carried = engine.answer(&question(&texts));
            let start = format!("{{\"answer\":{{\"diagnosis\":{report},\"wrong\":[");
            assert!(
                carried.starts_with(&start),
                "{}: {readings:?}\n{carried}\n{start}",
                sheet.card
            );
        }
    }
}

#[test]
fn a_text_of_another_make_is_refused_in_words() {
    let good = circuit("winch-lever");
    let cut = &good[..good.len() / 2];
    for text in ["", "hello", "9:circuit 2", cut, "9:circuit 1999999999999:"] {
        let told = Engine::default().answer(&question(&["diagnose", text, "0"]));
        assert_eq!(
            told, "{\"refused\":\"the page and the engine are of different make\"}",
            "{text:?}"
        );
    }
}
