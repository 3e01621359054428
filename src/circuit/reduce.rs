//! Reducing: a compiled circuit with the fewest branches and parameters that gives the same answers.
//!
//! In: a [`Circuit`] without rows and its [`Space`]. Out: both, smaller. Never: a change of any reading.
//!
//! A module's wire, the connector's contact and the part's lead lie in a row: where nothing branches off and
//! nobody looks, they are one resistance, and their limits add. That holds for the series resistance of a
//! source, a regulator and a diode too, whose state hangs on their current alone. Wiring is mostly such rows,
//! so what is left has about half the nodes.

use super::ParameterId;
use super::branch::{Branch, Kind, LEAST_OHMS, Ohms};
use super::compile::Circuit;
use super::space::Space;

/// Where a parameter that is to move has come to lie.
#[derive(Clone, Copy, Debug)]
pub(super) struct Moving {
    /// Its number in the reduced space; none where nothing feels it.
    slot: Option<usize>,
    /// Low, nominal and high ohms of what it lies in a row with.
    rest: [f64; 3],
}

impl Moving {
    /// False where nothing that is asked feels the parameter.
    pub(super) fn is_felt(&self) -> bool {
        self.slot.is_some()
    }

    /// Puts the moving parameter's own low, nominal and high value into a space.
    pub(super) fn put(&self, own: [f64; 3], space: &mut Space) {
        if let Some(slot) = self.slot {
            space.low[slot] = own[0] + self.rest[0];
            space.nominal[slot] = own[1] + self.rest[1];
            space.high[slot] = own[2] + self.rest[2];
        }
    }
}

/// Joins what lies in a row, then keeps only the parameters that some branch still reads.
pub(super) fn reduce(
    circuit: &mut Circuit,
    space: &mut Space,
    moving: Option<ParameterId>,
) -> Option<Moving> {
    let mut uses = vec![0_u8; space.low.len()];
    for slot in circuit.branches.iter().flat_map(Branch::reads) {
        uses[slot] = uses[slot].saturating_add(1);
    }
    let mut rows = Rows {
        gone: vec![false; circuit.branches.len()],
        moving: moving.map(|parameter| Moving {
            slot: Some(parameter.0),
            rest: [0.0; 3],
        }),
        uses,
        circuit,
        space,
    };
    // A join leaves the far ends of both branches where they were, so one pass finds all rows.
    for (node, count) in ends(rows.circuit).into_iter().enumerate() {
        if count == 2 {
            rows.join_at(node);
        }
    }
    let Rows { gone, moving, .. } = rows;
    circuit.keep(|place, branch| !gone[place] && branch.a != branch.b);
    keep_used(circuit, space, moving)
}

/// How many branches, and how many eyes, meet at each node; the datum and what is observed count as many.
fn ends(circuit: &Circuit) -> Vec<usize> {
    let mut ends = vec![0; circuit.row.len()];
    for node in circuit.question.nodes().chain([0]) {
        ends[node] += 3;
    }
    for branch in &circuit.branches {
        for node in branch.watched() {
            ends[node] += 1;
        }
    }
    ends
}

/// The series resistance of a branch, where one more ohm in a row with it is one more ohm of its own.
#[derive(Clone, Copy)]
enum Rung {
    /// It is nothing else.
    Plain(Ohms),
    /// It belongs to a source, a regulator or a diode.
    Within(usize),
}

impl Rung {
    fn slot(self) -> Option<usize> {
        match self {
            Self::Plain(Ohms::Slot(slot)) | Self::Within(slot) => Some(slot),
            Self::Plain(_) => None,
        }
    }

    /// Its low, nominal and high ohms.
    fn limits(self, space: &Space) -> [f64; 3] {
        let all = match (self, self.slot()) {
            (_, Some(slot)) => [space.low[slot], space.nominal[slot], space.high[slot]],
            (Self::Plain(Ohms::Fixed(ohms)), None) => [ohms; 3],
            _ => [0.0; 3],
        };
        all.map(|ohms| ohms.max(LEAST_OHMS))
    }
}

