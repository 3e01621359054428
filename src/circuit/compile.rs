//! Compiling: a network in one hook-up as branches between rows of a matrix.
//!
//! In: a [`Network`] and a [`HookUp`]. Out: a [`Circuit`] that `settle` solves at any point of its
//! [`Space`]. Unplugged contacts, open switches, sleeping sources and whatever the question cannot feel
//! are left out here, once. Never: solving.

use super::blocks::{Edge, blocks};
use super::branch::{Branch, Gate, Kind, Ohms, State};
use super::mesh::Mesh;
use super::meter::SHUNT;
use super::order::order;
use super::question::{Question, known, question};
use super::reduce::{Moving, reduce};
use super::space::Space;
use super::{
    CircuitError, Element, ElementId, ElementKind, HookUp, Network, NodeId, Observe, ParameterId,
    Site,
};

/// No row: the datum, or a node that the question cannot feel.
pub(super) const NO_ROW: usize = usize::MAX;

/// Room for the edges that gates and eyes add to those of the branches.
const MORE_EDGES: usize = 8;

/// Where a branch's conductance goes in the mesh.
#[derive(Clone, Copy, Debug)]
pub(super) enum Lands {
    /// Into a joint of two nodes.
    Joint(usize),
    /// Between a node and the datum.
    Held(usize),
    /// Nowhere: both ends are the datum.
    Nowhere,
}

/// A network in one hook-up, ready to be solved again and again.
#[derive(Clone, Debug)]
pub(super) struct Circuit {
    pub(super) branches: Vec<Branch>,
    pub(super) question: Question,
    /// The branch that is the voltmeter: it carries current but holds nothing.
    pub(super) meter: Option<usize>,
    /// Row of each node.
    pub(super) row: Vec<usize>,
    /// Node of each row.
    pub(super) node: Vec<usize>,
    /// Branches whose own voltage decides their state.
    pub(super) pieces: Vec<usize>,
    /// Branches that a gate decides.
    pub(super) gated: Vec<usize>,
    pub(super) state: Vec<State>,
    pub(super) mesh: Mesh,
    /// Where each branch's conductance goes.
    pub(super) lands: Vec<Lands>,
    pub(super) volts: Vec<f64>,
    pub(super) side: Vec<f64>,
    /// State for which `group`, `held` and `ties` were worked out.
    pub(super) grouped: Vec<State>,
    /// Group of each node joined by anything but the meter.
    pub(super) group: Vec<usize>,
    /// One row of each group that nothing, not even the meter, joins to the datum.
    pub(super) ties: Vec<usize>,
}

impl Circuit {
    /// Only what the observation can feel.
    pub(super) fn for_reading(network: &Network, hookup: &HookUp) -> Result<Self, CircuitError> {
        let mut circuit = Self::of(network, hookup)?;
        circuit.prune();
        circuit.number();
        Ok(circuit)
    }

    /// Everything, for drawings and laws.
    pub(super) fn whole(network: &Network, hookup: &HookUp) -> Result<Self, CircuitError> {
        let mut circuit = Self::of(network, hookup)?;
        circuit.number();
        Ok(circuit)
    }

    /// Only what the observation can feel, with the fewest branches and parameters, no rows yet; `space` is brought
    /// along, and so is the parameter that is to move.
    pub(super) fn reduced(
        network: &Network,
        hookup: &HookUp,
        space: &mut Space,
        moving: Option<ParameterId>,
    ) -> Result<(Self, Option<Moving>), CircuitError> {
        let mut circuit = Self::of(network, hookup)?;
        circuit.prune();
        let moving = reduce(&mut circuit, space, moving);
        Ok((circuit, moving))
    }

    /// Some branches over this many nodes, ready to be solved.
    pub(super) fn from(
        branches: Vec<Branch>,
        question: Question,
        meter: Option<usize>,
        nodes: usize,
    ) -> Self {
        let mut circuit = Self::bare(branches, question, meter, nodes);
        circuit.number();
        circuit
    }

