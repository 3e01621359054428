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
/// No two points lie so near to each other, in base units.
const NO_STEP: f64 = 1e-6;
/// What a point can be told by.
const KNOWN_BY: [Dimension; 4] = [
    Dimension::Temperature,
    Dimension::Pressure,
    Dimension::Angle,
    Dimension::Ratio,
];

impl Carried {
    /// Adds the place, where it is a point of a known test that the card does not name, and with it every other test that
    /// can be done there; whether it did.
    pub fn add_point(&mut self, place: &str) -> bool {
        let Some((test, state)) = place.split_once('@') else {
            return false;
        };
        let (test, state) = (test.trim(), state.trim());
        if self.own_probes(test, state).is_none() {
            return false;
        }
        let known = self.variants.first().map_or(&[][..], |one| &one.probes);
        let mut tests: Vec<String> = known.iter().map(|probe| probe.test.clone()).collect();
        tests.dedup();
        for test in tests {
            let Some((like, probes)) = self.own_probes(&test, state) else {
                continue;
            };
            self.of_test.push(self.of_test[like]);
            for (variant, probe) in self.variants.iter_mut().zip(probes) {
                variant.probes.push(probe);
            }
        }
        true
    }

    /// The probe of every variant that reads the test at that point, and which probe it is like.
    fn own_probes(&self, test: &str, state: &str) -> Option<(usize, Vec<Probe>)> {
        let variants = 0..self.variants.len();
        let each: Option<Vec<(usize, Probe)>> = variants
            .map(|variant| self.own_probe(variant, test, state))
            .collect();
        let each = each?;
        let like = each.first()?.0;
        (like < self.of_test.len())
            .then(|| (like, each.into_iter().map(|(_, probe)| probe).collect()))
    }

    /// The probe of a variant that reads the test at that point, and which probe it is like.
    fn own_probe(&self, variant: usize, test: &str, state: &str) -> Option<(usize, Probe)> {
        let probes = &self.variants.get(variant)?.probes;
        let own: Vec<(usize, &Probe)> = probes
            .iter()
            .enumerate()
            .filter(|(_, probe)| probe.test == test)
            .collect();
        if own
            .iter()
            .any(|(_, probe)| is_one_point(&probe.state, state))
        {
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

/// Whether two texts are one point: `40 C` is `104 F`.
pub(in crate::sheet) fn is_one_point(known: &str, typed: &str) -> bool {
    let mut told = KNOWN_BY.into_iter();
    known == typed
        || told.any(|by| {
            let read = |text| read_quantity(text, by).ok();
            let both = read(known).zip(read(typed));
            both.is_some_and(|(a, b)| (a.number - b.number).abs() < NO_STEP)
        })
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
