//! Hooking up: each test in each state of the part as a [`HookUp`] of the network, with its healthy band.
//!
//! In: tests as written, the wiring, the states. Out: [`Hooked`] tests. Chooses the rail that a jumper
//! must go to from where the open input rests.

use super::points;
use super::states::{self, State};
use super::types::Hooked;
use super::wiring::{JUMPER, Wiring};
use crate::card::{AtSpec, Card, Deck, Family, Key, ObserveSpec, Plug, TestSpec};
use crate::circuit::{
    CircuitError, HookUp, Link, Meter, Observe, Reading, Setting, Values, band, solve,
};

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
    pub(super) fn hook(&self, number: usize, test: &TestSpec) -> Result<Vec<Hooked>, CircuitError> {
        let mut hooked = Vec::new();
        for (state, setting) in self.settings(&test.at) {
            let hookup = self.hookup(test, setting)?;
            let band = band::band(&self.wiring.network, &hookup)?;
            hooked.push(Hooked {
                test: number,
                state,
                hookup,
                band,
            });
        }
        Ok(hooked)
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

    /// Words for the jumpers and loads of a test.
    pub(super) fn link_words(&self, test: &TestSpec) -> Result<Vec<String>, CircuitError> {
        let words = |link: &crate::card::LinkSpec| -> Result<String, CircuitError> {
            let from = points::lead(self.card, &link.from.value).words;
            let to = points::lead(self.card, &self.rail(&link.from.value, &link.to.value)?).words;
            Ok(match link.through {
                Some(ohms) => format!(
                    "{} between {from} and {to}",
                    crate::quantity::write_quantity(crate::quantity::Quantity {
                        number: ohms.nominal,
                        dimension: crate::quantity::Dimension::Resistance
                    })
                ),
                None => format!("jumper from {from} to {to}"),
            })
        };
        test.links.iter().map(words).collect()
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
        let role = |name: &str| self.family.roles.iter().any(|role| role == name);
        let ground = if role("ground") {
            "ground"
        } else {
            "good ground"
        };
        if self.rests_high(from)? {
            return Ok(ground.to_owned());
        }
        let high = ["reference", "supply"].into_iter().find(|name| role(name));
        Ok(high.unwrap_or("battery").to_owned())
    }

    /// Whether the open pin rests nearer its upper rail: half of the nominal reference or more.
    pub(super) fn rests_high(&self, pin: &str) -> Result<bool, CircuitError> {
        let observe = Observe::Volts {
            red: points::node(self.card, self.wiring, pin)?,
            black: self.wiring.network.find("module")?,
        };
        let hookup = HookUp {
            mated: false,
            powered: true,
            links: Vec::new(),
            observe,
            setting: states::any(self.states),
            meter: self.meter(),
        };
        let values = Values::nominal(&self.wiring.network, &hookup.setting);
        let full = self
            .wiring
            .network
            .inputs()
            .first()
            .map_or(5.0, |input| input.full);
        Ok(match solve::read(&self.wiring.network, &hookup, &values)? {
            Reading::Value(volts) => volts * 2.0 >= full,
            Reading::Floating | Reading::NoPath => false,
        })
    }
}
