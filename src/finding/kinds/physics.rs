//! Findings that only the solved circuit tells.
//!
//! In: a place and texts already written with units. Out: a finding. Made in `sheet` and `reason`'s
//! callers; here only their words.

use super::super::{Finding, Place, Severity};
use super::{CARD, Kind};

/// The kinds made here.
pub(super) static KINDS: &[&Kind] = &[
    &SIGNAL_OUT_OF_REACH,
    &LIMIT_INSIDE_SIGNAL,
    &CIRCUIT_NOT_SOLVABLE,
    &SIGNAL_POINT_WITHOUT_READING,
    &AMBIGUOUS_ORDER,
];

static SIGNAL_OUT_OF_REACH: Kind = Kind {
    code: "signal-out-of-reach",
    severity: Severity::Error,
    title: "A signal point the circuit cannot produce",
    why: "a healthy part could never read it, so every part would be called bad",
    file: CARD,
    wrong: "signal:\n  - {at: valve closed, reads: 6 to 6.5 V}",
    right: "signal:\n  - {at: valve closed, reads: 0.7 to 1.2 V}",
};

/// The card states `reads` at a point where the circuit gives `reach`.
pub fn signal_point_out_of_reach(place: Place, at: &str, reads: &str, reach: &str) -> Finding {
    Finding::new(
        &SIGNAL_OUT_OF_REACH,
        &place,
        format!("the circuit cannot read {reads} at `{at}`: it gives {reach}"),
    )
    .hint("check the band, the reference and the family's values".to_owned())
}

static LIMIT_INSIDE_SIGNAL: Kind = Kind {
    code: "limit-inside-signal",
    severity: Severity::Warning,
    title: "The module's limits cut into the signal",
    why: "a healthy part would set a code there",
    file: CARD,
    wrong: "parameters: {valid: 1 to 4 V}\nsignal:\n  - {at: valve closed, reads: 0.7 to 1.2 V}",
    right: "parameters: {valid: 0.25 to 4.75 V}\nsignal:\n  - {at: valve closed, reads: 0.7 to 1.2 V}",
};

/// The band stated at a point reaches beyond the input limits.
pub fn input_limit_inside_signal(place: Place, at: &str, limits: &str) -> Finding {
    Finding::new(
        &LIMIT_INSIDE_SIGNAL,
        &place,
        format!("the band at `{at}` reaches beyond the input limits {limits}"),
    )
    .hint("check the band, or give the module's limits under `parameters`".to_owned())
}

static CIRCUIT_NOT_SOLVABLE: Kind = Kind {
    code: "circuit-not-solvable",
    severity: Severity::Error,
    title: "The circuit has no answer",
    why: "no expected reading can be given",
    file: CARD,
    wrong: "",
    right: "family: position-pot",
};

/// The network could not be built or solved; `cause` in the engine's words.
pub fn circuit_not_solvable(place: Place, cause: &str) -> Finding {
    Finding::new(
        &CIRCUIT_NOT_SOLVABLE,
        &place,
        format!("the circuit cannot be solved: {cause}"),
    )
    .hint("check the elements and what they are joined to".to_owned())
}

static SIGNAL_POINT_WITHOUT_READING: Kind = Kind {
    code: "signal-point-without-reading",
    severity: Severity::Error,
    title: "A signal point with nothing to work it out from",
    why: "what a good part reads there is not known",
    file: CARD,
    wrong: "signal:\n  - {at: valve closed}",
    right: "signal:\n  - {at: valve closed, reads: 0.7 to 1.2 V}",
};

/// A point without `reads` where no curve gives the part's value.
pub fn signal_point_without_reading(place: Place, at: &str) -> Finding {
    Finding::new(
        &SIGNAL_POINT_WITHOUT_READING,
        &place,
        format!("`{at}` has no `reads`, and no curve to work it out from"),
    )
    .hint("add `reads: ` and the band a good part gives there".to_owned())
}

static AMBIGUOUS_ORDER: Kind = Kind {
    code: "ambiguous-order",
    severity: Severity::Advice,
    title: "The order leaves faults of different repairs together",
    why: "after the last test someone would replace a good part",
    file: CARD,
    wrong: "order: [supply]",
    right: "order: [supply, force, at-rest]",
};

/// The order cannot tell two repairs apart; `test` would split them, where one does.
pub fn ambiguous_order(place: Place, one: &str, other: &str, test: Option<&str>) -> Finding {
    Finding::new(
        &AMBIGUOUS_ORDER,
        &place,
        format!("the order cannot tell `{one}` from `{other}`"),
    )
    .hint(test.map_or_else(
        || "no test the circuit knows splits them; add one of your own".to_owned(),
        |test| format!("add the test `{test}` to the order"),
    ))
}
