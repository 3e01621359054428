//! Any text in any field of any calculator: an answer of finite numbers or a refusal, never a panic.

use loomleaf::calc::{CALCULATORS, Calculator, Kind, Refusal, Value, reckon};
use proptest::prelude::*;
use std::collections::BTreeSet;

/// Texts that people, phones and mischief put into fields.
const NASTY: [&str; 38] = [
    "",
    " ",
    "-1",
    "0",
    "-0",
    "1e308",
    "-1e308",
    "1e-308",
    "4.9e-324",
    "1e999",
    "NaN",
    "inf",
    "∞",
    "5",
    "5 V",
    "-5 V",
    "5 A",
    "5 kohm",
    "0 ohm",
    "0 V",
    "1e300 V",
    "100 %",
    "-273.15 C",
    "-300 C",
    "0 K",
    "1e12 C",
    "2.5 mm2",
    "14 AWG",
    "99 AWG",
    "wire",
    "body",
    "garbage",
    "5 V; 4 V",
    ";;;",
    "=",
    "5..6 V",
    "\u{202e}5 V",
    "5 \u{0} V",
];

fn is_sound(value: &Value) -> bool {
    match value {
        Value::Quantity(quantity) => quantity.number.is_finite(),
        Value::Band(band, _) => {
            band.low.is_finite() && band.high.is_finite() && band.low <= band.high
        }
        Value::Number(number) => number.is_finite(),
        Value::Words(words) => !words.is_empty(),
    }
}

/// Whether the text tells of a number that is none.
fn tells_nonsense(text: &str) -> bool {
    text.split(|letter: char| !letter.is_alphanumeric())
        .any(|word| word == "NaN" || word == "inf")
}

fn check(calculator: &Calculator, pairs: &[(&str, &str)]) {
    let place = || format!("{} {pairs:.200?}", calculator.name);
    match reckon(calculator, pairs) {
        Ok(answer) => {
            let keys: BTreeSet<&str> = answer.results.iter().map(|one| one.key).collect();
            assert_eq!(keys.len(), answer.results.len(), "{}: a key twice", place());
            for result in &answer.results {
                assert!(is_sound(&result.value), "{}: {result:?}", place());
            }
            // A person's own words are given back as they are.
            let own = pairs.iter().any(|(key, _)| *key == "whose");
            let notes = answer.notes.iter().filter(|_| !own);
            for text in answer.steps.iter().chain(notes) {
                assert!(!tells_nonsense(text), "{}: {text}", place());
            }
        }
        Err(refused) => {
            assert!(!refused.is_empty(), "{}", place());
            let known = |refusal: &Refusal| {
                refusal
                    .key
                    .is_none_or(|key| calculator.input(key).is_some())
            };
            for refusal in &refused {
                assert!(known(refusal), "{}: {refusal:?}", place());
                assert!(
                    !refusal.says.is_empty() && !refusal.hint.is_empty(),
                    "{}",
                    place()
                );
                assert!(
                    refusal.says.len() < 1000,
                    "{}: a refusal too long to read",
                    place()
                );
            }
        }
    }
}

/// The example with one field changed.
fn changed<'a>(calculator: &Calculator, key: &'a str, text: &'a str) -> Vec<(&'a str, &'a str)> {
    let kept = calculator
        .example
        .iter()
        .copied()
        .filter(|(other, _)| *other != key);
    kept.chain([(key, text)]).collect()
}

#[test]
fn nasty_texts_in_every_field_are_answered_or_refused() {
    let long = "9".repeat(10_000);
    let long_text = "volts ".repeat(2_000);
    for calculator in CALCULATORS {
        for input in calculator.inputs {
            for text in NASTY
                .iter()
                .copied()
                .chain([long.as_str(), long_text.as_str()])
            {
                check(calculator, &changed(calculator, input.key, text));
                check(calculator, &[(input.key, text)]);
            }
        }
    }
}

#[test]
fn a_refused_text_is_refused_at_its_field() {
    for calculator in CALCULATORS {
        for input in calculator.inputs {
            let text = match input.kind {
                Kind::Words(most) => "x".repeat(most + 1),
                _ => "garbage".to_owned(),
            };
            let refused = reckon(calculator, &changed(calculator, input.key, &text)).unwrap_err();
            let at_field = refused.iter().any(|refusal| refusal.key == Some(input.key));
            assert!(at_field, "{} {}: {refused:?}", calculator.name, input.key);
        }
    }
}

#[test]
fn the_ends_of_every_range_are_answered_or_refused() {
    for calculator in CALCULATORS {
        for input in calculator.inputs {
            let (Kind::Quantity { low, high, .. } | Kind::Number { low, high }) = input.kind else {
                continue;
            };
            let unit = match input.kind {
                Kind::Quantity { dimension, .. } => dimension.base_unit(),
                _ => "",
            };
            for number in [
                low,
                high,
                low * (1.0 + 1e-12),
                high * (1.0 - 1e-12),
                (low + high) / 2.0,
            ] {
                let text = format!("{number:e} {unit}");
                check(calculator, &changed(calculator, input.key, text.trim()));
            }
        }
    }
}

/// A text for a field: nasty, any letters, or a number over many decades with a fitting or a wrong unit.
fn any_text() -> impl Strategy<Value = String> {
    let units = [
        "", "V", "mV", "ohm", "kohm", "A", "mA", "C", "K", "%", "m", "mm2", "AWG", "Hz", "ms",
        "rpm", "km/h", "kPa", "ohm/km", "deg",
    ];
    prop_oneof![
        2 => proptest::sample::select(NASTY.to_vec()).prop_map(str::to_owned),
        1 => any::<String>(),
        6 => (-1.2..10.0_f64, -12..12_i32, proptest::sample::select(units.to_vec()))
            .prop_map(|(digits, power, unit)| format!("{digits}e{power} {unit}").trim().to_owned()),
        4 => (0..2000_u32, proptest::sample::select(units.to_vec()))
            .prop_map(|(number, unit)| format!("{number} {unit}").trim().to_owned()),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 4000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn random_texts_in_some_fields_never_break_a_calculator(
        at in 0..CALCULATORS.len(),
        texts in proptest::collection::vec((any::<proptest::sample::Index>(), any_text()), 1..4),
    ) {
        let calculator = &CALCULATORS[at];
        let mut pairs: Vec<(&str, &str)> = calculator.example.to_vec();
        for (which, text) in &texts {
            let key = which.get(calculator.inputs).key;
            pairs.retain(|(other, _)| *other != key);
            pairs.push((key, text));
        }
        check(calculator, &pairs);
    }
}
