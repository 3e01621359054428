//! Pulses: frequency and speed of a toothed ring, of a wheel, and duty.
//!
//! In: teeth, turns, metres, seconds. Out: hertz and back; parts of a period.

use super::given::Given;
use super::shape::{Alternative, Answer, Calculator, Input, Kind, Refusal, shown};
use crate::quantity::Dimension::{Frequency, Length, Ratio, Rotation, Speed, Time, Voltage};
use crate::quantity::write_number;

const GROUP: &str = "Speed and pulses";
const FREQUENCY: Input = Input::quantity("frequency", "Frequency", Frequency, (0.0, 1e9));

const fn teeth(most: u32) -> Kind {
    Kind::Count { low: 1, high: most }
}

/// Speed of rotation from pulses.
pub(super) const PULSE_SPEED: Calculator = Calculator {
    name: "pulse-speed",
    title: "Pulses and speed of rotation",
    says: "the frequency of a toothed ring at a speed, or the speed at a frequency",
    group: GROUP,
    inputs: &[
        Input::of("teeth", "Tooth positions per turn", teeth(100_000), "")
            .says("count the gap's missing teeth too: 60 of a 60-2 ring")
            .needed(),
        Input::of(
            "missing",
            "Missing teeth",
            Kind::Count { low: 0, high: 1000 },
            "",
        )
        .default("0"),
        Input::quantity("speed", "Speed of rotation", Rotation, (0.0, 1e6))
            .says("give it, or the frequency"),
        FREQUENCY.says("counted over whole turns, as a meter does"),
    ],
    formula: "f = (teeth - missing) x rpm / 60\nfrom tooth to tooth: f = teeth x rpm / 60",
    source: "by definition",
    range: "from standstill to 1 000 000 rpm; a ring with a gap has two frequencies, the one a counter shows \
            over whole turns and the one between neighbouring teeth",
    example: &[("teeth", "60"), ("missing", "2"), ("speed", "1000 rpm")],
    work: pulse_speed,
};

/// Road speed from pulses.
pub(super) const WHEEL_SPEED: Calculator = Calculator {
    name: "wheel-speed",
    title: "Pulses and road speed",
    says: "the frequency of a wheel sensor at a road speed, or the speed at a frequency",
    group: GROUP,
    inputs: &[
        Input::quantity(
            "circumference",
            "Rolling circumference",
            Length,
            (1e-3, 100.0),
        )
        .says("one turn of the loaded wheel, on the ground")
        .needed(),
        Input::of("teeth", "Pulses per turn", teeth(100_000), "").needed(),
        Input::quantity("speed", "Road speed", Speed, (0.0, 1000.0))
            .says("give it, or the frequency"),
        FREQUENCY,
    ],
    formula: "f = v / circumference x pulses, v in m/s = km/h / 3.6",
    source: "by definition",
    range: "from standstill to 1000 m/s; tyre pressure, wear and load move the circumference by some percent",
    example: &[
        ("circumference", "1.95 m"),
        ("teeth", "48"),
        ("speed", "50 km/h"),
    ],
    work: wheel_speed,
};

/// Duty of a pulsed signal.
pub(super) const DUTY: Calculator = Calculator {
    name: "duty",
    title: "Duty",
    says: "what part of a period a signal is on, its frequency and its average voltage",
    group: GROUP,
    inputs: &[
        Input::quantity("on", "Time on", Time, (0.0, 1e6))
            .unit("ms")
            .needed(),
        Input::quantity("period", "Period", Time, (1e-9, 1e6))
            .says("give period, time off or frequency")
            .unit("ms"),
        Input::quantity("off", "Time off", Time, (0.0, 1e6)).unit("ms"),
        Input::quantity("frequency", "Frequency", Frequency, (1e-6, 1e9)),
        Input::of(
            "side",
            "On means",
            Kind::Choice(&[
                Alternative {
                    key: "high",
                    label: "the level is high",
                },
                Alternative {
                    key: "low",
                    label: "the level is low, as where ground is switched",
                },
            ]),
            "",
        )
        .says("say which side a duty is measured on: the other one is what is left to 100 %")
        .default("high"),
        Input::quantity("supply", "High level", Voltage, (0.0, 1e5)).default("12 V"),
    ],
    formula: "duty = on / period, f = 1 / period\naverage = duty of the high side x high level",
    source: "by definition",
    range: "0 to 100 %; a time on longer than the period is refused. The low level is taken as 0 V",
    example: &[("on", "2 ms"), ("period", "10 ms")],
    work: duty,
};

