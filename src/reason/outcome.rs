//! The outcome table of a probe: what each reading means.
//!
//! In: signatures and a probe. Out: cells in ascending order with the faults that read there, a short
//! answer of at most six rows, and every fault with whether this probe sees it. Never: sentences.

use super::at_once;
use super::cells::{self, RawCell, Reads};
use super::class::{Classes, HEALTHY};
use super::evidence::{Observation, Observed};
use super::probe::ProbeKind;
use super::resistance::Shown;
use super::separate::Seen;
use super::signature::{Change, Signatures};
use crate::circuit::{Band, FLOATING_SHOWS};
use crate::quantity::Interval;

/// What the readings of one probe mean.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// Which probe.
    pub probe: usize,
    /// What a reading here is worth as evidence.
    pub worth: Worth,
    /// The whole table, ascending, floating and no path last.
    pub cells: Vec<Cell>,
    /// The short answer: healthy first, then the likeliest, at most [`SHORT`] rows, similar neighbours joined.
    pub short: Vec<Cell>,
    /// Every fault, in the order it came.
    pub faults: Vec<FaultSeen>,
}

/// What a reading is worth as evidence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Worth {
    /// It can be held against every fault.
    Plain,
    /// A derived scan value: some or all readings prove nothing, above all one that does not move.
    Derived,
    /// A derived scan value that a load brings into the range in which it follows the pin: it has to move there.
    Forced,
    /// The jumper goes to where the open input rests: no change expected, proves nothing.
    NoChangeExpected,
    /// Whether it proves anything depends on where the open input rests, which is not known.
    DependsOnRest,
}

/// One stretch of readings.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// Where it lies.
    pub reads: Reads,
    /// A healthy circuit reads here.
    pub healthy: bool,
    /// Repairs whose faults read here, likeliest first.
    pub meanings: Vec<Meaning>,
    /// How often a reading falls here if one of the faults is the cause (ranking only).
    pub mass: f64,
}

/// A repair whose faults read in a cell.
#[derive(Clone, Debug, PartialEq)]
pub struct Meaning {
    /// The repair.
    pub repair: String,
    /// Rows of the signatures that read here.
    pub rows: Vec<usize>,
    /// Whether this probe tells them from a healthy circuit.
    pub seen: Seen,
    /// The series resistance it takes, ohm, where all of them are series resistances.
    pub resistance: Option<Interval>,
    /// Its part of the cell's mass.
    pub mass: f64,
}

/// A fault at a probe.
#[derive(Clone, Debug, PartialEq)]
pub struct FaultSeen {
    /// Number of the fault.
    pub fault: usize,
    /// Its name.
    pub name: String,
    /// Its repair.
    pub repair: String,
    /// Whether the probe sees it.
    pub seen: Seen,
    /// Everything it can read, over all resistances.
    pub band: Band,
    /// The series resistances at which the probe can see it, ohm.
    pub resistance: Option<Interval>,
}

/// Rows of the short answer.
pub const SHORT: usize = 6;
/// Neighbours whose repairs differ by less than this part of their mass are one line of the short answer.
const SIMILAR: f64 = 0.25;

/// The outcome tables of all probes, in their order.
pub fn outcomes(signatures: &Signatures) -> Vec<Outcome> {
    let probes: Vec<usize> = (0..signatures.probes.len()).collect();
    let classes = Classes::of(signatures);
    let faults = by_fault(signatures);
    at_once::each(&probes, |probe| {
        one(signatures, (&classes, &faults), *probe)
    })
}

/// The outcome table of a probe.
pub fn outcome(signatures: &Signatures, probe: usize) -> Outcome {
    let (classes, faults) = (Classes::of(signatures), by_fault(signatures));
    one(signatures, (&classes, &faults), probe)
}

fn one(
    signatures: &Signatures,
    (classes, faults): (&Classes, &[Vec<usize>]),
    probe: usize,
) -> Outcome {
    let healthy = signatures.healthy(probe);
    let raw = cells::cut(signatures, classes, probe, 0..signatures.rows.len());
    let seen: Vec<Seen> = (0..signatures.rows.len())
        .map(|row| seen_at(signatures, row, probe, &healthy))
        .collect();
    let show = |cell: &RawCell| cell_of(signatures, classes, (probe, &seen), cell);
    let mut short: Vec<Cell> = join_similar(&raw, classes).iter().map(show).collect();
    short.sort_by(|a, b| b.healthy.cmp(&a.healthy).then(b.mass.total_cmp(&a.mass)));
    short.truncate(SHORT);
    Outcome {
        probe,
        worth: worth(signatures, probe),
        cells: raw.iter().map(show).collect(),
        short,
        faults: faults_seen(signatures, probe, &seen, faults),
    }
}

/// The rows of every fault, by its number.
fn by_fault(signatures: &Signatures) -> Vec<Vec<usize>> {
    let rows = &signatures.rows;
    let count = rows.iter().filter_map(|row| row.fault).max();
    let mut faults = vec![Vec::new(); count.map_or(0, |last| last + 1)];
    for (place, row) in rows.iter().enumerate() {
        if let Some(fault) = row.fault {
            faults[fault].push(place);
        }
    }
    faults
}

