//! The shape of the command line: verbs, their options, their help. Decides nothing.

use clap::{Args, Parser, Subcommand};
use std::path::PathBuf;

/// Circuit cards in, a solved wiring reference out: pins, expected readings and their bands.
#[derive(Debug, Parser)]
#[command(
    name = "loomleaf",
    version,
    arg_required_else_help = true,
    subcommand_required = true,
    subcommand_value_name = "VERB",
    subcommand_help_heading = "Verbs",
    disable_help_subcommand = true,
    after_help = "\
A deck is a folder with a deck.yaml and one file for each circuit in cards/.
Start with:  loomleaf preview demo

Exit status: 0 fine, 1 findings that stop publishing or no match, 2 could not run."
)]
pub(super) struct CommandLine {
    #[command(subcommand)]
    pub(super) verb: Verb,
}

#[derive(Debug, Subcommand)]
pub(super) enum Verb {
    Inspect(Inspect),
    Publish(Publish),
    Preview(Preview),
    Find(Find),
    Expect(Expect),
    Diagnose(Diagnose),
    Order(Order),
    Reckon(Reckon),
    Record(Record),
}

/// Read a deck, solve every card, and list what is wrong or could be better.
#[derive(Debug, Args)]
#[command(after_help = "Example:  loomleaf inspect demo")]
pub(super) struct Inspect {
    /// Folder of the deck
    pub(super) deck: PathBuf,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
}

/// Write the deck's site into a folder, replacing the site that stands there.
#[derive(Debug, Args)]
#[command(after_help = "Example:  loomleaf publish demo --to site")]
pub(super) struct Publish {
    /// Folder of the deck
    pub(super) deck: PathBuf,
    /// Folder for the site: new, empty, or holding an earlier site
    #[arg(long, value_name = "DIR")]
    pub(super) to: PathBuf,
    /// Where the site will be found, printed on paper
    #[arg(long, value_name = "URL")]
    pub(super) address: Option<String>,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
}

/// Show the deck's site in a browser on this machine, published again whenever a file changes.
#[derive(Debug, Args)]
#[command(after_help = "Example:  loomleaf preview demo")]
pub(super) struct Preview {
    /// Folder of the deck
    pub(super) deck: PathBuf,
    /// Port of the address; without it 8040, or a free one where that is taken
    #[arg(long, value_name = "N")]
    pub(super) port: Option<u16>,
}

/// Find circuits by words, codes, wire colours, vehicles or values, typed as they come.
#[derive(Debug, Args)]
#[command(after_help = "\
Half words, slips and other names of the trade are understood; every word must match something.

Example:  loomleaf find demo black ground ramp")]
pub(super) struct Find {
    /// Folder of the deck
    pub(super) deck: PathBuf,
    /// What to look for
    #[arg(value_name = "WORDS", required = true)]
    pub(super) words: Vec<String>,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
}

/// List what a meter should read at each test of a card's sound circuit.
#[derive(Debug, Args)]
#[command(after_help = "Example:  loomleaf expect demo ramp-angle --test supply")]
pub(super) struct Expect {
    /// Folder of the deck
    pub(super) deck: PathBuf,
    /// Card, as its file is named
    pub(super) card: String,
    /// Only this test
    #[arg(long, value_name = "TEST")]
    pub(super) test: Option<String>,
    /// Also what the meter reads with this fault, by name or the nearest name
    #[arg(long, value_name = "FAULT")]
    pub(super) fault: Option<String>,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
}

/// Say what readings establish, which repairs are left, and which test to do next.
#[derive(Debug, Args)]
#[command(after_help = "\
Readings:  supply=5.03 V   'at-rest@20 C=2.9 V'   sensor-ohms@20C=OL   force='no change'
           also: floating, cannot measure. Without readings it asks for them one by one.

Example:  loomleaf diagnose demo coolant-temperature supply=0 signal-to-ground=5.0")]
pub(super) struct Diagnose {
    /// Folder of the deck
    pub(super) deck: PathBuf,
    /// Card, as its file is named
    pub(super) card: String,
    /// Readings taken, TEST=READING or TEST@STATE=READING
    #[arg(value_name = "TEST=READING")]
    pub(super) readings: Vec<String>,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
}

/// Say what a card's test order can tell apart, what it leaves together, and a better order.
#[derive(Debug, Args)]
#[command(after_help = "Example:  loomleaf order demo ramp-angle")]
pub(super) struct Order {
    /// Folder of the deck
    pub(super) deck: PathBuf,
    /// Card, as its file is named
    pub(super) card: String,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
}

/// Answer a calculator's question with its formula and source, or list the calculators.
#[derive(Debug, Args)]
#[command(after_help = "\
Without a name it lists the calculators; without values it says what one needs.

Example:  loomleaf reckon divider supply=5V \"resistors=2.2 kohm; 1 kohm\"")]
pub(super) struct Reckon {
    /// Calculator, as the list names it
    pub(super) name: Option<String>,
    /// Values with their units
    #[arg(value_name = "KEY=VALUE")]
    pub(super) values: Vec<String>,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
}

/// Add known-good readings to a card's file in readings/, and say how they stand to the computed bands.
#[derive(Debug, Args)]
#[command(after_help = "\
Readings:  supply=5.03 V   'at-rest@20 C=2.9 V', or --at '20 C' for all of them.
           Rows are only ever added; a reading outside the computed band is kept and left out of the known-good band.

Example:  loomleaf record demo ramp-angle supply=5.01 at-rest=1.04 --at '0 deg' --vehicle 'Ferry 2'")]
pub(super) struct Record {
    /// Folder of the deck
    pub(super) deck: PathBuf,
    /// Card, as its file is named
    pub(super) card: String,
    /// Readings taken at a circuit known to be good, TEST=READING or TEST@STATE=READING
    #[arg(value_name = "TEST=READING", required = true)]
    pub(super) readings: Vec<String>,
    /// State of the part, for the tests that are read in several
    #[arg(long, value_name = "STATE")]
    pub(super) at: Option<String>,
    /// The vehicle or machine
    #[arg(long, value_name = "NAME")]
    pub(super) vehicle: Option<String>,
    /// The meter
    #[arg(long, value_name = "NAME")]
    pub(super) meter: Option<String>,
    /// A remark
    #[arg(long, value_name = "WORDS")]
    pub(super) note: Option<String>,
    /// The day; without it today, by this machine's clock
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub(super) date: Option<String>,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
}
