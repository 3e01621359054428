//! Bands that are known already: circuits that reduce to the same one read alike.
//!
//! In: networks and hook-ups, as for [`band`](super::band::band). Out: the same bands, each reduced circuit
//! solved once. A fault often reduces to another (an open wire to an open contact), where the open input rests
//! matters only to readings that feel it, and cards of one family share most of their circuit. A circuit is solved in
//! an order that follows from what it is, so a band has the same digits whoever asked for it first. Never: a guess;
//! a circuit is known only where every branch, limit and eye agrees to the last bit.

use super::band::{band_over, hunting};
use super::branch::{Branch, Kind, Ohms};
use super::compile::Circuit;
use super::question::Question;
use super::space::Space;
use super::{Band, CircuitError, HookUp, Network};
use rustc_hash::FxHashMap;
use std::sync::{Mutex, MutexGuard, PoisonError};

/// Most bands kept; a large deck would fill the memory with circuits that no other card has.
const MOST: usize = 20_000;

/// Bands by the circuit they belong to; several threads may ask at once.
#[derive(Debug, Default)]
pub struct Bands {
    known: Mutex<FxHashMap<Vec<u64>, Band>>,
}

impl Bands {
    /// As [`band`](super::band::band), from memory where the circuit is known.
    ///
    /// # Errors
    /// As [`band`](super::band::band).
    pub fn band(&self, network: &Network, hookup: &HookUp) -> Result<Band, CircuitError> {
        let mut space = Space::of(network, hookup)?;
        let (circuit, _) = Circuit::reduced(network, hookup, &mut space, None)?;
        match self.over(&circuit, &space, hookup) {
            Some(band) => Ok(band),
            None => hunting(network, hookup),
        }
    }

    /// The band of a reduced circuit over a space; none where it has no steady state anywhere.
    pub(super) fn over(&self, circuit: &Circuit, space: &Space, hookup: &HookUp) -> Option<Band> {
        let (key, order) = key(circuit, space, hookup);
        if let Some(band) = self.known().get(&key) {
            return Some(band.clone());
        }
        let (mut circuit, space) = order.applied(circuit, space);
        let band = band_over(&mut circuit, &space, hookup)?;
        let mut known = self.known();
        if known.len() == MOST {
            known.clear();
        }
        known.insert(key, band.clone());
        Some(band)
    }

    /// What is known; a thread that failed has left whole bands behind, since they go in one at a time.
    fn known(&self) -> MutexGuard<'_, FxHashMap<Vec<u64>, Band>> {
        self.known.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// An order of a circuit's branches, and of nodes and parameters as they come up in it.
struct Order {
    branches: Vec<usize>,
    nodes: Numbers,
    slots: Numbers,
}

impl Order {
    /// The circuit in this order, ready to be solved.
    fn applied(&self, circuit: &Circuit, space: &Space) -> (Circuit, Space) {
        let node = |node: usize| self.nodes.given[node];
        let branch = |place: &usize| {
            let mut branch = circuit.branches[*place].clone();
            (branch.a, branch.b) = (node(branch.a), node(branch.b));
            branch.kind.renumber(|slot| self.slots.given[slot]);
            if let Kind::Gated { gate, .. } = &mut branch.kind {
                *gate = gate.moved(node);
            }
            branch
        };
        let branches: Vec<Branch> = self.branches.iter().map(branch).collect();
        let meter = self
            .branches
            .iter()
            .position(|place| circuit.meter == Some(*place));
        let question = circuit.question.moved(node);
        let circuit = Circuit::from(branches, question, meter, self.nodes.next);
        (circuit, space.picked(&self.slots.given, self.slots.next))
    }
}

/// Numbers that say all a reduced circuit's band depends on. Branches are sorted by what they are, nodes and
/// parameters numbered as they come up, so that the names a network gives them do not matter.
fn key(circuit: &Circuit, space: &Space, hookup: &HookUp) -> (Vec<u64>, Order) {
    let mut lines: Vec<(Line, usize)> = (0..circuit.branches.len())
        .map(|place| (line(circuit, space, place), place))
        .collect();
    lines.sort_unstable();
    let mut nodes = Numbers::of(circuit.row.len());
    let mut slots = Numbers::of(space.low.len());
    nodes.number(0);
    let meter = hookup.meter;
    let mut key = Vec::with_capacity(lines.len() * (LONGEST + 5) + 9);
    key.extend([meter.of_reading, meter.counts, meter.display].map(f64::to_bits));
    for (line, place) in &lines {
        let branch = &circuit.branches[*place];
        key.extend_from_slice(line);
        key.extend(branch.watched().map(|node| nodes.number(node)));
        key.extend(branch.reads().map(|slot| slots.number(slot)));
    }
    key.extend(eye(circuit.question));
    let eyes = circuit.question.nodes();
    key.extend(eyes.map(|node| nodes.number(node)));
    let order = Order {
        branches: lines.into_iter().map(|(_, place)| place).collect(),
        nodes,
        slots,
    };
    (key, order)
}

/// A branch's kind and the limits of the three parameters it reads at most.
const LONGEST: usize = 10;
type Line = [u64; LONGEST];

/// What a branch is, without its place: its kind, its limits, whether it is the meter.
fn line(circuit: &Circuit, space: &Space, place: usize) -> Line {
    let branch = &circuit.branches[place];
    let kind = match branch.kind {
        Kind::Resistance(Ohms::Slot(_)) => 0,
        Kind::Resistance(Ohms::Below { .. }) => 1,
        Kind::Resistance(Ohms::Above { .. }) => 2,
        Kind::Resistance(Ohms::Fixed(_)) => 3,
        Kind::Source { .. } => 4,
        Kind::Regulator { .. } => 5,
        Kind::Sink { .. } => 6,
        Kind::Diode { .. } => 7,
        Kind::Gated { .. } => 8,
    };
    let mut line = [0; LONGEST];
    line[0] = 2 * kind + u64::from(circuit.meter == Some(place));
    if let Kind::Resistance(Ohms::Fixed(ohms)) = branch.kind {
        line[1] = ohms.to_bits();
    }
    for (slot, limits) in branch.reads().zip(line[1..].chunks_exact_mut(3)) {
        let all = [space.low[slot], space.nominal[slot], space.high[slot]];
        limits.copy_from_slice(&all.map(f64::to_bits));
    }
    line
}

fn eye(question: Question) -> [u64; 3] {
    match question {
        Question::Volts { .. } => [0, 0, 0],
        Question::Ohms { .. } => [1, 0, 0],
        Question::Amps { .. } => [2, 0, 0],
        Question::Scan { against, full, .. } => [3, u64::from(against.is_some()), full.to_bits()],
        Question::Margin(_) => [4, 0, 0],
    }
}

/// Things numbered in the order they come up.
struct Numbers {
    given: Vec<usize>,
    next: usize,
}

impl Numbers {
    fn of(count: usize) -> Self {
        Self {
            given: vec![usize::MAX; count],
            next: 0,
        }
    }

    fn number(&mut self, place: usize) -> u64 {
        if self.given[place] == usize::MAX {
            self.given[place] = self.next;
            self.next += 1;
        }
        u64::try_from(self.given[place]).unwrap_or(u64::MAX)
    }
}
