//! The box of values that a network's tolerances span in one hook-up.
//!
//! In: a [`Network`] and a [`HookUp`]. Out: limits and nominal of every parameter and link. Never: circuits.

use super::{CircuitError, HookUp, Network};

/// The limits every parameter, then every link, may take.
#[derive(Clone, Debug)]
pub(super) struct Space {
    pub(super) low: Vec<f64>,
    pub(super) nominal: Vec<f64>,
    pub(super) high: Vec<f64>,
}

impl Space {
    pub(super) fn of(network: &Network, hookup: &HookUp) -> Result<Self, CircuitError> {
        let names = network.parameters().iter().map(|own| own.name.as_str());
        let own = names.zip(network.all_limits(&hookup.setting));
        let links = hookup.links.iter().map(|link| ("a link", link.ohms));
        let mut space = Self::with_room(network.parameters().len() + hookup.links.len());
        for (name, range) in own.chain(links) {
            let finite = range.low.is_finite() && range.high.is_finite();
            if !(finite && range.low <= range.nominal && range.nominal <= range.high) {
                return Err(CircuitError::Impossible {
                    name: name.to_owned(),
                    why: "its limits are not finite numbers in order".to_owned(),
                });
            }
            space.low.push(range.low);
            space.nominal.push(range.nominal);
            space.high.push(range.high);
        }
        Ok(space)
    }

    /// No parameters yet, room for so many.
    pub(super) fn with_room(count: usize) -> Self {
        Self {
            low: Vec::with_capacity(count),
            nominal: Vec::with_capacity(count),
            high: Vec::with_capacity(count),
        }
    }

    /// The parameters that have a number, in the order of these numbers from 0.
    pub(super) fn picked(&self, numbers: &[usize], count: usize) -> Self {
        let pick = |all: &[f64]| {
            let mut picked = vec![0.0; count];
            for (value, &number) in all.iter().zip(numbers) {
                if let Some(place) = picked.get_mut(number) {
                    *place = *value;
                }
            }
            picked
        };
        Self {
            low: pick(&self.low),
            nominal: pick(&self.nominal),
            high: pick(&self.high),
        }
    }
}
