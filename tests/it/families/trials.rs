//! Trials: a fault of a shipped family drawn by its prior, the vehicle's parts drawn inside their tolerances,
//! all tests of the order read with the meter's error and typed with few digits or many; the true fault must stay among the suspects. Law, no
//! source: elimination by bands is safe if and only if bands hold.

use super::deck;
use crate::reason::trials::{Dice, draw, exact, shown};
use loomleaf::circuit::fault::{Fault, FaultScope, faults};
use loomleaf::circuit::{HookUp, Network, Setting, Values, solve};
use loomleaf::quantity::Toleranced;
use loomleaf::reason::{
    Observation, Observed, Proven, Signatures, Slight, Suspect, Verdict, suspects, verdict,
};
use loomleaf::sheet::{Sheet, sheet};

/// Trials a family.
const TRIALS: usize = 1000;

/// One vehicle under test.
struct Vehicle<'a> {
    network: &'a Network,
    values: Values,
    /// What each state sets, drawn once.
    states: Vec<(Setting, Values)>,
}

impl<'a> Vehicle<'a> {
    fn draw(network: &'a Network, hookup: &HookUp, dice: &mut Dice) -> Self {
        let anywhere = HookUp {
            setting: Setting::default(),
            ..hookup.clone()
        };
        Self {
            network,
            values: draw(network, dice, &anywhere),
            states: Vec::new(),
        }
    }

    /// The vehicle's own values, with what this state of the part sets drawn inside its limits.
    fn values_in(&mut self, hookup: &HookUp, dice: &mut Dice) -> Values {
        let known = self
            .states
            .iter()
            .position(|(own, _)| *own == hookup.setting);
        let place = known.unwrap_or_else(|| {
            let own = draw(self.network, dice, hookup);
            self.states.push((hookup.setting.clone(), own));
            self.states.len() - 1
        });
        let mut values = self.values.clone();
        for (parameter, _) in &hookup.setting.overrides {
            values.set(*parameter, self.states[place].1.get(*parameter).unwrap());
        }
        values
    }
}

/// A fault by how often it is the cause.
fn cause(faults: &[Fault], dice: &mut Dice) -> usize {
    let total: f64 = faults.iter().map(|fault| fault.prior).sum();
    let mut rest = dice.between(0.0, total);
    let found = faults.iter().position(|fault| {
        rest -= fault.prior;
        rest <= 0.0
    });
    found.unwrap_or(0)
}

/// The hook-up with its load somewhere inside the load's own tolerance.
fn with_loads(hookup: &HookUp, dice: &mut Dice) -> HookUp {
    let mut drawn = hookup.clone();
    for link in &mut drawn.links {
        let nominal = dice.between(link.ohms.low, link.ohms.high);
        link.ohms = Toleranced {
            low: nominal,
            nominal,
            high: nominal,
        };
    }
    drawn
}

/// A reading as one types it: with all its digits, or only some.
fn typed(reading: Observed, dice: &mut Dice) -> Observed {
    let step = [0.0, 0.01, 0.1, 1.0][dice.pick(4)];
    match reading {
        Observed::Value { number, .. } if 0.0 < step => Observed::Value {
            number: (number / step).round() * step,
            within: step / 2.0,
        },
        other => other,
    }
}

/// One trial: repairs left, those too slight to show left out.
fn trial(sheet: &Sheet, all: &[Vec<Fault>], dice: &mut Dice) -> usize {
    let variant = dice.pick(sheet.variants.len());
    let number = cause(&all[variant], dice);
    trial_of(sheet, all, (variant, number), dice)
}

