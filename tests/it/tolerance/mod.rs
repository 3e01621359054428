//! Tolerance factors: readings or a count in, factors out, held against published tables and other packages.

use loomleaf::calc::outlier::farthest;
use loomleaf::calc::tolerance::{
    Claim, MOST, USUAL, fewest_for_both_extremes, fewest_for_one_extreme, guenther, howe, natrella,
    one_sided, spread, two_sided,
};
use std::collections::BTreeMap;

mod calculator;
mod laws;

fn claim(confidence: f64, coverage: f64) -> Claim {
    Claim::new(confidence, coverage).unwrap()
}

/// `n=2;confidence=0.95` by name.
fn named(cell: &str) -> BTreeMap<String, f64> {
    let pair = |pair: &str| {
        let (name, number) = pair.split_once('=')?;
        Some((name.to_owned(), number.parse().ok()?))
    };
    cell.split(';').filter_map(pair).collect()
}

/// What the row's column names; none for a column that is worked out from another.
fn worked_out(column: &str, n: usize, claim: Claim) -> Option<f64> {
    match column {
        "k2_exact" | "k2" => two_sided(n, claim),
        "k1_exact" => one_sided(n, claim),
        "k2_howe" => howe(n, claim),
        "k1_natrella" => natrella(n, claim),
        "n_min_one_sided" => Some(f64::from(fewest_for_one_extreme(claim))),
        "n_min_two_sided_minmax" => Some(f64::from(fewest_for_both_extremes(claim))),
        _ => None,
    }
}

/// Every row of the table, each with the source its last columns name; `tolerance_example`'s bounds have a
/// test of their own.
#[test]
fn factors_agree_with_the_published_and_the_independently_computed() {
    let table = include_str!("published.csv");
    let mut checked = BTreeMap::new();
    for row in csv::Reader::from_reader(table.as_bytes()).records() {
        let row = row.unwrap();
        let (given, wanted) = (named(&row[1]), named(&row[2]));
        let claim = claim(given["confidence"], given["coverage"]);
        let n = given.get("n").map_or(2, |n| *n as usize);
        // Exact factors to the 4 decimals their table has, whatever more its row allows.
        let within = match &row[3] {
            "abs 2e-4" => 0.5e-4 + 1e-6,
            "abs 0.006" => 0.006,
            "abs 1e-4" => 1e-4,
            "exact" => 0.0,
            other => panic!("unknown tolerance {other}"),
        };
        for (column, wanted) in &wanted {
            if column.starts_with("one_sided") {
                continue;
            }
            let found = worked_out(column, n, claim).unwrap();
            let source = format!("{} ({})", &row[4], &row[5]);
            assert!(
                (found - wanted).abs() <= within,
                "{column} of {}: {found}, published {wanted}: {source}",
                &row[1]
            );
            *checked.entry(row[0].to_owned()).or_insert(0) += 1;
        }
    }
    let counts: Vec<(&str, i32)> = checked.iter().map(|(k, v)| (k.as_str(), *v)).collect();
    assert_eq!(
        counts,
        [
            ("tolerance_example", 2),
            ("tolerance_factor", 56),
            ("tolerance_factor_howe", 26),
            ("tolerance_nist", 2),
            ("tolerance_nonparametric", 2),
            ("tolerance_printed", 14),
        ]
    );
}

/// NIST/SEMATECH e-Handbook 7.2.6.3, 43 readings, 99 % confidence, 90 % coverage: the handbook prints Howe's and
/// Natrella's approximations (2.217, 1.8752); the exact factors (scipy 1.17.1) are 2.2228 and 1.8740.
#[test]
fn the_handbook_of_43_readings_is_reproduced_both_ways_each_with_its_name() {
    let claim = claim(0.99, 0.90);
    let near = |found: Option<f64>, wanted: f64, within: f64| {
        let found = found.unwrap();
        assert!((found - wanted).abs() < within, "{found}, not {wanted}");
    };
    near(howe(43, claim), 2.217_315_9, 1e-6);
    near(natrella(43, claim), 1.875_189_6, 1e-6);
    near(guenther(43, claim), 2.2220, 1e-4);
    near(two_sided(43, claim), 2.2228, 1e-4);
    near(one_sided(43, claim), 1.8740, 1e-4);
    // The worked sheet to that page: mean 97.07, s 0.0268.
    let (mean, s) = (97.07, 0.0268);
    let k = howe(43, claim).unwrap();
    near(Some(mean - k * s), 97.0106, 1e-4);
    near(Some(mean + k * s), 97.1294, 1e-4);
    let k = natrella(43, claim);
    near(k.map(|k| mean + k * s), 97.1203, 1e-4);
    near(k.map(|k| mean - k * s), 97.0197, 1e-4);
}

