//! Bench mode: a card's tests, one a screen: where the leads go, what a good circuit reads, what can be typed.
//!
//! In: a card and its sheet. Out: a page that is whole without script; script shows one test at a time and asks
//! the engine what a reading means.

use super::about::CautionLine;
use super::bench_units as units;
use super::face::{self, Faces};
use super::order;
use crate::card::{Card, ScanKind, ScanValue};
use crate::circuit::Band;
use crate::publish::drawing::connector::Detail;
use crate::publish::shelf::Entry;
use crate::publish::units::Both;
use crate::publish::{address, words};
use crate::quantity::{Dimension, read_quantity, write_interval};
use crate::report::words::{nominal, or_instead};
use crate::sheet::{Sheet, TestSheet, instead, place_name};
use serde::Serialize;

/// The page.
#[derive(Serialize)]
pub(super) struct BenchPage {
    title: String,
    /// The card's id, as its file of readings is named.
    card: String,
    /// The card's page.
    href: String,
    /// The list of runs kept on the phone.
    runs: &'static str,
    /// What a phone is handed of the card; empty where there is none.
    circuit: String,
    codes: String,
    fits: Vec<String>,
    dangers: Vec<CautionLine>,
    cares: Vec<CautionLine>,
    tests: Vec<BenchTest>,
    /// Every unit a reading can be typed in, each a key; an empty one for what a tool shows without any.
    units: Vec<String>,
}

/// A test as one screen.
#[derive(Serialize)]
struct BenchTest {
    id: String,
    anchor: String,
    title: String,
    /// `Test 2 of 6`, or that it is not in the order.
    number: String,
    minutes: String,
    when: String,
    why: String,
    /// `Unplugged, key on, engine off`.
    hookup: String,
    /// The one state of the part in which it is read, where there is one.
    state: Both,
    leads: Vec<LeadLine>,
    drawing: Option<String>,
    /// Whether it takes the width of a phone's screen to be read.
    is_wide: bool,
    /// From which side the drawing looks: `mating face`.
    view: String,
    /// Cautions of this test that a person can be hurt by, and those for the circuit.
    dangers: Vec<CautionLine>,
    cares: Vec<CautionLine>,
    /// What is asked where there is more than one place: at which point, or which scan value.
    asks: &'static str,
    places: Vec<PlaceLine>,
    own: Option<OwnPoint>,
    /// Units that a reading can be typed in, the usual one first, with bars between them.
    units: String,
    /// What can be said in place of a number.
    says: &'static str,
    /// What the tool shows, by the card, where a value does not follow the pin: a reading too.
    substitutes: Vec<String>,
}

/// A point that the card does not name, where what is good follows temperature or pressure.
#[derive(Serialize)]
struct OwnPoint {
    asks: &'static str,
    units: &'static [&'static str],
    about: &'static str,
}

/// What goes where: `Red`, `1 (signal)`.
#[derive(Serialize)]
struct LeadLine {
    name: &'static str,
    words: String,
}

/// One state of the part or one scan value at which a test is read.
#[derive(Serialize)]
struct PlaceLine {
    /// As the engine and the terminal name it: `at-rest@20 C`.
    place: String,
    label: Both,
    computed: String,
    stated: String,
    /// How a scan value follows the pin, where there is more than one.
    follows: String,
    /// What a scan tool that shows degrees shows then, where it is an end of its scale.
    in_degrees: &'static str,
    /// Units of a value that the module works out, which may be the tool's own; as the test has them where empty.
    units: String,
}

/// Width of a drawing, in CSS pixels, from which on it is too small beside the words to read its marks.
const WIDE: f64 = 240.0;

/// The page of this card.
pub(super) fn view(entry: &Entry, circuit: &str) -> BenchPage {
    let (card, sheet) = (entry.card, entry.sheet);
    let faces = Faces::of(card, sheet);
    let listed = |values: &[crate::card::Placed<String>]| -> Vec<String> {
        values.iter().map(|one| one.value.clone()).collect()
    };
    let tests: Vec<BenchTest> = (0..sheet.tests.len())
        .map(|at| test(card, sheet, at, &faces))
        .collect();
    BenchPage {
        units: keys(&tests),
        title: card.title.value.clone(),
        card: card.id.clone(),
        href: address::card(&card.id),
        runs: address::RUNS,
        circuit: circuit.to_owned(),
        codes: listed(&card.codes).join(" "),
        fits: listed(&card.fits),
        dangers: CautionLine::all(&sheet.cautions, true),
        cares: CautionLine::all(&sheet.cautions, false),
        tests,
    }
}

