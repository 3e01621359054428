//! Networks for tests, in as few words as a sketch on paper.

use loomleaf::circuit::{
    Element, ElementId, ElementKind, HookUp, Input, Link, Meter, Network, NodeId, Observe,
    Parameter, ParameterId, Powered, Setting, Site,
};
use loomleaf::quantity::{Dimension, Interval, Toleranced};

/// A nominal value with a tolerance as part of it.
pub(crate) fn about(nominal: f64, part: f64) -> Toleranced {
    Toleranced {
        low: nominal * (1.0 - part),
        nominal,
        high: nominal * (1.0 + part),
    }
}

/// A network under construction: every element names its own parameters.
#[derive(Default)]
pub(crate) struct Sketch {
    pub(crate) network: Network,
}

impl Sketch {
    pub(crate) fn node(&mut self, name: &str) -> NodeId {
        self.network.node(name)
    }

    pub(crate) fn parameter(
        &mut self,
        name: &str,
        dimension: Dimension,
        range: Toleranced,
    ) -> ParameterId {
        self.network
            .parameter(Parameter {
                name: name.to_owned(),
                range,
                dimension,
            })
            .unwrap()
    }

    fn ohms(&mut self, name: &str, range: Toleranced) -> ParameterId {
        self.parameter(name, Dimension::Resistance, range)
    }

    fn add(&mut self, name: &str, site: Site, kind: ElementKind) -> ElementId {
        self.network
            .add(Element {
                name: name.to_owned(),
                site,
                kind,
            })
            .unwrap()
    }

    pub(crate) fn resistor(
        &mut self,
        name: &str,
        site: Site,
        ends: [&str; 2],
        range: Toleranced,
    ) -> ElementId {
        let [a, b] = ends.map(|end| self.node(end));
        let ohms = self.ohms(name, range);
        self.add(name, site, ElementKind::Resistor { a, b, ohms })
    }

    pub(crate) fn source(
        &mut self,
        name: &str,
        site: Site,
        ends: [&str; 2],
        volts: Toleranced,
    ) -> ElementId {
        let [plus, minus] = ends.map(|end| self.node(end));
        let volts = self.parameter(&format!("{name} volts"), Dimension::Voltage, volts);
        let series = self.ohms(&format!("{name} series"), about(0.02, 0.5));
        let kind = ElementKind::Source {
            plus,
            minus,
            volts,
            series,
        };
        self.add(name, site, kind)
    }

    pub(crate) fn regulator(
        &mut self,
        name: &str,
        ends: [&str; 2],
        volts: Toleranced,
        limit: Toleranced,
    ) -> ElementId {
        let [out, minus] = ends.map(|end| self.node(end));
        let volts = self.parameter(&format!("{name} volts"), Dimension::Voltage, volts);
        let series = self.ohms(&format!("{name} series"), about(0.5, 0.5));
        let limit = self.parameter(&format!("{name} limit"), Dimension::Current, limit);
        let kind = ElementKind::Regulator {
            out,
            minus,
            volts,
            series,
            limit,
        };
        self.add(name, Site::Module, kind)
    }

    pub(crate) fn sink(
        &mut self,
        name: &str,
        ends: [&str; 2],
        amps: Toleranced,
        compliance: f64,
    ) -> ElementId {
        let [from, to] = ends.map(|end| self.node(end));
        let amps = self.parameter(&format!("{name} amps"), Dimension::Current, amps);
        let compliance = self.parameter(
            &format!("{name} compliance"),
            Dimension::Voltage,
            about(compliance, 0.1),
        );
        let kind = ElementKind::Sink {
            from,
            to,
            amps,
            compliance,
        };
        self.add(name, Site::Part, kind)
    }

    pub(crate) fn diode(&mut self, name: &str, site: Site, ends: [&str; 2]) -> ElementId {
        let [anode, cathode] = ends.map(|end| self.node(end));
        let forward = self.parameter(
            &format!("{name} forward"),
            Dimension::Voltage,
            about(0.65, 0.2),
        );
        let series = self.ohms(&format!("{name} series"), about(1.0, 0.5));
        let kind = ElementKind::Diode {
            anode,
            cathode,
            forward,
            series,
        };
        self.add(name, site, kind)
    }

    pub(crate) fn switch(
        &mut self,
        name: &str,
        site: Site,
        ends: [&str; 2],
        ohms: Toleranced,
        powered: Option<([&str; 2], f64)>,
    ) -> ElementId {
        let [a, b] = ends.map(|end| self.node(end));
        let ohms = self.ohms(name, ohms);
        let powered = powered.map(|(watched, needs)| {
            let [plus, minus] = watched.map(|end| self.node(end));
            let name = format!("{name} needs");
            let volts = self.parameter(&name, Dimension::Voltage, about(needs, 0.1));
            Powered { plus, minus, volts }
        });
        let kind = ElementKind::Switch {
            a,
            b,
            ohms,
            powered,
        };
        self.add(name, site, kind)
    }

