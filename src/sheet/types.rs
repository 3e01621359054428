//! The shapes of a sheet.

use super::known_good_types::KnownGood;
use super::told_types::{OutcomeSheet, SeriesSheet};
use crate::card::{Key, Plug};
use crate::circuit::{Band, HookUp, Network};
use crate::quantity::{Dimension, Interval, Toleranced};
use crate::reason::{Audit, Load, Outcome, Reach, Signatures, outcome};
use std::borrow::Cow;

/// All that is computed for one card.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// The card's id.
    pub card: String,
    /// The healthy circuit: one variant, or one for each answer to a choice that the card leaves open.
    pub variants: Vec<Variant>,
    /// Pins in the card's order.
    pub pins: Vec<PinSheet>,
    /// Tests in the card's order first, then the others the family knows.
    pub tests: Vec<TestSheet>,
    /// How many of `tests` are in the order.
    pub in_order: usize,
    /// The signal against its points; none where the circuit has no analogue signal.
    pub signal: Option<SignalSheet>,
    /// What each reading means, what the order can tell apart, what resistance does.
    pub reasoning: Reasoning,
    /// What a scan tool that shows degrees stands for: Celsius and volts at the pin; empty where there is no curve.
    pub shown: Vec<(f64, f64)>,
    /// What series resistance does, a wire or contact each.
    pub series: Vec<SeriesSheet>,
    /// Every value the bands rest on, with where it comes from.
    pub values: Vec<ValueLine>,
    /// What was measured in the shop at good circuits, in the order of the tests.
    pub known_good: Vec<KnownGood>,
    /// Cautions as text, the most dangerous first.
    pub cautions: Vec<Caution>,
}

impl Sheet {
    /// The test that a probe reads; none where there is no such probe.
    pub fn test_at(&self, probe: usize) -> Option<&TestSheet> {
        self.tests.get(*self.reasoning.of_test.get(probe)?)
    }

    /// What a probe measures; volts where there is no such probe.
    pub fn dimension_at(&self, probe: usize) -> Dimension {
        self.test_at(probe)
            .map_or(Dimension::Voltage, |test| test.dimension)
    }

    /// What each reading of a probe means; none where there is no such probe.
    pub fn outcome(&self, probe: usize) -> Option<Cow<'_, Outcome>> {
        let reasoning = &self.reasoning;
        match reasoning.outcomes.get(probe) {
            Some(known) => Some(Cow::Borrowed(known)),
            None if probe < reasoning.signatures.probes.len() => {
                Some(Cow::Owned(outcome(&reasoning.signatures, probe)))
            }
            None => None,
        }
    }
}

/// A caution shown on a page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// Id from the table of cautions, or empty for a card's own text.
    pub id: String,
    /// A few words.
    pub title: String,
    /// One or two sentences.
    pub says: String,
    /// True where it can hurt a person, false where it can hurt the circuit.
    pub can_hurt: bool,
}

/// A pin and what it should read.
#[derive(Clone, Debug)]
pub struct PinSheet {
    /// As printed on the connector.
    pub label: String,
    /// What it does.
    pub role: String,
    /// IEC 60757 letters and the words (`GNWH`, `green, white`), empty where unknown.
    pub wire: String,
    /// The wire's colours in words.
    pub wire_words: String,
    /// Harness side to good ground, unplugged, key on.
    pub unplugged: Option<Band>,
    /// To good ground, back-probed, key on, over all states of the part.
    pub plugged: Option<Band>,
}

/// One test with its expected readings.
#[derive(Clone, Debug)]
pub struct TestSheet {
    /// Its id.
    pub id: String,
    /// Title.
    pub title: String,
    /// Connector state.
    pub plug: Plug,
    /// Key state.
    pub key: Key,
    /// Where the leads go; none for a scan value.
    pub leads: Option<Leads>,
    /// Jumpers and loads placed, in words: `bridge C (signal) to B (ground)`.
    pub links: Vec<String>,
    /// The same, each with its ends.
    pub bridges: Vec<Bridge>,
    /// Name of the scan value to watch, where the test is one.
    pub scan: Option<String>,
    /// What the reading measures.
    pub dimension: Dimension,
    /// When to do it, in words, empty for always.
    pub when: String,
    /// Why, one sentence, or empty.
    pub why: String,
    /// Minutes.
    pub minutes: f64,
    /// Cautions of this test alone.
    pub cautions: Vec<Caution>,
    /// Healthy readings, one a state of the part (one without a name where the state does not matter).
    pub expected: Vec<Expected>,
    /// What each reading means, one a state.
    pub outcomes: Vec<OutcomeSheet>,
}

