//! A card's circuit for its drawing: nodes become rows, what lies between them branches in columns.
//!
//! In: a sheet's network. Out: a drawing and the list of its parts with their values. Never: solving; what
//! every network has (battery, what the module draws) is left out.

use crate::circuit::{Element, ElementKind, Network, NodeId, ParameterId, Site};
use crate::publish::drawing::schematic::{self, PinRow, Plan, Row, Terminal};
use crate::quantity::{Quantity, write_quantity};
use crate::sheet::{PinSheet, Sheet};
use serde::Serialize;

/// The circuit drawn.
#[derive(Serialize)]
pub(super) struct CircuitView {
    drawing: String,
    /// Width and height of the drawing in CSS pixels.
    #[serde(skip)]
    pub(super) size: (f64, f64),
    /// What is taken for granted where the card leaves a choice open, or empty.
    pub(super) under: String,
    pub(super) parts: Vec<PartLine>,
}

/// A part by the name it has in the drawing.
#[derive(Serialize)]
pub(super) struct PartLine {
    pub(super) tag: String,
    pub(super) name: String,
    pub(super) value: String,
}

/// The circuit of a sheet; where the card leaves a choice open, under its first answer.
pub(super) fn view(sheet: &Sheet) -> Option<CircuitView> {
    let network = &sheet.variants.first()?.network;
    let mut draft = Draft::new(network, sheet);
    draft.pins(&sheet.pins);
    draft.inner_rows();
    draft.outside = !draft.has_module();
    let (module, part) = (draft.half(true), draft.half(false));
    if draft.rows.is_empty() {
        return None;
    }
    let plan = Plan {
        describes: draft.describe(),
        rows: draft.rows.iter().map(|row| draft.row(row)).collect(),
        module,
        part,
        left: match draft.outside {
            true => "feed, body",
            false => "module",
        },
    };
    let title = format!("The circuit: {}, wires, pins, part", plan.left);
    let drawing = schematic::draw(&plan, &title);
    Some(CircuitView {
        drawing: drawing.svg,
        size: (drawing.width, drawing.height),
        under: sheet.variants[0].says.clone(),
        parts: draft.parts,
    })
}

/// A row on its way: its nodes at both sides.
pub(super) struct DraftRow {
    pub(super) left: Option<NodeId>,
    right: Option<NodeId>,
    pub(super) pin: Option<usize>,
    pub(super) name: String,
}

/// An element between two nodes of one side.
#[derive(Clone)]
pub(super) struct Edge<'a> {
    pub(super) element: &'a Element,
    pub(super) a: NodeId,
    pub(super) b: NodeId,
    pub(super) slider: Option<NodeId>,
}

/// A drawing on its way.
pub(super) struct Draft<'a> {
    network: &'a Network,
    pub(super) pin_sheets: &'a [PinSheet],
    /// Parameters that differ from state to state.
    pub(super) varying: Vec<ParameterId>,
    /// No module has a hand in it: what is drawn at the left are feeds and ground points of the vehicle.
    pub(super) outside: bool,
    pub(super) rows: Vec<DraftRow>,
    pub(super) module: Vec<Edge<'a>>,
    pub(super) part: Vec<Edge<'a>>,
    pub(super) parts: Vec<PartLine>,
    pub(super) sentences: Vec<String>,
}

impl<'a> Draft<'a> {
    fn new(network: &'a Network, sheet: &'a Sheet) -> Self {
        let settings = sheet.variants[0]
            .hooked
            .iter()
            .map(|one| &one.hookup.setting);
        let varying = settings.flat_map(|setting| setting.overrides.iter().map(|(id, _)| *id));
        let (mut module, mut part) = (Vec::new(), Vec::new());
        for element in network.elements() {
            let Some(edge) = edge(network, element) else {
                continue;
            };
            match element.site {
                Site::Part => part.push(edge),
                Site::Module | Site::Supply => module.push(edge),
                Site::ModuleGround | Site::Wire(_) | Site::Contact(_) => {}
            }
        }
        Self {
            varying: varying.collect(),
            network,
            pin_sheets: &sheet.pins,
            outside: false,
            rows: Vec::new(),
            module,
            part,
            parts: Vec::new(),
            sentences: Vec::new(),
        }
    }

