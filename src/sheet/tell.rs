//! Telling: outcome tables in the words of the trade.
//!
//! In: what is reasoned about a card. Out: [`OutcomeSheet`]s beside each test. A test that is only done
//! after another read so is told under that condition. Never: solves.

use super::near_zero;
use super::told_types::{MeaningLine, OutcomeLine, OutcomeSheet};
use super::types::{Reasoning, TestSheet};
use crate::quantity::{Dimension, Interval, Quantity, two_digits, write_quantity, write_reading};
use crate::reason::{
    Cell, Condition, Meaning, Observation, Observed, Outcome, Planner, Reads, Row, Seen,
    Signatures, When, Worth, at_once, outcome,
};

/// Repairs named in one line of the short answer.
const NAMED: usize = 3;

/// Puts what each reading means beside its test.
pub(super) fn add_outcomes(tests: &mut [TestSheet], in_order: usize, reasoning: &Reasoning) {
    let always = Planner::of(&reasoning.signatures);
    let probes: Vec<usize> = (0..reasoning.of_test.len()).collect();
    let all = at_once::each(&probes, |probe| {
        match &reasoning.signatures.probes[*probe].when {
            None => told(tests, in_order, reasoning, &always, *probe),
            Some(when) => {
                let known = given(&reasoning.signatures, when);
                told(tests, in_order, reasoning, &Planner::of(&known), *probe)
            }
        }
    });
    for (test, told) in reasoning.of_test.iter().zip(all) {
        tests[*test].outcomes.push(told);
    }
}

fn told(
    tests: &[TestSheet],
    in_order: usize,
    reasoning: &Reasoning,
    planner: &Planner,
    probe: usize,
) -> OutcomeSheet {
    let asked = &reasoning.signatures.probes[probe];
    let outcome = match &asked.when {
        Some(_) => &outcome(planner.signatures(), probe),
        None => &reasoning.outcomes[probe],
    };
    let test = &tests[reasoning.of_test[probe]];
    let teller = Teller {
        least: least_ohms(&planner.signatures().rows),
        tests,
        in_order,
        reasoning,
        planner,
        signatures: planner.signatures(),
        probe,
        dimension: test.dimension,
    };
    let rows = |cells: &[Cell]| match (test.dimension, &test.scan) {
        (Dimension::Voltage, None) => near_zero::joined(cells),
        _ => near_zero::held(cells),
    };
    OutcomeSheet {
        state: asked.state.clone(),
        worth: worth(outcome.worth, forced(tests, reasoning, probe)),
        short: rows(&outcome.short)
            .iter()
            .filter(tells)
            .map(|cell| teller.line(cell, NAMED))
            .collect(),
        full: rows(&outcome.cells)
            .iter()
            .filter(tells)
            .map(|cell| teller.line(cell, usize::MAX))
            .collect(),
        blind_to: blind_to(outcome),
    }
}

/// The rows that can read so at the other test: what is still possible when this test is done at all.
fn given(signatures: &Signatures, when: &When) -> Signatures {
    let Some(probe) = signatures
        .probes
        .iter()
        .position(|probe| probe.test == when.test)
    else {
        return signatures.clone();
    };
    let healthy = signatures.healthy(probe);
    let (Some(low), Some(high)) = (
        healthy.intervals.first().map(|band| band.low),
        healthy.intervals.last().map(|band| band.high),
    ) else {
        return signatures.clone();
    };
    let reads = |row: &Row| {
        let Some(band) = row.bands.get(probe) else {
            return true;
        };
        let below = band.floating || band.intervals.iter().any(|part| part.low < low);
        let above = band.intervals.iter().any(|part| high < part.high);
        let inside = band
            .intervals
            .iter()
            .any(|part| part.low <= high && low <= part.high);
        match when.is {
            Condition::Low => below,
            Condition::High => above,
            Condition::Off => below || above,
            Condition::Good => inside,
        }
    };
    match when.is {
        Condition::Good => {
            let rows = signatures.rows.iter().filter(|row| reads(row));
            signatures.with(rows.cloned().collect())
        }
        Condition::Low | Condition::High | Condition::Off => signatures.off_at(probe, reads),
    }
}

/// Slivers at the edge of the good band hold only faults that this test can never show: they say nothing.
fn tells(cell: &&Cell) -> bool {
    cell.healthy
        || cell
            .meanings
            .iter()
            .any(|meaning| meaning.seen != Seen::Never)
}

