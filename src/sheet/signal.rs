//! The signal against its points, and the findings that need the solved circuit.
//!
//! In: a card, its states and hooked-up tests. Out: a [`SignalSheet`], findings. Never: solves.

use super::points;
use super::states::State;
use super::types::{Hooked, Sheet, SignalLine, SignalSheet};
use super::wiring::Wiring;
use crate::card::{Card, ObserveSpec, Plug, TestSpec};
use crate::circuit::Band;
use crate::finding::{Finding, kinds};
use crate::quantity::{Dimension, Interval, write_interval};

/// Whether a test reads the working signal: plugged in, volts, signal against sensor ground.
pub(super) fn reads_signal(card: &Card, test: &TestSpec) -> bool {
    let mated = test.plug != Plug::Unplugged && test.links.is_empty();
    match &test.observes {
        ObserveSpec::Volts { red, .. } => mated && points::node_name(card, &red.value) == "signal",
        ObserveSpec::Scan { input } => mated && points::node_name(card, &input.value) == "signal",
        _ => false,
    }
}

pub(super) fn stated(card: &Card, state: &str) -> Option<Interval> {
    card.signal
        .iter()
        .find(|point| point.at.value == state)
        .and_then(|point| point.reads.as_ref())
        .map(|reads| reads.value)
}

/// The signal against its points, from the first test that reads it.
pub(super) fn signal_sheet(
    card: &Card,
    states: &[State],
    hooked: &[Hooked],
    specs: &[&TestSpec],
    wiring: &Wiring,
) -> Option<SignalSheet> {
    let pin = card
        .pins
        .iter()
        .find(|pin| pin.role.value == "signal")?
        .label
        .value
        .clone();
    let test = specs.iter().position(|test| reads_signal(card, test))?;
    let line = |hooked: &Hooked| {
        let state = states.iter().find(|state| state.name == hooked.state)?;
        let band = hull(&hooked.band)?;
        let at = state.point.as_ref().and_then(|point| point.at_quantity);
        let ohms = state
            .follows
            .filter(|(_, dimension)| *dimension == Dimension::Resistance)
            .map(|(range, _)| range);
        let stated = state
            .point
            .as_ref()
            .and_then(|point| point.reads.as_ref())
            .map(|reads| reads.value);
        Some(SignalLine {
            at: hooked.state.clone(),
            x: at.map(|at| (at.number, at.dimension)),
            band,
            stated,
            ohms,
        })
    };
    let points: Vec<SignalLine> = hooked
        .iter()
        .filter(|hooked| hooked.test == test)
        .filter_map(line)
        .collect();
    let input = wiring
        .network
        .inputs()
        .iter()
        .find(|input| input.role == "signal");
    let top = points
        .iter()
        .map(|point| point.band.high)
        .fold(input.map_or(5.0, |input| input.full), f64::max);
    (!points.is_empty()).then(|| SignalSheet {
        pin,
        points,
        valid: input.and_then(|input| input.valid),
        full: top,
    })
}

fn hull(band: &Band) -> Option<Interval> {
    let (first, last) = (band.intervals.first()?, band.intervals.last()?);
    Some(Interval {
        low: first.low,
        high: last.high,
    })
}

/// Findings that need the solved circuit: a stated band that the circuit contradicts, an input limit inside the signal.
pub(super) fn check_limits(card: &Card, sheet: &Sheet, findings: &mut Vec<Finding>) {
    let Some(signal) = &sheet.signal else { return };
    for point in &signal.points {
        let Some(written) = card
            .signal
            .iter()
            .find(|written| written.at.value == point.at)
        else {
            continue;
        };
        let stated = written.reads.as_ref();
        if let Some(reads) = stated
            && (reads.value.high < point.band.low || point.band.high < reads.value.low)
        {
            let text = write_interval(point.band, Dimension::Voltage);
            let typed = write_interval(reads.value, Dimension::Voltage);
            findings.push(kinds::signal_point_out_of_reach(
                reads.place.clone(),
                &point.at,
                &typed,
                &text,
            ));
        }
        // What is worked out holds every tolerance; a good part in the middle of it must set no code.
        let middle = f64::midpoint(point.band.low, point.band.high);
        let (low, high, place) = match stated {
            Some(reads) => (reads.value.low, reads.value.high, &reads.place),
            None => (middle, middle, &written.at.place),
        };
        if let Some(valid) = signal.valid
            && (low < valid.low || valid.high < high)
        {
            let limits = write_interval(valid, Dimension::Voltage);
            findings.push(kinds::input_limit_inside_signal(
                place.clone(),
                &point.at,
                &limits,
            ));
        }
    }
}
