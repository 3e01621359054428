//! Quantities: what people type, what is refused, and that what is written reads back.
//!
//! Each numeric row names its source beside it.

use loomleaf::quantity::{
    Dimension, Interval, Quantity, Toleranced, UNITS, dimension_of, read_any, read_interval,
    read_quantity, read_toleranced, write_interval, write_quantity, write_toleranced,
};
use proptest::prelude::*;

fn read(text: &str, dimension: Dimension) -> f64 {
    match read_quantity(text, dimension) {
        Ok(read) => read.number,
        Err(misread) => panic!("`{text}`: {misread:?}"),
    }
}

#[track_caller]
fn near(found: f64, wanted: f64, relative: f64) {
    let allowed = relative * wanted.abs();
    assert!((found - wanted).abs() <= allowed, "{found} is not {wanted}");
}

/// Spellings of one value each, in base units.
#[test]
fn people_write_one_value_in_many_ways() {
    let same: &[(Dimension, f64, &[&str])] = &[
        (
            Dimension::Voltage,
            3.6,
            &[
                "3.6 V",
                "3,6 V",
                "3.6V",
                " 3.6  volts ",
                "3600 mV",
                "0.0036 kV",
                "+3.6 v",
            ],
        ),
        (
            Dimension::Voltage,
            -0.1,
            &["-0.1 V", "\u{2212}0.1 V", "-100 mV", "-.1 V"],
        ),
        (
            Dimension::Resistance,
            4700.0,
            &[
                "4.7 kohm",
                "4,7 kΩ",
                "4.7kΩ",
                "4.7 k\u{2126}",
                "4k7",
                "4K7",
                "4k7 ohm",
                "4700 ohm",
                "4.7 k",
                "4700R",
                "0.0047 Mohm",
                "4.7e3 ohm",
            ],
        ),
        (
            Dimension::Resistance,
            2.2,
            &["2R2", "2.2 ohm", "2.2 Ω", "2200 mohm", "2.2 OHM"],
        ),
        (Dimension::Resistance, 0.47, &["R47", "0R47", "0.47 ohm"]),
        (
            Dimension::Resistance,
            1e6,
            &["1M0", "1 Mohm", "1 MΩ", "1000 kohm", "1 megohm"],
        ),
        (
            Dimension::Current,
            0.012,
            &["12 mA", "0.012 A", "12000 µA", "12000 uA", "12000 \u{3bc}A"],
        ),
        (
            Dimension::Temperature,
            85.0,
            &[
                "85 C", "85 °C", "85°C", "85 deg C", "85 degC", "185 F", "185 °F", "358.15 K",
            ],
        ),
        (
            Dimension::Temperature,
            -40.0,
            &["-40 C", "-40 F", "\u{2212}40 °C"],
        ),
        (Dimension::TemperatureSpan, 5.0, &["5 K", "5 C", "9 F"]),
        (
            Dimension::Pressure,
            250e3,
            &[
                "250 kPa",
                "2.5 bar",
                "2500 mbar",
                "2500 hPa",
                "0.25 MPa",
                "250000 Pa",
            ],
        ),
        (
            Dimension::Frequency,
            1200.0,
            &["1.2 kHz", "1200 Hz", "1200 hz"],
        ),
        (Dimension::Time, 0.25, &["250 ms", "0.25 s"]),
        (
            Dimension::Length,
            3.5,
            &["3.5 m", "350 cm", "3500 mm", "3,5 metres"],
        ),
        (
            Dimension::Area,
            0.5e-6,
            &["0.5 mm2", "0,5 mm²", "0.5 mm^2", "0.5 sq mm"],
        ),
        (Dimension::Angle, 45.0, &["45 deg", "45°", "45 degrees"]),
        (Dimension::Ratio, 0.5, &["50 %", "50%", "0.5", "50 percent"]),
    ];
    for (dimension, wanted, texts) in same {
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

/// Text, dimension, a word of what was expected, of what was found, the correction.
#[test]
fn what_cannot_be_meant_is_refused_with_a_way_out() {
    let rows: &[(&str, Dimension, &str, &str, Option<&str>)] = &[
        (
            "",
            Dimension::Voltage,
            "a voltage such as 3.6 V",
            "nothing",
            None,
        ),
        (
            "NaN",
            Dimension::Voltage,
            "a voltage",
            "no finite number",
            None,
        ),
        (
            "inf V",
            Dimension::Voltage,
            "a voltage",
            "no finite number",
            None,
        ),
        (
            "-inf",
            Dimension::Voltage,
            "a voltage",
            "no finite number",
            None,
        ),
        (
            "1e999 V",
            Dimension::Voltage,
            "a voltage",
            "no finite number",
            None,
        ),
        (
            "1e308 kV",
            Dimension::Voltage,
            "a voltage",
            "no finite number",
            None,
        ),
        (
            "3.6",
            Dimension::Voltage,
            "a voltage",
            "`3.6` has no unit",
            Some("3.6 V"),
        ),
        (
            "3.6 A",
            Dimension::Voltage,
            "a voltage",
            "`3.6 A` is a current",
            None,
        ),
        (
            "5 kohm",
            Dimension::Voltage,
            "a voltage",
            "is a resistance",
            None,
        ),
        (
            "4k7",
            Dimension::Voltage,
            "a voltage",
            "is a resistance",
            None,
        ),
        (
            "3.6 Volz",
            Dimension::Voltage,
            "a voltage",
            "`Volz` is no unit of voltage",
            None,
        ),
        (
            "4.7 kohn",
            Dimension::Resistance,
            "a resistance",
            "`kohn`",
            Some("4.7 kohm"),
        ),
        (
            "10 MV",
            Dimension::Voltage,
            "a voltage",
            "`MV`",
            Some("10 mV"),
        ),
        (
            "10 mpa",
            Dimension::Pressure,
            "a pressure",
            "`mpa`",
            Some("10 MPa"),
        ),
        (
            "5 MOHM",
            Dimension::Resistance,
            "a resistance",
            "`MOHM`",
            None,
        ),
        (
            "5 m",
            Dimension::Resistance,
            "a resistance",
            "is a length",
            Some("5 M"),
        ),
        (
            "warm",
            Dimension::Temperature,
            "a temperature",
            "does not begin with a number",
            None,
        ),
        (
            "1.2.3 V",
            Dimension::Voltage,
            "a voltage",
            "does not begin",
            None,
        ),
        (
            "1,000 ohm",
            Dimension::Resistance,
            "no thousands mark",
            "two ways",
            Some("1000 ohm"),
        ),
        (
            "-5 ohm",
            Dimension::Resistance,
            "at least 0 ohm",
            "`-5 ohm` is below",
            None,
        ),
        (
            "-300 C",
            Dimension::Temperature,
            "at least -273.15 C",
            "below",
            None,
        ),
        (
            "50 AWG",
            Dimension::Area,
            "from 4/0 AWG to 40 AWG",
            "`50 AWG`",
            None,
        ),
        (
            "5/0 AWG",
            Dimension::Area,
            "from 4/0 AWG to 40 AWG",
            "`5/0 AWG`",
            None,
        ),
        ("é", Dimension::Voltage, "a voltage", "`é`", None),
        (
            "3 µv é",
            Dimension::Voltage,
            "a voltage",
            "no unit of voltage",
            None,
        ),
    ];
    for (text, dimension, expected, found, correction) in rows {
        let misread = read_quantity(text, *dimension).expect_err(text);
        assert!(misread.expected.contains(expected), "`{text}`: {misread:?}");
        assert!(misread.found.contains(found), "`{text}`: {misread:?}");
        assert_eq!(misread.correction.as_deref(), *correction, "`{text}`");
    }
}

#[test]
fn tolerances_that_make_no_sense_are_refused() {
    let rows = [
        ("5 V ± 0.1", Dimension::Voltage, "has no unit"),
        ("5 V ± -2 %", Dimension::Voltage, "below zero"),
        (
            "20 C ± 5 %",
            Dimension::Temperature,
            "percentage of a temperature",
        ),
        ("20 ± 2 K", Dimension::Temperature, "has no unit"),
        ("15 V (11.8 to 14.8 V)", Dimension::Voltage, "outside"),
        ("5 V ± 1 A", Dimension::Voltage, "is a current"),
        ("1e308 V ± 1e308 V", Dimension::Voltage, "no finite number"),
        (
            "V ± 2 %",
            Dimension::Voltage,
            "does not begin with a number",
        ),
    ];
    for (text, dimension, found) in rows {
        let misread = read_toleranced(text, dimension).expect_err(text);
        assert!(misread.found.contains(found), "`{text}`: {misread:?}");
    }
    let one = read_interval("0.9 V", Dimension::Voltage).expect_err("one value");
    assert!(one.found.contains("is one value"));
}

#[test]
fn a_band_upside_down_is_turned_over_in_the_correction() {
    for (text, correction) in [
        ("0.75 to 0.45 V", "0.45 to 0.75 V"),
        ("0.75 V - 450 mV", "450 mV to 0.75 V"),
        ("14.8..11.8 V", "11.8 to 14.8 V"),
    ] {
        let misread = read_interval(text, Dimension::Voltage).expect_err(text);
        assert!(misread.upside_down, "`{text}`");
        assert_eq!(misread.correction.as_deref(), Some(correction));
    }
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

#[test]
fn sensible_digits_are_written() {
    let rows = [
        (0.0, Dimension::Voltage, "0 V"),
        (-0.0, Dimension::Voltage, "0 V"),
        (-0.000_000_4, Dimension::Temperature, "-4e-7 C"),
        (0.012, Dimension::Voltage, "12 mV"),
        (4.999_96, Dimension::Voltage, "5 V"),
        (99.99e-3, Dimension::Voltage, "99.99 mV"),
        (99.996e-3, Dimension::Voltage, "0.1 V"),
        (0.012, Dimension::Current, "12 mA"),
        (250e3, Dimension::Pressure, "250 kPa"),
        (0.5e-6, Dimension::Area, "0.5 mm2"),
        (0.333_33, Dimension::Ratio, "33.33 %"),
        (220e3, Dimension::Resistance, "220 kohm"),
        (1.0e7, Dimension::Resistance, "10 Mohm"),
        (1.0e20, Dimension::Temperature, "1e20 C"),
    ];
    for (number, dimension, text) in rows {
        assert_eq!(write_quantity(Quantity { number, dimension }), text);
    }
    let interval = |low, high, dimension| write_interval(Interval { low, high }, dimension);
    assert_eq!(interval(-0.0001, 4.75, Dimension::Voltage), "0 to 4.75 V");
    assert_eq!(interval(10.0, 10.5, Dimension::Voltage), "10.0 to 10.5 V");
    assert_eq!(
        interval(4.9999, 5.0001, Dimension::Voltage),
        "4.9999 to 5.0001 V"
    );
    assert_eq!(interval(0.9, 0.9, Dimension::Voltage), "0.9 to 0.9 V");
}

fn any_dimension() -> impl Strategy<Value = Dimension> {
    proptest::sample::select(Dimension::ALL.to_vec())
}

/// Numbers over the decades a shop sees, of both signs where the dimension has them.
fn any_number() -> impl Strategy<Value = f64> {
    (1.0..10.0_f64, -9..9_i32, any::<bool>()).prop_map(|(digits, power, below)| {
        digits * 10.0_f64.powi(power) * if below { -1.0 } else { 1.0 }
    })
}

fn signed(number: f64, dimension: Dimension) -> f64 {
    match dimension {
        Dimension::Resistance
        | Dimension::Frequency
        | Dimension::Time
        | Dimension::Length
        | Dimension::Area => number.abs(),
        Dimension::Temperature => number.max(-273.0),
        _ => number,
    }
}

proptest! {
    #[test]
    fn what_is_written_reads_back(number in any_number(), dimension in any_dimension()) {
        let number = signed(number, dimension);
        let text = write_quantity(Quantity { number, dimension });
        let again = read_quantity(&text, dimension).map_err(|slip| TestCaseError::fail(format!("{text}: {slip:?}")))?;
        // Four digits, or three decimals of a number between 0.1 and 1.
        prop_assert!((again.number - number).abs() <= 0.0051 * number.abs(), "{number} -> {text}");
        prop_assert_eq!(&write_quantity(again), &text);
        prop_assert!(!text.starts_with("-0 "));
    }

    #[test]
    fn a_written_interval_reads_back_in_order(a in any_number(), b in any_number(), dimension in any_dimension()) {
        let interval = Interval::spanning(signed(a, dimension), signed(b, dimension)).expect("finite");
        let text = write_interval(interval, dimension);
        let again = read_interval(&text, dimension).map_err(|slip| TestCaseError::fail(format!("{text}: {slip:?}")))?;
        let size = interval.low.abs().max(interval.high.abs());
        prop_assert!((again.low - interval.low).abs() <= 0.0051 * size, "{interval:?} -> {text}");
        prop_assert!((again.high - interval.high).abs() <= 0.0051 * size, "{interval:?} -> {text}");
    }

    #[test]
    fn a_written_tolerance_reads_back(number in any_number(), percent in 1..60_u8, dimension in any_dimension()) {
        let nominal = signed(number, dimension);
        let made = Toleranced::within(nominal, f64::from(percent) / 100.0).expect("finite");
        prop_assume!(dimension != Dimension::Temperature || made.low > -273.0);
        let text = write_toleranced(made, dimension);
        let again = read_toleranced(&text, dimension).map_err(|slip| TestCaseError::fail(format!("{text}: {slip:?}")))?;
        prop_assert!((again.low - made.low).abs() <= 0.011 * nominal.abs(), "{made:?} -> {text}");
        prop_assert!((again.high - made.high).abs() <= 0.011 * nominal.abs(), "{made:?} -> {text}");
    }

    #[test]
    fn no_text_makes_reading_panic(text in "\\PC{0,24}", dimension in any_dimension()) {
        if let Ok(read) = read_toleranced(&text, dimension) {
            prop_assert!(read.low.is_finite() && read.low <= read.nominal && read.nominal <= read.high);
        }
        let _ = dimension_of(&text);
    }

    #[test]
    fn nothing_that_looks_like_a_quantity_makes_reading_panic(text in "[-+0-9.,eERkKMmVA%±() µΩto/]{0,16}", dimension in any_dimension()) {
        if let Ok(read) = read_interval(&text, dimension) {
            prop_assert!(read.low.is_finite() && read.high.is_finite() && read.low <= read.high);
        }
    }
}
