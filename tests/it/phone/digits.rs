//! Same digits in the program and in Chromium: random values for every calculator, random readings for
//! every card of the demo. The answers must be one text.

use super::carried::solved;
use super::{Phone, circuit, question};
use loomleaf::calc::{CALCULATORS, Calculator, Input, Kind};
use loomleaf::circuit::Band;
use loomleaf::phone::Engine;
use loomleaf::quantity::Dimension;
use loomleaf::sheet::{Sheet, place_name};

/// Random inputs a calculator.
const VALUES: usize = 2_000;
/// Questions sent to the browser at once.
const AT_ONCE: usize = 500;
/// Random diagnoses over all cards.
const DIAGNOSES: usize = 200;

/// Numbers without a pattern, the same in every run (an xorshift: good enough to draw texts).
pub(super) struct Dice(u64);

impl Dice {
    pub(super) fn new(start: u64) -> Self {
        Self(0x9e37_79b9_7f4a_7c15 ^ start)
    }

    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    fn below(&mut self, count: usize) -> usize {
        let count = u64::try_from(count.max(1)).unwrap();
        usize::try_from(self.next() % count).unwrap()
    }

    fn one_in(&mut self, count: usize) -> bool {
        self.below(count) == 0
    }

    /// From 0 to 1.
    fn share(&mut self) -> f64 {
        f64::from(u32::try_from(self.next() >> 32).unwrap()) / f64::from(u32::MAX)
    }

    fn choose<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.below(all.len())]
    }

    /// A number between limits, as often small as large, with up to so many digits as people type.
    fn number(&mut self, low: f64, high: f64) -> String {
        let (low, high) = (low.max(-1e12), high.min(1e12));
        let even = low + (high - low) * self.share();
        let number = match low > 0.0 && self.one_in(2) {
            true => low * (high / low).powf(self.share()),
            false => even,
        };
        match self.below(4) {
            0 => format!("{number}"),
            1 => format!("{number:.0}"),
            2 => format!("{number:.2}"),
            _ => format!("{number:.3e}"),
        }
    }

    /// What someone might type into an input.
    fn typed(&mut self, input: &Input) -> String {
        if self.one_in(25) {
            return (*self.choose(&["", "-", "abc", "-1", "1e400", "12,5", "NaN", "0"])).to_owned();
        }
        match input.kind {
            Kind::Quantity {
                dimension,
                low,
                high,
            } => self.quantity(dimension, low, high),
            Kind::Any {
                dimensions,
                low,
                high,
            } => {
                let dimension = *self.choose(dimensions);
                self.quantity(dimension, low, high)
            }
            Kind::List {
                dimensions,
                low,
                high,
                least,
                most,
            } => {
                let dimension = *self.choose(dimensions);
                let count = least + self.below(most.min(least + 12) - least + 1);
                let one = |_| self.quantity(dimension, low, high);
                (0..count).map(one).collect::<Vec<_>>().join("; ")
            }
            Kind::WireSize => match self.one_in(2) {
                true => format!("{} AWG", self.below(30)),
                false => format!(
                    "{} mm2",
                    self.choose(&["0.35", "0.5", "1", "2.5", "6", "35"])
                ),
            },
            Kind::Number { low, high } => self.number(low, high),
            Kind::Count { low, high } => {
                self.number(f64::from(low), f64::from(high.min(low + 200)))
            }
            Kind::Choice(words) => self.choose(words).key.to_owned(),
            Kind::Words(_) => (*self.choose(&["shop manual", "a", "5 %"])).to_owned(),
        }
    }

    fn quantity(&mut self, dimension: Dimension, low: f64, high: f64) -> String {
        let number = self.number(low, high);
        match self.one_in(6) {
            true => number,
            false => format!("{number} {}", dimension.base_unit()),
        }
    }

    /// Values for a calculator: its worked example with some of the inputs typed anew, near which there
    /// are answers; now and then all of them, far from it, where there are refusals.
    fn values(&mut self, calculator: &Calculator) -> Vec<(String, String)> {
        let anew = match self.one_in(8) {
            true => calculator.inputs.len(),
            false => 1 + self.below(3),
        };
        let mut values: Vec<(String, String)> = Vec::new();
        for (key, text) in calculator.example {
            values.push(((*key).to_owned(), (*text).to_owned()));
        }
        for _ in 0..anew {
            let input = self.choose(calculator.inputs);
            let text = self.typed(input);
            match values.iter_mut().find(|(key, _)| key == input.key) {
                Some((_, known)) => *known = text,
                None => values.push((input.key.to_owned(), text)),
            }
        }
        values
    }

    /// Readings as some fault of the card would give them, and some that nothing gives.
    pub(super) fn readings(&mut self, sheet: &Sheet) -> Vec<(String, String)> {
        let signatures = &sheet.reasoning.signatures;
        let row = self.choose(&signatures.rows);
        let count = 1 + self.below(5);
        let mut readings = Vec::new();
        for _ in 0..count {
            let probe = self.below(signatures.probes.len());
            let dimension = sheet.tests[sheet.reasoning.of_test[probe]].dimension;
            let text = match self.below(10) {
                0 => (*self.choose(&["OL", "floating", "no change", "cannot measure", "x", ""]))
                    .to_owned(),
                1 => format!("{} {}", self.number(0.0, 20.0), dimension.base_unit()),
                _ => self.reading(&row.bands[probe], dimension),
            };
            readings.push((place_name(sheet, probe), text));
        }
        readings
    }

    fn reading(&mut self, band: &Band, dimension: Dimension) -> String {
        let Some(interval) = band.intervals.first() else {
            return if band.no_path { "OL" } else { "floating" }.to_owned();
        };
        let number = interval.low + (interval.high - interval.low) * self.share();
        match self.one_in(2) {
            true => format!("{number:.2} {}", dimension.base_unit()),
            false => format!("{number:.4} {}", dimension.base_unit()),
        }
    }
}

