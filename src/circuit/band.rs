//! Bands: every reading a circuit can give within the tolerances of its parts and of the meter.
//!
//! In: a [`Network`] and a [`HookUp`]. Out: a [`Band`]. Never: faults (a fault is another network).
//!
//! The parts come first, by [`climb`](super::climb); the instrument comes last: a meter adds its percentage and
//! counts, a converter 1/1023 of full scale to either side. Circuits with powered switches get one interval for
//! each pattern of switches that some point of the box allows.

use super::climb::Climb;
use super::compile::Circuit;
use super::gate::allowed;
use super::meter::OHMS_OVERLOAD;
use super::question::Question;
use super::solve::reading;
use super::space::Space;
use super::{Band, Bands, CircuitError, ElementId, ElementKind, HookUp, Network};
use crate::quantity::{Dimension, Interval};

/// Steps of a ten-bit converter: a scan value is sure to one step of `full / STEPS`.
pub const STEPS: f64 = 1023.0;

/// Part of the reading by which ends are moved outward for the rounding of arithmetic.
const SLACK: f64 = 1e-9;

/// All readings of a circuit within its tolerances, the instrument's error included.
///
/// # Errors
/// [`CircuitError::OhmsLive`], unknown nodes or inputs, limits that are not finite numbers in order, and
/// [`CircuitError::NoState`] where no pattern of switches is possible anywhere.
///
/// ```
/// use loomleaf::circuit::{Element, ElementKind, HookUp, Meter, Network, Observe, Parameter, Setting, Site, band};
/// use loomleaf::quantity::{Dimension, Toleranced};
///
/// // 5 V ± 2 % over two resistors of 1 kohm ± 1 %: the middle reads about 2.5 V.
/// let mut network = Network::new();
/// let mut parameter = |network: &mut Network, name: &str, dimension, nominal: f64, part: f64| {
///     let range = Toleranced { low: nominal * (1.0 - part), nominal, high: nominal * (1.0 + part) };
///     network.parameter(Parameter { name: name.into(), range, dimension })
/// };
/// let volts = parameter(&mut network, "supply", Dimension::Voltage, 5.0, 0.02)?;
/// let series = parameter(&mut network, "inside", Dimension::Resistance, 0.1, 0.0)?;
/// let upper = parameter(&mut network, "upper", Dimension::Resistance, 1000.0, 0.01)?;
/// let lower = parameter(&mut network, "lower", Dimension::Resistance, 1000.0, 0.01)?;
/// let (ground, top, middle) = (network.ground(), network.node("top"), network.node("middle"));
/// for (name, kind) in [
///     ("supply", ElementKind::Source { plus: top, minus: ground, volts, series }),
///     ("upper", ElementKind::Resistor { a: top, b: middle, ohms: upper }),
///     ("lower", ElementKind::Resistor { a: middle, b: ground, ohms: lower }),
/// ] {
///     network.add(Element { name: name.into(), site: Site::Part, kind })?;
/// }
/// let hookup = HookUp {
///     mated: true,
///     powered: true,
///     links: vec![],
///     observe: Observe::Volts { red: middle, black: ground },
///     setting: Setting::default(),
///     meter: Meter::common(),
/// };
/// let band = band::band(&network, &hookup)?;
/// assert!((2.40..2.42).contains(&band.intervals[0].low));
/// assert!((2.58..2.60).contains(&band.intervals[0].high));
/// # Ok::<(), loomleaf::circuit::CircuitError>(())
/// ```
pub fn band(network: &Network, hookup: &HookUp) -> Result<Band, CircuitError> {
    Bands::default().band(network, hookup)
}

/// The band over a space; none where no pattern of switches is possible anywhere in it.
pub(super) fn band_over(circuit: &mut Circuit, space: &Space, hookup: &HookUp) -> Option<Band> {
    let mut band = Band::default();
    let mut settled = false;
    for pattern in 0..circuit.patterns() {
        if let Some(space) = allowed(circuit, space, pattern) {
            settled |= add_pattern(&mut band, circuit, &space, pattern);
        }
    }
    if !circuit.gated.is_empty() {
        let nominal = circuit.settle_any(&space.nominal).ok();
        band.nominal = nominal.map(|_| reading(circuit.question, circuit.answer(&space.nominal)));
    }
    for interval in &mut band.intervals {
        *interval = instrument(*interval, circuit.question, hookup);
    }
    band.join_intervals();
    settled.then_some(band)
}

/// What a scan tool's display rounds away and its refresh lags, volts (common practice, no source).
const SCAN_DISPLAY: f64 = 0.02;

