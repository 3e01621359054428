//! Solving a circuit backwards: which value of a part gives the reading that a card states?
//!
//! In: a followed parameter, the wiring, a stated band. Out: the parameter's limits, or a finding that the
//! circuit cannot read so. Never: curves; those need no circuit.

use super::wiring::{Followed, Wiring};
use crate::card::{Family, Placed, SignalPoint};
use crate::circuit::{CircuitError, HookUp, Meter, Observe, Reading, Setting, Sweep};
use crate::finding::{Finding, kinds};
use crate::quantity::maths::{exp, ln};
use crate::quantity::{Dimension, Interval, Toleranced, write_interval};

/// Readings nearer than this are the same, volts: a thousandth of what a meter shows.
const NEAR: f64 = 1e-7;

/// One parameter to be found.
pub(super) struct Backwards<'a> {
    pub family: &'a Family,
    pub wiring: &'a Wiring,
    pub followed: &'a Followed,
    /// What the point has set already.
    pub known: &'a Setting,
}

impl Backwards<'_> {
    /// The limits of the parameter that give the limits of the reading.
    pub(super) fn range(
        &self,
        point: &SignalPoint,
        reads: &Placed<Interval>,
        findings: &mut Vec<Finding>,
    ) -> Result<Option<Toleranced>, CircuitError> {
        let between = self.followed.between;
        let hookup = self.hookup()?;
        let mut sweep = Sweep::of(&self.wiring.network, &hookup, self.followed.parameter)?;
        let ends = (
            volts(&mut sweep, between.low),
            volts(&mut sweep, between.high),
        );
        let reach = Interval {
            low: ends.0.min(ends.1),
            high: ends.0.max(ends.1),
        };
        let asked = reads.value;
        if asked.high < reach.low || reach.high < asked.low {
            findings.push(kinds::signal_point_out_of_reach(
                reads.place.clone(),
                &point.at.value,
                &write_interval(asked, Dimension::Voltage),
                &write_interval(reach, Dimension::Voltage),
            ));
            return Ok(None);
        }
        let a = self.value_for(asked.low, ends, &mut sweep);
        let b = self.value_for(asked.high, ends, &mut sweep);
        let nominal = self.value_for(f64::midpoint(asked.low, asked.high), ends, &mut sweep);
        let (low, high) = (a.min(b), a.max(b));
        Ok(Some(Toleranced {
            low,
            nominal: nominal.clamp(low, high),
            high,
        }))
    }

    /// False position with the Illinois step, on a logarithmic scale for a resistance; a target outside
    /// the reach gives the nearer bound.
    fn value_for(&self, target: f64, ends: (f64, f64), sweep: &mut Sweep) -> f64 {
        let logarithmic =
            self.followed.dimension == Dimension::Resistance && self.followed.between.low > 0.0;
        let there = |value: f64| if logarithmic { ln(value) } else { value };
        let back = |scaled: f64| if logarithmic { exp(scaled) } else { scaled };
        let (mut a, mut b) = (
            there(self.followed.between.low),
            there(self.followed.between.high),
        );
        let (mut off_a, mut off_b) = (ends.0 - target, ends.1 - target);
        if off_a * off_b >= 0.0 {
            return back(if off_a.abs() < off_b.abs() { a } else { b });
        }
        for _ in 0..100 {
            // An end kept twice counts half (Illinois), so that a flat end cannot hold the search for long.
            let middle = (a * off_b - b * off_a) / (off_b - off_a);
            let off = volts(sweep, back(middle)) - target;
            if off.abs() < NEAR || (b - a).abs() < 1e-12 {
                return back(middle);
            }
            if off * off_b < 0.0 {
                (a, off_a) = (b, off_b);
            } else {
                off_a /= 2.0;
            }
            (b, off_b) = (middle, off);
        }
        back(b)
    }

    /// The pin, plugged in, against its own ground pin.
    fn hookup(&self) -> Result<HookUp, CircuitError> {
        let network = &self.wiring.network;
        let observe = Observe::Volts {
            red: network.find(&self.followed.role)?,
            black: network.find(self.ground())?,
        };
        Ok(HookUp {
            mated: true,
            powered: true,
            links: Vec::new(),
            observe,
            setting: self.known.clone(),
            meter: Meter::common(),
        })
    }

    /// The ground pin that goes with the signal pin: `ground 2` with `signal 2`, where there is one.
    fn ground(&self) -> &str {
        let numbered = self
            .followed
            .role
            .rsplit_once(' ')
            .map(|(_, number)| format!("ground {number}"));
        let has = |name: &str| {
            self.family
                .roles
                .iter()
                .find(|role| *role == name)
                .map(String::as_str)
        };
        numbered
            .and_then(|name| has(&name))
            .or_else(|| has("ground"))
            .unwrap_or("good ground")
    }
}

/// The pin's reading with this value and all else nominal.
fn volts(sweep: &mut Sweep, value: f64) -> f64 {
    match sweep.reading(value) {
        Reading::Value(volts) => volts,
        Reading::Floating | Reading::NoPath => 0.0,
    }
}
