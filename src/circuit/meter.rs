//! The meter: resolution, accuracy, and what it shows on a lead that nothing holds.
//!
//! In: a true value. Out: the interval its display may show. Never: circuits.

use super::Meter;
use crate::quantity::{Dimension, Interval};

/// What a meter shows between two points that only the meter joins: its input resistance pulls the lead
/// towards the other one, stray fields move it. Common practice, no source.
pub const FLOATING_SHOWS: Interval = Interval {
    low: -0.3,
    high: 0.3,
};

/// Resistance of the meter as an ammeter, ohm. Common practice, no source.
pub const SHUNT: f64 = 0.01;

/// Above this an ohmmeter shows its overload sign, ohm. Common practice, no source.
pub const OHMS_OVERLOAD: f64 = 60e6;

impl Meter {
    /// The meter most workshops own: 10 Mohm, 0.5 % + 2 counts, 6000 counts. Common practice, no source.
    pub fn common() -> Self {
        Self {
            input: 10e6,
            of_reading: 0.005,
            counts: 2.0,
            display: 6000.0,
        }
    }

    /// Value of one count on the volts range that shows `value` best.
    pub fn resolution(&self, value: f64) -> f64 {
        self.resolution_of(value, Dimension::Voltage)
    }

    /// What the display may show at this true voltage.
    pub fn interval(&self, value: f64) -> Interval {
        self.interval_of(value, Dimension::Voltage)
    }

    /// Value of one count on the range that shows `value` best: a power of ten, never finer than 1 mV,
    /// 0.1 ohm, 10 microampere.
    pub fn resolution_of(&self, value: f64, dimension: Dimension) -> f64 {
        let mut one = finest(dimension);
        // Seventeen decades reach past any number a circuit of ours can give.
        for _ in 0..17 {
            if value.abs() <= self.display * one {
                break;
            }
            one *= 10.0;
        }
        one
    }

    /// What the display may show at this true value, on the range that shows it best.
    pub fn interval_of(&self, value: f64, dimension: Dimension) -> Interval {
        self.interval_at(value, self.resolution_of(value, dimension))
    }

    /// `value ± (of_reading x |value| + counts x resolution)`: the rule on every data sheet of a meter.
    pub fn interval_at(&self, value: f64, resolution: f64) -> Interval {
        let error = self.of_reading * value.abs() + self.counts * resolution;
        Interval {
            low: value - error,
            high: value + error,
        }
    }

    /// What the display may show for any true value of an interval. Where a range ends inside it, the
    /// coarser range just beyond can reach further than the ends do.
    pub fn widen(&self, truth: Interval, dimension: Dimension) -> Interval {
        let ends = [
            self.interval_of(truth.low, dimension),
            self.interval_of(truth.high, dimension),
        ];
        let mut seen = Interval {
            low: ends[0].low.min(ends[1].low),
            high: ends[0].high.max(ends[1].high),
        };
        let mut one = finest(dimension);
        let reach = truth.low.abs().max(truth.high.abs());
        while self.display * one < reach {
            let edge = self.display * one;
            for edge in [edge, -edge] {
                if truth.low < edge && edge < truth.high {
                    let beyond = self.interval_at(edge, one * 10.0);
                    seen.low = seen.low.min(beyond.low);
                    seen.high = seen.high.max(beyond.high);
                }
            }
            one *= 10.0;
        }
        seen
    }
}

fn finest(dimension: Dimension) -> f64 {
    match dimension {
        Dimension::Resistance => 0.1,
        Dimension::Current => 1e-5,
        _ => 1e-3,
    }
}