fn test(card: &Card, sheet: &Sheet, at: usize, faces: &Faces) -> BenchTest {
    let test = &sheet.tests[at];
    let places = places(card, sheet, at);
    let drawn = face::of_test(test, faces, Detail::Bare);
    BenchTest {
        id: test.id.clone(),
        anchor: order::anchor(test),
        title: test.title.clone(),
        number: match at < sheet.in_order {
            true => format!("Test {} of {}", at + 1, sheet.in_order),
            false => "Not in the card’s order".to_owned(),
        },
        minutes: words::minutes(test.minutes),
        when: test.when.clone(),
        why: words::sentence(&test.why),
        hookup: words::capital(&format!(
            "{}, key {}",
            words::plug(test.plug),
            words::key(test.key)
        )),
        state: fixed_state(test, &places),
        leads: leads(test, &places),
        is_wide: drawn.as_ref().is_some_and(|drawn| WIDE < drawn.width),
        drawing: drawn.map(|drawn| drawn.svg),
        view: face::view_of(test, faces),
        dangers: CautionLine::all(&test.cautions, true),
        cares: CautionLine::all(&test.cautions, false),
        asks: match test.scan {
            Some(_) => "Which value did you watch?",
            None => "In which state is it?",
        },
        own: own(sheet, at),
        units: units::of_test(sheet, test),
        says: said(test),
        substitutes: substitutes(card, test),
        places,
    }
}

/// The state of a test that is read in one alone; its other places, if any, are scan values.
fn fixed_state(test: &TestSheet, places: &[PlaceLine]) -> Both {
    let only = test.expected.first().filter(|_| places.len() == 1);
    let state = only.map_or("", |only| only.state.as_str());
    match state.starts_with("by ") {
        true => Both::default(),
        false => Both::of(state),
    }
}

fn leads(test: &TestSheet, places: &[PlaceLine]) -> Vec<LeadLine> {
    let jumpers = test.links.iter().map(|words| ("Place", words.clone()));
    let leads = test.leads.iter().flat_map(|leads| {
        [
            ("Red", leads.red.words.clone()),
            ("Black", leads.black.words.clone()),
        ]
    });
    let watched = || {
        let names = places
            .iter()
            .map(|place| format!("\u{201c}{}\u{201d}", place.label.si));
        names.collect::<Vec<_>>().join(" or ")
    };
    let scan = test.scan.iter().map(|name| match places.len() {
        0 | 1 => ("Watch", name.clone()),
        _ => ("Watch", watched()),
    });
    let all = jumpers.chain(leads).chain(scan);
    all.map(|(name, words)| LeadLine {
        name,
        words: words.replace("good ground", "good\u{a0}ground"),
    })
    .collect()
}

/// Every state and scan value of a test, each with what a good circuit reads.
fn places(card: &Card, sheet: &Sheet, at: usize) -> Vec<PlaceLine> {
    let test = &sheet.tests[at];
    let signatures = &sheet.reasoning.signatures;
    let probes = (0..signatures.probes.len()).filter(|probe| sheet.reasoning.of_test[*probe] == at);
    let line = |probe: usize| {
        let state = &signatures.probes[probe].state;
        let stated = test.expected.iter().find(|one| one.state == *state);
        let watched = watched(test, state);
        let scan = card
            .scan
            .iter()
            .find(|scan| Some(scan.name.value.as_str()) == watched);
        let good = signatures.healthy(probe);
        let instead = scan
            .map(|scan| instead(&scan.kind, &good))
            .unwrap_or_default();
        let stated = stated.and_then(|one| one.stated);
        PlaceLine {
            place: place_name(sheet, probe),
            label: Both::of(watched.unwrap_or(state)),
            computed: match says_substitute(scan) && !instead.is_empty() {
                true => instead.clone(),
                false => or_instead(words::band_on_page(&good, test.dimension), &instead),
            },
            stated: stated
                .map(|band| words::together(&write_interval(band, Dimension::Voltage)))
                .unwrap_or_default(),
            follows: scan
                .map(|scan| words::scan_kind(&scan.kind))
                .unwrap_or_default(),
            in_degrees: match instead.is_empty() {
                true => in_degrees(sheet, test, &good),
                // The substitute is what the tool shows then.
                false => "",
            },
            units: scan
                .and_then(|scan| units::of_derived(sheet, &scan.kind))
                .unwrap_or_default(),
        }
    };
    probes.map(line).collect()
}

