//! What is drawn of a calculator's example, where a drawing says more than the list of its results.
//!
//! In: the example and its answer. Out: a drawing, words under it, and a table where the drawing shows
//! values that the answer does not have.

use crate::calc::{Answer, Calculator, Value, reckon};
use crate::publish::drawing::chain::{self, Chain};
use crate::publish::drawing::curve::{self, CurveChart};
use crate::publish::drawing::drop_loop::{self, DropLoop};
use crate::publish::drawing::plot::CodeRegions;
use crate::publish::words;
use crate::quantity::{Dimension, Interval, Quantity, read_any, write_quantity};
use serde::Serialize;

/// A drawing of the example.
#[derive(Serialize)]
pub(super) struct Drawing {
    picture: String,
    caption: String,
    /// Head of the first column of `rows`.
    rows_of: &'static str,
    rows: Vec<Row>,
}

/// A point of a curve.
#[derive(Serialize)]
struct Row {
    at: String,
    ohms: String,
    volts: String,
}

/// The drawing of this calculator's example.
pub(super) fn view(calculator: &Calculator, answer: &Answer) -> Option<Drawing> {
    match calculator.name {
        "voltage-drop" => voltage_drop(answer),
        "divider" => divider(answer),
        "signal-range" => signal_range(answer),
        "thermistor-beta" | "thermistor-steinhart-hart" => temperature(calculator, answer, 20),
        "rtd" => temperature(calculator, answer, 100),
        _ => None,
    }
}

fn says(answer: &Answer, key: &str) -> Option<String> {
    let one = answer.results.iter().find(|one| one.key == key)?;
    Some(one.value.says())
}

fn number(answer: &Answer, key: &str) -> Option<f64> {
    let one = answer.results.iter().find(|one| one.key == key)?;
    match one.value {
        Value::Quantity(quantity) => Some(quantity.number),
        Value::Number(number) => Some(number),
        Value::Band(..) | Value::Words(_) => None,
    }
}

fn band(answer: &Answer, key: &str) -> Option<Interval> {
    let one = answer.results.iter().find(|one| one.key == key)?;
    match one.value {
        Value::Band(interval, _) => Some(interval),
        _ => None,
    }
}

/// What went in under this key, as text.
fn used<'a>(answer: &'a Answer, key: &str) -> Option<&'a str> {
    let one = answer.used.iter().find(|one| one.key == key)?;
    Some(one.text.as_str())
}

/// What went in under this key, in base units.
fn used_number(answer: &Answer, key: &str) -> Option<f64> {
    let (read, _) = read_any(used(answer, key)?).ok()?;
    Some(read.nominal)
}

/// Parts of the loop in the order the current meets them, by the key of their result.
const PARTS: [(&str, &str); 5] = [
    ("switch", "switch"),
    ("cable", "cable"),
    ("contacts", "contacts"),
    ("splices", "splices"),
    ("ground", "ground path"),
];

fn voltage_drop(answer: &Answer) -> Option<Drawing> {
    let parts: Vec<(String, String)> = PARTS
        .into_iter()
        .filter_map(|(key, name)| Some((name.to_owned(), says(answer, key)?)))
        .collect();
    let supply = used(answer, "supply")?.to_owned();
    let load = says(answer, "at-load")?;
    let listed: Vec<String> = parts
        .iter()
        .map(|(name, volts)| format!("{volts} over the {name}"))
        .collect();
    let describes = format!(
        "Of {supply}, {}; {load} are left at the load.",
        listed.join(", ")
    );
    let shape = DropLoop {
        supply,
        load,
        parts,
        title: "Where the volts go in the loop".to_owned(),
        describes: describes.clone(),
    };
    Some(Drawing {
        picture: drop_loop::draw(&shape),
        caption: format!("{describes} The cable is counted there and back."),
        rows_of: "",
        rows: Vec::new(),
    })
}

fn divider(answer: &Answer) -> Option<Drawing> {
    let resistors: Vec<&str> = used(answer, "resistors")?
        .split(';')
        .map(str::trim)
        .collect();
    let parts: Option<Vec<(String, String)>> = resistors
        .iter()
        .enumerate()
        .map(|(at, ohms)| {
            let volts = says(answer, &format!("volts-{}", at + 1))?;
            Some(((*ohms).to_owned(), volts))
        })
        .collect();
    let supply = used(answer, "supply")?.to_owned();
    let listed: Vec<String> = parts
        .iter()
        .flatten()
        .map(|(ohms, volts)| format!("{volts} across {ohms}"))
        .collect();
    let describes = format!("From {supply} down to 0 V: {}.", listed.join(", "));
    let shape = Chain {
        supply,
        parts: parts?,
        title: "The chain of resistors".to_owned(),
        describes: describes.clone(),
    };
    Some(Drawing {
        picture: chain::draw(&shape),
        caption: describes,
        rows_of: "",
        rows: Vec::new(),
    })
}

