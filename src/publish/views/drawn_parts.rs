//! What hangs between the rows of a drawn circuit: chains of parts as branches, each part with shape, name and words.
//!
//! In: a [`Draft`] whose rows stand. Out: branches in columns, the list of parts, the description.

use super::drawn::{Draft, Edge, PartLine};
use crate::circuit::{ElementKind, NodeId};
use crate::publish::drawing::schematic::{Branch, Half, Shape, Symbol, Terminal};

/// Elements in line, each with whether it is passed from `a` to `b`.
type Chain<'a> = Vec<(Edge<'a>, bool)>;

impl<'a> Draft<'a> {
    /// The branches of one side, packed into columns.
    pub(super) fn half(&mut self, module: bool) -> Half {
        let mut branches = self.joins(module);
        let mut left = match module {
            true => std::mem::take(&mut self.module),
            false => std::mem::take(&mut self.part),
        };
        while !left.is_empty() {
            let (chain, ends) = self.chain(&mut left, module);
            let Some((from, to)) = ends else { continue };
            let mut symbols: Vec<Symbol> = Vec::new();
            for (edge, forward) in chain {
                let down = forward == (from <= to);
                symbols.push(self.symbol(&edge, down, module));
            }
            if to < from {
                symbols.reverse();
            }
            branches.push(Branch {
                from: from.min(to),
                to: from.max(to),
                symbols,
                column: 0,
            });
        }
        branches.retain(|branch| branch.from < branch.to);
        let columns = pack(&mut branches);
        Half { branches, columns }
    }

    /// Pins that are one node inside the module.
    fn joins(&self, module: bool) -> Vec<Branch> {
        let mut joins = Vec::new();
        for (number, row) in self.rows.iter().enumerate() {
            let first = row.left.and_then(|node| self.row_of(node, true));
            if let (true, Some(first)) = (module, first)
                && first < number
            {
                joins.push(Branch {
                    from: first,
                    to: number,
                    symbols: Vec::new(),
                    column: 0,
                });
            }
        }
        joins
    }

