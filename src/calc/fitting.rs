//! Standard sizes that keep a drop within its limit.
//!
//! In: a standard and the largest resistance per length. Out: sizes, thinnest first.

use super::cable::copper_only;
use super::conductor::Metal;
use super::given::Given;
use super::shape::Refusal;
use super::sizes::Standard;
use crate::quantity::Dimension::Area;
use crate::quantity::read_quantity;

/// A size that keeps a cable's drop within a limit.
pub(super) struct Fitting {
    /// As people order it: `4 mm2`.
    pub(super) says: String,
    /// Ohm per metre at the temperature.
    pub(super) per_metre: f64,
}

/// The thinnest standard sizes whose resistance per metre is at most this, thinnest first. Sizes that
/// no text confirms are left out.
pub(super) fn fitting(
    standard: Standard,
    is_gauge: bool,
    (metal, factor): (Metal, f64),
    most: f64,
) -> Vec<Fitting> {
    if standard != Standard::Solid {
        return standard
            .sizes()
            .iter()
            .filter(|row| row.is_confirmed)
            .map(|row| Fitting {
                says: format!("{} mm2", row.mm2),
                per_metre: row.ohm_per_km * 1e-3 * factor,
            })
            .filter(|one| one.per_metre <= most)
            .collect();
    }
    let names: Vec<String> = match is_gauge {
        true => gauges(),
        false => Standard::Iec60228
            .sizes()
            .iter()
            .map(|row| format!("{} mm2", row.mm2))
            .collect(),
    };
    let sized = names.into_iter().filter_map(|says| {
        let area = read_quantity(&says, Area).ok()?.number;
        let per_metre = metal.resistivity() / area * factor;
        Some(Fitting { says, per_metre })
    });
    sized.filter(|one| one.per_metre <= most).collect()
}

/// 40 AWG to 4/0 AWG, thinnest first.
fn gauges() -> Vec<String> {
    let plain = (1..=40).rev().map(|gauge| format!("{gauge} AWG"));
    let thick = (1..=4).map(|zeros| format!("{zeros}/0 AWG"));
    plain.chain(thick).collect()
}

/// The standard whose sizes are proposed, and whether by gauge.
pub(super) fn family(given: &Given, metal: Metal) -> Result<(Standard, bool), Refusal> {
    let is_gauge = given.size("size").is_ok_and(|size| size.is_gauge);
    let chosen = Standard::named(given.choice("standard"));
    match (metal, chosen) {
        (Metal::Aluminium, Some(Standard::Solid) | None) => Ok((Standard::Solid, is_gauge)),
        (Metal::Aluminium, Some(_)) => Err(copper_only()),
        (Metal::Copper, Some(standard)) => Ok((standard, is_gauge)),
        (Metal::Copper, None) => Ok((super::cable::standard(given, is_gauge), is_gauge)),
    }
}