/// The title of the test that forces a probe's derived value into the range in which it follows.
fn forced<'t>(tests: &'t [TestSheet], reasoning: &Reasoning, probe: usize) -> Option<&'t str> {
    let probes = &reasoning.signatures.probes;
    let observe = &probes[probe].hookup.observe;
    let forces = |other: &usize| {
        reasoning.outcomes[*other].worth == Worth::Forced
            && probes[*other].hookup.observe == *observe
    };
    let found = (0..probes.len()).find(forces)?;
    Some(&tests[reasoning.of_test[found]].title)
}

fn worth(worth: Worth, forced: Option<&str>) -> String {
    match (worth, forced) {
        (Worth::Plain, _) => String::new(),
        (Worth::Derived, Some(title)) => format!(
            "a derived value: it need not follow the pin, so a value that does not move proves nothing; do \u{201c}{title}\u{201d}"
        ),
        (Worth::Derived, None) => {
            "a derived value: it need not follow the pin, so a value that does not move proves nothing; read the raw one where there is one".to_owned()
        }
        (Worth::Forced, _) => {
            "a derived value, brought into the range in which it follows the pin: it has to move there; enter “no change” if it stays what it was".to_owned()
        }
        (Worth::NoChangeExpected, _) => {
            "the open input rests there already: no change expected, proves nothing".to_owned()
        }
        (Worth::DependsOnRest, _) => {
            "what this proves depends on where the open input rests: see what the scan value shows with the plug off".to_owned()
        }
    }
}

fn blind_to(outcome: &Outcome) -> Vec<String> {
    let mut repairs: Vec<String> = Vec::new();
    for fault in outcome
        .faults
        .iter()
        .filter(|fault| fault.seen == Seen::Never)
    {
        let seen_otherwise = outcome
            .faults
            .iter()
            .any(|other| other.repair == fault.repair && other.seen != Seen::Never);
        if !seen_otherwise && !repairs.contains(&fault.repair) {
            repairs.push(fault.repair.clone());
        }
    }
    repairs
}

/// Words for the cells of one probe.
struct Teller<'a> {
    tests: &'a [TestSheet],
    in_order: usize,
    reasoning: &'a Reasoning,
    planner: &'a Planner<'a>,
    signatures: &'a Signatures,
    probe: usize,
    dimension: Dimension,
    /// The least resistance that each fault can have at all, ohm.
    least: Vec<f64>,
}

/// The least resistance of each fault by its number, ohm; without bound where it is none.
fn least_ohms(rows: &[Row]) -> Vec<f64> {
    let count = rows.iter().filter_map(|row| row.fault).max();
    let mut least = vec![f64::INFINITY; count.map_or(0, |last| last + 1)];
    let ohms = |row: &Row| Some((row.fault?, row.resistance?.low));
    for (fault, ohms) in rows.iter().filter_map(ohms) {
        least[fault] = ohms.min(least[fault]);
    }
    least
}

