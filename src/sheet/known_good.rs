//! Known-good readings: what a shop recorded, held against the computed band and against each other.
//!
//! In: a deck's recorded readings and the sheet of their card. Out: [`KnownGood`] groups, one a test and state, and
//! findings for every row that is not used. Never: a change of any computed or stated band.

use super::known_good_types::{KnownGood, KnownReading, LeftOut, Stands};
use super::taken::{bare, place_name, probe_named, take_at};
use super::types::Sheet;
use super::verdict_words::band_words;
use crate::calc::outlier::farthest;
use crate::calc::tolerance::{Claim, FEWEST, MOST, Spread, USUAL, spread, two_sided};
use crate::card::{Deck, RecordedReading};
use crate::circuit::Observe;
use crate::finding::{Finding, kinds};
use crate::quantity::{Dimension, Interval, Quantity, write_quantity};
use crate::reason::{Observation, Observed, Probe};
use std::collections::{BTreeMap, BTreeSet};

/// A reading that good ones give less often than this is doubtful: the customary level of Grubbs' test for leaving
/// a reading out (NIST/SEMATECH e-Handbook 1.3.5.17.1; 1 % by common practice).
const DOUBTFUL_BELOW: f64 = 0.01;

/// A row that could be read at its test.
struct Row<'a> {
    recorded: &'a RecordedReading,
    known: KnownReading,
    observation: Observation,
    /// Half of the last digit typed.
    within: f64,
}

/// What was recorded for a sheet's card, in the order of its tests.
pub fn known_good(deck: &Deck, sheet: &Sheet) -> (Vec<KnownGood>, Vec<Finding>) {
    let mut findings = Vec::new();
    let mut groups: BTreeMap<usize, Vec<Row<'_>>> = BTreeMap::new();
    for recorded in deck.readings.get(&sheet.card).into_iter().flatten() {
        if let Some((probe, row)) = row(sheet, recorded, &mut findings) {
            groups.entry(probe).or_default().push(row);
        }
    }
    let spec = deck.known_good;
    let claim = Claim::new(spec.confidence, spec.coverage).unwrap_or(USUAL);
    let known = groups.into_iter().filter_map(|(probe, mut rows)| {
        leave_out_strangers(sheet, probe, &mut rows, &mut findings);
        leave_out_doubtful(sheet, probe, &mut rows, &mut findings);
        group(sheet, probe, rows, claim)
    });
    (known.collect(), findings)
}

/// How a reading stands to what a good circuit gives, within tolerances and the digits typed.
pub fn stands(sheet: &Sheet, observation: &Observation) -> Stands {
    let signatures = &sheet.reasoning.signatures;
    let rows = signatures.rows.iter().enumerate();
    let mut told = false;
    for (at, _) in rows.filter(|(_, row)| row.fault.is_none()) {
        if signatures.telling(at, observation.probe).is_none() {
            continue;
        }
        told = true;
        if signatures.fits(at, observation) {
            return Stands::Inside;
        }
    }
    match told {
        true => Stands::Outside,
        false => Stands::NotHeld,
    }
}

/// The probe of a row and what was read there, or a finding.
fn row<'a>(
    sheet: &Sheet,
    recorded: &'a RecordedReading,
    findings: &mut Vec<Finding>,
) -> Option<(usize, Row<'a>)> {
    let probe = probe_of(sheet, recorded, findings)?;
    let typed = &recorded.reading;
    let mut misread = |says: &str| {
        let example = example(sheet, probe);
        findings.push(kinds::misread_reading(&typed.place, says, example));
        None
    };
    let taken = match take_at(sheet, probe, &typed.value) {
        Ok(taken) => taken,
        Err(mistaken) => return misread(&mistaken.says),
    };
    // The unit of a bare number is added where a person is asked; in a file it may as well be a decimal comma's rest.
    let bare_number = !typed.value.contains(char::is_alphabetic) && !typed.value.contains('Ω');
    let (number, within) = match taken.observation.reading {
        _ if bare_number => return misread(&format!("`{}` has no unit", typed.value)),
        Observed::Floating => (None, 0.0),
        Observed::Value { number, within } if number.is_finite() => (Some(number), within),
        Observed::NoPath => (None, 0.0),
        _ => {
            return misread(&format!(
                "`{}` is no reading of a good circuit",
                typed.value
            ));
        }
    };
    let known = KnownReading {
        date: recorded.date,
        vehicle: recorded.vehicle.clone(),
        typed: taken.typed,
        number,
        left_out: None,
    };
    let observation = taken.observation;
    Some((
        probe,
        Row {
            recorded,
            known,
            observation,
            within,
        },
    ))
}

fn probe_of(
    sheet: &Sheet,
    recorded: &RecordedReading,
    findings: &mut Vec<Finding>,
) -> Option<usize> {
    let (test, state) = (&recorded.test.value, &recorded.state.value);
    if !sheet.tests.iter().any(|known| known.id == *test) {
        let tests: Vec<&str> = sheet.tests.iter().map(|test| test.id.as_str()).collect();
        findings.push(kinds::unknown_test_of_reading(
            &recorded.test.place,
            test,
            &tests,
        ));
        return None;
    }
    let place = match state.as_str() {
        "" => test.clone(),
        state => format!("{test}@{state}"),
    };
    match probe_named(sheet, &place) {
        Ok(probe) => Some(probe),
        Err(mistaken) => {
            let states: Vec<&str> = mistaken.all.iter().map(String::as_str).collect();
            findings.push(kinds::unknown_state_of_reading(
                &recorded.state.place,
                test,
                state,
                &states,
            ));
            None
        }
    }
}

