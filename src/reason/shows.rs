//! Shows: what a circuit can show at a probe, as far as a reading can be held against it.
//!
//! In: signatures, a row, a probe. Out: its band, and whether the value may stay what it was. Never: readings.
//!
//! A derived value follows its pin only inside a range. A load that brings the good circuit's pin into it moves the
//! value there; a fault that keeps the pin out shows the same substitute before and after, which is a reading too.

use super::probe::ProbeKind;
use super::separate::Seen;
use super::signature::{Row, Signatures};
use super::span;
use crate::circuit::Band;

/// What one circuit can show at one probe.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Shows<'s> {
    /// What it reads; none where it cannot have followed the pin.
    pub(crate) band: Option<&'s Band>,
    /// It may stay what it was before the load was placed.
    pub(crate) still: bool,
}

impl Shows<'_> {
    /// Whether two circuits show the same, whatever is nominal.
    pub(crate) fn same(self, other: Self) -> bool {
        let alike = match (self.band, other.band) {
            (Some(a), Some(b)) => same_readings(a, b),
            (None, None) => true,
            _ => false,
        };
        alike && self.still == other.still
    }

    /// Whether nothing that one shows the other shows too.
    pub(crate) fn disjoint(self, other: Self) -> bool {
        let bands = match (self.band, other.band) {
            (Some(a), Some(b)) => span::disjoint(a, b),
            _ => true,
        };
        bands && !(self.still && other.still)
    }

    /// The part (0 to 1) of what it shows that the other also shows; its band and standing still count alike.
    pub(crate) fn covered(self, by: Self) -> f64 {
        let band = self
            .band
            .map(|own| by.band.map_or(0.0, |by| span::covered(own, by)));
        let still = self.still.then_some(if by.still { 1.0 } else { 0.0 });
        match (band, still) {
            (Some(band), Some(still)) => f64::midpoint(band, still),
            (Some(only), None) | (None, Some(only)) => only,
            (None, None) => 1.0,
        }
    }

    /// As [`Seen::against_healthy`].
    pub(crate) fn against_healthy(self, healthy: &Band) -> Seen {
        match (self.band, self.still) {
            (None, _) => Seen::Always,
            (Some(band), false) => Seen::against_healthy(band, healthy),
            (Some(band), true) => Seen::over([Seen::against_healthy(band, healthy), Seen::Always]),
        }
    }
}

impl Signatures {
    /// What a row can show at a probe that a reading can be held against; none where it may be anything, because the pin
    /// is, or may be, outside the range in which a derived value follows.
    pub(crate) fn telling(&self, row: usize, probe: usize) -> Option<Shows<'_>> {
        let row = self.rows.get(row)?;
        let band = row.bands.get(probe)?;
        let follows = self.follows(probe, band);
        if !self.is_forced_in_range(probe) {
            let still = false;
            let band = Some(band);
            return follows.then_some(Shows { band, still });
        }
        let before = row.before.get(probe)?.as_ref()?;
        let in_part = |band| self.follows_in_part(probe, band);
        if follows {
            let still = self.follows(probe, before) && !span::disjoint(before, band);
            let band = Some(band);
            Some(Shows { band, still })
        } else if same_readings(before, band) || !(in_part(before) || in_part(band)) {
            Some(Shows {
                band: None,
                still: true,
            })
        } else {
            None
        }
    }

    /// Whether a reading of this probe can be held against a row at all.
    pub fn tells(&self, row: usize, probe: usize) -> bool {
        self.telling(row, probe).is_some()
    }

    /// Whether a good circuit's reading of this probe can be held against anything, whatever the variant.
    pub(crate) fn proves(&self, probe: usize) -> bool {
        let mut rows = (0..self.rows.len()).filter(|row| self.rows[*row].fault.is_none());
        rows.all(|row| self.tells(row, probe))
    }

    /// What it read before the jumper was placed, where that can be held against a reading.
    pub(crate) fn telling_before(&self, row: usize, probe: usize) -> Option<&Band> {
        let band = self.rows.get(row)?.before.get(probe)?.as_ref()?;
        self.follows(probe, band).then_some(band)
    }

    /// Whether a probe's load brings a derived value into the range in which it follows the pin, whatever the variant.
    pub(crate) fn is_forced_in_range(&self, probe: usize) -> bool {
        self.forced.contains(&probe)
    }

    /// The probes of which [`Self::is_forced_in_range`] is true.
    pub(super) fn find_forced(&self) -> Vec<usize> {
        let healthy = || self.rows.iter().filter(|row| row.fault.is_none());
        let brought = |row: &Row, probe: usize| {
            let loaded = row.before.get(probe).is_some_and(Option::is_some);
            let band = row.bands.get(probe);
            loaded && band.is_some_and(|band| self.follows(probe, band))
        };
        let derived = |probe: &usize| matches!(self.kind(*probe), Some(ProbeKind::Derived { .. }));
        let all = (0..self.probes.len()).filter(derived);
        all.filter(|probe| healthy().all(|row| brought(row, *probe)))
            .collect()
    }

    /// Whether a value follows the pin for all of a band's readings.
    fn follows(&self, probe: usize, band: &Band) -> bool {
        match self.kind(probe) {
            Some(ProbeKind::Meter | ProbeKind::Raw) => true,
            Some(ProbeKind::Derived { valid }) => {
                valid.is_some_and(|valid| band.lies_within(valid))
            }
            None => false,
        }
    }

    /// Whether it does for some of them.
    fn follows_in_part(&self, probe: usize, band: &Band) -> bool {
        match self.kind(probe) {
            Some(ProbeKind::Derived { valid: Some(valid) }) => {
                band.intervals.iter().any(|own| span::meet(*own, valid))
            }
            Some(ProbeKind::Derived { valid: None }) => false,
            Some(ProbeKind::Meter | ProbeKind::Raw) | None => true,
        }
    }

    fn kind(&self, probe: usize) -> Option<ProbeKind> {
        self.probes.get(probe).map(|probe| probe.kind)
    }
}

/// Whether two bands hold the same readings, whatever is nominal.
pub(crate) fn same_readings(a: &Band, b: &Band) -> bool {
    a.floating == b.floating && a.no_path == b.no_path && a.intervals == b.intervals
}