fn signal_range(answer: &Answer) -> Option<Drawing> {
    let (span, input) = (band(answer, "span")?, band(answer, "input")?);
    let ends = ["low-value", "high-value"].map(|key| used(answer, key));
    let [Some(low), Some(high)] = ends else {
        return None;
    };
    let ends = ["low-value", "high-value"].map(|key| used_number(answer, key));
    let [Some(from), Some(to)] = ends else {
        return None;
    };
    let (at, volts) = (number(answer, "value")?, used_number(answer, "volts")?);
    let (reference, read) = (used(answer, "reference")?, says(answer, "value")?);
    let write = |number| {
        write_quantity(Quantity {
            number,
            dimension: Dimension::Voltage,
        })
    };
    let describes = format!(
        "With {reference} measured at the reference: {} at {low}, {} at {high}; {} read means {read}. \
         A circuit code below {} and above {}.",
        write(span.low),
        write(span.high),
        write(volts),
        write(input.low),
        write(input.high),
    );
    let chart = CurveChart {
        points: vec![(from, span.low), (to, span.high)],
        ticks: vec![(from, low.to_owned()), (to, high.to_owned())],
        mark: Some((at, volts, format!("{}: {read}", write(volts)))),
        codes: Some(CodeRegions {
            valid: input,
            above: format!("above {}: circuit high", write(input.high)),
            below: format!("below {}: circuit low", write(input.low)),
        }),
        full: used_number(answer, "reference")?,
        axis: "what is measured".to_owned(),
        title: "Volts over what is measured, at this reference".to_owned(),
        describes: describes.clone(),
    };
    Some(Drawing {
        picture: curve::draw(&chart)?,
        caption: describes,
        rows_of: "",
        rows: Vec::new(),
    })
}

/// Signal against temperature, the calculator itself asked point by point.
fn temperature(calculator: &Calculator, answer: &Answer, step: i32) -> Option<Drawing> {
    let celsius = [-2, -1, 0, 1, 2, 3, 4, 5, 6, 7, 8].map(|times| times * step);
    let at = |celsius: f64| at_temperature(calculator, celsius);
    let fine: Vec<(f64, f64)> = (celsius[0]..=celsius[10])
        .step_by(usize::try_from(step / 10).unwrap_or(1).max(1))
        .map(f64::from)
        .filter_map(|celsius| Some((celsius, number(&at(celsius)?, "volts")?)))
        .collect();
    let (here, volts) = (number(answer, "temperature")?, number(answer, "volts")?);
    let (first, last) = (fine.first()?, fine.last()?);
    let write = |celsius: f64| {
        write_quantity(Quantity {
            number: celsius,
            dimension: Dimension::Temperature,
        })
    };
    let words = format!("{} at {}", says(answer, "volts")?, write(here));
    let chart = CurveChart {
        ticks: celsius
            .iter()
            .step_by(2)
            .map(|celsius| (f64::from(*celsius), celsius.to_string()))
            .collect(),
        mark: Some((here, volts, words.clone())),
        codes: None,
        full: used_number(answer, "reference")?,
        axis: "temperature in C".to_owned(),
        title: "Signal against temperature".to_owned(),
        describes: format!(
            "{} at {}, {} at {}; the example: {words}.",
            words::rough_volts(first.1),
            write(first.0),
            words::rough_volts(last.1),
            write(last.0),
        ),
        points: fine,
    };
    let row = |celsius: f64| {
        let answer = at(celsius)?;
        Some(Row {
            at: write(celsius),
            ohms: says(&answer, "resistance")?,
            volts: says(&answer, "volts")?,
        })
    };
    Some(Drawing {
        picture: curve::draw(&chart)?,
        caption: format!("The example’s part under its pull-up; the dot is the example: {words}."),
        rows_of: "Temperature",
        rows: celsius
            .iter()
            .filter_map(|at| row(f64::from(*at)))
            .collect(),
    })
}

/// The example at another temperature; none where the calculator refuses it.
fn at_temperature(calculator: &Calculator, celsius: f64) -> Option<Answer> {
    let typed = write_quantity(Quantity {
        number: celsius,
        dimension: Dimension::Temperature,
    });
    let is_place = |key: &str| matches!(key, "temperature" | "resistance" | "volts");
    let mut pairs: Vec<(&str, &str)> = calculator
        .example
        .iter()
        .copied()
        .filter(|(key, _)| !is_place(key))
        .collect();
    pairs.push(("temperature", &typed));
    reckon(calculator, &pairs).ok()
}
