//! Sweeping: one hook-up asked again and again while one parameter takes other values.
//!
//! In: a [`Network`], a [`HookUp`], a parameter. Out: the nominal reading at a value of it, the band over a part
//! of its range. Compiled once, so that a resistance can be followed over six decades at the price of its
//! readings alone. Never: choosing values.

use super::band::hunting;
use super::branch::Kind;
use super::compile::Circuit;
use super::reduce::Moving;
use super::solve::reading;
use super::space::Space;
use super::{Band, Bands, CircuitError, HookUp, Network, ParameterId, Reading};
use crate::quantity::{Interval, Toleranced, maths};

/// A network in one hook-up, with one parameter free to move.
#[derive(Debug)]
pub struct Sweep<'a> {
    network: &'a Network,
    hookup: &'a HookUp,
    parameter: ParameterId,
    circuit: Circuit,
    space: Space,
    moving: Option<Moving>,
}

impl<'a> Sweep<'a> {
    /// Compiles the network in this hook-up.
    ///
    /// # Errors
    /// [`CircuitError::OhmsLive`], unknown nodes or inputs, limits that are not finite numbers in order.
    pub fn of(
        network: &'a Network,
        hookup: &'a HookUp,
        parameter: ParameterId,
    ) -> Result<Self, CircuitError> {
        let mut space = Space::of(network, hookup)?;
        let (mut circuit, moving) = Circuit::reduced(network, hookup, &mut space, Some(parameter))?;
        circuit.number();
        Ok(Self {
            network,
            hookup,
            parameter,
            circuit,
            space,
            moving,
        })
    }

    /// False where the reading is the same wherever the parameter is.
    pub fn is_felt(&self) -> bool {
        self.moving.is_some_and(|moving| moving.is_felt())
    }

    /// Whether a reading can turn back as the parameter grows: some branch changes its piece, and not only a regulator's
    /// limit. In any other circuit a reading follows `(a + b x) / (1 + c x)`.
    pub fn may_turn(&self) -> bool {
        let kinds = self.circuit.branches.iter().map(|branch| branch.kind);
        let mut bent = kinds.map(|kind| {
            matches!(
                kind,
                Kind::Gated { .. } | Kind::Sink { .. } | Kind::Diode { .. }
            )
        });
        bent.any(|bent| bent)
    }

    /// The reading with the parameter at this value and all others nominal; floating where the circuit finds no
    /// steady state, since a reading that hunts is no number to hold on to.
    pub fn reading(&mut self, value: f64) -> Reading {
        if let Some(moving) = &self.moving {
            moving.put([value; 3], &mut self.space);
        }
        match self.circuit.settle_any(&self.space.nominal) {
            Ok(_) => reading(
                self.circuit.question,
                self.circuit.answer(&self.space.nominal),
            ),
            Err(_) => Reading::Floating,
        }
    }

    /// The band with the parameter anywhere in an interval and all others in their limits, from memory where it is
    /// known.
    ///
    /// # Errors
    /// As [`band`](super::band::band).
    pub fn band(&mut self, within: Interval, bands: &Bands) -> Result<Band, CircuitError> {
        let own = spread(within);
        if let Some(moving) = &self.moving {
            moving.put([own.low, own.nominal, own.high], &mut self.space);
        }
        match bands.over(&self.circuit, &self.space, self.hookup) {
            Some(band) => Ok(band),
            None => {
                let mut hookup = self.hookup.clone();
                hookup.setting.overrides.push((self.parameter, own));
                hunting(self.network, &hookup)
            }
        }
    }
}

/// A range with its middle on the logarithmic scale.
pub(super) fn spread(range: Interval) -> Toleranced {
    let middle = maths::sqrt(range.low * range.high);
    Toleranced {
        low: range.low,
        nominal: middle.clamp(range.low, range.high),
        high: range.high,
    }
}
