//! The oracle: ngspice solves the same circuits and must agree within 5 mV or 0.2 %.
//!
//! ngspice is the independent method. A floating reading has no value to compare: there a nanoampere pushed
//! into the lead must move it by far more than any held lead moves.

use super::netlist::{Run, deck};
use loomleaf::circuit::{HookUp, Network, Observe, Reading, Values, solve};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::process::Command;

/// Largest difference: volts, or part of the reading where that is more. Ohms and amperes by part alone.
const VOLTS: f64 = 5e-3;
const PART: f64 = 2e-3;
/// The nudge moves a converter that nothing holds by more than this, volts; a held one by less.
const LOOSE: f64 = 5.0;
/// The same of a lead: the 10 Mohm of its meter alone move by 10 V, with 100 Mohm of a circuit beside them by 9.1 V.
const LOOSE_LEAD: f64 = 9.5;
/// Volts by which a piece may miss its border: for the 1e12 ohm that hold every node.
const BORDER: f64 = 2e-6;
/// An ohmmeter's overload, and the least reference of a converter, as the core documents them.
const OVERLOAD: f64 = 60e6;
const LEAST_REFERENCE: f64 = 0.05;
/// Circuits solved in one run of ngspice.
const BATCH: usize = 400;

/// How far two solvers were apart.
#[derive(Debug, Default)]
pub(crate) struct Tally {
    /// Readings compared.
    pub(crate) comparisons: usize,
    /// Largest deviation as part of what is allowed.
    pub(crate) largest: f64,
    /// Where that was.
    pub(crate) at: String,
    /// Deviations beyond what is allowed, and circuits ngspice could not solve.
    pub(crate) failures: Vec<String>,
}

type Printed = BTreeMap<String, f64>;

/// A state as one of the two solvers sees it.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Seen {
    Value(f64),
    Floating,
    NoPath,
}

/// Solves every circuit with ngspice, in every combination of its pieces, and compares all states.
pub(crate) fn compare(circuits: &[(String, Network, HookUp)]) -> Tally {
    let mut tally = Tally::default();
    for pair in circuits.chunks(2 * BATCH) {
        let printed: Vec<_> = std::thread::scope(|scope| {
            let runs: Vec<_> = pair
                .chunks(BATCH)
                .map(|batch| scope.spawn(|| solved(batch)))
                .collect();
            runs.into_iter()
                .flat_map(|run| run.join().unwrap())
                .collect()
        });
        for ((name, network, hookup), (runs, printed)) in pair.iter().zip(&printed) {
            let values = Values::nominal(network, &hookup.setting);
            let ours = solve::states(network, hookup, &values).unwrap();
            let ours: Vec<Seen> = ours.iter().map(|state| seen(state.reading)).collect();
            match states(network, hookup, runs, printed) {
                None => tally
                    .failures
                    .push(format!("{name}: ngspice has no answer")),
                Some(theirs) => tally.add(name, hookup, &ours, &theirs),
            }
        }
    }
    tally
}

/// The runs of each circuit with what ngspice printed for them.
fn solved(batch: &[(String, Network, HookUp)]) -> Vec<(Vec<Run>, Vec<Printed>)> {
    let decks = batch
        .iter()
        .map(|(_, network, hookup)| deck(network, hookup));
    let decks: Vec<(String, Vec<Run>)> = decks.collect();
    let printed = run(&decks);
    decks
        .into_iter()
        .map(|(_, runs)| runs)
        .zip(printed)
        .collect()
}

/// The states that agree with themselves, one for each pattern of powered switches that has any. None
/// where a run printed too little.
fn states(
    network: &Network,
    hookup: &HookUp,
    runs: &[Run],
    printed: &[Printed],
) -> Option<Vec<Seen>> {
    let mut found: BTreeMap<usize, Seen> = BTreeMap::new();
    for (run, printed) in runs.iter().zip(printed) {
        let mut agrees = true;
        for (number, [low, high]) in run.volts.iter().enumerate() {
            let across = *printed.get(&format!("a{number}"))?;
            agrees &= low - BORDER <= across && across <= high + BORDER;
        }
        if agrees {
            found
                .entry(run.pattern)
                .or_insert(judge(network, hookup, printed)?);
        }
    }
    Some(found.into_values().collect())
}

fn seen(reading: Reading) -> Seen {
    match reading {
        Reading::Value(value) => Seen::Value(value),
        Reading::Floating => Seen::Floating,
        Reading::NoPath => Seen::NoPath,
    }
}