/// A powered switch that loses its supply as it closes, and gains it as it opens, hunts between the two:
/// the meter may show anything between the bands of both.
pub(super) fn hunting(network: &Network, hookup: &HookUp) -> Result<Band, CircuitError> {
    let hunts = |kind: &ElementKind| {
        matches!(
            kind,
            ElementKind::Switch {
                powered: Some(_),
                ..
            }
        )
    };
    let place = (0..network.elements().len())
        .find(|place| network.present(ElementId(*place)) && hunts(&network.elements()[*place].kind))
        .ok_or(CircuitError::NoState)?;
    let (mut open, mut closed) = (network.clone(), network.clone());
    open.remove(ElementId(place));
    let mut kind = network.elements()[place].kind.clone();
    if let ElementKind::Switch { powered, .. } = &mut kind {
        *powered = None;
    }
    closed.replace(ElementId(place), kind)?;
    let (open, closed) = (band(&open, hookup)?, band(&closed, hookup)?);
    let all = open.intervals.iter().chain(&closed.intervals);
    let hull = all.copied().reduce(|a, b| Interval {
        low: a.low.min(b.low),
        high: a.high.max(b.high),
    });
    Ok(Band {
        nominal: None,
        intervals: hull.into_iter().collect(),
        floating: open.floating || closed.floating,
        no_path: open.no_path || closed.no_path,
    })
}

/// Adds the readings of one pattern of switches, the nominal one as if it were the only pattern; false where no point
/// of the box has a steady state.
fn add_pattern(band: &mut Band, circuit: &mut Circuit, space: &Space, pattern: usize) -> bool {
    let question = circuit.question;
    let mut climb = Climb::new(circuit, space, pattern);
    let extremes = climb.extremes();
    band.nominal = climb.middle.map(|answer| reading(question, answer));
    band.floating |= climb.floating;
    band.no_path |= climb.no_path;
    let settled = climb.settled || climb.floating || climb.no_path;
    if climb.floating
        && let Question::Scan { full, .. } = question
    {
        // Nothing holds the converter's input: it may show anything.
        let any = Interval {
            low: 0.0,
            high: full,
        };
        band.intervals.push(any);
    }
    let Some((low, high)) = extremes else {
        return settled;
    };
    let slack = SLACK * low.abs().max(high.abs()).max(1e-3);
    let mut interval = Interval {
        low: low - slack,
        high: high + slack,
    };
    match question {
        Question::Scan { full, .. } => {
            interval.low = interval.low.clamp(0.0, full);
            interval.high = interval.high.clamp(0.0, full);
        }
        Question::Ohms { .. } => {
            band.no_path |= OHMS_OVERLOAD < interval.high;
            if OHMS_OVERLOAD < interval.low {
                return settled;
            }
            interval.low = interval.low.max(0.0);
            interval.high = interval.high.min(OHMS_OVERLOAD);
        }
        _ => {}
    }
    band.intervals.push(interval);
    settled
}

/// What the instrument may show for any true value of an interval.
fn instrument(truth: Interval, question: Question, hookup: &HookUp) -> Interval {
    let dimension = match question {
        Question::Ohms { .. } => Dimension::Resistance,
        Question::Amps { .. } => Dimension::Current,
        Question::Volts { .. } | Question::Margin(_) => Dimension::Voltage,
        Question::Scan { full, .. } => {
            let step = full / STEPS + SCAN_DISPLAY;
            return Interval {
                low: (truth.low - step).max(0.0),
                high: (truth.high + step).min(full),
            };
        }
    };
    hookup.meter.widen(truth, dimension)
}

impl Band {
    /// Everything that any of some bands can read; the first nominal there is stands for all.
    pub fn union<'a>(bands: impl IntoIterator<Item = &'a Band>) -> Band {
        let mut all = Band::default();
        for band in bands {
            all.nominal = all.nominal.or(band.nominal);
            all.floating |= band.floating;
            all.no_path |= band.no_path;
            all.intervals.extend(&band.intervals);
        }
        all.join_intervals();
        all
    }

    /// True where every reading is a number in an interval.
    pub fn lies_within(&self, interval: Interval) -> bool {
        let inside = |span: &Interval| interval.low <= span.low && span.high <= interval.high;
        !self.floating && !self.no_path && self.intervals.iter().all(inside)
    }

    /// How much of the axis its numbers take.
    pub fn width(&self) -> f64 {
        let widths = self.intervals.iter().map(|span| span.high - span.low);
        widths.sum()
    }

    /// Sorts the intervals and joins those that touch.
    fn join_intervals(&mut self) {
        self.intervals
            .sort_unstable_by(|a, b| a.low.total_cmp(&b.low));
        let mut joined: Vec<Interval> = Vec::with_capacity(self.intervals.len());
        for next in self.intervals.drain(..) {
            match joined.last_mut() {
                Some(last) if next.low <= last.high => last.high = last.high.max(next.high),
                _ => joined.push(next),
            }
        }
        self.intervals = joined;
    }
}
