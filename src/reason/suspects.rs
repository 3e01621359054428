//! Suspects: the faults still consistent with every reading, and by which reading the others went.
//!
//! In: signatures and observations. Out: suspects by repair with their share, repairs ruled out, and a
//! conflict where nothing fits. Elimination is hard, by bands only; the share is by prior only, so that a
//! narrow band makes no fault likelier.

use super::class::{Classes, HEALTHY};
use super::conflict::{self, Conflict};
use super::evidence::Observation;
use super::resistance::Shown;
use super::set::Set;
use super::signature::Signatures;
use crate::circuit::Site;
use crate::quantity::Interval;

/// What the readings leave.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspects {
    /// A healthy circuit could have read all of it.
    pub healthy: bool,
    /// Repairs left, largest share first.
    pub left: Vec<Suspect>,
    /// Repairs ruled out, in the order of the signatures.
    pub ruled_out: Vec<RuledOut>,
    /// Why nothing fits, where neither a fault nor the healthy circuit does.
    pub conflict: Option<Conflict>,
}

/// A repair that is still possible.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// The repair.
    pub repair: String,
    /// Names of its faults that are left.
    pub faults: Vec<String>,
    /// The same as clauses.
    pub says: Vec<String>,
    /// Where they sit.
    pub sites: Vec<Site>,
    /// Share of the prior among the faults left, 0 to 1.
    pub share: f64,
    /// The series resistance it would be, ohm, where it is left only as one.
    pub resistance: Option<Interval>,
    /// Left only where it does not show in the readings taken: too slight, or off in another state.
    pub faint: bool,
    /// Rows of the signatures.
    pub rows: Vec<usize>,
}

/// A repair that no reading leaves standing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RuledOut {
    /// The repair.
    pub repair: String,
    /// Observations that rule it out: one where one is enough, else as few as found.
    pub by: Vec<usize>,
}

/// What the observations leave. No observations leave everything.
pub fn suspects(signatures: &Signatures, observations: &[Observation]) -> Suspects {
    let classes = Classes::of(signatures);
    let (left, each) = signatures.left_by_all(observations);
    let probes: Vec<usize> = observations.iter().map(|one| one.probe).collect();
    let shown = signatures.shown(observations, &each);
    let standing = classes.set_of(left.iter());
    // What is wrong has shown.
    let faint = match standing.contains(HEALTHY) {
        true => signatures.faint(&left, &shown, &probes),
        false => Set::empty(signatures.rows.len()),
    };
    let total: f64 = left
        .iter()
        .filter(|row| classes.of[*row] != HEALTHY)
        .map(|row| classes.weight[row])
        .sum();
    let mut suspects: Vec<Suspect> = standing
        .iter()
        .filter(|class| *class != HEALTHY)
        .map(|class| suspect(signatures, &classes, (&left, &faint, &shown), class, total))
        .collect();
    suspects.sort_unstable_by(|a, b| b.share.total_cmp(&a.share).then(a.rows.cmp(&b.rows)));
    let ruled_out = (0..classes.count())
        .filter(|class| *class != HEALTHY && !standing.contains(*class))
        .map(|class| ruled_out(&classes, &each, class))
        .collect();
    Suspects {
        healthy: standing.contains(HEALTHY),
        left: suspects,
        ruled_out,
        conflict: (left.is_empty() && !signatures.rows.is_empty())
            .then(|| conflict::conflict(signatures, &classes, observations, &each)),
    }
}

fn suspect(
    signatures: &Signatures,
    classes: &Classes,
    (left, faint, shown): (&Set, &Set, &[Shown]),
    class: usize,
    total: f64,
) -> Suspect {
    let rows: Vec<usize> = left
        .iter()
        .filter(|row| classes.of[*row] == class)
        .collect();
    let own = || rows.iter().map(|row| &signatures.rows[*row]);
    let weight: f64 = rows.iter().map(|row| classes.weight[*row]).sum();
    let mut faults: Vec<String> = own().map(|row| row.name.clone()).collect();
    faults.dedup();
    let mut says: Vec<String> = own().map(|row| row.says.clone()).collect();
    says.dedup();
    let mut sites: Vec<Site> = own().filter_map(|row| row.site.clone()).collect();
    sites.sort_unstable();
    sites.dedup();
    Suspect {
        repair: classes.names[class].clone(),
        faults,
        says,
        sites,
        share: if total > 0.0 { weight / total } else { 0.0 },
        resistance: signatures.resistance_of(rows.iter().copied(), shown),
        faint: rows.iter().all(|row| faint.contains(*row)),
        rows,
    }
}

/// Which observations rule a class out: the first that does it alone, else a greedy cover.
fn ruled_out(classes: &Classes, each: &[Set], class: usize) -> RuledOut {
    let mut standing: Vec<usize> = (0..classes.of.len())
        .filter(|row| classes.of[*row] == class)
        .collect();
    let mut by = Vec::new();
    while !standing.is_empty() {
        let struck = |left: &Set| standing.iter().filter(|row| !left.contains(**row)).count();
        let best = (0..each.len())
            .map(|place| (struck(&each[place]), place))
            .max_by(|a, b| a.0.cmp(&b.0).then(b.1.cmp(&a.1)));
        match best {
            Some((count, place)) if count > 0 => {
                by.push(place);
                standing.retain(|row| each[place].contains(*row));
            }
            _ => break,
        }
    }
    by.sort_unstable();
    RuledOut {
        repair: classes.names[class].clone(),
        by,
    }
}
