//! Every bad row gives the finding written in its note, and no other; good ones give none.
//!
//! A fixture in `bad_readings/` is the file of readings of one card. What a row must give stands in its note:
//! `#! kind column: words of the message or the hint`, the column where the finding points.

use super::{HEADER, Room};
use proptest::prelude::*;
use std::fs;
use std::path::Path;

/// Line, column, kind and words that a fixture expects.
fn expected(text: &str) -> Vec<(usize, usize, String, String)> {
    let mut expected = Vec::new();
    for (line, row) in text.lines().zip(1..).map(|(row, line)| (line, row)) {
        for mark in row.split("#!").skip(1) {
            let (head, words) = mark.split_once(':').unwrap();
            let (kind, column) = head.trim().split_once(' ').unwrap();
            let words = words.trim().trim_end_matches('"').to_owned();
            expected.push((line, column.parse().unwrap(), kind.to_owned(), words));
        }
    }
    expected
}

#[test]
fn every_bad_row_gives_its_finding_and_no_other() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/it/record/bad_readings");
    let mut troubles = String::new();
    let mut files = 0;
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let text = fs::read_to_string(&path).unwrap();
        let mut left = expected(&text);
        assert!(!left.is_empty(), "{} expects nothing", path.display());
        let room = Room::new();
        room.put("readings/lever.csv", &text);
        for finding in room.known().1 {
            assert_eq!(finding.place.file, "readings/lever.csv", "{finding:?}");
            let hint = finding.hint.as_deref().unwrap_or("");
            let answers = |(line, column, kind, words): &(usize, usize, String, String)| {
                (finding.place.line, finding.place.column) == (*line, *column)
                    && finding.kind.code == kind
                    && (finding.message.contains(words) || hint.contains(words))
            };
            match left.iter().position(answers) {
                Some(at) => drop(left.remove(at)),
                None => troubles += &format!("nobody expected {finding:?}\n"),
            }
        }
        for missing in left {
            troubles += &format!("never came {missing:?}\n");
        }
        files += 1;
    }
    assert!(troubles.is_empty(), "\n{troubles}");
    assert!(files >= 3);
}

#[test]
fn files_as_spreadsheets_save_them_are_read_alike() {
    let rows = "2026-11-25,shuttle 3,supply,,5.01 V,,\"one, two\"\n";
    let plain = format!("{HEADER}{rows}");
    let crlf = plain.replace('\n', "\r\n");
    let marked = format!("\u{feff}{plain}");
    let semicolons = plain
        .replace(',', ";")
        .replace("5.01 V", "5,01 V")
        .replace("one; two", "one, two");
    let blank = format!("{HEADER}\n{rows},,,,,,\n\n");
    let unended = plain.trim_end().to_owned();
    let capitals = plain.replacen("date,vehicle", "Date, Vehicle", 1);
    for text in [plain, crlf, marked, semicolons, blank, unended, capitals] {
        let room = Room::new();
        room.put("readings/lever.csv", &text);
        let (known, findings) = room.known();
        assert!(findings.is_empty(), "{text}: {findings:?}");
        let [known] = &known[..] else {
            panic!("{text}: {known:?}")
        };
        assert_eq!((known.place.as_str(), known.readings.len()), ("supply", 1));
        assert_eq!(known.readings[0].number, Some(5.01));
    }
}

#[test]
fn an_empty_file_says_nothing_and_a_file_of_no_card_is_told() {
    let room = Room::new();
    room.put("readings/lever.csv", "");
    let (known, findings) = room.known();
    assert!(findings.is_empty() && known.is_empty());
    room.put("readings/levr.csv", HEADER);
    let findings = room.known().1;
    assert_eq!(findings[0].kind.code, "readings-of-no-card");
    assert_eq!(
        findings[0].hint.as_deref(),
        Some("did you mean `readings/lever.csv`")
    );
    fs::write(room.path("readings/levr.csv"), b"caf\xe9").unwrap();
    assert_eq!(room.known().1[0].kind.code, "readings-of-no-card");
    fs::write(room.path("readings/lever.csv"), b"caf\xe9").unwrap();
    let codes: Vec<&str> = room.known().1.iter().map(|one| one.kind.code).collect();
    assert!(codes.contains(&"readings-not-utf8"), "{codes:?}");
}

