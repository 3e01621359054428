//! A point of the part that the card does not name: `at-rest@34 C`, between or beside those it has.
//!
//! In: a carried circuit and a place. Out: the same circuit with that place to read at. A temperature goes by the card's
//! curve; anything else must lie between two points of the card and may be whatever lies between theirs.

use super::Carried;
use crate::quantity::{Dimension, Toleranced, read_quantity};
use crate::reason::Probe;
use crate::sheet::series::ends;
use crate::sheet::states::resistance;

/// How far a thermometer at the part may be off, K: contact or infrared, common practice, no source.
const THERMOMETER: f64 = 2.0;
/// What a point can be told by.
const KNOWN_BY: [Dimension; 4] = [
    Dimension::Temperature,
    Dimension::Pressure,
    Dimension::Angle,
    Dimension::Ratio,
];

impl Carried {
    /// Adds the place, where it is a point of a known test that the card does not name; whether it did.
    pub fn add_point(&mut self, place: &str) -> bool {
        let Some((test, state)) = place.split_once('@') else {
            return false;
        };
        let mut added = None;
        for at in 0..self.variants.len() {
            let Some((like, probe)) = self.own_probe(at, test.trim(), state.trim()) else {
                return false;
            };
            added = Some(like);
            self.variants[at].probes.push(probe);
        }
        let of_test = added.and_then(|like| self.of_test.get(like).copied());
        self.of_test.extend(of_test);
        of_test.is_some()
    }

    /// The probe of a variant that reads the test at that point, and which probe it is like.
    fn own_probe(&self, variant: usize, test: &str, state: &str) -> Option<(usize, Probe)> {
        let probes = &self.variants.get(variant)?.probes;
        let own: Vec<(usize, &Probe)> = probes
            .iter()
            .enumerate()
            .filter(|(_, probe)| probe.test == test)
            .collect();
        if own.iter().any(|(_, probe)| probe.state == state) {
            return None;
        }
        let (like, dimension, number) = own.iter().find_map(|(at, probe)| {
            let read = |text: &str, dimension| read_quantity(text, dimension).ok();
            let told = KNOWN_BY.into_iter();
            let mut told = told.filter(|by| read(&probe.state, *by).is_some());
            let dimension = told.next()?;
            Some((*at, dimension, read(state, dimension)?.number))
        })?;
        let mut points: Vec<(f64, &Probe)> = Vec::new();
        for (_, probe) in &own {
            points.push((read_quantity(&probe.state, dimension).ok()?.number, probe));
        }
        points.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
        let overrides = &probes[like].hookup.setting.overrides;
        let by_curve = self
            .by_curve(number)
            .filter(|_| dimension == Dimension::Temperature && overrides.len() == 1);
        let mut probe = probes[like].clone();
        probe.state = state.to_owned();
        for (place, (_, range)) in probe.hookup.setting.overrides.iter_mut().enumerate() {
            *range = by_curve.or_else(|| between(&points, number, place))?;
        }
        Some((like, probe))
    }

    /// What the curve gives at a temperature, with the thermometer's error.
    fn by_curve(&self, celsius: f64) -> Option<Toleranced> {
        let curve = self.curve.as_ref()?;
        let (least, most) = ends(curve);
        if !(least..=most).contains(&celsius) {
            return None;
        }
        let [below, there, above] =
            [-THERMOMETER, 0.0, THERMOMETER].map(|error| resistance(curve, celsius + error));
        let (below, there, above) = (below?, there?, above?);
        Some(Toleranced {
            low: below.low.min(above.low),
            nominal: there.nominal,
            high: below.high.max(above.high),
        })
    }
}

/// Everything between the neighbours of a number, of what is set in that place.
fn between(points: &[(f64, &Probe)], number: f64, place: usize) -> Option<Toleranced> {
    let below = points.iter().rev().find(|(at, _)| *at <= number)?;
    let above = points.iter().find(|(at, _)| number <= *at)?;
    let range = |point: &(f64, &Probe)| {
        let set = point.1.hookup.setting.overrides.get(place)?;
        Some(set.1)
    };
    let (a, b) = (range(below)?, range(above)?);
    let part = match above.0 - below.0 {
        0.0 => 0.0,
        whole => (number - below.0) / whole,
    };
    Some(Toleranced {
        low: a.low.min(b.low),
        nominal: a.nominal + part * (b.nominal - a.nominal),
        high: a.high.max(b.high),
    })
}
