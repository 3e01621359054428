//! The words of faults: what is wrong, what to do, how often it is so.
//!
//! In: a role, an element's name, a kind of change. Out: text and priors. Never: networks.

use super::{FaultKind, FaultScope};
use crate::circuit::Site;

/// How often each kind of place is the cause, against the others. Workshops find contacts before wires,
/// wires before the part, the part before the module. Common practice, no source.
pub(super) mod prior {
    pub(in super::super) const CONTACT_HIGH: f64 = 6.0;
    pub(in super::super) const CONTACT_OPEN: f64 = 4.0;
    pub(in super::super) const WIRE_OPEN: f64 = 3.0;
    pub(in super::super) const WIRE_HIGH: f64 = 2.0;
    /// Of what is open, so much is only nearly so.
    pub(in super::super) const NEARLY: f64 = 0.1;
    pub(in super::super) const WIRE_TO_GROUND: f64 = 1.5;
    pub(in super::super) const WIRE_TO_OTHER: f64 = 0.3;
    pub(in super::super) const CROSSED: f64 = 0.2;
    pub(in super::super) const GROUND_HIGH: f64 = 1.0;
    pub(in super::super) const GROUND_OPEN: f64 = 0.7;
    pub(in super::super) const FEED_OPEN: f64 = 2.0;
    pub(in super::super) const FEED_HIGH: f64 = 1.0;
    pub(in super::super) const BATTERY: f64 = 1.0;
    pub(in super::super) const NEIGHBOUR: f64 = 0.7;
    pub(in super::super) const SUPPLY_DEAD: f64 = 0.5;
    /// All faults of the part together.
    pub(in super::super) const PART: f64 = 4.0;
    /// All faults inside the module together, but for its supplies.
    pub(in super::super) const MODULE: f64 = 0.6;
}

/// What a fault is told in.
pub(super) struct Words {
    pub(super) name: String,
    pub(super) says: String,
    pub(super) repair: String,
    pub(super) subject: String,
}

impl FaultScope {
    /// `pin 2 (signal)`, or `the signal pin` where no label is known.
    fn pin(&self, role: &str) -> String {
        match self.labels.get(role) {
            Some(label) => format!("pin {label} ({role})"),
            None => format!("the {role} pin"),
        }
    }

    /// `the signal wire (pin 2)`.
    fn wire(&self, role: &str) -> String {
        match self.labels.get(role) {
            Some(label) => format!("the {role} wire (pin {label})"),
            None => format!("the {role} wire"),
        }
    }

    fn part(&self) -> &str {
        if self.part.is_empty() {
            "part"
        } else {
            &self.part
        }
    }

    pub(super) fn of_wire(&self, role: &str, kind: FaultKind, against: &str) -> Words {
        let wire = self.wire(role);
        let (what, repair) = match kind {
            FaultKind::Open | FaultKind::High | FaultKind::NearlyOpen => (
                bad(kind).to_owned(),
                format!("repair {wire} between the connector and the module"),
            ),
            FaultKind::ToReference => (
                match against.contains(' ') {
                    true => format!("shorted to the {against}"),
                    false => format!("shorted to the reference {against}"),
                },
                format!("clear the short between {wire} and a reference line"),
            ),
            FaultKind::ToBattery => (
                "shorted to battery".to_owned(),
                format!("clear the short between {wire} and battery voltage"),
            ),
            _ => (
                "shorted to ground".to_owned(),
                format!("clear the short between {wire} and ground"),
            ),
        };
        worded(format!("{role} wire"), &wire, &what, repair)
    }

    /// A short to ground on a wire that a fuse feeds.
    pub(super) fn of_fused_short(&self, role: &str, fuse: &str) -> Words {
        let wire = self.wire(role);
        let repair = format!(
            "clear the short between {wire} and ground, then replace the fuse if it has blown"
        );
        let what = format!("shorted to ground, {fuse}");
        worded(format!("{role} wire"), &wire, &what, repair)
    }

    /// Two wires that touch each other, or what they lead to inside the part or the module.
    pub(super) fn of_touching(&self, [one, other]: [&str; 2], site: &Site) -> Words {
        let what = format!("shorted to {other}");
        match site {
            Site::Part => self.of_part(one, &what),
            Site::Module => of_module(one, &what),
            _ => {
                let (wire, touched) = (self.wire(one), self.wire(other));
                Words {
                    name: format!("{one} wire shorted to the {other} wire"),
                    says: format!("{wire} is shorted to {touched}"),
                    repair: format!("clear the short between {wire} and {touched}"),
                    subject: format!("{one} wire"),
                }
            }
        }
    }

    pub(super) fn of_contact(&self, role: &str, kind: FaultKind) -> Words {
        let pin = self.pin(role);
        let repair = format!("clean or replace the contact of {pin}");
        let whole = format!("the contact of {pin}");
        worded(format!("{role} contact"), &whole, bad(kind), repair)
    }

