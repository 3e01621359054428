//! The shapes of `--json` answers of `diagnose` and `order`. Keys may be added; those here stay.

use crate::publish::words::technique;
use crate::reason::{Missing, Seen};
use crate::sheet::{NextLine, Sheet, Taken, VerdictSheet, place_name};
use serde::Serialize;

/// The answer of `diagnose`.
#[derive(Debug, Serialize)]
pub(super) struct DiagnoseReport<'a> {
    card: &'a str,
    fits: bool,
    suspects: Vec<SuspectReport<'a>>,
    ruled_out: Vec<RuledOutReport<'a>>,
    verdict: &'a str,
    rests_on: Vec<ReadingReport<'a>>,
    cannot_rule_out: &'a [String],
    proven: &'a [String],
    set_aside: Vec<ReadingReport<'a>>,
    conflict: &'a [String],
    next: Option<NextReport<'a>>,
}

#[derive(Debug, Serialize)]
struct SuspectReport<'a> {
    repair: &'a str,
    says: String,
    /// By how often such faults occur, not by the readings.
    share: f64,
    faults: &'a [String],
    /// Left only where it is too slight to show.
    faint: bool,
}

#[derive(Debug, Serialize)]
struct RuledOutReport<'a> {
    repair: &'a str,
    /// The test that rules it out, or the first of those that do so together.
    by: String,
    together_with: Vec<String>,
}

#[derive(Debug, Serialize)]
struct ReadingReport<'a> {
    test: &'a str,
    state: &'a str,
    reading: &'a str,
    says: &'a str,
}

#[derive(Debug, Serialize)]
struct NextReport<'a> {
    test: &'a str,
    state: &'a str,
    title: &'a str,
    why: &'a str,
    bits: f64,
    minutes: f64,
    cautions: Vec<&'a str>,
}

impl<'a> DiagnoseReport<'a> {
    pub(super) fn of(sheet: &'a Sheet, taken: &'a [Taken], told: &'a VerdictSheet) -> Self {
        let place = |at: usize| {
            let one = taken.get(at);
            one.map_or_else(String::new, |one| place_name(sheet, one.observation.probe))
        };
        let cited = |cited: &'a [crate::sheet::Cited]| -> Vec<ReadingReport<'a>> {
            let report = |one: &'a crate::sheet::Cited| {
                ReadingReport::of(sheet, taken.get(one.taken)?, &one.says)
            };
            cited.iter().filter_map(report).collect()
        };
        Self {
            card: &sheet.card,
            fits: told.fits,
            suspects: told.suspects.iter().map(SuspectReport::of).collect(),
            ruled_out: told
                .ruled_out
                .iter()
                .map(|one| RuledOutReport {
                    repair: &one.repair,
                    by: one.by.first().map_or_else(String::new, |at| place(*at)),
                    together_with: one.by.iter().skip(1).map(|at| place(*at)).collect(),
                })
                .collect(),
            verdict: &told.says,
            rests_on: cited(&told.rests_on),
            cannot_rule_out: &told.cannot_rule_out,
            proven: &told.proven,
            set_aside: cited(&told.set_aside),
            conflict: &told.conflict,
            next: told
                .next
                .as_ref()
                .and_then(|next| NextReport::of(sheet, next)),
        }
    }
}

impl<'a> SuspectReport<'a> {
    fn of(one: &'a crate::reason::Suspect) -> Self {
        Self {
            repair: &one.repair,
            says: one.says.join("; or "),
            share: one.share,
            faults: &one.faults,
            faint: one.faint,
        }
    }
}

impl<'a> ReadingReport<'a> {
    fn of(sheet: &'a Sheet, one: &'a Taken, says: &'a str) -> Option<Self> {
        let probe = sheet
            .reasoning
            .signatures
            .probes
            .get(one.observation.probe)?;
        Some(Self {
            test: &probe.test,
            state: &probe.state,
            reading: &one.typed,
            says,
        })
    }
}

impl<'a> NextReport<'a> {
    fn of(sheet: &'a Sheet, next: &'a NextLine) -> Option<Self> {
        let test = sheet.tests.get(next.test)?;
        Some(Self {
            test: &test.id,
            state: &next.state,
            title: &test.title,
            why: &next.why,
            bits: next.bits,
            minutes: next.minutes,
            cautions: test.cautions.iter().map(|one| one.says.as_str()).collect(),
        })
    }
}

/// The answer of `order`.
#[derive(Debug, Serialize)]
pub(super) struct OrderReport<'a> {
    card: &'a str,
    order: Vec<&'a str>,
    groups: Vec<&'a [String]>,
    pairs: PairsReport,
    better: Vec<&'a str>,
    missing: Vec<MissingReport<'a>>,
    /// Part of all pairs by weight that the order separates, and that the better one would.
    separated: f64,
    better_separated: f64,
    better_minutes: f64,
    unseen: Vec<UnseenReport<'a>>,
}

#[derive(Debug, Serialize)]
struct PairsReport {
    always: usize,
    depends: usize,
    never: usize,
}

#[derive(Debug, Serialize)]
struct MissingReport<'a> {
    kind: &'static str,
    /// Null where no test known to the card is of this kind.
    test: Option<&'a str>,
    splits: &'static str,
    repairs: &'a [String],
}

#[derive(Debug, Serialize)]
struct UnseenReport<'a> {
    fault: &'a str,
    repair: &'a str,
    /// Ohms up to which it is not seen; null where it never is.
    below: Option<f64>,
}

impl<'a> OrderReport<'a> {
    pub(super) fn of(sheet: &'a Sheet) -> Self {
        let audit = &sheet.reasoning.audit;
        let in_order = sheet.tests.iter().take(sheet.in_order);
        Self {
            card: &sheet.card,
            order: in_order.map(|test| test.id.as_str()).collect(),
            groups: audit
                .groups
                .iter()
                .map(|one| one.repairs.as_slice())
                .collect(),
            pairs: PairsReport {
                always: audit.pairs.always,
                depends: audit.pairs.depends,
                never: audit.pairs.never,
            },
            better: audit.better.iter().map(|step| step.test.as_str()).collect(),
            missing: audit
                .missing
                .iter()
                .map(|one| MissingReport::of(sheet, one))
                .collect(),
            separated: audit.separated,
            better_separated: audit.better_separated,
            better_minutes: audit.better.iter().map(|step| step.minutes).sum(),
            unseen: audit
                .unseen
                .iter()
                .map(|one| UnseenReport {
                    fault: &one.fault,
                    repair: &one.repair,
                    below: one.below,
                })
                .collect(),
        }
    }
}

impl<'a> MissingReport<'a> {
    fn of(sheet: &'a Sheet, one: &'a Missing) -> Self {
        let probes = &sheet.reasoning.signatures.probes;
        Self {
            kind: technique(one.technique),
            test: one
                .probe
                .and_then(|at| probes.get(at))
                .map(|probe| probe.test.as_str()),
            splits: seen(one.splits),
            repairs: &one.repairs,
        }
    }
}

/// The three-valued answer as programs read it.
pub(super) fn seen(seen: Seen) -> &'static str {
    match seen {
        Seen::Always => "always",
        Seen::Depends => "depends",
        Seen::Never => "never",
    }
}
