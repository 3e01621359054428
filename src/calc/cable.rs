//! A cable as the calculators of wires ask for it: size, standard, metal, temperature.
//!
//! In: the values given. Out: ohms per metre with what to say about them.

use super::conductor::Metal;
use super::given::Given;
use super::shape::{Alternative, Input, Kind, Refusal, shown};
use super::sizes::Standard;
use crate::quantity::Dimension::{Current, Length, ResistancePerLength, Temperature, Voltage};
use crate::quantity::{Dimension, write_number};

pub(super) const CURRENT: Input =
    Input::quantity("current", "Current", Current, (1e-9, 1e5)).needed();
pub(super) const LENGTH: Input = Input::quantity("length", "Length, one way", Length, (1e-3, 1e6))
    .says("from the source to the load, not there and back")
    .needed();
pub(super) const SIZE: Input = Input::of("size", "Conductor", Kind::WireSize, "")
    .says("an area such as 2.5 mm2, or a gauge such as 14 AWG; always with its unit");
pub(super) const PER_LENGTH: Input = Input::quantity(
    "per-length",
    "Resistance per length",
    ResistancePerLength,
    (1e-9, 1e6),
)
.says("instead of the conductor, where you know it at the temperature it has");
pub(super) const RETURN: Input = Input::of(
    "return",
    "Way back",
    Kind::Choice(&[
        Alternative {
            key: "wire",
            label: "by a wire of the same length and size",
        },
        Alternative {
            key: "body",
            label: "through the body, frame or hull; give what it drops as ground",
        },
    ]),
    "",
)
.needed();
pub(super) const STANDARD: Input = Input::of(
    "standard",
    "Whose sizes",
    Kind::Choice(&[
        Alternative {
            key: "iso-6722",
            label: "ISO 6722, road vehicle cable",
        },
        Alternative {
            key: "iec-60228",
            label: "IEC 60228 class 5, flexible, plain copper",
        },
        Alternative {
            key: "iec-60228-tinned",
            label: "IEC 60228 class 5, flexible, tinned copper",
        },
        Alternative {
            key: "solid",
            label: "solid conductor by its area; gauges by ASTM B258",
        },
    ]),
    "",
)
.says("without it a gauge is taken as solid and an area as ISO 6722");
pub(super) const METAL: Input = Input::of(
    "metal",
    "Metal",
    Kind::Choice(&[
        Alternative {
            key: "copper",
            label: "copper",
        },
        Alternative {
            key: "aluminium",
            label: "aluminium, solid only",
        },
    ]),
    "",
)
.default("copper");
pub(super) const TEMPERATURE: Input = Input::quantity(
    "temperature",
    "Temperature of the conductor",
    Temperature,
    (-100.0, 300.0),
)
.default("20 C");
pub(super) const SUPPLY: Input =
    Input::quantity("supply", "Supply", Voltage, (1e-3, 1e5)).default("12 V");
/// Source of all calculators of wires.
pub(super) const SOURCE: &str = "Ohm's law; copper 1/58 ohm mm2/m at 20 C, 0.00393 per K (IACS, \
    IEC 60028); aluminium after FAA AC 43.13-1B 11-66; gauges ASTM B258; sizes ISO 6722 or IEC 60228 \
    table 3, largest resistance allowed";

/// What no calculator of drop says.
pub(super) const NOT_HEAT: &str = "a drop within its limit says nothing about heat: the current a \
    cable and its fuse may carry is a question of its own, answered by the rules that hold for the job";

/// A conductor with its resistance.
pub(super) struct Cable {
    /// Ohm per metre at its temperature.
    pub(super) per_metre: f64,
    /// Ohm per metre at 20 °C.
    pub(super) cold: f64,
    /// Multiple of the resistance at 20 °C.
    pub(super) factor: f64,
    /// Square metres, where the conductor is known.
    pub(super) area: Option<f64>,
    /// As it stands in steps: `2.5 mm2 (ISO 6722)`.
    pub(super) says: String,
    /// What to say about it.
    pub(super) notes: Vec<String>,
}

/// The metal and how much warmer it makes the resistance.
pub(super) fn metal(given: &Given) -> Result<(Metal, f64), Refusal> {
    let metal = match given.choice("metal") {
        "aluminium" => Metal::Aluminium,
        _ => Metal::Copper,
    };
    let factor = metal.at(given.need("temperature")?);
    match factor > 0.0 {
        true => Ok((metal, factor)),
        false => Err(Refusal::of(
            "temperature",
            "the straight line of resistance over temperature does not reach so low",
            "type a temperature above -100 C",
        )),
    }
}

