//! What a hook-up feels of a network, and where all the rest hangs on.
//!
//! In: a [`Network`] and a [`HookUp`]. Out: a [`Felt`], which says of a change, before anything is compiled or
//! solved, that the reading cannot know of it. Never: a guess; in doubt a change is felt.
//!
//! What counts for a question hangs together with it in more than one node; everything else hangs on at one
//! node (or none) and exchanges no current. A new resistance between two points that hang on at the same node
//! makes no new way for a current through the question, and taking out what does not count takes out none.

use super::compile::Circuit;
use super::{CircuitError, ElementId, HookUp, Network, NodeId, ParameterId};

/// Where a node hangs on.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Hangs {
    /// Nothing leads from it to what counts.
    Nowhere,
    /// At this node of what counts.
    At(usize),
    /// At more than one, by way of a switch's supply.
    Between,
}

/// What a hook-up feels.
#[derive(Clone, Debug)]
pub struct Felt {
    elements: Vec<bool>,
    parameters: Vec<bool>,
    hangs: Vec<Hangs>,
    input: Option<usize>,
}

impl Felt {
    /// Works it out.
    ///
    /// # Errors
    /// As compiling: unknown nodes and inputs, ohms into a powered circuit.
    pub fn of(network: &Network, hookup: &HookUp) -> Result<Self, CircuitError> {
        let circuit = Circuit::of(network, hookup)?;
        let counts = circuit.counting();
        let mut felt = Self {
            elements: vec![false; network.elements().len()],
            parameters: vec![false; network.parameters().len() + hookup.links.len()],
            hangs: vec![Hangs::Nowhere; network.nodes().len()],
            input: match hookup.observe {
                super::Observe::Scan { input } => Some(input),
                _ => None,
            },
        };
        for (branch, _) in circuit.branches.iter().zip(&counts).filter(|(_, c)| **c) {
            if let Some(element) = branch.element {
                felt.elements[element.0] = true;
            }
            for slot in branch.reads() {
                felt.parameters[slot] = true;
            }
            for node in branch.watched() {
                felt.hangs[node] = Hangs::At(node);
            }
        }
        for node in circuit.question.nodes() {
            felt.hangs[node] = Hangs::At(node);
        }
        felt.hang_on(&circuit, &counts);
        Ok(felt)
    }

    /// Follows what does not count from every node that does.
    fn hang_on(&mut self, circuit: &Circuit, counts: &[bool]) {
        let mut ways: Vec<(usize, usize)> = Vec::new();
        for (branch, counts) in circuit.branches.iter().zip(counts) {
            if !counts {
                ways.push((branch.a, branch.b));
                ways.extend(branch.gate().map(|gate| (gate.plus, gate.minus)));
            }
        }
        let fixed: Vec<bool> = self.hangs.iter().map(|at| *at != Hangs::Nowhere).collect();
        let mut moved = true;
        while moved {
            moved = false;
            for &(a, b) in &ways {
                for (from, to) in [(a, b), (b, a)] {
                    let met = meet(self.hangs[from], self.hangs[to]);
                    if !fixed[to] && met != self.hangs[to] {
                        self.hangs[to] = met;
                        moved = true;
                    }
                }
            }
        }
    }

    /// Whether the element counts; one that the network had not when this was worked out does.
    pub(super) fn element(&self, element: ElementId) -> bool {
        self.elements.get(element.0).is_none_or(|felt| *felt)
    }

    /// Whether some element that counts reads the parameter.
    pub(super) fn parameter(&self, parameter: ParameterId) -> bool {
        self.parameters.get(parameter.0).is_none_or(|felt| *felt)
    }

    /// Whether the question is what this input of the module shows.
    pub(super) fn input(&self, input: usize) -> bool {
        self.input == Some(input)
    }

    /// Whether one more way between two nodes would count.
    pub(super) fn bridge(&self, a: NodeId, b: NodeId) -> bool {
        match (self.hangs.get(a.0), self.hangs.get(b.0)) {
            (Some(Hangs::At(a)), Some(Hangs::At(b))) => a != b,
            (Some(Hangs::Nowhere), Some(Hangs::Nowhere)) => false,
            _ => a != b,
        }
    }
}

/// What a node is that hangs on at two things.
fn meet(from: Hangs, to: Hangs) -> Hangs {
    match (from, to) {
        (Hangs::Nowhere, other) | (other, Hangs::Nowhere) => other,
        (Hangs::At(a), Hangs::At(b)) if a == b => from,
        _ => Hangs::Between,
    }
}
