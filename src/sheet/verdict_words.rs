//! Verdicts in the words of the trade: what readings establish, what they rest on, what stays open.
//!
//! In: a sheet and the readings taken. Out: a [`VerdictSheet`], for terminal, pages and phone alike.
//! Never: a claim stronger than the verdict's.

use super::claim::{claim, some};
use super::out_of_turn::in_turn;
use super::repair_words::{afterwards, before};
use super::taken::Taken;
use super::tell::reads;
use super::types::Sheet;
use super::verdict_types::{Cited, Cleared, NextLine, VerdictSheet};
use crate::circuit::Band;
use crate::quantity::{Dimension, Quantity, two_digits, write_quantity, write_reading};
use crate::reason::{
    Aside, Branch, Conflict, Observation, Observed, Open, ProbeKind, Proven, SetAside, Slight,
    WayOut, Worth, rank_probes, suspects, verdict, worth,
};

/// Ways out of a conflict, and branches of the next test, that are told.
const TOLD: usize = 3;

/// A reading of the next test less likely than this is not told.
const LIKELY: f64 = 0.05;

/// What the readings say. No readings leave everything open.
pub fn tell_verdict(sheet: &Sheet, taken: &[Taken]) -> VerdictSheet {
    let observations: Vec<Observation> = taken.iter().map(|one| one.observation).collect();
    let signatures = &sheet.reasoning.signatures;
    let found = verdict(signatures, &observations);
    let left = suspects(signatures, &observations);
    let teller = Teller { sheet, taken };
    VerdictSheet {
        fits: left.conflict.is_none(),
        says: claim(&found, &left.left),
        in_turn: in_turn(sheet, taken, &[]),
        before: before(&found.establishes),
        afterwards: afterwards(sheet, taken, &found),
        proven: found.proven.iter().map(proven).collect(),
        rests_on: found.rests_on.iter().map(|at| teller.cited(*at)).collect(),
        cannot_rule_out: found
            .cannot_rule_out
            .iter()
            .filter(|one| !is_told(one, &found.proven))
            .map(open)
            .collect(),
        set_aside: found
            .set_aside
            .iter()
            .map(|one| teller.aside(one))
            .collect(),
        conflict: left
            .conflict
            .as_ref()
            .map_or_else(Vec::new, |one| teller.conflict(one)),
        ruled_out: left
            .ruled_out
            .into_iter()
            .map(|one| Cleared {
                says: listed(
                    &one.by
                        .iter()
                        .map(|at| teller.title(*at))
                        .collect::<Vec<_>>(),
                ),
                repair: one.repair,
                by: one.by,
            })
            .collect(),
        suspects: left.left,
        next: if left.conflict.is_none() {
            next_test(sheet, taken, &[])
        } else {
            None
        },
    }
}

/// The best test to do next that is not among the skipped probes.
pub fn next_test(sheet: &Sheet, taken: &[Taken], skipped: &[usize]) -> Option<NextLine> {
    let observations: Vec<Observation> = taken.iter().map(|one| one.observation).collect();
    let signatures = &sheet.reasoning.signatures;
    let next = rank_probes(signatures, &observations)
        .into_iter()
        .find(|next| !skipped.contains(&next.probe))?;
    let test = *sheet.reasoning.of_test.get(next.probe)?;
    let dimension = sheet.tests.get(test)?.dimension;
    Some(NextLine {
        probe: next.probe,
        test,
        state: signatures.probes.get(next.probe)?.state.clone(),
        why: branches(&next.branches, dimension),
        bits: next.bits,
        minutes: next.minutes,
    })
}

fn proven(proven: &Proven) -> String {
    let mut says = proven.subject.clone();
    if !proven.but.is_empty() {
        let but: Vec<String> = proven.but.iter().copied().map(slightly).collect();
        says.push_str(&format!(", but for {}", but.join(", or ")));
    }
    if !proven.unless.is_empty() {
        says.push_str(&format!(
            " (it carries, unless: {})",
            proven.unless.join(", or ")
        ));
    }
    says
}

