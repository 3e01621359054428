//! The 4 to 20 mA loop: milliamps to what is measured and back, and the limits of NE 43.
//!
//! In: milliamps, volts over a resistor, or what is measured. Out: the others and a state.

use super::given::Given;
use super::shape::{Answer, Calculator, Input, Refusal, shown};
use super::span;
use crate::quantity::Dimension::{Current, Ratio, Resistance, Voltage};

/// Live zero and width of the loop, ampere (IEC 60381-1).
const ZERO: f64 = 4e-3;
const WIDTH: f64 = 16e-3;
/// Limits of NAMUR NE 43, ampere: fault low, measuring from, measuring to, fault high.
const FAULT_LOW: f64 = 3.6e-3;
const LEAST: f64 = 3.8e-3;
const MOST: f64 = 20.5e-3;
const FAULT_HIGH: f64 = 21.0e-3;
/// What typing and factors may make of a limit, ampere.
const SLACK: f64 = 1e-12;

/// Current loop.
pub(super) const CURRENT_LOOP: Calculator = Calculator {
    name: "current-loop",
    title: "4 to 20 mA loop",
    says: "what a loop's current means, what it should be, and whether it is a measurement or a fault",
    group: "Loops and buses",
    inputs: &[
        Input::quantity("current", "Current", Current, (0.0, 1.0))
            .says("give current, volts or value")
            .unit("mA"),
        Input::quantity("volts", "Volts across the resistor", Voltage, (0.0, 1000.0)),
        Input::any("value", "What is measured", span::MEASURED, span::LIMITS),
        Input::quantity("resistor", "Resistor in the loop", Resistance, (0.1, 1e5))
            .default("250 ohm"),
        Input::any(
            "low-value",
            "What it measures at 4 mA",
            span::MEASURED,
            span::LIMITS,
        )
        .default("0 %"),
        Input::any(
            "high-value",
            "What it measures at 20 mA",
            span::MEASURED,
            span::LIMITS,
        )
        .default("100 %"),
    ],
    formula: "part = (I - 4 mA) / 16 mA, value = low + part x (high - low), V = I R",
    source: "IEC 60381-1 (live zero); NAMUR NE 43 (measuring 3.8 to 20.5 mA, fault from 3.6 mA down and from \
             21.0 mA up)",
    range: "0 to 1 A; what NE 43 leaves open between measuring and fault is said to be neither",
    example: &[
        ("current", "12 mA"),
        ("low-value", "0 kPa"),
        ("high-value", "1000 kPa"),
    ],
    work,
};

fn work(given: &Given) -> Result<Answer, Refusal> {
    let (low, high) = (
        given.need_quantity("low-value")?,
        given.need_quantity("high-value")?,
    );
    span::same(low.dimension, high, "high-value")?;
    let width = high.number - low.number;
    if width == 0.0 {
        return Err(Refusal::of(
            "high-value",
            "both ends measure the same",
            "type two values that differ",
        ));
    }
    let resistor = given.need("resistor")?;
    let current = match given.one_of(&["current", "volts", "value"])? {
        ("volts", volts) => volts / resistor,
        ("value", value) => {
            span::same(low.dimension, given.need_quantity("value")?, "value")?;
            ZERO + (value - low.number) / width * WIDTH
        }
        (_, current) => current,
    };
    let part = (current - ZERO) / WIDTH;
    let value = low.number + part * width;
    let mut answer = Answer::default();
    answer.quantity("value", "What is measured", value, low.dimension);
    answer.quantity("current", "Current", current, Current);
    answer.quantity("part", "Of the span", part, Ratio);
    answer.quantity("volts", "Across the resistor", current * resistor, Voltage);
    answer.words("state", "State by NE 43", state(current));
    answer.step(format!(
        "part = ({} - 4 mA) / 16 mA = {}",
        shown(current, Current),
        shown(part, Ratio)
    ));
    answer.step(format!(
        "V = {} x {} = {}",
        shown(current, Current),
        shown(resistor, Resistance),
        shown(current * resistor, Voltage)
    ));
    Ok(answer)
}

fn state(current: f64) -> &'static str {
    match current {
        i if i <= FAULT_LOW + SLACK => "fault low: broken wire, dead transmitter, or its alarm",
        i if i < LEAST - SLACK => "between fault and measuring range: neither is told",
        i if i < ZERO - SLACK => "valid under-range",
        i if i <= ZERO + WIDTH + SLACK => "valid",
        i if i <= MOST + SLACK => "valid over-range",
        i if i < FAULT_HIGH - SLACK => "between measuring range and fault: neither is told",
        _ => "fault high: short circuit, or the transmitter's alarm",
    }
}
