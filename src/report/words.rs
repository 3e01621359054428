//! Words that pages, terminal and phone share: bands, hook-ups, kinds of test, units.
//!
//! In: values. Out: words a technician uses.

use crate::card::{Key, Plug};
use crate::circuit::{Band, Reading};
use crate::quantity::{Dimension, Interval, write_reading};
use crate::reason::{Seen, Technique};

/// Connector and key in a few words, for a line of its own: `Unplugged, key on`.
pub fn hookup(plug: Plug, key: Key) -> String {
    let plug = match plug {
        Plug::Unplugged => "Unplugged",
        Plug::Plugged => "Plugged in",
        Plug::BackProbed => "Back-probed",
    };
    let key = match key {
        Key::Off => "key off",
        Key::On => "key on",
    };
    format!("{plug}, {key}")
}

/// All readings a good circuit can give: `4.87 to 5.12 V`, `under 3 mV`, `0.1 to 0.2 V or 4.8 to 5 V`.
pub fn band(band: &Band, dimension: Dimension) -> String {
    let interval = |interval: &Interval| write_reading(*interval, dimension);
    joined(band, band.intervals.iter().map(interval).collect())
}

/// `shows 50 % (at the pin: under 27 mV)` where a scan value does not follow the pin.
pub fn or_instead(band: String, instead: &str) -> String {
    match instead {
        "" => band,
        instead => format!("{instead} (at the pin: {band})"),
    }
}

/// Intervals as text, and what else such a band can read.
pub fn joined(band: &Band, mut parts: Vec<String>) -> String {
    if band.floating {
        parts.push("drifts near 0 (nothing holds the wire)".to_owned());
    }
    if band.no_path {
        parts.push("no path (OL)".to_owned());
    }
    if parts.is_empty() {
        return "nothing to read".to_owned();
    }
    parts.join(" or ")
}

/// A kind of test in the trade's words.
pub fn technique(technique: Technique) -> &'static str {
    match technique {
        Technique::VoltsUnplugged => "volts at the unplugged connector",
        Technique::VoltsBackProbed => "volts at the plugged connector, back-probed",
        Technique::VoltsLoaded => "volts with a load on the circuit",
        Technique::ForceSignal => "the signal bridged to a rail, the scan value watched",
        Technique::ForceInRange => {
            "the signal given a value inside its range through a resistor, the scan value watched"
        }
        Technique::ScanValue => "the scan value as it is",
        Technique::MeasurePart => "ohms of the part at its own pins",
        Technique::MeasureHarness => "ohms of the harness from end to end, key off",
        Technique::MeasureInsulation => {
            "ohms from the wire to ground and to the wires beside it, unplugged at both ends, key off"
        }
        Technique::MeasureCurrent => "current through the meter",
    }
}

/// The number a sound circuit with all parts at nominal gives, where it is one.
pub fn nominal(band: &Band) -> Option<f64> {
    match band.nominal {
        Some(Reading::Value(number)) => Some(number),
        _ => None,
    }
}

/// The base unit, as JSON answers name it; a ratio counts in ones.
pub fn unit(dimension: Dimension) -> &'static str {
    match dimension.base_unit() {
        "" => "1",
        unit => unit,
    }
}

/// The three-valued answer as programs read it.
pub fn seen(seen: Seen) -> &'static str {
    match seen {
        Seen::Always => "always",
        Seen::Depends => "depends",
        Seen::Never => "never",
    }
}
