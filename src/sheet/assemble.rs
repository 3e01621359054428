//! Assembling a sheet: variants, states, tests, pins, signal, values, cautions.
//!
//! In: a deck and a card. Out: its [`Sheet`] and findings. A circuit that cannot be solved is a
//! finding at the card's title, never a panic.

use super::cautions::{caution, cautions};
use super::expected::add_expected;
use super::hooking::Bench;
use super::known_good::known_good;
use super::order_check::check_order;
use super::reasoning::reasoning;
use super::shown::shown;
use super::signal::{check_limits, signal_sheet};
use super::states::{curve_of, states};
use super::types::{Hooked, Leads, Sheet, TestSheet, Variant};
use super::wiring::Wiring;
use super::{pins, points, series, tell, values, variants};
use crate::card::{Card, Deck, Family, ObserveSpec, Placed, ScanKind, TestSpec};
use crate::circuit::{Bands, CircuitError};
use crate::finding::{Finding, kinds};
use crate::quantity::Dimension;

/// The sheets of all cards, in the deck's order, with the findings that physics gives.
pub fn sheets(deck: &Deck) -> (Vec<Sheet>, Vec<Finding>) {
    let (mut all, mut findings) = (Vec::new(), Vec::new());
    let bands = Bands::default();
    for card in &deck.cards {
        let (sheet, more) = sheet_with(deck, card, &bands);
        all.extend(sheet);
        findings.extend(more);
    }
    (all, findings)
}

/// The circuit definition of a card: its own, or its family's.
pub fn definition<'a>(deck: &'a Deck, card: &'a Card) -> Option<&'a Family> {
    match &card.circuit {
        Some(own) => Some(own),
        None => deck.families.get(&card.family.value),
    }
}

/// The sheet of one card; none where its circuit has no answer (a finding says why).
pub fn sheet(deck: &Deck, card: &Card) -> (Option<Sheet>, Vec<Finding>) {
    sheet_with(deck, card, &Bands::default())
}

/// As [`sheet`], with the bands that other cards gave: what cards have in common is solved once.
pub fn sheet_with(deck: &Deck, card: &Card, bands: &Bands) -> (Option<Sheet>, Vec<Finding>) {
    let Some(family) = definition(deck, card) else {
        return (None, Vec::new());
    };
    let mut findings = Vec::new();
    match assemble(deck, (card, family), &mut findings, bands) {
        Ok(mut sheet) => {
            check_limits(card, &sheet, &mut findings);
            check_order(card, &sheet.reasoning, &mut findings);
            let (known, strange) = known_good(deck, &sheet);
            sheet.known_good = known;
            findings.extend(strange);
            (Some(sheet), findings)
        }
        Err(error) => {
            findings.push(kinds::circuit_not_solvable(
                card.title.place.clone(),
                &error.to_string(),
            ));
            (None, findings)
        }
    }
}

/// The ids of the order, the card's or the family's.
pub(super) fn order<'a>(card: &'a Card, family: &'a Family) -> &'a [Placed<String>] {
    if card.order.is_empty() {
        &family.order
    } else {
        &card.order
    }
}

/// The tests of a card: the family's with the card's own added or put in their place; those in the order first.
pub(super) fn tests<'a>(card: &'a Card, family: &'a Family) -> (Vec<&'a TestSpec>, usize) {
    let order = order(card, family);
    let replaced = |test: &&TestSpec| !card.tests.iter().any(|own| own.id.value == test.id.value);
    let all: Vec<&TestSpec> = family
        .tests
        .iter()
        .filter(replaced)
        .chain(&card.tests)
        .filter(|test| !test.for_derived || only_derived(card, test))
        .collect();
    let find = |id: &str| all.iter().copied().find(|test| test.id.value == id);
    let first: Vec<&TestSpec> = order.iter().filter_map(|id| find(&id.value)).collect();
    let count = first.len();
    let rest = all
        .iter()
        .copied()
        .filter(|test| !order.iter().any(|id| id.value == test.id.value));
    (first.iter().copied().chain(rest).collect(), count)
}

/// Whether the pin of a test has scan values, none of them raw.
fn only_derived(card: &Card, test: &TestSpec) -> bool {
    let ObserveSpec::Scan { input } = &test.observes else {
        return false;
    };
    let role = points::node_name(card, &input.value);
    let mut own = card.scan.iter().filter(|scan| scan.role == role).peekable();
    own.peek().is_some() && own.all(|scan| scan.kind != ScanKind::Raw)
}

