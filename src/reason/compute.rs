//! Computing signatures: every fault hooked up at every probe.
//!
//! In: a network, probes, faults. Out: [`Signatures`]. Circuits that reduce to
//! the same one are solved once; a continuous resistance is cut where some probe begins to see it and where it always does.

use super::at_once;
use super::faint::is_load;
use super::probe::Probe;
use super::sight::{Asked, Loud, Sight};
use super::signature::{FaultSights, Row, Signatures};
use crate::circuit::fault::Fault;
use crate::circuit::{
    Band, Bands, CircuitError, Felt, HookUp, Network, Observe, ParameterId, Sweep,
};
use crate::quantity::{Dimension, Interval, maths};

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
    signatures_of(network, probes, faults, &Bands::default())
}

/// As [`signatures`], with the bands that other variants of the circuit gave.
///
/// # Errors
/// As [`signatures`].
pub fn signatures_of(
    network: &Network,
    probes: &[Probe],
    faults: &[Fault],
    bands: &Bands,
) -> Result<Signatures, CircuitError> {
    let bench = Bench::of(network, probes, bands)?;
    let numbered: Vec<(usize, &Fault)> = faults.iter().enumerate().collect();
    let each = at_once::each(&numbered, |fault| bench.fault(*fault, network, bands));
    let mut rows = vec![bench.row(network, None, bench.healthy.clone())];
    let mut sights = Vec::new();
    for one in each {
        let (own, sight) = one?;
        let place = sight.is_some().then_some(sights.len());
        rows.extend(own.into_iter().map(|row| Row {
            sights: place,
            ..row
        }));
        sights.extend(sight);
    }
    Ok(Signatures::of(probes.to_vec(), rows, sights, Vec::new()))
}

/// The hook-ups of all probes, each once, with what the healthy circuit reads there.
struct Bench {
    hookups: Vec<HookUp>,
    healthy: Vec<Band>,
    /// What each hook-up feels of the healthy circuit.
    felt: Vec<Felt>,
    /// Hook-up of each probe.
    of_probe: Vec<usize>,
    /// Hook-up of each probe with its links lifted, where it is a scan value under a link.
    before: Vec<Option<usize>>,
}

impl Bench {
    fn of(network: &Network, probes: &[Probe], bands: &Bands) -> Result<Self, CircuitError> {
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
            .map(|hookup| bands.band(network, hookup))
            .collect::<Result<_, _>>()?;
        let felt = hookups.iter().map(|hookup| Felt::of(network, hookup));
        let felt = felt.collect::<Result<_, _>>()?;
        Ok(Self {
            hookups,
            healthy,
            felt,
            of_probe,
            before,
        })
    }

    /// The rows of a fault, and from where its resistance shows, if it is one.
    fn fault(
        &self,
        (number, fault): (usize, &Fault),
        network: &Network,
        bands: &Bands,
    ) -> Result<(Vec<Row>, Option<FaultSights>), CircuitError> {
        let faulty = fault.apply(network);
        let (Some(range), Some(ohms)) = (fault.range, fault.ranging(&faulty)) else {
            let bands = self.read_all(fault, (network, &faulty), bands)?;
            return Ok((
                vec![self.row(network, Some((number, fault, 1.0, None)), bands)],
                None,
            ));
        };
        let mut ranging = self.ranging(fault, (network, &faulty), (ohms, range), bands)?;
        let found: Vec<Sight> = ranging.iter().map(|at| at.sight).collect();
        let mut rows = Vec::new();
        for (span, share) in segments(range, &cuts(fault, range, &found)) {
            let bands = self.read_span(&mut ranging, span, bands)?;
            rows.push(self.row(network, Some((number, fault, share, Some(span))), bands));
        }
        let sights = FaultSights {
            fault: number,
            variant: 0,
            by_probe: self.of_probe.iter().map(|hookup| found[*hookup]).collect(),
        };
        Ok((rows, Some(sights)))
    }

