//! Thermocouple type K after ITS-90, both ways.
//!
//! In: degrees Celsius or millivolts, and the cold junction's temperature. Out: the other one. The cold
//! junction is corrected by adding its voltage, never its degrees.

use super::given::Given;
use super::shape::{Answer, Calculator, Input, Refusal, shown};
use crate::quantity::Dimension::{Temperature, Voltage};
use crate::quantity::maths::exp;

/// Range of the reference function, degrees Celsius.
const RANGE: (f64, f64) = (-270.0, 1372.0);
/// Coefficients from -270 to 0 °C, millivolt per power of degrees (NIST Monograph 175).
const BELOW: [f64; 11] = [
    0.0,
    0.394_501_280_250e-1,
    0.236_223_735_980e-4,
    -0.328_589_067_840e-6,
    -0.499_048_287_770e-8,
    -0.675_090_591_730e-10,
    -0.574_103_274_280e-12,
    -0.310_888_728_940e-14,
    -0.104_516_093_650e-16,
    -0.198_892_668_780e-19,
    -0.163_226_974_860e-22,
];
/// Coefficients from 0 to 1372 °C (NIST Monograph 175).
const ABOVE: [f64; 10] = [
    -0.176_004_136_860e-1,
    0.389_212_049_750e-1,
    0.185_587_700_320e-4,
    -0.994_575_928_740e-7,
    0.318_409_457_190e-9,
    -0.560_728_448_890e-12,
    0.560_750_590_590e-15,
    -0.320_207_200_030e-18,
    0.971_511_471_520e-22,
    -0.121_047_212_750e-25,
];
/// The bump above 0 °C: millivolt, per degree squared, degrees (NIST Monograph 175).
const BUMP: (f64, f64, f64) = (0.118_597_6, -0.118_343_2e-3, 126.9686);
/// Halvings of the range; more than a double has digits for.
const HALVINGS: usize = 60;

/// Thermocouple type K.
pub(super) const THERMOCOUPLE_K: Calculator = Calculator {
    name: "thermocouple-k",
    title: "Thermocouple type K",
    says: "temperature from millivolts and back, with the cold junction where the copper begins",
    group: "Temperature",
    inputs: &[
        Input::quantity("temperature", "Temperature of the tip", Temperature, RANGE)
            .says("give the temperature, or the volts"),
        Input::quantity("volts", "Voltage at the cold junction", Voltage, (-0.1, 0.1)).unit("mV"),
        Input::quantity("cold", "Temperature of the cold junction", Temperature, (-50.0, 150.0))
            .says("where the thermocouple's wires meet copper: a meter's sockets, a converter's terminals")
            .needed(),
    ],
    formula: "V = E(t) - E(t_cold), t = E^-1(V + E(t_cold))\n\
              E = sum of c_i t^i, from 0 C on + 0.1186 mV exp(-1.183e-4 (t - 126.9686)^2)",
    source: "NIST ITS-90 reference function of type K (Monograph 175)",
    range: "-270 to 1372 C, refused outside. The inverse is exact; NIST's own inverse polynomials are up to \
            0.06 C off. Never add the cold junction's degrees",
    example: &[("volts", "4.096 mV"), ("cold", "25 C")],
    work,
};

/// Millivolts of a type K thermocouple against 0 °C; its temperature is held in the range.
fn millivolts(celsius: f64) -> f64 {
    let t = celsius.clamp(RANGE.0, RANGE.1);
    let sum = |coefficients: &[f64]| coefficients.iter().rev().fold(0.0, |sum, c| sum * t + c);
    match t < 0.0 {
        true => sum(&BELOW),
        false => {
            let off = t - BUMP.2;
            sum(&ABOVE) + BUMP.0 * exp(BUMP.1 * off * off)
        }
    }
}

/// The temperature of these millivolts against 0 °C, none outside the range. The function rises
/// everywhere, so that halving finds it.
fn temperature(millivolt: f64) -> Option<f64> {
    let (mut low, mut high) = RANGE;
    if !(millivolts(low)..=millivolts(high)).contains(&millivolt) {
        return None;
    }
    for _ in 0..HALVINGS {
        let middle = low + (high - low) / 2.0;
        match millivolts(middle) < millivolt {
            true => low = middle,
            false => high = middle,
        }
    }
    Some(low + (high - low) / 2.0)
}

fn work(given: &Given) -> Result<Answer, Refusal> {
    let cold = given.need("cold")?;
    let cold_volts = millivolts(cold) * 1e-3;
    let mut answer = Answer::default();
    let (celsius, volts) = match given.one_of(&["temperature", "volts"])? {
        ("temperature", celsius) => (celsius, millivolts(celsius) * 1e-3 - cold_volts),
        (_, volts) => {
            let celsius = temperature((volts + cold_volts) * 1e3).ok_or_else(|| {
                Refusal::of(
                    "volts",
                    format!(
                        "{} and the cold junction's {} are outside -270 to 1372 C",
                        shown(volts, Voltage),
                        shown(cold_volts, Voltage)
                    ),
                    "check the polarity and type millivolts",
                )
            })?;
            (celsius, volts)
        }
    };
    answer.quantity(
        "temperature",
        "Temperature of the tip",
        celsius,
        Temperature,
    );
    answer.quantity("volts", "Voltage at the cold junction", volts, Voltage);
    answer.quantity(
        "against-ice",
        "Voltage against 0 C",
        volts + cold_volts,
        Voltage,
    );
    answer.quantity(
        "slope",
        "Change of voltage for one kelvin",
        slope(celsius),
        Voltage,
    );
    answer.step(format!(
        "E({}) = {}",
        shown(cold, Temperature),
        shown(cold_volts, Voltage)
    ));
    answer.step(format!(
        "E({}) = {} + {} = {}",
        shown(celsius, Temperature),
        shown(volts, Voltage),
        shown(cold_volts, Voltage),
        shown(volts + cold_volts, Voltage)
    ));
    Ok(answer)
}

/// Volts per kelvin, over a tenth of a degree.
fn slope(celsius: f64) -> f64 {
    let (low, high) = ((celsius - 0.05).max(RANGE.0), (celsius + 0.05).min(RANGE.1));
    (millivolts(high) - millivolts(low)) / (high - low) * 1e-3
}
