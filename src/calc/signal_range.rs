//! Signal range: volts to what is measured and back, and what a value outside tells.
//!
//! In: a sensor's line, the reference measured, volts or what is measured. Out: the other one with its
//! band, where it stands in the range, and which kind of code it would set.

use super::given::Given;
use super::shape::{Answer, Calculator, Input, Refusal, Value, shown};
use super::span::{self, Span};
use crate::quantity::Dimension::{Ratio, Voltage};
use crate::quantity::{Interval, write_number};

/// What circuit codes mean by low and high.
const LOW_AND_HIGH: &str = "low and high in a circuit code are the volts at the module, not what is \
    measured: a cold sensor on a pull-up reads high";

/// Where a signal stands in its range.
pub(super) const SIGNAL_RANGE: Calculator = Calculator {
    name: "signal-range",
    title: "Signal range",
    says: "what a sensor's volts mean or should be, against the reference as measured, and which code a \
           value outside would set",
    group: "Signals",
    inputs: &[
        Input::quantity("volts", "Signal, as measured", Voltage, (-100.0, 1000.0))
            .says("give the volts, or the value"),
        Input::any("value", "What is measured", span::MEASURED, span::LIMITS)
            .says("a position, pressure, temperature: give it for the volts it should have"),
        span::REFERENCE,
        span::KIND,
        span::LOW_VOLTS,
        span::HIGH_VOLTS,
        span::LOW_VALUE,
        span::HIGH_VALUE,
        span::STATED,
        span::TOLERANCE,
        Input::quantity("input-low", "Input limit, low", Voltage, (-10.0, 100.0))
            .says("at the stated reference; 0.1 to 0.3 V is common practice")
            .default("0.2 V"),
        Input::quantity("input-high", "Input limit, high", Voltage, (-10.0, 100.0))
            .says("at the stated reference; 4.7 to 4.95 V is common practice")
            .default("4.8 V"),
    ],
    formula: "part of span = (V / s - V_low) / (V_high - V_low)\n\
              value = value_low + part x (value_high - value_low)\n\
              s = measured reference / stated reference, 1 for a signal that does not follow it",
    source: "straight line between two stated points; 0.5 to 4.5 V, input limits of 0.2 and 4.8 V: common \
             practice, no standard; circuit low and circuit high: SAE J2012",
    range: "any volts from -100 V to 1 kV. Outside the span it says so; at or outside the input limits there \
            is no value, since a module then shows a substitute",
    example: &[
        ("volts", "2.5 V"),
        ("reference", "4.8 V"),
        ("low-value", "0 kPa"),
        ("high-value", "250 kPa"),
    ],
    work,
};

/// The limits of an input at the reference measured.
struct InputLimits {
    low: f64,
    high: f64,
}

/// Where volts stand.
#[derive(Clone, Copy, PartialEq)]
enum Stand {
    Under,
    AtLow,
    BelowSpan,
    Bottom,
    Inside,
    Top,
    AboveSpan,
    AtHigh,
    Over,
}

impl InputLimits {
    fn of(given: &Given, span: &Span) -> Result<InputLimits, Refusal> {
        let (low, high) = (given.need("input-low")?, given.need("input-high")?);
        if low >= high {
            return Err(Refusal::of(
                "input-high",
                "the high limit of the input is not above its low one",
                "type limits such as 0.2 V and 4.8 V",
            ));
        }
        Ok(InputLimits {
            low: low * span.scale,
            high: high * span.scale,
        })
    }

    fn stand(&self, span: &Span, volts: f64) -> Stand {
        // What a person types and what a factor makes of it may differ in the last digits.
        let near = |a: f64, b: f64| (a - b).abs() <= 1e-9 * (1.0 + b.abs());
        let spare = span.give_or_take();
        match volts {
            v if near(v, self.low) => Stand::AtLow,
            v if near(v, self.high) => Stand::AtHigh,
            v if v < self.low => Stand::Under,
            v if v > self.high => Stand::Over,
            v if near(v, span.low) => Stand::Bottom,
            v if near(v, span.high) => Stand::Top,
            v if v < span.low - spare => Stand::BelowSpan,
            v if v > span.high + spare => Stand::AboveSpan,
            _ => Stand::Inside,
        }
    }
}