    /// What a faulty circuit reads at every hook-up.
    fn read_all(
        &self,
        fault: &Fault,
        (network, faulty): (&Network, &Network),
        bands: &Bands,
    ) -> Result<Vec<Band>, CircuitError> {
        let each = self.hookups.iter().zip(self.felt.iter().zip(&self.healthy));
        each.map(|(hookup, (felt, healthy))| {
            if fault.is_felt(network, felt) {
                bands.band(faulty, hookup)
            } else {
                Ok(healthy.clone())
            }
        })
        .collect()
    }

    /// A fault's resistance at every hook-up: from where it shows, and one band for all of the stretch in which
    /// it never does (any segment inside reads no wider).
    fn ranging<'n>(
        &'n self,
        fault: &Fault,
        (network, faulty): (&Network, &'n Network),
        (ohms, range): (ParameterId, Interval),
        bands: &Bands,
    ) -> Result<Vec<Ranging<'n>>, CircuitError> {
        let loud = loud(fault);
        (0..self.hookups.len())
            .map(|hookup| {
                if !fault.is_felt(network, &self.felt[hookup]) {
                    return Ok(Ranging::default());
                }
                let healthy = &self.healthy[hookup];
                let mut sweep = Sweep::of(faulty, &self.hookups[hookup], ohms)?;
                if !sweep.is_felt() {
                    return Ok(Ranging::default());
                }
                let sight = Asked {
                    range,
                    loud,
                    healthy,
                    sweep: &mut sweep,
                    bands,
                }
                .sight()?;
                let silent = silent(range, loud, &sight);
                let quiet = sweep.band(silent, bands)?;
                Ok(Ranging {
                    sight,
                    moves: Some((sweep, silent, quiet)),
                })
            })
            .collect()
    }

    /// What every hook-up reads with the resistance in a span.
    fn read_span(
        &self,
        ranging: &mut [Ranging],
        span: Interval,
        bands: &Bands,
    ) -> Result<Vec<Band>, CircuitError> {
        let each = ranging.iter_mut().zip(&self.healthy);
        each.map(|(at, healthy)| match &mut at.moves {
            None => Ok(healthy.clone()),
            Some((_, silent, quiet)) if silent.low <= span.low && span.high <= silent.high => {
                Ok(quiet.clone())
            }
            Some((sweep, ..)) => sweep.band(span, bands),
        })
        .collect()
    }

    fn row(
        &self,
        network: &Network,
        fault: Option<(usize, &Fault, f64, Option<Interval>)>,
        bands: Vec<Band>,
    ) -> Row {
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
            sights: None,
            by_state: false,
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
                by_state: self.varies(fault, network),
                ..own
            },
        }
    }

    /// Whether a fault is a value out of its range that is another in each state of the part. Electronics set each of
    /// their currents anew.
    fn varies(&self, fault: &Fault, network: &Network) -> bool {
        fault.drifts().is_some_and(|parameter| {
            let settings = self.hookups.iter().map(|hookup| &hookup.setting);
            let all = settings.clone().flat_map(|setting| &setting.overrides);
            let mut own = all.filter(|(id, _)| *id == parameter);
            let first = own.next();
            let is_current = network.parameters()[parameter.0].dimension == Dimension::Current;
            let mut closed = settings.map(|setting| &setting.closed);
            let closes = closed.next();
            own.any(|other| Some(other) != first)
                || is_current && closed.any(|other| Some(other) != closes)
        })
    }
}

/// A fault's resistance at one hook-up.
#[derive(Default)]
struct Ranging<'n> {
    sight: Sight,
    /// The circuit, where the hook-up feels the fault, with the stretch in which it never shows and its band.
    moves: Option<(Sweep<'n>, Interval, Band)>,
}

/// The stretch of resistance in which a hook-up never sees a fault.
fn silent(range: Interval, loud: Loud, sight: &Sight) -> Interval {
    match (sight.first, loud) {
        (None, _) => range,
        (Some(first), Loud::High) => Interval {
            high: first,
            ..range
        },
        (Some(first), Loud::Low) => Interval {
            low: first,
            ..range
        },
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
    cuts.sort_unstable_by(f64::total_cmp);
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
    cuts.sort_unstable_by(f64::total_cmp);
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
