//! Making one change of a fault in a network.
//!
//! In: a change, its fault, a network. Out: the network changed in place. Never: choosing faults.

use super::joints::HEADROOM;
use super::{Change, Fault};
use crate::circuit::sweep::spread;
use crate::circuit::{
    CircuitError, Element, ElementId, ElementKind, Felt, Network, NodeId, Parameter, ParameterId,
    Site,
};
use crate::quantity::{Dimension, Toleranced};

/// Resistance of the model source that stands for a dead input, which feeds nothing, and of what holds an output, which
/// carries a tenth of an ampere or so; any will do, ohm.
const STAND_IN: Toleranced = Toleranced {
    low: 0.1,
    nominal: 0.1,
    high: 0.1,
};

/// Makes the change of this number; an error where it does not fit the network.
pub(super) fn make(
    change: &Change,
    fault: &Fault,
    number: usize,
    network: &mut Network,
) -> Result<(), CircuitError> {
    let mut making = Making {
        fault,
        number,
        network,
    };
    match change {
        Change::Open(element) => making.open(*element),
        Change::Series(element, ohms) => making.series(*element, *ohms),
        Change::Load(a, b, ohms) => making.load(*a, *b, *ohms),
        Change::Held(node, below) => making.held(*node, *below),
        Change::Detach(element, node) => making.detach(*element, *node),
        Change::Swap(elements, nodes) => making.swap(*elements, *nodes),
        Change::Drift(parameter, drift) => {
            if parameter.0 < making.network.parameters().len() {
                making.network.drift(*parameter, *drift);
            }
            Ok(())
        }
        Change::StuckSlider(position) => making.stuck_slider(*position),
        Change::StuckClosed(element) => making.stuck_closed(*element),
        Change::DeadInput(input, volts) => making.dead_input(*input, *volts),
    }
}

/// Whether a hook-up, as it feels the healthy network, can know of a change.
pub(super) fn is_felt(change: &Change, network: &Network, felt: &Felt) -> bool {
    let ends = |element: &ElementId| match network.elements().get(element.0).map(|e| &e.kind) {
        Some(ElementKind::Resistor { a, b, .. } | ElementKind::Switch { a, b, .. }) => {
            Some((*a, *b))
        }
        _ => None,
    };
    match change {
        Change::Open(element) | Change::Series(element, _) | Change::Detach(element, _) => {
            felt.element(*element)
        }
        Change::StuckClosed(element) => {
            felt.element(*element) || ends(element).is_none_or(|(a, b)| felt.bridge(a, b))
        }
        Change::Load(a, b, _) | Change::Held(a, b) => felt.bridge(*a, *b),
        Change::Swap(elements, nodes) => elements.iter().any(|element| {
            felt.element(*element)
                || ends(element)
                    .is_none_or(|(a, b)| felt.bridge(other(a, *nodes), other(b, *nodes)))
        }),
        Change::Drift(parameter, _) | Change::StuckSlider(parameter) => felt.parameter(*parameter),
        Change::DeadInput(input, _) => felt.input(*input),
    }
}

/// The other of two nodes; any third as it is.
fn other(node: NodeId, nodes: [NodeId; 2]) -> NodeId {
    match node {
        node if node == nodes[0] => nodes[1],
        node if node == nodes[1] => nodes[0],
        node => node,
    }
}

struct Making<'a> {
    fault: &'a Fault,
    number: usize,
    network: &'a mut Network,
}

