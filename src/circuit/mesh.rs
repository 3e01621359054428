//! Solving the nodal equations by eliminating nodes, star to mesh, in buffers that are used again.
//!
//! In: conductances between nodes and to the datum, currents into nodes. Out: voltages. Never: elements.
//!
//! This is the LU factorisation of the nodal matrix with one difference: the diagonal is never stored. When
//! node `k` goes, with conductances `g_kj` to its neighbours and `g_k0` to the datum,
//!
//! ```text
//! s_k = g_k0 + sum g_kj        g_ij += g_ki g_kj / s_k        g_i0 += g_ki g_k0 / s_k
//! ```
//!
//! All terms are positive, so nothing cancels: a milliohm beside ten megohms costs no digits, where
//! the usual form loses ten of sixteen, and the largest pivot is always on the diagonal, so no rows need
//! swapping (the star-mesh transform; the same idea keeps Markov chains exact, as Grassmann, Taksar and
//! Heyman showed in 1985). Which conductances there will be is worked out once; wiring is nearly a tree, so with a
//! good order of the nodes they are little more than those there are, and a solution is a walk along them.

/// Conductances between nodes and, after [`Mesh::reduce`], the way back.
#[derive(Clone, Debug, Default)]
pub struct Mesh {
    /// Joints by their lower node: those of node `n` from `first[n]` to `first[n + 1]`.
    first: Vec<usize>,
    /// The higher node of each joint.
    far: Vec<usize>,
    /// For each node that goes and each pair of its joints, the joint that takes what they passed on.
    takes: Vec<usize>,
    /// Conductance of each joint, siemens.
    between: Vec<f64>,
    /// Conductance to the datum, siemens.
    held: Vec<f64>,
    /// One over the sum of what leaves each node when it goes.
    inverse: Vec<f64>,
}

/// Room for so many joints a node; wiring seldom has more.
const FEW: usize = 3;

impl Mesh {
    /// A mesh of this many nodes, without conductances yet, in which these pairs may be joined.
    pub fn of(nodes: usize, pairs: impl IntoIterator<Item = (usize, usize)>) -> Self {
        let mut joined = vec![false; nodes * nodes];
        for (a, b) in pairs {
            joined[a.min(b) * nodes + a.max(b)] = true;
        }
        let mut mesh = Self {
            first: Vec::with_capacity(nodes + 1),
            far: Vec::with_capacity(FEW * nodes),
            held: vec![0.0; nodes],
            inverse: Vec::with_capacity(nodes),
            ..Self::default()
        };
        mesh.first.push(0);
        for node in 0..nodes {
            let from = mesh.far.len();
            let own = node + 1..nodes;
            mesh.far
                .extend(own.filter(|far| joined[node * nodes + far]));
            mesh.first.push(mesh.far.len());
            let own = &mesh.far[from..];
            for (place, a) in own.iter().enumerate() {
                for b in &own[place + 1..] {
                    joined[a * nodes + b] = true;
                }
            }
        }
        let mut takes = Vec::with_capacity(FEW * nodes);
        for node in 0..nodes {
            let own = &mesh.far[mesh.first[node]..mesh.first[node + 1]];
            for (place, a) in own.iter().enumerate() {
                takes.extend(own[place + 1..].iter().filter_map(|b| mesh.joint(*a, *b)));
            }
        }
        mesh.takes = takes;
        mesh.between = vec![0.0; mesh.far.len()];
        mesh
    }

    /// The joint between two nodes; none for a pair that was not named.
    pub fn joint(&self, a: usize, b: usize) -> Option<usize> {
        let (low, high) = (a.min(b), a.max(b));
        let from = *self.first.get(low)?;
        let own = &self.far[from..*self.first.get(low + 1)?];
        own.iter()
            .position(|far| *far == high)
            .map(|place| from + place)
    }

    /// Takes all conductances out.
    pub fn clear(&mut self) {
        self.between.fill(0.0);
        self.held.fill(0.0);
        self.inverse.clear();
    }

    /// Adds a conductance to a joint, siemens, not negative.
    pub fn join(&mut self, joint: usize, siemens: f64) {
        self.between[joint] += siemens;
    }

    /// Adds a conductance from a node to the datum, siemens, not negative.
    pub fn hold(&mut self, node: usize, siemens: f64) {
        self.held[node] += siemens;
    }

    /// Eliminates all nodes; false where nothing holds some of them.
    #[must_use]
    pub fn reduce(&mut self) -> bool {
        let mut takes = self.takes.iter();
        for node in 0..self.held.len() {
            let (from, to) = (self.first[node], self.first[node + 1]);
            let held = self.held[node];
            let sum = held + self.between[from..to].iter().sum::<f64>();
            let inverse = 1.0 / sum;
            if !(0.0 < sum && inverse.is_finite()) {
                return false;
            }
            self.inverse.push(inverse);
            for joint in from..to {
                let part = self.between[joint] * inverse;
                self.held[self.far[joint]] += part * held;
                for (other, takes) in (joint + 1..to).zip(&mut takes) {
                    self.between[*takes] += part * self.between[other];
                }
            }
        }
        true
    }

    /// Turns currents into the nodes, ampere, into their voltages; call after a good [`Mesh::reduce`].
    pub fn solve(&self, side: &mut [f64]) {
        let own = |node: usize| {
            let joints = self.first[node]..self.first[node + 1];
            self.far[joints.clone()].iter().zip(&self.between[joints])
        };
        for node in 0..self.held.len() {
            let amps = side[node] * self.inverse[node];
            for (far, part) in own(node) {
                side[*far] += part * amps;
            }
        }
        for node in (0..self.held.len()).rev() {
            let from_others: f64 = own(node).map(|(far, part)| part * side[*far]).sum();
            side[node] = (side[node] + from_others) * self.inverse[node];
        }
    }
}
