//! Computing signatures: every fault hooked up at every probe.
//!
//! In: a network, probes, faults. Out: [`Signatures`]. A reading that a fault cannot touch is taken from the
//! healthy circuit; a continuous resistance is cut where some probe begins to see it and where it always does.

use super::faint::is_load;
use super::felt;
use super::probe::Probe;
use super::sight::{self, Asked, Loud, Sight};
use super::signature::{FaultSights, Row, Signatures};
use crate::circuit::band::band;
use crate::circuit::fault::Fault;
use crate::circuit::{Band, CircuitError, HookUp, Network, Observe};
use crate::quantity::{Interval, maths};

/// Cuts of one resistance at most: beyond, the nearest go together. Each cut costs a row at every probe.
const CUTS: usize = 4;
/// Cuts closer than this ratio are one.
const NEAR: f64 = 1.5;

/// The bands of the healthy circuit and of every fault at every probe.
///
/// # Errors
/// Those of solving: an unknown node, ohms into a powered circuit, a circuit without a steady state.
pub fn signatures(
    network: &Network,
    probes: &[Probe],
    faults: &[Fault],
) -> Result<Signatures, CircuitError> {
    let bench = Bench::of(network, probes)?;
    let mut rows = vec![bench.row(None, bench.healthy.clone())];
    let mut sights = Vec::new();
    for (number, fault) in faults.iter().enumerate() {
        let Some(range) = fault.range else {
            let bands = bench.read_all(&fault.apply(network), |_| None)?;
            rows.push(bench.row(Some((number, fault, 1.0, None)), bands));
            continue;
        };
        let found = bench.sights(fault, range)?;
        let quiet = bench.quiet(fault, range, &found)?;
        for (span, share) in segments(range, &cuts(fault, range, &found)) {
            let part = fault.narrowed(span.low, span.high);
            let bands = bench.read_all(&part.apply(network), |hookup| {
                let (silent, band) = quiet[hookup].as_ref()?;
                (silent.low <= span.low && span.high <= silent.high).then(|| band.clone())
            })?;
            rows.push(bench.row(Some((number, fault, share, Some(span))), bands));
        }
        sights.push(FaultSights {
            fault: number,
            by_probe: bench.of_probe.iter().map(|hookup| found[*hookup]).collect(),
        });
    }
    Ok(Signatures {
        probes: probes.to_vec(),
        rows,
        sights,
    })
}

/// The hook-ups of all probes, each once, with what the healthy circuit reads there.
struct Bench<'a> {
    network: &'a Network,
    hookups: Vec<HookUp>,
    felt: Vec<felt::Felt>,
    healthy: Vec<Band>,
    /// Hook-up of each probe.
    of_probe: Vec<usize>,
    /// Hook-up of each probe with its links lifted, where it is a scan value under a link.
    before: Vec<Option<usize>>,
}

impl<'a> Bench<'a> {
    fn of(network: &'a Network, probes: &[Probe]) -> Result<Self, CircuitError> {
        let mut hookups: Vec<HookUp> = Vec::new();
        let mut place = |hookup: HookUp| {
            hookups
                .iter()
                .position(|own| *own == hookup)
                .unwrap_or_else(|| {
                    hookups.push(hookup);
                    hookups.len() - 1
                })
        };
        let of_probe = probes
            .iter()
            .map(|probe| place(probe.hookup.clone()))
            .collect();
        let before = probes
            .iter()
            .map(|probe| without_links(&probe.hookup).map(&mut place))
            .collect();
        let healthy = hookups
            .iter()
            .map(|hookup| band(network, hookup))
            .collect::<Result<_, _>>()?;
        let felt = hookups
            .iter()
            .map(|hookup| felt::felt(network, hookup))
            .collect();
        Ok(Self {
            network,
            hookups,
            felt,
            healthy,
            of_probe,
            before,
        })
    }

    /// What a changed network reads at every hook-up; `known` may spare the solving.
    fn read_all(
        &self,
        changed: &Network,
        known: impl Fn(usize) -> Option<Band>,
    ) -> Result<Vec<Band>, CircuitError> {
        (0..self.hookups.len())
            .map(|hookup| match known(hookup) {
                Some(band) => Ok(band),
                None if self.is_touched(changed, hookup) => band(changed, &self.hookups[hookup]),
                None => Ok(self.healthy[hookup].clone()),
            })
            .collect()
    }

    /// For each hook-up the stretch of resistance in which it never sees a fault, and one band for all of it:
    /// any segment inside reads no wider.
    fn quiet(
        &self,
        fault: &Fault,
        range: Interval,
        sights: &[Sight],
    ) -> Result<Vec<Option<(Interval, Band)>>, CircuitError> {
        let whole = fault.apply(self.network);
        sights
            .iter()
            .enumerate()
            .map(|(hookup, sight)| {
                if !self.is_touched(&whole, hookup) {
                    return Ok(None);
                }
                let silent = match (sight.first, loud(fault)) {
                    (None, _) => range,
                    (Some(first), Loud::High) => Interval {
                        high: first,
                        ..range
                    },
                    (Some(first), Loud::Low) => Interval {
                        low: first,
                        ..range
                    },
                };
                let part = fault.narrowed(silent.low, silent.high).apply(self.network);
                Ok(Some((silent, band(&part, &self.hookups[hookup])?)))
            })
            .collect()
    }

