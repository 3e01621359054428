//! Calculators that fit a card, each opened with the card's values through its address.
//!
//! In: a card, its family, its sheet. Out: links, and in words what they carry. A value with a tolerance goes as
//! its nominal; a band goes as its middle. What the card does not have stays for the reader to type.

use crate::calc::by_name;
use crate::card::{
    Card, Curve, Deck, Family, KnownGoodSpec, ParameterKind, ParameterValue, SignalPoint,
};
use crate::publish::shelf::Entry;
use crate::publish::{address, words};
use crate::quantity::{
    Dimension, Interval, Quantity, write_number, write_quantity, write_wire_size,
};
use crate::sheet::KnownGood;
use serde::Serialize;

/// A calculator with values.
#[derive(Serialize)]
pub(super) struct CalculateLine {
    title: &'static str,
    href: String,
    filled: String,
}

/// What goes into a calculator: its name, keys and texts.
type Filled = (&'static str, Vec<(&'static str, String)>);

/// The calculators that fit this card.
pub(super) fn view(entry: &Entry, deck: &Deck) -> Vec<CalculateLine> {
    let values = Values::of(entry, deck);
    let filled = [
        thermistor(&values),
        signal_drop_two_wire(&values),
        pull_up(&values),
        signal_range(&values),
        signal_check(&values),
        signal_drop(&values),
        voltage_drop(&values),
        wire_resistance(&values),
        recorded(&entry.sheet.known_good, deck.known_good),
    ];
    filled.into_iter().flatten().filter_map(line).collect()
}

fn line((name, pairs): Filled) -> Option<CalculateLine> {
    let calculator = by_name(name)?;
    let said = |(key, text): &(&'static str, String)| {
        let label = calculator.input(key)?.label;
        Some(format!("{label} {}", words::together(text)))
    };
    let filled: Vec<String> = pairs.iter().filter_map(said).collect();
    Some(CalculateLine {
        title: calculator.title,
        href: format!("{}{}", address::calculator(name), address::query(&pairs)),
        filled: filled.join("; "),
    })
}

/// What a card and its family know.
struct Values<'a> {
    card: &'a Card,
    family: Option<&'a Family>,
    /// Of the deck's vehicles, volts.
    battery: f64,
}

impl<'a> Values<'a> {
    fn of(entry: &Entry<'a>, deck: &Deck) -> Self {
        Self {
            card: entry.card,
            family: entry.family,
            battery: deck.battery.nominal,
        }
    }

    /// The card's value of a parameter, or the family's.
    fn number(&self, name: &str) -> Option<f64> {
        if let Some(given) = self.card.parameters.get(name) {
            return match &given.value {
                ParameterValue::Value(value) => Some(value.nominal),
                ParameterValue::Choice(_) | ParameterValue::Limits(_) => None,
            };
        }
        match &self.kind(name)? {
            ParameterKind::Value { default, .. } => Some(default.nominal),
            _ => None,
        }
    }

    fn limits(&self, name: &str) -> Option<Interval> {
        if let Some(given) = self.card.parameters.get(name) {
            return match &given.value {
                ParameterValue::Limits(limits) => Some(*limits),
                ParameterValue::Value(_) | ParameterValue::Choice(_) => None,
            };
        }
        match &self.kind(name)? {
            ParameterKind::Limits { default, .. } => Some(*default),
            _ => None,
        }
    }

    fn choice(&self, name: &str) -> Option<&'a str> {
        match self.card.parameters.get(name).map(|given| &given.value) {
            Some(ParameterValue::Choice(word)) => Some(word),
            Some(_) => None,
            None => match self.kind(name)? {
                ParameterKind::Choice { default, .. } => Some(default),
                _ => None,
            },
        }
    }

    fn kind(&self, name: &str) -> Option<&'a ParameterKind> {
        let parameters = self.family?.parameters.iter();
        let mut named = parameters.filter(|spec| spec.name.value == name);
        named.next().map(|spec| &spec.kind)
    }

    fn has_pin(&self, role: &str) -> bool {
        self.card.pins.iter().any(|pin| pin.role.value == role)
    }

    fn curve(&self) -> Option<&'a Curve> {
        let own = self.card.curve.as_ref().map(|placed| &placed.value);
        own.or_else(|| self.family?.curve.as_ref())
    }

    /// Temperatures of the card's signal points, in its order.
    fn temperatures(&self) -> Vec<f64> {
        let points = self
            .card
            .signal
            .iter()
            .filter_map(|point| point.at_quantity);
        points
            .filter(|at| at.dimension == Dimension::Temperature)
            .map(|at| at.number)
            .collect()
    }

    /// The reference and the pull-up, where the circuit has both.
    fn pull(&self) -> Option<Vec<(&'static str, String)>> {
        Some(vec![
            ("reference", volts(self.number("reference")?)),
            ("pull-up", ohms(self.number("pull_up")?)),
        ])
    }
}

