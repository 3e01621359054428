//! A network in one hook-up as a SPICE deck: our own translation, which shares nothing with the solver.
//!
//! Every element becomes what a textbook draws for it: a battery is a voltage source and a resistor, a regulator
//! the same with a current source beside it, a diode a voltage and a resistor. A piecewise element is drawn in
//! one of its pieces; every combination of pieces is run, and afterwards those count whose volts
//! agree with what was drawn.

use loomleaf::circuit::{
    BLEED, ElementId, ElementKind, HookUp, Input, Network, NodeId, Observe, ParameterId, Site,
    Values,
};
use std::fmt::Write;

/// Ampere pushed through a resistance to read ohms.
const PROBE: f64 = 1e-6;
/// Ampere pushed into a lead beside its meter, and into a converter, to see whether anything holds it.
const NUDGE_LEAD: f64 = 1e-6;
const NUDGE_INPUT: f64 = 1e-9;
/// What is open, and what holds every node to ground so that no matrix is singular, ohm.
const OPEN: f64 = 1e15;
const HOLD: f64 = 1e12;

/// Volts by which a combination may miss its borders and still be asked.
const LAX: f64 = 1e-3;

/// A piece of a characteristic: drawn by `alter` commands, right between two voltages across the element.
#[derive(Clone)]
struct Piece {
    alter: String,
    /// Volts across at least and at most.
    volts: [f64; 2],
}

/// A piecewise element: where its volts are taken, and its pieces.
struct Piecewise {
    across: String,
    pieces: Vec<Piece>,
    gate: bool,
}

/// One combination of pieces.
pub(super) struct Run {
    /// What to type once the deck is loaded.
    pub(super) commands: String,
    /// Volts between which each printed `a0`, `a1`, ... must lie.
    pub(super) volts: Vec<[f64; 2]>,
    /// Number of the pattern of powered switches it belongs to; 0 has all of them closed.
    pub(super) pattern: usize,
}

/// The deck with all its runs.
pub(super) fn deck(network: &Network, hookup: &HookUp) -> (String, Vec<Run>) {
    let mut writing = Writing {
        network,
        hookup,
        values: Values::nominal(network, &hookup.setting),
        deck: String::from("one circuit\n.options numdgt=9\n"),
        piecewise: Vec::new(),
    };
    for (place, element) in network.elements().iter().enumerate() {
        let contact = matches!(element.site, Site::Contact(_));
        if network.present(ElementId(place)) && (hookup.mated || !contact) {
            writing.element(ElementId(place));
        }
    }
    for (number, link) in hookup.links.iter().enumerate() {
        writing.resistor(&format!("link{number}"), link.a, link.b, link.ohms.nominal);
    }
    // A node that a fault left without any element is still asked about.
    for place in 1..network.nodes().len() {
        writing.line(&format!("Rhold{place} n{place} 0 {HOLD:e}"));
    }
    let asked = writing.observation();
    let runs = runs(&writing.piecewise, &asked);
    let mut text = writing.deck;
    text.push_str(".end\n");
    (text, runs)
}

fn runs(piecewise: &[Piecewise], asked: &str) -> Vec<Run> {
    let all: usize = piecewise.iter().map(|p| p.pieces.len()).product();
    let mut runs = Vec::new();
    for combination in 0..all {
        let mut rest = combination;
        let (mut commands, mut volts) = (String::new(), Vec::new());
        let (mut pattern, mut bit, mut prints) = (0, 0, String::new());
        for (number, element) in piecewise.iter().enumerate() {
            let choice = rest % element.pieces.len();
            rest /= element.pieces.len();
            commands.push_str(&element.pieces[choice].alter);
            volts.push(element.pieces[choice].volts);
            writeln!(prints, "let a{number}={}\nprint a{number}", element.across).unwrap();
            if element.gate {
                pattern |= choice << bit;
                bit += 1;
            }
        }
        // What is drawn wrong need not be asked; the strict test of that is the oracle's.
        let near =
            volts
                .iter()
                .enumerate()
                .flat_map(|(number, [low, high]): (usize, &[f64; 2])| {
                    let low = low
                        .is_finite()
                        .then(|| format!("(a{number} gt {:e})", low - LAX));
                    let high = high
                        .is_finite()
                        .then(|| format!("(a{number} lt {:e})", high + LAX));
                    low.into_iter().chain(high)
                });
        let near: Vec<String> = near.collect();
        write!(commands, "op\n{prints}").unwrap();
        if near.is_empty() {
            commands.push_str(asked);
        } else {
            write!(commands, "if {}\n{asked}end\n", near.join(" and ")).unwrap();
        }
        runs.push(Run {
            commands,
            volts,
            pattern,
        });
    }
    runs
}

