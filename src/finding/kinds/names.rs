//! Findings about names: something is named that is not there, or named twice.
//!
//! In: a place, the name typed, the names there are. Out: a finding with the nearest right name.
//! Longer than most files: a flat table.

use super::super::{Finding, Place, Severity};
use super::{Kind, error, name_hint, one_of};

/// The kinds made here.
pub(super) static KINDS: &[&Kind] = &[
    &UNKNOWN_FAMILY,
    &UNKNOWN_ROLE,
    &MISSING_ROLE,
    &DOUBLED_ROLE,
    &UNKNOWN_SYSTEM,
    &UNKNOWN_CAUTION,
    &UNKNOWN_PARAMETER,
    &UNKNOWN_CHOICE,
    &UNKNOWN_PIN,
    &PIN_LEFT_OUT,
    &UNKNOWN_COVER,
    &UNKNOWN_WORD,
    &UNKNOWN_SCAN_KIND,
    &UNKNOWN_SOURCE_KIND,
];

static UNKNOWN_FAMILY: Kind = error(
    "unknown-family",
    "A family that is not there",
    "without its family a card has no circuit to solve",
    "family: position-pott",
    "family: position-pot",
);

/// A card's family is none of `known`.
pub fn unknown_family(place: &Place, typed: &str, known: &[&str]) -> Finding {
    let hint = name_hint(typed, known).unwrap_or_else(|| {
        "choose one of the families that ship, or write `families/NAME.yaml`".into()
    });
    Finding::new(
        &UNKNOWN_FAMILY,
        place,
        format!("there is no family `{typed}`"),
    )
    .hint(hint)
}

static UNKNOWN_ROLE: Kind = error(
    "unknown-role",
    "A role the family does not have",
    "the circuit does not know what this pin is joined to",
    "pins:\n  1: {role: refrence}\n  2: {role: signal}\n  3: {role: ground}\n  4: {role: reference}",
    "pins:\n  1: {role: reference}\n  2: {role: signal}\n  3: {role: ground}",
);

/// A role that is none of the family's.
pub fn unknown_role(place: &Place, typed: &str, roles: &[&str]) -> Finding {
    Finding::new(
        &UNKNOWN_ROLE,
        place,
        format!("`{typed}` is no role of this circuit"),
    )
    .hint(name_hint(typed, roles))
}

static MISSING_ROLE: Kind = error(
    "missing-role",
    "A pin the circuit needs is not on the card",
    "a lead would have nowhere to go, and readings to that pin could not be computed",
    "pins:\n  1: {role: reference}\n  2: {role: signal}",
    "pins:\n  1: {role: reference}\n  2: {role: signal}\n  3: {role: ground}",
);

/// A role of the circuit that no pin has.
pub fn missing_role(place: &Place, role: &str, circuit: &str) -> Finding {
    Finding::new(
        &MISSING_ROLE,
        place,
        format!("no pin has the role `{role}`, which {circuit} needs"),
    )
    .hint(format!("add a pin with `role: {role}`"))
}

static DOUBLED_ROLE: Kind = error(
    "doubled-role",
    "Two pins with one role",
    "a test that names the role would not say which pin to probe",
    "pins:\n  1: {role: reference}\n  2: {role: signal}\n  3: {role: ground}\n  4: {role: ground}",
    "pins:\n  1: {role: reference}\n  2: {role: signal}\n  3: {role: ground}",
);

/// A role another pin has already.
pub fn doubled_role(place: &Place, role: &str, first: &Place) -> Finding {
    Finding::new(
        &DOUBLED_ROLE,
        place,
        format!("a second pin has the role `{role}`"),
    )
    .hint("give every role to one pin only".to_owned())
    .beside(first, "the first is here")
}

static UNKNOWN_SYSTEM: Kind = error(
    "unknown-system",
    "A system the deck does not list",
    "the card would be missing from the list of its system",
    "system: engin",
    "system: engine",
);

/// A system that is none of those in `deck.yaml`.
pub fn unknown_system(place: &Place, typed: &str, systems: &[&str]) -> Finding {
    let hint = name_hint(typed, systems)
        .unwrap_or_else(|| format!("add `{typed}` under `systems` in `deck.yaml`"));
    Finding::new(
        &UNKNOWN_SYSTEM,
        place,
        format!("`{typed}` is none of the deck's systems"),
    )
    .hint(hint)
}

static UNKNOWN_CAUTION: Kind = error(
    "unknown-caution",
    "A caution that is not in the table",
    "the caution would not be shown, and someone may get hurt",
    "cautions: [hot-exhuast]",
    "cautions: [hot-exhaust]",
);

/// A caution id that is not in the table.
pub fn unknown_caution(place: &Place, typed: &str, known: &[&str]) -> Finding {
    let hint = name_hint(typed, known)
        .unwrap_or_else(|| "write a caution of your own as a whole sentence".into());
    Finding::new(
        &UNKNOWN_CAUTION,
        place,
        format!("there is no caution `{typed}`"),
    )
    .hint(hint)
}

static UNKNOWN_PARAMETER: Kind = error(
    "unknown-parameter",
    "A value the circuit does not take",
    "the value would change nothing, though the author thinks it does",
    "parameters:\n  trak: 5 kohm",
    "parameters:\n  track: 5 kohm",
);

/// A parameter (or `$name`) that the circuit does not have.
pub fn unknown_parameter(place: &Place, typed: &str, known: &[&str]) -> Finding {
    Finding::new(
        &UNKNOWN_PARAMETER,
        place,
        format!("`{typed}` is no parameter of this circuit"),
    )
    .hint(name_hint(typed.trim_start_matches('$'), known))
}

