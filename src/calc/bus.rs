//! Buses: termination, levels, and the pulses of SENT.
//!
//! In: resistors, supply, ticks. Out: ohms and what they tell, volts, seconds.

use super::given::Given;
use super::shape::{Alternative, Answer, Calculator, Input, Kind, Refusal, Value, shown};
use crate::quantity::Dimension::{Resistance, Time, Voltage};
use crate::quantity::{Interval, write_number};

const GROUP: &str = "Loops and buses";

/// Resistance of a terminated pair.
pub(super) const BUS_TERMINATION: Calculator = Calculator {
    name: "bus-termination",
    title: "Bus termination",
    says: "what a pair reads with some terminators, and what a reading tells",
    group: GROUP,
    inputs: &[
        Input::quantity("each", "Each terminator", Resistance, (1.0, 1e6)).default("120 ohm"),
        Input::of(
            "terminators",
            "Terminators in place",
            Kind::Count { low: 1, high: 100 },
            "",
        )
        .says("give them, or the reading"),
        Input::quantity("reading", "Reading across the pair", Resistance, (0.0, 1e9))
            .says("battery off or the bus asleep"),
    ],
    formula: "R = R_each / n",
    source: "ISO 11898-2 (120 ohm at each end); a sound pair of two reads 55 to 65 ohm (common practice)",
    range: "1 to 100 terminators; readings are told with 10 % to each side (no source), and a reading that is \
            no number of terminators is said to be so",
    example: &[("reading", "121 ohm")],
    work: termination,
};

/// Levels of a bus line.
pub(super) const BUS_LEVELS: Calculator = Calculator {
    name: "bus-levels",
    title: "Bus levels",
    says: "which volts a bus line has in each state, and from where a receiver takes which state",
    group: GROUP,
    inputs: &[
        Input::of(
            "bus",
            "Bus",
            Kind::Choice(&[
                Alternative {
                    key: "can",
                    label: "CAN high speed",
                },
                Alternative {
                    key: "k-line",
                    label: "K-line",
                },
                Alternative {
                    key: "lin",
                    label: "LIN",
                },
            ]),
            "",
        )
        .needed(),
        Input::quantity("supply", "Supply", Voltage, (1.0, 60.0))
            .says("K-line and LIN levels follow it")
            .default("12 V"),
    ],
    formula: "K-line: sends below 20 % and above 80 % of the supply, takes below 30 % and above 70 %\n\
              LIN: takes below 40 % as dominant and above 60 % as recessive; recessive is high",
    source: "ISO 11898-2; ISO 14230-1 and ISO 9141-2; ISO 17987-4 and LIN 2.2A",
    range: "levels of a sound bus, slow enough for a meter or on a scope; a meter's average of a busy bus lies \
            between the states",
    example: &[("bus", "lin"), ("supply", "12 V")],
    work: levels,
};

/// Length of a SENT nibble.
pub(super) const SENT_PULSE: Calculator = Calculator {
    name: "sent-pulse",
    title: "SENT pulses",
    says: "how long a nibble and the sync pulse of a SENT signal are",
    group: GROUP,
    inputs: &[
        Input::quantity("tick", "Tick", Time, (3e-6, 90e-6))
            .unit("µs")
            .default("3 µs"),
        Input::of(
            "nibble",
            "Value of the nibble",
            Kind::Count { low: 0, high: 15 },
            "",
        )
        .needed(),
    ],
    formula: "nibble = (12 + value) ticks, sync = 56 ticks",
    source: "SAE J2716",
    range: "ticks of 3 to 90 µs, values of 0 to 15",
    example: &[("tick", "3 µs"), ("nibble", "5")],
    work: sent,
};

fn termination(given: &Given) -> Result<Answer, Refusal> {
    let each = given.need("each")?;
    let mut answer = Answer::default();
    match given.one_of(&["terminators", "reading"])? {
        ("terminators", count) => {
            answer.quantity("resistance", "Across the pair", each / count, Resistance);
            answer.step(format!(
                "R = {} / {} = {}",
                shown(each, Resistance),
                write_number(count),
                shown(each / count, Resistance)
            ));
            answer.words("tells", "It tells", tells(each, each / count));
        }
        (_, reading) => {
            answer.words("tells", "It tells", tells(each, reading));
            answer.quantity("sound", "A sound pair has", each / 2.0, Resistance);
            answer.step(format!(
                "{} / {} = {} sound",
                shown(each, Resistance),
                2,
                shown(each / 2.0, Resistance)
            ));
        }
    }
    answer.note("measure with the battery off or the bus asleep: a working bus gives any reading");
    Ok(answer)
}

