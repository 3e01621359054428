//! Blocks: which branches a question can feel.
//!
//! In: branches as pairs of nodes, and pairs of nodes that are asked about. Out: for every branch whether it
//! counts. Never: values.
//!
//! What hangs on the rest of a circuit at one node only exchanges no current with it (what goes in must come
//! out), so it moves no voltage there, whatever sources it holds. The parts of a graph that hang together in
//! more than one node are its biconnected components, found in one walk (Hopcroft and Tarjan, Communications
//! of the ACM 16, 1973). With an edge laid between the two nodes asked about, what counts is the component of
//! that edge: dead ends, neighbours on the same supply or ground, and all behind the body drop out.

/// A pair of nodes.
pub(super) type Edge = (usize, usize);

/// For every edge the number of its block; edges from a node to itself get none.
pub(super) fn blocks(nodes: usize, edges: &[Edge]) -> Vec<Option<usize>> {
    let mut walk = Walk::of(nodes, edges);
    for node in 0..nodes {
        if walk.found[node] == 0 {
            walk.from(node);
        }
    }
    walk.block
}

struct Walk<'e> {
    edges: &'e [Edge],
    /// Edges by node, those of node `n` from `first[n]` to `first[n + 1]`.
    at: Vec<usize>,
    first: Vec<usize>,
    /// When each node was found, from 1; 0 not yet.
    found: Vec<usize>,
    /// The earliest node that what was found behind this one leads back to.
    back: Vec<usize>,
    time: usize,
    /// Edges walked whose block is not closed yet.
    open: Vec<usize>,
    block: Vec<Option<usize>>,
    closed: usize,
}

/// A node on the way, the edge it was reached by, the place of its next edge.
struct Step {
    node: usize,
    by: Option<usize>,
    next: usize,
}

impl<'e> Walk<'e> {
    fn of(nodes: usize, edges: &'e [Edge]) -> Self {
        let mut first = vec![0; nodes + 1];
        let real = || edges.iter().enumerate().filter(|(_, (a, b))| a != b);
        for (_, &(a, b)) in real() {
            first[a + 1] += 1;
            first[b + 1] += 1;
        }
        for node in 0..nodes {
            first[node + 1] += first[node];
        }
        let mut at = vec![0; first[nodes]];
        let mut next = first.clone();
        for (edge, &(a, b)) in real() {
            for node in [a, b] {
                at[next[node]] = edge;
                next[node] += 1;
            }
        }
        Self {
            edges,
            at,
            first,
            found: vec![0; nodes],
            back: vec![0; nodes],
            time: 0,
            open: Vec::with_capacity(edges.len()),
            block: vec![None; edges.len()],
            closed: 0,
        }
    }

    /// Walks all that hangs together with a node.
    fn from(&mut self, root: usize) {
        let mut way = Vec::with_capacity(self.found.len());
        way.push(self.enter(root, None));
        while let Some(step) = way.last_mut() {
            let here = step.node;
            let Some(&edge) = self.at[..self.first[here + 1]].get(step.next) else {
                let by = step.by;
                way.pop();
                if let (Some(by), Some(before)) = (by, way.last()) {
                    self.leave(here, by, before.node);
                }
                continue;
            };
            step.next += 1;
            if step.by == Some(edge) {
                continue;
            }
            let (a, b) = self.edges[edge];
            let there = a + b - here;
            if self.found[there] == 0 {
                self.open.push(edge);
                way.push(self.enter(there, Some(edge)));
            } else if self.found[there] < self.found[here] {
                self.open.push(edge);
                self.back[here] = self.back[here].min(self.found[there]);
            }
        }
    }

    fn enter(&mut self, node: usize, by: Option<usize>) -> Step {
        self.time += 1;
        self.found[node] = self.time;
        self.back[node] = self.time;
        let next = self.first[node];
        Step { node, by, next }
    }

    /// Back from a node to the one before: where nothing behind it leads further back, a block is closed.
    fn leave(&mut self, node: usize, by: usize, before: usize) {
        self.back[before] = self.back[before].min(self.back[node]);
        if self.back[node] < self.found[before] {
            return;
        }
        while let Some(edge) = self.open.pop() {
            self.block[edge] = Some(self.closed);
            if edge == by {
                break;
            }
        }
        self.closed += 1;
    }
}
