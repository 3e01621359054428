//! Cells: the readings axis of one probe, cut by all band edges, with who can read in each.
//!
//! In: signatures and the rows of interest. Out: cells in ascending order, then floating, then no path;
//! stretches that nothing can read are left out. Adjacent cells that mean the same are one; the edges of
//! the healthy band always stay. Never: names.

use super::class::{Classes, HEALTHY};
use super::set::Set;
use super::signature::Signatures;
use crate::circuit::Band;
use crate::quantity::Interval;

/// Where on the axis a cell lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reads {
    /// A number in this interval.
    Between(Interval),
    /// The lead hangs on nothing: the meter drifts near zero.
    Floating,
    /// The ohmmeter's overload sign.
    NoPath,
}

/// A cell with the rows that can read in it.
#[derive(Clone, Debug)]
pub(crate) struct RawCell {
    /// Where it lies.
    pub(crate) reads: Reads,
    /// Rows and the part of their weight that falls here, ascending by row.
    pub(crate) rows: Vec<(usize, f64)>,
    /// Their classes.
    pub(crate) classes: Set,
}

impl RawCell {
    /// Weight that falls here.
    pub(crate) fn mass(&self) -> f64 {
        self.rows.iter().map(|(_, mass)| mass).sum()
    }

    /// Whether a healthy circuit can read here.
    pub(crate) fn healthy(&self) -> bool {
        self.classes.contains(HEALTHY)
    }

    /// Takes in a neighbour.
    pub(crate) fn absorb(&mut self, other: &Self) {
        if let (Reads::Between(mine), Reads::Between(theirs)) = (&mut self.reads, other.reads) {
            mine.low = mine.low.min(theirs.low);
            mine.high = mine.high.max(theirs.high);
        }
        self.classes.join(&other.classes);
        self.rows.extend(&other.rows);
        self.rows.sort_by_key(|(row, _)| *row);
        self.rows.dedup_by(|next, kept| {
            let same = next.0 == kept.0;
            if same {
                kept.1 += next.1;
            }
            same
        });
    }

    /// Whether the other begins where this one ends.
    pub(crate) fn touches(&self, other: &Self) -> bool {
        match (self.reads, other.reads) {
            (Reads::Between(a), Reads::Between(b)) => a.high == b.low,
            _ => false,
        }
    }
}

/// Point bands are drawn this part of the axis wide, so that they own a cell.
const POINT: f64 = 5e-4;
/// Cells narrower than this part of their reading, plus [`SLIVER_AXIS`] of the axis, are no cell of their
/// own: no meter of half a percent could place a reading in them.
const SLIVER: f64 = 0.005;
/// See [`SLIVER`].
const SLIVER_AXIS: f64 = 2e-4;

/// Cuts the axis of a probe for some rows. A row whose reading may be anything is left out.
pub(crate) fn cut(
    signatures: &Signatures,
    classes: &Classes,
    probe: usize,
    rows: impl Iterator<Item = usize>,
) -> Vec<RawCell> {
    let told: Vec<(usize, &Band)> = rows
        .filter_map(|row| Some((row, signatures.telling(row, probe)?)))
        .collect();
    let axis = axis(&told);
    let edges = edges(&told, axis);
    let mut cells = blank(&edges, classes);
    let mut floating = empty_cell(Reads::Floating, classes);
    let mut no_path = empty_cell(Reads::NoPath, classes);
    for (row, band) in told {
        let part = classes.weight[row] / parts(band);
        for span in &band.intervals {
            spread(
                &mut cells,
                &edges,
                widened(*span, axis),
                (row, part),
                classes,
            );
        }
        if band.floating {
            place(&mut floating, (row, part), classes);
        }
        if band.no_path {
            place(&mut no_path, (row, part), classes);
        }
    }
    let mut cells = merge_same(merge_slivers(cells, axis));
    cells.extend(
        [floating, no_path]
            .into_iter()
            .filter(|cell| !cell.rows.is_empty()),
    );
    cells
}