/// Rows being joined.
struct Rows<'c> {
    circuit: &'c mut Circuit,
    space: &'c mut Space,
    /// How many branches read each parameter.
    uses: Vec<u8>,
    /// Branches that have been put into another.
    gone: Vec<bool>,
    moving: Option<Moving>,
}

impl Rows<'_> {
    /// Joins the two branches that meet at a node, where one is a resistance and the other takes it.
    fn join_at(&mut self, node: usize) {
        let meets = |place: &usize| {
            let branch = &self.circuit.branches[*place];
            !self.gone[*place] && (branch.a == node || branch.b == node)
        };
        let mut pair = (0..self.gone.len()).filter(meets);
        let (Some(one), Some(other)) = (pair.next(), pair.next()) else {
            return;
        };
        let (Some(a), Some(b)) = (self.rung(one), self.rung(other)) else {
            return;
        };
        match (a, b) {
            (Rung::Plain(_), _) => self.join((one, a), (other, b), node),
            (_, Rung::Plain(_)) => self.join((other, b), (one, a), node),
            _ => {}
        }
    }

    /// None where the resistance hangs on a parameter that enters elsewhere too, or is the meter.
    fn rung(&self, place: usize) -> Option<Rung> {
        let rung = match self.circuit.branches[place].kind {
            Kind::Resistance(ohms @ (Ohms::Slot(_) | Ohms::Fixed(_))) => Rung::Plain(ohms),
            Kind::Source { series, .. }
            | Kind::Regulator { series, .. }
            | Kind::Diode { series, .. } => Rung::Within(series),
            _ => return None,
        };
        let alone = rung.slot().is_none_or(|slot| self.uses[slot] == 1);
        (alone && self.circuit.meter != Some(place)).then_some(rung)
    }

    /// Puts the ohms of one branch into the other; the node between them is left bare.
    fn join(&mut self, (gone, own): (usize, Rung), (kept, host): (usize, Rung), middle: usize) {
        let (own_ohms, host_ohms) = (own.limits(self.space), host.limits(self.space));
        let slot = self.space.low.len();
        self.space.low.push(own_ohms[0] + host_ohms[0]);
        self.space.nominal.push(own_ohms[1] + host_ohms[1]);
        self.space.high.push(own_ohms[2] + host_ohms[2]);
        self.uses.push(1);
        if let Some(moving) = &mut self.moving {
            for (rung, other) in [(own, host_ohms), (host, own_ohms)] {
                if rung.slot().is_some() && rung.slot() == moving.slot {
                    moving.slot = Some(slot);
                    for (rest, ohms) in moving.rest.iter_mut().zip(other) {
                        *rest += ohms;
                    }
                    break;
                }
            }
        }
        let far = {
            let branch = &self.circuit.branches[gone];
            branch.a + branch.b - middle
        };
        let branch = &mut self.circuit.branches[kept];
        match &mut branch.kind {
            Kind::Source { series, .. }
            | Kind::Regulator { series, .. }
            | Kind::Diode { series, .. } => *series = slot,
            kind => *kind = Kind::Resistance(Ohms::Slot(slot)),
        }
        if branch.a == middle {
            branch.a = far;
        } else {
            branch.b = far;
        }
        self.gone[gone] = true;
    }
}

/// Numbers the parameters that are still read anew, without gaps.
fn keep_used(circuit: &mut Circuit, space: &mut Space, moving: Option<Moving>) -> Option<Moving> {
    let mut place = vec![None; space.low.len()];
    let mut kept = Space::with_room(space.low.len());
    for branch in &mut circuit.branches {
        branch.kind.renumber(|slot| {
            *place[slot].get_or_insert_with(|| {
                kept.low.push(space.low[slot]);
                kept.nominal.push(space.nominal[slot]);
                kept.high.push(space.high[slot]);
                kept.low.len() - 1
            })
        });
    }
    *space = kept;
    moving.map(|moving| Moving {
        slot: moving.slot.and_then(|slot| place[slot]),
        ..moving
    })
}
