//! Acceptable resistance in the two wires of a temperature sensor on a pull-up.
//!
//! In: the sensor, its temperature, the error allowed. Out: ohms and millivolts in the wires.

use super::given::Given;
use super::shape::{Answer, Calculator, Input, Refusal, shown};
use super::thermistor;
use crate::quantity::Dimension::{Current, Resistance, Temperature, TemperatureSpan, Voltage};

/// Two-wire temperature sensor: signal and ground.
pub(super) const SIGNAL_DROP_TWO_WIRE: Calculator = Calculator {
    name: "signal-drop-two-wire",
    title: "Acceptable resistance at a temperature sensor",
    says: "how many ohms and millivolts the wires and contacts of a two-wire sensor may have for an error in \
           degrees",
    group: "Signals",
    inputs: &[
        Input::quantity("error", "Error allowed", TemperatureSpan, (1e-3, 100.0))
            .says("how much colder it may read")
            .needed(),
        Input::quantity(
            "temperature",
            "At which temperature",
            Temperature,
            (-60.0, 300.0),
        )
        .says("the hottest one that matters: there the wires weigh most")
        .needed(),
        Input::quantity("r25", "Resistance at 25 C", Resistance, (1.0, 1e7)).needed(),
        Input::quantity("beta", "B value", TemperatureSpan, (500.0, 10_000.0)).needed(),
        Input::quantity("pull-up", "Pull-up resistor", Resistance, (10.0, 1e7))
            .says("1 to 10 kohm is common practice")
            .unit("kohm")
            .default("2.2 kohm"),
        Input::quantity("reference", "Reference", Voltage, (0.1, 100.0)).default("5 V"),
    ],
    formula: "R_wires = R(t - error) - R(t), R(T) = R25 exp(B (1/T - 1/298.15))\n\
              drop = V_ref R_wires / (R_pull-up + R(t) + R_wires)",
    source: "IEC 60539-1, B-value equation; Ohm's law",
    range: "sensors that fall as they warm; series resistance reads colder. Good within some 50 K of the \
            temperatures B was taken between",
    example: &[
        ("error", "2 K"),
        ("temperature", "90 C"),
        ("r25", "3 kohm"),
        ("beta", "3977 K"),
    ],
    work,
};

fn work(given: &Given) -> Result<Answer, Refusal> {
    let (celsius, error) = (given.need("temperature")?, given.need("error")?);
    let (r25, beta) = (given.need("r25")?, given.need("beta")?);
    let (pull_up, reference) = (given.need("pull-up")?, given.need("reference")?);
    let at = |celsius: f64| {
        thermistor::by_beta(r25, beta, celsius).ok_or_else(|| {
            Refusal::of(
                "temperature",
                "the B-value equation has no resistance there",
                "type a temperature nearer to 25 C",
            )
        })
    };
    let (hot, colder) = (at(celsius)?, at(celsius - error)?);
    let wires = colder - hot;
    let current = reference / (pull_up + colder);
    let mut answer = Answer::default();
    answer.quantity("wires", "Both wires with their contacts", wires, Resistance);
    answer.quantity("each", "Each wire, shared evenly", wires / 2.0, Resistance);
    answer.quantity("drop", "Drop over both then", current * wires, Voltage);
    answer.quantity(
        "signal",
        "Signal without them",
        reference * hot / (pull_up + hot),
        Voltage,
    );
    answer.quantity(
        "signal-then",
        "Signal with them",
        reference * colder / (pull_up + colder),
        Voltage,
    );
    answer.step(format!(
        "R({}) = {}, R({}) = {}",
        shown(celsius, Temperature),
        shown(hot, Resistance),
        shown(celsius - error, Temperature),
        shown(colder, Resistance)
    ));
    answer.step(format!("R_wires = {}", shown(wires, Resistance)));
    answer.step(format!(
        "drop = {} x {} = {}",
        shown(current, Current),
        shown(wires, Resistance),
        shown(current * wires, Voltage)
    ));
    answer.note("an ohmmeter on the unplugged wires, or the signal's drop to good ground, tells whether they keep it");
    Ok(answer)
}
