//! What is written is short, and reads back.

use loomleaf::quantity::{
    Dimension, Interval, Quantity, Toleranced, dimension_of, read_interval, read_quantity,
    read_toleranced, write_interval, write_quantity, write_toleranced,
};
use proptest::prelude::*;

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
        | Dimension::Area
        | Dimension::Speed
        | Dimension::Rotation
        | Dimension::ResistancePerLength => number.abs(),
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