/// The same with this fault of this variant.
pub(super) fn trial_of(
    sheet: &Sheet,
    all: &[Vec<Fault>],
    (variant, number): (usize, usize),
    dice: &mut Dice,
) -> usize {
    let signatures = &sheet.reasoning.signatures;
    let circuit = &sheet.variants[variant];
    let (fault, ohms) = exact(&all[variant][number], dice);
    let network = fault.apply(&circuit.network);
    let mut vehicle = Vehicle::draw(&network, &circuit.hooked[0].hookup, dice);
    let mut read = Vec::new();
    for (probe, hooked) in circuit.hooked.iter().enumerate() {
        if sheet.in_order <= hooked.test {
            continue;
        }
        let values = vehicle.values_in(&hooked.hookup, dice);
        let hookup = with_loads(&hooked.hookup, dice);
        // A circuit that hunts has no reading to write down.
        if let Ok(reading) = solve::read(&network, &hookup, &values) {
            let reading = typed(shown(reading, dice, &network, &hookup), dice);
            read.push(Observation { probe, reading });
        }
    }
    let found = suspects(signatures, &read);
    let is_true = |row: &usize| {
        let row = &signatures.rows[*row];
        let here = row
            .resistance
            .is_none_or(|span| span.low <= ohms && ohms <= span.high);
        row.fault == Some(number) && row.variant == variant && here
    };
    let kept = found
        .left
        .iter()
        .flat_map(|one: &Suspect| &one.rows)
        .any(is_true);
    let gone = || eliminated(signatures, &read, is_true);
    assert!(
        kept,
        "{}: {} at {ohms} ohm: {}",
        sheet.card,
        fault.name,
        gone()
    );
    let told = found.left.iter().find(|one| one.rows.iter().any(is_true));
    if let Some(span) = told.and_then(|one| one.resistance) {
        let inside = span.low <= ohms && ohms <= span.high;
        let name = &fault.name;
        assert!(inside, "{}: {name} is {ohms}, told {span:?}", sheet.card);
    }
    holds(&verdict(signatures, &read), &fault, ohms);
    found.left.iter().filter(|one| !one.faint).count()
}

/// Which readings struck out the rows of the true fault.
fn eliminated(
    signatures: &Signatures,
    read: &[Observation],
    is_true: impl Fn(&usize) -> bool,
) -> String {
    let mut why = String::new();
    for row in (0..signatures.rows.len()).filter(is_true) {
        for one in read.iter().filter(|one| !signatures.fits(row, one)) {
            let test = &signatures.probes[one.probe].test;
            let band = &signatures.rows[row].bands[one.probe];
            why += &format!("{test} {one:?} {band:?}\n");
        }
    }
    why
}

/// Nothing is proven good that is at fault, unless the exception made for it holds the fault.
pub(super) fn holds(verdict: &Verdict, fault: &Fault, ohms: f64) {
    let about =
        |one: &&Proven| one.subject == fault.subject && one.site == Some(fault.site.clone());
    for one in verdict.proven.iter().filter(about) {
        let excepted = one.but.iter().any(|but| match *but {
            Slight::SeriesBelow(most) => ohms <= most,
            Slight::LoadAbove(least) => least <= ohms,
            Slight::Outside => fault.drifts().is_some(),
        });
        let named = one.unless.contains(&fault.name);
        assert!(excepted || named, "{} at {ohms} ohm: {one:?}", fault.name);
    }
}

/// The faults of every variant.
pub(super) fn all_faults(sheet: &Sheet) -> Vec<Vec<Fault>> {
    let scope = FaultScope::default();
    let variants = sheet.variants.iter();
    variants
        .map(|variant| faults(&variant.network, &scope))
        .collect()
}

fn mean_left(sheet: &Sheet, seed: u64) -> f64 {
    let all = all_faults(sheet);
    let mut dice = Dice(seed);
    let left: usize = (0..TRIALS).map(|_| trial(sheet, &all, &mut dice)).sum();
    f64::from(u32::try_from(left).unwrap()) / f64::from(u32::try_from(TRIALS).unwrap())
}

#[test]
#[allow(clippy::print_stdout, reason = "a measure for whoever tunes families")]
fn the_true_fault_of_no_family_is_ever_eliminated() {
    let (deck, _) = deck();
    let cards: Vec<_> = deck
        .cards
        .iter()
        .filter(|card| card.id == card.family.value)
        .collect();
    let half = cards.len().div_ceil(2);
    std::thread::scope(|scope| {
        for (number, share) in (0_u64..).zip(cards.chunks(half)) {
            let deck = &deck;
            scope.spawn(move || {
                for (place, card) in (1_u64..).zip(share) {
                    let found = sheet(deck, card).0.unwrap();
                    let mean = mean_left(&found, 0x0FA1_1000 + 100 * number + place);
                    println!(
                        "{}: {TRIALS} trials, mean number of repairs left {mean:.2}",
                        card.id
                    );
                }
            });
        }
    });
}
