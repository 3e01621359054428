//! Wires that touch each other, or what they lead to inside part or module.
//!
//! In: the wires of a network. Out: faults, added to the [`Sites`]. Never: shorts to ground, a reference or the battery.

use super::sites::{RUBBED, Sites, Wire};
use super::words::{of_input, prior};
use super::{Change, FaultKind};
use crate::circuit::{NodeId, Site};

impl Sites<'_> {
    /// Two wires that touch, or what they lead to inside part or module, where neither is a line that `wire` knows as ground, reference or battery.
    pub(super) fn touching(&mut self) {
        let lines = self.references().into_iter().map(|(out, _)| out);
        let lines: Vec<NodeId> = lines
            .chain([self.network.ground()])
            .chain(self.battery())
            .collect();
        let own = |wire: &&Wire| {
            lines
                .iter()
                .all(|line| !self.is_one_line(wire.module, *line))
        };
        let own: Vec<&Wire> = self.wires.iter().filter(own).collect();
        let part = |role: &str| self.network.find(&format!("part.{role}")).ok();
        let mut touching = Vec::new();
        for (place, one) in own.iter().enumerate() {
            for other in &own[place + 1..] {
                if self.is_one_line(one.connector, other.connector) {
                    continue;
                }
                let roles = [one.role.as_str(), &other.role];
                let wires = Some((one.connector, other.connector));
                let module = Some((one.module, other.module));
                for (site, ends) in [
                    (Site::Wire(one.role.clone()), wires),
                    (Site::Module, module),
                    (Site::Part, part(roles[0]).zip(part(roles[1]))),
                ] {
                    let mut words = self.scope.of_touching(roles, &site);
                    let mut inputs = self.network.inputs().iter();
                    if site == Site::Module && inputs.any(|input| input.role == one.role) {
                        // There it is the input that is not good.
                        words.subject = of_input(&one.role);
                    }
                    let load = ends.map(|(a, b)| Change::Load(a, b, Some(RUBBED)));
                    touching.extend(load.map(|load| (words, site, load)));
                }
            }
        }
        for (words, site, change) in touching {
            let (kind, prior) = (FaultKind::ToWire, prior::WIRE_TO_OTHER);
            self.push(words, site, kind, prior, vec![change]);
        }
    }
}
