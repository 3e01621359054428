//! What of a deck is found: a page for each card, code, lesson, calculator, kind of circuit and vehicle, with its words.
//!
//! In: a deck as loaded, and where its pages stand. Out: entries for the writer. Nothing is solved for it, so
//! that the terminal finds in a blink what publishing takes longer to draw.

use super::entry::{APART, Entry, Kind, UNNAMED};
use super::fields::Field;
use super::fold::{Shape, words};
use super::wrong::MARK;
use super::years;
use crate::calc::CALCULATORS;
use crate::card::{
    COLOURS, Card, Curve, Deck, Family, ParameterKind, ParameterSpec, ParameterValue, Pin,
    code_system, colours_of,
};
use crate::quantity::{
    Dimension, Interval, Quantity, write_number, write_quantity, write_wire_size,
};
use std::collections::BTreeMap;

/// A page, by what it is about.
#[derive(Clone, Copy, Debug)]
pub enum Page<'a> {
    /// A card's id.
    Card(&'a str),
    /// A code.
    Code(&'a str),
    /// A family's name.
    Family(&'a str),
    /// A lesson's id.
    Lesson(&'a str),
    /// A calculator's name.
    Calculator(&'a str),
    /// A vehicle or machine as a card names it.
    Vehicle(&'a str),
}

/// Every page of a deck that is found; `address` says where a page stands.
pub fn entries(deck: &Deck, address: impl Fn(Page<'_>) -> String) -> Vec<Entry> {
    let mut entries = Vec::new();
    for one in &deck.cards {
        let mut entry = Entry::new(
            Kind::Card,
            &one.id,
            &one.title.value,
            address(Page::Card(&one.id)),
        );
        card(deck, one, family_of(deck, one), &mut entry);
        entries.push(entry);
    }
    let codes = codes(deck).into_iter();
    entries.extend(codes.map(|(one, cards)| code(deck, one, cards, address(Page::Code(one)))));
    entries.extend(deck.lessons.iter().map(|one| {
        let address = address(Page::Lesson(&one.id));
        let mut entry = Entry::new(Kind::Lesson, &one.id, &one.title, address);
        entry.add(Field::Lesson, &one.text);
        entry
    }));
    entries.extend(CALCULATORS.iter().map(|one| {
        let mut entry = Entry::new(
            Kind::Calculator,
            one.name,
            one.title,
            address(Page::Calculator(one.name)),
        );
        entry.line = one.says.to_owned();
        entry.add(Field::Names, &one.name.replace('-', " "));
        entry.add(Field::Body, one.says);
        entry.add(Field::Family, one.group);
        entry.add(Field::Family, "calculator");
        entry
    }));
    entries.extend(deck.families.values().map(|one| {
        let mut entry = Entry::new(
            Kind::Family,
            &one.name,
            &one.title,
            address(Page::Family(&one.name)),
        );
        entry.line.clone_from(&one.says);
        entry.add(Field::Names, &one.name.replace('-', " "));
        entry.add(Field::Pins, &one.roles.join(" "));
        entry.add(Field::Body, &one.says);
        entry
    }));
    for (name, cards) in vehicles(deck) {
        let address = address(Page::Vehicle(name));
        entries.push(vehicle(name, cards, address));
    }
    entries
}

/// A code that so many cards name.
fn code(deck: &Deck, code: &str, cards: usize, address: String) -> Entry {
    let mut entry = Entry::new(Kind::Code, code, code, address);
    entry.add(Field::Codes, code);
    let meaning = deck.meanings.get(code).map_or("", String::as_str);
    entry.add(Field::Body, meaning);
    entry.line = match (meaning, cards) {
        ("", 0) => format!("{}{UNNAMED}", code_system(code)),
        ("", _) => code_system(code).to_owned(),
        (says, 0) => format!("{says}{UNNAMED}"),
        (says, _) => says.to_owned(),
    };
    entry
}

/// Groups of words that mean the same: the deck's, and what people write for colours.
pub(super) fn same_words(deck: &Deck) -> Vec<Vec<String>> {
    let also = |colour: &crate::card::Colour| -> Vec<String> {
        // Two letters are also English words or letters of another colour.
        let also = colour.also.iter().filter(|text| text.len() > 2);
        std::iter::once(&colour.word)
            .chain(also)
            .map(|text| (*text).to_owned())
            .collect()
    };
    let colours = COLOURS.iter().map(also).filter(|group| group.len() > 1);
    deck.words.iter().cloned().chain(colours).collect()
}

/// Codes that have a page: on a card, or usual for the family of one; each with its number of cards.
fn codes(deck: &Deck) -> BTreeMap<&str, usize> {
    let mut codes: BTreeMap<&str, usize> = BTreeMap::new();
    for card in &deck.cards {
        for code in &card.codes {
            *codes.entry(&code.value).or_default() += 1;
        }
        for code in family_of(deck, card)
            .iter()
            .flat_map(|family| &family.codes)
        {
            codes.entry(code).or_default();
        }
    }
    codes
}

/// Vehicles with their number of cards, each under the name of the first card that has it.
fn vehicles(deck: &Deck) -> Vec<(&str, usize)> {
    let mut vehicles: BTreeMap<String, (&str, usize)> = BTreeMap::new();
    for fits in deck.cards.iter().flat_map(|card| &card.fits) {
        let own = vehicles.entry(fits.value.to_lowercase());
        own.or_insert((fits.value.as_str(), 0)).1 += 1;
    }
    vehicles.into_values().collect()
}

/// A vehicle that so many cards fit.
fn vehicle(name: &str, cards: usize, address: String) -> Entry {
    let mut entry = Entry::new(Kind::Vehicle, name, name, address);
    let noun = if cards == 1 { "circuit" } else { "circuits" };
    entry.line = format!("{cards} {noun}");
    entry.words.extend(open_years(name));
    entry
}

/// The years of a vehicle that has no last or no first one.
fn open_years(fits: &str) -> Option<(Field, String)> {
    years::open_ended(fits).map(|years| (Field::Place, years))
}

/// The family of a card, or the circuit written on it.
fn family_of<'a>(deck: &'a Deck, card: &'a Card) -> Option<&'a Family> {
    let own = card.circuit.as_deref();
    own.or_else(|| deck.families.get(&card.family.value))
}

fn card(deck: &Deck, card: &Card, family: Option<&Family>, entry: &mut Entry) {
    let texts = |placed: &[crate::card::Placed<String>]| -> Vec<String> {
        placed.iter().map(|text| text.value.clone()).collect()
    };
    let (codes, fits) = (texts(&card.codes), texts(&card.fits));
    entry.line = codes.join(" ");
    for fits in &fits {
        entry.line.push(APART);
        entry.line.push_str(&fits.replace(APART, " "));
    }
    entry.add(Field::Codes, &codes.join(" "));
    entry.add(Field::Names, &texts(&card.also_called).join(", "));
    entry.add(Field::Place, &fits.join(", "));
    entry
        .words
        .extend(fits.iter().filter_map(|fits| open_years(fits)));
    if let Some(system) = &card.system {
        let known = deck.systems.iter().find(|(id, _)| *id == system.value);
        entry.add(
            Field::Place,
            known.map_or(&system.value, |(_, title)| title),
        );
    }
    if let Some(family) = family {
        entry.add(Field::Family, &family.title);
        entry.add(Field::Family, &also_kind(deck, family));
    }
    for pin in &card.pins {
        pin_words(pin, entry);
    }
    entry.add(Field::Values, &format!("{} pins", card.pins.len()));
    card_values(card, family, entry);
    entry.add(Field::Body, &card.notes);
    for scan in &card.scan {
        entry.add(Field::Body, &scan.name.value);
        entry.add(Field::Body, scan.says.as_deref().unwrap_or(""));
    }
    for test in &card.tests {
        entry.add(Field::Body, &test.title);
    }
    for source in &card.sources {
        entry.add(Field::Body, &source.says.value);
    }
    // Sentences of the card's own; the rest are ids of cautions that many cards have.
    let own = card.cautions.iter().map(|caution| &caution.value);
    for says in own.filter(|caution| !deck.cautions.contains_key(*caution)) {
        entry.add(Field::Body, says);
    }
}

/// What the name of a family says that its title does not: `thermistor`, `ratiometric`. Nothing that says what is wrong,
/// or what reads low would be a coil switched at its low side.
fn also_kind(deck: &Deck, family: &Family) -> String {
    let title = words(&family.title);
    let wrong = MARK.join(" ");
    let wrongs = deck.words.iter().filter(|group| group[0] == wrong);
    let name = family.name.replace('-', " ");
    let mut own = words(&name);
    own.retain(|word| {
        let is_known = title.iter().any(|own| own.text == word.text);
        let is_wrong = wrongs.clone().any(|group| group.contains(&word.text));
        word.shape == Shape::Plain && !is_known && !is_wrong
    });
    let own: Vec<String> = own.into_iter().map(|word| word.text).collect();
    own.join(" ")
}

fn pin_words(pin: &Pin, entry: &mut Entry) {
    let role = pin.role.value.as_str();
    entry.add(Field::Pins, role);
    entry.add(Field::Pins, &pin.label.value);
    entry.add(Field::Pins, "pin");
    let roles: Vec<String> = role.split(' ').map(str::to_lowercase).collect();
    let label = pin.label.value.to_lowercase();
    for role in &roles {
        entry.pair(&label, role);
    }
    let Some(wire) = &pin.wire else { return };
    entry.add(Field::Wires, "wire");
    entry.add(Field::Wires, &wire.value);
    for colour in colours_of(&wire.value) {
        entry.add(Field::Wires, colour.letters);
        entry.add(Field::Wires, colour.word);
        for role in &roles {
            entry.pair(colour.word, role);
        }
        entry.pair(colour.word, &label);
    }
}

/// Values that people look for: those typed on the card, and the family's where it types none.
fn card_values(card: &Card, family: Option<&Family>, entry: &mut Entry) {
    let value = |entry: &mut Entry, number: f64, dimension: Dimension| {
        entry.add(
            Field::Values,
            &write_quantity(Quantity { number, dimension }),
        );
    };
    let parameters = family.map_or(&[][..], |family| &family.parameters);
    for parameter in parameters {
        parameter_value(card, parameter, |number, dimension| {
            value(entry, number, dimension);
        });
    }
    for point in &card.signal {
        if let Some(at) = point.at_quantity {
            value(entry, at.number, at.dimension);
        }
        entry.add(Field::Body, &point.at.value);
        if let Some(Interval { low, high }) = point.reads.as_ref().map(|reads| reads.value) {
            value(entry, low, Dimension::Voltage);
            value(entry, high, Dimension::Voltage);
        }
    }
    match card.curve.as_ref().map(|curve| &curve.value) {
        Some(Curve::Beta { r25, beta }) => {
            value(entry, r25.nominal, Dimension::Resistance);
            // Folds like what people type, `3950 K` or `beta 3950`.
            entry.add(Field::Values, &format!("{} K", write_number(beta.nominal)));
            entry.add(Field::Body, "beta");
        }
        Some(Curve::Platinum { r0 }) => value(entry, r0.nominal, Dimension::Resistance),
        Some(Curve::SteinhartHart { .. }) | None => {}
    }
    for area in card.wires.iter().filter_map(|wire| wire.area) {
        entry.add(Field::Values, &write_wire_size(area));
    }
}

fn parameter_value(card: &Card, parameter: &ParameterSpec, mut value: impl FnMut(f64, Dimension)) {
    let typed = card
        .parameters
        .get(&parameter.name.value)
        .map(|typed| &typed.value);
    match (&parameter.kind, typed) {
        (ParameterKind::Value { dimension, .. }, Some(ParameterValue::Value(own))) => {
            value(own.nominal, *dimension);
        }
        (ParameterKind::Value { dimension, default }, _) => value(default.nominal, *dimension),
        (ParameterKind::Limits { dimension, .. }, Some(ParameterValue::Limits(own))) => {
            value(own.low, *dimension);
            value(own.high, *dimension);
        }
        _ => {}
    }
}
