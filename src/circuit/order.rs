//! The order of the rows: nodes with few neighbours first, so that factoring fills in little.
//!
//! In: branches. Out: the nodes that take part, ordered. Never: values.

use super::branch::Branch;

/// Nodes that take part, in the order of fewest neighbours left (each elimination joins the neighbours of
/// the node that goes). Beyond 64 nodes the order is as given.
pub(super) fn order(branches: &[Branch], nodes: usize) -> Vec<usize> {
    let mut joined = vec![0_u64; nodes];
    let mut used = vec![false; nodes];
    for branch in branches {
        used[branch.a] = true;
        used[branch.b] = true;
        if nodes <= 64 && branch.a != 0 && branch.b != 0 {
            joined[branch.a] |= 1 << branch.b;
            joined[branch.b] |= 1 << branch.a;
        }
    }
    let mut left: Vec<usize> = (1..nodes).filter(|&node| used[node]).collect();
    if 64 < nodes {
        return left;
    }
    let mut ordered = Vec::with_capacity(left.len());
    while let Some(place) = (0..left.len()).min_by_key(|&place| joined[left[place]].count_ones()) {
        let node = left.swap_remove(place);
        ordered.push(node);
        let neighbours = joined[node];
        for &other in &left {
            if neighbours >> other & 1 == 1 {
                joined[other] = (joined[other] | neighbours) & !(1 << other) & !(1 << node);
            }
        }
    }
    ordered
}
