//! Where an open signal rests, and to which rail a jumper must go so that the answer can change.
//!
//! In: a network, the hook-up without the jumper, the signal and the rails. Out: the rail farthest from
//! where the signal rests. Never: a guess where nothing holds the signal.

use crate::circuit::solve::{self, Values};
use crate::circuit::{CircuitError, HookUp, Network, NodeId, Observe, Reading};

/// Where the open signal rests and where to pull it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rest {
    /// Volts at which it rests.
    pub volts: f64,
    /// The rail a jumper must go to.
    pub other_rail: NodeId,
    /// Volts of that rail.
    pub rail_volts: f64,
}

/// Least difference between rest and rail for a jumper to prove anything, volts (judgement, no source:
/// ten times a common input's band at a rail).
const LEAST_MOVE: f64 = 0.5;

/// Finds the rail to force a signal to. `unplugged` is the hook-up without any jumper; what it observes does
/// not matter. None where the signal floats or every rail is where it rests.
///
/// # Errors
/// Those of solving.
pub fn other_rail(
    network: &Network,
    unplugged: &HookUp,
    signal: NodeId,
    rails: &[NodeId],
) -> Result<Option<Rest>, CircuitError> {
    let Some(volts) = volts_at(network, unplugged, signal)? else {
        return Ok(None);
    };
    let mut best: Option<Rest> = None;
    for rail in rails.iter().filter(|rail| **rail != signal) {
        let Some(rail_volts) = volts_at(network, unplugged, *rail)? else {
            continue;
        };
        let farther =
            best.is_none_or(|best| (rail_volts - volts).abs() > (best.rail_volts - volts).abs());
        if farther && (rail_volts - volts).abs() >= LEAST_MOVE {
            best = Some(Rest {
                volts,
                other_rail: *rail,
                rail_volts,
            });
        }
    }
    Ok(best)
}

/// Volts from a point to good ground with every part nominal; none where it floats.
fn volts_at(network: &Network, hookup: &HookUp, node: NodeId) -> Result<Option<f64>, CircuitError> {
    let ground = network.ground();
    if node == ground {
        return Ok(Some(0.0));
    }
    let asked = HookUp {
        links: Vec::new(),
        observe: Observe::Volts {
            red: node,
            black: ground,
        },
        ..hookup.clone()
    };
    let values = Values::nominal(network, &asked.setting);
    match solve::read(network, &asked, &values)? {
        Reading::Value(volts) => Ok(Some(volts)),
        Reading::Floating | Reading::NoPath => Ok(None),
    }
}
