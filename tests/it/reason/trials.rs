//! Trials: a fault drawn, its parts drawn inside their tolerances, read with the meter's error; the true fault
//! must stay among the suspects. Law, no source: elimination by bands is safe if and only if bands hold.

use super::bench::{all_faults, three_wire, two_wire};
use crate::circuit::build::Sketch;
use loomleaf::circuit::fault::Fault;
use loomleaf::circuit::{
    FLOATING_SHOWS, HookUp, Network, Observe, ParameterId, Reading, Values, solve,
};
use loomleaf::quantity::{Dimension, maths};
use loomleaf::reason::{Observation, Observed, Probe, signatures, suspects};

/// Trials a circuit.
const TRIALS: usize = 400;

/// A generator of its own (xorshift64*, Vigna 2016), so that every run draws the same.
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    /// A number from 0 to 1.
    pub(crate) fn roll(&mut self) -> f64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        let bits = self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 33;
        f64::from(u32::try_from(bits).unwrap()) / f64::from(u32::MAX >> 1)
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + self.roll() * (high - low)
    }

    pub(crate) fn pick(&mut self, count: usize) -> usize {
        let place =
            (0..count).find(|_| self.roll() * f64::from(u32::try_from(count).unwrap()) < 1.0);
        place.unwrap_or(0)
    }
}

/// One vehicle: its circuit with every part somewhere inside its limits.
pub(crate) fn draw(network: &Network, dice: &mut Dice, hookup: &HookUp) -> Values {
    let mut values = Values::nominal(network, &hookup.setting);
    for place in 0..network.parameters().len() {
        let limits = network.limits(ParameterId(place), &hookup.setting);
        let edge = dice.roll();
        // Corners are where bands are tight: every third part sits on one.
        let value = if edge < 0.17 {
            limits.low
        } else if edge < 0.34 {
            limits.high
        } else if 0.0 <= limits.low && 100.0 * limits.low < limits.high {
            // By decades, or next to none would be small.
            let low = limits.low.max(1e-6 * limits.high);
            maths::exp(dice.between(maths::ln(low), maths::ln(limits.high)))
        } else {
            dice.between(limits.low, limits.high)
        };
        values.set(ParameterId(place), value);
    }
    values
}

pub(crate) fn shown(
    reading: Reading,
    dice: &mut Dice,
    network: &Network,
    hookup: &HookUp,
) -> Observed {
    let error = match (reading, &hookup.observe) {
        (Reading::NoPath, _) => return Observed::NoPath,
        (Reading::Floating, Observe::Scan { input }) => {
            return Observed::value(dice.between(0.0, network.inputs()[*input].full));
        }
        (Reading::Floating, _) => {
            return Observed::value(dice.between(FLOATING_SHOWS.low, FLOATING_SHOWS.high));
        }
        (Reading::Value(value), Observe::Scan { input }) => {
            let full = network.inputs()[*input].full;
            let step = full / 1023.0;
            let (low, high) = ((value - step).max(0.0), (value + step).min(full));
            return Observed::value(dice.between(low, high));
        }
        (Reading::Value(value), Observe::Ohms { .. }) => {
            hookup.meter.interval_of(value, Dimension::Resistance)
        }
        (Reading::Value(value), Observe::Amps { .. }) => {
            hookup.meter.interval_of(value, Dimension::Current)
        }
        (Reading::Value(value), Observe::Volts { .. }) => hookup.meter.interval(value),
    };
    Observed::value(dice.between(error.low, error.high))
}

#[allow(clippy::print_stdout, reason = "a measure for whoever tunes the tests")]
fn check_never_eliminated(sketch: &Sketch, probes: &[Probe], seed: u64) {
    let faults = all_faults(sketch);
    let known = signatures(&sketch.network, probes, &faults).unwrap();
    let mut dice = Dice(seed);
    let mut left = 0_u32;
    let mut done = 0_u32;
    for _ in 0..TRIALS {
        let number = dice.pick(faults.len());
        let (fault, ohms) = exact(&faults[number], &mut dice);
        let network = fault.apply(&sketch.network);
        let values = draw(&network, &mut dice, &probes[0].hookup);
        let read = |(probe, asked): (usize, &Probe)| {
            // A point of the box without a steady state reads nothing that could be typed in.
            let reading = solve::read(&network, &asked.hookup, &values).ok()?;
            let reading = shown(reading, &mut dice, &network, &asked.hookup);
            Some(Observation { probe, reading })
        };
        let observations: Vec<Observation> = probes.iter().enumerate().filter_map(read).collect();
        let truth = known.rows.iter().enumerate().any(|(row, own)| {
            own.fault == Some(number)
                && own
                    .resistance
                    .is_none_or(|span| span.low <= ohms && ohms <= span.high)
                && observations.iter().all(|one| known.fits(row, one))
        });
        assert!(truth, "{} at {ohms} ohm, {observations:?}", fault.name);
        left += u32::try_from(suspects(&known, &observations).left.len()).unwrap();
        done += 1;
    }
    let mean = f64::from(left) / f64::from(done);
    println!("{TRIALS} trials, mean number of repairs left: {mean:.2}");
    assert!(mean < 8.0, "mean number of repairs left: {mean}");
}

pub(crate) fn exact(fault: &Fault, dice: &mut Dice) -> (Fault, f64) {
    match fault.range {
        None => (fault.clone(), 0.0),
        Some(range) => {
            let decades = dice.between(maths::ln(range.low), maths::ln(range.high));
            let ohms = maths::exp(decades).clamp(range.low, range.high);
            (fault.narrowed(ohms, ohms), ohms)
        }
    }
}

/// Two-wire sensor.
#[test]
fn the_true_fault_of_a_two_wire_sensor_is_never_eliminated() {
    let (sketch, probes) = two_wire();
    check_never_eliminated(&sketch, &probes, 0x5EED_0001);
}

/// Three-wire potentiometer.
#[test]
fn the_true_fault_of_a_three_wire_sensor_is_never_eliminated() {
    let (sketch, probes) = three_wire();
    check_never_eliminated(&sketch, &probes, 0x5EED_0002);
}
