//! Resistors in series across a supply.
//!
//! In: volts and ohms. Out: current and volts at each resistor.

use super::given::Given;
use super::shape::{Answer, Calculator, Input, Kind, Refusal, shown};
use crate::quantity::Dimension::{Current, Resistance, Voltage};

/// Most resistors in one divider.
const MOST: usize = 12;

/// Voltage divider of any number of resistors.
pub(super) const DIVIDER: Calculator = Calculator {
    name: "divider",
    title: "Voltage divider",
    says: "the current through resistors in series and the volts across each",
    group: "Dividers and meters",
    inputs: &[
        Input::quantity("supply", "Supply", Voltage, (0.0, 1e5))
            .says("across the whole chain")
            .needed(),
        Input::of(
            "resistors",
            "Resistors",
            Kind::List {
                dimensions: &[Resistance],
                low: 1e-6,
                high: 1e12,
                least: 1,
                most: MOST,
            },
            "ohm",
        )
        .says("from the supply's plus to its minus, separated by ;")
        .needed(),
    ],
    formula: "I = V / (R1 + R2 + ...)\nV1 = I R1, V2 = I R2, ...",
    source: "Ohm's and Kirchhoff's laws",
    range: "0 V to 100 kV, 1 to 12 resistors from 1 µohm to 1 Tohm; nothing else may be connected \
            between them: a meter there is one more resistor (see meter-loading)",
    example: &[
        ("supply", "45 V"),
        ("resistors", "5 kohm; 10 kohm; 7.5 kohm"),
    ],
    work,
};

const VOLTS: [(&str, &str); MOST] = [
    ("volts-1", "Across resistor 1"),
    ("volts-2", "Across resistor 2"),
    ("volts-3", "Across resistor 3"),
    ("volts-4", "Across resistor 4"),
    ("volts-5", "Across resistor 5"),
    ("volts-6", "Across resistor 6"),
    ("volts-7", "Across resistor 7"),
    ("volts-8", "Across resistor 8"),
    ("volts-9", "Across resistor 9"),
    ("volts-10", "Across resistor 10"),
    ("volts-11", "Across resistor 11"),
    ("volts-12", "Across resistor 12"),
];

fn work(given: &Given) -> Result<Answer, Refusal> {
    let supply = given.need("supply")?;
    let (resistors, _) = given.list("resistors")?;
    let total: f64 = resistors.iter().sum();
    let current = supply / total;
    let mut answer = Answer::default();
    answer.quantity("current", "Current", current, Current);
    answer.quantity("total", "Resistance of the chain", total, Resistance);
    answer.step(format!(
        "I = {} / {} = {}",
        shown(supply, Voltage),
        shown(total, Resistance),
        shown(current, Current)
    ));
    for (ohms, (key, label)) in resistors.iter().zip(VOLTS) {
        let volts = supply * (ohms / total);
        answer.quantity(key, label, volts, Voltage);
        answer.step(format!(
            "V = {} x {} = {}",
            shown(current, Current),
            shown(*ohms, Resistance),
            shown(volts, Voltage)
        ));
    }
    Ok(answer)
}
