//! Cells: the readings axis of one probe, cut by all band edges, with who can read in each.
//!
//! In: signatures and the rows of interest. Out: cells in ascending order, then floating, then no path;
//! stretches that nothing can read are left out. Adjacent cells that mean the same are one; the edges of
//! the healthy band always stay. Never: names.

use super::class::{Classes, HEALTHY};
use super::set::Set;
use super::shows::Shows;
use super::signature::Signatures;
use super::span::one_if;
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
    /// A scan value stays what it was before the load was placed.
    Still,
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
        self.reads = self.reads.with(other.reads);
        self.classes.join(&other.classes);
        self.rows.extend(&other.rows);
        sum_up(&mut self.rows);
    }
}

impl Reads {
    /// Whether the other begins where this one ends.
    pub(crate) fn touches(self, other: Self) -> bool {
        match (self, other) {
            (Self::Between(a), Self::Between(b)) => a.high == b.low,
            _ => false,
        }
    }

    /// From the start of one to the end of the other.
    fn with(self, other: Self) -> Self {
        match (self, other) {
            (Self::Between(a), Self::Between(b)) => Self::Between(Interval {
                low: a.low.min(b.low),
                high: a.high.max(b.high),
            }),
            _ => self,
        }
    }
}

/// Sorts by number and sums the parts of each, the least first: the same digits however equals are sorted.
fn sum_up(parts: &mut Vec<(usize, f64)>) {
    parts.sort_unstable_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    parts.dedup_by(|next, kept| {
        let same = next.0 == kept.0;
        if same {
            kept.1 += next.1;
        }
        same
    });
}

/// Point bands are drawn this part of the axis wide, so that they own a cell.
const POINT: f64 = 5e-4;
/// Cells narrower than this part of their reading, plus [`SLIVER_AXIS`] of the axis, are no cell of their
/// own: no meter of half a percent could place a reading in them.
const SLIVER: f64 = 0.005;
/// The axis counts as at most so many times what a good circuit reads: one fault that drives hundreds of amperes
/// must not make milliamperes slivers.
const LARGE: f64 = 100.0;
/// See [`SLIVER`].
const SLIVER_AXIS: f64 = 2e-4;

/// Room for what reads in a stretch; most hold no more.
const ROOM: usize = 16;

/// Cuts the axis of a probe for some rows. A row whose reading may be anything is left out.
pub(crate) fn cut(
    signatures: &Signatures,
    classes: &Classes,
    probe: usize,
    rows: impl Iterator<Item = usize>,
) -> Vec<RawCell> {
    let alike = alike(signatures, classes, probe, rows);
    let axis = axis(&alike).min(LARGE * good(signatures, probe));
    let edges = edges(&alike, axis);
    let mut cells = blank(&edges, classes);
    let mut floating = Stretch::empty(Reads::Floating, classes);
    let mut no_path = Stretch::empty(Reads::NoPath, classes);
    let mut still = Stretch::empty(Reads::Still, classes);
    for (number, one) in alike.iter().enumerate() {
        let part = 1.0 / parts(one.shows);
        for span in one.intervals() {
            spread(
                &mut cells,
                &edges,
                widened(*span, axis),
                (number, part, one),
            );
        }
        if one.shows.band.is_some_and(|band| band.floating) {
            floating.place((number, part), one);
        }
        if one.shows.band.is_some_and(|band| band.no_path) {
            no_path.place((number, part), one);
        }
        if one.shows.still {
            still.place((number, part), one);
        }
    }
    let mut cells = merge_same(merge_slivers(cells, axis));
    let off_axis = [floating, no_path, still];
    cells.extend(off_axis.into_iter().filter(|cell| !cell.alike.is_empty()));
    let raw = |cell: Stretch| cell.told(&alike, classes);
    cells.into_iter().map(raw).collect()
}

/// Rows that read alike at a probe.
struct Alike<'s> {
    shows: Shows<'s>,
    rows: Vec<usize>,
    classes: Set,
}

impl<'s> Alike<'s> {
    fn intervals(&self) -> &'s [Interval] {
        self.shows.band.map_or(&[], |band| &band.intervals)
    }
}

fn alike<'s>(
    signatures: &'s Signatures,
    classes: &Classes,
    probe: usize,
    rows: impl Iterator<Item = usize>,
) -> Vec<Alike<'s>> {
    let mut all: Vec<Alike> = Vec::new();
    for row in rows {
        let Some(shows) = signatures.telling(row, probe) else {
            continue;
        };
        match all.iter_mut().find(|one| one.shows.same(shows)) {
            Some(one) => {
                one.rows.push(row);
                one.classes.insert(classes.of[row]);
            }
            None => all.push(Alike {
                shows,
                rows: vec![row],
                classes: classes.set_of([row]),
            }),
        }
    }
    all
}

/// A stretch of the axis with what reads in it, each by its number and the part of it that falls here.
struct Stretch {
    reads: Reads,
    alike: Vec<(usize, f64)>,
    classes: Set,
}