/// A stored statistics tutorial: n = 40, mean 10, s 0.2, 99 %/90 %. It uses Howe with Guenther's correction,
/// 9.5496 to 10.4504, and Natrella's 1.9034, for which it prints 10.3917: the sum is 10.3807.
#[test]
fn the_tutorial_of_40_readings_is_reproduced_and_its_misprint_is_not() {
    let claim = claim(0.99, 0.90);
    let k = guenther(40, claim).unwrap();
    assert!((10.0 - k * 0.2 - 9.5496).abs() < 1e-4, "{k}");
    assert!((10.0 + k * 0.2 - 10.4504).abs() < 1e-4, "{k}");
    let exact = two_sided(40, claim).unwrap();
    assert!((10.0 - exact * 0.2 - 9.5494).abs() < 1e-4, "{exact}");
    let upper = 10.0 + 0.2 * natrella(40, claim).unwrap();
    assert!((upper - 10.3807).abs() < 1e-4, "{upper}");
    assert!((upper - 10.3917).abs() > 0.01, "{upper}");
}

/// Tables of the 1940s, still reprinted, give 3.379, 2.752 and 2.549 at 95 %/95 % (from memory). They differ from the
/// definition; a later textbook (Statistics for Environmental Engineers, Table 21.1: 3.39, 2.76, 2.55) agrees with it.
#[test]
fn old_printed_tables_differ_and_the_exact_stands() {
    for (n, old, exact, textbook) in [
        (10, 3.379, 3.3934, 3.39),
        (20, 2.752, 2.7603, 2.76),
        (30, 2.549, 2.5549, 2.55),
    ] {
        let found = two_sided(n, USUAL).unwrap();
        assert!((found - exact).abs() < 1e-4, "{n}: {found}");
        assert!((found - textbook).abs() < 0.006, "{n}: {found}");
        assert!(found - old > 0.005, "{n}: {found} is the old table's {old}");
    }
}

/// Grubbs, NIST/SEMATECH e-Handbook 1.3.5.17.1 (from memory): eight readings of a mass spectrometer, G = 2.4687,
/// critical value 2.032 at 5 % for the largest alone.
#[test]
fn the_doubtful_reading_of_the_handbook_is_found() {
    let readings = [
        199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57,
    ];
    let far = farthest(&readings).unwrap();
    assert_eq!(far.at, 7);
    assert!((far.deviations - 2.4687).abs() < 1e-4);
    assert!(far.chance < 1e-5, "{}", far.chance);
}

/// Two-sided critical values of Grubbs' test at 1 % and 5 % as printed tables have them (from memory), to their
/// three decimals: at the printed value the chance is the table's.
#[test]
fn chances_agree_with_printed_critical_values() {
    for (n, critical, significance) in [
        (5, 1.764, 0.01),
        (10, 2.482, 0.01),
        (20, 3.001, 0.01),
        (8, 2.126, 0.05),
        (10, 2.290, 0.05),
    ] {
        let far = farthest(&with_deviations(n, critical)).unwrap();
        assert!((far.deviations - critical).abs() < 1e-9);
        let off = (far.chance / significance - 1.0).abs();
        assert!(off < 0.02, "{n} at {critical}: {}", far.chance);
    }
}

/// So many readings of which the last stands `g` standard deviations out: the others are half at -1 and half at 1
/// (and one at 0 where their number is odd).
fn with_deviations(n: usize, g: f64) -> Vec<f64> {
    let pairs = (n - 1) / 2;
    let mut readings: Vec<f64> = (0..pairs).flat_map(|_| [-1.0, 1.0]).collect();
    readings.resize(n - 1, 0.0);
    let with = |far: f64| {
        let mut all = readings.clone();
        all.push(far);
        all
    };
    let (mut low, mut high) = (1.0, 1e6);
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        let found = farthest(&with(middle)).unwrap();
        if found.at == n - 1 && found.deviations > g {
            high = middle;
        } else {
            low = middle;
        }
    }
    with(high)
}

#[test]
fn nothing_is_answered_outside_the_range() {
    for n in [0, 1, MOST + 1] {
        assert_eq!(two_sided(n, USUAL), None);
        assert_eq!(one_sided(n, USUAL), None);
        assert_eq!(howe(n, USUAL), None);
        assert_eq!(guenther(n, USUAL), None);
        assert_eq!(natrella(n, USUAL), None);
    }
    // Two readings at 95 %: Natrella's `a` is 1 - 1.645^2 / 2 < 0.
    assert_eq!(natrella(2, USUAL), None);
    for part in [f64::NAN, -1.0, 0.0, 0.5, 0.999_99, 1.0, f64::INFINITY] {
        assert_eq!(Claim::new(part, 0.95), None, "{part}");
        assert_eq!(Claim::new(0.95, part), None, "{part}");
    }
    assert_eq!(spread(&[]), None);
    assert_eq!(spread(&[f64::NAN, 1.0]), None);
    assert_eq!(spread(&[f64::MAX, -f64::MAX]), None);
    assert_eq!(spread(&[5.0]).unwrap().deviation.to_bits(), 0);
    assert_eq!(farthest(&[1.0, 2.0]), None);
    assert_eq!(farthest(&[1.0, 1.0, 1.0, 1.0]), None);
    assert_eq!(farthest(&[1.0, 1.0, 1.0, 2.0]).unwrap().chance.to_bits(), 0);
}
