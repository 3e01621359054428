//! Findings about the trade's own words: codes, colours, pins, signal points, titles.
//!
//! In: a place and the author's own text. Out: a finding.

use super::super::{Finding, Place, Severity};
use super::{CARD, Kind};

/// The kinds made here.
pub(super) static KINDS: &[&Kind] = &[
    &NO_CODE,
    &CODE_SPELLING,
    &DOUBLED_CODE,
    &UNKNOWN_COLOUR,
    &DOUBLED_PIN,
    &DOUBLED_SIGNAL_POINT,
    &NO_SIGNAL_POINTS,
    &TWO_CIRCUITS,
    &DOUBLED_NAME,
];

static NO_CODE: Kind = Kind {
    code: "no-code",
    severity: Severity::Error,
    title: "A trouble code that is none",
    why: "nobody who reads the code off a scan tool would find the card",
    file: CARD,
    wrong: "codes: [P9405]",
    right: "codes: [P0405]",
};

/// Not the shape of SAE J2012: one of P, C, B, U, a digit 0 to 3, three hexadecimal digits.
pub fn no_code(place: &Place, typed: &str) -> Finding {
    Finding::new(&NO_CODE, place, format!("`{typed}` is no trouble code")).hint(
        "write P, C, B or U, a digit 0 to 3, then three digits 0 to 9 or A to F, such as `P0405`"
            .to_owned(),
    )
}

static CODE_SPELLING: Kind = Kind {
    code: "code-spelling",
    severity: Severity::Warning,
    title: "A trouble code spelled another way than tools show it",
    why: "people search for the code as their tool shows it",
    file: CARD,
    wrong: "codes: [p 0405]",
    right: "codes: [P0405]",
};

/// Plainly a code, but spelled another way; read as `meant`.
pub fn code_spelling(place: &Place, typed: &str, meant: &str) -> Finding {
    Finding::new(
        &CODE_SPELLING,
        place,
        format!("`{typed}` is read as `{meant}`"),
    )
    .hint(format!("write `{meant}`"))
}

static DOUBLED_CODE: Kind = Kind {
    code: "doubled-code",
    severity: Severity::Warning,
    title: "A trouble code listed twice",
    why: "the second says nothing; perhaps another code was meant",
    file: CARD,
    wrong: "codes: [P0405, P0405]",
    right: "codes: [P0405, P0406]",
};

/// A code that stands earlier in the card.
pub fn doubled_code(place: &Place, code: &str, first: &Place) -> Finding {
    Finding::new(&DOUBLED_CODE, place, format!("`{code}` is listed already"))
        .hint("remove it, or write the code that was meant".to_owned())
        .beside(first, "the first is here")
}

static UNKNOWN_COLOUR: Kind = Kind {
    code: "unknown-colour",
    severity: Severity::Error,
    title: "A wire colour in letters that IEC 60757 does not have",
    why: "the technician would look for a wire of another colour",
    file: CARD,
    wrong: "pins:\n  1: {role: reference, wire: GR}\n  2: {role: signal}\n  3: {role: ground}",
    right: "pins:\n  1: {role: reference, wire: GY}\n  2: {role: signal}\n  3: {role: ground}",
};

/// Letters that are no colours of IEC 60757; `meant` where it is known.
pub fn unknown_colour(place: &Place, typed: &str, meant: Option<&str>) -> Finding {
    let hint = meant.map_or_else(
        || {
            "use BK BN RD OG YE GN BU VT GY WH PK GD TQ SR, one after the other for more colours"
                .to_owned()
        },
        |meant| format!("did you mean `{meant}`"),
    );
    Finding::new(
        &UNKNOWN_COLOUR,
        place,
        format!("`{typed}` is no wire colour in IEC 60757 letters"),
    )
    .hint(hint)
}

