//! The shapes of a deck: what a card, a family and a deck say, each value with its place.

use super::circuit_types::{Family, TestSpec};
use super::date::Date;
use crate::finding::Place;
use crate::quantity::{Interval, Quantity, Toleranced};
use std::collections::BTreeMap;

/// A value and where it was written.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed<T> {
    /// The value.
    pub value: T,
    /// Where it stands.
    pub place: Place,
}

/// A folder of cards, as loaded.
#[derive(Clone, Debug)]
pub struct Deck {
    /// Name of the shop or school, for every page's head.
    pub title: String,
    /// One paragraph for the front page.
    pub says: String,
    /// Systems in the order pages list them: id to title. A card's `system` must be one of these
    /// when the deck lists any.
    pub systems: Vec<(String, String)>,
    /// The meter the bands are computed for.
    pub meter: MeterSpec,
    /// Battery voltage of the vehicles.
    pub battery: Toleranced,
    /// What the known-good bands of its recorded readings claim.
    pub known_good: KnownGoodSpec,
    /// The drop the shop accepts in a power circuit; none for common practice.
    pub drop_limit: Option<DropLimit>,
    /// Known-good readings recorded in `readings/`, by the card's id, in the order of the file.
    pub readings: BTreeMap<String, Vec<RecordedReading>>,
    /// Cards, sorted by id.
    pub cards: Vec<Card>,
    /// Lessons in the order of their files' names.
    pub lessons: Vec<Lesson>,
    /// Families by name: those shipped and the deck's own (a deck's own wins).
    pub families: BTreeMap<String, Family>,
    /// The table of cautions by id (`content/cautions.yaml`, shipped).
    pub cautions: BTreeMap<String, CautionSpec>,
    /// Groups of words and phrases that mean the same to who searches: shipped, and the deck's own.
    pub words: Vec<Vec<String>>,
    /// Standard meanings of codes (`content/codes.yaml`, shipped).
    pub meanings: BTreeMap<String, String>,
}

/// A text in Markdown that a shop or school wrote.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lesson {
    /// Its file's name without the ending.
    pub id: String,
    /// Path in the deck.
    pub file: String,
    /// Its first heading.
    pub title: String,
    /// What stands below that, as typed.
    pub text: String,
}

/// A caution of the shipped table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CautionSpec {
    /// A few words.
    pub title: String,
    /// One or two sentences.
    pub says: String,
    /// True where it can hurt a person (`hurts: person`), false for the circuit.
    pub can_hurt: bool,
}

/// The largest drop a shop accepts in a power circuit, and whose rule that is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DropLimit {
    /// Volts, or percent of the supply, as typed.
    pub limit: String,
    /// Whose rule it is, for the page.
    pub whose: String,
}

/// A meter's accuracy: ± (`of_reading` + `counts` of the last digit) on a display of `display` counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeterSpec {
    /// Part of the reading (0.005 is 0.5 %).
    pub of_reading: f64,
    /// Counts of the last digit.
    pub counts: f64,
    /// Largest display, 6000 for a 3 5/6 digit meter.
    pub display: f64,
}

/// What a known-good band claims: with `confidence` it holds the part `coverage` of all good readings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KnownGoodSpec {
    /// More than a half, at most 0.9999.
    pub confidence: f64,
    /// More than a half, at most 0.9999.
    pub coverage: f64,
}

/// One reading that somebody took at a circuit known to be good: a row of `readings/CARD.csv`.
#[derive(Clone, Debug, PartialEq)]
pub struct RecordedReading {
    /// The day.
    pub date: Date,
    /// The vehicle or machine, in the shop's words; may be empty.
    pub vehicle: String,
    /// The test's id.
    pub test: Placed<String>,
    /// State of the part, empty where the test has one.
    pub state: Placed<String>,
    /// The reading with its unit, as typed.
    pub reading: Placed<String>,
    /// The meter, in the shop's words; may be empty.
    pub meter: String,
    /// A remark; may be empty.
    pub note: String,
}

/// One circuit at one connector.
#[derive(Clone, Debug)]
pub struct Card {
    /// File name without its ending; names the page.
    pub id: String,
    /// Deck-relative path.
    pub file: String,
    /// Title.
    pub title: Placed<String>,
    /// Name of its family; empty when `circuit` is given instead.
    pub family: Placed<String>,
    /// A circuit of its own: takes the place of a family (same shape as a family file).
    pub circuit: Option<Box<Family>>,
    /// System id.
    pub system: Option<Placed<String>>,
    /// Trouble codes, upper case.
    pub codes: Vec<Placed<String>>,
    /// Vehicles or machines it fits.
    pub fits: Vec<Placed<String>>,
    /// Other names people use.
    pub also_called: Vec<Placed<String>>,
    /// Pins in the order written.
    pub pins: Vec<Pin>,
    /// Signal points in the order written.
    pub signal: Vec<SignalPoint>,
    /// Values given for the family's parameters.
    pub parameters: BTreeMap<String, Placed<ParameterValue>>,
    /// Resistance of the part against temperature.
    pub curve: Option<Placed<Curve>>,
    /// What a scan tool shows for this sensor.
    pub scan: Vec<ScanValue>,
    /// Test order, by test id; empty means the family's.
    pub order: Vec<Placed<String>>,
    /// Tests of its own, added to the family's (same id replaces).
    pub tests: Vec<TestSpec>,
    /// The connector's face.
    pub connector: Connector,
    /// Wires by role: length and size where known.
    pub wires: Vec<WireSpec>,
    /// Where its values come from.
    pub sources: Vec<SourceNote>,
    /// Caution ids or own text.
    pub cautions: Vec<Placed<String>>,
    /// Notes in Markdown.
    pub notes: String,
}

