//! Findings about recorded readings: rows that can't be read, and readings that no good circuit gives.
//!
//! In: a place and the author's own text. Out: a finding. None stops publishing: a row with one is shown as left
//! out, or is not used.

use super::super::{Finding, Place, Severity, nearest};
use super::{Kind, name_hint};

/// The kinds made here.
pub(super) static KINDS: &[&Kind] = &[
    &READINGS_OF_NO_CARD,
    &READINGS_NOT_UTF8,
    &WRONG_READINGS_HEADER,
    &WRONG_READINGS_ROW,
    &WRONG_DATE,
    &UNKNOWN_TEST_OF_READING,
    &UNKNOWN_STATE_OF_READING,
    &MISREAD_READING,
    &READING_OUT_OF_BAND,
    &DOUBTFUL_READING,
];

const READINGS: &str = "readings/example.csv";

const fn warning(
    code: &'static str,
    title: &'static str,
    why: &'static str,
    wrong: &'static str,
    right: &'static str,
) -> Kind {
    Kind {
        code,
        severity: Severity::Warning,
        title,
        why,
        file: READINGS,
        wrong,
        right,
    }
}

static READINGS_OF_NO_CARD: Kind = Kind {
    code: "readings-of-no-card",
    severity: Severity::Warning,
    title: "Readings for a card that is not there",
    why: "nobody would ever see them",
    file: "readings/exampel.csv",
    wrong: "date,vehicle,test,state,reading,meter,note",
    right: "date,vehicle,test,state,reading,meter,note",
};

/// A file of readings whose name is no card's.
pub fn readings_of_no_card(file: &str, id: &str, cards: &[&str]) -> Finding {
    let near = nearest(id, cards.iter().copied());
    let hint = near.map_or_else(
        || "name the file after the card's: `readings/CARD.csv`".to_owned(),
        |card| format!("did you mean `readings/{card}.csv`"),
    );
    Finding::new(
        &READINGS_OF_NO_CARD,
        &Place::whole_file(file),
        format!("there is no card `{id}`"),
    )
    .hint(hint)
}

static READINGS_NOT_UTF8: Kind = warning(
    "readings-not-utf8",
    "Readings in an unknown encoding",
    "letters beyond plain ones would be read as others, so none of its rows is used",
    "date,vehicle,test,state,reading,meter,note\n2026-11-25,shuttle 3,supply,,5.01 V,,caf\u{fffd}",
    "date,vehicle,test,state,reading,meter,note\n2026-11-25,shuttle 3,supply,,5.01 V,,café",
);

/// A file of readings that is not UTF-8.
pub fn readings_not_utf8(file: &str) -> Finding {
    Finding::new(
        &READINGS_NOT_UTF8,
        &Place::whole_file(file),
        "the file is not UTF-8 text".into(),
    )
    .hint("save it from the spreadsheet as \u{201c}CSV UTF-8\u{201d}".to_owned())
}

static WRONG_READINGS_HEADER: Kind = warning(
    "wrong-readings-header",
    "A file of readings without its first line",
    "which column is which is not known, so none of its rows is used",
    "date,van,test,state,reading,meter,note",
    "date,vehicle,test,state,reading,meter,note",
);

/// The first line is not `header`.
pub fn wrong_readings_header(place: &Place, header: &str) -> Finding {
    Finding::new(
        &WRONG_READINGS_HEADER,
        place,
        "the first line does not name the columns of readings".into(),
    )
    .hint(format!("begin the file with `{header}`"))
}

static WRONG_READINGS_ROW: Kind = warning(
    "wrong-readings-row",
    "A row with too few or too many fields",
    "a reading might stand in the wrong column, so the row is not used",
    "date,vehicle,test,state,reading,meter,note\n2026-11-25,shuttle 3,supply,,5,01 V,,",
    "date,vehicle,test,state,reading,meter,note\n2026-11-25,shuttle 3,supply,,\"5,01 V\",,",
);

/// A row of `found` fields where `expected` belong.
pub fn wrong_readings_row(place: &Place, found: usize, expected: usize) -> Finding {
    let hint = if found > expected {
        "put a text that holds a comma in double quotes"
    } else {
        "write a comma for each field that stays empty"
    };
    let fields = if found == 1 { "field" } else { "fields" };
    Finding::new(
        &WRONG_READINGS_ROW,
        place,
        format!("expected {expected} fields, found {found} {fields}"),
    )
    .hint(hint.to_owned())
}

static WRONG_DATE: Kind = warning(
    "wrong-date",
    "A date that is none",
    "which readings are old is not known, so the row is not used",
    "date,vehicle,test,state,reading,meter,note\n25.11.2026,shuttle 3,supply,,5.01 V,,",
    "date,vehicle,test,state,reading,meter,note\n2026-11-25,shuttle 3,supply,,5.01 V,,",
);

/// Not a day as ISO 8601 writes it.
pub fn wrong_date(place: &Place, typed: &str) -> Finding {
    Finding::new(
        &WRONG_DATE,
        place,
        format!("expected a day such as `2026-11-25`, found `{typed}`"),
    )
    .hint("write the year, the month and the day: `2026-11-25`".to_owned())
}