impl Stand {
    fn says(self) -> &'static str {
        match self {
            Stand::Under => {
                "below the low input limit: open with an input that rests low, short to ground, or no \
                 reference at the sensor"
            }
            Stand::AtLow => "at the low input limit: any less sets a code",
            Stand::BelowSpan => {
                "below the span, inside the input limits: more than the tolerance explains"
            }
            Stand::Bottom => "bottom of the span",
            Stand::Inside => "inside the span",
            Stand::Top => "top of the span",
            Stand::AboveSpan => {
                "above the span, inside the input limits: more than the tolerance explains"
            }
            Stand::AtHigh => "at the high input limit: any more sets a code",
            Stand::Over => {
                "above the high input limit: open with a pull-up, short to supply, or an open sensor ground"
            }
        }
    }

    fn code(self) -> &'static str {
        match self {
            Stand::Under => "circuit low",
            Stand::Over => "circuit high",
            Stand::AtLow => "none yet; circuit low from here down",
            Stand::AtHigh => "none yet; circuit high from here up",
            Stand::BelowSpan | Stand::AboveSpan => {
                "no circuit low or high; range or performance, where the module compares"
            }
            Stand::Bottom | Stand::Inside | Stand::Top => "none",
        }
    }

    fn has_value(self) -> bool {
        !matches!(
            self,
            Stand::Under | Stand::AtLow | Stand::AtHigh | Stand::Over
        )
    }
}

fn work(given: &Given) -> Result<Answer, Refusal> {
    let span = Span::of(given)?;
    let input = InputLimits::of(given, &span)?;
    let (asked, number) = given.one_of(&["volts", "value"])?;
    let mut answer = Answer::default();
    let volts = match asked {
        "volts" => number,
        _ => {
            let value = given.need_quantity("value")?;
            span::same(span.dimension, value, "value")?;
            span.volts(value.number)
        }
    };
    let stand = input.stand(&span, volts);
    match asked {
        "volts" => tell_value(&mut answer, &span, stand, volts),
        _ => tell_volts(&mut answer, &span, volts),
    }
    answer.quantity("part", "Of the span", span.part(volts), Ratio);
    answer.words("stands", "Where it stands", stand.says());
    answer.words("code", "Code it would set", stand.code());
    tell_ends(&mut answer, &span, &input);
    steps(&mut answer, given, &span, volts);
    if stand.has_value() {
        step_value(&mut answer, &span, volts);
    }
    if span.low < input.low || span.high > input.high {
        answer.note("the span reaches beyond the input limits: its ends would set codes");
    }
    notes(&mut answer, given);
    Ok(answer)
}

fn band(middle: f64, by: f64) -> Interval {
    Interval {
        low: middle - by.abs(),
        high: middle + by.abs(),
    }
}

fn tell_value(answer: &mut Answer, span: &Span, stand: Stand, volts: f64) {
    if !stand.has_value() {
        let says = "none: at or outside the input limits a module shows a substitute";
        answer.words("value", "What is measured", says);
        return;
    }
    let value = span.value(volts);
    answer.quantity("value", "What is measured", value, span.dimension);
    let by = span.tolerance * (span.high_value - span.low_value);
    let band = Value::Band(band(value, by), span.dimension);
    answer.result("value-band", "With its tolerance", band);
}

fn tell_volts(answer: &mut Answer, span: &Span, volts: f64) {
    answer.quantity("volts", "Signal it should have", volts, Voltage);
    let band = Value::Band(band(volts, span.give_or_take()), Voltage);
    answer.result("volts-band", "With its tolerance", band);
}

fn tell_ends(answer: &mut Answer, span: &Span, input: &InputLimits) {
    let ends = |low, high| Value::Band(Interval { low, high }, Voltage);
    answer.result("span", "Span at this reference", ends(span.low, span.high));
    answer.result(
        "input",
        "Input limits at this reference",
        ends(input.low, input.high),
    );
}

fn steps(answer: &mut Answer, given: &Given, span: &Span, volts: f64) {
    if given.choice("kind") != "absolute" {
        answer.step(format!(
            "s = {} / {} = {}",
            shown(given.get("reference").unwrap_or(0.0), Voltage),
            shown(given.get("stated").unwrap_or(0.0), Voltage),
            write_number(span.scale)
        ));
    }
    answer.step(format!("line at this reference: {}", span.says()));
    answer.step(format!(
        "part = ({} - {}) / ({} - {}) = {}",
        shown(volts, Voltage),
        shown(span.low, Voltage),
        shown(span.high, Voltage),
        shown(span.low, Voltage),
        shown(span.part(volts), Ratio)
    ));
}

fn step_value(answer: &mut Answer, span: &Span, volts: f64) {
    answer.step(format!(
        "value = {} + {} x ({} - {}) = {}",
        span.shown(span.low_value),
        shown(span.part(volts), Ratio),
        span.shown(span.high_value),
        span.shown(span.low_value),
        span.shown(span.value(volts))
    ));
}

fn notes(answer: &mut Answer, given: &Given) {
    if !given.is_typed("input-low") || !given.is_typed("input-high") {
        answer
            .note("the input limits are common practice, no standard: the module's own may differ");
    }
    if !given.is_typed("reference") {
        answer.note("the reference was not measured: 5 V is assumed, and a signal that follows it is off by as much");
    }
    answer.note("the meter's own error comes on top (meter-accuracy)");
    answer.note(LOW_AND_HIGH);
}