/// Whether what is proven good says already how slight a fault could still be there.
fn is_told(open: &Open, proven: &[Proven]) -> bool {
    let Open::Slight { subject, .. } = open else {
        return false;
    };
    let mut told = proven.iter().filter(|one| !one.but.is_empty());
    told.any(|one| one.subject == *subject)
}

fn open(open: &Open) -> String {
    match open {
        Open::Intermittent => "a fault that comes and goes and was away while measuring".to_owned(),
        Open::MatedContacts { roles } => format!(
            "the contacts of {}: they show only plugged in",
            listed(roles)
        ),
        Open::Slight {
            subject, slight, ..
        } => format!("{subject}: {}", slightly(*slight)),
        Open::SecondFault => "a second fault beside the first".to_owned(),
    }
}

fn slightly(slight: Slight) -> String {
    match slight {
        Slight::SeriesBelow(ohms) => format!("series resistance of less than {}", rough(ohms)),
        Slight::LoadAbove(ohms) => format!("a leak or load of more than {}", rough(ohms)),
        Slight::Outside => "a value outside its limits that these readings do not show".to_owned(),
    }
}

fn rough(ohms: f64) -> String {
    write_quantity(Quantity {
        number: two_digits(ohms),
        dimension: Dimension::Resistance,
    })
}

/// How the readings of the next test would split what is left.
fn branches(branches: &[Branch], dimension: Dimension) -> String {
    let shown: Vec<String> = branches
        .iter()
        .filter(|one| one.chance >= LIKELY)
        .take(TOLD)
        .map(|one| {
            let mut left = one.repairs.clone();
            if one.healthy {
                left.insert(0, "a good circuit".to_owned());
            }
            let left = match left.as_slice() {
                [] => "nothing known".to_owned(),
                [only] => only.clone(),
                few if few.len() <= 2 => few.join(", or "),
                many => format!("{} possibilities", many.len()),
            };
            format!("{} would leave {left}", reads(one.reads, dimension))
        })
        .collect();
    shown.join("; ")
}

struct Teller<'a> {
    sheet: &'a Sheet,
    taken: &'a [Taken],
}

