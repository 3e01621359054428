//! Settling: the state of the piecewise branches that agrees with the voltages it gives.
//!
//! In: a [`Circuit`] and a point. Out: its voltages, its reading, the slope of the reading against every
//! parameter. Never: tolerances.
//!
//! Regulators, sinks and diodes carry more current at more volts, so a circuit of them has one solution;
//! changing all branches that disagree nearly always finds it, changing the first that disagrees always
//! ends (least-index pivoting), and trying every combination is the safety net. Switches that need
//! power are not of that sort: every pattern of them is tried by the caller.

use super::CircuitError;
use super::branch::{Kind, State};
use super::compile::{Circuit, Lands, NO_ROW};
use super::question::Question;

/// Rounds in which all branches that disagree change together.
const TOGETHER: usize = 6;
/// Rounds in which only the first one does.
const ONE_BY_ONE: usize = 60;
/// Most combinations tried when neither ends.
const COMBINATIONS: usize = 4096;
/// Least reference voltage with which a converter gives a number. Common practice, no source.
const LEAST_REFERENCE: f64 = 0.05;

/// What a settled circuit answers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Answer {
    /// The number, in the question's unit, and what it would be if a floating lead held still.
    Number(f64),
    /// A lead nothing holds, with the number the bare equations give.
    Floating(f64),
    /// No path for the ohmmeter.
    NoPath,
}

impl Circuit {
    /// How many patterns of gated switches there are; pattern 0 has all of them on.
    pub(super) fn patterns(&self) -> usize {
        1 << self.gated.len().min(8)
    }

    /// Settles with the gated switches as this pattern says (bit set: off).
    pub(super) fn settle(&mut self, pattern: usize, p: &[f64]) -> Result<(), CircuitError> {
        for (bit, &branch) in self.gated.iter().enumerate() {
            let off = 1 == pattern >> bit & 1;
            self.state[branch] = if off { State::Off } else { State::On };
        }
        for round in 0..TOGETHER + ONE_BY_ONE {
            self.solve(p)?;
            if !self.correct(p, round < TOGETHER) {
                return Ok(());
            }
        }
        self.enumerate(p)
    }

    /// Settles in the first pattern that agrees with itself, all switches on first; gives that pattern.
    pub(super) fn settle_any(&mut self, p: &[f64]) -> Result<usize, CircuitError> {
        for pattern in 0..self.patterns() {
            if self.settle(pattern, p).is_ok() && self.gates_agree(p) {
                return Ok(pattern);
            }
        }
        Err(CircuitError::NoState)
    }

    /// Every gated switch that is on has the volts it needs, and no other has.
    pub(super) fn gates_agree(&self, p: &[f64]) -> bool {
        self.gated.iter().all(|&branch| {
            let Some(gate) = self.branches[branch].gate() else {
                return true;
            };
            let supplied = 0.0 <= self.margin(gate, p);
            supplied == (self.state[branch] == State::On)
        })
    }

    /// The answer in the settled state.
    pub(super) fn answer(&self, p: &[f64]) -> Answer {
        let between = |plus: usize, minus: usize| self.volts[plus] - self.volts[minus];
        match self.question {
            Question::Volts { red, black } if self.joined(red, black) => {
                Answer::Number(between(red, black))
            }
            Question::Volts { red, black } => Answer::Floating(between(red, black)),
            Question::Ohms { red, black } if self.joined(red, black) => {
                Answer::Number(between(red, black))
            }
            Question::Ohms { .. } => Answer::NoPath,
            Question::Amps { red, black } => {
                Answer::Number(between(red, black) / super::meter::SHUNT)
            }
            Question::Scan {
                node,
                minus,
                against: None,
                ..
            } => {
                let volts = between(node, minus);
                if self.joined(node, minus) {
                    Answer::Number(volts)
                } else {
                    Answer::Floating(volts)
                }
            }
            Question::Scan {
                node,
                minus,
                against: Some(against),
                full,
            } => {
                let reference = between(against, minus);
                let held = self.joined(node, minus) && self.joined(against, minus);
                if held && LEAST_REFERENCE <= reference {
                    Answer::Number(between(node, minus) / reference * full)
                } else {
                    Answer::Floating(0.0)
                }
            }
            Question::Margin(gate) => Answer::Number(self.margin(gate, p)),
        }
    }

