//! Reach: what a series resistance does, from where each test sees it, from where the module sets a code.
//!
//! In: a network, probes, continuous faults, the module's input in each state. Out: resistances and
//! readings. Never: words for a reader, kelvin (the sheet turns readings into what the part measures).

use super::crossing::{Aim, crossing};
use super::sight::Sight;
use super::signature::{FaultSights, Signatures};
use crate::circuit::fault::{Fault, FaultKind};
use crate::circuit::solve::{self, Values};
use crate::circuit::{CircuitError, HookUp, Network, Observe, ParameterId, Reading, Site, Sweep};
use crate::quantity::{Interval, maths};

/// What a series resistance in one place does.
#[derive(Clone, Debug, PartialEq)]
pub struct Reach {
    /// Which of the faults given.
    pub fault: usize,
    /// Its name.
    pub name: String,
    /// Where it sits.
    pub site: Site,
    /// From where each probe sees it, in the order of the probes.
    pub tests: Vec<TestReach>,
    /// What it does to the signal, in the order of the signals.
    pub effects: Vec<Effect>,
}

/// From where a probe sees a series resistance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TestReach {
    /// Which probe.
    pub probe: usize,
    /// Below this it never shows, ohm; none where it never shows.
    pub first: Option<f64>,
    /// From here a circuit whose parts are all nominal shows it, ohm.
    pub nominal: Option<f64>,
    /// From here it always shows, ohm.
    pub always: Option<f64>,
}

/// A signal whose change is of interest: the module's input in one state of the part.
#[derive(Clone, Debug, PartialEq)]
pub struct Signal {
    /// State of the part, for the reader.
    pub state: String,
    /// Plugged in, key on, observing the input.
    pub hookup: HookUp,
}

/// What a series resistance does to a signal.
#[derive(Clone, Debug, PartialEq)]
pub struct Effect {
    /// State of the part.
    pub state: String,
    /// Reading without it, every part nominal; none where it floats.
    pub healthy: Option<f64>,
    /// Readings over the resistances of [`decades`], for a chart and its table.
    pub points: Vec<Point>,
    /// From where the module sets a code; none where it never does, or the input has no limits.
    pub code: Option<Code>,
}

/// A reading at a resistance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Series resistance, ohm.
    pub ohms: f64,
    /// Reading, every part nominal; none where it floats.
    pub reading: Option<f64>,
}

/// From where the module sets a code.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Code {
    /// Series resistance, ohm, every part nominal.
    pub ohms: f64,
    /// Which limit the reading passes.
    pub limit: Limit,
}

/// A limit of an input.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Limit {
    /// The reading falls below the valid range.
    Low,
    /// The reading rises above it.
    High,
}

/// Points a decade of a chart: enough for a smooth curve.
const PER_DECADE: i32 = 3;

/// A nominal reading this near a limit, volts, is at it.
const NEAR: f64 = 1e-4;

/// Reach of every series resistance among the faults given; the signatures are those of the same faults, of all variants
/// of the circuit; a test that watches a value which need not follow its pin there sees nothing; `network` is the first variant.
///
/// # Errors
/// Those of solving.
pub fn reach(
    network: &Network,
    signatures: &Signatures,
    faults: &[Fault],
    signals: &[Signal],
) -> Result<Vec<Reach>, CircuitError> {
    let sights = &signatures.sights;
    let signals = signals
        .iter()
        .map(|signal| Ok((signal, nominal(network, &signal.hookup)?)))
        .collect::<Result<Vec<_>, CircuitError>>()?;
    let test = |probe: usize, seen: Sight| {
        let sight = match signatures.proves(probe) {
            true => seen,
            false => Sight::default(),
        };
        TestReach {
            probe,
            first: sight.first,
            nominal: sight.nominal,
            always: sight.always,
        }
    };
    let mut all = Vec::new();
    let first = sights.iter().filter(|sights| sights.variant == 0);
    for of_first in first {
        let sights = widest(sights, of_first);
        let Some(fault) = faults.get(sights.fault) else {
            continue;
        };
        let (FaultKind::High, Some(range)) = (fault.kind, fault.range) else {
            continue;
        };
        let faulty = fault.apply(network);
        let Some(ohms) = fault.ranging(&faulty) else {
            continue;
        };
        let tests = sights.by_probe.iter().enumerate();
        all.push(Reach {
            fault: sights.fault,
            name: fault.name.clone(),
            site: fault.site.clone(),
            tests: tests.map(|(probe, sight)| test(probe, *sight)).collect(),
            effects: effects(&faulty, (ohms, range), &signals)?,
        });
    }
    Ok(all)
}

/// From where each probe sees a fault whatever the variant: it may first show where it does in any of them, and always
/// shows where it does in all.
fn widest(sights: &[FaultSights], of_first: &FaultSights) -> FaultSights {
    let mut all = of_first.clone();
    let others = sights.iter().filter(|one| one.fault == of_first.fault);
    for other in others {
        for (kept, own) in all.by_probe.iter_mut().zip(&other.by_probe) {
            let least = [kept.first, own.first].into_iter().flatten();
            kept.first = least.reduce(f64::min);
            let greatest = |a: Option<f64>, b: Option<f64>| Some(a?.max(b?));
            kept.nominal = greatest(kept.nominal, own.nominal);
            kept.always = greatest(kept.always, own.always);
        }
    }
    all
}

