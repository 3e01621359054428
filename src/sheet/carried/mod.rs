//! What a phone is handed of a card: its circuit as assembled, with every test hooked up, as one text.
//!
//! In: a card and its sheet. Out: a text; and from it again the part of a sheet that readings are held
//! against. Bands and everything reasoned are not carried: the phone works them out with the
//! same code. The page has the rest (pins, order, outcome tables, values). `pen` says how plain values
//! stand in the text, `types` how each type does.

mod own_point;

pub(super) use own_point::is_one_point;
mod pen;
mod types;

use super::assemble::{definition, tests};
use super::reasoning::{probes, scope, side_by_side};
use super::shown::shown;
use super::states::curve_of;
use super::types::{Reasoning, Sheet, TestSheet};
use crate::card::{Card, Curve, Deck};
use crate::circuit::fault::{Fault, faults};
use crate::circuit::{Bands, CircuitError, Network};
use crate::reason::{Audit, Probe};
use pen::{Carry, Eye, Pen};

/// What a phone is handed of this card; none where the deck has no circuit for it.
pub fn carry(deck: &Deck, card: &Card, sheet: &Sheet) -> Option<String> {
    let mut pen = Pen::of_a_text();
    carried(deck, card, sheet)?.put(&mut pen);
    Some(pen.text)
}

/// The part of a sheet that readings are held against, of this card; none where the deck has no circuit for it.
pub fn carried(deck: &Deck, card: &Card, sheet: &Sheet) -> Option<Carried> {
    let family = definition(deck, card)?;
    let (specs, _) = tests(card, family);
    let scope = scope(card, family);
    Some(Carried {
        curve: curve_of(card, family).cloned(),
        card: sheet.card.clone(),
        in_order: sheet.in_order,
        tests: sheet.tests.clone(),
        of_test: sheet.reasoning.of_test.clone(),
        variants: sheet
            .variants
            .iter()
            .map(|variant| {
                let faults = faults(&variant.network, &scope);
                let probes = probes(card, &specs, variant);
                Worked {
                    network: variant.network.clone(),
                    probes,
                    faults,
                }
            })
            .collect(),
    })
}

/// A card's circuit as it came out of a text.
#[derive(Clone, Debug)]
pub struct Carried {
    card: String,
    in_order: usize,
    /// How the part follows temperature, where the card says so.
    curve: Option<Curve>,
    tests: Vec<TestSheet>,
    of_test: Vec<usize>,
    variants: Vec<Worked>,
}

/// A variant of the circuit, its tests and what may be wrong in it. Faults are carried as they were found: the ways
/// to find and name them weigh more than their words.
#[derive(Clone, Debug)]
struct Worked {
    network: Network,
    probes: Vec<Probe>,
    faults: Vec<Fault>,
}

/// Reads what [`carry`] wrote; none for any other text.
pub fn unpack(text: &str) -> Option<Carried> {
    let mut eye = Eye::on(text);
    let carried = Carried::take(&mut eye);
    (!eye.blind()).then_some(carried)
}

impl Carried {
    /// Works out what readings are held against. What only a page tells stays empty.
    ///
    /// # Errors
    /// A circuit that has no answer.
    pub fn sheet(self) -> Result<Sheet, CircuitError> {
        let each = self.variants.iter();
        let each = each.map(|one| (&one.network, &one.probes[..], &one.faults[..]));
        let signatures = side_by_side(each, &Bands::default())?;
        let shown = self.variants.first().map(|one| {
            let hookups = one.probes.iter().map(|probe| &probe.hookup);
            shown(&one.network, hookups, self.curve.as_ref())
        });
        Ok(Sheet {
            card: self.card,
            variants: Vec::new(),
            pins: Vec::new(),
            tests: self.tests,
            in_order: self.in_order,
            signal: None,
            reasoning: Reasoning {
                signatures,
                of_test: self.of_test,
                outcomes: Vec::new(),
                audit: Audit::default(),
                reach: Vec::new(),
                load: None,
            },
            shown: shown.unwrap_or_default(),
            series: Vec::new(),
            values: Vec::new(),
            known_good: Vec::new(),
            cautions: Vec::new(),
        })
    }
}