/// Runs a batch in one process; what each run of each deck printed.
fn run(decks: &[(String, Vec<Run>)]) -> Vec<Vec<Printed>> {
    let folder = tempfile::tempdir().unwrap();
    let mut script = String::from("all circuits\n.control\nset numdgt=9\n");
    for (number, (text, runs)) in decks.iter().enumerate() {
        let file = folder.path().join(format!("{number}.cir"));
        std::fs::write(&file, text).unwrap();
        writeln!(script, "source {}", file.display()).unwrap();
        for (place, run) in runs.iter().enumerate() {
            write!(
                script,
                "echo @@ {number} {place}\n{}destroy all\n",
                run.commands
            )
            .unwrap();
        }
        script.push_str("remcirc\n");
    }
    script.push_str("quit\n.endc\n.end\n");
    let main = folder.path().join("main.cir");
    std::fs::write(&main, script).unwrap();
    let answer = Command::new("ngspice").arg("-b").arg(&main).output();
    let answer = answer.expect("ngspice is installed by the test command");
    let mut printed: Vec<Vec<Printed>> = decks
        .iter()
        .map(|(_, runs)| vec![Printed::new(); runs.len()])
        .collect();
    let mut place = None;
    for line in String::from_utf8_lossy(&answer.stdout).lines() {
        if let Some(marked) = line.strip_prefix("@@ ") {
            let numbers: Vec<usize> = marked.split(' ').filter_map(|n| n.parse().ok()).collect();
            place = Some((numbers[0], numbers[1]));
        } else if let (Some((deck, run)), Some((name, value))) = (place, line.split_once(" = "))
            && let Ok(value) = value.trim().parse()
        {
            printed[deck][run].insert(name.trim().to_owned(), value);
        }
    }
    printed
}

/// The reading of one run, in the words of the core.
fn judge(network: &Network, hookup: &HookUp, printed: &Printed) -> Option<Seen> {
    let reading = *printed.get("r")?;
    let moved = |nudged: &str, rested: &str| -> Option<f64> {
        Some((printed.get(nudged)? - printed.get(rested)?).abs())
    };
    let loose = |nudged: &str, rested: &str| Some(LOOSE < moved(nudged, rested)?);
    Some(match hookup.observe {
        Observe::Volts { red, black } if red == black => Seen::Value(0.0),
        Observe::Volts { .. } if LOOSE_LEAD < moved("p", "r")? => Seen::Floating,
        Observe::Volts { .. } | Observe::Amps { .. } => Seen::Value(reading),
        Observe::Ohms { .. } if OVERLOAD < reading => Seen::NoPath,
        Observe::Ohms { .. } => Seen::Value(reading),
        Observe::Scan { .. } if loose("p", "r")? => Seen::Floating,
        Observe::Scan { input } => {
            let input = &network.inputs()[input];
            match input.against {
                None => Seen::Value(reading.clamp(0.0, input.full)),
                Some(_) if loose("f", "d")? || *printed.get("d")? < LEAST_REFERENCE => {
                    Seen::Floating
                }
                Some(_) => Seen::Value((reading / printed.get("d")?).clamp(0.0, 1.0) * input.full),
            }
        }
    })
}

impl Tally {
    fn add(&mut self, name: &str, hookup: &HookUp, ours: &[Seen], theirs: &[Seen]) {
        if ours.len() != theirs.len() {
            self.failures
                .push(format!("{name}: states {ours:?}, ngspice {theirs:?}"));
            return;
        }
        for (our, their) in ours.iter().zip(theirs) {
            self.comparisons += 1;
            let deviation = match (our, their) {
                (Seen::Value(our), Seen::Value(their)) => {
                    let part = PART * their.abs();
                    let allowed = match hookup.observe {
                        Observe::Ohms { .. } => part.max(1e-3),
                        Observe::Amps { .. } => part.max(1e-6),
                        _ => part.max(VOLTS),
                    };
                    (our - their).abs() / allowed
                }
                (our, their) if our == their => 0.0,
                _ => f64::INFINITY,
            };
            if self.largest < deviation {
                self.largest = deviation;
                name.clone_into(&mut self.at);
            }
            if 1.0 < deviation {
                self.failures
                    .push(format!("{name}: {our:?}, ngspice {their:?}"));
            }
        }
    }
}