    pub(crate) fn potentiometer(
        &mut self,
        name: &str,
        nodes: [&str; 3],
        track: Toleranced,
        position: Toleranced,
    ) -> ElementId {
        let [low, slider, high] = nodes.map(|node| self.node(node));
        let track = self.ohms(name, track);
        let position = self.parameter(&format!("{name} position"), Dimension::Ratio, position);
        let kind = ElementKind::Potentiometer {
            low,
            high,
            slider,
            track,
            position,
        };
        self.add(name, Site::Part, kind)
    }

    /// Wire and contact of a role, as every card has them.
    pub(crate) fn harness(&mut self, role: &str) {
        let (module, part) = (format!("module.{role}"), format!("part.{role}"));
        let wire = Toleranced {
            low: 0.01,
            nominal: 0.05,
            high: 0.2,
        };
        let contact = Toleranced {
            low: 0.001,
            nominal: 0.01,
            high: 0.05,
        };
        let site = Site::Wire(role.to_owned());
        self.resistor(&format!("{role} wire"), site, [&module, role], wire);
        let site = Site::Contact(role.to_owned());
        self.resistor(&format!("{role} contact"), site, [role, &part], contact);
    }

    /// The module's own ground, and its ground pin tied to its common.
    pub(crate) fn module_ground(&mut self) {
        let common = ["module", "good ground"];
        let few = Toleranced {
            low: 0.001,
            nominal: 0.005,
            high: 0.02,
        };
        self.resistor("module ground", Site::ModuleGround, common, few);
        let tied = ["module.ground", "module"];
        self.resistor("ground tie", Site::Module, tied, few);
    }

    pub(crate) fn battery(&mut self) {
        let volts = Toleranced {
            low: 11.8,
            nominal: 12.6,
            high: 14.8,
        };
        self.source("battery", Site::Supply, ["battery", "good ground"], volts);
    }

    pub(crate) fn input(&mut self, role: &str, against: Option<&str>) -> usize {
        let pin = format!("module.{role}");
        let inside = format!("{role} input");
        self.resistor(
            &inside,
            Site::Module,
            [&pin, &format!("converter {role}")],
            about(10e3, 0.05),
        );
        let input = Input {
            role: role.to_owned(),
            node: self.node(&format!("converter {role}")),
            minus: self.node("module"),
            against: against.map(|name| self.node(name)),
            full: 5.0,
            valid: Some(Interval {
                low: 0.25,
                high: 4.75,
            }),
        };
        self.network.input(input)
    }

    pub(crate) fn hookup(&self) -> Ask<'_> {
        Ask {
            network: &self.network,
            hookup: plugged(&self.network),
        }
    }
}

fn plugged(network: &Network) -> HookUp {
    HookUp {
        mated: true,
        powered: true,
        links: vec![],
        observe: Observe::Volts {
            red: network.ground(),
            black: network.ground(),
        },
        setting: Setting::default(),
        meter: Meter::common(),
    }
}

/// A hook-up under construction.
#[derive(Clone)]
pub(crate) struct Ask<'n> {
    network: &'n Network,
    pub(crate) hookup: HookUp,
}

impl Ask<'_> {
    fn at(&self, name: &str) -> NodeId {
        self.network.find(name).unwrap()
    }

    pub(crate) fn unplugged(mut self) -> Self {
        self.hookup.mated = false;
        self
    }

    pub(crate) fn key_off(mut self) -> Self {
        self.hookup.powered = false;
        self
    }

    pub(crate) fn link(mut self, a: &str, b: &str, ohms: Toleranced) -> Self {
        let (a, b) = (self.at(a), self.at(b));
        self.hookup.links.push(Link { a, b, ohms });
        self
    }

    pub(crate) fn jumper(self, a: &str, b: &str) -> Self {
        let ohms = Toleranced {
            low: 0.01,
            nominal: 0.05,
            high: 0.2,
        };
        self.link(a, b, ohms)
    }

    pub(crate) fn closed(mut self, switches: &[ElementId]) -> Self {
        self.hookup.setting.closed = switches.to_vec();
        self
    }

    pub(crate) fn with(mut self, parameter: &str, range: Toleranced) -> Self {
        let id = self.network.parameter_named(parameter).unwrap();
        self.hookup.setting.overrides.push((id, range));
        self
    }

    pub(crate) fn volts(mut self, red: &str, black: &str) -> HookUp {
        let (red, black) = (self.at(red), self.at(black));
        self.hookup.observe = Observe::Volts { red, black };
        self.hookup
    }

    pub(crate) fn ohms(mut self, red: &str, black: &str) -> HookUp {
        let (red, black) = (self.at(red), self.at(black));
        self.hookup.powered = false;
        self.hookup.observe = Observe::Ohms { red, black };
        self.hookup
    }

    pub(crate) fn amps(mut self, red: &str, black: &str) -> HookUp {
        let (red, black) = (self.at(red), self.at(black));
        self.hookup.observe = Observe::Amps { red, black };
        self.hookup
    }

    pub(crate) fn scan(mut self, input: usize) -> HookUp {
        self.hookup.observe = Observe::Scan { input };
        self.hookup
    }
}
