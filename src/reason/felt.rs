//! What a hook-up can feel: whether a change of the network can move a reading at all.
//!
//! In: a network, a hook-up, a changed network. Out: yes or no, yes in doubt. The datum is a wall: what
//! hangs together with the observed points only through good ground is not felt, nor is a wire that ends in
//! the air.

use crate::circuit::{
    Element, ElementId, ElementKind, HookUp, Network, NodeId, Observe, ParameterId, Site,
};

/// What a hook-up feels.
#[derive(Clone, Debug)]
pub(crate) struct Felt {
    /// By node.
    nodes: Vec<bool>,
    /// By element: it takes part, and is no dead end.
    alive: Vec<bool>,
}

/// What a hook-up feels: what hangs together with the observed points. A resistor that leads nowhere carries
/// nothing and is not felt, whatever it is.
pub(crate) fn felt(network: &Network, hookup: &HookUp) -> Felt {
    let wall = network.ground();
    let seen = observed(network, hookup);
    let alive = alive(network, hookup, &seen);
    let mut nodes = vec![false; network.nodes().len()];
    let mark = |node: NodeId, nodes: &mut Vec<bool>| match nodes.get_mut(node.0) {
        Some(own) if node != wall && !*own => {
            *own = true;
            true
        }
        _ => false,
    };
    for node in seen {
        mark(node, &mut nodes);
    }
    let joins: Vec<Vec<NodeId>> = (0..alive.len())
        .filter(|place| alive[*place])
        .map(|place| network.elements()[place].kind.nodes())
        .chain(hookup.links.iter().map(|link| vec![link.a, link.b]))
        .collect();
    let mut grew = true;
    while grew {
        grew = false;
        for ends in &joins {
            if ends.iter().any(|node| nodes.get(node.0) == Some(&true)) {
                for node in ends {
                    grew |= mark(*node, &mut nodes);
                }
            }
        }
    }
    Felt { nodes, alive }
}

/// Elements that take part, less resistors with an end at which nothing else hangs.
fn alive(network: &Network, hookup: &HookUp, seen: &[NodeId]) -> Vec<bool> {
    let mut alive: Vec<bool> = (0..network.elements().len())
        .map(|place| takes_part(network, ElementId(place), hookup))
        .collect();
    let mut ends = vec![0_usize; network.nodes().len()];
    let mut count = |node: NodeId, by: usize| {
        if let Some(own) = ends.get_mut(node.0) {
            *own += by;
        }
    };
    // What is looked at, and the datum, are no dead ends.
    for node in seen.iter().copied().chain([network.ground()]) {
        count(node, 2);
    }
    for link in &hookup.links {
        count(link.a, 1);
        count(link.b, 1);
    }
    for (element, alive) in network.elements().iter().zip(&alive) {
        if *alive {
            for node in element.kind.nodes() {
                count(node, 1);
            }
        }
    }
    let mut lifted = true;
    while lifted {
        lifted = false;
        for (element, alive) in network.elements().iter().zip(&mut alive) {
            if let ElementKind::Resistor { a, b, .. } = element.kind
                && *alive
                && (ends[a.0] == 1 || ends[b.0] == 1)
            {
                *alive = false;
                ends[a.0] -= 1;
                ends[b.0] -= 1;
                lifted = true;
            }
        }
    }
    alive
}

impl Felt {
    fn feels(&self, network: &Network, id: ElementId) -> bool {
        let nodes = || network.elements()[id.0].kind.nodes();
        let here = |node: NodeId| self.nodes.get(node.0).copied().unwrap_or(true);
        self.alive.get(id.0).copied().unwrap_or(false) && nodes().into_iter().any(here)
    }
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

/// Whether a change can move the reading: some element that differs is felt before or after.
pub(crate) fn touches(
    healthy: &Network,
    changed: &Network,
    hookup: &HookUp,
    before: &Felt,
) -> bool {
    if let Observe::Scan { input } = hookup.observe
        && healthy.inputs().get(input) != changed.inputs().get(input)
    {
        return true;
    }
    let after = felt(changed, hookup);
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
        differs && (before.feels(healthy, id) || after.feels(changed, id))
    })
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
