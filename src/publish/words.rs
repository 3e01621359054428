//! Words: how pages name colours, connector states, sources and bands.
//!
//! In: values. Out: words a technician uses. The only place where publishing chooses wording for a
//! value; sentences that never change stand in templates.

use crate::card::{Card, Key, MeterSpec, Plug, ScanKind, Side, SourceKind, View};
use crate::circuit::Band;
use crate::quantity::{
    Dimension, Interval, Quantity, maths, write_interval, write_quantity, write_reading,
};
use crate::report::words::joined;
pub(super) use crate::report::words::{hookup, technique};
use crate::sheet::{Expected, Source};

/// `unplugged`, `plugged in`, `plugged in, probed from the wire side`.
pub(super) fn plug(plug: Plug) -> &'static str {
    match plug {
        Plug::Unplugged => "unplugged",
        Plug::Plugged => "plugged in",
        Plug::BackProbed => "plugged in, back-probed",
    }
}

/// `on, engine off`.
pub(super) fn key(key: Key) -> &'static str {
    match key {
        Key::Off => "off",
        Key::On => "on, engine off",
    }
}

/// The same for a page, where a line must not end between a number and its unit.
pub(super) fn band_on_page(band: &Band, dimension: Dimension) -> String {
    let interval = |interval: &Interval| together(&write_reading(*interval, dimension));
    joined(band, band.intervals.iter().map(interval).collect())
}

/// On one line: a number must not part from its unit.
pub(super) fn together(value: &str) -> String {
    value.replace(' ', "\u{a0}")
}

/// Words that may stand on two lines, where no number parts from its unit: the name of a state.
pub(super) fn keep_units(words: &str) -> String {
    const UNITS: [&str; 22] = [
        "V", "mV", "ohm", "kohm", "A", "mA", "C", "F", "K", "kPa", "bar", "mbar", "psi", "%", "Hz",
        "deg", "degrees", "mm", "rpm", "/min", "kg", "turns",
    ];
    let mut kept = String::with_capacity(words.len());
    let mut before = "";
    for word in words.split(' ') {
        let is_number = before.ends_with(|last: char| last.is_ascii_digit());
        let is_unit = UNITS.contains(&word.trim_end_matches([',', ';', ')', '.']));
        if !kept.is_empty() {
            kept.push(if is_number && is_unit { '\u{a0}' } else { ' ' });
        }
        kept.push_str(word);
        before = word;
    }
    kept
}

/// Where a value comes from, in a word or two.
pub(super) fn source_kind(source: &Source) -> &'static str {
    match source {
        Source::Published(_) => "published",
        Source::MeasuredHere(_) => "measured here",
        Source::CommonPractice(_) => "common practice",
        Source::Stated => "stated on the card, source not named",
        Source::Computed => "computed",
        Source::FamilyDefault => "family default",
    }
}

/// The card's own words for a source, where it has any.
pub(super) fn source_words(source: &Source) -> &str {
    match source {
        Source::Published(says) | Source::MeasuredHere(says) | Source::CommonPractice(says) => says,
        Source::Stated | Source::Computed | Source::FamilyDefault => "",
    }
}

/// Where what a card states under `subject` (`pins`, `signal`) comes from.
pub(super) fn source_of(card: &Card, subject: &str) -> String {
    let covers = |name: &str| {
        card.sources
            .iter()
            .find(|source| source.covers.iter().any(|covered| covered.value == name))
    };
    let general = || card.sources.iter().find(|source| source.covers.is_empty());
    match covers(subject).or_else(general) {
        Some(note) => with_words(kind(note.kind), &note.says.value),
        None => "source not named on the card".to_owned(),
    }
}

/// Where the value of a family's parameter comes from.
pub(super) fn source_of_parameter(card: &Card, name: &str) -> String {
    if card.parameters.contains_key(name) || card.circuit.is_some() {
        return source_of(card, name);
    }
    source_kind(&Source::FamilyDefault).to_owned()
}

/// What a good circuit reads, or what a scan tool shows instead.
pub(super) fn expected_on_page(expected: &Expected, dimension: Dimension) -> String {
    crate::report::words::or_instead(band_on_page(&expected.band, dimension), &expected.instead)
}

