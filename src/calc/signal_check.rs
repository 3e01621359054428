//! A two-point check of a sensor's line: is it moved, is it steeper or flatter than stated?
//!
//! In: a sensor's line and two measured points. Out: offset and span error, a verdict.

use super::given::Given;
use super::shape::{Answer, Calculator, Input, Refusal, shown};
use super::span::{self, Span};
use crate::quantity::Dimension::{Ratio, Voltage};
use crate::quantity::write_number;

/// Least distance of the two points, part of the span: nearer ones tell the slope too badly.
const APART: f64 = 0.1;

/// Offset and span from two points.
pub(super) const SIGNAL_CHECK: Calculator = Calculator {
    name: "signal-check",
    title: "Two-point check of a signal",
    says: "whether a sensor's line is moved, or steeper or flatter than stated, from two measured points",
    group: "Signals",
    inputs: &[
        point("first-value", "First point, what is measured"),
        volts("first-volts", "First point, signal"),
        point("second-value", "Second point, what is measured"),
        volts("second-volts", "Second point, signal"),
        span::REFERENCE,
        span::KIND,
        span::LOW_VOLTS,
        span::HIGH_VOLTS,
        span::LOW_VALUE,
        span::HIGH_VALUE,
        span::STATED,
        span::TOLERANCE,
    ],
    formula: "slope = (V2 - V1) / (E2 - E1), E = volts the line has there at the reference measured\n\
              offset = measured line - stated line, at the lower end\n\
              span error = slope - 1",
    source: "straight line through two points",
    range: "points at least a tenth of the span apart; nearer ones are refused",
    example: &[
        ("first-value", "0 kPa"),
        ("first-volts", "0.62 V"),
        ("second-value", "200 kPa"),
        ("second-volts", "3.82 V"),
        ("low-value", "0 kPa"),
        ("high-value", "250 kPa"),
    ],
    work,
};

const fn point(key: &'static str, label: &'static str) -> Input {
    Input::any(key, label, span::MEASURED, span::LIMITS).needed()
}

const fn volts(key: &'static str, label: &'static str) -> Input {
    Input::quantity(key, label, Voltage, (-100.0, 1000.0)).needed()
}

/// One measured point beside what the line has there.
struct Point {
    measured: f64,
    stated: f64,
}

impl Point {
    fn off(&self) -> f64 {
        self.measured - self.stated
    }
}

fn work(given: &Given) -> Result<Answer, Refusal> {
    let span = Span::of(given)?;
    let first = read_point(given, &span, "first-value", "first-volts")?;
    let second = read_point(given, &span, "second-value", "second-volts")?;
    let (width, apart) = (span.high - span.low, second.stated - first.stated);
    if apart.abs() < APART * width {
        return Err(Refusal::of(
            "second-value",
            "the two points are less than a tenth of the span apart",
            "measure a second point farther away",
        ));
    }
    let slope = (second.measured - first.measured) / apart;
    let offset = first.measured + slope * (span.low - first.stated) - span.low;
    let mut answer = Answer::default();
    answer.words(
        "verdict",
        "Verdict",
        verdict(&span, [&first, &second], slope, offset),
    );
    answer.quantity("offset", "Offset at the lower end", offset, Voltage);
    answer.quantity("offset-part", "Offset, of the span", offset / width, Ratio);
    // What rounding leaves of equal slopes is no error.
    let steeper = if (slope - 1.0).abs() < 1e-12 {
        0.0
    } else {
        slope - 1.0
    };
    answer.quantity("span-error", "Span error", steeper, Ratio);
    answer.quantity("first-off", "First point off by", first.off(), Voltage);
    answer.quantity("second-off", "Second point off by", second.off(), Voltage);
    answer.step(format!("line at this reference: {}", span.says()));
    answer.step(format!(
        "slope = ({} - {}) / ({} - {}) = {}",
        shown(second.measured, Voltage),
        shown(first.measured, Voltage),
        shown(second.stated, Voltage),
        shown(first.stated, Voltage),
        write_number(slope)
    ));
    answer.step(format!(
        "offset = {} + {} x ({} - {}) - {} = {}",
        shown(first.measured, Voltage),
        write_number(slope),
        shown(span.low, Voltage),
        shown(first.stated, Voltage),
        shown(span.low, Voltage),
        shown(offset, Voltage)
    ));
    answer.note("the meter's own error comes on top (meter-accuracy)");
    Ok(answer)
}

fn read_point(
    given: &Given,
    span: &Span,
    value: &'static str,
    volts: &'static str,
) -> Result<Point, Refusal> {
    let at = given.need_quantity(value)?;
    span::same(span.dimension, at, value)?;
    Ok(Point {
        measured: given.need(volts)?,
        stated: span.volts(at.number),
    })
}

fn verdict(span: &Span, points: [&Point; 2], slope: f64, offset: f64) -> String {
    let spare = span.give_or_take() + 1e-9;
    let says = if points.iter().all(|point| point.off().abs() <= spare) {
        "both points are within the tolerance"
    } else if (slope - 1.0).abs() * (span.high - span.low) <= spare {
        "the line is moved as a whole: look at the sensor ground, then at the sensor's own zero"
    } else if offset.abs() <= spare {
        "the line starts right and has another slope: look at the reference, the signal's load, then the \
         sensor"
    } else {
        "the line is moved and has another slope: look at ground and reference under load, then the sensor"
    };
    says.to_owned()
}
