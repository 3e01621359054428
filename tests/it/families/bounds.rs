//! What readings there can be, by laws of circuits; no published source needed.

use super::deck;
use loomleaf::circuit::{ElementKind, Observe, Site};
use loomleaf::reason::{Observation, Observed, suspects};
use loomleaf::sheet::sheets;

/// Readings tried between nothing and what a good circuit reads.
const TRIED: u32 = 40;

/// A meter's own resistance and one anywhere in series divide a supply at every voltage between nothing and all of it:
/// whatever an unplugged pin reads there, a bad joint gives it.
#[test]
fn a_joint_of_some_resistance_gives_every_reading_below_the_good_one() {
    let (sheets, _) = sheets(&deck().0);
    let (mut count, mut missed) = (0, Vec::new());
    for sheet in &sheets {
        let signatures = &sheet.reasoning.signatures;
        for (number, probe) in signatures.probes.iter().enumerate() {
            let hookup = &probe.hookup;
            let volts = matches!(hookup.observe, Observe::Volts { .. });
            let good = signatures.healthy(number).intervals;
            let Some(good) = good.first().filter(|good| 1.0 < good.low) else {
                continue;
            };
            if hookup.mated || !volts || !hookup.links.is_empty() {
                continue;
            }
            count += 1;
            let least: f64 = 0.1;
            let step = (good.low / least).powf(1.0 / f64::from(TRIED));
            for at in 0..TRIED {
                let volts = least * step.powf(f64::from(at));
                let read = Observation {
                    probe: number,
                    reading: Observed::value(volts),
                };
                if suspects(signatures, &[read]).left.is_empty() {
                    missed.push(format!("{} {}: {volts:.3} V", sheet.card, probe.test));
                }
            }
        }
    }
    assert!(30 < count && missed.is_empty(), "{count}: {missed:#?}");
}

/// No point of a circuit of resistors, switches and regulators fed from a battery lies above the battery's plus. A part
/// that is itself a source (a coil past a magnet) is left out.
#[test]
fn nothing_reads_above_what_feeds_it() {
    let (sheets, _) = sheets(&deck().0);
    let (mut count, mut above) = (0, Vec::new());
    for sheet in &sheets {
        let network = &sheet.variants[0].network;
        let sources = network.elements().iter().filter_map(|one| match one.kind {
            ElementKind::Source { volts, .. } => Some((one.site.clone(), network.range(&volts))),
            _ => None,
        });
        let sources: Vec<_> = sources.collect();
        if sources.iter().any(|(site, _)| *site == Site::Part) {
            continue;
        }
        let battery = sources.iter().find(|(site, _)| *site == Site::Supply);
        let highest = battery.unwrap().1.high;
        let signatures = &sheet.reasoning.signatures;
        for row in &signatures.rows {
            for (band, probe) in row.bands.iter().zip(&signatures.probes) {
                if !matches!(probe.hookup.observe, Observe::Volts { .. }) {
                    continue;
                }
                count += 1;
                // The meter's own error on top: a percent is more than any has.
                let most = highest * 1.01;
                let over = band.intervals.iter().find(|one| most < one.high);
                if let Some(over) = over {
                    above.push(format!(
                        "{} {} {}: {over:?}",
                        sheet.card, row.name, probe.test
                    ));
                }
            }
        }
    }
    assert!(1000 < count && above.is_empty(), "{count}: {above:#?}");
}
