//! Fault signatures: the band every fault gives at every probe.
//!
//! In: rows as computed from a circuit. Out: [`Signatures`], what all other reasoning reads.
//! A continuous fault is several rows, one a segment of its resistance; a circuit with an unknown
//! choice (which way the open input is pulled) is several variants side by side.

use super::probe::{Probe, ProbeKind};
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
    /// Which variant of the circuit, 0 where there is only one.
    pub variant: usize,
    /// What each probe reads, meter and tolerances included.
    pub bands: Vec<Band>,
    /// What each probe reads with its jumper or load lifted; none where it has none or is no scan value.
    pub before: Vec<Option<Band>>,
}

impl Signatures {
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
        Self {
            probes,
            rows,
            sights,
            unsure,
        }
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

    /// The band that a reading at this probe can be held against: none where a derived value may show
    /// anything because the pin is, or may be, outside the range in which it follows.
    pub(crate) fn telling(&self, row: usize, probe: usize) -> Option<&Band> {
        let band = self.rows.get(row)?.bands.get(probe)?;
        follows(self.probes.get(probe)?.kind, band).then_some(band)
    }

    /// As [`Self::telling`], for the reading before the jumper was placed.
    pub(crate) fn telling_before(&self, row: usize, probe: usize) -> Option<&Band> {
        let band = self.rows.get(row)?.before.get(probe)?.as_ref()?;
        follows(self.probes.get(probe)?.kind, band).then_some(band)
    }

    /// Whether a probe's load brings a derived value into the range in which it follows the pin, whatever the variant.
    pub(crate) fn is_forced_in_range(&self, probe: usize) -> bool {
        let kind = self.probes.get(probe).map(|probe| probe.kind);
        let healthy = |place: &usize| self.rows[*place].fault.is_none();
        matches!(kind, Some(ProbeKind::Derived { .. }))
            && (0..self.rows.len()).filter(healthy).all(|place| {
                self.rows[place]
                    .before
                    .get(probe)
                    .is_some_and(Option::is_some)
                    && self.telling(place, probe).is_some()
            })
    }

    /// Whether a derived value follows the pin for some of a band's readings.
    pub(crate) fn follows_in_part(&self, probe: usize, band: &Band) -> bool {
        match self.probes.get(probe).map(|probe| probe.kind) {
            Some(ProbeKind::Derived { valid: Some(valid) }) => {
                band.intervals.iter().any(|own| span::meet(*own, valid))
            }
            Some(ProbeKind::Derived { valid: None }) => false,
            Some(ProbeKind::Meter | ProbeKind::Raw) | None => true,
        }
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

fn follows(kind: ProbeKind, band: &Band) -> bool {
    match kind {
        ProbeKind::Meter | ProbeKind::Raw => true,
        ProbeKind::Derived { valid: None } => false,
        ProbeKind::Derived { valid: Some(valid) } => band.lies_within(valid),
    }
}
