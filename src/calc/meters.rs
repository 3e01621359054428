//! What a meter does to a circuit: pull-up with a meter, a loaded divider, a loaded potentiometer, a source
//! found by two loads.
//!
//! In: volts and ohms. Out: what is read, and what it would be without the meter.

use super::given::Given;
use super::shape::{Answer, Calculator, Input, Refusal, shown};
use crate::quantity::Dimension::{Current, Ratio, Resistance, Voltage};

const GROUP: &str = "Dividers and meters";
const METER: Input = Input::quantity("meter", "Meter", Resistance, (1.0, 1e13))
    .says("10 Mohm is common")
    .default("10 Mohm");

const fn volts(key: &'static str, label: &'static str) -> Input {
    Input::quantity(key, label, Voltage, (0.0, 1e5))
}

const fn ohms(key: &'static str, label: &'static str) -> Input {
    Input::quantity(key, label, Resistance, (0.0, 1e12))
}

/// A signal under a pull-up, and the resistance its volts tell.
pub(super) const PULL_UP: Calculator = Calculator {
    name: "pull-up",
    title: "Pull-up",
    says: "the volts of a part under a pull-up with a meter on it, or the resistance that volts tell",
    group: GROUP,
    inputs: &[
        volts("reference", "Reference").default("5 V"),
        Input::quantity("pull-up", "Pull-up resistor", Resistance, (1.0, 1e9))
            .says("1 to 10 kohm is common practice")
            .unit("kohm")
            .needed(),
        ohms("resistance", "Resistance of the part")
            .says("give it, or the volts; neither is an open part"),
        volts("volts", "Volts read"),
        METER,
    ],
    formula: "V = V_ref R / (R_pull-up + R), R = part and meter side by side\n\
              1/R_part = (V_ref - V) / (V R_pull-up) - 1/R_meter",
    source: "Ohm's law",
    range: "an open part reads the reference less what the meter takes; volts above that tell no resistance \
            and are refused",
    example: &[("pull-up", "470 kohm")],
    work: pull_up,
};

/// A meter on a divider.
pub(super) const METER_LOADING: Calculator = Calculator {
    name: "meter-loading",
    title: "Meter loading",
    says: "what a meter reads on a divider, and what stands there without it",
    group: GROUP,
    inputs: &[
        volts("supply", "Supply").needed(),
        ohms("upper", "Resistor above the point")
            .unit("kohm")
            .needed(),
        Input::quantity(
            "lower",
            "Resistor below the point",
            Resistance,
            (1e-6, 1e12),
        )
        .unit("kohm")
        .needed(),
        METER,
    ],
    formula: "V = V_supply R / (R_upper + R), R = R_lower R_meter / (R_lower + R_meter)\n\
              error = R_source / (R_source + R_meter), R_source = both resistors side by side",
    source: "Ohm's law; Thevenin's theorem",
    range: "a 10 Mohm meter keeps the error below 1 % up to a source of 100 kohm",
    example: &[
        ("supply", "6 V"),
        ("upper", "1 kohm"),
        ("lower", "2 kohm"),
        ("meter", "10 kohm"),
    ],
    work: meter_loading,
};

/// A load on a potentiometer's slider.
pub(super) const POTENTIOMETER_LOADING: Calculator = Calculator {
    name: "potentiometer-loading",
    title: "Loaded potentiometer",
    says: "how far a load on the slider bends a potentiometer's line",
    group: GROUP,
    inputs: &[
        Input::quantity("track", "Resistance end to end", Resistance, (1e-3, 1e9))
            .unit("kohm")
            .needed(),
        Input::quantity("load", "Load on the slider", Resistance, (1e-3, 1e12))
            .says("to the low end")
            .unit("kohm")
            .needed(),
        Input::quantity("position", "Position", Ratio, (0.0, 1.0)).default("50 %"),
        volts("supply", "Across the track").default("5 V"),
    ],
    formula: "V / V_supply = x / (1 + k x (1 - x)), k = R_track / R_load",
    source: "Ohm's law; the largest error is about 15 k percent near two thirds of the travel (textbook rule, \
             from memory)",
    range: "0 to 100 % of the travel, where the error is nothing at both ends",
    example: &[
        ("track", "5 kohm"),
        ("load", "50 kohm"),
        ("position", "50 %"),
    ],
    work: potentiometer_loading,
};