impl Making<'_> {
    fn open(&mut self, element: ElementId) -> Result<(), CircuitError> {
        self.kind(element)?;
        self.network.remove(element);
        Ok(())
    }

    fn series(&mut self, element: ElementId, ohms: Option<Toleranced>) -> Result<(), CircuitError> {
        let mut kind = self.kind(element)?;
        let own = match &mut kind {
            ElementKind::Resistor { ohms, .. } | ElementKind::Switch { ohms, .. } => ohms,
            _ => return Err(self.unfit()),
        };
        *own = self.given(ohms)?;
        self.network.replace(element, kind)
    }

    fn load(&mut self, a: NodeId, b: NodeId, ohms: Option<Toleranced>) -> Result<(), CircuitError> {
        let ohms = self.given(ohms)?;
        self.add(
            self.fault.site.clone(),
            ElementKind::Resistor { a, b, ohms },
        )
    }

    /// A resistance of these ohms, or of the fault's range.
    fn given(&mut self, ohms: Option<Toleranced>) -> Result<ParameterId, CircuitError> {
        let range = ohms.or(self.fault.range.map(spread)).ok_or(self.unfit())?;
        self.parameter(OHMS, Dimension::Resistance, range)
    }

    /// A diode that conducts from a little below.
    fn held(&mut self, anode: NodeId, cathode: NodeId) -> Result<(), CircuitError> {
        let forward = self.parameter("headroom", Dimension::Voltage, HEADROOM)?;
        let series = self.parameter("stand-in", Dimension::Resistance, STAND_IN)?;
        let kind = ElementKind::Diode {
            anode,
            cathode,
            forward,
            series,
        };
        self.add(Site::Module, kind)
    }

    fn detach(&mut self, element: ElementId, node: NodeId) -> Result<(), CircuitError> {
        let mut kind = self.kind(element)?;
        let free = self.network.node(&own(self.fault, self.number, "free end"));
        let ends: Vec<&mut NodeId> = match &mut kind {
            ElementKind::Potentiometer {
                low, high, slider, ..
            } => vec![low, high, slider],
            ElementKind::Resistor { a, b, .. } => vec![a, b],
            _ => return Err(self.unfit()),
        };
        for end in ends.into_iter().filter(|end| **end == node) {
            *end = free;
        }
        self.network.replace(element, kind)
    }

    fn swap(&mut self, elements: [ElementId; 2], nodes: [NodeId; 2]) -> Result<(), CircuitError> {
        for element in elements {
            let ElementKind::Resistor { a, b, ohms } = self.kind(element)? else {
                return Err(self.unfit());
            };
            let (a, b) = (other(a, nodes), other(b, nodes));
            let kind = ElementKind::Resistor { a, b, ohms };
            self.network.replace(element, kind)?;
        }
        Ok(())
    }

    /// One new position, shared by every track that shared the old one: they sit on one shaft.
    fn stuck_slider(&mut self, moved: ParameterId) -> Result<(), CircuitError> {
        let anywhere = Toleranced {
            low: 0.0,
            nominal: 0.5,
            high: 1.0,
        };
        let stuck = self.parameter("position", Dimension::Ratio, anywhere)?;
        for place in 0..self.network.elements().len() {
            let mut kind = self.network.elements()[place].kind.clone();
            if let ElementKind::Potentiometer { position, .. } = &mut kind
                && *position == moved
            {
                *position = stuck;
                self.network.replace(ElementId(place), kind)?;
            }
        }
        Ok(())
    }

    fn stuck_closed(&mut self, element: ElementId) -> Result<(), CircuitError> {
        let ElementKind::Switch { a, b, ohms, .. } = self.kind(element)? else {
            return Err(self.unfit());
        };
        let kind = ElementKind::Resistor { a, b, ohms };
        self.network.replace(element, kind)
    }

    fn dead_input(&mut self, number: usize, volts: Toleranced) -> Result<(), CircuitError> {
        let found = self.network.inputs().get(number).cloned();
        let mut input = found.ok_or(self.unfit())?;
        let plus = self
            .network
            .node(&own(self.fault, self.number, "converter"));
        let volts = self.parameter("volts", Dimension::Voltage, volts)?;
        let series = self.parameter("stand-in", Dimension::Resistance, STAND_IN)?;
        let kind = ElementKind::Source {
            plus,
            minus: input.minus,
            volts,
            series,
        };
        self.add(Site::Module, kind)?;
        input.node = plus;
        input.against = None;
        self.network.replace_input(number, input);
        Ok(())
    }

    fn kind(&self, element: ElementId) -> Result<ElementKind, CircuitError> {
        let found = self.network.elements().get(element.0);
        found.map(|e| e.kind.clone()).ok_or(self.unfit())
    }

    fn parameter(
        &mut self,
        what: &str,
        dimension: Dimension,
        range: Toleranced,
    ) -> Result<ParameterId, CircuitError> {
        let name = own(self.fault, self.number, what);
        self.network.parameter(Parameter {
            name,
            range,
            dimension,
        })
    }

    fn add(&mut self, site: Site, kind: ElementKind) -> Result<(), CircuitError> {
        let name = own(self.fault, self.number, "");
        self.network.add(Element { name, site, kind })?;
        Ok(())
    }

    fn unfit(&self) -> CircuitError {
        CircuitError::Impossible {
            name: self.fault.name.clone(),
            why: "the network has no place for this fault".to_owned(),
        }
    }
}

/// The parameter that holds the fault's range in a network changed by it.
pub(super) fn ranging(fault: &Fault, faulty: &Network) -> Option<ParameterId> {
    let ranges =
        |change: &Change| matches!(change, Change::Series(_, None) | Change::Load(_, _, None));
    let number = fault.changes.iter().position(ranges)?;
    faulty.parameter_named(&own(fault, number, OHMS))
}

/// What the parameter of a fault's resistance is called.
const OHMS: &str = "ohms";

/// A name no healthy network has.
fn own(fault: &Fault, number: usize, what: &str) -> String {
    format!("fault {number} {}: {what}", fault.name)
}