/// Readings of a card with errors wait for it: they are no findings of their own.
#[test]
fn readings_of_a_card_with_errors_are_not_to_blame() {
    let room = Room::with("2026-11-25,shuttle 3,supply,,5.01 V,,\n");
    room.put(
        "cards/lever.yaml",
        "title: Winch lever\nfamily: position-pod\n",
    );
    let (status, _, err) = room.run("inspect", &[]);
    assert_eq!(status, 1);
    assert!(!err.contains("readings/"), "{err}");
}

/// Whatever stands in a file of readings, it is read to an end, and each row is used or told.
#[test]
fn hostile_files_are_read_to_an_end() {
    for text in [
        "\"",
        "\"\"\"\n\"",
        "date,vehicle,test,state,reading,meter,note",
        "date;vehicle;test;state;reading;meter;note\n;;;;;;\n\"",
        "\n\n\n",
        "\u{feff}",
        "\0\0\0",
        ",,,,,,\n,,,,,,",
    ] {
        let room = Room::new();
        room.put("readings/lever.csv", text);
        assert!(room.known().0.is_empty());
    }
    let long = "x".repeat(100_000);
    let room = Room::with(&format!("2026-11-25,{long},supply,{long},5 V,,\n"));
    assert_eq!(room.known().1[0].kind.code, "unknown-state-of-reading");
    let room = Room::with(&"2026-11-25,\"a\nb\",supply,,5.0 V,,\n".repeat(5_000));
    let (known, findings) = room.known();
    assert!(findings.is_empty());
    assert_eq!(known[0].readings.len(), 5_000);
}

/// A quote inside a field is a letter like any other (RFC 4180 knows quotes at a field's head only): inches in a
/// vehicle's name hide no row.
#[test]
fn a_quote_inside_a_field_hides_nothing() {
    let room =
        Room::with("2026-11-25,rig 5\"\" bore,supply,,5.01 V,,3\"\n2026-11-25,b,nope,,5 V,,\n");
    let (known, findings) = room.known();
    assert_eq!(known[0].readings[0].vehicle, "rig 5\"\" bore");
    assert_eq!(findings.len(), 1, "{findings:?}");
    assert_eq!((findings[0].place.line, findings[0].place.column), (3, 14));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]
    /// Whatever stands before a field, quoted or not, the finding points at the field.
    #[test]
    fn a_finding_points_at_its_field(vehicles in prop::collection::vec("[ a\",;\n\r'ü]{0,8}", 1..6), comma in any::<bool>()) {
        let delimiter = if comma { b',' } else { b';' };
        let mut writer = csv::WriterBuilder::new().delimiter(delimiter).from_writer(Vec::new());
        writer.write_record(HEADER.trim_end().split(',')).unwrap();
        for vehicle in &vehicles {
            writer.write_record(["2026-11-25", vehicle, "nope", "", "5 V", "", ""]).unwrap();
        }
        let text = String::from_utf8(writer.into_inner().unwrap()).unwrap();
        let room = Room::new();
        room.put("readings/lever.csv", &text);
        let findings = room.known().1;
        prop_assert_eq!(findings.len(), vehicles.len());
        for finding in findings {
            prop_assert_eq!(finding.kind.code, "unknown-test-of-reading");
            let line = text.split('\n').nth(finding.place.line - 1).unwrap();
            let rest: String = line.chars().skip(finding.place.column - 1).collect();
            prop_assert!(rest.starts_with("nope"), "{} in {text:?}", rest);
            prop_assert_eq!(finding.place.length, 4);
        }
    }
}
