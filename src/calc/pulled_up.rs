//! A resistance sensor under a pull-up: what is asked of it, and its volts.
//!
//! In: temperature, resistance or volts. Out: the two others. The curve between temperature and
//! resistance is the caller's.

use super::given::Given;
use super::shape::{Answer, Input, Refusal, shown};
use crate::quantity::Dimension::{Resistance, Temperature, Voltage};

pub(super) const TEMPERATURE: Input =
    Input::quantity("temperature", "Temperature", Temperature, (-273.0, 2000.0))
        .says("give temperature, resistance or volts");
pub(super) const RESISTANCE: Input =
    Input::quantity("resistance", "Resistance", Resistance, (1e-3, 1e9));
pub(super) const VOLTS: Input =
    Input::quantity("volts", "Signal", Voltage, (0.0, 100.0)).says("needs the pull-up");
pub(super) const PULL_UP: Input =
    Input::quantity("pull-up", "Pull-up resistor", Resistance, (1.0, 1e8))
        .says("1 to 10 kohm is common practice; without it no volts are told")
        .unit("kohm");
pub(super) const REFERENCE: Input =
    Input::quantity("reference", "Reference", Voltage, (0.1, 100.0)).default("5 V");

/// Keys of which one is asked.
const ASKED: &[&str] = &["temperature", "resistance", "volts"];

/// The curve of a sensor.
pub(super) struct Curve<'a> {
    /// Ohms at degrees Celsius, none where it has no answer.
    pub(super) resistance: &'a dyn Fn(f64) -> Option<f64>,
    /// Degrees Celsius at ohms, none where it has no answer.
    pub(super) temperature: &'a dyn Fn(f64) -> Option<f64>,
    /// Ohms per kelvin at degrees Celsius and ohms.
    pub(super) slope: &'a dyn Fn(f64, f64) -> f64,
    /// What to say where it has no answer.
    pub(super) range: &'static str,
}

/// Whether temperature, resistance or volts are asked for.
pub(super) fn is_asked(given: &Given) -> bool {
    ASKED.iter().any(|key| given.get(key).is_some())
}

/// Tells temperature, resistance, slope and volts; gives the temperature.
pub(super) fn tell(answer: &mut Answer, given: &Given, curve: &Curve<'_>) -> Result<f64, Refusal> {
    let (asked, number) = given.one_of(ASKED)?;
    let outside = |key| Refusal::of(key, "the curve has no answer there", curve.range);
    let (celsius, ohms) = match asked {
        "temperature" => {
            let ohms = (curve.resistance)(number).ok_or_else(|| outside("temperature"))?;
            (number, ohms)
        }
        "resistance" => (
            (curve.temperature)(number).ok_or_else(|| outside("resistance"))?,
            number,
        ),
        _ => {
            let ohms = ohms_at(answer, given, number)?;
            (
                (curve.temperature)(ohms).ok_or_else(|| outside("volts"))?,
                ohms,
            )
        }
    };
    answer.quantity("temperature", "Temperature", celsius, Temperature);
    answer.quantity("resistance", "Resistance", ohms, Resistance);
    if let Some(pull_up) = given.get("pull-up") {
        let volts = given.need("reference")? * (ohms / (ohms + pull_up));
        answer.quantity("volts", "Signal under the pull-up", volts, Voltage);
        answer.step(format!(
            "V = {} x {} / ({} + {}) = {}",
            shown(given.need("reference")?, Voltage),
            shown(ohms, Resistance),
            shown(ohms, Resistance),
            shown(pull_up, Resistance),
            shown(volts, Voltage)
        ));
    }
    let slope = (curve.slope)(celsius, ohms);
    answer.quantity(
        "slope",
        "Change of resistance for one kelvin",
        slope,
        Resistance,
    );
    Ok(celsius)
}

/// The resistance that gives these volts.
fn ohms_at(answer: &mut Answer, given: &Given, volts: f64) -> Result<f64, Refusal> {
    let pull_up = given.get("pull-up").ok_or_else(|| {
        Refusal::of(
            "pull-up",
            "volts tell a resistance only with the pull-up",
            "type the pull-up, such as 2.2 kohm",
        )
    })?;
    let reference = given.need("reference")?;
    if volts <= 0.0 || volts >= reference {
        let tells = match volts <= 0.0 {
            true => "0 V is a short to ground or a dead pull-up, no temperature",
            false => "the reference or more is an open sensor or wire, no temperature",
        };
        return Err(Refusal::of(
            "volts",
            tells,
            format!("type volts between 0 V and {}", shown(reference, Voltage)),
        ));
    }
    let ohms = pull_up * volts / (reference - volts);
    answer.step(format!(
        "R = {} x {} / ({} - {}) = {}",
        shown(pull_up, Resistance),
        shown(volts, Voltage),
        shown(reference, Voltage),
        shown(volts, Voltage),
        shown(ohms, Resistance)
    ));
    Ok(ohms)
}
