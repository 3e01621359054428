//! Hooking up: each test in each state of the part as a [`HookUp`] of the network, with its healthy band.
//!
//! In: tests as written, the wiring, the states. Out: [`Hooked`] tests. Chooses the rail that a jumper
//! must go to from where the open input rests.

use super::points;
use super::states::{self, State};
use super::types::{Bridge, Hooked};
use super::wiring::{JUMPER, Wiring};
use crate::card::{AtSpec, Card, Deck, Family, Key, ObserveSpec, Plug, ScanKind, TestSpec};
use crate::circuit::{Bands, CircuitError, HookUp, Link, Meter, Observe, Setting};
use crate::quantity::{Dimension, Quantity, Toleranced, write_quantity};
use crate::reason::other_rail;

/// Rail words a jumper may name.
const OTHER_RAIL: &str = "other rail";

/// Hooks up tests of one card under one variant of its wiring.
pub(super) struct Bench<'a> {
    pub deck: &'a Deck,
    pub card: &'a Card,
    pub family: &'a Family,
    pub wiring: &'a Wiring,
    pub states: &'a [State],
}

impl Bench<'_> {
    /// A test in all states it is done in.
    pub(super) fn hook(
        &self,
        number: usize,
        test: &TestSpec,
        bands: &Bands,
    ) -> Result<Vec<Hooked>, CircuitError> {
        let mut hooked = Vec::new();
        for (state, setting) in self.settings(&test.at) {
            let hookup = self.hookup(test, setting)?;
            let band = bands.band(&self.wiring.network, &hookup)?;
            for (scan, name) in self.shown(test) {
                let state = [state.as_str(), name.as_str()]
                    .into_iter()
                    .filter(|words| !words.is_empty())
                    .collect::<Vec<_>>()
                    .join(", ");
                hooked.push(Hooked {
                    test: number,
                    state,
                    scan,
                    hookup: hookup.clone(),
                    band: band.clone(),
                });
            }
        }
        Ok(hooked)
    }

    /// The scan values a test can be read by: the raw one first, without a name of its own; none for a meter.
    fn shown(&self, test: &TestSpec) -> Vec<(Option<usize>, String)> {
        let ObserveSpec::Scan { input } = &test.observes else {
            return vec![(None, String::new())];
        };
        let (scans, role) = (&self.card.scan, points::node_name(self.card, &input.value));
        let of_pin: Vec<usize> = (0..scans.len())
            .filter(|scan| scans[*scan].role == role)
            .collect();
        let raw = of_pin
            .iter()
            .copied()
            .find(|scan| scans[*scan].kind == ScanKind::Raw);
        let Some(main) = raw.or(of_pin.first().copied()) else {
            return vec![(None, String::new())];
        };
        let others = of_pin.into_iter().filter(|scan| *scan != main);
        let others = others.map(|scan| {
            (
                Some(scan),
                format!("by \u{201c}{}\u{201d}", scans[scan].name.value),
            )
        });
        [(Some(main), String::new())]
            .into_iter()
            .chain(others)
            .collect()
    }

    /// The meter of the deck.
    pub(super) fn meter(&self) -> Meter {
        let spec = self.deck.meter;
        Meter {
            of_reading: spec.of_reading,
            counts: spec.counts,
            display: spec.display,
            ..Meter::common()
        }
    }

    /// The jumpers and loads of a test.
    pub(super) fn bridges(&self, test: &TestSpec) -> Result<Vec<Bridge>, CircuitError> {
        let bridge = |link: &crate::card::LinkSpec| -> Result<Bridge, CircuitError> {
            let to = self.rail(&link.from.value, &link.to.value)?;
            let ohms = |ohms: Toleranced| {
                write_quantity(Quantity {
                    number: ohms.nominal,
                    dimension: Dimension::Resistance,
                })
            };
            Ok(Bridge {
                from: points::lead(self.card, &link.from.value),
                to: points::lead(self.card, &to),
                through: link.through.map(ohms).unwrap_or_default(),
                depends: false,
            })
        };
        test.links.iter().map(bridge).collect()
    }

    fn settings(&self, at: &AtSpec) -> Vec<(String, Setting)> {
        match at {
            AtSpec::Any => vec![(String::new(), states::any(self.states))],
            AtSpec::Each => self
                .states
                .iter()
                .map(|state| (state.name.clone(), state.setting.clone()))
                .collect(),
            AtSpec::Named(name) => self
                .states
                .iter()
                .filter(|state| state.name == *name)
                .map(|state| (state.name.clone(), state.setting.clone()))
                .collect(),
        }
    }

    fn hookup(&self, test: &TestSpec, setting: Setting) -> Result<HookUp, CircuitError> {
        let node = |written: &str| points::node(self.card, self.wiring, written);
        let observe = match &test.observes {
            ObserveSpec::Volts { red, black } => Observe::Volts {
                red: node(&red.value)?,
                black: node(&black.value)?,
            },
            ObserveSpec::Ohms { red, black } => Observe::Ohms {
                red: node(&red.value)?,
                black: node(&black.value)?,
            },
            ObserveSpec::Amps { red, black } => Observe::Amps {
                red: node(&red.value)?,
                black: node(&black.value)?,
            },
            ObserveSpec::Scan { input } => Observe::Scan {
                input: self.input(&input.value)?,
            },
        };
        let mut links = Vec::new();
        for link in &test.links {
            let to = self.rail(&link.from.value, &link.to.value)?;
            links.push(Link {
                a: node(&link.from.value)?,
                b: node(&to)?,
                ohms: link.through.unwrap_or(JUMPER),
            });
        }
        Ok(HookUp {
            mated: test.plug != Plug::Unplugged,
            powered: test.key == Key::On,
            links,
            observe,
            setting,
            meter: self.meter(),
        })
    }

    /// The number of the input that reads this role.
    fn input(&self, written: &str) -> Result<usize, CircuitError> {
        let role = points::node_name(self.card, written);
        let inputs = self.wiring.network.inputs();
        inputs
            .iter()
            .position(|input| input.role == role)
            .ok_or(CircuitError::UnknownNode {
                name: format!("input of {role}"),
                nearest: None,
            })
    }

    /// The point that `other rail` stands for: the pin of the rail at which the open input does not rest.
    fn rail(&self, from: &str, to: &str) -> Result<String, CircuitError> {
        if to != OTHER_RAIL {
            return Ok(to.to_owned());
        }
        let network = &self.wiring.network;
        let signal = points::node(self.card, self.wiring, from)?;
        // The pins that go with the signal: `reference 2` with `signal 2`, where there is one.
        let number = from.rsplit_once(' ').map_or("", |(_, number)| number);
        let pin = |name: &str| {
            let known = |wanted: &str| self.family.roles.iter().find(|role| *role == wanted);
            known(&format!("{name} {number}"))
                .or_else(|| known(name))
                .map(String::as_str)
        };
        let ground = pin("ground").unwrap_or("good ground");
        let rails = ["reference", "supply"].into_iter().filter_map(pin);
        let names: Vec<&str> = [ground].into_iter().chain(rails).collect();
        let rails = names
            .iter()
            .map(|name| points::node(self.card, self.wiring, name))
            .collect::<Result<Vec<_>, _>>()?;
        let observe = Observe::Volts {
            red: signal,
            black: network.ground(),
        };
        let open = HookUp {
            mated: false,
            powered: true,
            links: Vec::new(),
            observe,
            setting: states::any(self.states),
            meter: self.meter(),
        };
        let rest = other_rail(network, &open, signal, &rails)?;
        let found = rest.and_then(|rest| rails.iter().position(|rail| *rail == rest.other_rail));
        Ok(names[found.unwrap_or(0)].to_owned())
    }
}

impl Bridge {
    /// `jumper from C (signal) to B (ground)`, `1 kohm between 2 (ground) and battery plus`.
    pub(super) fn words(&self) -> String {
        let (from, to) = (&self.from.words, &self.to.words);
        match self.through.as_str() {
            "" => format!("jumper from {from} to {to}"),
            ohms => format!("{ohms} between {from} and {to}"),
        }
    }
}
