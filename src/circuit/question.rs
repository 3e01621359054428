//! Questions: what is asked of a solved circuit.
//!
//! In: a [`Network`] and a [`HookUp`]. Out: a [`Question`]. Never: solving.

use super::branch::Gate;
use super::{CircuitError, HookUp, Network, NodeId, Observe};

/// What is asked of a solved circuit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Question {
    /// Volts between two nodes.
    Volts { red: usize, black: usize },
    /// Volts between two nodes through which one ampere is sent.
    Ohms { red: usize, black: usize },
    /// Current through the shunt.
    Amps { red: usize, black: usize },
    /// What the converter shows, before it clamps.
    Scan {
        node: usize,
        minus: usize,
        against: Option<usize>,
        full: f64,
    },
    /// Volts by which a gate has more than it needs.
    Margin(Gate),
}

impl Question {
    /// The same question of nodes with other numbers.
    pub(super) fn moved(self, node: impl Fn(usize) -> usize) -> Self {
        match self {
            Self::Volts { red, black } => Self::Volts {
                red: node(red),
                black: node(black),
            },
            Self::Ohms { red, black } => Self::Ohms {
                red: node(red),
                black: node(black),
            },
            Self::Amps { red, black } => Self::Amps {
                red: node(red),
                black: node(black),
            },
            Self::Scan {
                node: own,
                minus,
                against,
                full,
            } => Self::Scan {
                node: node(own),
                minus: node(minus),
                against: against.map(node),
                full,
            },
            Self::Margin(gate) => Self::Margin(gate.moved(node)),
        }
    }

    /// The nodes it looks at.
    pub(super) fn nodes(self) -> impl Iterator<Item = usize> {
        let (one, other, third) = match self {
            Self::Volts { red, black } | Self::Ohms { red, black } | Self::Amps { red, black } => {
                (red, black, None)
            }
            Self::Scan {
                node,
                minus,
                against,
                ..
            } => (node, minus, against),
            Self::Margin(gate) => (gate.plus, gate.minus, None),
        };
        [one, other].into_iter().chain(third)
    }
}

/// The question a hook-up puts to a network.
///
/// # Errors
/// Unknown nodes and inputs, ohms into a powered circuit.
pub(super) fn question(network: &Network, hookup: &HookUp) -> Result<Question, CircuitError> {
    let pair = |red, black| Ok((known(network, red)?, known(network, black)?));
    match hookup.observe {
        Observe::Volts { red, black } => {
            let (red, black) = pair(red, black)?;
            Ok(Question::Volts { red, black })
        }
        Observe::Ohms { .. } if hookup.powered => Err(CircuitError::OhmsLive),
        Observe::Ohms { red, black } => {
            let (red, black) = pair(red, black)?;
            Ok(Question::Ohms { red, black })
        }
        Observe::Amps { red, black } => {
            let (red, black) = pair(red, black)?;
            Ok(Question::Amps { red, black })
        }
        Observe::Scan { input } => {
            let Some(found) = network.inputs().get(input) else {
                return Err(CircuitError::Impossible {
                    name: format!("input {input}"),
                    why: "the module has no such input".to_owned(),
                });
            };
            let against = found.against.map(|node| known(network, node));
            Ok(Question::Scan {
                node: known(network, found.node)?,
                minus: known(network, found.minus)?,
                against: against.transpose()?,
                full: found.full,
            })
        }
    }
}

/// The number of a node of this network.
pub(super) fn known(network: &Network, node: NodeId) -> Result<usize, CircuitError> {
    if node.0 < network.nodes().len() {
        return Ok(node.0);
    }
    Err(CircuitError::UnknownNode {
        name: format!("node {}", node.0),
        nearest: None,
    })
}
