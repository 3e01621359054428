//! Whether two pins of a part can be crossed without anyone noticing.
//!
//! In: a network, two roles. Out: yes or no. Never: names of families.
//!
//! What a part made of resistances does at its pins is told by the ohms between every two of them. If they
//! are the same with two pins exchanged, in every position of its switches, crossing these two wires is no fault.

use crate::circuit::{
    ElementId, ElementKind, HookUp, Meter, Network, NodeId, Observe, Parameter, ParameterId,
    Reading, Setting, Site, Values, solve,
};
use crate::quantity::Dimension;

/// Ohms may differ by this part of them and count as the same.
const SAME: f64 = 1e-6;
/// Sliders are put from here on, up to half as much again: in the middle a potentiometer looks the same from both ends.
const ASIDE: f64 = 0.3;
/// What can have so many times its least value is no fixed part: it follows what the part measures.
const MOVES: f64 = 100.0;

/// True where the part is the same with these two pins exchanged.
pub(super) fn is_symmetric(network: &Network, pins: &[NodeId], pair: [NodeId; 2]) -> bool {
    let part_only = part_of(network);
    let Some(part_only) = part_only else {
        return false;
    };
    let switches: Vec<ElementId> = (0..part_only.elements().len())
        .map(ElementId)
        .filter(|&id| part_only.present(id))
        .filter(|&id| matches!(part_only.elements()[id.0].kind, ElementKind::Switch { .. }))
        .collect();
    let mut settings = vec![Vec::new(), switches.clone()];
    settings.extend(switches.iter().map(|&switch| vec![switch]));
    let exchanged = |pin: NodeId| match pin {
        pin if pin == pair[0] => pair[1],
        pin if pin == pair[1] => pair[0],
        pin => pin,
    };
    settings.into_iter().all(|closed| {
        pins.iter().enumerate().all(|(place, &a)| {
            pins[..place].iter().all(|&b| {
                let one = ohms(&part_only, &closed, a, b);
                let other = ohms(&part_only, &closed, exchanged(a), exchanged(b));
                is_same(one, other)
            })
        })
    })
}

/// The part alone; none where something in it is no resistance.
fn part_of(network: &Network) -> Option<Network> {
    let mut part = network.clone();
    for (place, element) in network.elements().iter().enumerate() {
        let id = ElementId(place);
        if element.site != Site::Part {
            part.remove(id);
            continue;
        }
        match element.kind {
            ElementKind::Resistor { .. }
            | ElementKind::Potentiometer { .. }
            | ElementKind::Switch { powered: None, .. } => {}
            _ if network.present(id) => return None,
            _ => {}
        }
    }
    Some(part)
}

fn ohms(part: &Network, closed: &[ElementId], red: NodeId, black: NodeId) -> Option<Reading> {
    let hookup = HookUp {
        mated: false,
        powered: false,
        links: Vec::new(),
        observe: Observe::Ohms { red, black },
        setting: Setting {
            overrides: Vec::new(),
            closed: closed.to_vec(),
        },
        meter: Meter::common(),
    };
    let mut values = Values::nominal(part, &hookup.setting);
    let all = part.parameters();
    for (
        place,
        Parameter {
            dimension, range, ..
        },
    ) in all.iter().enumerate()
    {
        // No two that move stand at the same place: two tracks that are alike move apart all the same.
        let apart = 1.0 + 0.5 * place as f64 / all.len() as f64;
        if *dimension == Dimension::Ratio {
            values.set(ParameterId(place), ASIDE * apart);
        } else if MOVES * range.low < range.high {
            values.set(ParameterId(place), range.nominal * apart);
        }
    }
    solve::read(part, &hookup, &values).ok()
}

fn is_same(one: Option<Reading>, other: Option<Reading>) -> bool {
    match (one, other) {
        (Some(Reading::Value(a)), Some(Reading::Value(b))) => {
            (a - b).abs() <= SAME * a.abs().max(b.abs())
        }
        (one, other) => one == other,
    }
}