/// The cable given by its size, or by its resistance per length.
pub(super) fn cable(given: &Given) -> Result<Cable, Refusal> {
    match (given.get("per-length"), given.text("size")) {
        (None, "") => Err(Refusal::of(
            "size",
            "the conductor is needed, or its resistance per length",
            "type a size such as 2.5 mm2 or 14 AWG",
        )),
        (Some(per_metre), "") => Ok(Cable {
            per_metre,
            cold: per_metre,
            factor: 1.0,
            area: None,
            says: shown(per_metre, ResistancePerLength),
            notes: vec![
                "the resistance per length is taken as typed, whatever the temperature".into(),
            ],
        }),
        (Some(_), _) => Err(Refusal::of(
            "per-length",
            "`size` and `per-length` are both given",
            "leave one of them empty",
        )),
        (None, _) => by_size(given),
    }
}

/// The standard meant: as chosen, else solid for a gauge and ISO 6722 for an area.
pub(super) fn standard(given: &Given, is_gauge: bool) -> Standard {
    Standard::named(given.choice("standard")).unwrap_or(match is_gauge {
        true => Standard::Solid,
        false => Standard::Iso6722,
    })
}

fn by_size(given: &Given) -> Result<Cable, Refusal> {
    let size = given.size("size")?;
    let (metal, factor) = metal(given)?;
    let chosen = given.is_typed("standard");
    let standard = match (metal, chosen) {
        (Metal::Aluminium, false) => Standard::Solid,
        _ => standard(given, size.is_gauge),
    };
    if metal == Metal::Aluminium && standard != Standard::Solid {
        return Err(copper_only());
    }
    let mut notes = Vec::new();
    let cold = match standard {
        Standard::Solid => {
            notes.push(
                "solid conductor; a stranded one of the same area is 2 to 16 % higher".into(),
            );
            metal.resistivity() / size.area
        }
        table => {
            let Some(row) = table.size(size.area) else {
                return Err(no_size(table, size.area, &size.text));
            };
            if !row.is_confirmed {
                notes.push(not_confirmed(&size.text));
            }
            row.ohm_per_km * 1e-3
        }
    };
    if metal == Metal::Aluminium {
        notes.push("aluminium's resistivity is from memory of IEC 60889, not confirmed".into());
    }
    let standard_says = match (size.is_gauge, standard) {
        (true, Standard::Solid) => "solid, ASTM B258",
        (_, standard) => standard.title(),
    };
    Ok(Cable {
        per_metre: cold * factor,
        cold,
        factor,
        area: Some(size.area),
        says: format!("{} ({standard_says})", size.text),
        notes,
    })
}

pub(super) fn copper_only() -> Refusal {
    Refusal::of(
        "standard",
        "the tables of ISO 6722 and IEC 60228 here are of copper",
        "take standard solid for aluminium",
    )
}

/// What stands beside a size whose value no text confirms.
pub(super) fn not_confirmed(size: &str) -> String {
    format!(
        "the resistance of {size} is from memory of ISO 6722-1, not confirmed: check it against the \
         standard before relying on it"
    )
}

fn no_size(standard: Standard, area: f64, text: &str) -> Refusal {
    let mm2 = area * 1e6;
    let below = standard.sizes().iter().rev().find(|row| row.mm2 < mm2);
    let above = standard.sizes().iter().find(|row| row.mm2 > mm2);
    let near: Vec<String> = [below, above]
        .into_iter()
        .flatten()
        .map(|row| format!("{} mm2", row.mm2))
        .collect();
    Refusal::of(
        "size",
        format!("`{text}` is no size of {}", standard.title()),
        format!("take {}, or standard solid for any area", near.join(" or ")),
    )
}

/// A current and how often it runs the length of the cable.
pub(super) struct Loop {
    /// Ampere.
    pub(super) current: f64,
    /// 2 with the way back by wire, 1 through the body.
    pub(super) ways: f64,
}

impl Loop {
    /// The loop given.
    pub(super) fn of(given: &Given) -> Result<Loop, Refusal> {
        Ok(Loop {
            current: given.need("current")?,
            ways: match given.choice("return") {
                "wire" => 2.0,
                _ => 1.0,
            },
        })
    }
}

impl Cable {
    /// The resistance per length with its numbers put in.
    pub(super) fn step(&self) -> String {
        let warm = shown(self.per_metre, ResistancePerLength);
        match self.area {
            None => format!("R' = {warm}"),
            Some(_) => format!(
                "R' of {} = {} x {} = {warm}",
                self.says,
                shown(self.cold, ResistancePerLength),
                write_number(self.factor)
            ),
        }
    }
}

/// Volts that a part given in ohms or in volts takes at a current, none where nothing is given.
pub(super) fn part(given: &Given, key: &str, current: f64) -> f64 {
    given
        .quantity(key)
        .map_or(0.0, |part| match part.dimension {
            Voltage => part.number,
            _ => part.number * current,
        })
}

/// Dimensions of a part that is given by its resistance or by what it drops.
pub(super) const OHMS_OR_VOLTS: &[Dimension] = &[Dimension::Resistance, Voltage];
