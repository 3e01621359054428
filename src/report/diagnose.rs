//! The report of a diagnosis: what readings establish, and what to test next.

use super::words::seen;
use crate::reason::{Cell, Observed};
use crate::sheet::{NextLine, Sheet, Taken, VerdictSheet, place_name};
use serde::Serialize;

/// The answer of `diagnose`.
#[derive(Debug, Serialize)]
pub struct DiagnoseReport<'a> {
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
    /// Every reading, and what it means by itself.
    readings: Vec<MeaningReport<'a>>,
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

/// What one reading means, whatever was read elsewhere.
#[derive(Debug, Serialize)]
struct MeaningReport<'a> {
    test: &'a str,
    state: &'a str,
    reading: &'a str,
    /// Whether a good circuit reads so; null where nothing was measured.
    good: Option<bool>,
    /// Repairs whose faults read so too, likeliest first.
    means: Vec<RepairReport>,
}

#[derive(Debug, Serialize)]
struct RepairReport {
    repair: String,
    /// Whether the test tells such faults from a good circuit.
    seen: &'static str,
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
    /// What these readings establish.
    pub fn of(sheet: &'a Sheet, taken: &'a [Taken], told: &'a VerdictSheet) -> Self {
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
            readings: taken
                .iter()
                .filter_map(|one| MeaningReport::of(sheet, one))
                .collect(),
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

impl<'a> MeaningReport<'a> {
    fn of(sheet: &'a Sheet, one: &'a Taken) -> Option<Self> {
        let probe = one.observation.probe;
        let named = sheet.reasoning.signatures.probes.get(probe)?;
        let outcome = sheet.outcome(probe)?;
        let places = outcome.cells_for(&one.observation);
        let cells: Vec<&Cell> = places.iter().map(|at| &outcome.cells[*at]).collect();
        let measured = matches!(
            one.observation.reading,
            Observed::Value { .. } | Observed::NoPath
        );
        let mut means: Vec<RepairReport> = Vec::new();
        for meaning in cells.iter().flat_map(|cell| &cell.meanings) {
            if means.iter().all(|known| known.repair != meaning.repair) {
                means.push(RepairReport {
                    repair: meaning.repair.clone(),
                    seen: seen(meaning.seen),
                });
            }
        }
        Some(Self {
            test: &named.test,
            state: &named.state,
            reading: &one.typed,
            good: measured.then(|| cells.iter().any(|cell| cell.healthy)),
            means,
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
