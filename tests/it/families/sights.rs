//! From where a resistance shows, held against the bands themselves. Law, no source: where it "always shows" no reading
//! fits both the healthy and the faulty circuit; a seventh short of it some reading does; below where it "first shows"
//! the nominal circuit still reads good.

#![allow(clippy::print_stdout, reason = "a count for whoever tunes the search")]

use super::deck;
use loomleaf::circuit::fault::{Fault, FaultKind, FaultScope, faults};
use loomleaf::circuit::{Band, Bands, FLOATING_SHOWS, HookUp, Network, Reading};
use loomleaf::quantity::Interval;
use loomleaf::sheet::sheets;

/// How far short of "always" some reading must fit both, as a ratio.
const SHORT: f64 = 1.15;

/// A fault with its resistance known, at a probe.
fn band(network: &Network, fault: &Fault, ohms: f64, hookup: &HookUp) -> Band {
    let faulty = fault.narrowed(ohms, ohms).apply(network);
    Bands::default().band(&faulty, hookup).unwrap()
}

fn apart(a: &Band, b: &Band) -> bool {
    let meet = |x: &Interval, y: &Interval| x.low <= y.high && y.low <= x.high;
    let near_zero =
        |band: &Band| band.floating || band.intervals.iter().any(|x| meet(x, &FLOATING_SHOWS));
    let floats = (a.floating && near_zero(b)) || (b.floating && near_zero(a));
    let both = a.no_path && b.no_path;
    !both
        && !floats
        && !a
            .intervals
            .iter()
            .any(|x| b.intervals.iter().any(|y| meet(x, y)))
}

#[test]
fn what_always_shows_begins_where_it_is_said_to() {
    let (sheets, _) = sheets(&deck().0);
    let (mut count, mut worst) = (0, String::new());
    for sheet in &sheets {
        let signatures = &sheet.reasoning.signatures;
        for sights in &signatures.sights {
            let variant = &sheet.variants[sights.variant];
            let network = &variant.network;
            let fault = &faults(network, &FaultScope::default())[sights.fault];
            if fault.kind != FaultKind::High {
                continue;
            }
            for (hooked, sight) in variant.hooked.iter().zip(&sights.by_probe) {
                let healthy = Bands::default().band(network, &hooked.hookup).unwrap();
                let at = |ohms| band(network, fault, ohms, &hooked.hookup);
                let place = format!(
                    "{} {} {}",
                    sheet.card, fault.name, sheet.tests[hooked.test].id
                );
                if let Some(always) = sight.always {
                    count += 1;
                    assert!(apart(&at(always), &healthy), "{place}: {always} ");
                    if apart(&at(always / SHORT), &healthy) {
                        worst += &format!("{place} {}: {always}\n", hooked.state);
                    }
                }
                if let (Some(first), Some(Reading::Value(good))) = (sight.first, healthy.nominal)
                    && let Some(Reading::Value(seen)) = at(first).nominal
                {
                    let inside = |x: &Interval| x.low <= seen && seen <= x.high;
                    assert!(
                        healthy.intervals.iter().any(inside),
                        "{place}: {first} {good} {seen}"
                    );
                }
            }
        }
    }
    println!("{count} resistances that always show");
    assert!(worst.is_empty(), "{worst}");
}