/// One pin of the connector.
#[derive(Clone, Debug)]
pub struct Pin {
    /// As printed on the connector: `1`, `A`.
    pub label: Placed<String>,
    /// What it does: reference, signal, ground...
    pub role: Placed<String>,
    /// IEC 60757 letters, or empty.
    pub wire: Option<Placed<String>>,
}

/// A point of the signal: where it is, what it reads.
#[derive(Clone, Debug)]
pub struct SignalPoint {
    /// The author's words: `valve closed`, `20 C`.
    pub at: Placed<String>,
    /// The same as a quantity where it is one.
    pub at_quantity: Option<Quantity>,
    /// The band the card states, in volts; none where the circuit's own answer is wanted.
    pub reads: Option<Placed<Interval>>,
    /// What other signal pins of the same part read there, by role, in volts.
    pub also: BTreeMap<String, Placed<Interval>>,
}

/// What a card gives for a parameter.
#[derive(Clone, Debug, PartialEq)]
pub enum ParameterValue {
    /// A value with tolerance, in the parameter's dimension.
    Value(Toleranced),
    /// One of the parameter's choices.
    Choice(String),
    /// An interval (input limits).
    Limits(Interval),
}

/// Resistance of a part against temperature.
#[derive(Clone, Debug, PartialEq)]
pub enum Curve {
    /// B value: resistance at 25 C in ohm, B in kelvin.
    Beta {
        /// Ohm at 25 C.
        r25: Toleranced,
        /// Kelvin.
        beta: Toleranced,
    },
    /// Steinhart-Hart coefficients, with a tolerance on resistance as a ratio.
    SteinhartHart {
        /// 1/K.
        a: f64,
        /// 1/K, by the logarithm of ohms.
        b: f64,
        /// 1/K, by its cube.
        c: f64,
        /// Tolerance of the resistance, part of one.
        within: f64,
    },
    /// Platinum after IEC 60751: resistance at 0 C in ohm.
    Platinum {
        /// Ohm at 0 C.
        r0: Toleranced,
    },
}

/// A value that a scan tool shows.
#[derive(Clone, Debug)]
pub struct ScanValue {
    /// As shown on the tool.
    pub name: Placed<String>,
    /// Role of the pin it follows.
    pub role: String,
    /// How it follows the pin.
    pub kind: ScanKind,
    /// A remark.
    pub says: Option<String>,
}

/// How a scan value follows the pin.
#[derive(Clone, Debug, PartialEq)]
pub enum ScanKind {
    /// Follows the pin.
    Raw,
    /// Computed or substituted: outside `valid` volts it shows `substitute` (words) or stays put.
    Derived {
        /// Volts at the pin within which it follows.
        valid: Option<Interval>,
        /// What it shows outside, in the author's words.
        substitute: Option<String>,
    },
}

/// The connector's face.
#[derive(Clone, Debug, Default)]
pub struct Connector {
    /// Round or rectangular.
    pub shape: Shape,
    /// What sits in each place, row by row as seen; empty means one row in pin order.
    pub rows: Vec<Vec<Seat>>,
    /// Side on which the key or latch sits.
    pub keying: Option<Side>,
    /// Which side is drawn.
    pub view: View,
}

/// A place of a connector.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Seat {
    /// A pin of the card, by its label.
    Pin(String),
    /// A pin of another circuit, by its label: `(7)` as written.
    Other(String),
    /// Nothing: `_` as written.
    Empty,
}

/// Outline of a connector.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Shape {
    /// Pins in straight rows.
    #[default]
    Rectangular,
    /// Pins on a circle.
    Round,
}

/// A side of the connector as drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Up.
    Top,
    /// Down.
    Bottom,
    /// Left.
    Left,
    /// Right.
    Right,
}

/// From where a connector is seen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum View {
    /// Harness connector, looking into its mating face.
    #[default]
    HarnessMatingFace,
    /// Harness connector, from the wire side (as back-probed).
    HarnessWireSide,
    /// The part's own pins.
    PartFace,
}

/// Length and size of a wire.
#[derive(Clone, Debug)]
pub struct WireSpec {
    /// Which pin's wire.
    pub role: Placed<String>,
    /// Metres.
    pub length: Option<f64>,
    /// Square metres of copper.
    pub area: Option<f64>,
}

/// Where values come from, in the card author's words.
#[derive(Clone, Debug)]
pub struct SourceNote {
    /// Kind of source.
    pub kind: SourceKind,
    /// Title, page, date.
    pub says: Placed<String>,
    /// What it covers: `pins`, `signal`, a parameter name; empty means all typed values.
    pub covers: Vec<Placed<String>>,
}

/// Kind of source, as the reader is told it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SourceKind {
    /// A book, standard or service information.
    Published,
    /// Measured in this shop.
    MeasuredHere,
    /// Common practice of the trade.
    CommonPractice,
}