impl Stretch {
    fn empty(reads: Reads, classes: &Classes) -> Self {
        Self {
            reads,
            alike: Vec::with_capacity(ROOM),
            classes: Set::empty(classes.count()),
        }
    }

    fn place(&mut self, (number, part): (usize, f64), one: &Alike) {
        match self.alike.last_mut() {
            Some(last) if last.0 == number => last.1 += part,
            _ => self.alike.push((number, part)),
        }
        self.classes.join(&one.classes);
    }

    fn healthy(&self) -> bool {
        self.classes.contains(HEALTHY)
    }

    /// Takes in a neighbour, what reads in it left to be sorted.
    fn take(&mut self, other: &Self) {
        self.reads = self.reads.with(other.reads);
        self.classes.join(&other.classes);
        self.alike.extend(&other.alike);
    }

    /// The cell, row by row.
    fn told(mut self, alike: &[Alike], classes: &Classes) -> RawCell {
        sum_up(&mut self.alike);
        let each = self.alike.iter().flat_map(|(number, part)| {
            let rows = alike[*number].rows.iter();
            rows.map(move |row| (*row, classes.weight[*row] * part))
        });
        let mut rows: Vec<(usize, f64)> = each.collect();
        rows.sort_unstable_by_key(|(row, _)| *row);
        RawCell {
            reads: self.reads,
            rows,
            classes: self.classes,
        }
    }
}

/// The largest that a good circuit reads; without bound where none reads a number.
fn good(signatures: &Signatures, probe: usize) -> f64 {
    let healthy = signatures.rows.iter().filter(|row| row.fault.is_none());
    let spans = healthy.flat_map(|row| &row.bands[probe].intervals);
    let ends = spans.flat_map(|span| [span.low.abs(), span.high.abs()]);
    ends.reduce(f64::max).unwrap_or(f64::INFINITY)
}

/// Length of the axis that anything reads on.
fn axis(alike: &[Alike]) -> f64 {
    let spans = || alike.iter().flat_map(Alike::intervals);
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

fn edges(alike: &[Alike], axis: f64) -> Vec<f64> {
    let mut edges: Vec<f64> = alike
        .iter()
        .flat_map(Alike::intervals)
        .map(|span| widened(*span, axis))
        .flat_map(|span| [span.low, span.high])
        .collect();
    edges.sort_unstable_by(f64::total_cmp);
    edges.dedup();
    edges
}

fn blank(edges: &[f64], classes: &Classes) -> Vec<Stretch> {
    let between = |pair: &[f64]| {
        let span = Interval {
            low: pair[0],
            high: pair[1],
        };
        Stretch::empty(Reads::Between(span), classes)
    };
    edges.windows(2).map(between).collect()
}

/// In how many pieces it comes.
fn parts(shows: Shows) -> f64 {
    let of_band = |band: &Band| {
        let spans = band.intervals.iter().map(|_| 1.0).sum::<f64>();
        spans + one_if(band.floating) + one_if(band.no_path)
    };
    let parts = shows.band.map_or(0.0, of_band) + one_if(shows.still);
    f64::max(parts, 1.0)
}

/// Spreads a part evenly over an interval.
fn spread(
    cells: &mut [Stretch],
    edges: &[f64],
    span: Interval,
    (number, part, one): (usize, f64, &Alike),
) {
    let first = edges.partition_point(|edge| *edge < span.low);
    let last = edges.partition_point(|edge| *edge < span.high);
    let width = span.high - span.low;
    for cell in cells.iter_mut().take(last).skip(first) {
        if let Reads::Between(own) = cell.reads {
            cell.place((number, part * (own.high - own.low) / width), one);
        }
    }
}

/// Gives slivers to a neighbour of the same health; drops what nothing reads.
fn merge_slivers(mut cells: Vec<Stretch>, axis: f64) -> Vec<Stretch> {
    cells.retain(|cell| !cell.alike.is_empty());
    merged(cells, |last, next| {
        last.healthy() == next.healthy()
            && (is_sliver(last.reads, axis) || is_sliver(next.reads, axis))
    })
}

fn merge_same(cells: Vec<Stretch>) -> Vec<Stretch> {
    merged(cells, |last, next| last.classes == next.classes)
}

/// Merges each cell into the one before where they touch and belong together.
fn merged(cells: Vec<Stretch>, together: impl Fn(&Stretch, &Stretch) -> bool) -> Vec<Stretch> {
    let mut merged: Vec<Stretch> = Vec::with_capacity(cells.len());
    for cell in cells {
        match merged.last_mut() {
            Some(last) if last.reads.touches(cell.reads) && together(last, &cell) => {
                last.take(&cell);
            }
            _ => merged.push(cell),
        }
    }
    merged
}

fn is_sliver(reads: Reads, axis: f64) -> bool {
    match reads {
        Reads::Between(span) => {
            span.high - span.low
                < SLIVER * ((span.low + span.high) / 2.0).abs() + SLIVER_AXIS * axis
        }
        Reads::Floating | Reads::NoPath | Reads::Still => false,
    }
}
