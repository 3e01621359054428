//! Every shipped family as the least card a shop can type: its numbers, its faults, its reasoning.

mod bounds;
mod claims;
mod derived;
mod numbers;
mod oracle;
mod own_values;
mod shortcuts;
mod sights;
mod trials;

use loomleaf::card::{Deck, read, shipped};
use loomleaf::finding::Finding;
use loomleaf::finding::Severity;
use loomleaf::sheet::{Sheet, sheet};
use std::collections::BTreeMap;

/// Choices a card may leave open, each answered both ways beside the card that leaves it open.
fn answers(family: &str) -> Vec<(&'static str, &'static str)> {
    match family {
        "hall-switch" => vec![
            ("fed", "parameters: {fed_by: reference}\n"),
            ("pulled", "parameters: {pulled_to: battery}\n"),
        ],
        "position-pot"
        | "position-dual"
        | "position-dual-separate"
        | "pressure-ratiometric"
        | "pressure-temperature" => vec![
            ("up", "parameters: {pull: up}\n"),
            ("down", "parameters: {pull: down}\n"),
        ],
        _ => vec![],
    }
}

/// A deck of one minimal card a family: pins in the order of the roles and nothing else; and one card more
/// for each answer to a choice the family leaves to the card.
pub(super) fn deck() -> (Deck, Vec<Finding>) {
    let blank = |family: &str| format!("title: Circuit of {family}\nfamily: {family}\npins:\n");
    let mut files = BTreeMap::from([("deck.yaml".to_owned(), b"title: Families\n".to_vec())]);
    let known = read(&files, &shipped()).0.unwrap().families;
    for (name, family) in &known {
        let mut text = blank(name);
        for (number, role) in family.roles.iter().enumerate() {
            text += &format!("  {}: {{role: {role}}}\n", number + 1);
        }
        for (word, more) in answers(name) {
            let card = text.replace("Circuit of", &format!("{word} in the circuit of")) + more;
            files.insert(format!("cards/{name}-{word}.yaml"), card.into_bytes());
        }
        files.insert(format!("cards/{name}.yaml"), text.into_bytes());
    }
    let (deck, findings) = read(&files, &shipped());
    (deck.unwrap(), findings)
}

/// The sheet of one more card on a deck of its own, which must be without findings.
pub(super) fn sheet_of(card: &str) -> Sheet {
    let files = BTreeMap::from([
        ("deck.yaml".to_owned(), b"title: Families\n".to_vec()),
        ("cards/one.yaml".to_owned(), card.as_bytes().to_vec()),
    ]);
    let (deck, findings) = read(&files, &shipped());
    assert!(findings.is_empty(), "{findings:#?}");
    let deck = deck.unwrap();
    let (sheet, findings) = sheet(&deck, &deck.cards[0]);
    // Advice on an order is what some of these cards are for.
    let only_advice = findings
        .iter()
        .all(|one| one.kind.severity == Severity::Advice);
    assert!(only_advice, "{findings:#?}");
    sheet.unwrap()
}
