//! Assembling a sheet: variants, states, tests, pins, signal, values, cautions.
//!
//! In: a deck and a card. Out: its [`Sheet`] and findings. A circuit that cannot be solved is a
//! finding at the card's title, never a panic.

use super::hooking::Bench;
use super::reasoning::reasoning;
use super::states::{State, states};
use super::types::{
    Caution, Expected, Hooked, Leads, Sheet, SignalLine, SignalSheet, TestSheet, Variant,
};
use super::wiring::Wiring;
use super::{pins, points, series, tell, values, variants};
use crate::card::{Card, Deck, Family, ObserveSpec, TestSpec};
use crate::circuit::{Band, CircuitError};
use crate::finding::{Finding, kinds};
use crate::quantity::{Dimension, Interval};

/// The sheets of all cards, in the deck's order, with the findings that physics gives.
pub fn sheets(deck: &Deck) -> (Vec<Sheet>, Vec<Finding>) {
    let (mut all, mut findings) = (Vec::new(), Vec::new());
    for card in &deck.cards {
        let (sheet, more) = sheet(deck, card);
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
    let Some(family) = definition(deck, card) else {
        return (None, Vec::new());
    };
    let mut findings = Vec::new();
    match assemble(deck, card, family, &mut findings) {
        Ok(sheet) => {
            check_limits(card, &sheet, &mut findings);
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

/// The tests of a card: the family's with the card's own added or put in their place; those in the order first.
fn tests<'a>(card: &'a Card, family: &'a Family) -> (Vec<&'a TestSpec>, usize) {
    let order = if card.order.is_empty() {
        &family.order
    } else {
        &card.order
    };
    let replaced = |test: &&TestSpec| !card.tests.iter().any(|own| own.id.value == test.id.value);
    let all: Vec<&TestSpec> = family
        .tests
        .iter()
        .filter(replaced)
        .chain(&card.tests)
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

fn assemble(
    deck: &Deck,
    card: &Card,
    family: &Family,
    findings: &mut Vec<Finding>,
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
        let hooked = hook_all(&bench, &specs)?;
        pins::add_bands(&bench, &mut pin_sheets)?;
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
    let reasoning = reasoning(card, family, &specs, &sheets, &built)?;
    tell::add_outcomes(&mut sheets, &reasoning);
    Ok(Sheet {
        series: series::series(card, family, &sheets, &built, &reasoning)?,
        reasoning,
        card: card.id.clone(),
        variants: built,
        pins: pin_sheets,
        tests: sheets,
        in_order,
        signal,
        values: values::values(deck, card, family),
        cautions: cautions(deck, card, family),
    })
}

fn hook_all(bench: &Bench<'_>, specs: &[&TestSpec]) -> Result<Vec<Hooked>, CircuitError> {
    let mut hooked = Vec::new();
    for (number, test) in specs.iter().enumerate() {
        hooked.extend(bench.hook(number, test)?);
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
        ObserveSpec::Scan { .. } => (None, Some(scan_name(card)), Dimension::Voltage),
    };
    TestSheet {
        id: test.id.value.clone(),
        title: test.title.clone(),
        plug: test.plug,
        key: test.key,
        leads,
        links: Vec::new(),
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

/// The scan value to watch: one that follows the pin, where the card names one.
fn scan_name(card: &Card) -> String {
    let raw = card
        .scan
        .iter()
        .find(|scan| scan.kind == crate::card::ScanKind::Raw);
    raw.or(card.scan.first()).map_or_else(
        || "the scan value of this sensor, in volts".into(),
        |scan| scan.name.value.clone(),
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
        for words in bench.link_words(spec)? {
            let words = if chooses && !variant.is_empty() {
                format!("if {variant}: {words}")
            } else {
                words
            };
            if !sheet.links.contains(&words) {
                sheet.links.push(words);
            }
        }
    }
    Ok(())
}

/// Healthy readings a test, over the variants: one line where they agree, else one a variant.
fn add_expected(card: &Card, built: &[Variant], specs: &[&TestSpec], sheets: &mut [TestSheet]) {
    for variant in built {
        for hooked in &variant.hooked {
            let sheet = &mut sheets[hooked.test];
            let same =
                |known: &Expected| known.state == hooked.state && alike(&known.band, &hooked.band);
            if sheet.expected.iter().any(same) {
                continue;
            }
            let doubled = sheet
                .expected
                .iter()
                .any(|known| known.state == hooked.state);
            let state = match (doubled, hooked.state.is_empty()) {
                (false, _) => hooked.state.clone(),
                (true, true) => format!("if {}", variant.says),
                (true, false) => format!("{}, if {}", hooked.state, variant.says),
            };
            let stated = if reads_signal(card, specs[hooked.test]) {
                stated(card, &hooked.state)
            } else {
                None
            };
            sheet.expected.push(Expected {
                state,
                band: hooked.band.clone(),
                stated,
            });
        }
    }
    name_first_variant(built, sheets);
}

/// Where a test came out differently in a later variant, its first line says its own variant too.
fn name_first_variant(built: &[Variant], sheets: &mut [TestSheet]) {
    let [first, _, ..] = built else { return };
    for sheet in sheets {
        let split = sheet
            .expected
            .iter()
            .any(|line| line.state.contains("if the ") || line.state.starts_with("if "));
        if let (true, Some(line)) = (split, sheet.expected.first_mut())
            && line.state.is_empty()
        {
            line.state = format!("if {}", first.says);
        }
    }
}

/// Two bands a reader would call the same: ends within 20 mV or 2 %.
fn alike(a: &Band, b: &Band) -> bool {
    let near = |x: f64, y: f64| (x - y).abs() <= 0.02_f64.max(0.02 * x.abs().max(y.abs()));
    a.floating == b.floating
        && a.no_path == b.no_path
        && a.intervals.len() == b.intervals.len()
        && a.intervals
            .iter()
            .zip(&b.intervals)
            .all(|(a, b)| near(a.low, b.low) && near(a.high, b.high))
}

/// Whether a test reads the working signal: plugged in, volts, signal against sensor ground.
fn reads_signal(card: &Card, test: &TestSpec) -> bool {
    let mated = test.plug != crate::card::Plug::Unplugged && test.links.is_empty();
    match &test.observes {
        ObserveSpec::Volts { red, .. } => mated && points::node_name(card, &red.value) == "signal",
        ObserveSpec::Scan { input } => mated && points::node_name(card, &input.value) == "signal",
        _ => false,
    }
}

fn stated(card: &Card, state: &str) -> Option<Interval> {
    card.signal
        .iter()
        .find(|point| point.at.value == state)
        .and_then(|point| point.reads.as_ref())
        .map(|reads| reads.value)
}

/// The signal against its points, from the first test that reads it.
fn signal_sheet(
    card: &Card,
    states: &[State],
    hooked: &[Hooked],
    specs: &[&TestSpec],
    wiring: &Wiring,
) -> Option<SignalSheet> {
    let pin = card
        .pins
        .iter()
        .find(|pin| pin.role.value == "signal")?
        .label
        .value
        .clone();
    let test = specs.iter().position(|test| reads_signal(card, test))?;
    let line = |hooked: &Hooked| {
        let state = states.iter().find(|state| state.name == hooked.state)?;
        let band = hull(&hooked.band)?;
        let at = state.point.as_ref().and_then(|point| point.at_quantity);
        let ohms = state
            .follows
            .filter(|(_, dimension)| *dimension == Dimension::Resistance)
            .map(|(range, _)| range);
        let stated = state
            .point
            .as_ref()
            .and_then(|point| point.reads.as_ref())
            .map(|reads| reads.value);
        Some(SignalLine {
            at: hooked.state.clone(),
            x: at.map(|at| (at.number, at.dimension)),
            band,
            stated,
            ohms,
        })
    };
    let points: Vec<SignalLine> = hooked
        .iter()
        .filter(|hooked| hooked.test == test)
        .filter_map(line)
        .collect();
    let input = wiring
        .network
        .inputs()
        .iter()
        .find(|input| input.role == "signal");
    let top = points
        .iter()
        .map(|point| point.band.high)
        .fold(input.map_or(5.0, |input| input.full), f64::max);
    (!points.is_empty()).then(|| SignalSheet {
        pin,
        points,
        valid: input.and_then(|input| input.valid),
        full: top,
    })
}

fn hull(band: &Band) -> Option<Interval> {
    let (first, last) = (band.intervals.first()?, band.intervals.last()?);
    Some(Interval {
        low: first.low,
        high: last.high,
    })
}

/// Cautions of the card, then of its family, those that can hurt a person first.
fn cautions(deck: &Deck, card: &Card, family: &Family) -> Vec<Caution> {
    let mut all: Vec<Caution> = Vec::new();
    let ids = card
        .cautions
        .iter()
        .map(|caution| caution.value.as_str())
        .chain(family.cautions.iter().map(String::as_str));
    for text in ids {
        let own = || Caution {
            id: String::new(),
            title: String::new(),
            says: text.to_owned(),
            can_hurt: true,
        };
        let found = caution(deck, text).unwrap_or_else(own);
        if !all.contains(&found) {
            all.push(found);
        }
    }
    all.sort_by_key(|caution| !caution.can_hurt);
    all
}

fn caution(deck: &Deck, id: &str) -> Option<Caution> {
    let spec = deck.cautions.get(id)?;
    Some(Caution {
        id: id.to_owned(),
        title: spec.title.clone(),
        says: spec.says.clone(),
        can_hurt: spec.can_hurt,
    })
}

/// Findings that need the solved circuit: a stated band that the circuit contradicts, an input limit inside the signal.
fn check_limits(card: &Card, sheet: &Sheet, findings: &mut Vec<Finding>) {
    let Some(signal) = &sheet.signal else { return };
    for point in &signal.points {
        let Some(written) = card
            .signal
            .iter()
            .find(|written| written.at.value == point.at)
        else {
            continue;
        };
        let Some(reads) = &written.reads else {
            continue;
        };
        if reads.value.high < point.band.low || point.band.high < reads.value.low {
            let text = crate::quantity::write_interval(point.band, Dimension::Voltage);
            let typed = crate::quantity::write_interval(reads.value, Dimension::Voltage);
            findings.push(kinds::signal_point_out_of_reach(
                reads.place.clone(),
                &point.at,
                &typed,
                &text,
            ));
        }
        if let Some(valid) = signal.valid
            && (reads.value.low < valid.low || valid.high < reads.value.high)
        {
            let limits = crate::quantity::write_interval(valid, Dimension::Voltage);
            findings.push(kinds::input_limit_inside_signal(
                reads.place.clone(),
                &point.at,
                &limits,
            ));
        }
    }
}
