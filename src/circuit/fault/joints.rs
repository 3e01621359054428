//! Bad joints: a connection that is interrupted, nearly so, or has too much resistance.
//!
//! In: a resistor that stands for a wire, a contact, a feed or the module's ground. Out: its faults, added to the
//! [`Sites`]. Never: what a wire can touch.

use super::sites::Sites;
use super::words::{Words, of_module_ground, prior};
use super::{Change, FaultKind};
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

impl Sites<'_> {
    /// A joint that is open, has too much resistance, or is nearly open; how often it is the first and the second.
    pub(super) fn bad_joint(
        &mut self,
        (id, site): (ElementId, &Site),
        [open, high]: [f64; 2],
        words: impl Fn(FaultKind) -> Words,
    ) {
        self.open(words(FaultKind::Open), (id, site), open, Vec::new());
        self.high(words(FaultKind::High), (id, site), high, HIGHEST);
        let nearly = words(FaultKind::NearlyOpen);
        self.nearly_open(nearly, (id, site), open, (HIGHEST, Vec::new()));
    }

    /// The module's own ground: with much resistance in it the module has no power left.
    pub(super) fn module_ground(&mut self, id: ElementId, element: &Element) {
        let (at, words) = ((id, &element.site), of_module_ground);
        let starved = self.module_draw().unwrap_or(HIGHEST);
        let dead = self.without_power();
        self.open(words(FaultKind::Open), at, prior::GROUND_OPEN, dead.clone());
        self.high(words(FaultKind::High), at, prior::GROUND_HIGH, starved);
        let nearly = words(FaultKind::NearlyOpen);
        self.nearly_open(nearly, at, prior::GROUND_OPEN, (starved, dead));
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

    /// The most that a healthy joint has, ohm.
    fn healthy(&self, id: ElementId) -> Option<f64> {
        match self.network.elements()[id.0].kind {
            ElementKind::Resistor { ohms, .. } => Some(self.network.range(&ohms).high),
            _ => None,
        }
    }

    /// The most the module draws from the battery, as a resistance, ohm. As much again in its ground halves what it is fed
    /// with, and it stops (common practice, no source).
    fn module_draw(&self) -> Option<f64> {
        let (battery, common) = (self.battery()?, self.module_common()?);
        let all = self.network.elements().iter();
        let mut drawn = all.filter(|element| element.site == Site::Supply);
        drawn.find_map(|element| match element.kind {
            ElementKind::Resistor { a, b, ohms }
                if [a, b] == [battery, common] || [a, b] == [common, battery] =>
            {
                Some(self.network.range(&ohms).low)
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
}