impl Outcome {
    /// The cells of the whole table that a reading falls in: more than one near zero, where a floating
    /// lead shows the same, and on an edge. Empty where nothing that is modelled reads so.
    pub fn cells_for(&self, observation: &Observation) -> Vec<usize> {
        let falls = |cell: &Cell| match (cell.reads, observation.reading) {
            (Reads::Between(span), Observed::Value { number, within }) => {
                number + within >= span.low && number - within <= span.high
            }
            (Reads::Floating, Observed::Value { number, .. }) => {
                let shows = FLOATING_SHOWS;
                (shows.low..=shows.high).contains(&number)
            }
            (Reads::NoPath, Observed::NoPath)
            | (Reads::Floating, Observed::Floating)
            | (Reads::Still, Observed::NoChange) => true,
            _ => false,
        };
        (0..self.cells.len())
            .filter(|place| falls(&self.cells[*place]))
            .collect()
    }
}

fn seen_at(signatures: &Signatures, row: usize, probe: usize, healthy: &Band) -> Seen {
    match signatures.telling(row, probe) {
        Some(shows) => shows.against_healthy(healthy),
        None => Seen::Never,
    }
}

/// What a reading at this probe is worth.
pub fn worth(signatures: &Signatures, probe: usize) -> Worth {
    let kind = signatures.probes.get(probe).map(|probe| probe.kind);
    let derived = matches!(kind, Some(ProbeKind::Derived { .. }));
    let forced = signatures.is_forced_in_range(probe);
    if signatures.unsure.contains(&probe) && (forced || !derived) {
        return Worth::DependsOnRest;
    }
    match (kind, signatures.expects_change(probe)) {
        _ if forced => Worth::Forced,
        _ if derived => Worth::Derived,
        (_, Some(Change::NotExpected)) => Worth::NoChangeExpected,
        (_, Some(Change::Depends)) => Worth::DependsOnRest,
        (_, Some(Change::Expected) | None) => Worth::Plain,
    }
}

fn cell_of(
    signatures: &Signatures,
    classes: &Classes,
    (probe, seen): (usize, &[Seen]),
    cell: &RawCell,
) -> Cell {
    let gives = |row: usize| cell.rows.iter().any(|(own, _)| *own == row);
    let shown: Vec<Shown> = signatures.shown_at(probe, gives).collect();
    let mut rows: Vec<(usize, f64)> = cell.rows.clone();
    rows.retain(|(row, _)| classes.of[*row] != HEALTHY);
    rows.sort_unstable_by_key(|(row, _)| (classes.of[*row], *row));
    let mut meanings: Vec<Meaning> = rows
        .chunk_by(|a, b| classes.of[a.0] == classes.of[b.0])
        .map(|own| meaning(signatures, (seen, &shown), own))
        .collect();
    meanings.sort_unstable_by(|a, b| b.mass.total_cmp(&a.mass).then(a.rows.cmp(&b.rows)));
    Cell {
        reads: cell.reads,
        healthy: cell.healthy(),
        mass: meanings.iter().map(|meaning| meaning.mass).sum(),
        meanings,
    }
}

/// The meaning of rows of one repair.
fn meaning(
    signatures: &Signatures,
    (seen, shown): (&[Seen], &[Shown]),
    own: &[(usize, f64)],
) -> Meaning {
    let rows: Vec<usize> = own.iter().map(|(row, _)| *row).collect();
    let first = rows.first().map(|row| &signatures.rows[*row]);
    Meaning {
        repair: first.map_or_else(String::new, |row| row.repair.clone()),
        seen: Seen::over(rows.iter().map(|row| seen[*row])),
        resistance: signatures.resistance_of(rows.iter().copied(), shown),
        mass: own.iter().map(|(_, mass)| mass).sum(),
        rows,
    }
}

/// Joins neighbours that mean nearly the same, for the short answer.
fn join_similar(cells: &[RawCell], classes: &Classes) -> Vec<RawCell> {
    let mut joined: Vec<RawCell> = Vec::new();
    for cell in cells {
        match joined.last_mut() {
            Some(last)
                if last.reads.touches(cell.reads)
                    && last.healthy() == cell.healthy()
                    && difference(last, cell, classes) < SIMILAR =>
            {
                last.absorb(cell);
            }
            _ => joined.push(cell.clone()),
        }
    }
    joined
}

/// Half the sum of differences of the cells' shares by repair: 0 the same, 1 nothing shared.
fn difference(a: &RawCell, b: &RawCell, classes: &Classes) -> f64 {
    let mut shares = vec![0.0; classes.count()];
    let (mass_a, mass_b) = (a.mass(), b.mass());
    if mass_a <= 0.0 || mass_b <= 0.0 {
        return 0.0;
    }
    for (row, mass) in &a.rows {
        shares[classes.of[*row]] += mass / mass_a;
    }
    for (row, mass) in &b.rows {
        shares[classes.of[*row]] -= mass / mass_b;
    }
    shares.iter().map(|share| share.abs()).sum::<f64>() / 2.0
}

fn faults_seen(
    signatures: &Signatures,
    probe: usize,
    seen: &[Seen],
    faults: &[Vec<usize>],
) -> Vec<FaultSeen> {
    let shown: Vec<Shown> = signatures.shown_at(probe, |_| false).collect();
    let told = |(fault, rows): (usize, &Vec<usize>)| {
        let first = signatures.rows.get(*rows.first()?)?;
        let own = rows.iter().map(|row| &signatures.rows[*row]);
        let at_all = rows.iter().copied().filter(|row| seen[*row] != Seen::Never);
        Some(FaultSeen {
            fault,
            name: first.name.clone(),
            repair: first.repair.clone(),
            seen: Seen::over(rows.iter().map(|row| seen[*row])),
            band: Band::union(own.filter_map(|row| row.bands.get(probe))),
            resistance: signatures.resistance_of(at_all, &shown),
        })
    };
    faults.iter().enumerate().filter_map(told).collect()
}
