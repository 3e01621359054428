//! The page of a card, in reading order.

use super::Link;
use super::about::CautionLine;
use super::apart::{self, Apart};
use super::calculate::{self, CalculateLine};
use super::drawn::{self, CircuitView};
use super::expected::{self, ExpectedReadings, ReadsLine};
use super::face::{self, Faces};
use super::known_good::{self, KnownGoodReadings};
use super::order::{self, TestView};
use super::paper::{OnPaper, Paper};
use super::pins::{self, PinLine};
use super::resistance::{self, Resistance};
use super::signal::{self, SignalView};
use crate::card::{Card, Placed};
use crate::publish::shelf::{Entry, Shelf};
use crate::publish::units::Both;
use crate::publish::{address, markdown, words};
use crate::quantity::{Dimension, Quantity, write_quantity};
use crate::sheet::{Sheet, TestSheet};
use serde::Serialize;

/// A card's page.
#[derive(Serialize)]
pub(super) struct CardPage {
    title: String,
    #[serde(flatten)]
    files: CardFiles,
    /// Where every reading is told.
    readings: String,
    /// Where its tests stand one a screen.
    bench: String,
    /// The letters of its sheet of paper, and what stands there besides.
    paper: String,
    /// Whether paper lacks what wrong readings of some tests mean, and whether it has that of any.
    cut: bool,
    told: bool,
    /// Whether paper has cautions by name alone.
    cautions_cut: bool,
    family: Option<Link>,
    family_says: String,
    system: Option<Link>,
    fits: Vec<Link>,
    also_called: String,
    codes: Vec<Link>,
    first: FirstTest,
    dangers: Vec<CautionLine>,
    cares: Vec<CautionLine>,
    pins: Vec<PinLine>,
    /// Whether a label takes more room than most connectors print.
    long_pins: bool,
    pins_source: String,
    drawn: Option<CircuitView>,
    wires: Vec<WireLine>,
    wires_source: String,
    expected: ExpectedReadings,
    states_any: bool,
    stated_source: String,
    order: Vec<TestView>,
    more_tests: Vec<TestView>,
    apart: Option<Apart>,
    resistance: Option<Resistance>,
    signal: Option<SignalView>,
    scan: Vec<ScanLine>,
    calculate: Vec<CalculateLine>,
    known_good: Option<KnownGoodReadings>,
    /// Whether values of its circuit are listed, on the page of readings.
    values: bool,
    meter: String,
    limits: String,
    notes: String,
    sources: Vec<String>,
}

/// Files that belong to a card, each by its path from the root; empty where there is none.
#[derive(Clone, Serialize)]
pub(super) struct CardFiles {
    /// What a phone is handed of it.
    pub(super) circuit: String,
    /// The QR code of its address.
    pub(super) code: String,
}

/// The connector, and what the first test should read on it.
#[derive(Serialize)]
pub(super) struct FirstTest {
    drawing: String,
    /// Width and height of the drawing in CSS pixels.
    #[serde(skip)]
    pub(super) size: (f64, f64),
    pub(super) caption: String,
    title: String,
    anchor: String,
    hookup: String,
    red: String,
    black: String,
    watch: String,
    links: Vec<String>,
    reads: Vec<ReadsLine>,
    more_states: usize,
}

impl FirstTest {
    /// Letters of the sentence beside the drawing, and how many readings stand below it.
    pub(super) fn letters(&self) -> (usize, usize) {
        /// What stands between the words of the card.
        const BETWEEN: usize = 48;
        let links: usize = self.links.iter().map(|link| link.len() + 2).sum();
        let words = [&self.hookup, &self.red, &self.black, &self.watch];
        let words: usize = words.into_iter().map(String::len).sum();
        (BETWEEN + links + words, self.reads.len())
    }
}

/// Length and size of a wire.
#[derive(Serialize)]
struct WireLine {
    role: String,
    length: String,
    area: Both,
}

/// A value that a scan tool shows.
#[derive(Serialize)]
struct ScanLine {
    name: String,
    follows: String,
    says: String,
}

/// States shown in the first panel; a third would push the first reading off a phone's first view.
const FIRST_STATES: usize = 2;

