//! Where an element of a family sits: in the part, in the module, or on the way from battery or body.
//!
//! In: the half it is written in, and what it is. Out: its [`Site`], which decides what its faults are called
//! and what repairs them.

use super::elements::Side;
use super::wiring::BATTERY_NODE;
use crate::circuit::{ElementKind, Network, NodeId, Setting, Site};

/// Above this a resistor to the battery is a pull-up, no feed, ohm (judgement, no source).
const FEW_OHMS: f64 = 2.0;

/// A few ohms at most between the battery or the body and anything else are no part of the module: a fuse,
/// a relay, a bolt.
pub(super) fn site(network: &Network, side: Side, kind: &ElementKind) -> Site {
    let ohms = match kind {
        ElementKind::Resistor { ohms, .. }
        | ElementKind::Switch {
            ohms,
            powered: None,
            ..
        } => Some(*ohms),
        _ => None,
    };
    let few = ohms.is_some_and(|ohms| network.limits(ohms, &Setting::default()).high <= FEW_OHMS);
    let battery = network.find(BATTERY_NODE).ok();
    let outside = |node: &NodeId| *node == network.ground() || Some(*node) == battery;
    match side {
        Side::Module if few && kind.nodes().iter().any(outside) => Site::Supply,
        Side::Module => Site::Module,
        Side::Part => Site::Part,
    }
}