struct Writing<'a> {
    network: &'a Network,
    hookup: &'a HookUp,
    values: Values,
    deck: String,
    piecewise: Vec<Piecewise>,
}

fn node(id: NodeId) -> String {
    if id.0 == 0 {
        "0".to_owned()
    } else {
        format!("n{}", id.0)
    }
}

/// Volts of a node as ngspice writes them.
fn volts(id: NodeId) -> String {
    if id.0 == 0 {
        "0".to_owned()
    } else {
        format!("v(n{})", id.0)
    }
}

fn between(plus: NodeId, minus: NodeId) -> String {
    format!("({}-{})", volts(plus), volts(minus))
}

impl Writing<'_> {
    fn value(&self, parameter: ParameterId) -> f64 {
        self.values.get(parameter).unwrap()
    }

    fn line(&mut self, line: &str) {
        writeln!(self.deck, "{line}").unwrap();
    }

    fn resistor(&mut self, name: &str, a: NodeId, b: NodeId, ohms: f64) {
        if a != b {
            let ohms = ohms.max(1e-4);
            self.line(&format!("R{name} {} {} {ohms:e}", node(a), node(b)));
        }
    }

    fn piecewise(&mut self, across: (NodeId, NodeId), gate: bool, pieces: Vec<(String, [f64; 2])>) {
        let pieces = pieces
            .into_iter()
            .map(|(alter, volts)| Piece { alter, volts });
        self.piecewise.push(Piecewise {
            across: between(across.0, across.1),
            pieces: pieces.collect(),
            gate,
        });
    }

    fn element(&mut self, id: ElementId) {
        let name = format!("e{}", id.0);
        let live = self.hookup.powered;
        let probing = matches!(self.hookup.observe, Observe::Ohms { .. });
        match self.network.elements()[id.0].kind.clone() {
            ElementKind::Resistor { a, b, ohms } => self.resistor(&name, a, b, self.value(ohms)),
            ElementKind::Source {
                plus,
                minus,
                volts,
                series,
            } if live => {
                let (volts, series) = (self.value(volts), self.value(series));
                self.battery(&name, plus, minus, volts, series);
            }
            ElementKind::Potentiometer {
                low,
                high,
                slider,
                track,
                position,
            } => {
                let (track, position) = (self.value(track), self.value(position));
                self.resistor(&format!("{name}low"), slider, low, track * position);
                self.resistor(
                    &format!("{name}high"),
                    high,
                    slider,
                    track * (1.0 - position),
                );
            }
            ElementKind::Switch { .. } => self.switch(&name, id),
            ElementKind::Regulator { .. } if live => self.regulator(&name, id),
            ElementKind::Sink { .. } | ElementKind::Diode { .. } if !probing => {
                self.passive(&name, id);
            }
            _ => {}
        }
    }

    fn battery(&mut self, name: &str, plus: NodeId, minus: NodeId, volts: f64, series: f64) {
        self.line(&format!("V{name} x{name} {} {volts:e}", node(minus)));
        self.line(&format!("R{name} x{name} {} {series:e}", node(plus)));
    }

    fn regulator(&mut self, name: &str, id: ElementId) {
        let ElementKind::Regulator {
            out,
            minus,
            volts,
            series,
            limit,
        } = self.network.elements()[id.0].kind
        else {
            return;
        };
        let (volts, series, limit) = (self.value(volts), self.value(series), self.value(limit));
        self.battery(name, out, minus, volts, series);
        self.line(&format!("I{name} {} {} 0", node(minus), node(out)));
        let (least, most) = (volts - limit * series, volts + BLEED * series);
        let draw =
            |ohms: f64, amps: f64| format!("alter r{name}={ohms:e}\nalter i{name}={amps:e}\n");
        let pieces = vec![
            (draw(series, 0.0), [least, most]),
            (draw(OPEN, -BLEED), [most, f64::INFINITY]),
            (draw(OPEN, limit), [f64::NEG_INFINITY, least]),
        ];
        self.piecewise((out, minus), false, pieces);
    }

    fn passive(&mut self, name: &str, id: ElementId) {
        match self.network.elements()[id.0].kind {
            ElementKind::Sink {
                from,
                to,
                amps,
                compliance,
            } => {
                let (amps, compliance) = (self.value(amps), self.value(compliance));
                let ohms = compliance / amps;
                self.line(&format!("R{name} {} {} {ohms:e}", node(from), node(to)));
                self.line(&format!("I{name} {} {} 0", node(from), node(to)));
                let draw = |ohms: f64, amps: f64| {
                    format!("alter r{name}={ohms:e}\nalter i{name}={amps:e}\n")
                };
                self.piecewise(
                    (from, to),
                    false,
                    vec![
                        (draw(ohms, 0.0), [f64::NEG_INFINITY, compliance]),
                        (draw(OPEN, amps), [compliance, f64::INFINITY]),
                    ],
                );
            }
            ElementKind::Diode {
                anode,
                cathode,
                forward,
                series,
            } => {
                let (forward, series) = (self.value(forward), self.value(series));
                self.line(&format!("V{name} {} x{name} {forward:e}", node(anode)));
                self.line(&format!("R{name} x{name} {} {series:e}", node(cathode)));
                self.piecewise(
                    (anode, cathode),
                    false,
                    vec![
                        (
                            format!("alter r{name}={OPEN:e}\n"),
                            [f64::NEG_INFINITY, forward],
                        ),
                        (
                            format!("alter r{name}={series:e}\n"),
                            [forward, f64::INFINITY],
                        ),
                    ],
                );
            }
            _ => {}
        }
    }

    fn switch(&mut self, name: &str, id: ElementId) {
        let ElementKind::Switch {
            a,
            b,
            ohms,
            powered,
        } = self.network.elements()[id.0].kind.clone()
        else {
            return;
        };
        if !self.hookup.setting.closed.contains(&id) || (powered.is_some() && !self.hookup.powered)
        {
            return;
        }
        let ohms = self.value(ohms);
        self.resistor(name, a, b, ohms);
        if let Some(needs) = powered {
            let least = self.value(needs.volts);
            self.piecewise(
                (needs.plus, needs.minus),
                true,
                vec![
                    (format!("alter r{name}={ohms:e}\n"), [least, f64::INFINITY]),
                    (
                        format!("alter r{name}={OPEN:e}\n"),
                        [f64::NEG_INFINITY, least],
                    ),
                ],
            );
        }
    }

    /// The instrument, and what is to be printed: `r` the reading and `d` volts of a reference, `p` and `f` the
    /// same two with a nudge on the leads.
    fn observation(&mut self) -> String {
        let mut asked = String::new();
        match self.hookup.observe {
            Observe::Volts { red, black } => {
                let at = between(red, black);
                self.resistor("meter", red, black, self.hookup.meter.input);
                self.nudge("Ip", red, black);
                write!(asked, "let r={at}\nprint r\nalter ip={NUDGE_LEAD:e}\nop\nlet p={at}\nprint p\nalter ip=0\n").unwrap();
            }
            Observe::Ohms { red, black } => {
                self.line(&format!("Iohm {} {} {PROBE:e}", node(black), node(red)));
                write!(asked, "let r={}/{PROBE:e}\nprint r\n", between(red, black)).unwrap();
            }
            Observe::Amps { red, black } => {
                self.line(&format!("Vamp {} xamp 0", node(red)));
                self.line(&format!("Ramp xamp {} 0.01", node(black)));
                asked.push_str("let r=i(vamp)\nprint r\n");
            }
            Observe::Scan { input } => {
                let input = self.network.inputs()[input].clone();
                self.scan(&input, &mut asked);
            }
        }
        asked
    }

    fn scan(&mut self, input: &Input, asked: &mut String) {
        let at = between(input.node, input.minus);
        write!(asked, "let r={at}\nprint r\n").unwrap();
        self.nudge("Ip", input.node, input.minus);
        let (mut nudge, mut look, mut rest) = (
            String::new(),
            format!("let p={at}\nprint p\n"),
            String::new(),
        );
        if let Some(against) = input.against {
            let reference = between(against, input.minus);
            self.nudge("Iq", against, input.minus);
            write!(asked, "let d={reference}\nprint d\n").unwrap();
            writeln!(nudge, "alter iq={NUDGE_INPUT:e}").unwrap();
            write!(look, "let f={reference}\nprint f\n").unwrap();
            rest.push_str("alter iq=0\n");
        }
        write!(
            asked,
            "alter ip={NUDGE_INPUT:e}\n{nudge}op\n{look}alter ip=0\n{rest}"
        )
        .unwrap();
    }

    fn nudge(&mut self, name: &str, into: NodeId, from: NodeId) {
        self.line(&format!("{name} {} {} 0", node(from), node(into)));
    }
}
