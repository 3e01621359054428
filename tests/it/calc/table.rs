//! The table itself: names, keys, examples, defaults of every calculator.

use loomleaf::calc::{CALCULATORS, Kind, Value, by_name, reckon};
use std::collections::BTreeSet;

fn is_plain_word(name: &str) -> bool {
    !name.is_empty()
        && name
            .chars()
            .all(|letter| letter.is_ascii_lowercase() || letter.is_ascii_digit() || letter == '-')
}

#[test]
fn names_and_keys_are_plain_and_unique() {
    let names: BTreeSet<&str> = CALCULATORS.iter().map(|one| one.name).collect();
    assert_eq!(names.len(), CALCULATORS.len());
    for one in CALCULATORS {
        assert!(is_plain_word(one.name), "{}", one.name);
        assert_eq!(by_name(one.name).map(|found| found.title), Some(one.title));
        let keys: BTreeSet<&str> = one.inputs.iter().map(|input| input.key).collect();
        assert_eq!(keys.len(), one.inputs.len(), "{}", one.name);
        assert!(
            keys.iter().all(|key| is_plain_word(key)),
            "{}: {keys:?}",
            one.name
        );
        for text in [
            one.title,
            one.says,
            one.group,
            one.formula,
            one.source,
            one.range,
        ] {
            assert!(!text.trim().is_empty(), "{} leaves a text empty", one.name);
        }
        for input in one.inputs {
            assert!(
                !(input.needed && input.default.is_some()),
                "{} {}",
                one.name,
                input.key
            );
            if let Kind::Choice(words) = input.kind {
                assert!(
                    words.iter().all(|word| is_plain_word(word.key)),
                    "{}",
                    input.key
                );
            }
        }
    }
}

#[test]
fn those_of_one_group_stand_together() {
    let mut groups: Vec<&str> = CALCULATORS.iter().map(|one| one.group).collect();
    groups.dedup();
    let different: BTreeSet<&str> = groups.iter().copied().collect();
    assert_eq!(groups.len(), different.len(), "{groups:?}");
}

#[test]
fn every_example_works_and_shows_its_numbers() {
    for one in CALCULATORS {
        let answer =
            reckon(one, one.example).unwrap_or_else(|refused| panic!("{}: {refused:?}", one.name));
        assert!(
            !answer.results.is_empty() && !answer.steps.is_empty(),
            "{}",
            one.name
        );
        let keys: BTreeSet<&str> = answer.results.iter().map(|result| result.key).collect();
        assert_eq!(
            keys.len(),
            answer.results.len(),
            "{}: a result's key stands twice",
            one.name
        );
        assert!(
            keys.iter().all(|key| is_plain_word(key)),
            "{}: {keys:?}",
            one.name
        );
        for (key, text) in one.example {
            let used = answer.used.iter().find(|used| used.key == *key).unwrap();
            assert_eq!(
                (used.text.as_str(), used.by_default),
                (*text, false),
                "{}",
                one.name
            );
        }
        for result in &answer.results {
            assert!(!result.value.says().is_empty() && !result.label.is_empty());
            if let Value::Band(band, _) = &result.value {
                assert!(band.low <= band.high, "{} {}", one.name, result.key);
            }
        }
    }
}

#[test]
fn without_a_needed_value_it_says_which_and_how() {
    for one in CALCULATORS {
        let needed: Vec<&str> = one
            .inputs
            .iter()
            .filter(|input| input.needed)
            .map(|input| input.key)
            .collect();
        let refused = match reckon(one, &[]) {
            Ok(_) => panic!("{} answers from nothing", one.name),
            Err(refused) => refused,
        };
        let named: Vec<&str> = refused.iter().filter_map(|refusal| refusal.key).collect();
        if !needed.is_empty() {
            assert_eq!(named, needed, "{}", one.name);
        }
        assert!(
            refused.iter().all(|refusal| !refusal.hint.is_empty()),
            "{}",
            one.name
        );
    }
}
