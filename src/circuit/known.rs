//! Bands that are known already: circuits that reduce to the same one read alike.
//!
//! In: networks and hook-ups, as for [`band`](super::band::band). Out: the same bands, each reduced circuit
//! solved once. A fault that a hook-up cannot feel reduces to the healthy circuit, an open wire often to an open
//! contact, and where the open input rests matters only to readings that feel it. Never: a guess; a circuit is
//! known only where every branch, limit and eye agrees to the last bit.

use super::band::{band_over, hunting};
use super::branch::{Kind, Ohms};
use super::compile::{Circuit, Question};
use super::space::Space;
use super::{Band, CircuitError, HookUp, Network};
use std::collections::HashMap;

/// Bands by the circuit they belong to.
#[derive(Clone, Debug, Default)]
pub struct Bands {
    known: HashMap<Vec<u64>, Band>,
}

impl Bands {
    /// As [`band`](super::band::band), from memory where the circuit is known.
    ///
    /// # Errors
    /// As [`band`](super::band::band).
    pub fn band(&mut self, network: &Network, hookup: &HookUp) -> Result<Band, CircuitError> {
        let mut space = Space::of(network, hookup)?;
        let (mut circuit, _) = Circuit::reduced(network, hookup, &mut space, None)?;
        let key = key(&circuit, &space, hookup);
        if let Some(band) = self.known.get(&key) {
            return Ok(band.clone());
        }
        let Some(band) = band_over(&mut circuit, &space, hookup) else {
            return hunting(network, hookup);
        };
        self.known.insert(key, band.clone());
        Ok(band)
    }
}

/// Numbers that say all a reduced circuit's band depends on. Branches are sorted by what they are, nodes and
/// parameters numbered as they come up, so that the names a network gives them do not matter.
fn key(circuit: &Circuit, space: &Space, hookup: &HookUp) -> Vec<u64> {
    let mut lines: Vec<(Vec<u64>, usize)> = (0..circuit.branches.len())
        .map(|place| (line(circuit, space, place), place))
        .collect();
    lines.sort();
    let mut nodes = Numbers::of(circuit.row.len());
    let mut slots = Numbers::of(space.low.len());
    nodes.number(0);
    let meter = hookup.meter;
    let mut key: Vec<u64> = [meter.of_reading, meter.counts, meter.display]
        .map(f64::to_bits)
        .to_vec();
    for (line, place) in lines {
        let branch = &circuit.branches[place];
        key.extend(line);
        key.extend(branch.watched().map(|node| nodes.number(node)));
        key.extend(branch.reads().map(|slot| slots.number(slot)));
    }
    key.extend(eye(circuit.question));
    let eyes = circuit.question.nodes().into_iter();
    key.extend(eyes.map(|node| nodes.number(node)));
    key
}

/// What a branch is, without its place: its kind, its limits, whether it is the meter.
fn line(circuit: &Circuit, space: &Space, place: usize) -> Vec<u64> {
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
    let mut line = vec![kind, u64::from(circuit.meter == Some(place))];
    if let Kind::Resistance(Ohms::Fixed(ohms)) = branch.kind {
        line.push(ohms.to_bits());
    }
    for slot in branch.reads() {
        line.extend([space.low[slot], space.nominal[slot], space.high[slot]].map(f64::to_bits));
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
    given: Vec<u64>,
    next: u64,
}

impl Numbers {
    fn of(count: usize) -> Self {
        Self {
            given: vec![u64::MAX; count],
            next: 0,
        }
    }

    fn number(&mut self, place: usize) -> u64 {
        if self.given[place] == u64::MAX {
            self.given[place] = self.next;
            self.next += 1;
        }
        self.given[place]
    }
}
