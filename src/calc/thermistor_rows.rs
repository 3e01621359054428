//! The calculators of thermistors: by B value, by coefficients, and fits through two or three points.
//!
//! In: a part's data, and temperature, resistance or volts. Out: the others; the data of a fit.

use super::given::Given;
use super::pulled_up::{self, Curve};
use super::shape::{Answer, Calculator, Input, Kind, Refusal, Value, shown};
use super::thermistor;
use crate::quantity::Dimension::{Resistance, Temperature, TemperatureSpan};
use crate::quantity::maths::{exp, ln};
use crate::quantity::write_number;

/// Kelvin at 0 °C; texts that use 273 or 273.2 come out up to 0.2 K apart.
const ICE_POINT: f64 = 273.15;
const GROUP: &str = "Temperature";
const CUBIC: &str = "1/T = A + B ln R + C (ln R)^3, T in kelvin (C + 273.15), R in ohm\n\
                     V = V_ref R / (R + R_pull-up)";
const CUBIC_SOURCE: &str = "Steinhart and Hart, Deep-Sea Research 15 (1968); Ohm's law";
const BETA: &str = "R = R0 exp(B (1/T - 1/T0)), T in kelvin (C + 273.15)\n\
                    V = V_ref R / (R + R_pull-up)";
const BETA_SOURCE: &str = "IEC 60539-1, B-value equation; Ohm's law";
const OUTSIDE: &str = "type a value nearer to the points the curve was taken from";

const fn kelvin(key: &'static str, label: &'static str) -> Input {
    Input::quantity(key, label, Temperature, (-200.0, 1000.0)).needed()
}

const fn ohms(key: &'static str, label: &'static str) -> Input {
    Input::quantity(key, label, Resistance, (1e-3, 1e9)).needed()
}

const fn coefficient(key: &'static str, label: &'static str) -> Input {
    let kind = Kind::Number {
        low: -1.0,
        high: 1.0,
    };
    Input::of(key, label, kind, "").needed()
}

/// Thermistor by its B value.
pub(super) const THERMISTOR_BETA: Calculator = Calculator {
    name: "thermistor-beta",
    title: "Thermistor by its B value",
    says: "temperature, resistance and volts under a pull-up, each from another",
    group: GROUP,
    inputs: &[
        ohms("known-resistance", "Known resistance"),
        Input::quantity(
            "known-temperature",
            "At which temperature",
            Temperature,
            (-200.0, 1000.0),
        )
        .default("25 C"),
        Input::quantity("beta", "B value", TemperatureSpan, (-20_000.0, 20_000.0))
            .says("below zero for a sensor that rises as it warms")
            .needed(),
        pulled_up::TEMPERATURE,
        pulled_up::RESISTANCE,
        pulled_up::VOLTS,
        pulled_up::PULL_UP,
        pulled_up::REFERENCE,
    ],
    formula: BETA,
    source: BETA_SOURCE,
    range: "good within some 50 K of the temperatures B was taken between; volts at or beyond 0 V and \
            reference are an open or a short and give no temperature",
    example: &[
        ("known-resistance", "10 kohm"),
        ("beta", "3950 K"),
        ("temperature", "0 C"),
        ("pull-up", "2.2 kohm"),
    ],
    work: by_beta,
};

/// Thermistor by its coefficients.
pub(super) const THERMISTOR_COEFFICIENTS: Calculator = Calculator {
    name: "thermistor-steinhart-hart",
    title: "Thermistor by Steinhart-Hart coefficients",
    says: "temperature, resistance and volts under a pull-up, each from another",
    group: GROUP,
    inputs: &[
        coefficient("a", "A"),
        coefficient("b", "B"),
        coefficient("c", "C"),
        pulled_up::TEMPERATURE,
        pulled_up::RESISTANCE,
        pulled_up::VOLTS,
        pulled_up::PULL_UP,
        pulled_up::REFERENCE,
    ],
    formula: CUBIC,
    source: CUBIC_SOURCE,
    range: "good between the points the coefficients were taken from; resistance from temperature needs C \
            above zero, as real parts have",
    example: &[
        ("a", "1.40e-3"),
        ("b", "2.37e-4"),
        ("c", "9.90e-8"),
        ("temperature", "40 C"),
        ("pull-up", "2.2 kohm"),
    ],
    work: by_coefficients,
};

