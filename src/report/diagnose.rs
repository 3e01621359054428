//! The report of a diagnosis: what readings establish, and what to test next.

use super::shares::in_percent;
use super::words::{band, or_instead, seen};
use crate::circuit::Band;
use crate::reason::{Observation, Observed, Signatures, Suspect};
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
    /// The verdict without the repairs it names: what the list of suspects is headed by.
    claim: &'a str,
    rests_on: Vec<ReadingReport<'a>>,
    cannot_rule_out: &'a [String],
    proven: &'a [String],
    set_aside: Vec<ReadingReport<'a>>,
    conflict: &'a [String],
    /// Every reading, and what it means by itself.
    readings: Vec<MeaningReport<'a>>,
    next: Option<NextReport<'a>>,
    /// The next test of the card's order.
    in_turn: Option<TurnReport<'a>>,
    /// What to look at before anything is replaced.
    before: &'a [String],
    /// How to prove the repair.
    afterwards: &'a [String],
}

#[derive(Debug, Serialize)]
struct TurnReport<'a> {
    test: &'a str,
    title: &'a str,
}

#[derive(Debug, Serialize)]
struct SuspectReport<'a> {
    repair: &'a str,
    says: String,
    /// By how often such faults occur, not by the readings.
    share: f64,
    /// The same in whole percent, all of them together a hundred.
    percent: String,
    faults: &'a [String],
    /// Left only where it does not show in these readings: too slight, or off in another state.
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
    /// As the reading was named: `at-rest@20 C`.
    place: String,
    title: &'a str,
    test: &'a str,
    state: &'a str,
    reading: &'a str,
    /// What a good circuit reads there.
    expected: String,
    /// Whether a good circuit reads so; null where that cannot be said.
    good: Option<bool>,
    /// The same as a sentence.
    says: String,
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
    place: String,
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
            suspects: SuspectReport::all(&told.suspects),
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
            claim: told
                .says
                .split_once(": ")
                .map_or(&*told.says, |(head, _)| head),
            rests_on: cited(&told.rests_on),
            cannot_rule_out: &told.cannot_rule_out,
            proven: &told.proven,
            set_aside: cited(&told.set_aside),
            conflict: &told.conflict,
            readings: (0..taken.len())
                .filter_map(|at| MeaningReport::of(sheet, taken, at))
                .collect(),
            next: told
                .next
                .as_ref()
                .and_then(|next| NextReport::of(sheet, next)),
            in_turn: told.in_turn.and_then(|test| {
                let test = sheet.tests.get(test)?;
                Some(TurnReport {
                    test: &test.id,
                    title: &test.title,
                })
            }),
            before: &told.before,
            afterwards: &told.afterwards,
        }
    }
}

impl<'a> SuspectReport<'a> {
    fn all(suspects: &'a [Suspect]) -> Vec<Self> {
        let shares: Vec<f64> = suspects.iter().map(|one| one.share).collect();
        let each = suspects.iter().zip(in_percent(&shares));
        let report = |(one, percent): (&'a Suspect, String)| Self {
            repair: &one.repair,
            says: one.says.join("; or "),
            share: one.share,
            percent,
            faults: &one.faults,
            faint: one.faint,
        };
        each.map(report).collect()
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
    fn of(sheet: &'a Sheet, taken: &'a [Taken], at: usize) -> Option<Self> {
        let one = &taken[at];
        let probe = one.observation.probe;
        let signatures = &sheet.reasoning.signatures;
        let named = signatures.probes.get(probe)?;
        let outcome = sheet.outcome(probe)?;
        let cells = outcome.cells_for(&one.observation);
        let mut means: Vec<RepairReport> = Vec::new();
        for meaning in cells.iter().flat_map(|at| &outcome.cells[*at].meanings) {
            if means.iter().all(|known| known.repair != meaning.repair) {
                means.push(RepairReport {
                    repair: meaning.repair.clone(),
                    seen: seen(meaning.seen),
                });
            }
        }
        let test = sheet.test_at(probe)?;
        let others = taken.iter().filter(|other| !std::ptr::eq(*other, one));
        let others: Vec<Observation> = others.map(|one| one.observation).collect();
        let rows = signatures.good_rows(&others);
        let bands = rows
            .iter()
            .filter_map(|row| signatures.rows[*row].bands.get(probe));
        let stated = test.expected.iter().find(|one| one.state == named.state);
        let expected = or_instead(
            band(&Band::union(bands), test.dimension),
            stated.map_or("", |one| &one.instead),
        );
        let good = is_good(signatures, &rows, &one.observation);
        Some(Self {
            place: place_name(sheet, probe),
            title: &test.title,
            test: &named.test,
            state: &named.state,
            reading: &one.typed,
            says: meaning(good, one.observation.reading, &expected),
            expected,
            good,
            means,
        })
    }
}

/// Whether some good circuit reads so; none where nothing was measured, or the reading can't be held against any.
fn is_good(signatures: &Signatures, rows: &[usize], one: &Observation) -> Option<bool> {
    let fits = || rows.iter().any(|row| signatures.fits(*row, one));
    let tells = rows.iter().any(|row| signatures.tells(*row, one.probe));
    match one.reading {
        Observed::CannotMeasure => None,
        _ if !tells => None,
        Observed::Value { number, .. } if !number.is_finite() => None,
        // Standing still is good only where nothing was to be expected, and proves nothing there, nor where it is not
        // known yet which way the jumper had to go.
        Observed::NoChange => {
            let settled = signatures.of_one_variant(rows.iter().copied());
            let known = settled || !signatures.unsure.contains(&one.probe);
            (known && !fits()).then_some(false)
        }
        Observed::Value { .. } | Observed::Floating | Observed::NoPath => Some(fits()),
    }
}

fn meaning(good: Option<bool>, reading: Observed, expected: &str) -> String {
    match (good, reading) {
        (_, Observed::CannotMeasure) => "Not measured: this says nothing.".to_owned(),
        (Some(true), _) => format!("Good. A good circuit: {expected}."),
        (Some(false), Observed::NoChange) => {
            format!("Not good: it should have moved. A good circuit: {expected}.")
        }
        (Some(false), _) => format!("Not good. A good circuit: {expected}."),
        (None, Observed::NoChange) => {
            "This proves nothing yet: where the open input rests, a good circuit’s value may stay, too."
                .to_owned()
        }
        (None, _) => format!(
            "This proves nothing: it need not follow the pin. A good circuit: {expected}."
        ),
    }
}

impl<'a> NextReport<'a> {
    fn of(sheet: &'a Sheet, next: &'a NextLine) -> Option<Self> {
        let test = sheet.tests.get(next.test)?;
        Some(Self {
            place: place_name(sheet, next.probe),
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
