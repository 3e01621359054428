//! What cannot be meant is refused, with a way out.

use loomleaf::quantity::{Dimension, read_interval, read_quantity, read_toleranced};

/// Text, dimension, a word of what was expected, a word of what was found, the correction.
#[rustfmt::skip]
const REFUSED: &[(&str, Dimension, &str, &str, Option<&str>)] = &[
    ("", Dimension::Voltage, "a voltage such as 3.6 V", "nothing", None),
    ("NaN", Dimension::Voltage, "a voltage", "no finite number", None),
    ("inf V", Dimension::Voltage, "a voltage", "no finite number", None),
    ("-inf", Dimension::Voltage, "a voltage", "no finite number", None),
    ("1e999 V", Dimension::Voltage, "a voltage", "no finite number", None),
    ("1e308 kV", Dimension::Voltage, "a voltage", "no finite number", None),
    ("3.6", Dimension::Voltage, "a voltage", "`3.6` has no unit", Some("3.6 V")),
    ("3.6 A", Dimension::Voltage, "a voltage", "`3.6 A` is a current", None),
    ("5 kohm", Dimension::Voltage, "a voltage", "is a resistance", None),
    ("4k7", Dimension::Voltage, "a voltage", "is a resistance", None),
    ("3.6 Volz", Dimension::Voltage, "a voltage", "`Volz` is no unit of voltage", None),
    ("4.7 kohn", Dimension::Resistance, "a resistance", "`kohn`", Some("4.7 kohm")),
    ("10 MV", Dimension::Voltage, "a voltage", "`MV`", Some("10 mV")),
    ("10 mpa", Dimension::Pressure, "a pressure", "`mpa`", Some("10 MPa")),
    ("5 MOHM", Dimension::Resistance, "a resistance", "`MOHM`", None),
    ("5 m", Dimension::Resistance, "a resistance", "is a length", Some("5 M")),
    ("warm", Dimension::Temperature, "a temperature", "does not begin with a number", None),
    ("1.2.3 V", Dimension::Voltage, "a voltage", "does not begin", None),
    ("1,000 ohm", Dimension::Resistance, "no thousands mark", "two ways", Some("1000 ohm")),
    ("-5 ohm", Dimension::Resistance, "at least 0 ohm", "`-5 ohm` is below", None),
    ("-300 C", Dimension::Temperature, "at least -273.15 C", "below", None),
    ("50 AWG", Dimension::Area, "from 4/0 AWG to 40 AWG", "`50 AWG`", None),
    ("5/0 AWG", Dimension::Area, "from 4/0 AWG to 40 AWG", "`5/0 AWG`", None),
    ("é", Dimension::Voltage, "a voltage", "`é`", None),
    ("3 µv é", Dimension::Voltage, "a voltage", "no unit of voltage", None),
];

#[test]
fn what_cannot_be_meant_is_refused_with_a_way_out() {
    for (text, dimension, expected, found, correction) in REFUSED {
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
