//! The limit of a drop, and whose it is.
//!
//! In: the values given. Out: volts with a word of whose limit they are, a verdict.

use super::given::Given;
use super::shape::{Input, Kind, Refusal, shown};
use crate::quantity::Dimension::{Ratio, Voltage};

pub(super) const LIMIT: Input = Input::any(
    "limit",
    "Largest acceptable drop",
    &[Voltage, Ratio],
    (1e-6, 1e4),
)
.says("volts, or percent of the supply")
.default("0.5 V");
pub(super) const WHOSE: Input =
    Input::of("whose", "Whose limit it is", Kind::Words(80), "").says("stands beside the answer");

/// A limit of the drop.
pub(super) struct Limit {
    /// Volts.
    pub(super) volts: f64,
    /// Whose it is, as a note.
    pub(super) note: String,
}

/// The limit given, of the supply given.
pub(super) fn limit(given: &Given, supply: f64, practice: &str) -> Result<Limit, Refusal> {
    let limit = given.need_quantity("limit")?;
    let volts = match limit.dimension {
        Ratio => limit.number * supply,
        _ => limit.number,
    };
    if volts > supply {
        return Err(Refusal::of(
            "limit",
            format!(
                "the limit of {} is more than the supply of {}",
                shown(volts, Voltage),
                shown(supply, Voltage)
            ),
            "type a limit such as 0.5 V or 3 %",
        ));
    }
    let whose = match (given.text("whose"), given.is_typed("limit")) {
        ("", false) => practice.to_owned(),
        ("", true) => "as typed".to_owned(),
        (whose, _) => whose.to_owned(),
    };
    let note = format!("the limit of {} is: {whose}", shown(volts, Voltage));
    Ok(Limit { volts, note })
}

/// Whether a drop keeps a limit.
pub(super) fn verdict(drop: f64, limit: &Limit) -> String {
    let (spare, volts) = (limit.volts - drop, shown(limit.volts, Voltage));
    match spare >= 0.0 {
        true => format!("within the limit of {volts}"),
        false => format!("over the limit of {volts} by {}", shown(-spare, Voltage)),
    }
}

/// Refused where a drop would be more than the supply has.
pub(super) fn can_flow(drop: f64, supply: f64) -> Result<(), Refusal> {
    if drop < supply {
        return Ok(());
    }
    Err(Refusal::of(
        "current",
        format!(
            "the drop would be {}, and the supply has {}: this current can't flow here",
            shown(drop, Voltage),
            shown(supply, Voltage)
        ),
        "check current, length and conductor",
    ))
}
