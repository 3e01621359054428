//! Bad joints: a connection that is interrupted, nearly so, or has too much resistance; and a battery that gives too little.
//!
//! In: a resistor that stands for a wire, a contact, a feed or the module's ground; the battery. Out: its faults, added to the
//! [`Sites`]. Never: what a wire can touch.

use super::insides::BEYOND;
use super::sites::Sites;
use super::words::{Words, of_battery, of_module_ground, prior};
use super::{Change, Drift, FaultKind};
use crate::circuit::sweep::spread;
use crate::circuit::{Element, ElementId, ElementKind, Site};
use crate::quantity::{Interval, Toleranced};

/// A bad joint can have anything up to this, ohm; beyond it is nearly open. Common practice, no source.
const HIGHEST: f64 = 10e6;
/// From here on it is open, ohm: no meter of a workshop shows a thing through it. Common practice, no source.
const OPEN: f64 = 1e9;
/// What an unpowered regulator's output sees towards its own ground, ohm (common practice, no source).
const UNPOWERED: Toleranced = Toleranced {
    low: 100.0,
    nominal: 3_000.0,
    high: 100_000.0,
};

/// What a module's regulator of a low voltage needs above its output, volts (common practice, no source).
const LEAST_HEADROOM: f64 = 0.5;
/// How far a regulator's output stays below what feeds it, as volts above it at which it is held (common practice, no
/// source).
pub(super) const HEADROOM: Toleranced = Toleranced {
    low: -2.0,
    nominal: -0.5,
    high: 0.0,
};

/// A flat battery still has this part of the least it should (common practice, no source).
const FLAT: f64 = 0.6;