fn assemble(
    deck: &Deck,
    (card, family): (&Card, &Family),
    findings: &mut Vec<Finding>,
    bands: &Bands,
) -> Result<Sheet, CircuitError> {
    let (specs, in_order) = tests(card, family);
    let all = variants::variants(card, family);
    let mut sheets: Vec<TestSheet> = specs
        .iter()
        .map(|test| test_sheet(deck, card, family, test))
        .collect();
    let mut pin_sheets = pins::pins(card);
    let (mut built, mut signal) = (Vec::new(), None);
    for (number, choices) in all.iter().enumerate() {
        let wiring = Wiring::new(deck, card, family, choices)?;
        let (states, more) = states(card, family, &wiring)?;
        if number == 0 {
            findings.extend(more);
        }
        let bench = Bench {
            deck,
            card,
            family,
            wiring: &wiring,
            states: &states,
        };
        let hooked = hook_all(&bench, &specs, bands)?;
        pins::add_bands(&bench, &mut pin_sheets, bands)?;
        add_links(
            &bench,
            &specs,
            &mut sheets,
            &variants::words(family, &all, choices),
        )?;
        signal = signal.or(signal_sheet(card, &states, &hooked, &specs, &wiring));
        built.push(Variant {
            says: variants::words(family, &all, choices),
            network: wiring.network,
            hooked,
        });
    }
    add_expected(card, &built, &specs, &mut sheets);
    let reasoning = reasoning(card, family, &specs, &built, bands)?;
    tell::add_outcomes(&mut sheets, in_order, &reasoning);
    Ok(Sheet {
        shown: degrees(card, family, &built),
        series: series::series(card, family, &sheets, &built, &reasoning)?,
        reasoning,
        card: card.id.clone(),
        variants: built,
        pins: pin_sheets,
        tests: sheets,
        in_order,
        signal,
        values: values::values(deck, card, family),
        known_good: Vec::new(),
        cautions: cautions(deck, card, family),
    })
}

/// What a scan tool that shows degrees stands for.
fn degrees(card: &Card, family: &Family, built: &[Variant]) -> Vec<(f64, f64)> {
    let Some(first) = built.first() else {
        return Vec::new();
    };
    let hookups = first.hooked.iter().map(|hooked| &hooked.hookup);
    shown(&first.network, hookups, curve_of(card, family))
}

fn hook_all(
    bench: &Bench<'_>,
    specs: &[&TestSpec],
    bands: &Bands,
) -> Result<Vec<Hooked>, CircuitError> {
    let mut hooked = Vec::new();
    for (number, test) in specs.iter().enumerate() {
        hooked.extend(bench.hook(number, test, bands)?);
    }
    Ok(hooked)
}

/// A test without its readings.
fn test_sheet(deck: &Deck, card: &Card, family: &Family, test: &TestSpec) -> TestSheet {
    let lead = |written: &crate::card::Placed<String>| points::lead(card, &written.value);
    let (leads, scan, dimension) = match &test.observes {
        ObserveSpec::Volts { red, black } => (
            Some(Leads {
                red: lead(red),
                black: lead(black),
            }),
            None,
            Dimension::Voltage,
        ),
        ObserveSpec::Ohms { red, black } => (
            Some(Leads {
                red: lead(red),
                black: lead(black),
            }),
            None,
            Dimension::Resistance,
        ),
        ObserveSpec::Amps { red, black } => (
            Some(Leads {
                red: lead(red),
                black: lead(black),
            }),
            None,
            Dimension::Current,
        ),
        ObserveSpec::Scan { input } => (
            None,
            Some(scan_name(card, &points::node_name(card, &input.value))),
            Dimension::Voltage,
        ),
    };
    TestSheet {
        id: test.id.value.clone(),
        title: test.title.clone(),
        plug: test.plug,
        key: test.key,
        leads,
        links: Vec::new(),
        bridges: Vec::new(),
        scan,
        dimension,
        when: test
            .when
            .as_ref()
            .map_or_else(String::new, |when| when_words(family, card, &when.value)),
        why: test.why.clone(),
        minutes: test.minutes,
        cautions: test
            .cautions
            .iter()
            .filter_map(|id| caution(deck, id))
            .collect(),
        expected: Vec::new(),
        outcomes: Vec::new(),
    }
}

/// The scan value to watch: one that follows this pin, raw where the card names one.
fn scan_name(card: &Card, role: &str) -> String {
    let known = || card.scan.iter().filter(|scan| scan.role == role);
    let raw = known().find(|scan| scan.kind == ScanKind::Raw);
    raw.or(known().next()).map_or_else(
        || format!("the {role} value in volts"),
        |scan| format!("\u{201c}{}\u{201d}", scan.name.value),
    )
}

/// `supply is low` in the reader's words: the test's title in place of its id.
fn when_words(family: &Family, card: &Card, when: &str) -> String {
    let Some((id, rest)) = when.split_once(' ') else {
        return when.to_owned();
    };
    let title = card
        .tests
        .iter()
        .chain(&family.tests)
        .find(|test| test.id.value == id)
        .map(|test| &test.title);
    title.map_or_else(
        || when.to_owned(),
        |title| format!("\u{201c}{title}\u{201d} {rest}"),
    )
}

/// Words for jumpers; where variants differ each says when it holds.
fn add_links(
    bench: &Bench<'_>,
    specs: &[&TestSpec],
    sheets: &mut [TestSheet],
    variant: &str,
) -> Result<(), CircuitError> {
    for (spec, sheet) in specs.iter().zip(sheets) {
        let chooses = spec.links.iter().any(|link| link.to.value == "other rail");
        for mut bridge in bench.bridges(spec)? {
            bridge.depends = chooses && !variant.is_empty();
            let words = match bridge.depends {
                true => format!("if {variant}: {}", bridge.words()),
                false => bridge.words(),
            };
            if !sheet.links.contains(&words) {
                sheet.links.push(words);
                sheet.bridges.push(bridge);
            }
        }
    }
    Ok(())
}