    /// A row a pin: supplies at the top, grounds at the foot.
    fn pins(&mut self, pins: &[PinSheet]) {
        // Two circuits with supply and ground of their own stand one below the other.
        let two = ["reference 2", "ground 2"];
        let apart = two
            .iter()
            .all(|role| pins.iter().any(|pin| pin.role == *role));
        let mut ranked: Vec<(bool, u8, usize, DraftRow)> = Vec::new();
        for (number, pin) in pins.iter().enumerate() {
            let left = self.far_end(&Site::Wire(pin.role.clone()), &pin.role);
            let right = self.far_end(&Site::Contact(pin.role.clone()), &pin.role);
            let row = DraftRow {
                left,
                right,
                pin: Some(number),
                name: pin.role.clone(),
            };
            let second = apart && pin.role.ends_with(" 2");
            ranked.push((second, self.rank(&pin.role, left), number, row));
        }
        ranked.sort_by_key(|(second, rank, number, _)| (*second, *rank, *number));
        self.rows = ranked.into_iter().map(|(.., row)| row).collect();
    }

    /// What lies behind the wire or the contact of a role.
    fn far_end(&self, site: &Site, role: &str) -> Option<NodeId> {
        let element = self
            .network
            .elements()
            .iter()
            .find(|one| one.site == *site)?;
        let nodes = element.kind.nodes();
        nodes.into_iter().find(|node| self.name(*node) != role)
    }

    /// Whether something at the left reads, regulates or is tied to the module's own ground.
    fn has_module(&self) -> bool {
        let of_module = |node: NodeId| {
            self.regulated(node).is_some()
                || self.name(node) == "module"
                || matches!(self.terminal(node), Some(Terminal::Input))
        };
        let edges = self.module.iter().flat_map(|edge| [edge.a, edge.b]);
        let rows = self.rows.iter().filter_map(|row| row.left);
        edges.chain(rows).any(of_module)
    }

    fn rank(&self, role: &str, left: Option<NodeId>) -> u8 {
        let high = ["reference", "supply", "bus high"];
        let low = ["ground", "return", "body", "bus low"];
        let starts = |words: &[&str]| words.iter().any(|word| role.starts_with(word));
        let tied = left.is_some_and(|node| self.name(node) == "module");
        match () {
            () if starts(&high) => 0,
            () if tied || starts(&low) => 2,
            () => 1,
        }
    }

    /// Rows for nodes inside module and part where more than two things meet, or that are a supply or a ground.
    fn inner_rows(&mut self) {
        for module in [true, false] {
            let edges = if module { &self.module } else { &self.part };
            let mut nodes: Vec<NodeId> = edges
                .iter()
                .flat_map(|edge| [Some(edge.a), Some(edge.b), edge.slider])
                .flatten()
                .collect();
            nodes.sort();
            nodes.dedup();
            for node in nodes {
                if self.row_of(node, module).is_none() && !self.is_passed(node, module) {
                    self.insert(node, module);
                }
            }
        }
    }

    fn insert(&mut self, node: NodeId, module: bool) {
        let name = self.name(node).to_owned();
        let is_ground = node == self.network.ground() || name == "module";
        let at = if is_ground {
            self.rows.len()
        } else if name == "battery" || self.regulated(node).is_some() {
            0
        } else {
            let edges = if module { &self.module } else { &self.part };
            let beside = edges.iter().filter(|edge| edge.touches(node));
            let nodes = beside.flat_map(|edge| [edge.a, edge.b]);
            let rows = nodes.filter_map(|other| self.row_of(other, module));
            rows.min().map_or(self.rows.len(), |row| row + 1)
        };
        let side = |mine: bool| (mine == module).then_some(node);
        // A ground of each side shares the lowest row.
        if let (true, Some(row)) = (is_ground, self.rows.last_mut())
            && row.pin.is_none()
        {
            let place = if module {
                &mut row.left
            } else {
                &mut row.right
            };
            if place.is_none() {
                *place = Some(node);
                return;
            }
        }
        let short = name.split_once('.').map_or(name.as_str(), |(_, rest)| rest);
        let row = DraftRow {
            left: side(true),
            right: side(false),
            pin: None,
            name: short.to_owned(),
        };
        self.rows.insert(at, row);
    }

