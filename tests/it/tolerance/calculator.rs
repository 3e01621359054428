//! The calculator of known-good bands: texts in, the published examples and clear refusals out.

use loomleaf::calc::{Answer, Value, by_name, reckon};

fn known_good(pairs: &[(&str, &str)]) -> Answer {
    reckon(by_name("known-good").unwrap(), pairs).unwrap()
}

fn number(answer: &Answer, key: &str) -> f64 {
    match answer
        .results
        .iter()
        .find(|one| one.key == key)
        .unwrap()
        .value
    {
        Value::Number(number) => number,
        Value::Quantity(quantity) => quantity.number,
        _ => panic!("{key} is no number"),
    }
}

/// Forty-three readings with the mean 97.07 and the spread 0.0268 of the worked sheet to NIST/SEMATECH e-Handbook
/// 7.2.6.3: one at the mean, 21 at s on each side.
fn forty_three() -> String {
    let (mean, s) = (97.07_f64, 0.0268_f64);
    // 42 squares of s, over n - 1 = 42.
    let sides = (0..21).map(|_| format!("{}; {}", mean - s, mean + s));
    let all: Vec<String> = sides.chain([format!("{mean} ohm")]).collect();
    all.join("; ").replacen("; ", " ohm; ", 1)
}

#[test]
fn the_handbook_of_43_readings_stands_there_both_ways_with_its_names() {
    let answer = known_good(&[
        ("readings", &forty_three()),
        ("confidence", "99 %"),
        ("coverage", "90 %"),
    ]);
    assert!((number(&answer, "count") - 43.0).abs() < 0.1);
    assert!((number(&answer, "mean") - 97.07).abs() < 1e-9);
    assert!((number(&answer, "spread") - 0.0268).abs() < 1e-9);
    // Exact, scipy 1.17.1.
    assert!((number(&answer, "factor") - 2.2228).abs() < 1e-4);
    assert!((number(&answer, "one-sided-factor") - 1.8740).abs() < 1e-4);
    let Value::Band(band, _) = answer.results[0].value else {
        panic!("{:?}", answer.results[0])
    };
    assert!(
        (band.low - (97.07 - 2.2228 * 0.0268)).abs() < 1e-5,
        "{band:?}"
    );
    // As the handbook prints them: 2.217 by Howe, 1.8752 by Natrella.
    let notes = answer.notes.join("\n");
    assert!(
        notes.contains("Howe 2.2173, with Guenther's correction 2.2220"),
        "{notes}"
    );
    assert!(notes.contains("Natrella 1.8752"), "{notes}");
}

#[test]
fn few_readings_and_readings_all_alike_give_no_band() {
    let few = known_good(&[("readings", "5.01; 5.02 V; 4.99 V; 5.00 V")]);
    assert_eq!(few.results[0].key, "readings");
    assert_eq!(few.results[0].value.says(), "5.01 V, 5.02 V, 4.99 V, 5 V");
    assert!(few.results.iter().all(|one| one.key != "band"));
    assert!(few.notes[0].contains("fewer than five"), "{:?}", few.notes);
    let alike = known_good(&[("readings", "5 V; 5 V; 5 V; 5 V; 5 V; 5 V")]);
    assert!(alike.results.iter().all(|one| one.key != "band"));
    assert!(
        alike.notes[0].contains("do not differ"),
        "{:?}",
        alike.notes
    );
}

#[test]
fn a_doubtful_reading_is_told() {
    // Grubbs at 1 %: six readings, the last some 2.04 standard deviations out; the critical value is 1.973 (from memory).
    let answer = known_good(&[("readings", "0.95 V; 0.96 V; 0.94 V; 0.95 V; 0.97 V; 1.18 V")]);
    let notes = answer.notes.join("\n");
    assert!(
        notes.contains("1.18 V stands 2.03 standard deviations"),
        "{notes}"
    );
}

#[test]
fn what_makes_no_sense_is_refused_at_its_field() {
    let calculator = by_name("known-good").unwrap();
    let refused = |pairs: &[(&str, &str)]| {
        let refusals = reckon(calculator, pairs).unwrap_err();
        refusals
            .iter()
            .map(|one| one.key.unwrap_or(""))
            .collect::<Vec<_>>()
    };
    assert_eq!(refused(&[]), ["readings"]);
    assert_eq!(refused(&[("readings", "5 V; 3 ohm")]), ["readings"]);
    assert_eq!(refused(&[("readings", "5 V; x")]), ["readings"]);
    let five = "1 V; 2 V; 3 V; 4 V; 5 V";
    for part in ["50 %", "100 %", "-1", "none"] {
        assert_eq!(
            refused(&[("readings", five), ("coverage", part)]),
            ["coverage"]
        );
        assert_eq!(
            refused(&[("readings", five), ("confidence", part)]),
            ["confidence"]
        );
    }
}
