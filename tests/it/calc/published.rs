//! Published values and worked examples, row by row: `published.csv` in, the first word of which row
//! failed, with its source, out.
//!
//! `expected` is a value with its unit, `words: ` and a part of the words, or `starts: ` and the words
//! before a colon. `tolerance` is `abs` in base units or `rel`; `rel 1e-9` stands for exact, since a
//! decimal number is none of the machine's.

use super::{answer, number, words};
use loomleaf::quantity::read_any;

fn check(row: &csv::StringRecord) -> Result<(), String> {
    let (name, given, result, expected, tolerance) = (&row[1], &row[2], &row[3], &row[4], &row[5]);
    let got = answer(name, given);
    if let Some(part) = expected.strip_prefix("words: ") {
        let says = words(&got, result);
        return says.contains(part).then_some(()).ok_or(says);
    }
    if let Some(start) = expected.strip_prefix("starts: ") {
        let says = words(&got, result);
        return (says.split(':').next() == Some(start))
            .then_some(())
            .ok_or(says);
    }
    let expected = read_any(expected).map_err(|slip| slip.found)?.0.nominal;
    let got = number(&got, result).ok_or("no such number")?;
    let (kind, allowed) = tolerance.split_once(' ').ok_or("no tolerance")?;
    let allowed: f64 = allowed.parse().map_err(|_| "no tolerance")?;
    let allowed = match kind {
        "rel" => allowed * expected.abs(),
        _ => allowed,
    };
    let off = (got - expected).abs();
    // A hair for the last digits of the sum itself.
    (off <= allowed * (1.0 + 1e-9) + 1e-15)
        .then_some(())
        .ok_or(format!("{got}, off by {off}, allowed {allowed}"))
}

#[test]
fn every_published_value_is_reproduced() {
    let text = include_str!("published.csv");
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert!(rows.len() > 450, "rows got lost: {}", rows.len());
    let wrong: Vec<String> = rows
        .iter()
        .filter_map(|row| {
            let got = check(row).err()?;
            Some(format!(
                "{} {}: {} should be {} ({}), is {got}\n    source: {}; {}",
                &row[1], &row[2], &row[3], &row[4], &row[5], &row[6], &row[7]
            ))
        })
        .collect();
    assert!(
        wrong.is_empty(),
        "{} of {}:\n{}",
        wrong.len(),
        rows.len(),
        wrong.join("\n")
    );
}

/// A value that stands in no text seen here must not pass for the standard's.
#[test]
fn values_from_memory_say_that_they_are_not_confirmed() {
    let mut reader = csv::Reader::from_reader(include_str!("published.csv").as_bytes());
    let mut sizes = 0;
    for row in reader.records().map(Result::unwrap) {
        if &row[0] != "iso6722_max" {
            continue;
        }
        sizes += 1;
        let says = answer(&row[1], &row[2])
            .notes
            .join(" ")
            .contains("not confirmed");
        assert_eq!(says, row[7].contains("not confirmed"), "{}", &row[2]);
    }
    assert_eq!(sizes, 28);
    let can = answer("bus-levels", "bus=can");
    assert!(can.notes.join(" ").contains("not confirmed"));
}
