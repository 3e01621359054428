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
//! Heyman showed in 1985). Neighbours that are not there are skipped: wiring is nearly a tree, so with a good
//! order of the rows the work is little more than the conductances there are.

/// Conductances between nodes and, after [`Mesh::reduce`], the way back.
#[derive(Clone, Debug, Default)]
pub struct Mesh {
    size: usize,
    /// Conductance between two nodes, siemens, at `[low * size + high]`.
    between: Vec<f64>,
    /// Conductance to the datum, siemens.
    held: Vec<f64>,
    /// One over the sum of what leaves each node when it goes.
    inverse: Vec<f64>,
}

impl Mesh {
    /// No conductances between this many nodes; keeps the memory it has.
    pub fn clear(&mut self, size: usize) {
        self.size = size;
        self.between.clear();
        self.between.resize(size * size, 0.0);
        self.held.clear();
        self.held.resize(size, 0.0);
        self.inverse.clear();
    }

    /// Adds a conductance between two nodes, siemens, not negative.
    pub fn join(&mut self, a: usize, b: usize, siemens: f64) {
        self.between[a.min(b) * self.size + a.max(b)] += siemens;
    }

    /// Adds a conductance from a node to the datum, siemens, not negative.
    pub fn hold(&mut self, node: usize, siemens: f64) {
        self.held[node] += siemens;
    }

    /// Eliminates all nodes; false where nothing holds some of them.
    #[must_use]
    pub fn reduce(&mut self) -> bool {
        let n = self.size;
        for k in 0..n {
            let (above, below) = self.between.split_at_mut((k + 1) * n);
            let leaving = &above[k * n..];
            let sum = self.held[k] + leaving[k + 1..].iter().sum::<f64>();
            let inverse = 1.0 / sum;
            if !(0.0 < sum && inverse.is_finite()) {
                return false;
            }
            self.inverse.push(inverse);
            let held = self.held[k];
            for i in k + 1..n {
                let part = leaving[i] * inverse;
                if part == 0.0 {
                    continue;
                }
                self.held[i] += part * held;
                let row = &mut below[(i - k - 1) * n..(i - k) * n];
                for (cell, other) in row[i + 1..].iter_mut().zip(&leaving[i + 1..]) {
                    *cell += part * other;
                }
            }
        }
        true
    }

    /// Turns currents into the nodes, ampere, into their voltages; call after a good [`Mesh::reduce`].
    pub fn solve(&self, side: &mut [f64]) {
        let n = self.size;
        for k in 0..n {
            let (done, rest) = side.split_at_mut(k + 1);
            let amps = done[k] * self.inverse[k];
            let leaving = &self.between[k * n + k + 1..(k + 1) * n];
            if amps != 0.0 {
                for (side, part) in rest.iter_mut().zip(leaving) {
                    *side += part * amps;
                }
            }
        }
        for k in (0..n).rev() {
            let (head, done) = side.split_at_mut(k + 1);
            let leaving = &self.between[k * n + k + 1..(k + 1) * n];
            let from_others: f64 = leaving.iter().zip(&*done).map(|(g, v)| g * v).sum();
            head[k] = (head[k] + from_others) * self.inverse[k];
        }
    }
}
