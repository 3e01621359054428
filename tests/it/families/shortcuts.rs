//! Shortcuts of solving, held by what they must not change: a fault that a hook-up is said not to feel reads as the
//! healthy circuit does, and no band is narrower than what random points of its box read. Law, no source: a band is
//! the set of all readings within tolerance, whatever way it was found.

#![allow(
    clippy::print_stdout,
    reason = "counts for whoever tunes the shortcuts"
)]

use super::deck;
use crate::reason::trials::{Dice, draw};
use loomleaf::circuit::fault::{Fault, FaultScope, faults};
use loomleaf::circuit::{Bands, Felt, HookUp, Meter, Network, Reading, solve};
use loomleaf::sheet::{Sheet, sheets};

/// A perfect joint is modelled as a tenth of a milliohm: that much beside a kilohm, as a part of a reading.
const LEAST: f64 = 1e-6;
/// Random points of each box.
const POINTS: usize = 6;

/// Every fault of every variant of every family, at every hook-up once.
fn each(sheets: &[Sheet], mut look: impl FnMut(&Network, &Fault, &HookUp)) {
    for variant in sheets.iter().flat_map(|sheet| &sheet.variants) {
        let mut hookups: Vec<&HookUp> = Vec::new();
        for hooked in &variant.hooked {
            if !hookups.contains(&&hooked.hookup) {
                hookups.push(&hooked.hookup);
            }
        }
        for fault in faults(&variant.network, &FaultScope::default()) {
            for hookup in &hookups {
                look(&variant.network, &fault, hookup);
            }
        }
    }
}

#[test]
fn what_a_hook_up_does_not_feel_reads_as_healthy() {
    let (sheets, _) = sheets(&deck().0);
    let bands = Bands::default();
    let (mut felt, mut not) = (0, 0);
    each(&sheets, |network, fault, hookup| {
        let hears = Felt::of(network, hookup).unwrap();
        if fault.is_felt(network, &hears) {
            felt += 1;
            return;
        }
        not += 1;
        let healthy = bands.band(network, hookup);
        let faulty = bands.band(&fault.apply(network), hookup);
        assert_eq!(healthy, faulty, "{} at {hookup:?}", fault.name);
    });
    println!("{felt} pairs of fault and hook-up are felt, {not} are not");
    assert!(felt < not);
}

#[test]
fn no_band_is_narrower_than_what_its_box_reads() {
    let (sheets, _) = sheets(&deck().0);
    let (bands, mut dice) = (Bands::default(), Dice(7));
    let mut count = 0;
    each(&sheets, |network, fault, hookup| {
        let faulty = fault.apply(network);
        // Ideal, so that the instrument's error hides nothing.
        let exact = HookUp {
            meter: Meter {
                of_reading: 0.0,
                counts: 0.0,
                ..hookup.meter
            },
            ..hookup.clone()
        };
        let band = bands.band(&faulty, &exact).unwrap();
        for _ in 0..POINTS {
            let values = draw(&faulty, &mut dice, hookup);
            if let Ok(Reading::Value(number)) = solve::read(&faulty, &exact, &values) {
                let inside = |span: &loomleaf::quantity::Interval| {
                    let slack = LEAST * number.abs().max(1e-3);
                    span.low - slack <= number && number <= span.high + slack
                };
                let holds = band.intervals.iter().any(inside);
                assert!(holds, "{} reads {number} outside {band:?}", fault.name);
                count += 1;
            }
        }
    });
    println!("{count} readings, all inside their bands");
}
