//! What people type reads as what they mean.

use super::{near, read};
use loomleaf::quantity::{
    Dimension, Interval, UNITS, dimension_of, read_any, read_interval, read_toleranced,
};

/// Dimension, value in base units, the ways to write it.
#[rustfmt::skip]
const WAYS: &[(Dimension, f64, &[&str])] = &[
    (Dimension::Voltage, 3.6, &["3.6 V", "3,6 V", "3.6V", " 3.6  volts ", "3600 mV", "0.0036 kV", "+3.6 v"]),
    (Dimension::Voltage, -0.1, &["-0.1 V", "\u{2212}0.1 V", "-100 mV", "-.1 V"]),
    (Dimension::Resistance, 4700.0, &["4.7 kohm", "4,7 kΩ", "4.7kΩ", "4.7 k\u{2126}", "4k7", "4K7", "4k7 ohm", "4700 ohm", "4.7 k", "4700R", "0.0047 Mohm", "4.7e3 ohm"]),
    (Dimension::Resistance, 2.2, &["2R2", "2.2 ohm", "2.2 Ω", "2200 mohm", "2.2 OHM"]),
    (Dimension::Resistance, 0.47, &["R47", "0R47", "0.47 ohm"]),
    (Dimension::Resistance, 1e6, &["1M0", "1 Mohm", "1 MΩ", "1000 kohm", "1 megohm"]),
    (Dimension::Current, 0.012, &["12 mA", "0.012 A", "12000 µA", "12000 uA", "12000 \u{3bc}A"]),
    (Dimension::Temperature, 85.0, &["85 C", "85 °C", "85°C", "85 deg C", "85 degC", "185 F", "185 °F", "358.15 K"]),
    (Dimension::Temperature, -40.0, &["-40 C", "-40 F", "\u{2212}40 °C"]),
    (Dimension::TemperatureSpan, 5.0, &["5 K", "5 C", "9 F"]),
    (Dimension::Pressure, 250e3, &["250 kPa", "2.5 bar", "2500 mbar", "2500 hPa", "0.25 MPa", "250000 Pa"]),
    (Dimension::Frequency, 1200.0, &["1.2 kHz", "1200 Hz", "1200 hz"]),
    (Dimension::Time, 0.25, &["250 ms", "0.25 s"]),
    (Dimension::Length, 3.5, &["3.5 m", "350 cm", "3500 mm", "3,5 metres"]),
    (Dimension::Area, 0.5e-6, &["0.5 mm2", "0,5 mm²", "0.5 mm^2", "0.5 sq mm"]),
    (Dimension::Angle, 45.0, &["45 deg", "45°", "45 degrees"]),
    (Dimension::Ratio, 0.5, &["50 %", "50%", "0.5", "50 percent"]),
];

/// Spellings of one value each, in base units.
#[test]
fn people_write_one_value_in_many_ways() {
    for (dimension, wanted, texts) in WAYS {
        for text in *texts {
            near(read(text, *dimension), *wanted, 1e-12);
        }
    }
}

/// Gauge, area in mm². Source: ASTM B258 diameter formula, computed outside this project and
/// checked with GNU units 2.22, as in stored AWG tables.
#[test]
fn wire_gauges_have_the_published_areas() {
    let rows = [
        ("3/0 AWG", 85.0288),
        ("3 AWG", 26.6705),
        ("AWG 6", 13.3018),
        ("10 AWG", 5.2612),
        ("14AWG", 2.0809),
        ("18 awg", 0.8230),
        ("22 AWG", 0.3255),
        ("#23 AWG", 0.2582),
    ];
    for (text, square_millimetres) in rows {
        near(read(text, Dimension::Area), square_millimetres * 1e-6, 5e-4);
    }
}