/// B value through two points.
pub(super) const THERMISTOR_TWO_POINTS: Calculator = Calculator {
    name: "thermistor-two-points",
    title: "B value from two points",
    says: "a thermistor's B value from two readings, and any other point of its curve",
    group: GROUP,
    inputs: &[
        kelvin("first-temperature", "First temperature"),
        ohms("first-resistance", "Resistance there"),
        kelvin("second-temperature", "Second temperature"),
        ohms("second-resistance", "Resistance there"),
        pulled_up::TEMPERATURE.says("then give temperature, resistance or volts, or none"),
        pulled_up::RESISTANCE,
        pulled_up::VOLTS,
        pulled_up::PULL_UP,
        pulled_up::REFERENCE,
    ],
    formula: "B = ln(R1 / R2) / (1/T1 - 1/T2)\nR = R1 exp(B (1/T - 1/T1)), T in kelvin (C + 273.15)",
    source: BETA_SOURCE,
    range: "two points that differ in temperature and resistance; B comes out below zero for a sensor that \
            rises as it warms",
    example: &[
        ("first-temperature", "0 C"),
        ("first-resistance", "7360 ohm"),
        ("second-temperature", "100 C"),
        ("second-resistance", "153 ohm"),
        ("temperature", "37 C"),
    ],
    work: two_points,
};

/// Coefficients through three points.
pub(super) const THERMISTOR_THREE_POINTS: Calculator = Calculator {
    name: "thermistor-three-points",
    title: "Steinhart-Hart coefficients from three points",
    says: "a thermistor's coefficients from three readings, and any other point of its curve",
    group: GROUP,
    inputs: &[
        kelvin("first-temperature", "First temperature"),
        ohms("first-resistance", "Resistance there"),
        kelvin("second-temperature", "Second temperature"),
        ohms("second-resistance", "Resistance there"),
        kelvin("third-temperature", "Third temperature"),
        ohms("third-resistance", "Resistance there"),
        pulled_up::TEMPERATURE.says("then give temperature, resistance or volts, or none"),
        pulled_up::RESISTANCE,
        pulled_up::VOLTS,
        pulled_up::PULL_UP,
        pulled_up::REFERENCE,
    ],
    formula: CUBIC,
    source: CUBIC_SOURCE,
    range: "three points that differ; spread them over the range that matters, since outside them the curve \
            is a guess",
    example: &[
        ("first-temperature", "0 C"),
        ("first-resistance", "10030.22 ohm"),
        ("second-temperature", "50 C"),
        ("second-resistance", "1103.55 ohm"),
        ("third-temperature", "100 C"),
        ("third-resistance", "207.86 ohm"),
        ("temperature", "80 C"),
    ],
    work: three_points,
};

fn by_beta(given: &Given) -> Result<Answer, Refusal> {
    let known = (
        given.need("known-temperature")?,
        given.need("known-resistance")?,
    );
    let beta = given.need("beta")?;
    if beta == 0.0 {
        return Err(Refusal::of(
            "beta",
            "a B value of 0 has no temperature",
            "type the part's B value",
        ));
    }
    let mut answer = Answer::default();
    tell_beta(&mut answer, given, known, beta)?;
    Ok(answer)
}

fn tell_beta(
    answer: &mut Answer,
    given: &Given,
    known: (f64, f64),
    beta: f64,
) -> Result<(), Refusal> {
    let slope = |celsius: f64, ohms: f64| {
        let kelvin = celsius + ICE_POINT;
        -beta * ohms / (kelvin * kelvin)
    };
    let curve = Curve {
        resistance: &|celsius| thermistor::by_beta_from(known, beta, celsius),
        temperature: &|ohms| thermistor::temperature_by_beta(known, beta, ohms),
        slope: &slope,
        range: OUTSIDE,
    };
    pulled_up::tell(answer, given, &curve)?;
    answer.step(format!(
        "R = {} x exp({} x (1/T - 1/{}))",
        shown(known.1, Resistance),
        write_number(beta),
        write_number(known.0 + ICE_POINT)
    ));
    Ok(())
}