fn pulse_speed(given: &Given) -> Result<Answer, Refusal> {
    let (teeth, missing) = (given.need("teeth")?, given.need("missing")?);
    let pulses = teeth - missing;
    if pulses <= 0.0 {
        return Err(Refusal::of(
            "missing",
            "no tooth would be left",
            "type fewer missing teeth than positions",
        ));
    }
    let (rpm, hertz) = match given.one_of(&["speed", "frequency"])? {
        ("speed", rpm) => (rpm, pulses * rpm / 60.0),
        (_, hertz) => (hertz * 60.0 / pulses, hertz),
    };
    let mut answer = Answer::default();
    answer.quantity("frequency", "Frequency over whole turns", hertz, Frequency);
    answer.quantity("speed", "Speed of rotation", rpm, Rotation);
    answer.quantity(
        "tooth-frequency",
        "Frequency from tooth to tooth",
        teeth * rpm / 60.0,
        Frequency,
    );
    answer.step(format!(
        "f = {} x {} / 60 = {}",
        write_number(pulses),
        shown(rpm, Rotation),
        shown(hertz, Frequency)
    ));
    Ok(answer)
}

fn wheel_speed(given: &Given) -> Result<Answer, Refusal> {
    let (circumference, teeth) = (given.need("circumference")?, given.need("teeth")?);
    let (speed, hertz) = match given.one_of(&["speed", "frequency"])? {
        ("speed", speed) => (speed, speed / circumference * teeth),
        (_, hertz) => (hertz * circumference / teeth, hertz),
    };
    let mut answer = Answer::default();
    answer.quantity("frequency", "Frequency", hertz, Frequency);
    answer.quantity("speed", "Road speed", speed, Speed);
    answer.quantity(
        "turns",
        "Turns of the wheel",
        speed / circumference * 60.0,
        Rotation,
    );
    answer.step(format!(
        "f = {} / {} x {} = {}",
        shown(speed, Speed),
        shown(circumference, Length),
        write_number(teeth),
        shown(hertz, Frequency)
    ));
    Ok(answer)
}

fn duty(given: &Given) -> Result<Answer, Refusal> {
    let on = given.need("on")?;
    let (key, period) = match given.one_of(&["period", "off", "frequency"])? {
        ("off", off) => ("off", on + off),
        ("frequency", hertz) => ("frequency", 1.0 / hertz),
        (key, period) => (key, period),
    };
    if period <= 0.0 || on > period * (1.0 + 1e-12) {
        return Err(Refusal::of(
            key,
            format!(
                "the time on of {} does not fit into a period of {}",
                shown(on, Time),
                shown(period, Time)
            ),
            "check both times",
        ));
    }
    let duty = (on / period).min(1.0);
    let high = match given.choice("side") {
        "low" => 1.0 - duty,
        _ => duty,
    };
    let supply = given.need("supply")?;
    let mut answer = Answer::default();
    answer.quantity("duty", "Duty", duty, Ratio);
    answer.quantity("other-side", "Duty of the other side", 1.0 - duty, Ratio);
    answer.quantity("frequency", "Frequency", 1.0 / period, Frequency);
    answer.quantity("average", "Average voltage", high * supply, Voltage);
    answer.step(format!(
        "duty = {} / {} = {}",
        shown(on, Time),
        shown(period, Time),
        shown(duty, Ratio)
    ));
    answer.step(format!(
        "average = {} x {} = {}",
        shown(high, Ratio),
        shown(supply, Voltage),
        shown(high * supply, Voltage)
    ));
    Ok(answer)
}
