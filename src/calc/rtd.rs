//! The calculator of platinum resistance thermometers.
//!
//! In: a thermometer's ohms at 0 °C, and temperature, resistance or volts. Out: the others, and how far
//! its class lets it be off.

use super::given::Given;
use super::platinum;
use super::pulled_up::{self, Curve};
use super::shape::{Alternative, Answer, Calculator, Input, Kind, Refusal, Value, shown};
use crate::quantity::Dimension::{Resistance, Temperature, TemperatureSpan};
use crate::quantity::Interval;

/// Platinum resistance thermometer.
pub(super) const RTD: Calculator = Calculator {
    name: "rtd",
    title: "Platinum resistance thermometer",
    says: "temperature, resistance and volts under a pull-up, each from another, with the class's tolerance",
    group: "Temperature",
    inputs: &[
        Input::quantity("r0", "Resistance at 0 C", Resistance, (1.0, 1e5))
            .says("100, 200 or 1000 ohm")
            .default("100 ohm"),
        pulled_up::TEMPERATURE,
        pulled_up::RESISTANCE,
        pulled_up::VOLTS,
        pulled_up::PULL_UP,
        pulled_up::REFERENCE,
        Input::of(
            "class",
            "Class",
            Kind::Choice(&[
                Alternative {
                    key: "a",
                    label: "A: 0.15 K + 0.2 %",
                },
                Alternative {
                    key: "b",
                    label: "B: 0.3 K + 0.5 %",
                },
            ]),
            "",
        )
        .default("b"),
    ],
    formula: "R = R0 (1 + A t + B t^2) from 0 C, R0 (1 + A t + B t^2 + C (t - 100) t^3) below\n\
              A = 3.9083e-3, B = -5.775e-7, C = -4.183e-12\n\
              class A: 0.15 + 0.002 |t| K, class B: 0.3 + 0.005 |t| K",
    source: "IEC 60751 (EN 60751, ASTM E1137, JIS C1604); its printed tables are rounded to 0.01 ohm",
    range: "-200 to 850 C, refused outside. Exhaust sensors in service follow a close but own curve (common \
            practice, no source): no fault is stated from this alone",
    example: &[
        ("r0", "200 ohm"),
        ("temperature", "600 C"),
        ("pull-up", "1 kohm"),
    ],
    work,
};

fn work(given: &Given) -> Result<Answer, Refusal> {
    let r0 = given.need("r0")?;
    // A hundredth of a degree to both sides is slope enough: the curve is nearly straight.
    let slope = |celsius: f64, _: f64| {
        let at = |t: f64| platinum::resistance(r0, t.clamp(-200.0, 850.0)).unwrap_or(0.0);
        let (low, high) = ((celsius - 0.01).max(-200.0), (celsius + 0.01).min(850.0));
        (at(high) - at(low)) / (high - low)
    };
    let curve = Curve {
        resistance: &|celsius| platinum::resistance(r0, celsius),
        temperature: &|ohms| platinum::temperature(r0, ohms),
        slope: &slope,
        range: "type a value between -200 and 850 C of a platinum thermometer",
    };
    let mut answer = Answer::default();
    let celsius = pulled_up::tell(&mut answer, given, &curve)?;
    let off = platinum::may_be_off(given.choice("class") == "a", celsius);
    answer.quantity(
        "tolerance",
        "Its class lets it be off by",
        off,
        TemperatureSpan,
    );
    let ohms = |celsius: f64| platinum::resistance(r0, celsius.clamp(-200.0, 850.0)).unwrap_or(0.0);
    let band = Interval {
        low: ohms(celsius - off),
        high: ohms(celsius + off),
    };
    answer.result(
        "band",
        "Resistance within its class",
        Value::Band(band, Resistance),
    );
    answer.step(format!(
        "R({}) = {} with R0 = {}",
        shown(celsius, Temperature),
        shown(ohms(celsius), Resistance),
        shown(r0, Resistance)
    ));
    answer.note("exhaust sensors follow a close but own curve: the maker's table comes first");
    Ok(answer)
}
