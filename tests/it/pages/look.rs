//! The look: contrast by day and night, weight on the wire, drawings that say what they show.

use super::{check_reads_in_order, page, pages};
use loomleaf::publish::Files;

fn style(files: &Files) -> &str {
    files.keys().find(|path| path.ends_with(".css")).unwrap()
}

/// Pairs that are read in the sun: 7:1, WCAG 2.2, success criterion 1.4.6.
const PAIRS: [(&str, &str); 10] = [
    ("ink", "paper"),
    ("ink", "sheet"),
    ("ink", "straw"),
    ("quiet", "paper"),
    ("quiet", "sheet"),
    ("thread", "paper"),
    ("thread", "sheet"),
    ("rust", "straw"),
    ("paper", "thread"),
    ("thread", "straw"),
];

#[test]
fn ink_on_paper_can_be_read_by_day_and_night() {
    let files = pages(|_, _| {});
    let css = page(&files, style(&files));
    let night = css.split("prefers-color-scheme: dark").nth(1).unwrap();
    let high = css.split("[data-light=high]").nth(1).unwrap();
    for (name, tokens) in [("day", css.as_str()), ("night", night), ("high", high)] {
        for (ink, paper) in PAIRS {
            let ratio = contrast(token(tokens, ink), token(tokens, paper));
            assert!(ratio >= 7.0, "{name}: {ink} on {paper} is {ratio:.2}");
        }
    }
}

/// The first value of a colour token in some style text.
fn token(css: &str, name: &str) -> [f64; 3] {
    let value = css.split(&format!("--{name}: #")).nth(1).unwrap();
    let digits: Vec<u32> = value
        .chars()
        .map_while(|digit| digit.to_digit(16))
        .collect();
    // `#fff` is `#ffffff`.
    let digits = match digits.as_slice() {
        &[r, g, b] => vec![r, r, g, g, b, b],
        all => all.to_vec(),
    };
    let pair = |at: usize| f64::from(digits[at] * 16 + digits[at + 1]);
    [pair(0), pair(2), pair(4)]
}

/// Contrast of two colours after WCAG 2.2 (relative luminance of sRGB).
fn contrast(one: [f64; 3], other: [f64; 3]) -> f64 {
    let luminance = |colour: [f64; 3]| {
        let linear = colour.map(|channel| {
            let part = channel / 255.0;
            if part <= 0.04045 {
                part / 12.92
            } else {
                libm::pow((part + 0.055) / 1.055, 2.4)
            }
        });
        0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    };
    let (a, b) = (luminance(one), luminance(other));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn every_drawing_has_a_title_and_a_description() {
    let files = pages(|_, _| {});
    let mut drawings = 0;
    for path in files.keys().filter(|path| path.ends_with(".html")) {
        for drawing in page(&files, path).split("<svg").skip(1) {
            let parts = ["role=\"img\"", "<title>", "<desc>", "</svg>"];
            check_reads_in_order(drawing, &parts);
            drawings += 1;
        }
    }
    assert!(drawings > 4, "only {drawings} drawings");
}