fn tells(each: f64, reading: f64) -> String {
    let near = |count: f64| (reading * count / each - 1.0).abs() <= 0.1;
    if reading < each * 0.05 {
        return "the two wires are shorted together".into();
    }
    if reading > each * 2.0 {
        return "no terminator is reached: both are missing, or the pair is open before them"
            .into();
    }
    match (1..=4_u8).find(|count| near(f64::from(*count))) {
        Some(1) => "one terminator is missing, or a wire is open on the way to it".into(),
        Some(2) => "two terminators: as it should be".into(),
        Some(count) => format!("{count} terminators, and two belong there"),
        None => {
            "no whole number of terminators: look for a wrong resistor, a leak or a bad contact"
                .into()
        }
    }
}

fn levels(given: &Given) -> Result<Answer, Refusal> {
    let supply = given.need("supply")?;
    let mut answer = Answer::default();
    match given.choice("bus") {
        "can" => can_levels(&mut answer),
        "k-line" => {
            let at = [
                ("send-low", "Sends low below", 0.2),
                ("send-high", "Sends high above", 0.8),
                ("take-low", "Taken as low below", 0.3),
                ("take-high", "Taken as high above", 0.7),
                ("idle", "Idle, near", 1.0),
            ];
            parts_of(&mut answer, supply, &at);
        }
        _ => {
            let at = [
                ("take-dominant", "Taken as dominant (low) below", 0.4),
                ("take-recessive", "Taken as recessive (high) above", 0.6),
                ("centre", "Centre", 0.5),
                ("idle", "Idle (recessive), near", 1.0),
            ];
            parts_of(&mut answer, supply, &at);
        }
    }
    Ok(answer)
}

fn parts_of(answer: &mut Answer, supply: f64, at: &[(&'static str, &'static str, f64)]) {
    for (key, label, part) in at {
        let volts = supply * part;
        answer.quantity(key, label, volts, Voltage);
        answer.step(format!(
            "{} x {} % = {}",
            shown(supply, Voltage),
            write_number(part * 100.0),
            shown(volts, Voltage)
        ));
    }
}

fn can_levels(answer: &mut Answer) {
    let nominal = [
        ("recessive", "Recessive, both lines", 2.5, (2.0, 3.0)),
        ("high-dominant", "High line, dominant", 3.5, (2.75, 4.5)),
        ("low-dominant", "Low line, dominant", 1.5, (0.5, 2.25)),
        (
            "difference-dominant",
            "Difference, dominant",
            2.0,
            (1.5, 3.0),
        ),
    ];
    let bands = [
        "recessive-band",
        "high-dominant-band",
        "low-dominant-band",
        "difference-dominant-band",
    ];
    for ((key, label, volts, (low, high)), band) in nominal.into_iter().zip(bands) {
        answer.quantity(key, label, volts, Voltage);
        let limits = Value::Band(Interval { low, high }, Voltage);
        answer.result(band, &format!("{label}: limits, not confirmed"), limits);
    }
    answer.quantity(
        "take-recessive",
        "Difference taken as recessive up to",
        0.5,
        Voltage,
    );
    answer.quantity(
        "take-dominant",
        "Difference taken as dominant from",
        0.9,
        Voltage,
    );
    answer.step("fixed levels, whatever the supply");
    answer
        .note("the limits around the nominal levels are from memory of ISO 11898-2, not confirmed");
}

fn sent(given: &Given) -> Result<Answer, Refusal> {
    let (tick, nibble) = (given.need("tick")?, given.need("nibble")?);
    let mut answer = Answer::default();
    answer.result("ticks", "Ticks of the nibble", Value::Number(12.0 + nibble));
    answer.quantity(
        "nibble",
        "Length of the nibble",
        (12.0 + nibble) * tick,
        Time,
    );
    answer.quantity("sync", "Length of the sync pulse", 56.0 * tick, Time);
    answer.step(format!(
        "(12 + {}) x {} = {}",
        write_number(nibble),
        shown(tick, Time),
        shown((12.0 + nibble) * tick, Time)
    ));
    Ok(answer)
}
