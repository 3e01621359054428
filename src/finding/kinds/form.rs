//! Findings about form: text that is no YAML, keys, shapes, quantities.
//!
//! In: a place and the author's own text. Out: a finding. Longer than most files: a flat table.

use super::super::{Finding, Place, Severity};
use super::{CARD, Kind, name_hint, one_of};

/// The kinds made here.
pub(super) static KINDS: &[&Kind] = &[
    &UNREADABLE_YAML,
    &NOT_UTF8,
    &EMPTY_FILE,
    &TOO_LARGE,
    &UNKNOWN_KEY,
    &DOUBLED_KEY,
    &MISSING_KEY,
    &WRONG_SHAPE,
    &SPLIT_BY_COMMA,
    &MISREAD_QUANTITY,
    &BAND_UPSIDE_DOWN,
];

static UNREADABLE_YAML: Kind = Kind {
    code: "unreadable-yaml",
    severity: Severity::Error,
    title: "The text is not YAML",
    why: "nothing of the file can be shown until its text can be read",
    file: CARD,
    wrong: "title: EGR valve: position sensor",
    right: "title: \"EGR valve: position sensor\"",
};

/// The text is no YAML; `cause` is the parser's own word for it.
pub fn unreadable_yaml(place: &Place, cause: &str, hint: Option<String>) -> Finding {
    Finding::new(
        &UNREADABLE_YAML,
        place,
        format!("cannot be read as YAML: {cause}"),
    )
    .hint(hint)
}

static NOT_UTF8: Kind = Kind {
    code: "not-utf8",
    severity: Severity::Error,
    title: "The file is not saved as UTF-8",
    why: "letters such as ± and Ω would turn into others, and numbers with them",
    file: CARD,
    wrong: "title: Caf\u{fffd} boiler sensor",
    right: "title: Café boiler sensor",
};

/// Bytes that are no UTF-8.
pub fn not_utf8(place: &Place) -> Finding {
    Finding::new(
        &NOT_UTF8,
        place,
        "holds bytes that are not UTF-8 text".into(),
    )
    .hint("save the file with the encoding UTF-8".to_owned())
}

static EMPTY_FILE: Kind = Kind {
    code: "empty-file",
    severity: Severity::Error,
    title: "The file is empty",
    why: "an empty card would be a page without a word on it",
    file: CARD,
    wrong: "",
    right: "title: Throttle position sensor",
};

/// Nothing in the file but perhaps comments; `starts` is a line to begin with.
pub fn empty_file(place: &Place, starts: &str) -> Finding {
    Finding::new(&EMPTY_FILE, place, "there is nothing in this file".into())
        .hint(format!("begin with `{starts}`, or remove the file"))
}

static TOO_LARGE: Kind = Kind {
    code: "too-large",
    severity: Severity::Error,
    title: "The file is larger than any card",
    why: "a file of this size is something else that went astray into the deck",
    file: CARD,
    wrong: "notes: [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]",
    right: "notes: Check the harness first.",
};

/// More than is read: bytes, depth, entries or repeats.
pub fn too_large(place: &Place, what: &str) -> Finding {
    Finding::new(&TOO_LARGE, place, format!("{what}, more than is read"))
        .hint("split it, or move it out of the deck".to_owned())
}

static UNKNOWN_KEY: Kind = Kind {
    code: "unknown-key",
    severity: Severity::Error,
    title: "A key that means nothing here",
    why: "what stands beside a mistyped key would be left off the page without a word",
    file: CARD,
    wrong: "sytem: engine",
    right: "system: engine",
};

/// A key that is not one of `known`; `of` is what it stands in: `a card`.
pub fn unknown_key(place: &Place, key: &str, of: &str, known: &[&str]) -> Finding {
    Finding::new(&UNKNOWN_KEY, place, format!("`{key}` is no key of {of}"))
        .hint(name_hint(key, known))
}

static DOUBLED_KEY: Kind = Kind {
    code: "doubled-key",
    severity: Severity::Error,
    title: "A key given twice",
    why: "only one of the two values could be shown, and nobody knows which is right",
    file: CARD,
    wrong: "reference: 5 V ± 2 %\nreference: 5 V ± 5 %",
    right: "reference: 5 V ± 2 %",
};

/// A key that stands above already.
pub fn doubled_key(place: &Place, key: &str, first: &Place) -> Finding {
    Finding::new(
        &DOUBLED_KEY,
        place,
        format!("`{key}` stands here for the second time"),
    )
    .hint(format!("keep one `{key}`"))
    .beside(first, "the first is here")
}

static MISSING_KEY: Kind = Kind {
    code: "missing-key",
    severity: Severity::Error,
    title: "Something that must be said is not",
    why: "without it there is nothing to solve or to show",
    file: CARD,
    wrong: "pins:\n  1: {role: reference}\n  2: {wire: GN}\n  3: {role: ground}",
    right: "pins:\n  1: {role: reference}\n  2: {role: signal, wire: GN}\n  3: {role: ground}",
};

