//! The faults of a network, from what it is made of and where each element sits.
//!
//! In: a [`Network`], a [`FaultScope`]. Out: every single [`Fault`] a technician could repair. Never: readings.

use super::crossed::is_symmetric;
use super::words::{Words, of_relay, of_relay_joint, prior};
use super::{Change, Fault, FaultKind, FaultScope};
use crate::circuit::{
    Element, ElementId, ElementKind, HookUp, Meter, Network, NodeId, Observe, ParameterId, Reading,
    Setting, Site, Values, solve,
};
use crate::quantity::Toleranced;

/// A short has this resistance, ohm. Common practice, no source.
pub(super) const SHORT: Toleranced = Toleranced {
    low: 0.01,
    nominal: 0.2,
    high: 2.0,
};
/// A wire that rubs through touches by anything up to this: bare copper on paint, water, rust, ohm. Common practice, no
/// source.
pub(super) const RUBBED: Toleranced = Toleranced {
    high: 30.0,
    ..SHORT
};
/// Two nodes with less than this between them, unplugged and asleep, are one line: a short between them
/// changes nothing, ohm.
const ONE_LINE: f64 = 2.0;

/// Every single fault of a network, in the order of its elements. Crossed wires that the part does not
/// notice and shorts between nodes that are one line anyway are none.
pub fn faults(network: &Network, scope: &FaultScope) -> Vec<Fault> {
    let mut sites = Sites::new(network, scope);
    for place in 0..network.elements().len() {
        let (id, element) = (ElementId(place), &network.elements()[place]);
        if !network.present(id) {
            continue;
        }
        match &element.site {
            Site::Wire(role) => sites.wire(id, element, role),
            Site::Contact(role) => sites.contact(id, element, role),
            Site::ModuleGround => sites.module_ground(id, element),
            Site::Supply => sites.feed(id, element),
            Site::Part => sites.part(id, element),
            Site::Module => sites.module(id, element),
        }
    }
    sites.touching();
    sites.battery_flat();
    sites.crossings();
    sites.inputs();
    sites.share(&Site::Part, prior::PART);
    sites.share(&Site::Module, prior::MODULE);
    sites.found
}

/// A harness wire: from the module to the connector.
pub(super) struct Wire {
    pub(super) role: String,
    id: ElementId,
    pub(super) module: NodeId,
    pub(super) connector: NodeId,
}

pub(super) struct Sites<'a> {
    pub(super) network: &'a Network,
    pub(super) scope: &'a FaultScope,
    pub(super) wires: Vec<Wire>,
    pub(super) found: Vec<Fault>,
}

impl<'a> Sites<'a> {
    fn new(network: &'a Network, scope: &'a FaultScope) -> Self {
        let mut wires = Vec::new();
        for (place, element) in network.elements().iter().enumerate() {
            let (Site::Wire(role), ElementKind::Resistor { a, b, .. }) =
                (&element.site, &element.kind)
            else {
                continue;
            };
            let (module, connector) = if network.nodes()[a.0] == *role {
                (*b, *a)
            } else {
                (*a, *b)
            };
            wires.push(Wire {
                role: role.clone(),
                id: ElementId(place),
                module,
                connector,
            });
        }
        Self {
            network,
            scope,
            wires,
            found: Vec::new(),
        }
    }

    pub(super) fn push(
        &mut self,
        words: Words,
        site: Site,
        kind: FaultKind,
        prior: f64,
        changes: Vec<Change>,
    ) {
        self.found.push(Fault {
            name: words.name,
            says: words.says,
            repair: words.repair,
            subject: words.subject,
            site,
            kind,
            prior,
            range: None,
            changes,
        });
    }

