//! A vehicle and its year: a card that fits several vehicles is found by one of them, not by the name of this and the
//! years of that.
//!
//! In: a page, needs that it has, and by which words. Out: whether one vehicle can have them.

use super::fields::Field;
use super::fold::{Word, words};
use super::open::{Line, Search};
use super::query::Need;
use super::tally::Counted;
use super::years::{held, meet, open_ended};
use std::ops::RangeInclusive;

impl Search {
    /// Whether a vehicle of this page has the years that were asked for and the words by which the page was found.
    pub(super) fn is_of_one_vehicle(&self, page: u32, needs: u16, counted: &Counted<'_>) -> bool {
        let asked = || {
            (0..)
                .zip(counted.needs)
                .filter(|(at, _)| needs >> at & 1 == 1)
        };
        let Some(years) = asked().find_map(|(_, need)| years_of(need)) else {
            return true;
        };
        let placed = asked().filter_map(|(at, _)| counted.by(at, page));
        let placed: Vec<&str> = placed
            .filter(|found| found.column == Field::Place.at() && held(&found.text).is_none())
            .map(|found| found.text.as_str())
            .collect();
        if placed.is_empty() {
            return true;
        }
        let line = self.pages.line(page);
        let fits = line.iter().flat_map(Line::vehicles);
        let vehicles: Vec<(&str, Vec<Word>)> = fits.map(|fits| (fits, words(fits))).collect();
        if vehicles.len() < 2 {
            return true;
        }
        let has = |vehicle: &[Word], text: &str| vehicle.iter().any(|word| word.text == text);
        let named = |text: &&&str| vehicles.iter().any(|(_, vehicle)| has(vehicle, text));
        let named: Vec<&&str> = placed.iter().filter(named).collect();
        vehicles.iter().any(|(fits, vehicle)| {
            was_made(fits, vehicle, &years) && named.iter().all(|text| has(vehicle, text))
        })
    }
}

/// The years of a need.
fn years_of(need: &Need) -> Option<RangeInclusive<u16>> {
    let word = need.ways.first()?.words.first()?;
    held(&word.text)
}

/// Whether a vehicle was made in these years, as far as its name tells: of `from 2020` not in that year alone.
fn was_made(fits: &str, vehicle: &[Word], years: &RangeInclusive<u16>) -> bool {
    if let Some(own) = open_ended(fits).and_then(|word| held(&word)) {
        return meet(&own, years);
    }
    let mut own = vehicle
        .iter()
        .filter_map(|word| held(&word.text))
        .peekable();
    own.peek().is_none() || own.any(|own| meet(&own, years))
}
