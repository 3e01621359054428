//! Telling: for every probe, which pairs of rows it separates; worked out once, then looked up.
//!
//! In: signatures. Out: always, depends, never for a pair at a probe or over several probes. Rows that
//! read alike at a probe share one entry. A test that is only done after another separates a pair always
//! only where the other always calls for it.

use super::at_once;
use super::class::Classes;
use super::probe::{Condition, When};
use super::separate::Seen;
use super::set::Set;
use super::shows::Shows;
use super::signature::Signatures;
use crate::circuit::{Band, FLOATING_SHOWS};

/// Separation of all pairs of rows by probe.
pub(crate) struct Telling {
    probes: Vec<Table>,
    rows: usize,
}

/// One probe: the kind of each row (its band, and whether the probe is called for), and how two kinds are
/// separated.
struct Table {
    kind_of: Vec<usize>,
    kinds: usize,
    apart: Vec<Seen>,
    /// For each kind the rows that are told from it at all, and those that always are.
    told: Vec<Told>,
}

/// The rows that are told from one, and those among them that always are.
#[derive(Clone)]
pub(crate) struct Told {
    pub(crate) at_all: Set,
    pub(crate) always: Set,
}

/// How probes together tell every row from every other.
pub(crate) struct Joint(pub(crate) Vec<Told>);

impl Joint {
    /// No probe, no row told from another.
    pub(crate) fn none(rows: usize) -> Self {
        Self(vec![Told::none(rows); rows])
    }

    /// Whether two rows are separated.
    pub(crate) fn apart(&self, a: usize, b: usize) -> Seen {
        self.0[a].seen(b)
    }

    /// Adds what others tell.
    pub(crate) fn join(&mut self, other: &Self) {
        for (mine, theirs) in self.0.iter_mut().zip(&other.0) {
            mine.join(theirs);
        }
    }
}

impl Told {
    fn none(rows: usize) -> Self {
        let (at_all, always) = (Set::empty(rows), Set::empty(rows));
        Self { at_all, always }
    }

    fn join(&mut self, other: &Self) {
        self.at_all.join(&other.at_all);
        self.always.join(&other.always);
    }

    /// Whether a row is told from the one.
    pub(crate) fn seen(&self, row: usize) -> Seen {
        match () {
            () if self.always.contains(row) => Seen::Always,
            () if self.at_all.contains(row) => Seen::Depends,
            () => Seen::Never,
        }
    }
}

impl Telling {
    /// Works out every probe.
    pub(crate) fn of(signatures: &Signatures) -> Self {
        let probes: Vec<usize> = (0..signatures.probes.len()).collect();
        Self {
            probes: at_once::each(&probes, |probe| Table::of(signatures, *probe)),
            rows: signatures.rows.len(),
        }
    }

    /// Whether a probe separates two rows.
    pub(crate) fn apart(&self, a: usize, b: usize, probe: usize) -> Seen {
        let table = &self.probes[probe];
        table.apart[table.kind_of[a] * table.kinds + table.kind_of[b]]
    }

    /// How several probes together separate the rows.
    pub(crate) fn joint(&self, probes: &[usize]) -> Joint {
        let mut joint = Joint::none(self.rows);
        for table in probes.iter().map(|probe| &self.probes[*probe]) {
            for (own, kind) in joint.0.iter_mut().zip(&table.kind_of) {
                own.join(&table.told[*kind]);
            }
        }
        joint
    }

    /// For every row the first row with its repair that no probe at all could tell from it.
    pub(crate) fn first_alike(&self, classes: &Classes) -> Vec<usize> {
        let probes = &self.probes;
        let alike = |a: usize, b: usize| {
            let mut each = probes.iter().map(|table| &table.kind_of);
            classes.of[a] == classes.of[b] && each.all(|kind| kind[a] == kind[b])
        };
        let mut firsts: Vec<usize> = Vec::new();
        let first = |row| {
            let known = firsts.iter().find(|first| alike(**first, row)).copied();
            if known.is_none() {
                firsts.push(row);
            }
            known.unwrap_or(row)
        };
        (0..self.rows).map(first).collect()
    }
}

