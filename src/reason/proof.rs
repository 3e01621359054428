//! Proofs: what the readings show to be good, and what they leave open all the same.
//!
//! In: the rows left standing. Out: subjects of which every fault is out, with their exceptions; what cannot
//! be ruled out beside the claim of a verdict. Never: a proof without a fault ruled out.

use super::faint::{Slight, is_load};
use super::resistance::Shown;
use super::set::Set;
use super::signature::{Row, Signatures};
use super::verdict::Establishes;
use crate::circuit::Site;
use crate::circuit::fault::FaultKind;

/// Something proven good.
#[derive(Clone, Debug, PartialEq)]
pub struct Proven {
    /// What: `signal wire`.
    pub subject: String,
    /// Where it sits.
    pub site: Option<Site>,
    /// But for what is too slight to have shown.
    pub but: Vec<Slight>,
    /// Unless one of these shorts is there, which would have read the same: it is proven to carry then.
    pub unless: Vec<String>,
}

/// What a verdict cannot rule out.
#[derive(Clone, Debug, PartialEq)]
pub enum Open {
    /// A fault that comes and goes and was away while measuring.
    Intermittent,
    /// Contacts of these roles, which show only plugged in.
    MatedContacts {
        /// Their roles.
        roles: Vec<String>,
    },
    /// Something too slight for the readings taken to show.
    Slight {
        /// In what.
        subject: String,
        /// Where it sits.
        site: Option<Site>,
        /// How slight.
        slight: Slight,
    },
    /// A second fault beside the first: all reasoning is for one.
    SecondFault,
}

fn subjects(signatures: &Signatures) -> Vec<(&str, Option<&Site>)> {
    let mut subjects: Vec<(&str, Option<&Site>)> = Vec::new();
    // Wires in each other's place are no thing that could be good, nor is what touches in the module.
    let inside = |row: &Row| row.site == Some(Site::Module) && row.kind == Some(FaultKind::ToWire);
    let all = signatures.rows.iter().filter(|row| row.fault.is_some());
    let things = all.filter(|row| row.kind != Some(FaultKind::Crossed) && !inside(row));
    for row in things {
        let own = (row.subject.as_str(), row.site.as_ref());
        if !subjects.contains(&own) {
            subjects.push(own);
        }
    }
    subjects
}

/// What is proven good, in the order of the signatures.
pub(crate) fn proven(
    signatures: &Signatures,
    (left, faint): (&Set, &Set),
    shown: &[Shown],
) -> Vec<Proven> {
    subjects(signatures)
        .into_iter()
        .filter_map(|(subject, site)| {
            let own = (0..signatures.rows.len()).filter(|row| {
                let row = &signatures.rows[*row];
                row.fault.is_some()
                    && row.kind != Some(FaultKind::Crossed)
                    && row.subject == subject
                    && row.site.as_ref() == site
            });
            let (standing, out): (Vec<usize>, Vec<usize>) =
                own.partition(|row| left.contains(*row));
            let (slight, plain): (Vec<usize>, Vec<usize>) =
                standing.into_iter().partition(|row| faint.contains(*row));
            let carries = plain.is_empty()
                || out
                    .iter()
                    .any(|row| signatures.rows[*row].kind == Some(FaultKind::Open))
                    && plain.iter().all(|row| is_load(signatures.rows[*row].kind));
            (carries && !out.is_empty()).then(|| Proven {
                subject: subject.to_owned(),
                site: site.cloned(),
                but: signatures.slight(slight.into_iter(), shown),
                unless: plain
                    .iter()
                    .map(|row| signatures.rows[*row].name.clone())
                    .collect(),
            })
        })
        .collect()
}

/// What stays possible beside a claim.
pub(crate) fn open(
    signatures: &Signatures,
    faint: &Set,
    shown: &[Shown],
    establishes: &Establishes,
) -> Vec<Open> {
    let mut open = Vec::new();
    match establishes {
        Establishes::NothingYet | Establishes::NothingFits => return open,
        Establishes::HealthySoFar { sites, .. } => {
            open.push(Open::Intermittent);
            let roles: Vec<String> = sites
                .iter()
                .filter_map(|site| match site {
                    Site::Contact(role) => Some(role.clone()),
                    _ => None,
                })
                .collect();
            if !roles.is_empty() {
                open.push(Open::MatedContacts { roles });
            }
        }
        Establishes::Repair { .. }
        | Establishes::Place { .. }
        | Establishes::NotSeparable { .. }
        | Establishes::Several { .. } => open.push(Open::SecondFault),
    }
    for (subject, site) in subjects(signatures) {
        let own = faint.iter().filter(|row| {
            let row = &signatures.rows[*row];
            row.subject == subject && row.site.as_ref() == site
        });
        let slight = signatures.slight(own, shown).into_iter();
        open.extend(slight.map(|slight| Open::Slight {
            subject: subject.to_owned(),
            site: site.cloned(),
            slight,
        }));
    }
    open
}
