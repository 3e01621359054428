//! The shapes of what is told: outcome tables and series resistance, in words ready to be shown.

/// What the readings of one test mean, in one state of the part.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OutcomeSheet {
    /// State of the part, empty where it does not matter.
    pub state: String,
    /// What the reading is worth as evidence; empty where it can be held against every fault.
    pub worth: String,
    /// The short answer: a good reading first, then the likeliest.
    pub short: Vec<OutcomeLine>,
    /// The whole table in ascending order.
    pub full: Vec<OutcomeLine>,
    /// Faults that this reading can never show, as repairs.
    pub blind_to: Vec<String>,
}

/// One stretch of readings and what it means.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OutcomeLine {
    /// `4.87 to 5.13 V`, `near 0 V, drifting`, `no path`.
    pub reads: String,
    /// A good circuit reads here.
    pub good: bool,
    /// What it can be, likeliest first.
    pub means: Vec<MeaningLine>,
    /// How many further repairs are left out of `means`.
    pub more: usize,
    /// What to do next, as a sentence without its full stop.
    pub next: String,
}

/// One thing a reading can mean.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MeaningLine {
    /// What is wrong: `ground wire open`.
    pub says: String,
    /// The repair.
    pub repair: String,
    /// The series resistance it takes: `from 12 kohm`; empty where it is none.
    pub ohms: String,
    /// `always`, `depends` or `never`: whether this test tells it from a good circuit.
    pub seen: &'static str,
}

/// What series resistance in one wire or contact does.
#[derive(Clone, Debug, PartialEq)]
pub struct SeriesSheet {
    /// `signal wire`.
    pub place: String,
    /// From where each test shows it.
    pub shows: Vec<SeriesTest>,
    /// What it does to the signal, one a state.
    pub effects: Vec<SeriesEffect>,
}

/// From where one test shows a series resistance.
#[derive(Clone, Debug, PartialEq)]
pub struct SeriesTest {
    /// Title of the test.
    pub test: String,
    /// State of the part, empty where it does not matter.
    pub state: String,
    /// Ohms from which it can show; none where it never does.
    pub first: Option<f64>,
    /// Ohms from which it always shows.
    pub always: Option<f64>,
    /// The test puts a load on the circuit.
    pub loaded: bool,
}

/// What a series resistance does to the signal in one state.
#[derive(Clone, Debug, PartialEq)]
pub struct SeriesEffect {
    /// State of the part.
    pub state: String,
    /// Signal without it, volts.
    pub healthy: Option<f64>,
    /// Ohms and volts for the chart and its table.
    pub points: Vec<(f64, f64)>,
    /// Ohms from which the module sets a code, and whether the reading is then too low or too high.
    pub code: Option<(f64, &'static str)>,
    /// What 100 ohm does to the temperature the module works out, kelvin; none for other sensors.
    pub kelvin: Option<f64>,
    /// One of the two temperatures that every page tells it at.
    pub told: bool,
}
