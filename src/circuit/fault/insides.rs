//! The faults inside the part and inside the module.
//!
//! In: one element. Out: its [`Fault`]s, added to the [`Sites`]. Never: wiring.

use super::sites::{SHORT, Sites};
use super::words::{bad, of_module, prior};
use super::{Change, Fault, FaultKind};
use crate::circuit::network::Drift;
use crate::circuit::{Element, ElementId, ElementKind, NodeId, ParameterId, Site};
use crate::quantity::{Dimension, Interval, Toleranced};

/// A neighbour's part that fails across a reference line, ohm. Common practice, no source.
const NEIGHBOUR: Interval = Interval {
    low: 1.0,
    high: 30.0,
};
/// A part's value outside its tolerance mostly lies within this factor of it. Common practice, no source.
const ASTRAY: f64 = 50.0;
/// A resistance from here on is as good as open, ohm: no ohmmeter of a workshop shows it. Common practice, no source.
const AS_OPEN: f64 = 1e9;
/// No current or voltage of a part reaches this.
pub(super) const BEYOND: f64 = 1e9;
/// A dead input that shows a substitute shows one within this part of full scale. Common practice, no source.
const SUBSTITUTE: Interval = Interval {
    low: 0.1,
    high: 0.9,
};
/// Faults that share the prior of their site carry this until all are known.
const SHARED: f64 = 0.0;

