//! Faint faults: left standing only where they are too slight to have shown.
//!
//! In: the rows left standing. Out: those of them that are a series resistance too small, a load too light or
//! a value too little off to show, and how slight. Never: readings.

use super::resistance::Shown;
use super::separate::Seen;
use super::set::Set;
use super::signature::{Row, Signatures};
use crate::circuit::fault::FaultKind;
use crate::quantity::Interval;

/// How slight a fault is that stays possible.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Slight {
    /// A series resistance of at most this, ohm.
    SeriesBelow(f64),
    /// A load of at least this, ohm.
    LoadAbove(f64),
    /// A value outside its limits that does not show in what was read: just outside, or off in another state.
    Outside,
}

impl Signatures {
    /// Of the rows left standing, the faint ones: segments of a resistance from its quiet end on, where its
    /// loud end is out; and, while the healthy circuit stands too, parts out of range that some probe read
    /// could have seen.
    pub(crate) fn faint(&self, left: &Set, shown: &[Shown], probes: &[usize]) -> Set {
        let mut faint = Set::empty(self.rows.len());
        let mut first = 0;
        while first < self.rows.len() {
            let own = &self.rows[first];
            let same = |row: &Row| {
                row.resistance.is_some() && row.fault == own.fault && row.variant == own.variant
            };
            let count = self.rows[first..]
                .iter()
                .take_while(|row| same(row))
                .count();
            for row in self.quiet((first, count), left, shown) {
                faint.insert(row);
            }
            first += count.max(1);
        }
        if left.iter().any(|row| self.rows[row].fault.is_none()) {
            let drifted = left
                .iter()
                .filter(|row| self.could_have_shown(*row, probes));
            drifted.for_each(|row| faint.insert(row));
        }
        faint
    }

    /// A part out of range at which some probe read looks.
    fn could_have_shown(&self, row: usize, probes: &[usize]) -> bool {
        self.rows[row].kind == Some(FaultKind::OutOfRange)
            && probes.iter().any(|probe| self.could_show(row, *probe))
    }

    /// Whether a probe can tell a row from a good circuit.
    pub(super) fn could_show(&self, row: usize, probe: usize) -> bool {
        let shows = self.telling(row, probe);
        shows.is_some_and(|shows| shows.against_healthy(&self.healthy(probe)) != Seen::Never)
    }

    /// Segments of one fault left standing, where the quiet end is among them and the loud end is out. There may be holes:
    /// a derived value proves something only of the resistances with which it follows the pin.
    fn quiet(&self, (first, count): (usize, usize), left: &Set, shown: &[Shown]) -> Vec<usize> {
        let mut segments: Vec<usize> = (first..first + count).collect();
        if is_load(self.rows[first].kind) {
            segments.reverse();
        }
        let stands = |row: &usize| left.contains(*row);
        // Good readings narrow it from its loud end: one that stands with the rest alone is out there.
        let loud = |row: &usize| {
            let narrowed = self.narrowed(*row, shown).map(|(span, _)| span);
            stands(row) && narrowed == self.rows[*row].resistance
        };
        if segments.first().is_some_and(stands) && !segments.last().is_some_and(loud) {
            segments.retain(stands);
            segments
        } else {
            Vec::new()
        }
    }

    /// How slight some rows are where this was shown, once for each way of being slight: the hull of their resistances, or
    /// outside their limits unseen.
    pub(crate) fn slight(&self, rows: impl Iterator<Item = usize>, shown: &[Shown]) -> Vec<Slight> {
        let mut all: Vec<Slight> = Vec::new();
        for row in rows {
            let own = match self.narrowed(row, shown).map(|(span, _)| span) {
                Some(span) if is_load(self.rows[row].kind) => Slight::LoadAbove(span.low),
                Some(Interval { high, .. }) => Slight::SeriesBelow(high),
                None => Slight::Outside,
            };
            let known = all
                .iter_mut()
                .find_map(|known| Some((known.with(own)?, known)));
            match known {
                Some((both, known)) => *known = both,
                None => all.push(own),
            }
        }
        all
    }
}

impl Slight {
    /// The less slight of two that are slight in one way.
    fn with(self, other: Self) -> Option<Self> {
        match (self, other) {
            (Self::SeriesBelow(a), Self::SeriesBelow(b)) => Some(Self::SeriesBelow(a.max(b))),
            (Self::LoadAbove(a), Self::LoadAbove(b)) => Some(Self::LoadAbove(a.min(b))),
            (Self::Outside, Self::Outside) => Some(Self::Outside),
            _ => None,
        }
    }
}

/// Whether a resistance shows at its low end.
pub(crate) fn is_load(kind: Option<FaultKind>) -> bool {
    use FaultKind::{PulledDown, Shorted, ToBattery, ToGround, ToReference, ToWire};
    matches!(
        kind,
        Some(PulledDown | Shorted | ToBattery | ToGround | ToReference | ToWire)
    )
}
