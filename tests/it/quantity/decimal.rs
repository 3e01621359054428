//! Decimal text to the nearest double, held against the standard library's own reading, which is
//! correctly rounded by its documentation.

use loomleaf::quantity::decimal;

fn check(text: &str) {
    let ours = decimal(text).map(f64::to_bits);
    let theirs = text.parse::<f64>().ok().map(f64::to_bits);
    assert_eq!(ours, theirs, "{text}");
}

/// Shortest texts of doubles drawn bit by bit, the middles between neighbours, and digits at random.
#[test]
fn any_decimal_text_is_read_as_the_standard_library_reads_it() {
    let mut state = 0x2545_f491_4f6c_dd1d_u64;
    let mut next = || {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        state
    };
    for _ in 0..20_000 {
        let number = f64::from_bits(next());
        if number.is_finite() {
            check(&format!("{number:e}"));
            check(&format!("{number:.25e}"));
        }
        let (whole, power) = (next() >> (next() % 64), next() % 340);
        check(&format!("{whole}e-{power}"));
        check(&format!("{whole}e{power}"));
        let part = next() % 1000;
        check(&format!("{}.{part}", whole % 100_000));
    }
}

/// The middle between two neighbours is written out in full, then a trifle beside it.
#[test]
fn middles_go_to_the_even_neighbour() {
    for bits in [
        1_u64,
        2,
        3,
        0x3ff0_0000_0000_0000,
        0x3ff0_0000_0000_0001,
        0x7fef_ffff_ffff_fffe,
    ] {
        let (low, high) = (f64::from_bits(bits), f64::from_bits(bits + 1));
        // Doubles print exactly with enough places; their half-way point has one more.
        let text = middle(&format!("{low:.1100}"), &format!("{high:.1100}"));
        check(&text);
        check(&format!("{text}1"));
        check(&format!(
            "{}4999",
            text.trim_end_matches('0').trim_end_matches('5')
        ));
    }
}

/// Half the sum of two decimal texts of one shape.
fn middle(a: &str, b: &str) -> String {
    let width = a.len().max(b.len());
    let (a, b) = (format!("{a:0>width$}"), format!("{b:0>width$}"));
    let mut carried = 0;
    let mut sum: Vec<u8> = Vec::new();
    for (a, b) in a.bytes().rev().zip(b.bytes().rev()) {
        if a == b'.' {
            sum.push(b'.');
            continue;
        }
        let digit = (a - b'0') + (b - b'0') + carried;
        sum.push(b'0' + digit % 10);
        carried = digit / 10;
    }
    sum.push(b'0' + carried);
    let mut rest = 0;
    let halved = sum.iter().rev().map(|digit| match digit {
        b'.' => '.',
        digit => {
            let all = rest * 10 + (digit - b'0');
            rest = all % 2;
            char::from(b'0' + all / 2)
        }
    });
    let mut text: String = halved.collect();
    text.push(char::from(b'0' + rest * 5));
    text
}

#[test]
fn what_is_no_decimal_number_is_none() {
    for text in [
        "", "-", ".", "e5", "1e", "1e+", "--1", "1.2.3", "inf", "NaN", "0x1", "1 ", "١",
    ] {
        assert_eq!(decimal(text), None, "{text}");
    }
    for text in [
        "0",
        "-0",
        "+1",
        ".5",
        "5.",
        "1e400",
        "-1e400",
        "1e-400",
        "1e99999999999",
        "0e99999999999",
    ] {
        check(text);
    }
}
