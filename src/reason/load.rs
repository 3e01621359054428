//! A load for a loaded test that a regulated reference can bear.
//!
//! In: a network. Out: a standard resistor with its power rating. Never: a load on a circuit whose feed has
//! no stated limit (a battery feed is loaded with what it feeds, not with a resistor proposed here).

use crate::circuit::{ElementKind, HookUp, Link, Meter, Network, NodeId, Observe, Setting};
use crate::quantity::{Toleranced, maths};

/// A proposed load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// Resistance, ohm, a value of the E3 series (IEC 60063).
    pub ohms: f64,
    /// Rating to take, watt: at least twice what it turns into heat.
    pub watts: f64,
    /// Most current it draws, ampere.
    pub amps: f64,
    /// Least current at which the regulator limits, ampere.
    pub limit: f64,
    /// From here on a resistance in its way to the regulator always shows across it, ohm.
    pub sees: f64,
}

/// The load draws at most this part of the regulator's least limit: what else hangs on it keeps the rest
/// (judgement, no source).
const PART_OF_LIMIT: f64 = 0.1;
/// The E3 series of IEC 60063: what is in every drawer.
const E3: [f64; 3] = [1.0, 2.2, 4.7];
/// Ratings of small resistors in watts, a quarter watt the least worth buying.
const RATINGS: [f64; 6] = [0.25, 0.5, 1.0, 2.0, 5.0, 10.0];
/// Tolerance of the resistor taken, common practice for film resistors.
const TOLERANCE: f64 = 0.01;

/// The load for the weakest regulator of a circuit: `R >= V_high / (0.1 x limit_low)`, next E3 value above.
/// None where the circuit has no regulator.
///
/// Example: 5.1 V at most and a limit of 100 mA give 510 ohm, so 1 kohm, 5.1 mA, a quarter watt. It always shows `r` where
/// the highest volts over load and `r` stay below the lowest without: `R_high (V_high / V_low - 1)`, the meter's error in both.
pub fn safe_load(network: &Network) -> Option<Load> {
    let setting = Setting::default();
    network
        .elements()
        .iter()
        .filter_map(|element| match &element.kind {
            ElementKind::Regulator { volts, limit, .. } => Some((
                network.limits(*volts, &setting),
                network.limits(*limit, &setting).low,
            )),
            _ => None,
        })
        .filter_map(|(volts, limit)| load_for(volts, limit))
        .max_by(|a, b| a.ohms.total_cmp(&b.ohms))
}

fn load_for(range: Toleranced, limit: f64) -> Option<Load> {
    let volts = range.high;
    let least = volts / (PART_OF_LIMIT * limit);
    if !(least.is_finite() && least > 0.0) {
        return None;
    }
    let ohms = next_e3(least);
    let heat = volts * volts / ohms;
    let watts = RATINGS.into_iter().find(|rating| 2.0 * heat <= *rating)?;
    let shown = |volts| Meter::common().interval(volts);
    let part = shown(range.high).high / shown(range.low).low - 1.0;
    Some(Load {
        sees: ohms * (1.0 + TOLERANCE) * part,
        ohms,
        watts,
        amps: volts / ohms,
        limit,
    })
}

/// The next E3 value at or above.
fn next_e3(least: f64) -> f64 {
    let mut decade = maths::pow(10.0, maths::log10(least).floor());
    loop {
        // A hair below counts as the value itself: powers of ten are not exact.
        if let Some(step) = E3
            .iter()
            .find(|step| least <= *step * decade * (1.0 + 1e-9))
        {
            return step * decade;
        }
        decade *= 10.0;
    }
}

impl Load {
    /// The load as a link between two points.
    pub fn link(&self, a: NodeId, b: NodeId) -> Link {
        Link {
            a,
            b,
            ohms: Toleranced {
                low: self.ohms * (1.0 - TOLERANCE),
                nominal: self.ohms,
                high: self.ohms * (1.0 + TOLERANCE),
            },
        }
    }

    /// A hook-up with this load between two points, read in volts between two others.
    pub fn hook_up(
        &self,
        base: &HookUp,
        across: (NodeId, NodeId),
        leads: (NodeId, NodeId),
    ) -> HookUp {
        let mut hookup = base.clone();
        hookup.links.push(self.link(across.0, across.1));
        hookup.observe = Observe::Volts {
            red: leads.0,
            black: leads.1,
        };
        hookup
    }
}
