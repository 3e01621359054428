//! The least conductor for a limit, the longest run of one, and the resistance of one.
//!
//! In: current, length or conductor, way back. Out: areas and standard sizes; metres; ohms.

use super::cable::{self, Loop};
use super::given::Given;
use super::limit;
use super::shape::{Answer, Calculator, Input, Refusal, shown};
use super::voltage_drop::{tell_run, tell_size};
use crate::quantity::Dimension::{Area, Current, Length, Resistance, ResistancePerLength, Voltage};
use crate::quantity::maths;

/// Whose limit the default is.
const PRACTICE: &str = "common practice for a whole power circuit at full load (0.5 V, or 3 to 5 % of \
    the supply), no standard";

const OTHER: Input = Input::any("other", "All other parts", cable::OHMS_OR_VOLTS, (0.0, 1e5))
    .says("contacts, splices, switch and ground path together: ohms, or volts");

/// The least size for a drop.
pub(super) const WIRE_SIZE: Calculator = Calculator {
    name: "wire-size",
    title: "Least wire size for a drop",
    says: "the least conductor that keeps a limit, the standard size for it and the next one up",
    group: "Wires",
    inputs: &[
        cable::CURRENT,
        cable::LENGTH,
        cable::RETURN,
        cable::STANDARD,
        cable::METAL,
        cable::TEMPERATURE,
        OTHER,
        cable::SUPPLY,
        limit::LIMIT,
        limit::WHOSE,
    ],
    formula: "A = rho L k I / (limit - other parts), rho at the temperature\n\
              k = 2 with the way back by wire, 1 through the body",
    source: cable::SOURCE,
    range: "direct current; standard sizes from 0.5 or 1 to 120 mm2, of which only those are proposed \
            that a text confirms; where the other parts take the whole limit there is no size",
    example: &[("current", "10 A"), ("length", "5 m"), ("return", "wire")],
    work: least_size,
};

/// The longest run of a cable.
pub(super) const WIRE_RUN: Calculator = Calculator {
    name: "wire-run",
    title: "Longest run of a cable",
    says: "how far a cable may carry a current within a limit of drop",
    group: "Wires",
    inputs: &[
        cable::CURRENT,
        cable::SIZE,
        cable::RETURN,
        cable::STANDARD,
        cable::METAL,
        cable::TEMPERATURE,
        cable::PER_LENGTH,
        OTHER,
        cable::SUPPLY,
        limit::LIMIT,
        limit::WHOSE,
    ],
    formula: "L = (limit - other parts) / (I R' k)\n\
              R' at the temperature; k = 2 with the way back by wire, 1 through the body",
    source: cable::SOURCE,
    range: "direct current; one way, -100 to 300 C; where the other parts take the whole limit there \
            is no run",
    example: &[
        ("current", "5 A"),
        ("size", "16 AWG"),
        ("return", "wire"),
        ("limit", "3 %"),
    ],
    work: longest_run,
};

/// The resistance of a conductor.
pub(super) const WIRE_RESISTANCE: Calculator = Calculator {
    name: "wire-resistance",
    title: "Resistance of a wire",
    says: "what a conductor of this size and length has, and what a gauge is in mm2",
    group: "Wires",
    inputs: &[
        cable::SIZE.needed(),
        Input {
            needed: false,
            ..cable::LENGTH
        }
        .default("1 m"),
        cable::STANDARD,
        cable::METAL,
        cable::TEMPERATURE,
    ],
    formula: "R = R' L, R' = rho20 / A x (1 + 0.00393 (t - 20)) for solid copper, or the largest a \
              standard allows at 20 C\nd = 0.127 mm x 92^((36 - n) / 39) for gauge n",
    source: cable::SOURCE,
    range: "0.001 to 1000 mm2, 40 AWG to 4/0 AWG, -100 to 300 C. An ohmmeter is no proof of a cable: it \
            passes one strand of fifty; measure the drop under load",
    example: &[("size", "20 AWG"), ("length", "3 m")],
    work: resistance,
};

fn least_size(given: &Given) -> Result<Answer, Refusal> {
    let supply = given.need("supply")?;
    let run = Loop::of(given)?;
    let limit = limit::limit(given, supply, PRACTICE)?;
    let other = cable::part(given, "other", run.current);
    limit::can_flow(other, supply)?;
    let mut answer = Answer::default();
    tell_size(
        &mut answer,
        given,
        &run,
        given.need("length")?,
        limit.volts - other,
    )?;
    answer.note(limit.note);
    answer
        .note("a solid conductor is meant by the least area; the standard size allows for strands");
    answer.note(cable::NOT_HEAT);
    Ok(answer)
}

fn longest_run(given: &Given) -> Result<Answer, Refusal> {
    let supply = given.need("supply")?;
    let run = Loop::of(given)?;
    let cable = cable::cable(given)?;
    let limit = limit::limit(given, supply, PRACTICE)?;
    let other = cable::part(given, "other", run.current);
    limit::can_flow(other, supply)?;
    let room = limit.volts - other;
    let mut answer = Answer::default();
    tell_run(&mut answer, &cable, &run, room);
    answer.quantity("room", "Drop left for the cable", room.max(0.0), Voltage);
    answer.step(cable.step());
    answer.step(format!(
        "L = ({} - {}) / ({} x {} x {})",
        shown(limit.volts, Voltage),
        shown(other, Voltage),
        shown(run.current, Current),
        shown(cable.per_metre, ResistancePerLength),
        run.ways
    ));
    answer.notes.extend(cable.notes);
    answer.note(limit.note);
    answer.note(cable::NOT_HEAT);
    Ok(answer)
}

fn resistance(given: &Given) -> Result<Answer, Refusal> {
    let cable = cable::cable(given)?;
    let size = given.size("size")?;
    let length = given.need("length")?;
    let ohms = cable.per_metre * length;
    let mut answer = Answer::default();
    answer.quantity("resistance", "Resistance", ohms, Resistance);
    answer.quantity(
        "per-length",
        "Per length",
        cable.per_metre,
        ResistancePerLength,
    );
    answer.quantity("area", "Area", size.area, Area);
    if size.is_gauge {
        let diameter = maths::sqrt(size.area * 4.0 / std::f64::consts::PI);
        answer.quantity("diameter", "Diameter, solid", diameter, Length);
    }
    answer.step(cable.step());
    answer.step(format!(
        "R = {} x {} = {}",
        shown(cable.per_metre, ResistancePerLength),
        shown(length, Length),
        shown(ohms, Resistance)
    ));
    answer.notes.extend(cable.notes);
    Ok(answer)
}