static DOUBLED_PIN: Kind = Kind {
    code: "doubled-pin",
    severity: Severity::Error,
    title: "Two pins with one label",
    why: "the technician would not know which of the two to probe",
    file: CARD,
    wrong: "pins:\n  1: {role: reference}\n  1: {role: signal}\n  3: {role: ground}",
    right: "pins:\n  1: {role: reference}\n  2: {role: signal}\n  3: {role: ground}",
};

/// A pin label that stands above already.
pub fn doubled_pin(place: &Place, label: &str, first: &Place) -> Finding {
    Finding::new(
        &DOUBLED_PIN,
        place,
        format!("a second pin is labelled `{label}`"),
    )
    .hint("give every pin the label printed on the connector".to_owned())
    .beside(first, "the first is here")
}

static DOUBLED_SIGNAL_POINT: Kind = Kind {
    code: "doubled-signal-point",
    severity: Severity::Error,
    title: "A signal point given twice",
    why: "the page would show two bands for one position of the part",
    file: CARD,
    wrong: "signal:\n  - {at: valve closed, reads: 0.7 to 1.2 V}\n  - {at: valve closed, reads: 3.9 to 4.5 V}",
    right: "signal:\n  - {at: valve closed, reads: 0.7 to 1.2 V}\n  - {at: valve open, reads: 3.9 to 4.5 V}",
};

/// A signal point with the name of an earlier one.
pub fn doubled_signal_point(place: &Place, at: &str, first: &Place) -> Finding {
    Finding::new(
        &DOUBLED_SIGNAL_POINT,
        place,
        format!("the signal point `{at}` stands above already"),
    )
    .hint("give every point a name of its own".to_owned())
    .beside(first, "the first is here")
}

static NO_SIGNAL_POINTS: Kind = Kind {
    code: "no-signal-points",
    severity: Severity::Error,
    title: "The circuit follows the signal, and no signal is given",
    why: "without what it should read, no reading can be called good",
    file: CARD,
    wrong: "signal: []",
    right: "signal:\n  - {at: valve closed, reads: 0.7 to 1.2 V}",
};

/// No signal point, on the card or in its family, where a parameter follows the signal.
pub fn no_signal_points(place: &Place, parameter: &str) -> Finding {
    Finding::new(
        &NO_SIGNAL_POINTS,
        place,
        format!("there are no signal points, from which `{parameter}` is worked out"),
    )
    .hint(
        "write under `signal` what it reads where: `- {at: valve closed, reads: 0.7 to 1.2 V}`"
            .to_owned(),
    )
}

static TWO_CIRCUITS: Kind = Kind {
    code: "two-circuits",
    severity: Severity::Error,
    title: "A family and a circuit of its own",
    why: "the readings can come from one circuit only",
    file: CARD,
    wrong: "circuit:\n  roles: [reference, signal, ground]\n  part:\n    - {resistor: 5 kohm, between: [reference, ground]}",
    right: "family: position-pot",
};

/// A card with both `family` and `circuit`.
pub fn two_circuits(place: &Place, family: &Place) -> Finding {
    Finding::new(
        &TWO_CIRCUITS,
        place,
        "the card has a `family` and a `circuit`".into(),
    )
    .hint("keep one of the two".to_owned())
    .beside(family, "the family is named here")
}

static DOUBLED_NAME: Kind = Kind {
    code: "doubled-name",
    severity: Severity::Error,
    title: "Two elements with one name",
    why: "a fault would not say which of the two it means",
    file: super::FAMILY,
    wrong: "part:\n  - {resistor: 5 kohm, name: track, between: [reference, ground]}\n  - {resistor: 1 kohm, name: track, between: [signal, ground]}",
    right: "part:\n  - {resistor: 5 kohm, name: track, between: [reference, ground]}\n  - {resistor: 1 kohm, name: load, between: [signal, ground]}",
};

/// An element with the name of an earlier one.
pub fn doubled_name(place: &Place, name: &str, first: &Place) -> Finding {
    Finding::new(
        &DOUBLED_NAME,
        place,
        format!("a second element is called `{name}`"),
    )
    .hint("add `name: ` and a name of its own".to_owned())
    .beside(first, "the first is here")
}
