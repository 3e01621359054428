//! Acceptable drop in a signal circuit: from the error allowed to millivolts and ohms in each wire.
//!
//! In: the error, the sensor's current, its span. Out: the most each wire may have, alone and together.

use super::given::Given;
use super::shape::{Alternative, Answer, Calculator, Input, Kind, Refusal, shown};
use super::span::{self, Span};
use crate::quantity::Dimension;
use crate::quantity::Dimension::{
    Angle, Current, Length, Pressure, Ratio, Resistance, TemperatureSpan, Voltage,
};

const ERROR: &[Dimension] = &[
    Ratio,
    Voltage,
    TemperatureSpan,
    Pressure,
    Angle,
    Length,
    Current,
    Resistance,
    Dimension::Speed,
    Dimension::Rotation,
    Dimension::Frequency,
];

/// Three-wire sensor: reference, signal, ground.
pub(super) const SIGNAL_DROP: Calculator = Calculator {
    name: "signal-drop",
    title: "Acceptable drop in a signal circuit",
    says: "how many millivolts and ohms the reference, ground and signal wire of a three-wire sensor may have \
           for an error you allow",
    group: "Signals",
    inputs: &[
        Input::any("error", "Error allowed", ERROR, (1e-9, 1e9))
            .says("percent of the span, volts, or what is measured: 1 %, 40 mV, 2.5 kPa, 2 K")
            .needed(),
        Input::quantity("current", "Current the sensor takes", Current, (1e-6, 10.0))
            .says("through its reference and ground wire")
            .unit("mA")
            .needed(),
        span::REFERENCE,
        span::KIND,
        span::LOW_VOLTS,
        span::HIGH_VOLTS,
        span::LOW_VALUE,
        span::HIGH_VALUE,
        span::STATED,
        Input::quantity(
            "bias",
            "Resistor at the module's input",
            Resistance,
            (100.0, 1e9),
        )
        .says(
            "what the signal wire carries goes through it; 100 kohm is common practice, no source",
        )
        .unit("kohm")
        .default("100 kohm"),
        Input::of(
            "pull",
            "It pulls",
            Kind::Choice(&[
                Alternative {
                    key: "up",
                    label: "to the reference",
                },
                Alternative {
                    key: "down",
                    label: "to ground",
                },
                Alternative {
                    key: "unknown",
                    label: "not known: the worse of both",
                },
            ]),
            "",
        )
        .default("unknown"),
    ],
    formula: "e = allowed error in volts\n\
              ground wire: drop = e / (1 - x_low), R = drop / I    (worst at the lower end)\n\
              reference wire: drop = e / x_high, R = drop / I      (worst at the upper end)\n\
              signal wire: R = e / I_signal, I_signal = largest voltage across the input's resistor / its ohms\n\
              x = volts at that end / reference; 0 and no reference wire for a signal that does not follow it",
    source: "nodal equations of a ratiometric sensor that divides what it gets between its own pins: \
             V = I R_ground + x (V_ref - I R_ref - I R_ground), drops small against the reference",
    range: "errors from 1e-9 to the whole span; each wire alone, and all together at a third each, which is on \
            the safe side since ground and reference pull opposite ways",
    example: &[("error", "1 %"), ("current", "10 mA"), ("reference", "5 V")],
    work,
};

/// One wire's share.
struct Wire {
    keys: (&'static str, &'static str),
    name: &'static str,
    /// Volts it may drop alone.
    drop: f64,
    /// Ampere through it.
    current: f64,
}

fn work(given: &Given) -> Result<Answer, Refusal> {
    let span = Span::of(given)?;
    let error = error_volts(given, &span)?;
    let current = given.need("current")?;
    let wires = wires(given, &span, error, current)?;
    let mut answer = Answer::default();
    answer.quantity("error", "Error allowed, at the signal", error, Voltage);
    for wire in &wires {
        let label = format!("{}, alone: drop", wire.name);
        answer.quantity(wire.keys.0, &label, wire.drop, Voltage);
        let label = format!("{}, alone: resistance", wire.name);
        answer.quantity(wire.keys.1, &label, wire.drop / wire.current, Resistance);
        answer.step(format!(
            "{}: {} / {} = {}",
            wire.name,
            shown(wire.drop, Voltage),
            shown(wire.current, Current),
            shown(wire.drop / wire.current, Resistance)
        ));
    }
    let count = f64::from(u8::try_from(wires.len()).unwrap_or(1));
    let least = |share: fn(&Wire) -> f64| wires.iter().map(share).fold(f64::INFINITY, f64::min);
    let together = least(|wire| wire.drop / wire.current) / count;
    answer.quantity(
        "each",
        "Every wire at once: resistance of each",
        together,
        Resistance,
    );
    answer.note(
        "common practice besides: sensor ground to battery minus under 0.05 V, look for a fault above 0.1 V \
         (no standard)",
    );
    answer.note(
        "measure under the sensor's own current, plugged in: an open voltage test passes hundreds of kilohms",
    );
    if !given.is_typed("bias") {
        answer.note(
            "the resistor at the module's input is assumed; the signal wire's ohms follow from it",
        );
    }
    Ok(answer)
}

/// The allowed error in volts at the signal.
fn error_volts(given: &Given, span: &Span) -> Result<f64, Refusal> {
    let error = given.need_quantity("error")?;
    let width = span.high - span.low;
    let difference = span.dimension.of_difference();
    let volts = match error.dimension {
        Voltage => error.number,
        Ratio => error.number * width,
        other if other == difference => {
            error.number / (span.high_value - span.low_value).abs() * width
        }
        other => {
            return Err(Refusal::of(
                "error",
                format!(
                    "{} was found, and the sensor measures {}",
                    other.name(),
                    span.dimension.name()
                ),
                format!("type percent of the span, volts, or {}", difference.name()),
            ));
        }
    };
    match volts <= width {
        true => Ok(volts),
        false => Err(Refusal::of(
            "error",
            "the error is more than the whole span",
            "type a smaller one, such as 1 %",
        )),
    }
}

fn wires(given: &Given, span: &Span, error: f64, current: f64) -> Result<Vec<Wire>, Refusal> {
    let reference = given.need("reference")?;
    if span.low < 0.0 || span.high > reference {
        return Err(Refusal::of(
            "high-volts",
            "the span reaches beyond ground or reference",
            "type a span between 0 V and the reference",
        ));
    }
    let bias = given.need("bias")?;
    let (up, down) = ((reference - span.low) / bias, span.high / bias);
    let signal = match given.choice("pull") {
        "up" => up,
        "down" => down,
        _ => up.max(down),
    };
    let follows = given.choice("kind") != "absolute";
    let low = if follows { span.low / reference } else { 0.0 };
    let mut wires = vec![Wire {
        keys: ("ground-drop", "ground-ohms"),
        name: "Ground wire",
        drop: error / (1.0 - low),
        current,
    }];
    if follows {
        wires.push(Wire {
            keys: ("reference-drop", "reference-ohms"),
            name: "Reference wire",
            drop: error * reference / span.high,
            current,
        });
    }
    wires.push(Wire {
        keys: ("signal-drop", "signal-ohms"),
        name: "Signal wire",
        drop: error,
        current: signal,
    });
    Ok(wires)
}