impl Sites<'_> {
    /// A joint that is open, nearly so, or has too much resistance, and how often it is open and has resistance.
    pub(super) fn bad_joint(
        &mut self,
        at: (ElementId, &Site),
        priors: [f64; 2],
        words: impl Fn(FaultKind) -> Words,
    ) {
        self.open(words(FaultKind::Open), at, priors[0], Vec::new());
        self.bad_when_closed(at, priors, words);
    }

    /// A joint or a switch that has too much resistance, up to nearly open.
    pub(super) fn bad_when_closed(
        &mut self,
        at: (ElementId, &Site),
        [open, high]: [f64; 2],
        words: impl Fn(FaultKind) -> Words,
    ) {
        self.high(words(FaultKind::High), at, high, HIGHEST);
        let nearly = words(FaultKind::NearlyOpen);
        self.nearly_open(nearly, at, open, (HIGHEST, Vec::new()));
    }

    /// The module's own ground: where it has as much resistance as the module itself, the module is fed with half, and stops
    /// (common practice, no source). Up to the least draw it always runs and lifts its ground by up to half; from the
    /// largest on it never does, and lifts it by half and more: no lift is left out.
    pub(super) fn module_ground(&mut self, id: ElementId, element: &Element) {
        let (at, words) = ((id, &element.site), of_module_ground);
        let draw = self.module_draw();
        let [runs, stops] = draw.map_or([HIGHEST; 2], |draw| [draw.low, draw.high]);
        let dead = self.without_power();
        self.open(words(FaultKind::Open), at, prior::GROUND_OPEN, dead.clone());
        self.high(words(FaultKind::High), at, prior::GROUND_HIGH, runs);
        self.then(self.held_by_battery());
        let nearly = words(FaultKind::NearlyOpen);
        self.nearly_open(nearly, at, prior::GROUND_OPEN, (stops, dead));
    }

    fn open(
        &mut self,
        words: Words,
        (id, site): (ElementId, &Site),
        prior: f64,
        then: Vec<Change>,
    ) {
        let changes = [Change::Open(id)].into_iter().chain(then).collect();
        self.push(words, site.clone(), FaultKind::Open, prior, changes);
    }

    /// It can have any resistance from the healthy limit up to this.
    fn high(&mut self, words: Words, (id, site): (ElementId, &Site), prior: f64, high: f64) {
        let Some(low) = self.healthy(id) else { return };
        if low < high {
            let changes = vec![Change::Series(id, None)];
            self.push(words, site.clone(), FaultKind::High, prior, changes);
            if let Some(last) = self.found.last_mut() {
                last.range = Some(Interval { low, high });
            }
        }
    }

    /// It has a resistance from this one on, and what follows from it.
    fn nearly_open(
        &mut self,
        words: Words,
        (id, site): (ElementId, &Site),
        open: f64,
        (low, then): (f64, Vec<Change>),
    ) {
        if self.healthy(id).is_none_or(|healthy| low <= healthy) {
            return;
        }
        let ohms = spread(Interval { low, high: OPEN });
        let changes = [Change::Series(id, Some(ohms))].into_iter().chain(then);
        let prior = open * prior::NEARLY;
        self.push(
            words,
            site.clone(),
            FaultKind::NearlyOpen,
            prior,
            changes.collect(),
        );
    }

    /// What follows from the fault pushed last.
    fn then(&mut self, changes: Vec<Change>) {
        if let Some(last) = self.found.last_mut() {
            last.changes.extend(changes);
        }
    }

    /// The most that a healthy joint has, ohm.
    fn healthy(&self, id: ElementId) -> Option<f64> {
        match self.network.elements()[id.0].kind {
            ElementKind::Resistor { ohms, .. } | ElementKind::Switch { ohms, .. } => {
                Some(self.network.range(&ohms).high)
            }
            _ => None,
        }
    }

    /// A regulator gives no more than its module is fed with, less what it needs itself: the outputs that a lifted
    /// ground would carry past the battery.
    fn held_by_battery(&self) -> Vec<Change> {
        let Some((battery, fed)) = self.battery_and_volts() else {
            return Vec::new();
        };
        let all = self.network.elements().iter();
        let held = all.filter_map(|one| match one.kind {
            ElementKind::Regulator { out, volts, .. } if one.site == Site::Module => {
                // A module that runs with half of what it is fed with has the headroom for a voltage below that.
                let needed = self.network.range(&volts).high + LEAST_HEADROOM;
                (fed.low / 2.0 < needed).then_some(Change::Held(out, battery))
            }
            _ => None,
        });
        held.collect()
    }

    /// What the module draws from the battery, as a resistance, ohm.
    fn module_draw(&self) -> Option<Toleranced> {
        let (battery, common) = (self.battery()?, self.module_common()?);
        let all = self.network.elements().iter();
        let mut drawn = all.filter(|element| element.site == Site::Supply);
        drawn.find_map(|element| match element.kind {
            ElementKind::Resistor { a, b, ohms }
                if [a, b] == [battery, common] || [a, b] == [common, battery] =>
            {
                Some(self.network.range(&ohms))
            }
            _ => None,
        })
    }

    /// A module whose ground is gone has no power: its regulators give nothing, what they fed pulls their outputs
    /// to the module's own ground, and that rises towards the battery through the module.
    fn without_power(&self) -> Vec<Change> {
        let all = self.network.elements().iter().enumerate();
        let dead = all.filter_map(|(place, element)| match element.kind {
            ElementKind::Regulator { out, minus, .. } if element.site == Site::Module => {
                let loaded = Change::Load(out, minus, Some(UNPOWERED));
                Some([Change::Open(ElementId(place)), loaded])
            }
            _ => None,
        });
        dead.flatten().collect()
    }

    /// Where it feeds a wire, a battery below its volts is seen.
    pub(super) fn battery_flat(&mut self) {
        let feeds = self.wires.iter().any(|w| self.fuse_of(&w.role).is_some());
        if let Some((_, volts)) = self.battery_source().filter(|_| feeds) {
            let changes = vec![Change::Drift(volts, Drift::Below(FLAT, BEYOND))];
            let (kind, words) = (FaultKind::OutOfRange, of_battery());
            self.push(words, Site::Supply, kind, prior::BATTERY, changes);
        }
    }
}