fn written(number: f64, dimension: Dimension) -> String {
    write_quantity(Quantity { number, dimension })
}

fn volts(number: f64) -> String {
    written(number, Dimension::Voltage)
}

fn ohms(number: f64) -> String {
    written(number, Dimension::Resistance)
}

/// By the kind of curve, at the card's first temperature.
fn thermistor(values: &Values) -> Option<Filled> {
    let (name, mut pairs) = match values.curve()? {
        Curve::Beta { r25, beta } => (
            "thermistor-beta",
            vec![
                ("known-resistance", ohms(r25.nominal)),
                ("beta", written(beta.nominal, Dimension::TemperatureSpan)),
            ],
        ),
        Curve::SteinhartHart { a, b, c, .. } => (
            "thermistor-steinhart-hart",
            vec![
                ("a", write_number(*a)),
                ("b", write_number(*b)),
                ("c", write_number(*c)),
            ],
        ),
        Curve::Platinum { r0 } => ("rtd", vec![("r0", ohms(r0.nominal))]),
    };
    pairs.extend(values.pull().unwrap_or_default());
    if let Some(first) = values.temperatures().first() {
        pairs.push(("temperature", written(*first, Dimension::Temperature)));
    }
    Some((name, pairs))
}

/// At the hottest of the card's points; the error allowed is the reader's.
fn signal_drop_two_wire(values: &Values) -> Option<Filled> {
    let Curve::Beta { r25, beta } = values.curve()? else {
        return None;
    };
    let mut pairs = vec![
        ("r25", ohms(r25.nominal)),
        ("beta", written(beta.nominal, Dimension::TemperatureSpan)),
    ];
    let hottest = values.temperatures().into_iter().reduce(f64::max);
    if let Some(hottest) = hottest {
        pairs.push(("temperature", written(hottest, Dimension::Temperature)));
    }
    pairs.extend(values.pull()?);
    Some(("signal-drop-two-wire", pairs))
}

fn pull_up(values: &Values) -> Option<Filled> {
    Some(("pull-up", values.pull()?))
}

/// The line of a three-wire sensor between its outermost points.
struct Line {
    /// Volts and what is measured at the lower end, then at the upper.
    ends: [(f64, Option<Quantity>); 2],
    /// Half the widest band as a part of the span.
    tolerance: f64,
    reference: f64,
}

impl Line {
    fn of(values: &Values) -> Option<Self> {
        if !values.has_pin("reference") || values.curve().is_some() {
            return None;
        }
        let stated = |point: &SignalPoint| {
            let reads = point.reads.as_ref()?.value;
            Some((reads, point.at_quantity))
        };
        let mut points: Vec<(Interval, Option<Quantity>)> =
            values.card.signal.iter().filter_map(stated).collect();
        points.sort_by(|a, b| a.0.middle().total_cmp(&b.0.middle()));
        let (low, high) = (*points.first()?, *points.last()?);
        let span = high.0.middle() - low.0.middle();
        let widest = points.iter().map(|point| point.0.width() / 2.0);
        let tolerance = widest.fold(0.0, f64::max) / span;
        let is_line = span > 0.1 && tolerance < 0.5;
        is_line.then_some(Self {
            ends: [(low.0.middle(), low.1), (high.0.middle(), high.1)],
            tolerance,
            reference: values.number("reference")?,
        })
    }

    /// What is measured at both ends, where both are numbers of one kind.
    fn measured(&self) -> Option<[String; 2]> {
        let [(_, Some(low)), (_, Some(high))] = self.ends else {
            return None;
        };
        (low.dimension == high.dimension && low.number != high.number)
            .then(|| [write_quantity(low), write_quantity(high)])
    }

    fn pairs(&self) -> Vec<(&'static str, String)> {
        let mut pairs = vec![
            ("reference", volts(self.reference)),
            ("low-volts", volts(self.ends[0].0)),
            ("high-volts", volts(self.ends[1].0)),
            ("stated", volts(self.reference)),
        ];
        if let Some([low, high]) = self.measured() {
            pairs.push(("low-value", low));
            pairs.push(("high-value", high));
        }
        pairs
    }

