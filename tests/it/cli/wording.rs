//! Words for a workshop: readings in on the demo deck, out what is said of turn, shares, states and groups.

use super::diagnose::demo;

#[test]
fn a_reading_out_of_turn_is_said_to_be_so() {
    let card = "coolant-temperature";
    let says =
        "“Signal pin to good ground” is done only when “Supply across the two pins” is low; ";
    let told = |readings: &[&str]| demo("diagnose", &[&[card], readings].concat(), "").out;
    let alone = told(&["signal-to-ground=5.0"]);
    assert!(
        alone.contains(&format!("{says}no reading of that was given.")),
        "{alone}"
    );
    let good = told(&["supply=5.0", "signal-to-ground=5.0"]);
    assert!(good.contains(&format!("{says}it was not.")), "{good}");
    let low = told(&["supply=0.0", "signal-to-ground=5.0"]);
    assert!(!low.contains("Out of turn"), "{low}");
}

#[test]
fn shares_sum_to_a_hundred() {
    for readings in [
        ["supply=5.0"],
        ["supply=0.0"],
        ["loaded=1.45"],
        ["bridge=0.0"],
    ] {
        let words = [&["coolant-temperature"], &readings[..]].concat();
        let out = demo("diagnose", &words, "").out;
        let list = out.split("Suspects (shares").nth(1).unwrap();
        let list = list.split("\n\n").next().unwrap();
        let shares = list
            .lines()
            .filter_map(|line| line.trim().split_once("%  "));
        let whole = shares.map(|(share, _)| share.parse::<u32>().unwrap_or(0));
        assert_eq!(whole.sum::<u32>(), 100, "{list}");
    }
}

#[test]
fn the_next_test_names_other_states_and_what_it_is_worth() {
    let out = demo("diagnose", &["coolant-temperature", "supply=5.0"], "").out;
    let next = out.split("\nNext\n").nth(1).unwrap();
    assert!(next.contains("[at-rest@40 C]"), "{next}");
    let others = "take one that can: at-rest@0 C, at-rest@20 C, at-rest@80 C and at-rest@90 C\n";
    assert!(next.contains(others), "{next}");
    assert!(
        next.contains("of what is suspected now stays suspected\n"),
        "{next}"
    );
    assert!(!next.contains(" bit"), "{next}");
}

#[test]
fn an_order_says_what_a_group_is_where_no_pair_stays_together_always() {
    let out = demo("order", &["coolant-temperature"], "").out;
    for words in [
        " at times (it depends on ",
        "Groups that stay alike",
        "count above as told apart at times",
    ] {
        assert!(out.contains(words), "{words}\n{out}");
    }
}

#[test]
fn a_deck_whose_cards_lie_elsewhere_is_counted_by_files() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("deck.yaml"), "title: Ours\n").unwrap();
    std::fs::write(folder.path().join("one.yaml"), "title: One\n").unwrap();
    let ran = super::diagnose::on(folder.path(), "inspect", &[], "");
    assert!(
        ran.out.ends_with(" in 2 files, no card among them\n"),
        "{}",
        ran.out
    );
}