/// A source from two readings under different loads.
pub(super) const LOADED_READINGS: Calculator = Calculator {
    name: "loaded-readings",
    title: "Resistance from two loaded readings",
    says: "how many ohms stand between a source and the point, from two readings under two loads",
    group: GROUP,
    inputs: &[
        volts("first-volts", "First reading").needed(),
        Input::quantity("first-load", "First load", Resistance, (1e-3, 1e12))
            .says("the meter alone is 10 Mohm")
            .default("10 Mohm"),
        volts("second-volts", "Second reading").needed(),
        Input::quantity("second-load", "Second load", Resistance, (1e-3, 1e12))
            .says("a resistor beside the meter")
            .needed(),
    ],
    formula: "R = (V1 - V2) / (V2/R_load2 - V1/R_load1), V_source = V1 (1 + R/R_load1)",
    source: "Thevenin's theorem",
    range: "the heavier load has to read less; two readings alike tell no resistance, only that it is far \
            below the loads",
    example: &[
        ("first-volts", "5.00 V"),
        ("second-volts", "4.50 V"),
        ("second-load", "1 kohm"),
    ],
    work: loaded_readings,
};

fn beside(a: f64, b: f64) -> f64 {
    1.0 / (1.0 / a + 1.0 / b)
}

fn pull_up(given: &Given) -> Result<Answer, Refusal> {
    let (reference, pull_up) = (given.need("reference")?, given.need("pull-up")?);
    let meter = given.need("meter")?;
    let open = reference * (meter / (meter + pull_up));
    let mut answer = Answer::default();
    match (given.get("resistance"), given.get("volts")) {
        (Some(_), Some(_)) => {
            given.one_of(&["resistance", "volts"])?;
        }
        (None, Some(volts)) => tell_resistance(&mut answer, [reference, pull_up, meter], volts)?,
        (part, None) => {
            let ohms = part.map_or(meter, |part| beside(part, meter));
            let volts = reference * (ohms / (ohms + pull_up));
            answer.quantity("volts", "Volts read", volts, Voltage);
            answer.step(format!(
                "V = {} x {} / ({} + {}) = {}",
                shown(reference, Voltage),
                shown(ohms, Resistance),
                shown(pull_up, Resistance),
                shown(ohms, Resistance),
                shown(volts, Voltage)
            ));
        }
    }
    answer.quantity("open", "With the part open", open, Voltage);
    answer.quantity(
        "most",
        "Current with the part shorted",
        reference / pull_up,
        Current,
    );
    Ok(answer)
}

fn tell_resistance(
    answer: &mut Answer,
    [reference, pull_up, meter]: [f64; 3],
    volts: f64,
) -> Result<(), Refusal> {
    let per_ohm = (reference - volts) / pull_up - volts / meter;
    if per_ohm <= 0.0 {
        return Err(Refusal::of(
            "volts",
            "so many volts are an open part",
            "type less than the volts of an open part",
        ));
    }
    let ohms = volts / per_ohm;
    answer.quantity("resistance", "Resistance of the part", ohms, Resistance);
    answer.step(format!(
        "R = {} / (({} - {}) / {} - {} / {}) = {}",
        shown(volts, Voltage),
        shown(reference, Voltage),
        shown(volts, Voltage),
        shown(pull_up, Resistance),
        shown(volts, Voltage),
        shown(meter, Resistance),
        shown(ohms, Resistance)
    ));
    Ok(())
}