    /// A node between two parts in a line, which needs no row.
    fn is_passed(&self, node: NodeId, module: bool) -> bool {
        let edges = if module { &self.module } else { &self.part };
        let ends = edges.iter().filter(|edge| edge.touches(node)).count();
        let named =
            node == self.network.ground() || ["module", "battery"].contains(&self.name(node));
        ends == 2
            && !named
            && self.regulated(node).is_none()
            && !edges.iter().any(|edge| edge.slider == Some(node))
    }

    pub(super) fn row_of(&self, node: NodeId, module: bool) -> Option<usize> {
        let side = |row: &DraftRow| if module { row.left } else { row.right };
        self.rows.iter().position(|row| side(row) == Some(node))
    }

    pub(super) fn name(&self, node: NodeId) -> &'a str {
        &self.network.nodes()[node.0]
    }

    /// The volts a regulator gives this node.
    pub(super) fn regulated(&self, node: NodeId) -> Option<String> {
        self.network
            .elements()
            .iter()
            .find_map(|one| match one.kind {
                ElementKind::Regulator { out, volts, .. } if out == node => Some(self.value(volts)),
                _ => None,
            })
    }

    pub(super) fn value(&self, parameter: ParameterId) -> String {
        let known = &self.network.parameters()[parameter.0];
        write_quantity(Quantity {
            number: known.range.nominal,
            dimension: known.dimension,
        })
    }

    fn row(&self, row: &DraftRow) -> Row {
        Row {
            left: row.left.and_then(|node| self.terminal(node)),
            grounded: row.right == Some(self.network.ground()),
            pin: row.pin.map(|number| {
                let pin = &self.pin_sheets[number];
                PinRow {
                    label: pin.label.clone(),
                    wire: pin.wire.clone(),
                }
            }),
        }
    }

    pub(super) fn terminal(&self, node: NodeId) -> Option<Terminal> {
        let inputs = self.network.inputs();
        if let Some(volts) = self.regulated(node) {
            return Some(Terminal::Supply(volts));
        }
        match self.name(node) {
            "battery" => Some(Terminal::Supply("battery".into())),
            "module" => Some(Terminal::Ground),
            _ if node == self.network.ground() => Some(Terminal::Ground),
            name => {
                let reads = |role: &str| name.strip_prefix("module.") == Some(role);
                let is_input = inputs.iter().any(|input| reads(&input.role));
                is_input.then_some(Terminal::Input)
            }
        }
    }
}

impl Edge<'_> {
    fn touches(&self, node: NodeId) -> bool {
        [Some(self.a), Some(self.b), self.slider].contains(&Some(node))
    }
}

/// An element with two ends that is drawn; none for what every network has, and for a module's supply and
/// input, which are ends of rows.
fn edge<'a>(network: &'a Network, element: &'a Element) -> Option<Edge<'a>> {
    let (a, b, slider) = match element.kind {
        ElementKind::Resistor { a, b, .. } | ElementKind::Switch { a, b, .. } => (a, b, None),
        ElementKind::Diode { anode, cathode, .. } => (anode, cathode, None),
        ElementKind::Sink { from, to, .. } => (from, to, None),
        ElementKind::Source { plus, minus, .. } => (plus, minus, None),
        ElementKind::Potentiometer {
            low, high, slider, ..
        } => (high, low, Some(slider)),
        ElementKind::Regulator { .. } => return None,
    };
    let named = |node: NodeId, name: &str| network.nodes()[node.0] == name;
    let reads = network.inputs().iter().any(|input| input.node == b);
    let draws = named(a, "battery") && (named(b, "module") || b == network.ground());
    (!reads && !draws).then_some(Edge {
        element,
        a,
        b,
        slider,
    })
}