    fn tolerance(&self) -> (&'static str, String) {
        ("tolerance", written(self.tolerance, Dimension::Ratio))
    }
}

fn signal_range(values: &Values) -> Option<Filled> {
    let line = Line::of(values)?;
    let limits = values.limits("valid")?;
    let mut pairs = vec![("volts", volts(line.ends[0].0))];
    pairs.extend(line.pairs());
    pairs.push(line.tolerance());
    pairs.push(("input-low", volts(limits.low)));
    pairs.push(("input-high", volts(limits.high)));
    Some(("signal-range", pairs))
}

/// With the points to go to; what is read there is the reader's.
fn signal_check(values: &Values) -> Option<Filled> {
    let line = Line::of(values)?;
    let [low, high] = line.measured()?;
    let mut pairs = vec![("first-value", low), ("second-value", high)];
    pairs.extend(line.pairs());
    pairs.push(line.tolerance());
    Some(("signal-check", pairs))
}

/// What the sensor takes follows from its resistance, where it is one.
fn signal_drop(values: &Values) -> Option<Filled> {
    let line = Line::of(values)?;
    let mut pairs = line.pairs();
    let across = values.number("track").or_else(|| values.number("bridge"));
    if let Some(across) = across.filter(|ohms| *ohms > 0.0) {
        pairs.push((
            "current",
            written(line.reference / across, Dimension::Current),
        ));
    }
    if let Some(bias) = values.number("bias") {
        pairs.push(("bias", ohms(bias)));
    }
    if let Some(pull) = values.choice("pull") {
        pairs.push(("pull", pull.to_owned()));
    }
    Some(("signal-drop", pairs))
}

/// Length and size of a wire of one of these roles, the first that has both.
fn wire(values: &Values, roles: &[&str]) -> Option<Vec<(&'static str, String)>> {
    let known = |wire: &crate::card::WireSpec| Some((wire.length?, wire.area?));
    let mut wires = values.card.wires.iter();
    let (length, area) = wires
        .find(|wire| roles.contains(&wire.role.value.as_str()) && known(wire).is_some())
        .and_then(known)?;
    Some(vec![
        ("length", written(length, Dimension::Length)),
        ("size", write_wire_size(area)),
    ])
}

/// For circuits with a supply wire; a sensor's reference and signal wires have their own calculator. The current
/// is that of a load whose resistance is known.
fn voltage_drop(values: &Values) -> Option<Filled> {
    let mut pairs = wire(values, &["supply"])?;
    let supply = match values.choice("fed_by") {
        Some("reference") => values.number("reference")?,
        _ => values.number("battery").unwrap_or(values.battery),
    };
    pairs.push(("supply", volts(supply)));
    let loads = ["load", "element", "coil", "draws"];
    let load = loads.iter().find_map(|name| values.number(name));
    if let Some(load) = load.filter(|ohms| *ohms > 0.0) {
        pairs.push(("current", written(supply / load, Dimension::Current)));
    }
    if wire(values, &["ground", "return"]).is_some() {
        pairs.push(("return", "wire".to_owned()));
    }
    Some(("voltage-drop", pairs))
}

fn wire_resistance(values: &Values) -> Option<Filled> {
    let roles: Vec<&str> = values
        .card
        .pins
        .iter()
        .map(|pin| pin.role.value.as_str())
        .collect();
    Some(("wire-resistance", wire(values, &roles)?))
}

/// The place with most recorded readings, those left out not counted; one needs five for a band.
fn recorded(known: &[KnownGood], claim: KnownGoodSpec) -> Option<Filled> {
    const MOST: usize = 40;
    let used = |one: &KnownGood| -> Vec<String> {
        let kept = one
            .readings
            .iter()
            .filter(|reading| reading.left_out.is_none());
        let numbers = kept.filter(|reading| reading.number.is_some());
        numbers.map(|reading| reading.typed.clone()).collect()
    };
    let readings = known.iter().map(used).max_by_key(Vec::len)?;
    let fits = (5..=MOST).contains(&readings.len());
    let percent = |part| written(part, Dimension::Ratio);
    fits.then(|| {
        let pairs = vec![
            ("readings", readings.join("; ")),
            ("confidence", percent(claim.confidence)),
            ("coverage", percent(claim.coverage)),
        ];
        ("known-good", pairs)
    })
}