    /// Takes one element and those in line with it; each with whether it is passed from `a` to `b`.
    fn chain(&self, left: &mut Vec<Edge<'a>>, module: bool) -> (Chain<'a>, Option<(usize, usize)>) {
        let begins = |edge: &Edge<'_>| {
            let row = |node| self.row_of(node, module);
            row(edge.a).is_some() || row(edge.b).is_some()
        };
        let first = left.iter().position(begins).unwrap_or(0);
        let edge = left.remove(first);
        let (start, forward) = match self.row_of(edge.a, module) {
            Some(row) => (Some(row), true),
            None => (self.row_of(edge.b, module), false),
        };
        let mut at = if forward { edge.b } else { edge.a };
        let mut chain = vec![(edge, forward)];
        while self.row_of(at, module).is_none() {
            let Some(next) = left.iter().position(|edge| edge.a == at || edge.b == at) else {
                break;
            };
            let edge = left.remove(next);
            let forward = edge.a == at;
            at = if forward { edge.b } else { edge.a };
            chain.push((edge, forward));
        }
        let ends = start.zip(self.row_of(at, module));
        (chain, ends)
    }

    /// A part with its shape; told in the list and in the description.
    fn symbol(&mut self, edge: &Edge<'_>, down: bool, module: bool) -> Symbol {
        let (shape, letter, value, what) = self.shape(edge, down, module);
        let used = |line: &&PartLine| line.tag.starts_with(letter);
        let tag = format!("{letter}{}", self.parts.iter().filter(used).count() + 1);
        let name = edge.element.name.clone();
        let node = |node: NodeId| {
            let name = self.name(node);
            name.split_once('.')
                .map_or(name, |(_, rest)| rest)
                .to_owned()
        };
        let place = match (module, self.outside) {
            (true, true) => "outside the part",
            (true, false) => "in the module",
            (false, _) => "in the part",
        };
        let slider = edge
            .slider
            .map(|slider| format!(", its arrow to {}", node(slider)))
            .unwrap_or_default();
        let (a, b) = (node(edge.a), node(edge.b));
        self.sentences.push(format!(
            "{tag}, {name}: {what} {place}, from {a} to {b}{slider}."
        ));
        self.parts.push(PartLine {
            tag: tag.clone(),
            name,
            value,
        });
        Symbol { shape, tag }
    }

    /// Shape, letter, value, and the shape in words (IEC 60617).
    fn shape(
        &self,
        edge: &Edge<'_>,
        down: bool,
        module: bool,
    ) -> (Shape, char, String, &'static str) {
        let row = |node| self.row_of(node, module).unwrap_or(0);
        match &edge.element.kind {
            ElementKind::Resistor { ohms, .. } if self.varying.contains(ohms) => (
                Shape::Varying,
                'R',
                "follows the signal".into(),
                "rectangle with a line across, a resistance that changes,",
            ),
            ElementKind::Resistor { ohms, .. } => (
                Shape::Resistor,
                'R',
                self.value(*ohms),
                "rectangle, a resistor,",
            ),
            ElementKind::Potentiometer { slider, track, .. } => (
                Shape::Sliding(row(*slider)),
                'R',
                self.value(*track),
                "rectangle with an arrow, a sliding resistor,",
            ),
            ElementKind::Switch { .. } => {
                (Shape::Switch, 'S', String::new(), "open contact, a switch,")
            }
            ElementKind::Diode { forward, .. } => (
                Shape::Diode(down),
                'D',
                self.value(*forward),
                "triangle and bar, a diode,",
            ),
            ElementKind::Sink { amps, .. } => (
                Shape::Sink(down),
                'I',
                self.value(*amps),
                "circle with a bar across, a current source,",
            ),
            ElementKind::Source { volts, .. } | ElementKind::Regulator { volts, .. } => (
                Shape::Source,
                'G',
                self.value(*volts),
                "circle with a line through, a voltage source,",
            ),
        }
    }

    /// All of it in words.
    pub(super) fn describe(&self) -> String {
        let left = if self.outside {
            "Feed and body"
        } else {
            "Module"
        };
        let mut all = vec![format!(
            "{left} at the left, part at the right, between them a line a pin."
        )];
        for row in &self.rows {
            let ends = match row.left.and_then(|node| self.terminal(node)) {
                Some(Terminal::Supply(volts)) if self.outside => format!(" from {volts}"),
                Some(Terminal::Ground) if self.outside => {
                    " from good ground, a stem with three strokes".into()
                }
                Some(Terminal::Supply(volts)) => format!(" from {volts} in the module"),
                Some(Terminal::Ground) => {
                    " from the module's ground, a stem with three strokes".into()
                }
                Some(Terminal::Input) => " from a box, the module's input".into(),
                None => String::new(),
            };
            if let Some(pin) = row.pin.map(|number| &self.pin_sheets[number]) {
                let wire = match pin.wire_words.as_str() {
                    "" => String::new(),
                    words => format!(", wire {words}"),
                };
                all.push(format!("Pin {} ({}){wire}{ends}.", pin.label, pin.role));
            } else if !ends.is_empty() && row.left.is_some() {
                let place = if self.outside {
                    "Outside the part"
                } else {
                    "Inside the module"
                };
                all.push(format!("{place}{ends}: {}.", row.name));
            }
        }
        all.extend(self.sentences.iter().cloned());
        all.join(" ")
    }
}

/// The fewest columns in which no two branches lie over each other; how many.
fn pack(branches: &mut [Branch]) -> usize {
    branches.sort_by_key(|branch| (branch.from, branch.to));
    let mut feet: Vec<usize> = Vec::new();
    for branch in branches {
        let free = feet.iter().position(|foot| *foot <= branch.from);
        let column = free.unwrap_or_else(|| {
            feet.push(0);
            feet.len() - 1
        });
        feet[column] = branch.to;
        branch.column = column;
    }
    feet.len()
}