    /// How the answer moves with each parameter, by the adjoint circuit: the matrix is symmetric,
    /// so its reduction serves again with the question as the right-hand side. For a branch with `i = g v + j`
    /// between `a` and `b`: `d answer / dp = -(la - lb) (dg/dp (va - vb) + dj/dp)`.
    pub(super) fn slopes(&mut self, p: &[f64]) -> Vec<f64> {
        let mut slopes = vec![0.0; p.len()];
        self.ask();
        let mut adjoint = std::mem::take(&mut self.side);
        self.mesh.solve(&mut adjoint);
        let at = |node: usize| match self.row[node] {
            NO_ROW => 0.0,
            row => adjoint[row],
        };
        for (branch, &state) in self.branches.iter().zip(&self.state) {
            let across = self.volts[branch.a] - self.volts[branch.b];
            let weight = at(branch.a) - at(branch.b);
            branch.kind.slopes(state, p, |slope| {
                slopes[slope.slot] -= weight * (slope.dg * across + slope.dj);
            });
        }
        if let Question::Margin(gate) = self.question {
            slopes[gate.volts] -= 1.0;
        }
        self.side = adjoint;
        slopes
    }

    /// True where something other than the meter joins two nodes.
    pub(super) fn joined(&self, a: usize, b: usize) -> bool {
        self.group[a] == self.group[b]
    }

    fn margin(&self, gate: super::branch::Gate, p: &[f64]) -> f64 {
        if self.joined(gate.plus, gate.minus) {
            self.volts[gate.plus] - self.volts[gate.minus] - p[gate.volts]
        } else {
            -p[gate.volts]
        }
    }

    /// The question as weights of the node voltages, in `side`.
    fn ask(&mut self) {
        self.side.clear();
        self.side.resize(self.node.len(), 0.0);
        let (side, row) = (&mut self.side, &self.row);
        let mut weigh = |node: usize, weight: f64| {
            if row[node] != NO_ROW {
                side[row[node]] += weight;
            }
        };
        match self.question {
            Question::Volts { red, black } | Question::Ohms { red, black } => {
                weigh(red, 1.0);
                weigh(black, -1.0);
            }
            Question::Amps { red, black } => {
                weigh(red, 1.0 / super::meter::SHUNT);
                weigh(black, -1.0 / super::meter::SHUNT);
            }
            Question::Margin(gate) => {
                weigh(gate.plus, 1.0);
                weigh(gate.minus, -1.0);
            }
            Question::Scan {
                node,
                minus,
                against: None,
                ..
            } => {
                weigh(node, 1.0);
                weigh(minus, -1.0);
            }
            Question::Scan {
                node,
                minus,
                against: Some(against),
                full,
            } => {
                // d (n / r) = (dn - (n / r) dr) / r
                let reference = self.volts[against] - self.volts[minus];
                let ratio = (self.volts[node] - self.volts[minus]) / reference;
                let weight = full / reference;
                if weight.is_finite() && ratio.is_finite() {
                    weigh(node, weight);
                    weigh(against, -weight * ratio);
                    weigh(minus, weight * (ratio - 1.0));
                }
            }
        }
    }

    /// One linear solution in the present state.
    fn solve(&mut self, p: &[f64]) -> Result<(), CircuitError> {
        self.regroup();
        self.mesh.clear();
        self.side.clear();
        self.side.resize(self.node.len(), 0.0);
        let each = self.branches.iter().zip(&self.state).zip(&self.lands);
        for ((branch, &state), lands) in each {
            let (g, j) = branch.kind.line(state, p);
            if j != 0.0 {
                for (node, amps) in [(branch.a, -j), (branch.b, j)] {
                    if self.row[node] != NO_ROW {
                        self.side[self.row[node]] += amps;
                    }
                }
            }
            match *lands {
                Lands::Joint(joint) => self.mesh.join(joint, g),
                Lands::Held(row) => self.mesh.hold(row, g),
                Lands::Nowhere => {}
            }
        }
        if let Question::Ohms { red, black } = self.question {
            for (node, amps) in [(red, 1.0), (black, -1.0)] {
                if self.joined(red, black) && self.row[node] != NO_ROW {
                    self.side[self.row[node]] += amps;
                }
            }
        }
        // What nothing holds is tied to the datum at one place: no current flows there, no voltage
        // inside the group moves.
        for &row in &self.ties {
            self.mesh.hold(row, 1.0);
        }
        if !self.mesh.reduce() {
            return Err(CircuitError::NoState);
        }
        self.mesh.solve(&mut self.side);
        for (&node, &volts) in self.node.iter().zip(&self.side) {
            if !volts.is_finite() {
                return Err(CircuitError::NoState);
            }
            self.volts[node] = volts;
        }
        Ok(())
    }