impl Sites<'_> {
    pub(super) fn part(&mut self, id: ElementId, element: &Element) {
        use FaultKind::{Dead, Open, Shorted, Stuck};
        let name = &element.name;
        let open = || vec![Change::Open(id)];
        match element.kind {
            ElementKind::Resistor { a, b, ohms } => {
                self.push_part(name, "open", Open, open());
                self.push_part(name, "shorted", Shorted, short(a, b));
                self.astray(name, ohms);
            }
            ElementKind::Sink { from, to, amps, .. } => {
                self.push_part(name, "open", Open, open());
                self.push_part(name, "shorted", Shorted, short(from, to));
                self.astray(name, amps);
            }
            ElementKind::Diode { anode, cathode, .. } => {
                self.push_part(name, "open", Open, open());
                self.push_part(name, "shorted", Shorted, short(anode, cathode));
            }
            ElementKind::Switch { .. } => {
                self.push_part(name, "stuck open", Stuck, open());
                self.push_part(name, "stuck closed", Stuck, vec![Change::StuckClosed(id)]);
                let scope = self.scope;
                let words = |kind| scope.of_part(name, bad(kind));
                self.bad_when_closed((id, &Site::Part), [SHARED; 2], words);
            }
            ElementKind::Source { .. } | ElementKind::Regulator { .. } => {
                self.push_part(name, "dead", Dead, open());
            }
            ElementKind::Potentiometer { .. } => self.potentiometer(id, element),
        }
    }

    fn potentiometer(&mut self, id: ElementId, element: &Element) {
        let ElementKind::Potentiometer {
            low,
            high,
            slider,
            track,
            position,
        } = element.kind
        else {
            return;
        };
        self.track(id, element, [low, slider, high]);
        self.astray(&element.name, track);
        let stuck = Change::StuckSlider(position);
        if !self.found.iter().any(|f| f.changes.contains(&stuck)) {
            let what = "stuck at one place of its travel";
            self.push_part(&element.name, what, FaultKind::Stuck, vec![stuck]);
        }
    }

    /// Breaks and shorts of a track.
    fn track(&mut self, id: ElementId, element: &Element, [low, slider, high]: [NodeId; 3]) {
        use FaultKind::{Open, Shorted};
        let end = |node: NodeId| {
            let name = &self.network.nodes()[node.0];
            name.strip_prefix("part.").unwrap_or(name).to_owned()
        };
        let (low_end, high_end) = (end(low), end(high));
        let detach = |node| vec![Change::Detach(id, node)];
        for (what, kind, changes) in [
            (format!("open at its {low_end} end"), Open, detach(low)),
            (format!("open at its {high_end} end"), Open, detach(high)),
            (
                "out of touch with its slider".to_owned(),
                Open,
                detach(slider),
            ),
            (
                "shorted from end to end".to_owned(),
                Shorted,
                short(low, high),
            ),
            (
                format!("shorted from slider to {low_end}"),
                Shorted,
                short(slider, low),
            ),
            (
                format!("shorted from slider to {high_end}"),
                Shorted,
                short(slider, high),
            ),
        ] {
            self.push_part(&element.name, &what, kind, changes);
        }
    }

    /// A value that has left its tolerance, either way; a resistance with anything up to an open one, down to a short.
    fn astray(&mut self, name: &str, parameter: ParameterId) {
        let ends = match self.network.parameters()[parameter.0].dimension {
            Dimension::Resistance => (AS_OPEN, SHORT.nominal),
            _ => (0.0, BEYOND),
        };
        for (what, drift) in [
            ("above its range", Drift::Above(ASTRAY, ends.0)),
            ("below its range", Drift::Below(1.0 / ASTRAY, ends.1)),
        ] {
            let changes = vec![Change::Drift(parameter, drift)];
            self.push_part(name, what, FaultKind::OutOfRange, changes);
        }
    }

    fn push_part(&mut self, name: &str, what: &str, kind: FaultKind, changes: Vec<Change>) {
        let words = self.scope.of_part(name, what);
        self.push(words, Site::Part, kind, SHARED, changes);
    }

    pub(super) fn module(&mut self, id: ElementId, element: &Element) {
        use FaultKind::{Dead, Open, Stuck};
        let open = || vec![Change::Open(id)];
        match element.kind {
            ElementKind::Regulator { out, minus, .. } => {
                // It may reach its pin through a little resistance.
                let fed = self.wires.iter().find(|w| self.is_one_line(w.module, out));
                let role = fed.map(|w| w.role.clone());
                let dead = self.scope.of_regulator(&element.name, role.as_deref());
                let pulled = self.scope.of_neighbour(&element.name, role.as_deref());
                self.push(dead, Site::Module, Dead, prior::SUPPLY_DEAD, open());
                if role.is_some() {
                    let changes = vec![Change::Load(out, minus, None)];
                    let (kind, prior) = (FaultKind::PulledDown, prior::NEIGHBOUR);
                    self.push(pulled, Site::Module, kind, prior, changes);
                    if let Some(last) = self.found.last_mut() {
                        last.range = Some(NEIGHBOUR);
                    }
                }
            }
            ElementKind::Source { .. } => {
                let dead = self.scope.of_regulator(&element.name, None);
                self.push(dead, Site::Module, Dead, prior::SUPPLY_DEAD, open());
            }
            ElementKind::Switch { .. } => {
                self.push_inside(&element.name, "stuck open", Stuck, open());
                let closed = vec![Change::StuckClosed(id)];
                self.push_inside(&element.name, "stuck closed", Stuck, closed);
                let words = |kind| of_module(&element.name, bad(kind));
                self.bad_when_closed((id, &Site::Module), [SHARED; 2], words);
            }
            _ => self.push_inside(&element.name, "open", Open, open()),
        }
    }

    fn push_inside(&mut self, name: &str, what: &str, kind: FaultKind, changes: Vec<Change>) {
        self.push(of_module(name, what), Site::Module, kind, SHARED, changes);
    }

    pub(super) fn inputs(&mut self) {
        for (number, input) in self.network.inputs().iter().enumerate() {
            let level = |low: f64, high: f64| Toleranced {
                low: low * input.full,
                nominal: f64::midpoint(low, high) * input.full,
                high: high * input.full,
            };
            let (from, to) = (SUBSTITUTE.low, SUBSTITUTE.high);
            for (what, volts) in [
                ("stuck low", level(0.0, 0.0)),
                ("stuck high", level(1.0, 1.0)),
                ("stuck at a substitute value", level(from, to)),
            ] {
                let words = self.scope.of_input(&input.role, what);
                let changes = vec![Change::DeadInput(number, volts)];
                self.push(words, Site::Module, FaultKind::Dead, SHARED, changes);
            }
        }
    }

    /// Gives the faults of a site that have no prior of their own equal shares of one.
    pub(super) fn share(&mut self, site: &Site, whole: f64) {
        let shares = |fault: &&mut Fault| fault.site == *site && fault.prior == SHARED;
        let count: f64 = self.found.iter_mut().filter(shares).map(|_| 1.0).sum();
        for fault in self.found.iter_mut().filter(shares) {
            fault.prior = whole / count;
        }
    }
}

fn short(a: NodeId, b: NodeId) -> Vec<Change> {
    vec![Change::Load(a, b, Some(SHORT))]
}