    /// All branches, no rows yet.
    pub(super) fn of(network: &Network, hookup: &HookUp) -> Result<Self, CircuitError> {
        let question = question(network, hookup)?;
        let mut branches = Vec::with_capacity(network.elements().len() + hookup.links.len() + 1);
        for (place, element) in network.elements().iter().enumerate() {
            let id = ElementId(place);
            let plugged = hookup.mated || !matches!(element.site, Site::Contact(_));
            if plugged && network.present(id) {
                add_branches(&mut branches, id, element, hookup);
            }
        }
        let first_link = network.parameters().len();
        for (number, link) in hookup.links.iter().enumerate() {
            let slot = Ohms::Slot(first_link + number);
            let (a, b) = (known(network, link.a)?, known(network, link.b)?);
            branches.push(resistance(None, a, b, slot));
        }
        let mut meter = None;
        match question {
            Question::Volts { red, black } if red != black => {
                meter = Some(branches.len());
                let ohms = Ohms::Fixed(hookup.meter.input.max(1.0));
                branches.push(resistance(None, red, black, ohms));
            }
            Question::Amps { red, black } if red != black => {
                branches.push(resistance(None, red, black, Ohms::Fixed(SHUNT)));
            }
            _ => {}
        }
        Ok(Self::bare(branches, question, meter, network.nodes().len()))
    }

    /// No rows yet.
    fn bare(branches: Vec<Branch>, question: Question, meter: Option<usize>, nodes: usize) -> Self {
        Self {
            branches,
            question,
            meter,
            row: vec![NO_ROW; nodes],
            node: Vec::new(),
            pieces: Vec::new(),
            gated: Vec::new(),
            state: Vec::new(),
            mesh: Mesh::default(),
            lands: Vec::new(),
            volts: Vec::new(),
            side: Vec::new(),
            grouped: Vec::new(),
            group: Vec::new(),
            ties: Vec::new(),
        }
    }

    /// Keeps some branches; the meter is found again at its new place.
    pub(super) fn keep(&mut self, wanted: impl Fn(usize, &Branch) -> bool) {
        let meter = self.meter.take();
        let mut kept = Vec::with_capacity(self.branches.len());
        for (place, branch) in self.branches.drain(..).enumerate() {
            if wanted(place, &branch) {
                if meter == Some(place) {
                    self.meter = Some(kept.len());
                }
                kept.push(branch);
            }
        }
        self.branches = kept;
    }

    /// Drops what the question cannot feel.
    fn prune(&mut self) {
        let counts = self.counting();
        self.keep(|place, _| counts[place]);
    }

    /// For every branch whether the question can feel it; a switch that counts makes the supply it watches count.
    pub(super) fn counting(&self) -> Vec<bool> {
        let mut edges: Vec<Edge> = Vec::with_capacity(self.branches.len() + MORE_EDGES);
        edges.extend(self.branches.iter().map(|branch| (branch.a, branch.b)));
        let gates = self.branches.iter().filter_map(Branch::gate);
        edges.extend(gates.map(|gate| (gate.plus, gate.minus)));
        let first = edges.len();
        let mut eyes = self.question.nodes();
        if let Some(one) = eyes.next() {
            edges.extend(eyes.map(|eye| (one, eye)));
        }
        let block = blocks(self.row.len(), &edges);
        let mut counts = vec![false; edges.len()];
        let mut wanted: Vec<usize> = block[first..].iter().flatten().copied().collect();
        while let Some(next) = wanted.pop() {
            let mut gates = self.branches.len()..;
            for (place, branch) in self.branches.iter().enumerate() {
                let watched = branch.gate().and_then(|_| gates.next());
                if block[place] == Some(next) && !counts[place] {
                    counts[place] = true;
                    wanted.extend(watched.and_then(|edge| block[edge]));
                }
            }
        }
        counts.truncate(self.branches.len());
        counts
    }