// flat: a line for each field of the page, in its order.
/// The page of this card.
pub(super) fn view(shelf: &Shelf, entry: &Entry, files: &CardFiles) -> CardPage {
    let Entry {
        card,
        sheet,
        family,
    } = *entry;
    let faces = Faces::of(card, sheet);
    let in_order = sheet.in_order.min(sheet.tests.len());
    let (mut order, mut more_tests) = tests(sheet, &faces, in_order);
    let cautions = |can_hurt| CautionLine::all(&sheet.cautions, can_hurt);
    let stated = |test: &TestSheet| test.expected.iter().any(|state| state.stated.is_some());
    let sources = sources(entry);
    let (first, drawn) = (first_test(entry, &faces), drawn::view(sheet));
    let paper = Paper::of(&OnPaper {
        card,
        sheet,
        first: &first,
        drawn: drawn.as_ref(),
        order: &order,
        sources: &sources,
    });
    let off_paper = order.iter_mut().skip(paper.told).chain(&mut more_tests);
    off_paper.for_each(TestView::keep_off_paper);
    CardPage {
        files: files.clone(),
        readings: address::readings(&card.id),
        bench: address::bench(&card.id),
        cut: paper.told < order.len(),
        told: order.iter().take(paper.told).any(TestView::tells),
        cautions_cut: paper.lacks_cautions(),
        paper: paper.words(),
        title: card.title.value.clone(),
        family: family_link(shelf, card),
        family_says: family.map_or_else(String::new, |family| words::sentence(&family.says)),
        system: system_link(shelf, card),
        fits: fits_links(shelf, card),
        also_called: super::CardRow::of(entry).also_called,
        codes: code_links(shelf, card),
        first,
        dangers: cautions(true),
        cares: cautions(false),
        pins: pins::lines(sheet),
        long_pins: pins::has_long_labels(sheet),
        pins_source: words::source_of(card, "pins"),
        drawn,
        wires: wires(entry),
        wires_source: words::source_of(card, "wires"),
        expected: expected::view(sheet),
        states_any: sheet.tests[..in_order].iter().any(stated),
        stated_source: words::source_of(card, "signal"),
        order,
        more_tests,
        apart: apart::view(sheet),
        resistance: resistance::view(sheet),
        signal: signal::view(card, sheet),
        scan: scan(entry),
        calculate: calculate::view(entry, shelf.deck),
        known_good: known_good::view(sheet, words::source_of(card, "signal")),
        values: !sheet.values.is_empty(),
        meter: words::meter(shelf.deck.meter),
        limits: family.map_or_else(String::new, |family| words::sentence(&family.limits)),
        notes: markdown::to_html(&card.notes, 1, |link| {
            Some(format!("../../{}", shelf.page_of(link)?))
        }),
        sources,
    }
}

/// None for a circuit of the card's own.
fn family_link(shelf: &Shelf, card: &Card) -> Option<Link> {
    let group = Shelf::group(&shelf.families, &card.family.value)?;
    card.circuit.is_none().then(|| Link::to(group))
}

fn system_link(shelf: &Shelf, card: &Card) -> Option<Link> {
    let id = card.system.as_ref()?;
    Shelf::group(&shelf.systems, &id.value).map(Link::to)
}

fn fits_links(shelf: &Shelf, card: &Card) -> Vec<Link> {
    let groups = card
        .fits
        .iter()
        .filter_map(|fits| shelf.vehicle(&fits.value));
    groups.map(Link::to).collect()
}

fn code_links(shelf: &Shelf, card: &Card) -> Vec<Link> {
    let page = |code: &Placed<String>| Shelf::group(&shelf.codes, &code.value);
    card.codes.iter().filter_map(page).map(Link::to).collect()
}

/// The tests of the order, and the others.
fn tests(sheet: &Sheet, faces: &Faces, in_order: usize) -> (Vec<TestView>, Vec<TestView>) {
    let views = sheet.tests.iter();
    let mut views: Vec<TestView> = views.map(|test| order::view(sheet, test, faces)).collect();
    let rest = views.split_off(in_order);
    (views, rest)
}

fn first_test(entry: &Entry, faces: &Faces) -> FirstTest {
    let first = entry.sheet.tests.first();
    let leads = first.and_then(|test| test.leads.as_ref());
    let (drawing, caption) = face::first(first, faces);
    let mut reads = first.map(ReadsLine::all).unwrap_or_default();
    let more_states = reads.len().saturating_sub(FIRST_STATES);
    reads.truncate(FIRST_STATES);
    let short =
        |lead: Option<&crate::sheet::Lead>| lead.map(|lead| lead.short.clone()).unwrap_or_default();
    FirstTest {
        size: (drawing.width, drawing.height),
        drawing: drawing.svg,
        caption,
        title: first.map(|test| test.title.clone()).unwrap_or_default(),
        anchor: first.map(order::anchor).unwrap_or_default(),
        hookup: first
            .map(|test| words::hookup(test.plug, test.key))
            .unwrap_or_default(),
        red: short(leads.map(|leads| &leads.red)),
        black: short(leads.map(|leads| &leads.black)),
        watch: first.and_then(|test| test.scan.clone()).unwrap_or_default(),
        links: first.map(|test| test.links.clone()).unwrap_or_default(),
        reads,
        more_states,
    }
}

fn wires(entry: &Entry) -> Vec<WireLine> {
    let size = |number: Option<f64>, dimension| {
        let quantity = number.map(|number| Quantity { number, dimension });
        let written = quantity.map(write_quantity).unwrap_or_default();
        written.replace("mm2", "mm²")
    };
    let line = |wire: &crate::card::WireSpec| WireLine {
        role: wire.role.value.clone(),
        length: size(wire.length, Dimension::Length),
        area: Both::of(&size(wire.area, Dimension::Area)),
    };
    entry.card.wires.iter().map(line).collect()
}

fn scan(entry: &Entry) -> Vec<ScanLine> {
    entry
        .card
        .scan
        .iter()
        .map(|value| ScanLine {
            name: value.name.value.clone(),
            follows: words::scan_kind(&value.kind),
            says: value.says.clone().unwrap_or_default(),
        })
        .collect()
}

/// The card's own list of sources, each with what it covers.
fn sources(entry: &Entry) -> Vec<String> {
    entry
        .card
        .sources
        .iter()
        .map(|source| {
            let covers: Vec<&str> = source
                .covers
                .iter()
                .map(|name| name.value.as_str())
                .collect();
            let covers = if covers.is_empty() {
                "all values typed on the card".to_owned()
            } else {
                covers.join(", ").replace('_', " ")
            };
            format!(
                "{} ({}): {covers}",
                source.says.value,
                words::kind(source.kind)
            )
        })
        .collect()
}