    fn is_touched(&self, changed: &Network, hookup: usize) -> bool {
        felt::touches(
            self.network,
            changed,
            &self.hookups[hookup],
            &self.felt[hookup],
        )
    }

    fn row(&self, fault: Option<(usize, &Fault, f64, Option<Interval>)>, bands: Vec<Band>) -> Row {
        let pick = |place: &usize| bands[*place].clone();
        let own = Row {
            fault: None,
            name: String::new(),
            says: String::new(),
            kind: None,
            repair: String::new(),
            subject: String::new(),
            site: None,
            prior: 0.0,
            resistance: None,
            variant: 0,
            bands: self.of_probe.iter().map(pick).collect(),
            before: self
                .before
                .iter()
                .map(|place| place.as_ref().map(pick))
                .collect(),
        };
        match fault {
            None => own,
            Some((number, fault, share, resistance)) => Row {
                fault: Some(number),
                name: fault.name.clone(),
                says: fault.says.clone(),
                kind: Some(fault.kind),
                repair: fault.repair.clone(),
                subject: fault.subject.clone(),
                site: Some(fault.site.clone()),
                prior: fault.prior * share,
                resistance,
                ..own
            },
        }
    }

    /// From which resistance each hook-up sees a fault.
    fn sights(&self, fault: &Fault, range: Interval) -> Result<Vec<Sight>, CircuitError> {
        let whole = fault.apply(self.network);
        (0..self.hookups.len())
            .map(|hookup| {
                if !self.is_touched(&whole, hookup) {
                    return Ok(Sight::default());
                }
                let asked = &self.hookups[hookup];
                let with = |ohms| fault.narrowed(ohms, ohms).apply(self.network);
                Asked {
                    range,
                    loud: loud(fault),
                    healthy: &self.healthy[hookup],
                    read: |ohms| sight::nominal(&with(ohms), asked),
                    band: |ohms| band(&with(ohms), asked),
                }
                .sight()
            })
            .collect()
    }
}

/// Where to cut a fault's range: where some hook-up begins to see it, and where it always does.
fn cuts(fault: &Fault, range: Interval, sights: &[Sight]) -> Vec<f64> {
    let loud = loud(fault);
    let inside = |cut: &f64| range.low < *cut && *cut < range.high;
    let cuts = sights
        .iter()
        .flat_map(|sight| [sight.first, sight.always])
        .flatten();
    let turned = cuts
        .filter(inside)
        .map(|cut| loud.turned(cut, range))
        .collect();
    let mut cuts: Vec<f64> = thinned(turned)
        .into_iter()
        .map(|cut| loud.turned(cut, range))
        .collect();
    cuts.sort_by(f64::total_cmp);
    cuts
}

/// Where a fault's resistance shows: a load at its low end, anything else lies in series.
fn loud(fault: &Fault) -> Loud {
    if is_load(Some(fault.kind)) {
        Loud::Low
    } else {
        Loud::High
    }
}

fn without_links(hookup: &HookUp) -> Option<HookUp> {
    let scan = matches!(hookup.observe, Observe::Scan { .. });
    (scan && !hookup.links.is_empty()).then(|| HookUp {
        links: Vec::new(),
        ..hookup.clone()
    })
}

/// Sorts cuts, turned so that the loud end is high, and joins near ones until few are left. The lowest keeps
/// its lower end, so that the lowest segment stays one that no probe sees; of all others the higher stays, so
/// that what always shows does.
fn thinned(mut cuts: Vec<f64>) -> Vec<f64> {
    cuts.sort_by(f64::total_cmp);
    loop {
        let nearest = (1..cuts.len()).min_by(|a, b| {
            let ratio = |place: &usize| cuts[*place] / cuts[*place - 1];
            ratio(a).total_cmp(&ratio(b))
        });
        let Some(place) = nearest else {
            return cuts;
        };
        if cuts.len() <= CUTS && cuts[place] / cuts[place - 1] >= NEAR {
            return cuts;
        }
        cuts.remove(if place == 1 { 1 } else { place - 1 });
    }
}

/// Segments between the cuts with the share of the range each takes on a logarithmic scale.
fn segments(range: Interval, cuts: &[f64]) -> Vec<(Interval, f64)> {
    let whole = maths::ln(range.high / range.low);
    let mut edges = vec![range.low];
    edges.extend(cuts);
    edges.push(range.high);
    edges
        .windows(2)
        .map(|pair| {
            let span = Interval {
                low: pair[0],
                high: pair[1],
            };
            let share = maths::ln(span.high / span.low) / whole;
            (span, if share.is_finite() { share } else { 1.0 })
        })
        .collect()
}