    fn wire(&mut self, id: ElementId, element: &Element, role: &str) {
        use FaultKind::{ToBattery, ToGround, ToReference};
        let ElementKind::Resistor { .. } = element.kind else {
            return;
        };
        let scope = self.scope;
        let site = || element.site.clone();
        let words = |kind| scope.of_wire(role, kind, "");
        let priors = [prior::WIRE_OPEN, prior::WIRE_HIGH];
        self.bad_joint((id, &element.site), priors, words);
        let (to_ground, to_battery) = (words(ToGround), words(ToBattery));
        let Some(end) = self.wires.iter().find(|w| w.id == id).map(|w| w.connector) else {
            return;
        };
        let ground = self.network.ground();
        if self.is_one_line(end, ground) {
            return;
        }
        let to_ground_by = |ohms| Change::Load(end, ground, Some(ohms));
        match self.fuse_of(role) {
            None => {
                let changes = vec![to_ground_by(RUBBED)];
                self.push(to_ground, site(), ToGround, prior::WIRE_TO_GROUND, changes);
            }
            // A short on a battery feed mostly blows its fuse; what lets through less than an ampere or so is a load.
            Some(fuse) => {
                let whole = scope.of_fused_short(role, "its fuse still whole");
                let changes = vec![to_ground_by(SHORT)];
                self.push(whole, site(), ToGround, prior::WIRE_TO_OTHER, changes);
                let blown = scope.of_fused_short(role, "its fuse blown");
                let changes = vec![to_ground_by(RUBBED), Change::Open(fuse)];
                self.push(blown, site(), ToGround, prior::WIRE_TO_GROUND, changes);
            }
        }
        for (out, name) in self.references() {
            if !self.is_one_line(end, out) {
                let words = self.scope.of_wire(role, ToReference, &name);
                let changes = vec![Change::Load(end, out, Some(RUBBED))];
                self.push(words, site(), ToReference, prior::WIRE_TO_OTHER, changes);
            }
        }
        if let Some(battery) = self.battery()
            && !self.is_one_line(end, battery)
            && self.fuse_of(role).is_none()
        {
            let changes = vec![Change::Load(end, battery, Some(RUBBED))];
            self.push(to_battery, site(), ToBattery, prior::WIRE_TO_OTHER, changes);
        }
    }

    fn contact(&mut self, id: ElementId, element: &Element, role: &str) {
        let scope = self.scope;
        let priors = [prior::CONTACT_OPEN, prior::CONTACT_HIGH];
        let words = |kind| scope.of_contact(role, kind);
        self.bad_joint((id, &element.site), priors, words);
    }

    /// Only a resistor that ends at a wire feeds a pin; the rest of the supply is not this circuit's.
    fn feed(&mut self, id: ElementId, element: &Element) {
        let site = || element.site.clone();
        let (a, b) = match element.kind {
            ElementKind::Resistor { a, b, .. } => (a, b),
            ElementKind::Switch { .. } => {
                for (what, change) in [
                    ("stuck open", Change::Open(id)),
                    ("stuck closed", Change::StuckClosed(id)),
                ] {
                    let words = of_relay(&element.name, what);
                    self.push(
                        words,
                        site(),
                        FaultKind::Stuck,
                        prior::FEED_OPEN,
                        vec![change],
                    );
                }
                let words = |kind| of_relay_joint(&element.name, kind);
                let priors = [prior::FEED_OPEN, prior::FEED_HIGH];
                self.bad_when_closed((id, &element.site), priors, words);
                return;
            }
            _ => return,
        };
        // What the module itself draws is no feed of a pin, though a ground pin hangs on the same node.
        let common = self.module_common();
        if common == Some(a) || common == Some(b) {
            return;
        }
        let fed = self.wires.iter().find(|w| w.module == a || w.module == b);
        let Some(role) = fed.map(|w| w.role.clone()) else {
            return;
        };
        if self.is_one_line_without(id, a, b) {
            return;
        }
        let ground = self.network.ground();
        let scope = self.scope;
        let words = |kind| match a == ground || b == ground {
            true => scope.of_ground_point(&role, kind),
            false => scope.of_feed(&role, kind),
        };
        let priors = [prior::FEED_OPEN, prior::FEED_HIGH];
        self.bad_joint((id, &element.site), priors, words);
    }

