//! Recorded readings: `readings/CARD.csv` to rows, each with its place; a bad row is a finding and left out.
//!
//! In: a file's bytes. Out: [`RecordedReading`]s and findings. Never: whether the test is there or the reading
//! makes sense at it; that is the sheet's to say.

use super::{Date, Placed, RecordedReading};
use crate::finding::{Finding, Place, kinds};
use csv::{ReaderBuilder, StringRecord};
use std::collections::BTreeMap;

/// The first line of every file of readings.
pub const READINGS_HEADER: [&str; 7] = [
    "date", "vehicle", "test", "state", "reading", "meter", "note",
];

/// What stands between the fields: the comma, or the semicolon that spreadsheets write where the decimal mark is
/// a comma. None where the first line is not the header.
pub fn delimiter_of(text: &str) -> Option<u8> {
    let first = text.lines().find(|line| !line.trim().is_empty())?;
    [b',', b';'].into_iter().find(|delimiter| {
        let fields = first.split(char::from(*delimiter));
        let names = fields.map(|field| field.trim().trim_matches('"').to_lowercase());
        names.eq(READINGS_HEADER)
    })
}

/// Whether a text ends inside double quotes: a row added there would become part of a field.
pub fn ends_inside_quotes(text: &str, delimiter: u8) -> bool {
    let mut quotes = Quotes::of(char::from(delimiter));
    text.chars().for_each(|letter| quotes.pass(letter));
    quotes.open
}

/// Double quotes on the way through a text: they open at the head of a field only, and a doubled one closes and
/// opens again.
struct Quotes {
    delimiter: char,
    open: bool,
    /// A quote here would open.
    fresh: bool,
}

impl Quotes {
    /// At the head of a field.
    fn of(delimiter: char) -> Self {
        Self {
            delimiter,
            open: false,
            fresh: true,
        }
    }

    fn pass(&mut self, letter: char) {
        if letter == '"' && (self.open || self.fresh) {
            self.open = !self.open;
            self.fresh = !self.open;
        } else {
            self.fresh = !self.open && (letter == self.delimiter || is_break(letter));
        }
    }
}

fn is_break(letter: char) -> bool {
    matches!(letter, '\n' | '\r')
}

/// The rows of all files of readings by their card's id; `cards` are those there are.
pub(super) fn read_all(
    files: &BTreeMap<String, Vec<u8>>,
    cards: &[&str],
    findings: &mut Vec<Finding>,
) -> BTreeMap<String, Vec<RecordedReading>> {
    let mut all = BTreeMap::new();
    for (file, bytes) in files {
        let name = file.strip_prefix("readings/");
        let Some(id) = name.and_then(|name| name.strip_suffix(".csv")) else {
            continue;
        };
        if cards.contains(&id) {
            let rows = read_readings(file, bytes, findings);
            all.insert(id.to_owned(), rows);
        } else {
            findings.push(kinds::readings_of_no_card(file, id, cards));
        }
    }
    all
}

/// The rows of a file; an empty file has none.
fn read_readings(file: &str, bytes: &[u8], findings: &mut Vec<Finding>) -> Vec<RecordedReading> {
    let Ok(text) = std::str::from_utf8(bytes) else {
        findings.push(kinds::readings_not_utf8(file));
        return Vec::new();
    };
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return Vec::new();
    }
    let Some(delimiter) = delimiter_of(text) else {
        let mut lines = text.lines().zip(1..);
        let (first, line) = lines
            .find(|(line, _)| !line.trim().is_empty())
            .unwrap_or(("", 1));
        let place = Place {
            file: file.to_owned(),
            line,
            column: 1,
            length: first.chars().count().max(1),
        };
        findings.push(kinds::wrong_readings_header(
            &place,
            &READINGS_HEADER.join(","),
        ));
        return Vec::new();
    };
    read_rows(file, text, delimiter, findings)
}

fn read_rows(
    file: &str,
    text: &str,
    delimiter: u8,
    findings: &mut Vec<Finding>,
) -> Vec<RecordedReading> {
    let mut reader = ReaderBuilder::new()
        .delimiter(delimiter)
        .flexible(true)
        .from_reader(text.as_bytes());
    let mut scanned = Scan {
        file,
        text,
        delimiter: char::from(delimiter),
        at: 0,
        line: 1,
    };
    let mut rows = Vec::new();
    // A text in memory that is UTF-8 has no record that cannot be read.
    for record in reader.records().flatten() {
        let start = record.position().map_or(0, csv::Position::byte);
        let places = scanned.places(usize::try_from(start).unwrap_or(text.len()));
        if !record.iter().all(|field| field.trim().is_empty()) {
            rows.extend(row(&record, &places, findings));
        }
    }
    rows
}

fn row(
    record: &StringRecord,
    places: &[Place],
    findings: &mut Vec<Finding>,
) -> Option<RecordedReading> {
    let first = places.first()?;
    if record.len() != READINGS_HEADER.len() || places.len() != record.len() {
        findings.push(kinds::wrong_readings_row(
            first,
            record.len(),
            READINGS_HEADER.len(),
        ));
        return None;
    }
    let field = |at: usize| record.get(at).unwrap_or("").trim().to_owned();
    let placed = |at: usize| Placed {
        value: field(at),
        place: places[at].clone(),
    };
    let Some(date) = Date::read(&field(0)) else {
        findings.push(kinds::wrong_date(first, &field(0)));
        return None;
    };
    Some(RecordedReading {
        date,
        vehicle: field(1),
        test: placed(2),
        state: placed(3),
        reading: placed(4),
        meter: field(5),
        note: field(6),
    })
}

/// Goes through the text beside the reader, to know where each field stands.
struct Scan<'a> {
    file: &'a str,
    text: &'a str,
    delimiter: char,
    /// Bytes passed.
    at: usize,
    /// The line they end on.
    line: usize,
}

impl Scan<'_> {
    /// The places of the fields of the record that begins at or after this byte.
    fn places(&mut self, start: usize) -> Vec<Place> {
        let rest = self.text.get(start..).unwrap_or("");
        let start = start + rest.len() - rest.trim_start_matches(is_break).len();
        let passed = self.text.get(self.at..start).unwrap_or("");
        self.line += passed.matches('\n').count();
        self.at = start.min(self.text.len());
        let line_start = self.text[..self.at].rfind('\n').map_or(0, |at| at + 1);
        let mut column = 1 + self.text[line_start..self.at].chars().count();
        let mut line = self.line;
        let mut places = vec![self.place(line, column)];
        let mut quotes = Quotes::of(self.delimiter);
        for letter in self.text[self.at..].chars() {
            let quoted = quotes.open;
            quotes.pass(letter);
            column += 1;
            match letter {
                '\n' if quoted => (line, column) = (line + 1, 1),
                _ if quoted => {}
                letter if is_break(letter) => break,
                letter if letter == self.delimiter => {
                    places.push(self.place(line, column));
                    continue;
                }
                _ => {}
            }
            if let Some(last) = places.last_mut().filter(|last| last.line == line) {
                last.length = (column - last.column).max(1);
            }
        }
        places
    }

    fn place(&self, line: usize, column: usize) -> Place {
        Place {
            file: self.file.to_owned(),
            line,
            column,
            length: 1,
        }
    }
}