fn example(sheet: &Sheet, probe: usize) -> &'static str {
    match sheet.dimension_at(probe) {
        Dimension::Resistance => "2.8 kohm",
        Dimension::Current => "7.1 mA",
        _ => "5.03 V",
    }
}

/// Marks readings that no good circuit gives.
fn leave_out_strangers(
    sheet: &Sheet,
    probe: usize,
    rows: &mut [Row<'_>],
    findings: &mut Vec<Finding>,
) {
    for row in rows {
        if stands(sheet, &row.observation) != Stands::Outside {
            continue;
        }
        let healthy = sheet.reasoning.signatures.healthy(probe);
        row.known.left_out = Some(LeftOut::OutOfBand);
        let band = band_words(&healthy, sheet.dimension_at(probe));
        findings.push(kinds::reading_out_of_band(
            &row.recorded.reading.place,
            &row.known.typed,
            &band,
        ));
    }
}

/// Marks readings that stand too far from the others, the farthest first, while enough are left.
///
/// Readings that differ by less than the meter's own error are never doubtful: where all but one show the same
/// digits, any other digit would be.
fn leave_out_doubtful(
    sheet: &Sheet,
    probe: usize,
    rows: &mut [Row<'_>],
    findings: &mut Vec<Finding>,
) {
    loop {
        let used: Vec<(usize, f64)> = numbers(rows);
        let readings: Vec<f64> = used.iter().map(|(_, number)| *number).collect();
        if readings.len() < FEWEST {
            return;
        }
        let (Some(far), Some(all)) = (farthest(&readings), spread(&readings)) else {
            return;
        };
        let (at, number) = used[far.at];
        let slack = slack(sheet, probe, all.mean, rows[at].within);
        if far.chance >= DOUBTFUL_BELOW || (number - all.mean).abs() <= slack {
            return;
        }
        rows[at].known.left_out = Some(LeftOut::Doubtful);
        let mean = Quantity {
            number: all.mean,
            dimension: sheet.dimension_at(probe),
        };
        findings.push(kinds::doubtful_reading(
            &rows[at].recorded.reading.place,
            &rows[at].known.typed,
            all.count,
            &write_quantity(mean),
        ));
    }
}

/// Places and numbers of the rows that are used and are numbers.
fn numbers(rows: &[Row<'_>]) -> Vec<(usize, f64)> {
    let used = rows.iter().enumerate();
    used.filter(|(_, row)| row.known.left_out.is_none())
        .filter_map(|(at, row)| Some((at, row.known.number?)))
        .collect()
}

/// How far two meters may differ at this value; for a scan value, the last digit typed.
fn slack(sheet: &Sheet, probe: usize, value: f64, within: f64) -> f64 {
    let dimension = sheet.dimension_at(probe);
    let by_meter = |probe: &Probe| match probe.hookup.observe {
        Observe::Scan { .. } => 0.0,
        _ => {
            let shown = probe.hookup.meter.interval_of(value, dimension);
            shown.width() / 2.0
        }
    };
    let probe = sheet.reasoning.signatures.probes.get(probe);
    probe.map_or(0.0, by_meter).max(2.0 * within)
}

fn group(sheet: &Sheet, probe: usize, rows: Vec<Row<'_>>, claim: Claim) -> Option<KnownGood> {
    let numbers: Vec<f64> = numbers(&rows)
        .into_iter()
        .map(|(_, number)| number)
        .collect();
    let readings: Vec<KnownReading> = rows.into_iter().map(|row| row.known).collect();
    let known = sheet.reasoning.signatures.probes.get(probe)?;
    let test = *sheet.reasoning.of_test.get(probe)?;
    let used = readings.iter().filter(|one| one.left_out.is_none());
    let used: Vec<&KnownReading> = match used.clone().count() {
        0 => readings.iter().collect(),
        _ => used.collect(),
    };
    let named = used.iter().map(|one| one.vehicle.to_lowercase());
    let vehicles: BTreeSet<String> = named.filter(|name| !name.is_empty()).collect();
    let spread = spread(&numbers);
    let expected = &sheet.tests.get(test)?.expected;
    let stated = expected.iter().find(|line| line.state == known.state);
    Some(KnownGood {
        test,
        probe,
        state: bare(&known.state),
        place: place_name(sheet, probe),
        computed: sheet.reasoning.signatures.healthy(probe),
        stated: stated.and_then(|line| line.stated),
        spread,
        interval: spread.and_then(|spread| interval(spread, claim)),
        claim,
        from: used.iter().map(|one| one.date).min()?,
        to: used.iter().map(|one| one.date).max()?,
        vehicles: vehicles.len(),
        readings,
    })
}

/// `mean ± k s`, beyond the most readings with the factor of that many, which claims no less; none under five
/// readings, where it would say little, or where they do not differ: then the meter's digit is wider than their
/// spread.
fn interval(spread: Spread, claim: Claim) -> Option<Interval> {
    if spread.count < FEWEST || spread.deviation <= 0.0 {
        return None;
    }
    let reach = two_sided(spread.count.min(MOST), claim)? * spread.deviation;
    Interval::new(spread.mean - reach, spread.mean + reach)
}
