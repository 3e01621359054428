//! What a phone is handed of a card: its circuit as assembled, with every test hooked up, as one text.
//!
//! In: a card and its sheet. Out: a text; and from it again the part of a sheet that readings are held
//! against. Faults, bands and everything reasoned are not carried: the phone works them out with the
//! same code. The page has the rest (pins, order, outcome tables, values). `pen` says how plain values
//! stand in the text, `types` how each type does.

mod pen;
mod types;

use super::assemble::{definition, tests};
use super::reasoning::{probes, scope};
use super::types::{Caution, Expected, Reasoning, Sheet, TestSheet};
use crate::card::{Card, Deck, Key, Plug};
use crate::circuit::fault::{FaultScope, faults};
use crate::circuit::{CircuitError, Network};
use crate::quantity::Dimension;
use crate::reason::{Audit, Probe, Signatures, signatures};
use pen::{Carry, Eye, Pen};

/// What a phone is handed of this card; none where the deck has no circuit for it.
pub fn carry(deck: &Deck, card: &Card, sheet: &Sheet) -> Option<String> {
    let family = definition(deck, card)?;
    let (specs, _) = tests(card, family);
    let mut pen = Pen::of_a_text();
    sheet.card.put(&mut pen);
    sheet.in_order.put(&mut pen);
    scope(card, family).put(&mut pen);
    pen.count(sheet.tests.len());
    for test in &sheet.tests {
        put_test(test, &mut pen);
    }
    sheet.reasoning.of_test.put(&mut pen);
    pen.count(sheet.variants.len());
    for variant in &sheet.variants {
        variant.network.put(&mut pen);
        probes(card, &specs, &sheet.tests, variant).put(&mut pen);
    }
    Some(pen.text)
}

fn put_test(test: &TestSheet, pen: &mut Pen) {
    test.id.put(pen);
    test.title.put(pen);
    test.scan.put(pen);
    test.dimension.put(pen);
    test.minutes.put(pen);
    test.cautions.put(pen);
    test.expected.put(pen);
}

/// A card's circuit as it came out of a text.
#[derive(Clone, Debug)]
pub struct Carried {
    card: String,
    in_order: usize,
    scope: FaultScope,
    tests: Vec<TestSheet>,
    of_test: Vec<usize>,
    variants: Vec<(Network, Vec<Probe>)>,
}

/// Reads what [`carry`] wrote; none for any other text.
pub fn unpack(text: &str) -> Option<Carried> {
    let mut eye = Eye::on(text)?;
    let card = String::take(&mut eye)?;
    let in_order = usize::take(&mut eye)?;
    let scope = FaultScope::take(&mut eye)?;
    let mut tests = Vec::new();
    for _ in 0..eye.count()? {
        tests.push(take_test(&mut eye)?);
    }
    Some(Carried {
        card,
        in_order,
        scope,
        tests,
        of_test: Carry::take(&mut eye)?,
        variants: Carry::take(&mut eye)?,
    })
}

fn take_test(eye: &mut Eye<'_>) -> Option<TestSheet> {
    Some(TestSheet {
        id: Carry::take(eye)?,
        title: Carry::take(eye)?,
        scan: Carry::take(eye)?,
        dimension: Dimension::take(eye)?,
        minutes: Carry::take(eye)?,
        cautions: Vec::<Caution>::take(eye)?,
        expected: Vec::<Expected>::take(eye)?,
        plug: Plug::Unplugged,
        key: Key::Off,
        leads: None,
        links: Vec::new(),
        when: String::new(),
        why: String::new(),
        outcomes: Vec::new(),
    })
}

impl Carried {
    /// Works out what readings are held against. What only a page tells stays empty.
    ///
    /// # Errors
    /// A circuit that has no answer.
    pub fn sheet(self) -> Result<Sheet, CircuitError> {
        let signed = |(network, probes): &(Network, Vec<Probe>)| {
            signatures(network, probes, &faults(network, &self.scope))
        };
        let all: Result<Vec<Signatures>, CircuitError> = self.variants.iter().map(signed).collect();
        Ok(Sheet {
            card: self.card,
            variants: Vec::new(),
            pins: Vec::new(),
            tests: self.tests,
            in_order: self.in_order,
            signal: None,
            reasoning: Reasoning {
                signatures: Signatures::joined(all?),
                of_test: self.of_test,
                outcomes: Vec::new(),
                audit: Audit::default(),
                reach: Vec::new(),
                load: None,
            },
            series: Vec::new(),
            values: Vec::new(),
            known_good: Vec::new(),
            cautions: Vec::new(),
        })
    }
}
