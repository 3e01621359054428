//! A page of circuits that belong together: a system, a vehicle or machine.

use super::{CardRow, counted_circuits};
use crate::publish::shelf::Group;
use serde::Serialize;

/// A list of circuits under one name.
#[derive(Serialize)]
pub(super) struct GroupPage {
    what: &'static str,
    title: String,
    counted: String,
    circuits: Vec<CardRow>,
}

/// The page of this group; `what` names the kind of group.
pub(super) fn view(what: &'static str, group: &Group) -> GroupPage {
    GroupPage {
        what,
        title: group.title.clone(),
        counted: counted_circuits(group),
        circuits: CardRow::all(group),
    }
}
