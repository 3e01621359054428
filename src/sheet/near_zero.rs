//! Near zero: readings that a meter cannot tell from a lead that hangs on nothing.
//!
//! In: cells of an outcome table. Out: the same with one row for all of them, since the reader sees one
//! number for all. A floating lead drifts within [`FLOATING_SHOWS`]. Never: words.

use crate::circuit::FLOATING_SHOWS;
use crate::reason::{Cell, Meaning, Reads, Seen};

/// Cells as a meter shows them: a floating lead joins the stretches it cannot be told from; a good one
/// first, since then a good reading can hide it.
pub(super) fn joined(cells: &[Cell]) -> Vec<Cell> {
    let Some(floating) = cells.iter().find(|cell| cell.reads == Reads::Floating) else {
        return cells.to_vec();
    };
    let near = |cell: &&Cell| match cell.reads {
        Reads::Between(span) => FLOATING_SHOWS.low <= span.low && span.high <= FLOATING_SHOWS.high,
        Reads::Floating | Reads::NoPath | Reads::Still => false,
    };
    let good = cells.iter().find(|cell| near(cell) && cell.healthy);
    let mut one = good.unwrap_or(floating).clone();
    let rest = |cell: &&Cell| {
        cell.reads != one.reads && (*cell == floating || (good.is_none() && near(cell)))
    };
    let taken: Vec<&Cell> = cells.iter().filter(rest).collect();
    for cell in &taken {
        absorb(&mut one, cell);
    }
    let place = cells
        .iter()
        .position(|cell| cell.reads == one.reads)
        .unwrap_or(0);
    let keep = |(at, cell): (usize, &Cell)| match (at == place, taken.contains(&cell)) {
        (true, _) => Some(one.clone()),
        (false, true) => None,
        (false, false) => Some(cell.clone()),
    };
    cells.iter().enumerate().filter_map(keep).collect()
}

/// Cells as a scan tool or an ohmmeter shows them: what nothing holds has no row of its own.
pub(super) fn held(cells: &[Cell]) -> Vec<Cell> {
    cells
        .iter()
        .filter(|cell| cell.reads != Reads::Floating)
        .cloned()
        .collect()
}

fn absorb(one: &mut Cell, other: &Cell) {
    for more in &other.meanings {
        match one
            .meanings
            .iter_mut()
            .find(|own| own.repair == more.repair)
        {
            Some(own) => join(own, more),
            None => one.meanings.push(more.clone()),
        }
    }
    one.mass += other.mass;
    one.meanings
        .sort_unstable_by(|a, b| b.mass.total_cmp(&a.mass).then(a.rows.cmp(&b.rows)));
}

fn join(own: &mut Meaning, more: &Meaning) {
    let fresh = more.rows.iter().filter(|row| !own.rows.contains(row));
    let fresh: Vec<usize> = fresh.copied().collect();
    own.rows.extend(fresh);
    own.mass += more.mass;
    own.resistance = own.resistance.zip(more.resistance).map(|(a, b)| a.hull(b));
    if own.seen != more.seen {
        own.seen = Seen::Depends;
    }
}