    fn crossings(&mut self) {
        let part_side = |role: &str| self.network.find(&format!("part.{role}")).ok();
        let pins: Vec<NodeId> = self
            .wires
            .iter()
            .filter_map(|w| part_side(&w.role))
            .collect();
        let mut crossed = Vec::new();
        for (place, one) in self.wires.iter().enumerate() {
            for other in &self.wires[place + 1..] {
                let pair = [part_side(&one.role), part_side(&other.role)];
                let [Some(a), Some(b)] = pair else { continue };
                if is_symmetric(self.network, &pins, [a, b])
                    || self.is_one_line(one.connector, other.connector)
                {
                    continue;
                }
                let change = Change::Swap([one.id, other.id], [one.connector, other.connector]);
                let words = self.scope.of_crossing(&one.role, &other.role);
                crossed.push((words, Site::Wire(one.role.clone()), change));
            }
        }
        for (words, site, change) in crossed {
            self.push(
                words,
                site,
                FaultKind::Crossed,
                prior::CROSSED,
                vec![change],
            );
        }
    }

    /// Reference lines a wire can touch: those that leave the module, and those inputs are measured against.
    pub(super) fn references(&self) -> Vec<(NodeId, String)> {
        let all = self.network.elements().iter();
        all.filter_map(|element| match element.kind {
            ElementKind::Regulator { out, .. } => Some((out, element.name.clone())),
            _ => None,
        })
        .filter(|(out, _)| {
            let outside = self.wires.iter().any(|w| w.module == *out);
            outside
                || self
                    .network
                    .inputs()
                    .iter()
                    .any(|i| i.against == Some(*out))
        })
        .collect()
    }

    pub(super) fn battery(&self) -> Option<NodeId> {
        self.battery_and_volts().map(|(battery, _)| battery)
    }

    /// The battery's plus and its volts.
    pub(super) fn battery_and_volts(&self) -> Option<(NodeId, Toleranced)> {
        let source = self.battery_source();
        source.map(|(plus, volts)| (plus, self.network.range(&volts)))
    }

    pub(super) fn battery_source(&self) -> Option<(NodeId, ParameterId)> {
        let mut all = self.network.elements().iter();
        all.find_map(|element| match element.kind {
            ElementKind::Source { plus, volts, .. } if element.site == Site::Supply => {
                Some((plus, volts))
            }
            _ => None,
        })
    }

    /// The module's common: the end of its ground connection that is not the body.
    pub(super) fn module_common(&self) -> Option<NodeId> {
        let ground = self.network.ground();
        let own = self
            .network
            .elements()
            .iter()
            .find(|element| element.site == Site::ModuleGround)?;
        own.kind.nodes().into_iter().find(|node| *node != ground)
    }

    /// The feed between battery and this role's wire.
    pub(super) fn fuse_of(&self, role: &str) -> Option<ElementId> {
        let module = self.wires.iter().find(|w| w.role == role)?.module;
        let battery = self.battery()?;
        let place = self.network.elements().iter().position(|element| {
            let ends = element.kind.nodes();
            element.site == Site::Supply && ends.contains(&module) && ends.contains(&battery)
        })?;
        Some(ElementId(place))
    }

    /// Less than [`ONE_LINE`] between two nodes, unplugged and asleep.
    pub(super) fn is_one_line(&self, a: NodeId, b: NodeId) -> bool {
        is_one_line(self.network, a, b)
    }

    fn is_one_line_without(&self, element: ElementId, a: NodeId, b: NodeId) -> bool {
        let mut without = self.network.clone();
        without.remove(element);
        is_one_line(&without, a, b)
    }
}

fn is_one_line(network: &Network, red: NodeId, black: NodeId) -> bool {
    if red == black {
        return true;
    }
    let hookup = HookUp {
        mated: false,
        powered: false,
        links: Vec::new(),
        observe: Observe::Ohms { red, black },
        setting: Setting::default(),
        meter: Meter::common(),
    };
    let values = Values::nominal(network, &hookup.setting);
    let reading = solve::read(network, &hookup, &values);
    matches!(reading, Ok(Reading::Value(ohms)) if ohms < ONE_LINE)
}
