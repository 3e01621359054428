//! Decks made up for search: any number of cards, each another place, subject and machine; no two runs differ.

use loomleaf::card::{Card, Deck, Placed, load, shipped};
use loomleaf::finding::Place;
use std::path::Path;

/// The demo, loaded and not solved.
pub(crate) fn demo() -> Deck {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo");
    load(&folder, &shipped()).unwrap().deck.unwrap()
}

pub(crate) const PLACES: [&str; 17] = [
    "front left",
    "front right",
    "rear left",
    "rear right",
    "upper",
    "lower",
    "port",
    "starboard",
    "main",
    "auxiliary",
    "forward",
    "aft",
    "inner",
    "outer",
    "number one",
    "number two",
    "standby",
];

/// What is measured, with the demo card whose circuit it gets.
pub(crate) const SUBJECTS: [(&str, &str); 23] = [
    ("coolant temperature sensor", "coolant-temperature"),
    ("intake air temperature sensor", "intake-air-temperature"),
    ("oil temperature sensor", "ramp-oil-temperature"),
    ("fuel temperature sensor", "coolant-temperature"),
    ("cabin temperature sensor", "engine-room-air-temperature"),
    ("bearing temperature sensor", "bench-thermistor"),
    ("oil pressure sensor", "oil-pressure"),
    ("boost pressure sensor", "boost-pressure"),
    ("brake pressure sensor", "ramp-hydraulic-pressure"),
    ("fuel rail pressure sensor", "manifold-pressure"),
    ("air tank pressure sensor", "bilge-level"),
    ("pedal position sensor", "throttle-position"),
    ("steering angle sensor", "ramp-angle"),
    ("ride height sensor", "lift-platform-height"),
    ("valve position sensor", "egr-position"),
    ("hook height sensor", "bench-position"),
    ("joystick axis", "winch-lever"),
    ("wheel speed sensor", "output-speed"),
    ("crankshaft position sensor", "camshaft-position"),
    ("propeller shaft speed sensor", "winch-drum-turns"),
    ("hatch closed switch", "ramp-raised-switch"),
    ("fan speed sensor", "engine-room-fan-turns"),
    ("feed pump speed sensor", "output-speed"),
];

/// Invented machines of an invented yard.
pub(crate) const MACHINES: [&str; 29] = [
    "Gannet loader",
    "Curlew tug",
    "Dunlin bus",
    "Avocet crane",
    "Petrel van",
    "Kittiwake dredger",
    "Turnstone tractor",
    "Sanderling ferry",
    "Whimbrel truck",
    "Redshank digger",
    "Knot sweeper",
    "Godwit barge",
    "Fulmar reach stacker",
    "Razorbill launch",
    "Puffin minibus",
    "Guillemot pump set",
    "Skua mower",
    "Shearwater trailer",
    "Merganser forklift",
    "Eider roller",
    "Pintail generator",
    "Wigeon harvester",
    "Shoveler grader",
    "Garganey lift",
    "Pochard winch",
    "Smew compressor",
    "Goldeneye chiller",
    "Bittern conveyor",
    "Egret dumper",
];

const COLOURS: [&str; 12] = [
    "BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "TQ",
];

const REMARKS: [&str; 24] = [
    "The connector sits behind the step",
    "take the cover off first",
    "it faces the bulkhead",
    "the loom chafes at the clamp",
    "water gets in from above",
    "the lock is brittle when cold",
    "measure with the lamps on",
    "the boot hides a green crust",
    "splice near the battery tray",
    "the spare is in drawer seven",
    "turn it slowly by hand",
    "two people are needed",
    "mark the plug before you pull it",
    "the bracket is shared with the horn",
    "reach it from below",
    "its twin stands on the other side",
    "the harness was replaced after the flood",
    "check the fuse first",
    "vibration opens the crimp",
    "the seal swells in diesel",
    "grease the pins",
    "do not pull at the wire",
    "the screen shows it late",
    "heat from the exhaust hardens the jacket",
];

/// A generator of numbers that are the same everywhere (constants of Knuth's MMIX).
pub(crate) struct Lot(pub(crate) u64);

impl Lot {
    pub(crate) fn draw(&mut self, below: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap() % below
    }
}

fn placed(value: &str) -> Placed<String> {
    Placed {
        value: value.to_owned(),
        place: Place::whole_file("cards/made.yaml"),
    }
}