/// Red and black lead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Leads {
    /// Red.
    pub red: Lead,
    /// Black.
    pub black: Lead,
}

/// A jumper or a load placed for a test.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bridge {
    /// One end.
    pub from: Lead,
    /// The other.
    pub to: Lead,
    /// What it goes through: `1 kohm`; empty for a jumper.
    pub through: String,
    /// True where another end holds under another answer to what the card leaves open.
    pub depends: bool,
}

/// Where a lead goes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lead {
    /// Label of the pin, none for good ground or battery.
    pub pin: Option<String>,
    /// In words: `A (reference), harness side`, `good ground: bare metal of the body or battery minus`.
    pub words: String,
    /// Shortest words: `A`, `good ground`.
    pub short: String,
}

/// A healthy reading of a test in one state.
#[derive(Clone, Debug)]
pub struct Expected {
    /// State of the part: `valve closed`, `20 C`; empty where it does not matter.
    pub state: String,
    /// The computed band.
    pub band: Band,
    /// The band the card states for this state, where it does and the test reads the signal.
    pub stated: Option<Interval>,
    /// What the scan tool shows instead, where the pin is outside the range in which the value follows it; empty where
    /// it follows.
    pub instead: String,
}

/// The circuit under one answer to what the card leaves open (where the open input rests).
#[derive(Clone, Debug)]
pub struct Variant {
    /// The answer in words: `the open input rests high`; empty where nothing is open.
    pub says: String,
    /// The healthy network.
    pub network: Network,
    /// Every test in every state of the part, hooked up.
    pub hooked: Vec<Hooked>,
}

/// Everything that is reasoned about a card's circuit.
#[derive(Clone, Debug)]
pub struct Reasoning {
    /// The band every fault gives at every probe; probes stand as in the first variant's `hooked`.
    pub signatures: Signatures,
    /// Place in [`Sheet::tests`] of each probe.
    pub of_test: Vec<usize>,
    /// What each reading of a probe means; empty where it is worked out when asked ([`Sheet::outcome`]).
    pub outcomes: Vec<Outcome>,
    /// What the card's order can tell apart.
    pub audit: Audit,
    /// From where series resistance shows, and what it does to the signal, a wire or contact each.
    pub reach: Vec<Reach>,
    /// A resistor that loads the reference safely; none where the circuit has no regulator.
    pub load: Option<Load>,
}

/// One test in one state of the part, hooked up.
#[derive(Clone, Debug)]
pub struct Hooked {
    /// Place in [`Sheet::tests`].
    pub test: usize,
    /// State of the part, empty where it does not matter.
    pub state: String,
    /// Place of the scan value in the card's list, where the test reads one the card names.
    pub scan: Option<usize>,
    /// The hook-up.
    pub hookup: HookUp,
    /// Healthy band.
    pub band: Band,
}

/// The signal against its points.
#[derive(Clone, Debug)]
pub struct SignalSheet {
    /// Pin label of the signal.
    pub pin: String,
    /// Points in order.
    pub points: Vec<SignalLine>,
    /// Outside these volts the module sets a code.
    pub valid: Option<Interval>,
    /// Full scale of the chart in volts.
    pub full: f64,
}

/// One point of the signal.
#[derive(Clone, Debug)]
pub struct SignalLine {
    /// The author's words.
    pub at: String,
    /// The same as a number with dimension, where it is one (for a chart's x axis).
    pub x: Option<(f64, Dimension)>,
    /// Computed with tolerances, plugged in, at the pin.
    pub band: Interval,
    /// Stated by the card.
    pub stated: Option<Interval>,
    /// The part's resistance there, where it has one that follows the signal.
    pub ohms: Option<Toleranced>,
}

/// A value and where it comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct ValueLine {
    /// What it is: `reference voltage`.
    pub name: String,
    /// The value as text.
    pub text: String,
    /// One phrase of explanation, or empty.
    pub says: String,
    /// Where it comes from.
    pub source: Source,
}

/// Where a value comes from, as the reader is told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Source {
    /// Published, with the card's words for it.
    Published(String),
    /// Measured in this shop, with the card's words for it.
    MeasuredHere(String),
    /// Common practice of the trade.
    CommonPractice(String),
    /// Stated on the card, source not named.
    Stated,
    /// Computed by solving the circuit.
    Computed,
    /// Default of the family.
    FamilyDefault,
}
