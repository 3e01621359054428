//! How far a meter's reading may be off: percent of reading and counts.
//!
//! In: a reading, the meter's specification. Out: the interval the true value lies in.

use super::given::Given;
use super::shape::{Answer, Calculator, Input, Kind, Refusal, Value, shown};
use crate::quantity::Dimension::{
    Current, Frequency, Length, Pressure, Ratio, Resistance, Temperature, Time, Voltage,
};
use crate::quantity::{Dimension, Interval, read_quantity, write_number};

const READ: &[Dimension] = &[
    Voltage,
    Resistance,
    Current,
    Frequency,
    Pressure,
    Temperature,
    Ratio,
    Time,
    Length,
];

/// Accuracy of a reading.
pub(super) const METER_ACCURACY: Calculator = Calculator {
    name: "meter-accuracy",
    title: "Meter accuracy",
    says: "the interval a true value lies in, from a reading and the meter's ± (percent of reading + counts)",
    group: "Dividers and meters",
    inputs: &[
        Input::any("reading", "Reading", READ, (-1e9, 1e12))
            .says("with all digits the meter shows: 4.80 V")
            .needed(),
        Input::quantity("percent", "Percent of reading", Ratio, (0.0, 1.0)).default("0.5 %"),
        Input::of(
            "counts",
            "Counts",
            Kind::Count {
                low: 0,
                high: 100_000,
            },
            "",
        )
        .default("2"),
        Input::any("resolution", "One count", READ, (1e-12, 1e9))
            .says("without it the last digit of the reading"),
    ],
    formula: "± = |reading| x percent + counts x one count",
    source: "± (% of reading + counts), as meters are specified",
    range: "any reading; the specification of the range used, at the temperature stated for it. 0.5 % + 2 is \
            a usual handheld meter (common practice, no source)",
    example: &[("reading", "4.80 V"), ("percent", "0.5 %"), ("counts", "2")],
    work,
};

fn work(given: &Given) -> Result<Answer, Refusal> {
    let reading = given.need_quantity("reading")?;
    let (percent, counts) = (given.need("percent")?, given.need("counts")?);
    let dimension = reading.dimension;
    let count = match given.quantity("resolution") {
        Some(count) if count.dimension == dimension => count.number,
        Some(_) => {
            return Err(Refusal::of(
                "resolution",
                format!("one count is not {}", dimension.name()),
                "type it in the unit of the reading",
            ));
        }
        None => last_digit(given.text("reading"), dimension).ok_or_else(|| {
            Refusal::of(
                "resolution",
                "the last digit of the reading can't be told",
                "type one count, such as 0.01 V",
            )
        })?,
    };
    let by = reading.number.abs() * percent + counts * count;
    let band = Interval {
        low: reading.number - by,
        high: reading.number + by,
    };
    let mut answer = Answer::default();
    let span = dimension.of_difference();
    answer.result("band", "True value", Value::Band(band, dimension));
    answer.quantity("by", "Give or take", by, span);
    answer.quantity("count", "One count", count, span);
    answer.step(format!(
        "± = {} x {} + {} x {} = {}",
        shown(reading.number.abs(), dimension),
        shown(percent, Ratio),
        write_number(counts),
        shown(count, span),
        shown(by, span)
    ));
    answer.note("the meter's own book comes first: each range has its own percent and counts");
    Ok(answer)
}

/// One in the last digit of a reading as typed: 0.01 V of `4.80 V`. None for other ways of writing.
fn last_digit(text: &str, dimension: Dimension) -> Option<f64> {
    let end = text
        .find(|letter: char| {
            !(letter.is_ascii_digit() || matches!(letter, '.' | ',' | '-' | '+' | '\u{2212}'))
        })
        .unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    let last = number.rfind(|letter: char| letter.is_ascii_digit())?;
    let ones: String = number
        .char_indices()
        .filter(|(_, letter)| letter.is_ascii_digit() || matches!(letter, '.' | ','))
        .map(|(at, letter)| match letter {
            '.' | ',' => '.',
            _ if at == last => '1',
            _ => '0',
        })
        .collect();
    // A step of a scale is a difference: no offset of Fahrenheit or kelvin in it.
    let count = read_quantity(&format!("{ones}{unit}"), dimension.of_difference()).ok()?;
    (count.number > 0.0).then_some(count.number)
}