static UNKNOWN_TEST_OF_READING: Kind = warning(
    "unknown-test-of-reading",
    "A reading of a test the card does not have",
    "what it should have read is not known, so it is not used",
    "date,vehicle,test,state,reading,meter,note\n2026-11-25,shuttle 3,suply,,5.01 V,,",
    "date,vehicle,test,state,reading,meter,note\n2026-11-25,shuttle 3,supply,,5.01 V,,",
);

/// A test that the card does not have; `tests` are those it has.
pub fn unknown_test_of_reading(place: &Place, typed: &str, tests: &[&str]) -> Finding {
    Finding::new(
        &UNKNOWN_TEST_OF_READING,
        place,
        format!("no test of the card is named `{typed}`"),
    )
    .hint(name_hint(typed, tests))
}

static UNKNOWN_STATE_OF_READING: Kind = warning(
    "unknown-state-of-reading",
    "A reading in no state of the part that the test knows",
    "the same test reads another value in each state, so the reading is not used",
    "date,vehicle,test,state,reading,meter,note\n2026-11-25,shuttle 3,at-rest,,0.95 V,,",
    "date,vehicle,test,state,reading,meter,note\n2026-11-25,shuttle 3,at-rest,valve closed,0.95 V,,",
);

/// `states` are those the test is read in; empty where it is read in one.
pub fn unknown_state_of_reading(
    place: &Place,
    test: &str,
    typed: &str,
    states: &[&str],
) -> Finding {
    let message = match (typed, states) {
        ("", _) => format!("`{test}` is read in several states of the part, and none is given"),
        (_, []) => format!("`{test}` reads the same in every state, so `{typed}` says nothing"),
        _ => format!("`{test}` is not read in the state `{typed}`"),
    };
    let hint = match states {
        [] => Some("leave the state empty".to_owned()),
        states => name_hint(typed, states),
    };
    Finding::new(&UNKNOWN_STATE_OF_READING, place, message).hint(hint)
}

static MISREAD_READING: Kind = warning(
    "misread-reading",
    "A reading that cannot be read",
    "a guess at its unit would be a guess at the circuit, so it is not used",
    "date,vehicle,test,state,reading,meter,note\n2026-11-25,shuttle 3,supply,,5.01,,",
    "date,vehicle,test,state,reading,meter,note\n2026-11-25,shuttle 3,supply,,5.01 V,,",
);

/// A reading without its unit, in a unit of another test, or none; `example` is one that can be read.
pub fn misread_reading(place: &Place, says: &str, example: &str) -> Finding {
    Finding::new(&MISREAD_READING, place, says.to_owned()).hint(format!("write it as `{example}`"))
}

static READING_OUT_OF_BAND: Kind = warning(
    "reading-out-of-band",
    "A known-good reading that no good circuit gives",
    "either the circuit was not good or the card is wrong; the reading is left out of the known-good band",
    "date,vehicle,test,state,reading,meter,note\n2026-11-25,shuttle 3,supply,,6.01 V,,",
    "date,vehicle,test,state,reading,meter,note\n2026-11-25,shuttle 3,supply,,5.01 V,,",
);

/// The computed band is `band`.
pub fn reading_out_of_band(place: &Place, typed: &str, band: &str) -> Finding {
    Finding::new(
        &READING_OUT_OF_BAND,
        place,
        format!("`{typed}` is outside the computed band, {band}"),
    )
    .hint("check the vehicle, the row and the card, in this order".to_owned())
}

static DOUBTFUL_READING: Kind = warning(
    "doubtful-reading",
    "A reading that stands far from the others",
    "one slip widens the band of all; the reading is left out of the known-good band",
    "date,vehicle,test,state,reading,meter,note
2026-11-25,shuttle 1,at-rest,valve closed,0.95 V,,
2026-11-25,shuttle 2,at-rest,valve closed,0.96 V,,
2026-11-25,shuttle 3,at-rest,valve closed,0.94 V,,
2026-11-25,shuttle 4,at-rest,valve closed,0.95 V,,
2026-11-25,shuttle 5,at-rest,valve closed,0.97 V,,
2026-11-25,shuttle 6,at-rest,valve closed,1.18 V,,",
    "date,vehicle,test,state,reading,meter,note
2026-11-25,shuttle 1,at-rest,valve closed,0.95 V,,
2026-11-25,shuttle 2,at-rest,valve closed,0.96 V,,
2026-11-25,shuttle 3,at-rest,valve closed,0.94 V,,
2026-11-25,shuttle 4,at-rest,valve closed,0.95 V,,
2026-11-25,shuttle 5,at-rest,valve closed,0.97 V,,
2026-11-25,shuttle 6,at-rest,valve closed,0.98 V,,",
);

/// Grubbs' test at 1 % speaks against it; the mean of all `count` readings is `mean`.
pub fn doubtful_reading(place: &Place, typed: &str, count: usize, mean: &str) -> Finding {
    Finding::new(
        &DOUBTFUL_READING,
        place,
        format!(
            "`{typed}` stands too far from the other readings: {count} of them have the mean {mean} (Grubbs' test, 1 %)"
        ),
    )
    .hint("read it again on that vehicle; if it was a slip, correct the row".to_owned())
}