impl Teller<'_> {
    /// `“Signal with everything connected” (20 C)`.
    fn probe(&self, probe: usize) -> String {
        let reasoning = &self.sheet.reasoning;
        let test = reasoning
            .of_test
            .get(probe)
            .and_then(|at| self.sheet.tests.get(*at));
        let state = reasoning
            .signatures
            .probes
            .get(probe)
            .map_or("", |probe| &probe.state);
        let title = test.map_or("", |test| &test.title);
        match state {
            "" => format!("\u{201c}{title}\u{201d}"),
            state => format!("\u{201c}{title}\u{201d} ({state})"),
        }
    }

    fn title(&self, at: usize) -> String {
        self.taken
            .get(at)
            .map_or_else(String::new, |one| self.probe(one.observation.probe))
    }

    fn read(&self, at: usize) -> String {
        match self.taken.get(at) {
            Some(one) => format!("{} read {}", self.probe(one.observation.probe), one.typed),
            None => String::new(),
        }
    }

    fn cited(&self, at: usize) -> Cited {
        let mut says = self.read(at);
        let seen = self.taken.get(at).map(|one| one.observation);
        let signatures = &self.sheet.reasoning.signatures;
        let unmoved = seen.is_some_and(|seen| seen.reading == Observed::NoChange);
        // A jumper that hangs on where the input rests counts only once that is known.
        let known = seen.is_some_and(|seen| signatures.unsure.contains(&seen.probe));
        says.push_str(match seen.map(|seen| worth(signatures, seen.probe)) {
            Some(Worth::NoChangeExpected) if unmoved => {
                " (the open input rests there: no change expected, it proves neither wire nor input)"
            }
            Some(Worth::DependsOnRest) if !known => {
                " (what it proves depends on where the open input rests, which the card leaves open)"
            }
            _ => "",
        });
        Cited { taken: at, says }
    }

    fn aside(&self, one: &SetAside) -> Cited {
        let why = match one.why {
            Aside::Derived { instead } => {
                let instead = match instead {
                    Some(probe) if self.taken.iter().any(|one| one.observation.probe == probe) => {
                        format!(
                            "; {} counts: {}",
                            self.what_counts(probe),
                            self.probe(probe)
                        )
                    }
                    Some(probe) => format!("; read {} instead", self.probe(probe)),
                    None => String::new(),
                };
                format!("a derived value need not follow the pin, so it proves nothing{instead}")
            }
            Aside::NoChangeExpected => {
                "the jumper goes to where the open input rests: no change expected, proves nothing"
                    .to_owned()
            }
            Aside::DependsOnRest => {
                "what it proves depends on where the open input rests, which the card leaves open"
                    .to_owned()
            }
            Aside::NotMeasured => "not measured".to_owned(),
            Aside::NothingNew => "says nothing that the others do not say".to_owned(),
        };
        Cited {
            taken: one.observation,
            says: format!("{}: {why}", self.read(one.observation)),
        }
    }

    /// What kind of value can be held against the circuit at a probe.
    fn what_counts(&self, probe: usize) -> &'static str {
        let probes = &self.sheet.reasoning.signatures.probes;
        match probes.get(probe).map(|probe| probe.kind) {
            Some(ProbeKind::Derived { .. }) => "the value in its range",
            _ => "the raw value",
        }
    }

    fn conflict(&self, conflict: &Conflict) -> Vec<String> {
        let between: Vec<String> = conflict.between.iter().map(|at| self.read(*at)).collect();
        let head = match between.as_slice() {
            [one] => format!("Nothing known to go wrong here gives this: {one}."),
            many => format!("These cannot stand together: {}.", listed(many)),
        };
        // Where all readings are in doubt there is no rest that anything could fit.
        let has_rest = |way: &&WayOut| way.doubt.len() < self.taken.len();
        let ways = conflict.ways_out.iter().filter(has_rest).take(TOLD);
        let again = match between.len() {
            1 => "it",
            2 => "both",
            _ => "them",
        };
        let below = |at: &usize| {
            let reading = self.taken.get(*at).map(|one| one.observation.reading);
            matches!(reading, Some(Observed::Value { number, .. }) if number < 0.0)
        };
        let leads = match conflict.between.iter().any(below) {
            true => "Below zero the leads may be the other way round. ",
            false => "",
        };
        let close =
            format!("{leads}Take {again} again first; two faults at once are possible, too.");
        let ways = ways.map(|way| self.way_out(way));
        [head].into_iter().chain(ways).chain([close]).collect()
    }

    fn way_out(&self, way: &WayOut) -> String {
        let would: Vec<String> = way
            .doubt
            .iter()
            .zip(&way.would_read)
            .map(|(at, band)| format!("{} read {}", self.title(*at), self.band(*at, band)))
            .collect();
        let mut fits = way.repairs.clone();
        if way.healthy {
            fits.insert(0, "a good circuit".to_owned());
        }
        format!(
            "If {}, this would fit the rest: {}.",
            listed(&would),
            some(&fits)
        )
    }

    fn band(&self, at: usize, band: &Band) -> String {
        let probe = self.taken.get(at).map(|one| one.observation.probe);
        let dimension = probe.map_or(Dimension::Voltage, |probe| self.sheet.dimension_at(probe));
        band_words(band, dimension)
    }
}

/// All readings of a band: `4.87 to 5.13 V or under 20 mV`.
pub(super) fn band_words(band: &Band, dimension: Dimension) -> String {
    let mut parts: Vec<String> = band
        .intervals
        .iter()
        .map(|one| write_reading(*one, dimension))
        .collect();
    if band.floating {
        parts.push("near 0 V, drifting".to_owned());
    }
    if band.no_path {
        parts.push("no path".to_owned());
    }
    match parts.len() {
        0 => "anything".to_owned(),
        1..=TOLD => parts.join(" or "),
        _ => format!("{} or others", parts[..TOLD].join(" or ")),
    }
}

/// `a, b and c`.
fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