    pub(super) fn of_crossing(&self, one: &str, other: &str) -> Words {
        let (a, b) = (self.pin(one), self.pin(other));
        Words {
            name: format!("{one} and {other} wires crossed"),
            says: format!("the wires of {a} and {b} are crossed at the connector"),
            repair: format!("put the wires of {a} and {b} back in their own places"),
            subject: "crossed wires".to_owned(),
        }
    }

    pub(super) fn of_part(&self, element: &str, what: &str) -> Words {
        let part = self.part();
        let whole = format!("the {element} in the {part}");
        let repair = format!("replace the {part}");
        let words = worded(element.to_owned(), &whole, what, repair);
        Words {
            subject: part.to_owned(),
            ..words
        }
    }

    pub(super) fn of_feed(&self, role: &str, kind: FaultKind) -> Words {
        let pin = self.pin(role);
        let whole = format!("the battery feed of {pin}");
        let repair = format!("restore the battery feed of {pin}: fuse, relay, wire");
        worded(format!("{role} feed"), &whole, bad(kind), repair)
    }

    /// Where the return of a part is bolted to the body.
    pub(super) fn of_ground_point(&self, role: &str, kind: FaultKind) -> Words {
        let pin = self.pin(role);
        let whole = format!("the ground point of {pin}");
        let repair = format!("clean and tighten the ground point of {pin}");
        worded(format!("{role} ground point"), &whole, bad(kind), repair)
    }

    pub(super) fn of_regulator(&self, name: &str, role: Option<&str>) -> Words {
        let whole = self.line(name, role);
        let repair = format!(
            "find out why {whole} is missing: the module's feed and ground, then the module"
        );
        worded(name.to_owned(), &whole, "dead", repair)
    }

    pub(super) fn of_neighbour(&self, name: &str, role: Option<&str>) -> Words {
        let whole = self.line(name, role);
        let repair = format!(
            "find what pulls {whole} down: unplug its other users one at a time, then look for a short"
        );
        let what = "pulled down by a neighbour";
        worded(name.to_owned(), &whole, what, repair)
    }

    fn line(&self, name: &str, role: Option<&str>) -> String {
        // A name of several words reads as it stands.
        match (role, name.contains(' ')) {
            (Some(role), true) => format!("the {name} on {}", self.pin(role)),
            (Some(role), false) => format!("{name} on {}", self.pin(role)),
            (None, true) => format!("the module's {name}"),
            (None, false) => format!("the module's inner supply {name}"),
        }
    }

    pub(super) fn of_input(&self, role: &str, what: &str) -> Words {
        let whole = format!("the module's input of {}", self.pin(role));
        worded(of_input(role), &whole, what, MODULE.to_owned())
    }
}

/// What faults of a module's input are about.
pub(super) fn of_input(role: &str) -> String {
    format!("module input {role}")
}

const MODULE: &str = "check the module's feeds and grounds, then replace the module";

pub(super) fn of_module(element: &str, what: &str) -> Words {
    let whole = format!("the {element} in the module");
    let subject = format!("module {element}");
    worded(subject, &whole, what, MODULE.to_owned())
}

/// A switch in the feed of a pin.
pub(super) fn of_relay(element: &str, what: &str) -> Words {
    let whole = format!("the {element}");
    let repair = "check the relay's coil and its control, then replace the relay".to_owned();
    worded(element.to_owned(), &whole, what, repair)
}

/// What stands for that switch and its fuse, worn or burnt.
pub(super) fn of_relay_joint(element: &str, kind: FaultKind) -> Words {
    let whole = format!("the {element}, or its fuse,");
    let repair = "find the loss between battery and harness: fuse and its holder, relay contact";
    worded(element.to_owned(), &whole, bad(kind), repair.to_owned())
}

pub(super) fn of_battery() -> Words {
    let (subject, repair) = (
        "battery".to_owned(),
        "charge the battery, then test it".to_owned(),
    );
    worded(subject, "the battery", "flat", repair)
}

pub(super) fn of_module_ground(kind: FaultKind) -> Words {
    let repair = "repair the module's own ground connection".to_owned();
    let (subject, whole) = ("module ground".to_owned(), "the module's own ground");
    match kind {
        FaultKind::NearlyOpen => Words {
            name: format!("{subject} resistance stops the module"),
            says: format!("{whole} has so much resistance that the module has no power"),
            repair,
            subject,
        },
        kind => worded(subject, whole, bad(kind), repair),
    }
}

pub(super) fn bad(kind: FaultKind) -> &'static str {
    match kind {
        FaultKind::High => "has too much resistance",
        FaultKind::NearlyOpen => "nearly open",
        _ => "open",
    }
}

/// `signal wire` + `open`: the name; `the signal wire (pin 2)` + `is open`: the clause.
fn worded(subject: String, whole: &str, what: &str, repair: String) -> Words {
    let (name, clause) = match what {
        "has too much resistance" => (format!("{subject} high resistance"), what.to_owned()),
        what => (format!("{subject} {what}"), format!("is {what}")),
    };
    Words {
        name,
        says: format!("{whole} {clause}"),
        repair,
        subject,
    }
}