/// Length of the axis that anything reads on.
fn axis(told: &[(usize, &Band)]) -> f64 {
    let spans = || told.iter().flat_map(|(_, band)| &band.intervals);
    let low = spans().map(|span| span.low).fold(f64::INFINITY, f64::min);
    let high = spans()
        .map(|span| span.high)
        .fold(f64::NEG_INFINITY, f64::max);
    if high > low { high - low } else { 1.0 }
}

fn widened(span: Interval, axis: f64) -> Interval {
    let lacking = (POINT * axis - (span.high - span.low)).max(0.0) / 2.0;
    Interval {
        low: span.low - lacking,
        high: span.high + lacking,
    }
}

fn edges(told: &[(usize, &Band)], axis: f64) -> Vec<f64> {
    let mut edges: Vec<f64> = told
        .iter()
        .flat_map(|(_, band)| &band.intervals)
        .map(|span| widened(*span, axis))
        .flat_map(|span| [span.low, span.high])
        .collect();
    edges.sort_by(f64::total_cmp);
    edges.dedup();
    edges
}

fn blank(edges: &[f64], classes: &Classes) -> Vec<RawCell> {
    edges
        .windows(2)
        .map(|pair| {
            let span = Interval {
                low: pair[0],
                high: pair[1],
            };
            empty_cell(Reads::Between(span), classes)
        })
        .collect()
}

fn empty_cell(reads: Reads, classes: &Classes) -> RawCell {
    RawCell {
        reads,
        rows: Vec::new(),
        classes: Set::empty(classes.count()),
    }
}

/// In how many pieces a band comes.
fn parts(band: &Band) -> f64 {
    let mut parts = band.intervals.iter().map(|_| 1.0).sum::<f64>();
    if band.floating {
        parts += 1.0;
    }
    if band.no_path {
        parts += 1.0;
    }
    f64::max(parts, 1.0)
}

/// Spreads a row's weight evenly over an interval.
fn spread(
    cells: &mut [RawCell],
    edges: &[f64],
    span: Interval,
    (row, weight): (usize, f64),
    classes: &Classes,
) {
    let first = edges.partition_point(|edge| *edge < span.low);
    let last = edges.partition_point(|edge| *edge < span.high);
    let width = span.high - span.low;
    for cell in cells.iter_mut().take(last).skip(first) {
        if let Reads::Between(own) = cell.reads {
            place(cell, (row, weight * (own.high - own.low) / width), classes);
        }
    }
}

fn place(cell: &mut RawCell, (row, mass): (usize, f64), classes: &Classes) {
    match cell.rows.last_mut() {
        Some(last) if last.0 == row => last.1 += mass,
        _ => cell.rows.push((row, mass)),
    }
    cell.classes.insert(classes.of[row]);
}

/// Gives slivers to a neighbour of the same health; drops what nothing reads.
fn merge_slivers(cells: Vec<RawCell>, axis: f64) -> Vec<RawCell> {
    let mut merged: Vec<RawCell> = Vec::with_capacity(cells.len());
    for cell in cells.into_iter().filter(|cell| !cell.rows.is_empty()) {
        match merged.last_mut() {
            Some(last)
                if last.touches(&cell)
                    && last.healthy() == cell.healthy()
                    && (is_sliver(last, axis) || is_sliver(&cell, axis)) =>
            {
                last.absorb(&cell);
            }
            _ => merged.push(cell),
        }
    }
    merged
}

fn is_sliver(cell: &RawCell, axis: f64) -> bool {
    match cell.reads {
        Reads::Between(span) => {
            span.high - span.low
                < SLIVER * ((span.low + span.high) / 2.0).abs() + SLIVER_AXIS * axis
        }
        Reads::Floating | Reads::NoPath => false,
    }
}

fn merge_same(cells: Vec<RawCell>) -> Vec<RawCell> {
    let mut merged: Vec<RawCell> = Vec::with_capacity(cells.len());
    for cell in cells {
        match merged.last_mut() {
            Some(last) if last.touches(&cell) && last.classes == cell.classes => last.absorb(&cell),
            _ => merged.push(cell),
        }
    }
    merged
}