/// Whether one can give a point of one's own: the engine works out what is good there.
fn own(sheet: &Sheet, at: usize) -> Option<OwnPoint> {
    let reasoning = &sheet.reasoning;
    let of_test = reasoning.of_test.iter().zip(&reasoning.signatures.probes);
    let all = |dimension| {
        let mut own = of_test.clone().filter(|(of, _)| **of == at);
        own.all(|(_, probe)| read_quantity(&probe.state, dimension).is_ok())
    };
    of_test.clone().find(|(of, _)| **of == at)?;
    if all(Dimension::Temperature) {
        return Some(OwnPoint {
            asks: "Another temperature at the part",
            units: &["C", "F"],
            about: "Taken as known to 2 °C (3.6 °F). What is good there is worked out with the reading.",
        });
    }
    all(Dimension::Pressure).then_some(OwnPoint {
        asks: "Another pressure at the part",
        units: &["kPa", "bar", "psi"],
        about: "Between two points of the card. What is good there is worked out with the reading.",
    })
}

fn in_degrees(sheet: &Sheet, test: &TestSheet, good: &Band) -> &'static str {
    let ends = sheet.shown.first().zip(sheet.shown.last());
    let (Some((cold, hot)), Some(volts), true) = (ends, nominal(good), test.scan.is_some()) else {
        return "";
    };
    let (low, high) = (cold.1.min(hot.1), cold.1.max(hot.1));
    match (volts <= low, volts >= high) {
        (true, _) if hot.1 < cold.1 => "in degrees: the hot end of its scale",
        (_, true) if cold.1 < hot.1 => "in degrees: the hot end of its scale",
        (true, _) | (_, true) => "in degrees: the cold end of its scale",
        _ => "",
    }
}

/// Whether a scan value has words for what it shows where it does not follow the pin.
fn says_substitute(scan: Option<&ScanValue>) -> bool {
    let kind = scan.map(|scan| &scan.kind);
    matches!(
        kind,
        Some(ScanKind::Derived {
            substitute: Some(_),
            ..
        })
    )
}

/// The scan value that a place of a test is read by; none for a meter.
fn watched<'a>(test: &'a TestSheet, state: &'a str) -> Option<&'a str> {
    let own = test.scan.as_deref()?;
    let named = state.split_once("by \u{201c}");
    let named = named.and_then(|(_, rest)| rest.strip_suffix('\u{201d}'));
    Some(named.unwrap_or(own.trim_matches(['\u{201c}', '\u{201d}'])))
}

/// What the values of a test show outside the range in which they follow, without the card's "shows".
fn substitutes(card: &Card, test: &TestSheet) -> Vec<String> {
    if test.scan.is_none() {
        return Vec::new();
    }
    let mut all: Vec<String> = Vec::new();
    for scan in &card.scan {
        let ScanKind::Derived {
            substitute: Some(words),
            ..
        } = &scan.kind
        else {
            continue;
        };
        let shown = words.strip_prefix("shows ").unwrap_or(words).to_owned();
        let is_reading = shown.contains(|letter: char| letter.is_ascii_digit());
        if is_reading && !all.contains(&shown) {
            all.push(shown);
        }
    }
    all
}

/// Keys for the units of all tests: those of tools first, as a place offers them.
fn keys(tests: &[BenchTest]) -> Vec<String> {
    let places = tests.iter().flat_map(|test| &test.places);
    let all = places.map(|place| &place.units);
    units::keys(all.chain(tests.iter().map(|test| &test.units)))
}

/// What can be said in place of a number, by a letter each; the keys that every test has are not among them.
fn said(test: &TestSheet) -> &'static str {
    match (test.dimension, test.scan.is_some()) {
        (_, true) => "no change",
        (Dimension::Resistance, _) => "OL",
        (Dimension::Voltage, _) => "drifts",
        _ => "",
    }
}
