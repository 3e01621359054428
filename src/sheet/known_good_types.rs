//! The shapes of known-good readings: what was measured in the shop at circuits known to be good.

use crate::calc::tolerance::{Claim, FEWEST, Spread};
use crate::card::Date;
use crate::circuit::Band;
use crate::quantity::Interval;
use std::collections::BTreeSet;

/// What a shop measured at one test in one state. It stands beside the computed and the stated band and replaces
/// neither; its source is `measured here`.
#[derive(Clone, Debug, PartialEq)]
pub struct KnownGood {
    /// Place in [`super::Sheet::tests`].
    pub test: usize,
    /// The probe in the sheet's reasoning.
    pub probe: usize,
    /// State of the part, empty where the test is read in one.
    pub state: String,
    /// `at-rest@20 C`, as `record` and `diagnose` take it.
    pub place: String,
    /// The computed band it stands beside.
    pub computed: Band,
    /// The band the card states there.
    pub stated: Option<Interval>,
    /// Every reading in the order of the file, those left out too.
    pub readings: Vec<KnownReading>,
    /// Count, mean and spread of the numbers that are used; none where there is none.
    pub spread: Option<Spread>,
    /// The exact two-sided normal tolerance interval; none under five numbers, or where they do not differ.
    pub interval: Option<Interval>,
    /// What the interval claims.
    pub claim: Claim,
    /// The day of the first reading that is used (of all, where none is).
    pub from: Date,
    /// The day of the last one.
    pub to: Date,
    /// How many vehicles the readings used name; 0 where none is named.
    pub vehicles: usize,
}

/// One recorded reading.
#[derive(Clone, Debug, PartialEq)]
pub struct KnownReading {
    /// The day.
    pub date: Date,
    /// The vehicle, or empty.
    pub vehicle: String,
    /// As typed, with its unit.
    pub typed: String,
    /// In the base unit of the test; none for `OL` and `floating`.
    pub number: Option<f64>,
    /// Why it is not used, if it is not.
    pub left_out: Option<LeftOut>,
}

/// How a reading stands to the computed band.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// A good circuit can give it.
    Inside,
    /// No good circuit gives it.
    Outside,
    /// A derived scan value, which need not follow the pin, is held against nothing.
    NotHeld,
}

/// Why a recorded reading is not used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeftOut {
    /// It lies outside the computed band.
    OutOfBand,
    /// It stands too far from the other readings (Grubbs' test at 1 %).
    Doubtful,
}

impl LeftOut {
    /// `outside the computed band`.
    pub fn says(self) -> &'static str {
        match self {
            LeftOut::OutOfBand => "outside the computed band",
            LeftOut::Doubtful => "too far from the other readings (Grubbs' test, 1 %)",
        }
    }
}

impl KnownGood {
    /// The readings that are used.
    pub fn used(&self) -> impl Iterator<Item = &KnownReading> {
        self.readings.iter().filter(|one| one.left_out.is_none())
    }

    /// The readings used as typed, in their order; from five on, what several of them show stands there once.
    pub fn typed(&self) -> Vec<&str> {
        let mut typed: Vec<&str> = self.used().map(|one| one.typed.as_str()).collect();
        if FEWEST <= typed.len() {
            let mut seen = BTreeSet::new();
            typed.retain(|one| seen.insert(*one));
        }
        typed
    }

    /// The readings that are left out, each with the reason.
    pub fn left_out(&self) -> impl Iterator<Item = (&KnownReading, LeftOut)> {
        self.readings
            .iter()
            .filter_map(|one| Some((one, one.left_out?)))
    }
}
