//! A rested lead-acid battery: volts and specific gravity, and the charge they tell as a band.
//!
//! In: specific gravity or volts. Out: the other one, the charge between the two texts that differ.

use super::given::Given;
use super::shape::{Answer, Calculator, Input, Kind, Refusal, Value, shown};
use crate::quantity::Dimension::{Ratio, Temperature, Voltage};
use crate::quantity::{Interval, write_number};

/// Charge and the volts of six cells: by the rule, and by two texts that differ by up to 0.15 V.
const TABLE: [(f64, [f64; 3]); 4] = [
    (1.0, [12.63, 12.6, 12.66]),
    (0.75, [12.39, 12.4, 12.45]),
    (0.5, [12.18, 12.2, 12.30]),
    (0.25, [11.97, 12.0, 12.15]),
];
/// The lowest row, which only one text has.
const EMPTY: [f64; 3] = [11.76, 11.6, 11.76];

/// Charge of a rested battery.
pub(super) const BATTERY_AT_REST: Calculator = Calculator {
    name: "battery-at-rest",
    title: "Battery at rest",
    says: "which charge the volts or the acid of a rested flooded lead-acid battery tell, as a band",
    group: "Batteries",
    inputs: &[
        Input::quantity("volts", "Volts at rest", Voltage, (0.0, 100.0))
            .says("give volts or gravity"),
        Input::of(
            "gravity",
            "Specific gravity of the acid",
            Kind::Number {
                low: 1.0,
                high: 1.4,
            },
            "",
        ),
        Input::of("cells", "Cells", Kind::Count { low: 1, high: 48 }, "").default("6"),
    ],
    formula: "volts = cells x (gravity + 0.84)",
    source: "handbook rule of thumb, from memory; the bands are two texts and the rule side by side, which \
             differ by up to 0.15 V",
    range: "flooded lead-acid, rested for hours, near 25 C; other kinds have their own volts (AGM about 0.2 V \
            higher, common practice). Above or below the table it says so",
    example: &[("volts", "12.4 V")],
    work,
};

fn work(given: &Given) -> Result<Answer, Refusal> {
    let cells = given.need("cells")?;
    let mut answer = Answer::default();
    let volts = match given.one_of(&["volts", "gravity"])? {
        ("volts", volts) => volts,
        (_, gravity) => {
            let volts = cells * (gravity + 0.84);
            answer.quantity("volts", "Volts at rest", volts, Voltage);
            answer.step(format!(
                "{} x ({} + 0.84) = {}",
                write_number(cells),
                write_number(gravity),
                shown(volts, Voltage)
            ));
            volts
        }
    };
    let of_six = volts / cells * 6.0;
    let charges: Vec<f64> = (0..3).map(|text| charge(of_six, text)).collect();
    let low = charges.iter().copied().fold(1.0, f64::min);
    let high = charges.iter().copied().fold(0.0, f64::max);
    answer.result(
        "charge",
        "Charge",
        Value::Band(Interval { low, high }, Ratio),
    );
    answer.words("says", "In words", says(of_six, low, high));
    if given.get("volts").is_some() {
        answer.result(
            "gravity",
            "Specific gravity by the rule",
            Value::Number(volts / cells - 0.84),
        );
        answer.step(format!(
            "{} / {} - 0.84 = {}",
            shown(volts, Voltage),
            write_number(cells),
            write_number(volts / cells - 0.84)
        ));
    }
    answer.note(format!(
        "charge without rest reads too high: rest for hours near {}, or load it for a minute first (common \
         practice)",
        shown(25.0, Temperature)
    ));
    Ok(answer)
}

/// The charge by one text, straight between its rows; the ends hold beyond them.
fn charge(volts: f64, text: usize) -> f64 {
    let rows = TABLE.iter().map(|(charge, texts)| (*charge, texts[text]));
    let mut above = (1.0, f64::INFINITY);
    for row in rows.chain([(0.0, EMPTY[text])]) {
        if volts >= row.1 {
            let part = (volts - row.1) / (above.1 - row.1);
            return row.0 + part.clamp(0.0, 1.0) * (above.0 - row.0);
        }
        above = row;
    }
    0.0
}

fn says(of_six: f64, low: f64, high: f64) -> &'static str {
    match of_six {
        volts if volts > 12.9 => {
            "more than a rested battery of this kind has: charged a moment ago, or another kind"
        }
        volts if volts < 11.6 => {
            "less than an empty battery has: deeply discharged, or a cell is dead"
        }
        _ if low >= 0.75 => "well charged",
        _ if high <= 0.5 => "charge it before any other test",
        _ => "partly charged",
    }
}