impl Teller<'_> {
    fn line(&self, cell: &Cell, named: usize) -> OutcomeLine {
        let telling: Vec<&Meaning> = cell
            .meanings
            .iter()
            .filter(|meaning| meaning.seen != Seen::Never)
            .collect();
        OutcomeLine {
            reads: reads(cell.reads, self.dimension),
            good: cell.healthy,
            means: telling
                .iter()
                .take(named)
                .map(|meaning| self.meaning(meaning))
                .collect(),
            more: telling.len().saturating_sub(named),
            next: if named == NAMED {
                self.next(cell)
            } else {
                String::new()
            },
        }
    }

    fn meaning(&self, meaning: &Meaning) -> MeaningLine {
        let mut names: Vec<&str> = Vec::new();
        for row in meaning
            .rows
            .iter()
            .filter_map(|row| self.signatures.rows.get(*row))
        {
            if !names.contains(&row.says.as_str()) {
                names.push(&row.says);
            }
        }
        MeaningLine {
            says: names.join(", or "),
            repair: meaning.repair.clone(),
            ohms: meaning
                .resistance
                .map_or_else(String::new, |range| ohms(range, self.least(meaning))),
            seen: match meaning.seen {
                Seen::Always => "always",
                Seen::Depends => "depends",
                Seen::Never => "never",
            },
        }
    }

    /// The least resistance that the faults of a meaning can have at all, ohm.
    fn least(&self, meaning: &Meaning) -> f64 {
        let faults = meaning
            .rows
            .iter()
            .map(|row| self.signatures.rows[*row].fault);
        let own = faults.filter_map(|fault| self.least.get(fault?));
        own.copied().fold(f64::INFINITY, f64::min)
    }

    /// What to do after such a reading.
    fn next(&self, cell: &Cell) -> String {
        if cell.healthy {
            return self.next_in_order();
        }
        let telling = || {
            cell.meanings
                .iter()
                .filter(|meaning| meaning.seen != Seen::Never)
        };
        if let (Some(only), 1) = (telling().next(), telling().count()) {
            return only.repair.clone();
        }
        if let Some(title) = self.asked_for(cell) {
            return format!("go on to \u{201c}{title}\u{201d}");
        }
        let reading = match cell.reads {
            Reads::Between(span) => Observed::value((span.low + span.high) / 2.0),
            Reads::Floating => Observed::value(0.0),
            Reads::NoPath => Observed::NoPath,
            Reads::Still => Observed::NoChange,
        };
        let taken = [Observation {
            probe: self.probe,
            reading,
        }];
        let own = &self.signatures.probes[self.probe];
        let before = own.when.as_ref().map(|when| &when.test);
        let not_done = |probe: usize| {
            let test = &self.signatures.probes[probe].test;
            *test != own.test && Some(test) != before
        };
        let left = cell.meanings.iter().flat_map(|own| own.rows.clone());
        match self.planner.best(left, &taken, not_done) {
            Some(next) => {
                let title = &self.tests[self.reasoning.of_test[next]].title;
                format!("go on to \u{201c}{title}\u{201d}")
            }
            None => "no test here tells these apart".to_owned(),
        }
    }
}

impl Teller<'_> {
    /// The test of the order that is done only after such a reading of this one.
    fn asked_for(&self, cell: &Cell) -> Option<&str> {
        let own = &self.signatures.probes[self.probe].test;
        let healthy = self.signatures.healthy(self.probe);
        let low = healthy.intervals.first()?.low;
        let high = healthy.intervals.last()?.high;
        let is_low = match cell.reads {
            Reads::Between(span) => span.high <= low,
            Reads::Floating => true,
            Reads::NoPath | Reads::Still => false,
        };
        let is_high = matches!(cell.reads, Reads::Between(span) if high <= span.low);
        let waits = |when: &When| {
            let fits = match when.is {
                Condition::Low => is_low,
                Condition::High => is_high,
                Condition::Off => is_low || is_high,
                Condition::Good => false,
            };
            fits && when.test == *own
        };
        let probes = &self.signatures.probes;
        let place = probes
            .iter()
            .position(|probe| probe.when.as_ref().is_some_and(waits))?;
        let test = self.reasoning.of_test[place];
        (test < self.in_order).then(|| self.tests[test].title.as_str())
    }

    /// The test that follows in the card's order, conditions not met left out.
    fn next_in_order(&self) -> String {
        let own = self.reasoning.of_test[self.probe];
        let later = self.tests.iter().take(self.in_order).skip(own + 1);
        match later.into_iter().find(|test| test.when.is_empty()) {
            Some(test) if own < self.in_order => format!("go on to \u{201c}{}\u{201d}", test.title),
            _ => "the order ends here".to_owned(),
        }
    }
}

/// A stretch of readings: `4.87 to 5.13 V`.
pub(super) fn reads(reads: Reads, dimension: Dimension) -> String {
    match reads {
        Reads::Between(span) => write_reading(span, dimension),
        Reads::Floating => "near 0 V".to_owned(),
        Reads::NoPath => "no path: the meter shows its overload sign".to_owned(),
        Reads::Still => "no change: it stays what it was".to_owned(),
    }
}

/// A stretch of a fault's resistance: `from 12 kohm`, `5 to 80 ohm`; `up to 400 ohm` from the least it can have.
fn ohms(range: Interval, least: f64) -> String {
    let write = |number| {
        write_quantity(Quantity {
            number: two_digits(number),
            dimension: Dimension::Resistance,
        })
    };
    if range.high >= 1.0e6 {
        format!("from {}", write(range.low))
    } else if range.low <= least {
        format!("up to {}", write(range.high))
    } else {
        format!("{} to {}", write(range.low), write(range.high))
    }
}