/// The texts of a diagnosis.
pub(super) fn diagnose(sheet: &Sheet, readings: &[(String, String)]) -> Vec<String> {
    let mut texts = vec![
        "diagnose".to_owned(),
        circuit(&sheet.card).to_owned(),
        readings.len().to_string(),
    ];
    texts.extend(
        readings
            .iter()
            .flat_map(|(place, text)| [place.clone(), text.clone()]),
    );
    texts
}

fn native(engine: &mut Engine, texts: &[String]) -> String {
    let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
    engine.answer(&question(&texts))
}

#[test]
fn every_calculator_gives_the_same_digits_in_chromium() {
    let mut phone = Phone::start();
    let mut engine = Engine::default();
    for (number, calculator) in (0..).zip(CALCULATORS) {
        let mut dice = Dice::new(number);
        let mut answered = 0;
        for _ in 0..VALUES / AT_ONCE {
            let ask = |_| -> Vec<String> {
                let values = dice.values(calculator);
                let start = ["reckon", calculator.name].map(str::to_owned);
                let pairs = values
                    .iter()
                    .flat_map(|(key, text)| [key.clone(), text.clone()]);
                let count = [values.len().to_string()];
                start.into_iter().chain(count).chain(pairs).collect()
            };
            let questions: Vec<Vec<String>> = (0..AT_ONCE).map(ask).collect();
            for (asked, theirs) in questions.iter().zip(phone.ask(&questions)) {
                let ours = native(&mut engine, asked);
                assert_eq!(ours, theirs, "{asked:?}");
                answered += usize::from(ours.contains("\"results\":[{"));
            }
        }
        // Random values that are only ever refused would compare nothing.
        assert!(
            answered > VALUES / 20,
            "{}: {answered} answers",
            calculator.name
        );
    }
}

#[test]
fn random_diagnoses_give_the_same_digits_in_chromium() {
    let mut phone = Phone::start();
    let sheets = solved();
    let each = DIAGNOSES.div_ceil(sheets.len());
    let (mut number, mut fitting) = (0, 0);
    for (start, sheet) in (100..).zip(sheets) {
        let mut dice = Dice::new(start);
        let mut engine = Engine::default();
        let ask = |_| diagnose(sheet, &dice.readings(sheet));
        let questions: Vec<Vec<String>> = (0..each).map(ask).collect();
        for (asked, theirs) in questions.iter().zip(phone.ask(&questions)) {
            let ours = native(&mut engine, asked);
            assert_eq!(ours, theirs, "{}: {:?}", sheet.card, &asked[2..]);
            fitting += usize::from(ours.contains("\"fits\":true"));
            number += 1;
        }
    }
    assert!(number >= DIAGNOSES, "{number} diagnoses");
    assert!(
        fitting > number / 3,
        "only {fitting} of {number} fit a fault"
    );
}