/// How a scan value follows the pin.
pub(super) fn scan_kind(kind: &ScanKind) -> String {
    let ScanKind::Derived { valid, substitute } = kind else {
        return "raw: follows the pin".to_owned();
    };
    let mut words = "derived: worked out or substituted by the module".to_owned();
    if let Some(valid) = valid {
        let valid = write_interval(*valid, Dimension::Voltage);
        words.push_str(&format!("; follows the pin only within {valid}"));
    }
    match substitute {
        Some(substitute) => words.push_str(&format!("; outside it {substitute}")),
        None if valid.is_some() => words.push_str("; outside it may stay put"),
        None => words.push_str("; it may not follow the pin at all"),
    }
    words
}

/// `published`, `measured here`, `common practice`.
pub(super) fn kind(kind: SourceKind) -> &'static str {
    match kind {
        SourceKind::Published => "published",
        SourceKind::MeasuredHere => "measured here",
        SourceKind::CommonPractice => "common practice",
    }
}

fn with_words(kind: &str, says: &str) -> String {
    if says.is_empty() {
        return kind.to_owned();
    }
    format!("{kind}: {says}")
}

/// From where the connector is seen.
pub(super) fn view(view: View) -> &'static str {
    match view {
        View::HarnessMatingFace => "Harness connector, looking into its mating face",
        View::HarnessWireSide => "Harness connector, from the wire side",
        View::PartFace => "The part's own pins, looking at them",
    }
}

/// The same in the fewest words, for a small drawing.
pub(super) fn short_view(view: View) -> &'static str {
    match view {
        View::HarnessMatingFace => "mating face",
        View::HarnessWireSide => "wire side",
        View::PartFace => "part's pins",
    }
}

/// `top`, `left`.
pub(super) fn side(side: Side) -> &'static str {
    match side {
        Side::Top => "top",
        Side::Bottom => "bottom",
        Side::Left => "left",
        Side::Right => "right",
    }
}

/// The meter the bands are computed for: `± (0.5 % + 2 counts) on 6000 counts`.
pub(super) fn meter(meter: MeterSpec) -> String {
    let percent = write_quantity(Quantity {
        number: meter.of_reading,
        dimension: Dimension::Ratio,
    });
    format!(
        "± ({percent} + {} counts) on a display of {} counts",
        meter.counts, meter.display
    )
}

/// `3 circuits`, `1 circuit`.
pub(super) fn counted(count: usize, one: &str, many: &str) -> String {
    together(&format!("{count} {}", if count == 1 { one } else { many }))
}

/// A phrase as a sentence: a capital at its head, a full stop at its end.
pub(super) fn sentence(phrase: &str) -> String {
    let phrase = phrase.trim();
    let stop = if phrase.is_empty() || phrase.ends_with(['.', '!', '?']) {
        ""
    } else {
        "."
    };
    format!("{}{stop}", capital(phrase))
}

/// A phrase with a capital at its head.
pub(super) fn capital(phrase: &str) -> String {
    let mut letters = phrase.chars();
    let head = letters.next().map(|head| head.to_uppercase().to_string());
    format!("{}{}", head.unwrap_or_default(), letters.as_str())
}

/// `2 min`; nothing where the time is not known.
pub(super) fn minutes(minutes: f64) -> String {
    if minutes <= 0.0 {
        return String::new();
    }
    together(&format!("{minutes} min"))
}

/// A single number to two significant digits: `580 kohm`, `0.12 ohm`, `-12 K`.
pub(super) fn rough(number: f64, dimension: Dimension) -> String {
    let number = if number == 0.0 {
        0.0
    } else {
        let step = maths::pow(10.0, maths::log10(number.abs()).floor() - 1.0);
        (number / step).round() * step
    };
    together(&write_quantity(Quantity { number, dimension }))
}

/// Volts to a hundredth, as a chart's table shows them.
pub(super) fn rough_volts(volts: f64) -> String {
    let number = (volts * 100.0).round() / 100.0;
    together(&write_quantity(Quantity {
        number,
        dimension: Dimension::Voltage,
    }))
}