/// A faulty circuit in the hook-up of one signal, its series resistance free to move.
struct Series<'a> {
    sweep: Sweep<'a>,
    range: Interval,
}

impl Series<'_> {
    /// The least resistance at which a growing measure of the nominal reading passes zero.
    fn least_with(
        &mut self,
        measure: impl Fn(&Reading) -> f64,
    ) -> Result<Option<f64>, CircuitError> {
        let Interval { low, high } = self.range;
        let mut at = |ohms| Ok(self.sweep.reading(ohms));
        let mut looks = Vec::new();
        for ohms in [low, maths::sqrt(low * high), high] {
            looks.push((ohms, at(ohms)?));
        }
        crossing(&mut looks, &mut at, measure, Aim::After(NEAR))
    }

    fn points(&mut self) -> Vec<Point> {
        decades(self.range)
            .into_iter()
            .map(|ohms| Point {
                ohms,
                reading: number(self.sweep.reading(ohms)),
            })
            .collect()
    }

    /// From where a reading leaves the input's valid range.
    fn code(&mut self, valid: Interval) -> Result<Option<Code>, CircuitError> {
        let below = |reading: &Reading| number(*reading).map_or(-1.0, |value| valid.low - value);
        let above = |reading: &Reading| number(*reading).map_or(-1.0, |value| value - valid.high);
        let limits = [
            (self.least_with(below)?, Limit::Low),
            (self.least_with(above)?, Limit::High),
        ];
        let mut passed = limits
            .into_iter()
            .filter_map(|(ohms, limit)| ohms.map(|ohms| Code { ohms, limit }));
        Ok(passed.next())
    }
}

/// What a series resistance does to each signal.
fn effects(
    faulty: &Network,
    (ohms, range): (ParameterId, Interval),
    signals: &[(&Signal, Option<f64>)],
) -> Result<Vec<Effect>, CircuitError> {
    let each = signals.iter().map(|(signal, healthy)| {
        let mut series = Series {
            sweep: Sweep::of(faulty, &signal.hookup, ohms)?,
            range,
        };
        Ok(Effect {
            state: signal.state.clone(),
            healthy: *healthy,
            points: series.points(),
            code: match valid(faulty, &signal.hookup) {
                Some(valid) => series.code(valid)?,
                None => None,
            },
        })
    });
    each.collect()
}

/// The valid range of the input that is observed.
fn valid(network: &Network, hookup: &HookUp) -> Option<Interval> {
    let Observe::Scan { input } = hookup.observe else {
        return None;
    };
    network.inputs().get(input)?.valid
}

/// The reading of a healthy circuit with every part nominal; none where it floats or hunts.
fn nominal(network: &Network, hookup: &HookUp) -> Result<Option<f64>, CircuitError> {
    match solve::read(network, hookup, &Values::nominal(network, &hookup.setting)) {
        Err(CircuitError::NoState) => Ok(None),
        read => read.map(number),
    }
}

fn number(reading: Reading) -> Option<f64> {
    match reading {
        Reading::Value(value) => Some(value),
        Reading::Floating | Reading::NoPath => None,
    }
}

/// Resistances for a chart: the ends of the range and [`PER_DECADE`] points a decade between, whole
/// decades among them.
pub fn decades(range: Interval) -> Vec<f64> {
    let mut all = vec![range.low];
    let mut step = 0;
    let first = maths::log10(range.low).floor();
    loop {
        let decade = maths::pow(10.0, first + f64::from(step / PER_DECADE));
        let ohms = decade * maths::pow(10.0, f64::from(step % PER_DECADE) / f64::from(PER_DECADE));
        step += 1;
        if !(ohms.is_finite() && ohms < range.high) {
            break;
        }
        if ohms > range.low * 1.01 {
            all.push(ohms);
        }
    }
    all.push(range.high);
    all
}

/// The value of a parameter with which a healthy circuit would give a reading: what the module takes a
/// faulty circuit for (a thermistor's resistance, to be turned into kelvin). None where no value between
/// the bounds does. The reading must move one way with the parameter.
///
/// # Errors
/// Those of solving.
pub fn looks_like(
    network: &Network,
    hookup: &HookUp,
    parameter: ParameterId,
    between: Interval,
    reading: f64,
) -> Result<Option<f64>, CircuitError> {
    let mut sweep = Sweep::of(network, hookup, parameter)?;
    let mut at = |value: f64| number(sweep.reading(value));
    let (Some(first), Some(last)) = (at(between.low), at(between.high)) else {
        return Ok(None);
    };
    if (reading - first) * (reading - last) > 0.0 {
        return Ok(None);
    }
    let rises = last > first;
    let Interval { mut low, mut high } = between;
    // Halving by the mean of the logarithms, exact to the last digits of a reading.
    for _ in 0..50 {
        let middle = maths::sqrt(low * high);
        match at(middle) {
            Some(value) if (value < reading) == rises => low = middle,
            Some(_) => high = middle,
            None => return Ok(None),
        }
    }
    Ok(Some(maths::sqrt(low * high)))
}
