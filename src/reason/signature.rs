//! Fault signatures: the band every fault gives at every probe.
//!
//! In: rows as computed from a circuit. Out: [`Signatures`], what all other reasoning reads.
//! A continuous fault is several rows, one a segment of its resistance; a circuit with an unknown
//! choice (which way the open input is pulled) is several variants side by side.

use super::probe::Probe;
use super::sight::Sight;
use super::span;
use crate::circuit::fault::FaultKind;
use crate::circuit::{Band, Site};
use crate::quantity::Interval;

/// The bands of the healthy circuit and of every fault at every probe.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Signatures {
    /// What can be read.
    pub probes: Vec<Probe>,
    /// Healthy and faulty circuits.
    pub rows: Vec<Row>,
    /// From where each probe sees each continuous resistance.
    pub sights: Vec<FaultSights>,
    /// Probes whose jumper goes elsewhere in another variant: who places it has to know which variant it is.
    pub unsure: Vec<usize>,
    /// Probes whose load brings a derived value into the range in which it follows the pin, whatever the variant.
    pub forced: Vec<usize>,
}

/// From where each probe sees a continuous resistance.
#[derive(Clone, Debug, PartialEq)]
pub struct FaultSights {
    /// Which fault.
    pub fault: usize,
    /// Which variant of the circuit, 0 where there is only one.
    pub variant: usize,
    /// In the order of the probes.
    pub by_probe: Vec<Sight>,
}

/// One circuit, healthy or with one fault (or one segment of its resistance).
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Number of the fault, none for the healthy circuit. Segments of one fault share it.
    pub fault: Option<usize>,
    /// What is wrong, in the words that came in; empty for healthy.
    pub name: String,
    /// The same as a clause with the pin; empty for healthy.
    pub says: String,
    /// What kind of change it is; none for healthy.
    pub kind: Option<FaultKind>,
    /// What to do about it; faults with one repair are one line to the reader.
    pub repair: String,
    /// What it concerns: `signal wire`, `module input`; proofs are given by subject.
    pub subject: String,
    /// Where it sits; none for healthy.
    pub site: Option<Site>,
    /// How often it is the cause, against the others; ranks, never eliminates.
    pub prior: f64,
    /// The segment of series resistance, ohm; segments of one fault follow each other, lowest first.
    pub resistance: Option<Interval>,
    /// Its place among the sights, where it is a segment of a resistance.
    pub sights: Option<usize>,
    /// It is a value that follows the state of the part: off in one, it may be good in another.
    pub by_state: bool,
    /// Which variant of the circuit, 0 where there is only one.
    pub variant: usize,
    /// What each probe reads, meter and tolerances included.
    pub bands: Vec<Band>,
    /// What each probe reads with its jumper or load lifted; none where it has none or is no scan value.
    pub before: Vec<Option<Band>>,
}

impl Signatures {
    /// Rows as they were computed.
    pub fn of(
        probes: Vec<Probe>,
        rows: Vec<Row>,
        sights: Vec<FaultSights>,
        unsure: Vec<usize>,
    ) -> Self {
        let mut all = Self {
            probes,
            rows,
            sights,
            unsure,
            forced: Vec::new(),
        };
        all.forced = all.find_forced();
        all
    }

    /// Puts variants of one circuit side by side (an unknown pull direction: both ways worked out).
    /// Probes are those of the first; a variant with another number of probes is left out.
    pub fn joined(variants: Vec<Self>) -> Self {
        let probes = variants
            .first()
            .map(|one| one.probes.clone())
            .unwrap_or_default();
        let differs = |probe: &usize| {
            let links = |one: &Self| Some(one.probes.get(*probe)?.hookup.links.clone());
            variants.iter().any(|one| links(one) != links(&variants[0]))
        };
        let unsure = (0..probes.len()).filter(differs).collect();
        let (mut rows, mut sights) = (Vec::new(), Vec::new());
        let count: f64 = variants.iter().map(|_| 1.0).sum();
        for (variant, one) in variants.into_iter().enumerate() {
            if one.probes.len() != probes.len() {
                continue;
            }
            let before = sights.len();
            rows.extend(one.rows.into_iter().map(|row| Row {
                variant,
                sights: row.sights.map(|own| before + own),
                prior: row.prior / count,
                ..row
            }));
            sights.extend(
                one.sights
                    .into_iter()
                    .map(|own| FaultSights { variant, ..own }),
            );
        }
        Self::of(probes, rows, sights, unsure)
    }

    /// The row of a variant's healthy circuit.
    pub(super) fn good_in(&self, variant: usize) -> Option<usize> {
        let mut rows = self.rows.iter();
        rows.position(|row| row.fault.is_none() && row.variant == variant)
    }

    /// Everything a healthy circuit can read at a probe.
    pub fn healthy(&self, probe: usize) -> Band {
        Band::union(
            self.rows
                .iter()
                .filter(|row| row.fault.is_none())
                .filter_map(|row| row.bands.get(probe)),
        )
    }

    /// Whether a healthy circuit's reading must change when the probe's jumper is placed: yes, no, or
    /// it depends on the variant (where the open input rests). None for a probe without a jumper.
    pub fn expects_change(&self, probe: usize) -> Option<Change> {
        let changes: Vec<bool> = self
            .rows
            .iter()
            .filter(|row| row.fault.is_none())
            .filter_map(|row| Some((row.before.get(probe)?.as_ref()?, row.bands.get(probe)?)))
            .map(|(before, after)| span::disjoint(before, after))
            .collect();
        match (changes.contains(&true), changes.contains(&false)) {
            (true, true) => Some(Change::Depends),
            (true, false) => Some(Change::Expected),
            (false, true) => Some(Change::NotExpected),
            (false, false) => None,
        }
    }
}

/// Whether a jumper must move the reading of a healthy circuit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Change {
    /// It must: no change names a fault.
    Expected,
    /// The open input rests there already: the test proves nothing.
    NotExpected,
    /// That depends on where the open input rests, which is not known.
    Depends,
}