/// Place, subject and machine of a made card.
pub(crate) fn names(number: usize) -> (&'static str, &'static str, &'static str) {
    let (subject, _) = SUBJECTS[number % SUBJECTS.len()];
    (
        PLACES[number % PLACES.len()],
        subject,
        MACHINES[number % MACHINES.len()],
    )
}

pub(crate) fn id(number: usize) -> String {
    let (place, subject, machine) = names(number);
    format!("{place} {subject} {machine}")
        .to_lowercase()
        .replace(' ', "-")
}

fn card(number: usize, demo: &Deck) -> Card {
    let (place, subject, machine) = names(number);
    let like = SUBJECTS[number % SUBJECTS.len()].1;
    let mut card = demo
        .cards
        .iter()
        .find(|card| card.id == like)
        .unwrap()
        .clone();
    let mut lot = Lot(number as u64);
    card.id = id(number);
    let title = format!("{place} {subject}");
    card.title = placed(&format!("{}{}", title[..1].to_uppercase(), &title[1..]));
    let year = 2008 + lot.draw(14);
    card.fits = vec![placed(&format!("{machine} {year}-{}", year + 4))];
    card.system = None;
    card.also_called = Vec::new();
    let first = lot.draw(0x0e00);
    card.codes = (0..lot.draw(4))
        .map(|more| placed(&format!("P{:04X}", first + more)))
        .collect();
    for pin in &mut card.pins {
        let main = COLOURS[lot.draw(12)];
        let stripe = if lot.draw(2) == 0 {
            ""
        } else {
            COLOURS[lot.draw(12)]
        };
        pin.wire = Some(placed(&format!(
            "{main}{}",
            if stripe == main { "" } else { stripe }
        )));
    }
    let remarks: Vec<&str> = (0..4).map(|_| REMARKS[lot.draw(REMARKS.len())]).collect();
    card.notes = format!(
        "{}. Drawing {}-{}.",
        remarks.join("; "),
        10 + lot.draw(80),
        number
    );
    card
}

/// A deck of so many cards.
pub(crate) fn made(cards: usize) -> Deck {
    let mut deck = demo();
    let made: Vec<Card> = (0..cards).map(|number| card(number, &deck)).collect();
    deck.cards = made;
    deck.systems = Vec::new();
    deck.readings.clear();
    deck
}

/// Words as people type them about the cards of a made deck: cut short, misspelt, codes, colours, values.
pub(crate) fn queries(count: usize, deck: &Deck) -> Vec<String> {
    let mut lot = Lot(7);
    (0..count)
        .map(|_| {
            let card = &deck.cards[lot.draw(deck.cards.len())];
            let title: Vec<&str> = card.title.value.split(' ').collect();
            let machine = card.fits[0].value.split(' ').next().unwrap();
            let wire = &card.pins[lot.draw(card.pins.len())].wire;
            let code = card
                .codes
                .first()
                .map_or("P0405", |code| code.value.as_str());
            match lot.draw(10) {
                0 => code.to_lowercase(),
                1 => format!("{} {}", &code[..1], &code[1..]),
                2 => code[1..].to_owned(),
                3 => title[..=lot.draw(title.len())].join(" "),
                4 => format!("{} {machine}", title.join(" ")),
                5 => {
                    let cut = |word: &&str| word[..word.len().min(4)].to_owned();
                    title.iter().map(cut).collect::<Vec<_>>().join(" ")
                }
                6 => format!("{machine} {}", slip(title[title.len() - 2], &mut lot)),
                7 => format!("{} {}", wire.as_ref().unwrap().value, title[0]),
                8 => [
                    "5 V",
                    "4.7 kohm",
                    "10k",
                    "120 ohm",
                    "0.5 mm2",
                    "20 C",
                    "2.49 kohm",
                ][lot.draw(7)]
                .to_owned(),
                _ => format!("{machine} black ground {}", slip(title[1], &mut lot)),
            }
        })
        .collect()
}

/// A word with one slip: a letter left out, doubled, or swapped with its neighbour.
fn slip(word: &str, lot: &mut Lot) -> String {
    let mut letters: Vec<char> = word.chars().collect();
    if letters.len() < 4 {
        return word.to_owned();
    }
    let at = 1 + lot.draw(letters.len() - 2);
    match lot.draw(3) {
        0 => drop(letters.remove(at)),
        1 => letters.insert(at, letters[at]),
        _ => letters.swap(at, at + 1),
    }
    letters.into_iter().collect()
}
