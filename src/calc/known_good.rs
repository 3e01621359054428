//! A known-good band from readings typed as a list.
//!
//! In: readings, confidence, coverage. Out: count, mean, spread and the exact tolerance interval; under five readings
//! the readings themselves.

use super::given::Given;
use super::outlier::farthest;
use super::shape::{Answer, Calculator, Input, Kind, Refusal, Value, shown};
use super::tolerance::{
    Claim, FEWEST, Spread, guenther, howe, natrella, one_sided, spread, two_sided,
};
use crate::quantity::Dimension::{
    self, Current, Frequency, Pressure, Ratio, Resistance, Temperature, Time, Voltage,
};
use crate::quantity::{Interval, write_interval};

/// Readings that good ones give less often than this get a note.
const DOUBTFUL_BELOW: f64 = 0.01;

/// Band of known-good readings.
pub(super) const KNOWN_GOOD: Calculator = Calculator {
    name: "known-good",
    title: "Known-good band from readings",
    says: "the band that holds most good readings, from those taken at circuits known to be good",
    group: "Known-good readings",
    inputs: &[
        Input::of(
            "readings",
            "Readings",
            Kind::List {
                dimensions: &[
                    Voltage,
                    Resistance,
                    Current,
                    Frequency,
                    Time,
                    Pressure,
                    Temperature,
                ],
                low: -1e9,
                high: 1e12,
                least: 1,
                most: 1_000,
            },
            "V",
        )
        .says("of the same test in the same state, at different vehicles, separated by ;")
        .needed(),
        Input::quantity("confidence", "Confidence", Ratio, (0.51, 0.9999))
            .says("how often such a band holds what it claims")
            .default("95 %"),
        Input::quantity("coverage", "Coverage", Ratio, (0.51, 0.9999))
            .says("the part of all good readings it holds")
            .default("95 %"),
    ],
    formula: "band = mean - k s to mean + k s\n\
              mean = sum of readings / n,  s = sqrt(sum of (reading - mean)^2 / (n - 1))\n\
              k: 2 integral over z from 0 of phi(z) P(chi2 > (n - 1) r^2 / k^2) = confidence,\n\
              r(z): Phi(z/sqrt n + r) - Phi(z/sqrt n - r) = coverage,  chi2 with n - 1 degrees of freedom",
    source: "two-sided normal tolerance interval as ISO 16269-6 defines it; NIST/SEMATECH e-Handbook 7.2.6.3",
    range: "5 to 1,000 readings from a normal population, confidence and coverage 51 to 99.99 %; under 5 readings, \
            or where all are alike, the readings and no band: at 3 readings k is near 10",
    example: &[("readings", "2.91 V; 2.94 V; 2.89 V; 2.95 V; 2.92 V; 2.90 V")],
    work,
};

fn work(given: &Given) -> Result<Answer, Refusal> {
    let (readings, dimension) = given.list("readings")?;
    let claim = Claim::new(given.need("confidence")?, given.need("coverage")?);
    let Some((claim, known)) = claim.zip(spread(readings)) else {
        let says = "these readings have no finite mean and spread";
        return Err(Refusal::of("readings", says, "type readings of one test"));
    };
    let mut answer = Answer::default();
    if known.count < FEWEST || known.deviation <= 0.0 {
        without_band(&mut answer, readings, dimension, known);
    } else {
        with_band(&mut answer, dimension, known, claim);
        note_doubtful(&mut answer, readings, dimension);
    }
    Ok(answer)
}

fn counted(answer: &mut Answer, count: usize) {
    let count = u32::try_from(count).unwrap_or(u32::MAX);
    answer.result("count", "Readings", Value::Number(f64::from(count)));
}

fn without_band(answer: &mut Answer, readings: &[f64], dimension: Dimension, known: Spread) {
    let each: Vec<String> = readings.iter().map(|one| shown(*one, dimension)).collect();
    answer.words("readings", "Readings themselves", each.join(", "));
    counted(answer, known.count);
    answer.note(if known.count < FEWEST {
        "fewer than five readings say too little for a band: compare with them one by one"
    } else {
        "the readings do not differ: the meter's last digit is wider than their spread"
    });
}

fn with_band(answer: &mut Answer, dimension: Dimension, known: Spread, claim: Claim) {
    let Spread {
        count,
        mean,
        deviation,
    } = known;
    let k = two_sided(count, claim).unwrap_or(f64::NAN);
    let band = Interval {
        low: mean - k * deviation,
        high: mean + k * deviation,
    };
    let apart = dimension.of_difference();
    answer.result("band", "Known-good band", Value::Band(band, dimension));
    answer.quantity("mean", "Mean", mean, dimension);
    answer.quantity("spread", "Spread (standard deviation)", deviation, apart);
    counted(answer, count);
    answer.result("factor", "Factor k, exact", Value::Number(k));
    if let Some(one) = one_sided(count, claim) {
        answer.result(
            "one-sided-factor",
            "Factor for one bound alone, exact",
            Value::Number(one),
        );
    }
    let (mean, deviation) = (shown(mean, dimension), shown(deviation, apart));
    answer.step(format!("mean = sum of {count} readings / {count} = {mean}"));
    answer.step(format!("s = {deviation}"));
    answer.step(format!("k = {k:.4} for {}", claimed(claim, count)));
    answer.step(format!(
        "{mean} ± {k:.4} x {deviation} = {}",
        write_interval(band, dimension)
    ));
    note_approximations(answer, count, claim);
    answer.note(
        "it holds for readings of one normal population: different vehicles, one test, one state of the part",
    );
}

fn claimed(claim: Claim, count: usize) -> String {
    format!(
        "{count} readings, {} confidence, {} coverage",
        shown(claim.confidence(), Ratio),
        shown(claim.coverage(), Ratio)
    )
}

/// Books and older programs print these under the same name.
fn note_approximations(answer: &mut Answer, count: usize, claim: Claim) {
    if let Some((howe, guenther)) = howe(count, claim).zip(guenther(count, claim)) {
        answer.note(format!(
            "approximations of k in books: Howe {howe:.4}, with Guenther's correction {guenther:.4}"
        ));
    }
    if let Some(natrella) = natrella(count, claim) {
        answer.note(format!(
            "approximation of the factor for one bound in books: Natrella {natrella:.4}"
        ));
    }
}

fn note_doubtful(answer: &mut Answer, readings: &[f64], dimension: Dimension) {
    let far = farthest(readings).filter(|far| far.chance < DOUBTFUL_BELOW);
    if let Some((far, reading)) = far.and_then(|far| Some((far, readings.get(far.at)?))) {
        answer.note(format!(
            "{} stands {:.2} standard deviations from the mean, doubtful by Grubbs' test at 1 %: read it again",
            shown(*reading, dimension),
            far.deviations
        ));
    }
}