/// Conversions with published factors.
#[test]
fn conversions_agree_with_published_factors() {
    // 1 psi = 6894.757 Pa: NIST SP 811 (2008), appendix B.8.
    near(read("1 psi", Dimension::Pressure), 6894.757, 1e-7);
    // 36 psi: the same factor.
    near(read("36 psi", Dimension::Pressure), 248_211.3, 1e-6);
    // 1 ft = 0.3048 m and 1 in = 25.4 mm, exact: NIST SP 811, appendix B.8.
    near(read("10 ft", Dimension::Length), 3.048, 1e-15);
    near(read("2 in", Dimension::Length), 0.0508, 1e-15);
    // 32 F = 0 C and 212 F = 100 C: definition of the Fahrenheit scale, NIST SP 811 B.8.
    assert!(read("32 F", Dimension::Temperature).abs() < 1e-12);
    near(read("212 F", Dimension::Temperature), 100.0, 1e-14);
    // 1 atm of 1013.25 mbar = 101.325 kPa: NIST SP 811, appendix B.8.
    near(read("1013.25 mbar", Dimension::Pressure), 101_325.0, 1e-15);
}

#[test]
fn tolerances_and_ranges_are_read_as_written() {
    let volts = |text| {
        let read = read_toleranced(text, Dimension::Voltage)
            .unwrap_or_else(|slip| panic!("`{text}`: {slip:?}"));
        (read.low, read.nominal, read.high)
    };
    for text in [
        "5 V ± 2 %",
        "5 V +/- 2 %",
        "5 V +- 0.1 V",
        "5 ± 0.1 V",
        "5V±100mV",
        "4.9 to 5.1 V",
        "4,9 V - 5,1 V",
        "4900 mV..5.1 V",
        "4.9–5.1 V",
        "4.9-5.1 V",
        "4.9 V to 5.1",
    ] {
        let (low, nominal, high) = volts(text);
        near(low, 4.9, 1e-12);
        near(nominal, 5.0, 1e-12);
        near(high, 5.1, 1e-12);
    }
    assert_eq!(volts("12.6 V (11.8 to 14.8 V)"), (11.8, 12.6, 14.8));
    assert_eq!(volts("5 V"), (5.0, 5.0, 5.0));
    let celsius = |text| read_interval(text, Dimension::Temperature).unwrap();
    assert_eq!(
        celsius("-40 - -10 C"),
        Interval {
            low: -40.0,
            high: -10.0
        }
    );
    assert_eq!(
        celsius("20 C ± 2 K"),
        Interval {
            low: 18.0,
            high: 22.0
        }
    );
    // Common practice, no source: a tolerance of a percentage is in points.
    let ratio = read_interval("50 % ± 5 %", Dimension::Ratio).unwrap();
    near(ratio.low, 0.45, 1e-12);
    let small = read_interval("1e-3 to 2e-3 V", Dimension::Voltage).unwrap();
    assert_eq!(
        small,
        Interval {
            low: 1e-3,
            high: 2e-3
        }
    );
}

#[test]
fn the_unit_tells_the_dimension() {
    let rows = [
        ("5 V ± 2 %", Some(Dimension::Voltage)),
        ("0.25 to 4.75 V", Some(Dimension::Voltage)),
        ("5 ± 0.1 V", Some(Dimension::Voltage)),
        ("0 to 100 %", Some(Dimension::Ratio)),
        ("4k7", Some(Dimension::Resistance)),
        ("20 AWG", Some(Dimension::Area)),
        ("20 C", Some(Dimension::Temperature)),
        ("3950 K", Some(Dimension::TemperatureSpan)),
        ("0.5", Some(Dimension::Ratio)),
        ("12.6 V (11.8 to 14.8 V)", Some(Dimension::Voltage)),
        ("valve closed", None),
        ("20 sheep", None),
    ];
    for (text, dimension) in rows {
        assert_eq!(dimension_of(text), dimension, "`{text}`");
    }
    assert!(read_any("20 sheep").is_err());
}

#[test]
fn every_spelling_of_every_unit_reads() {
    for unit in UNITS {
        for spelling in unit.spellings {
            let wanted = 300.0 * unit.factor + unit.offset;
            near(
                read(&format!("300 {spelling}"), unit.dimension),
                wanted,
                1e-12,
            );
        }
    }
}