    /// Gives rows to the nodes that count, those with the fewest neighbours first, and puts every branch
    /// in its likely state.
    pub(super) fn number(&mut self) {
        self.row.fill(NO_ROW);
        self.node = order(&self.branches, self.row.len());
        for (row, &node) in self.node.iter().enumerate() {
            self.row[node] = row;
        }
        let row = &self.row;
        let ends = |branch: &Branch| (row[branch.a], row[branch.b]);
        let apart = |(a, b): &(usize, usize)| *a != NO_ROW && *b != NO_ROW;
        let pairs = self.branches.iter().map(ends).filter(apart);
        self.mesh = Mesh::of(self.node.len(), pairs);
        let lands = self.branches.iter().map(|branch| match ends(branch) {
            (NO_ROW, NO_ROW) => Lands::Nowhere,
            (row, NO_ROW) | (NO_ROW, row) => Lands::Held(row),
            (a, b) => self.mesh.joint(a, b).map_or(Lands::Nowhere, Lands::Joint),
        });
        self.lands = lands.collect();
        let of = |wanted: fn(&Kind) -> bool| -> Vec<usize> {
            let all = self.branches.iter().enumerate();
            all.filter(|(_, branch)| wanted(&branch.kind))
                .map(|(place, _)| place)
                .collect()
        };
        self.pieces = of(|kind| !kind.pieces().is_empty());
        self.gated = of(|kind| matches!(kind, Kind::Gated { .. }));
        self.state = self.branches.iter().map(|b| b.kind.likely()).collect();
        self.volts = vec![0.0; self.row.len()];
        self.side = vec![0.0; self.node.len()];
        self.grouped.clear();
        self.group = (0..self.row.len()).collect();
    }
}

fn resistance(element: Option<ElementId>, a: usize, b: usize, ohms: Ohms) -> Branch {
    Branch {
        element,
        a,
        b,
        kind: Kind::Resistance(ohms),
    }
}

/// A key that is off takes every source away; an ohmmeter's small test current wakes neither diodes nor
/// sinks, so they count as open for it.
fn add_branches(branches: &mut Vec<Branch>, id: ElementId, element: &Element, hookup: &HookUp) {
    let probing = matches!(hookup.observe, Observe::Ohms { .. });
    let mut push = |a: NodeId, b: NodeId, kind: Kind| {
        if a != b {
            branches.push(Branch {
                element: Some(id),
                a: a.0,
                b: b.0,
                kind,
            });
        }
    };
    match &element.kind {
        ElementKind::Resistor { a, b, ohms } => {
            push(*a, *b, Kind::Resistance(Ohms::Slot(ohms.0)));
        }
        ElementKind::Potentiometer {
            low,
            high,
            slider,
            track,
            position,
        } => {
            let (track, position) = (track.0, position.0);
            let below = Ohms::Below { track, position };
            let above = Ohms::Above { track, position };
            push(*slider, *low, Kind::Resistance(below));
            push(*high, *slider, Kind::Resistance(above));
        }
        ElementKind::Switch {
            a,
            b,
            ohms,
            powered,
        } if hookup.setting.closed.contains(&id) => match powered {
            None => push(*a, *b, Kind::Resistance(Ohms::Slot(ohms.0))),
            Some(needs) if hookup.powered => {
                let gate = Gate {
                    plus: needs.plus.0,
                    minus: needs.minus.0,
                    volts: needs.volts.0,
                };
                let ohms = ohms.0;
                push(*a, *b, Kind::Gated { ohms, gate });
            }
            Some(_) => {}
        },
        ElementKind::Switch { .. } => {}
        kind => {
            if let Some((a, b, kind)) = active(kind, hookup.powered, probing) {
                push(a, b, kind);
            }
        }
    }
}

fn active(kind: &ElementKind, powered: bool, probing: bool) -> Option<(NodeId, NodeId, Kind)> {
    match *kind {
        ElementKind::Source {
            plus,
            minus,
            volts,
            series,
        } if powered => {
            let (volts, series) = (volts.0, series.0);
            Some((plus, minus, Kind::Source { volts, series }))
        }
        ElementKind::Regulator {
            out,
            minus,
            volts,
            series,
            limit,
        } if powered => {
            let (volts, series, limit) = (volts.0, series.0, limit.0);
            let kind = Kind::Regulator {
                volts,
                series,
                limit,
            };
            Some((out, minus, kind))
        }
        ElementKind::Sink {
            from,
            to,
            amps,
            compliance,
        } if !probing => {
            let (amps, compliance) = (amps.0, compliance.0);
            Some((from, to, Kind::Sink { amps, compliance }))
        }
        ElementKind::Diode {
            anode,
            cathode,
            forward,
            series,
        } if !probing => {
            let (forward, series) = (forward.0, series.0);
            Some((anode, cathode, Kind::Diode { forward, series }))
        }
        _ => None,
    }
}