fn meter_loading(given: &Given) -> Result<Answer, Refusal> {
    let (supply, meter) = (given.need("supply")?, given.need("meter")?);
    let (upper, lower) = (given.need("upper")?, given.need("lower")?);
    let loaded = beside(lower, meter);
    let unloaded = supply * (lower / (upper + lower));
    let read = supply * (loaded / (upper + loaded));
    let source = if upper > 0.0 {
        beside(upper, lower)
    } else {
        0.0
    };
    let mut answer = Answer::default();
    answer.quantity("read", "Meter reads", read, Voltage);
    answer.quantity("unloaded", "Without the meter", unloaded, Voltage);
    answer.quantity(
        "error",
        "Lost by the meter",
        source / (source + meter),
        Ratio,
    );
    answer.quantity("source", "Resistance the meter sees", source, Resistance);
    answer.quantity(
        "one-percent",
        "Meter that loses 1 %",
        source * 99.0,
        Resistance,
    );
    answer.step(format!(
        "lower and meter side by side = {}",
        shown(loaded, Resistance)
    ));
    answer.step(format!(
        "V = {} x {} / ({} + {}) = {}",
        shown(supply, Voltage),
        shown(loaded, Resistance),
        shown(upper, Resistance),
        shown(loaded, Resistance),
        shown(read, Voltage)
    ));
    Ok(answer)
}

fn potentiometer_loading(given: &Given) -> Result<Answer, Refusal> {
    let (x, supply) = (given.need("position")?, given.need("supply")?);
    let k = given.need("track")? / given.need("load")?;
    let bent = |x: f64| x / (1.0 + k * x * (1.0 - x));
    // The error x - bent(x) has one hump; a thousandth of the travel finds its top well enough.
    let steps = (0..=1000_u16).map(|step| f64::from(step) / 1000.0);
    let worst = steps.fold(0.0, |worst: f64, at| {
        if at - bent(at) > worst - bent(worst) {
            at
        } else {
            worst
        }
    });
    let mut answer = Answer::default();
    answer.quantity("volts", "At the slider", supply * bent(x), Voltage);
    answer.quantity("part", "Part of the supply", bent(x), Ratio);
    answer.quantity("error", "Below the straight line by", x - bent(x), Ratio);
    answer.quantity("worst", "Largest error", worst - bent(worst), Ratio);
    answer.quantity("worst-at", "It stands at", worst, Ratio);
    answer.step(format!(
        "{} / (1 + {} x {} x {}) = {}",
        shown(x, Ratio),
        crate::quantity::write_number(k),
        shown(x, Ratio),
        shown(1.0 - x, Ratio),
        shown(bent(x), Ratio)
    ));
    Ok(answer)
}

fn loaded_readings(given: &Given) -> Result<Answer, Refusal> {
    let (v1, r1) = (given.need("first-volts")?, given.need("first-load")?);
    let (v2, r2) = (given.need("second-volts")?, given.need("second-load")?);
    let (more, drop) = (v2 / r2 - v1 / r1, v1 - v2);
    if more == 0.0 || drop / more < 0.0 || !(drop / more).is_finite() {
        return Err(Refusal::of(
            "second-volts",
            "the heavier load does not read less, so the two readings are of no one source",
            "check readings and loads; a dead point reads 0 V under any load",
        ));
    }
    let ohms = drop / more;
    let source = v1 * (1.0 + ohms / r1);
    let mut answer = Answer::default();
    answer.quantity("resistance", "Resistance in the way", ohms, Resistance);
    answer.quantity("source", "Source without load", source, Voltage);
    answer.quantity(
        "short",
        "Current into a short",
        if ohms > 0.0 { source / ohms } else { 0.0 },
        Current,
    );
    answer.step(format!(
        "R = ({} - {}) / ({} / {} - {} / {}) = {}",
        shown(v1, Voltage),
        shown(v2, Voltage),
        shown(v2, Voltage),
        shown(r2, Resistance),
        shown(v1, Voltage),
        shown(r1, Resistance),
        shown(ohms, Resistance)
    ));
    answer.note(
        "the meter's own error weighs heavily where the readings are near each other: load it more",
    );
    if ohms == 0.0 {
        answer.results.retain(|result| result.key != "short");
        answer.note("the readings are alike: the resistance is far below the loads");
    }
    Ok(answer)
}