fn by_coefficients(given: &Given) -> Result<Answer, Refusal> {
    let coefficients = (given.need("a")?, given.need("b")?, given.need("c")?);
    let mut answer = Answer::default();
    tell_cubic(&mut answer, given, coefficients)?;
    Ok(answer)
}

fn tell_cubic(
    answer: &mut Answer,
    given: &Given,
    (a, b, c): (f64, f64, f64),
) -> Result<(), Refusal> {
    if c <= 0.0 && (given.get("temperature").is_some()) {
        return Err(Refusal::of(
            if given.is_typed("c") {
                "c"
            } else {
                "temperature"
            },
            "resistance from temperature needs C above zero",
            "check the coefficients or the points they come from",
        ));
    }
    let slope = |celsius: f64, ohms: f64| {
        let (kelvin, x) = (celsius + ICE_POINT, ln(ohms));
        -ohms / (kelvin * kelvin * (b + 3.0 * c * x * x))
    };
    let curve = Curve {
        resistance: &|celsius| thermistor::by_steinhart_hart(a, b, c, celsius),
        temperature: &|ohms| thermistor::temperature_by_steinhart_hart(a, b, c, ohms),
        slope: &slope,
        range: OUTSIDE,
    };
    pulled_up::tell(answer, given, &curve)?;
    answer.step(format!(
        "1/T = {} + {} ln R + {} (ln R)^3",
        write_number(a),
        write_number(b),
        write_number(c)
    ));
    Ok(())
}

fn two_points(given: &Given) -> Result<Answer, Refusal> {
    let first = (
        given.need("first-temperature")?,
        given.need("first-resistance")?,
    );
    let second = (
        given.need("second-temperature")?,
        given.need("second-resistance")?,
    );
    let beta = thermistor::beta_between(first, second).ok_or_else(|| {
        Refusal::of(
            "second-temperature",
            "the two points coincide in temperature or resistance",
            "type a second point that differs in both",
        )
    })?;
    let mut answer = Answer::default();
    answer.quantity("beta", "B value", beta, TemperatureSpan);
    let endless = first.1 * exp(-beta / (first.0 + ICE_POINT));
    answer.quantity(
        "endless",
        "Resistance at endless heat, R = R_endless exp(B/T)",
        endless,
        Resistance,
    );
    answer.step(format!(
        "B = ln({} / {}) / (1/{} - 1/{}) = {}",
        shown(first.1, Resistance),
        shown(second.1, Resistance),
        write_number(first.0 + ICE_POINT),
        write_number(second.0 + ICE_POINT),
        shown(beta, TemperatureSpan)
    ));
    if pulled_up::is_asked(given) {
        tell_beta(&mut answer, given, first, beta)?;
    }
    Ok(answer)
}

fn three_points(given: &Given) -> Result<Answer, Refusal> {
    let points = [
        (
            given.need("first-temperature")?,
            given.need("first-resistance")?,
        ),
        (
            given.need("second-temperature")?,
            given.need("second-resistance")?,
        ),
        (
            given.need("third-temperature")?,
            given.need("third-resistance")?,
        ),
    ];
    let (a, b, c) = thermistor::fit_steinhart_hart(points).ok_or_else(|| {
        Refusal::of(
            "third-temperature",
            "two of the three points coincide",
            "type three points that differ in temperature and resistance",
        )
    })?;
    let mut answer = Answer::default();
    answer.result("a", "A", Value::Number(a));
    answer.result("b", "B", Value::Number(b));
    answer.result("c", "C", Value::Number(c));
    if c <= 0.0 {
        answer.note("C is not above zero: the three points are no thermistor's, or one is misread");
    }
    if pulled_up::is_asked(given) {
        tell_cubic(&mut answer, given, (a, b, c))?;
    } else {
        answer.step("the cubic through the three points, by divided differences of 1/T over ln R");
    }
    Ok(answer)
}
