//! What a hook-up can feel: whether a change of the network can move a reading at all.
//!
//! In: a network, a hook-up, a changed network. Out: yes or no, yes in doubt. The datum is a wall: what
//! hangs together with the observed points only through good ground is not felt.

use crate::circuit::{
    Element, ElementId, ElementKind, HookUp, Network, NodeId, Observe, ParameterId, Site,
};

/// The points a hook-up feels, by node.
pub(crate) fn felt(network: &Network, hookup: &HookUp) -> Vec<bool> {
    let mut felt = vec![false; network.nodes().len()];
    let wall = network.ground();
    let mark = |node: NodeId, felt: &mut Vec<bool>| match felt.get_mut(node.0) {
        Some(own) if node != wall && !*own => {
            *own = true;
            true
        }
        _ => false,
    };
    for node in observed(network, hookup) {
        mark(node, &mut felt);
    }
    let joins: Vec<Vec<NodeId>> = (0..network.elements().len())
        .map(ElementId)
        .filter(|id| takes_part(network, *id, hookup))
        .map(|id| network.elements()[id.0].kind.nodes())
        .chain(hookup.links.iter().map(|link| vec![link.a, link.b]))
        .collect();
    let mut grew = true;
    while grew {
        grew = false;
        for nodes in &joins {
            if nodes.iter().any(|node| felt.get(node.0) == Some(&true)) {
                for node in nodes {
                    grew |= mark(*node, &mut felt);
                }
            }
        }
    }
    felt
}

fn observed(network: &Network, hookup: &HookUp) -> Vec<NodeId> {
    match hookup.observe {
        Observe::Volts { red, black }
        | Observe::Ohms { red, black }
        | Observe::Amps { red, black } => {
            vec![red, black]
        }
        Observe::Scan { input } => network.inputs().get(input).map_or_else(Vec::new, |input| {
            [input.node, input.minus]
                .into_iter()
                .chain(input.against)
                .collect()
        }),
    }
}

fn takes_part(network: &Network, id: ElementId, hookup: &HookUp) -> bool {
    let plugged = hookup.mated || !matches!(network.elements()[id.0].site, Site::Contact(_));
    plugged && network.present(id)
}

/// Whether a change can move the reading: some element that differs touches a point that is felt.
pub(crate) fn touches(
    healthy: &Network,
    changed: &Network,
    hookup: &HookUp,
    felt: &[bool],
) -> bool {
    if healthy.inputs() != changed.inputs() && matches!(hookup.observe, Observe::Scan { .. }) {
        return true;
    }
    let moved: Vec<bool> = (0..healthy.parameters().len())
        .map(|place| {
            let place = ParameterId(place);
            healthy.limits(place, &hookup.setting) != changed.limits(place, &hookup.setting)
        })
        .collect();
    let count = healthy.elements().len().max(changed.elements().len());
    (0..count).map(ElementId).any(|id| {
        let (old, new) = (healthy.elements().get(id.0), changed.elements().get(id.0));
        let differs = old != new
            || healthy.present(id) != changed.present(id)
            || old.is_some_and(|element| reads_moved(element, &moved));
        differs
            && [old, new]
                .into_iter()
                .flatten()
                .any(|element| is_felt(element, hookup, felt))
    })
}

fn is_felt(element: &Element, hookup: &HookUp, felt: &[bool]) -> bool {
    let plugged = hookup.mated || !matches!(element.site, Site::Contact(_));
    // A node the fault brought along is not in the list: it counts as felt.
    let node_felt = |node: &NodeId| felt.get(node.0).copied().unwrap_or(true);
    plugged && element.kind.nodes().iter().any(node_felt)
}

fn reads_moved(element: &Element, moved: &[bool]) -> bool {
    parameters(&element.kind)
        .iter()
        .any(|parameter| moved.get(parameter.0).copied().unwrap_or(true))
}

/// The parameters an element reads.
fn parameters(kind: &ElementKind) -> Vec<ParameterId> {
    match kind {
        ElementKind::Resistor { ohms, .. } => vec![*ohms],
        ElementKind::Source { volts, series, .. } => vec![*volts, *series],
        ElementKind::Regulator {
            volts,
            series,
            limit,
            ..
        } => vec![*volts, *series, *limit],
        ElementKind::Sink {
            amps, compliance, ..
        } => vec![*amps, *compliance],
        ElementKind::Diode {
            forward, series, ..
        } => vec![*forward, *series],
        ElementKind::Switch { ohms, powered, .. } => {
            let needs = powered.iter().map(|powered| powered.volts);
            std::iter::once(*ohms).chain(needs).collect()
        }
        ElementKind::Potentiometer {
            track, position, ..
        } => vec![*track, *position],
    }
}