    /// Moves branches to the state their voltage implies; false where all agree.
    fn correct(&mut self, p: &[f64], together: bool) -> bool {
        let mut changed = false;
        for place in 0..self.pieces.len() {
            let index = self.pieces[place];
            let branch = &self.branches[index];
            // The microampere a meter alone pulls with moves no regulator: its own divider draws more.
            let by_meter = !matches!(branch.kind, Kind::Regulator { .. })
                && self.meter_joins(branch.a, branch.b);
            let held = self.joined(branch.a, branch.b) || by_meter;
            let across = held.then(|| self.volts[branch.a] - self.volts[branch.b]);
            let now = self.state[index];
            let implied = branch.kind.implied(now, p, across);
            if implied != now {
                let leaps = now != State::On && implied != State::On;
                let three = branch.kind.pieces().len() == 3;
                self.state[index] = if leaps && three && !together {
                    State::On
                } else {
                    implied
                };
                changed = true;
                if !together {
                    return true;
                }
            }
        }
        changed
    }

    fn meter_joins(&self, a: usize, b: usize) -> bool {
        let Some(meter) = self.meter else {
            return false;
        };
        let (red, black) = (self.branches[meter].a, self.branches[meter].b);
        (self.joined(a, red) && self.joined(b, black))
            || (self.joined(a, black) && self.joined(b, red))
    }

    fn enumerate(&mut self, p: &[f64]) -> Result<(), CircuitError> {
        let choices: Vec<&'static [State]> = self
            .pieces
            .iter()
            .map(|&piece| self.branches[piece].kind.pieces())
            .collect();
        let all = choices
            .iter()
            .fold(1_usize, |n, states| n.saturating_mul(states.len()));
        for combination in 0..all.min(COMBINATIONS) {
            let mut rest = combination;
            for (&piece, states) in self.pieces.iter().zip(&choices) {
                self.state[piece] = states[rest % states.len()];
                rest /= states.len();
            }
            if self.solve(p).is_ok() && !self.correct(p, true) {
                return Ok(());
            }
        }
        Err(CircuitError::NoState)
    }

    /// Works out which nodes hang together in the present state, unless that is known.
    fn regroup(&mut self) {
        if self.grouped == self.state {
            return;
        }
        self.grouped.clone_from(&self.state);
        let count = self.row.len();
        let mut group: Vec<usize> = (0..count).collect();
        for (place, (branch, &state)) in self.branches.iter().zip(&self.state).enumerate() {
            if state == State::On && self.meter != Some(place) {
                join(&mut group, branch.a, branch.b);
            }
        }
        self.group = (0..count).map(|node| root(&mut group, node)).collect();
        if let Some(meter) = self.meter {
            join(&mut group, self.branches[meter].a, self.branches[meter].b);
        }
        self.ties.clear();
        let mut tied = vec![false; count];
        tied[root(&mut group, 0)] = true;
        for (row, &node) in self.node.iter().enumerate() {
            let head = root(&mut group, node);
            if !tied[head] {
                tied[head] = true;
                self.ties.push(row);
            }
        }
    }
}

fn root(group: &mut [usize], mut node: usize) -> usize {
    while group[node] != node {
        group[node] = group[group[node]];
        node = group[node];
    }
    node
}

fn join(group: &mut [usize], a: usize, b: usize) {
    let (a, b) = (root(group, a), root(group, b));
    group[a.max(b)] = a.min(b);
}