/// A key that `of` must have; `example` is a line that gives it.
pub fn missing_key(place: &Place, key: &str, of: &str, example: &str) -> Finding {
    Finding::new(&MISSING_KEY, place, format!("{of} needs `{key}`"))
        .hint(format!("write `{example}`"))
}

static WRONG_SHAPE: Kind = Kind {
    code: "wrong-shape",
    severity: Severity::Error,
    title: "A list, a text or keys where another is expected",
    why: "the value can not be read as what it must be",
    file: CARD,
    wrong: "pins: [reference, signal, ground]",
    right: "pins:\n  1: {role: reference}\n  2: {role: signal}\n  3: {role: ground}",
};

/// `what` (`pins`) has another shape than `expected` (`keys with values such as ...`).
pub fn wrong_shape(place: &Place, what: &str, expected: &str, found: &str) -> Finding {
    Finding::new(
        &WRONG_SHAPE,
        place,
        format!("{what} must be {expected}, found {found}"),
    )
}

static SPLIT_BY_COMMA: Kind = Kind {
    code: "split-by-comma",
    severity: Severity::Error,
    title: "A comma cut a value in two",
    why: "inside { } and [ ] a comma ends the value, so half of it would be lost",
    file: CARD,
    wrong: "scan:\n  - {name: Position, kind: raw, says: slow, but true}",
    right: "scan:\n  - {name: Position, kind: raw, says: \"slow, but true\"}",
};

/// A piece of text that stands between commas with no colon after it; `whole` is the key with the
/// value it was cut from, in quotes.
pub fn split_by_comma(place: &Place, piece: &str, whole: Option<&str>) -> Finding {
    let hint = whole.map_or_else(
        || format!("write `{piece}: ` and its value"),
        |whole| format!("put quotes around a value with a comma in it: `{whole}`"),
    );
    Finding::new(
        &SPLIT_BY_COMMA,
        place,
        format!("`{piece}` stands alone after a comma, with no value"),
    )
    .hint(hint)
}

static MISREAD_QUANTITY: Kind = Kind {
    code: "misread-quantity",
    severity: Severity::Error,
    title: "A quantity that can not be read",
    why: "a number without its unit, or with a wrong one, would put a false reading on the page",
    file: CARD,
    wrong: "reference: 5 A",
    right: "reference: 5 V",
};

static BAND_UPSIDE_DOWN: Kind = Kind {
    code: "band-upside-down",
    severity: Severity::Error,
    title: "A range with its larger end first",
    why: "no reading lies in such a range, so every part would be called bad",
    file: CARD,
    wrong: "signal:\n  - {at: valve closed, reads: 1.2 to 0.7 V}",
    right: "signal:\n  - {at: valve closed, reads: 0.7 to 1.2 V}",
};

/// A quantity that could not be read: what was expected, what was found, the text that was meant.
pub fn misread_quantity(
    place: &Place,
    expected: &str,
    found: &str,
    correction: Option<&str>,
) -> Finding {
    misread(&MISREAD_QUANTITY, place, expected, found, correction)
}

/// A range whose first end is the larger one.
pub fn band_upside_down(
    place: &Place,
    expected: &str,
    found: &str,
    correction: Option<&str>,
) -> Finding {
    misread(&BAND_UPSIDE_DOWN, place, expected, found, correction)
}

fn misread(
    kind: &'static Kind,
    place: &Place,
    expected: &str,
    found: &str,
    correction: Option<&str>,
) -> Finding {
    let hint = correction.map(|text| format!("did you mean `{text}`"));
    Finding::new(kind, place, format!("expected {expected}, found {found}")).hint(hint)
}

/// A plain number that could not be read as `what`.
pub fn misread_number(place: &Place, typed: &str, what: &str, example: &str) -> Finding {
    Finding::new(
        &MISREAD_QUANTITY,
        place,
        format!("expected {what}, found `{typed}`"),
    )
    .hint(format!("write {what} such as `{example}`"))
}

/// A quantity of one dimension where another belongs: `$track` is a resistance, `volts` takes a voltage.
pub fn wrong_dimension(place: &Place, typed: &str, is: &str, field: &str, takes: &str) -> Finding {
    Finding::new(
        &MISREAD_QUANTITY,
        place,
        format!("`{typed}` is {is}, `{field}` takes {takes}"),
    )
}

/// Exactly one of several keys must be given, and none or more than one is.
pub fn one_key_of(place: &Place, of: &str, keys: &[&str], found: &[&str]) -> Finding {
    let hint = format!("keep exactly one of {}", one_of(keys));
    match found {
        [] => Finding::new(&MISSING_KEY, place, format!("{of} needs {}", one_of(keys)))
            .hint(format!("write one of {}", one_of(keys))),
        _ => {
            let found = found.join("` and `");
            Finding::new(
                &WRONG_SHAPE,
                place,
                format!("{of} has `{found}`, only one can be meant"),
            )
            .hint(hint)
        }
    }
}
