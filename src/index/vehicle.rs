//! A vehicle and its year: a card that fits several vehicles is found by one of them, not by the name of this and the
//! years of that; and where two words are the name of a vehicle of this deck, it has to be that one.
//!
//! In: needs with a year among them. Out: for each page whether one vehicle can have what was asked for. What a vehicle's
//! name tells is kept, since thousands of cards fit the same few: read anew for each, a year cost a hundred times the rest.

use super::entry::Kind;
use super::fields::Field;
use super::fold::{Shape, words};
use super::open::{Line, Search};
use super::query::Need;
use super::tally::Counted;
use super::years::{held, meet, open_ended};
use std::collections::BTreeMap;
use std::ops::RangeInclusive;

/// What was asked of one vehicle.
pub(super) struct OneVehicle<'a> {
    search: &'a Search,
    counted: &'a Counted<'a>,
    needs: u16,
    /// None where any will do.
    years: Option<RangeInclusive<u16>>,
    /// Words that are the name of a vehicle of this deck.
    name: Vec<&'a str>,
    /// Vehicles that were looked at.
    known: BTreeMap<&'a str, Vehicle>,
}

/// A vehicle as its name tells.
struct Vehicle {
    words: Vec<String>,
    /// Whether it was made in the years asked for.
    was_made: bool,
}

impl Search {
    /// What these needs ask of a vehicle.
    pub(super) fn one_vehicle<'a>(
        &'a self,
        needs: u16,
        counted: &'a Counted<'a>,
    ) -> OneVehicle<'a> {
        let asked = (0..).zip(counted.needs);
        let asked = asked.filter(|(at, _)| needs >> at & 1 == 1);
        let asked: Vec<&Need> = asked.map(|(_, need)| need).collect();
        let years = asked.iter().find_map(|need| years_of(need));
        let name = match years {
            Some(_) => self.vehicle_named(&asked),
            None => Vec::new(),
        };
        OneVehicle {
            search: self,
            counted,
            needs,
            years,
            name,
            known: BTreeMap::new(),
        }
    }

    /// Words beside each other that stand so in the name of a vehicle.
    fn vehicle_named<'a>(&self, asked: &[&'a Need]) -> Vec<&'a str> {
        let plain = |need: &'a Need| match need.ways.first()?.words.as_slice() {
            [only] if only.shape == Shape::Plain => Some(only.text.as_str()),
            _ => None,
        };
        let mut name = Vec::new();
        for two in asked.windows(2) {
            if let (Some(one), Some(other)) = (plain(two[0]), plain(two[1]))
                && self.is_vehicle(one, other)
            {
                name.extend([one, other]);
            }
        }
        name
    }

    fn is_vehicle(&self, one: &str, other: &str) -> bool {
        let titles = &self.columns[Field::Title.at()];
        let first = self.pages.before(Kind::Vehicle);
        let mut vehicles = Vec::new();
        if let Ok(Some(term)) = titles.terms.get(one) {
            titles.pages(&term, |page| {
                if page as usize >= first {
                    vehicles.push(page);
                }
            });
        }
        vehicles.into_iter().any(|page| {
            let line = self.pages.line(page);
            let title = line.map_or("", |line| line.title);
            // Most are told apart by their letters alone.
            may_have(title, other) && {
                let words = words(title);
                let mut pairs = words.windows(2);
                pairs.any(|two| two[0].text == one && two[1].text == other)
            }
        })
    }
}

impl<'a> OneVehicle<'a> {
    /// Whether a vehicle of this page has the years that were asked for and the words by which the page was found.
    pub(super) fn has(&mut self, page: u32) -> bool {
        if self.years.is_none() {
            return true;
        }
        let asked = (0..self.counted.needs.len()).filter(|at| self.needs >> at & 1 == 1);
        let placed = asked.filter_map(|at| self.counted.by(at, page));
        let placed: Vec<&str> = placed
            .filter(|found| found.column == Field::Place.at() && held(&found.text).is_none())
            .map(|found| found.text.as_str())
            .collect();
        let is_named = !self.name.is_empty();
        if placed.is_empty() && !is_named {
            return true;
        }
        let line = self.search.pages.line(page);
        let fits = line.iter().flat_map(Line::vehicles);
        let vehicles: Vec<&'a str> = fits.collect();
        if vehicles.len() < 2 && !is_named {
            return true;
        }
        // Of words that no vehicle has the page has them otherwise, by its system.
        let mut named = self.name.clone();
        for text in placed {
            if vehicles.iter().any(|fits| self.says(fits, text)) {
                named.push(text);
            }
        }
        let mut vehicles = vehicles.into_iter();
        vehicles.any(|fits| {
            named.iter().all(|text| self.says(fits, text)) && self.vehicle(fits).was_made
        })
    }

    /// Whether a vehicle's name has a word.
    fn says(&mut self, fits: &'a str, text: &str) -> bool {
        may_have(fits, text) && self.vehicle(fits).words.iter().any(|word| word == text)
    }

    fn vehicle(&mut self, fits: &'a str) -> &Vehicle {
        let years = self.years.as_ref();
        self.known
            .entry(fits)
            .or_insert_with(|| Vehicle::of(fits, years))
    }
}

impl Vehicle {
    fn of(fits: &str, years: Option<&RangeInclusive<u16>>) -> Self {
        let words: Vec<String> = words(fits).into_iter().map(|word| word.text).collect();
        Self {
            was_made: years.is_none_or(|years| was_made(fits, &words, years)),
            words,
        }
    }
}

/// Whether a name can have a word by its letters: quick, and never wrongly false. Letters are compared as small ones; a
/// sign that is taken for a letter is looked at again by whom this tells yes.
fn may_have(name: &str, word: &str) -> bool {
    let is_plain = word.bytes().all(|byte| byte.is_ascii_lowercase());
    let name = name.as_bytes();
    // A singular in `y` may stand there as a plural in `ies`.
    match word.as_bytes() {
        [one, two, three, _, ..] if is_plain => name.windows(3).any(|own| match own {
            [a, b, c] => {
                let is_start = a | 0x20 == *one && b | 0x20 == *two && c | 0x20 == *three;
                // An accent or a mark inside a word is folded away.
                is_start || !a.is_ascii() || *a == b'\''
            }
            _ => false,
        }),
        _ => true,
    }
}

/// The years of a need.
fn years_of(need: &Need) -> Option<RangeInclusive<u16>> {
    let word = need.ways.first()?.words.first()?;
    held(&word.text)
}

/// Whether a vehicle was made in these years, as far as its name tells: of `from 2020` not in that year alone.
fn was_made(fits: &str, words: &[String], years: &RangeInclusive<u16>) -> bool {
    if let Some(own) = open_ended(fits).and_then(|word| held(&word)) {
        return meet(&own, years);
    }
    let mut own = words.iter().filter_map(|word| held(word)).peekable();
    own.peek().is_none() || own.any(|own| meet(&own, years))
}