impl Table {
    fn of(signatures: &Signatures, probe: usize) -> Self {
        let called_for = called_for(signatures, probe);
        let mut kinds: Vec<(Option<Shows>, Seen)> = Vec::new();
        let kind_of: Vec<usize> = called_for
            .into_iter()
            .enumerate()
            .map(|(row, called)| {
                let shows = signatures.telling(row, probe);
                let same = |other: &(Option<Shows>, Seen)| {
                    let alike = match (other.0, shows) {
                        (Some(other), Some(shows)) => other.same(shows),
                        (None, None) => true,
                        _ => false,
                    };
                    alike && other.1 == called
                };
                kinds.iter().position(same).unwrap_or_else(|| {
                    kinds.push((shows, called));
                    kinds.len() - 1
                })
            })
            .collect();
        let mut apart = vec![Seen::Never; kinds.len() * kinds.len()];
        for (a, one) in kinds.iter().enumerate() {
            for (b, other) in kinds.iter().enumerate().take(a + 1) {
                let seen = called(told(one.0, other.0), one.1, other.1);
                apart[a * kinds.len() + b] = seen;
                apart[b * kinds.len() + a] = seen;
            }
        }
        let mut told = vec![Told::none(kind_of.len()); kinds.len()];
        for (kind, own) in told.iter_mut().enumerate() {
            for (row, other) in kind_of.iter().enumerate() {
                match apart[kind * kinds.len() + other] {
                    Seen::Never => continue,
                    Seen::Depends => {}
                    Seen::Always => own.always.insert(row),
                }
                own.at_all.insert(row);
            }
        }
        Self {
            kind_of,
            kinds: kinds.len(),
            apart,
            told,
        }
    }
}

/// A probe that is not always called for separates at best sometimes.
fn called(seen: Seen, a: Seen, b: Seen) -> Seen {
    match (a, b) {
        (Seen::Always, Seen::Always) => seen,
        (Seen::Never, Seen::Never) => Seen::Never,
        _ => seen.max(Seen::Depends),
    }
}

/// A reading that may be anything tells nothing from nothing.
pub(crate) fn told(a: Option<Shows>, b: Option<Shows>) -> Seen {
    match (a, b) {
        (Some(a), Some(b)) => Seen::apart(a, b),
        _ => Seen::Never,
    }
}

/// For each row whether the probe's condition calls for it.
fn called_for(signatures: &Signatures, probe: usize) -> Vec<Seen> {
    let rows = 0..signatures.rows.len();
    match &signatures.probes[probe].when {
        None => rows.map(|_| Seen::Always).collect(),
        Some(when) => {
            let named: Vec<(usize, Band)> = (0..signatures.probes.len())
                .filter(|other| signatures.probes[*other].test == when.test)
                .map(|other| (other, signatures.healthy(other)))
                .collect();
            rows.map(|row| calls(signatures, row, &named, when))
                .collect()
        }
    }
}

fn calls(signatures: &Signatures, row: usize, named: &[(usize, Band)], when: &When) -> Seen {
    Seen::best(
        named
            .iter()
            .map(|(probe, healthy)| match signatures.telling(row, *probe) {
                Some(shows) => meets(shows, healthy, when.is),
                None => Seen::Depends,
            }),
    )
}

/// Whether what is shown lies so against the healthy band. Of a value that stands still it is not known which side.
fn meets(shows: Shows, healthy: &Band, condition: Condition) -> Seen {
    let good = Shows {
        band: Some(healthy),
        still: false,
    };
    let off = if shows.disjoint(good) {
        Seen::Always
    } else if shows.covered(good) >= 1.0 {
        Seen::Never
    } else {
        Seen::Depends
    };
    let sided = |side: fn(f64, (f64, f64)) -> bool| match shows.band {
        Some(band) if !shows.still => beyond(band, healthy, off, side),
        _ => Seen::Depends,
    };
    match condition {
        Condition::Off => off,
        Condition::Good => match off {
            Seen::Always => Seen::Never,
            Seen::Never => Seen::Always,
            Seen::Depends => Seen::Depends,
        },
        Condition::Low => sided(|own, edge| own < edge.0),
        Condition::High => sided(|own, edge| own > edge.1),
    }
}

/// Of a band that is off, how much lies on the side asked for. A floating lead reads low of anything positive.
fn beyond(band: &Band, healthy: &Band, off: Seen, side: fn(f64, (f64, f64)) -> bool) -> Seen {
    let (Some(first), Some(last)) = (healthy.intervals.first(), healthy.intervals.last()) else {
        return off;
    };
    let edge = (first.low, last.high);
    let mut ends: Vec<f64> = band
        .intervals
        .iter()
        .flat_map(|own| [own.low, own.high])
        .collect();
    if band.floating {
        ends.extend([FLOATING_SHOWS.low, FLOATING_SHOWS.high]);
    }
    if band.no_path {
        ends.push(f64::INFINITY);
    }
    let on_side = ends.iter().filter(|end| side(**end, edge)).count();
    if on_side == 0 {
        Seen::Never
    } else if on_side == ends.len() {
        Seen::Always
    } else {
        Seen::Depends
    }
}