/// A value given for a parameter that is worked out from the signal points.
pub fn parameter_not_given(place: &Place, typed: &str) -> Finding {
    Finding::new(
        &UNKNOWN_PARAMETER,
        place,
        format!("`{typed}` is worked out from the signal points and can not be given"),
    )
    .hint("give the signal points under `signal` instead".to_owned())
}

static UNKNOWN_CHOICE: Kind = error(
    "unknown-choice",
    "A word that is none of the choices",
    "the circuit would not know which way it is wired",
    "parameters:\n  pull: upp",
    "parameters:\n  pull: up",
);

/// A word that is none of a parameter's choices.
pub fn unknown_choice(place: &Place, typed: &str, of: &str, choices: &[&str]) -> Finding {
    Finding::new(
        &UNKNOWN_CHOICE,
        place,
        format!("`{of}` can not be `{typed}`"),
    )
    .hint(format!("use {}", one_of(choices)))
}

static UNKNOWN_PIN: Kind = error(
    "unknown-pin",
    "The connector's rows show a pin that is not listed",
    "the drawing would show a pin that the table does not have",
    "connector: {rows: [[1, 2, 3, 4]]}",
    "connector: {rows: [[1, 2, 3]]}",
);

/// A label in the rows that is no pin of the card.
pub fn unknown_pin(place: &Place, typed: &str, pins: &[&str]) -> Finding {
    let message = format!("the rows show a pin `{typed}` that `pins` does not have");
    let near = name_hint(typed, pins).map_or_else(String::new, |near| format!("{near}; "));
    let other = format!("another circuit's pin is written `({typed})`");
    Finding::new(&UNKNOWN_PIN, place, message).hint(format!("{near}{other}"))
}

/// A label that stands in the rows twice.
pub fn doubled_seat(place: &Place, label: &str) -> Finding {
    let message = format!("pin `{label}` stands in the rows twice");
    Finding::new(&UNKNOWN_PIN, place, message).hint("show every pin once".to_owned())
}

/// A pin of the card that the rows give to another circuit.
pub fn own_pin_in_brackets(place: &Place, label: &str) -> Finding {
    let message = format!("the rows show `{label}` as another circuit's pin, and `pins` has it");
    Finding::new(&UNKNOWN_PIN, place, message).hint(format!("write `{label}` without brackets"))
}

static PIN_LEFT_OUT: Kind = Kind {
    severity: Severity::Warning,
    ..error(
        "pin-left-out",
        "A pin is missing from the connector's rows",
        "the drawing would not show where this pin is",
        "connector: {rows: [[1, 2]]}",
        "connector: {rows: [[1, 2, 3]]}",
    )
};

/// A pin of the card that the rows do not show.
pub fn pin_left_out(place: &Place, label: &str, pin: &Place) -> Finding {
    Finding::new(
        &PIN_LEFT_OUT,
        place,
        format!("the rows do not show pin `{label}`"),
    )
    .hint(format!("add `{label}` where it sits"))
    .beside(pin, "the pin is listed here")
}

static UNKNOWN_COVER: Kind = Kind {
    severity: Severity::Warning,
    ..error(
        "unknown-cover",
        "A source covers something the card does not have",
        "the page would not say where the value comes from",
        "sources:\n  - {kind: published, says: Binder 4, covers: [pinns]}",
        "sources:\n  - {kind: published, says: Binder 4, covers: [pins]}",
    )
};

/// `covers` names nothing of the card.
pub fn unknown_cover(place: &Place, typed: &str, known: &[&str]) -> Finding {
    Finding::new(
        &UNKNOWN_COVER,
        place,
        format!("`{typed}` is nothing a source can cover here"),
    )
    .hint(name_hint(typed, known))
}

static UNKNOWN_WORD: Kind = error(
    "unknown-word",
    "A word where only a few are known",
    "the connector or the test would be shown another way than it is",
    "connector: {shape: sqare}",
    "connector: {shape: rectangular}",
);

/// A word that is none of the few that `of` takes (`shape`, `plug`, ...).
pub fn unknown_word(place: &Place, typed: &str, of: &str, words: &[&str]) -> Finding {
    word_of(&UNKNOWN_WORD, place, typed, of, words)
}

fn word_of(kind: &'static Kind, place: &Place, typed: &str, of: &str, words: &[&str]) -> Finding {
    Finding::new(kind, place, format!("`{of}` can not be `{typed}`")).hint(name_hint(typed, words))
}

static UNKNOWN_SCAN_KIND: Kind = error(
    "unknown-scan-kind",
    "A scan value that is neither raw nor derived",
    "a derived value need not follow the pin, and the verdict must know",
    "scan:\n  - {name: Position, kind: rwa}",
    "scan:\n  - {name: Position, kind: raw}",
);

/// `kind` of a scan value.
pub fn unknown_scan_kind(place: &Place, typed: &str, words: &[&str]) -> Finding {
    word_of(&UNKNOWN_SCAN_KIND, place, typed, "kind", words)
}

static UNKNOWN_SOURCE_KIND: Kind = error(
    "unknown-source-kind",
    "A source of no known kind",
    "the reader must know whether a value was published, measured or is only common practice",
    "sources:\n  - {kind: publisched, says: Binder 4}",
    "sources:\n  - {kind: published, says: Binder 4}",
);

/// `kind` of a source.
pub fn unknown_source_kind(place: &Place, typed: &str, words: &[&str]) -> Finding {
    word_of(&UNKNOWN_SOURCE_KIND, place, typed, "kind", words)
}
