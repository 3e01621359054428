//! What a scan tool shows in degrees, back as volts at the pin: many tools show a temperature where the module reads volts.
//!
//! In: a circuit whose part follows temperature by a curve. Out: volts by temperature, all parts nominal, as the module
//! itself turns volts into degrees; and a shown temperature as a stretch of volts. Never: a guess where there is no curve.

use super::states::resistance;
use crate::card::Curve;
use crate::circuit::{HookUp, Network, Observe, Reading, band};

/// The scale that is worked out, C, and its step.
const SCALE: std::ops::RangeInclusive<i32> = -8..=30;
const STEP: f64 = 5.0;
/// Within this part of full scale from either end a tool may stop short of what the pin does (common practice,
/// no source): what it shows there means that far or further.
const END: f64 = 0.05;

/// Celsius and volts, rising; empty where the circuit shows no temperature.
pub(super) fn shown<'h>(
    network: &Network,
    hookups: impl IntoIterator<Item = &'h HookUp>,
    curve: Option<&Curve>,
) -> Vec<(f64, f64)> {
    let (mut working, mut scanned) = (None, None);
    for hookup in hookups {
        if hookup.setting.overrides.len() != 1 {
            return Vec::new();
        }
        if hookup.mated && hookup.powered && hookup.links.is_empty() {
            working = working.or(Some(hookup));
        }
        if matches!(hookup.observe, Observe::Scan { .. }) {
            scanned = scanned.or(Some(&hookup.observe));
        }
    }
    let (Some(curve), Some(working), Some(observe)) = (curve, working, scanned) else {
        return Vec::new();
    };
    let volts = |step: i32| {
        let celsius = f64::from(step) * STEP;
        let mut hookup = HookUp {
            observe: observe.clone(),
            ..working.clone()
        };
        hookup.setting.overrides[0].1 = resistance(curve, celsius)?;
        match band::band(network, &hookup).ok()?.nominal? {
            Reading::Value(volts) => Some((celsius, volts)),
            _ => None,
        }
    };
    SCALE.filter_map(volts).collect()
}

/// The volts that a shown temperature stands for: the middle, and how far it is known; none off the scale.
pub(super) fn volts_shown(shown: &[(f64, f64)], celsius: f64, within: f64) -> Option<(f64, f64)> {
    let (first, last) = (shown.first()?, shown.last()?);
    let at = |celsius: f64| {
        let celsius = celsius.clamp(first.0, last.0);
        let pair = shown.windows(2).find(|pair| celsius <= pair[1].0)?;
        let part = (celsius - pair[0].0) / (pair[1].0 - pair[0].0);
        Some(pair[0].1 + part * (pair[1].1 - pair[0].1))
    };
    let (a, b) = (at(celsius - within)?, at(celsius + within)?);
    let full = first.1.max(last.1);
    let (mut low, mut high) = (a.min(b), a.max(b));
    if low < full * END {
        low = 0.0;
    }
    if high > full * (1.0 - END) {
        high = full * 2.0;
    }
    Some(((low + high) / 2.0, (high - low) / 2.0))
}
