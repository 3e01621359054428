//! Tests of a family or a card: one hook-up and one observation each, and the points they name.
//!
//! In: the map `tests`. Out: [`TestSpec`]s and findings. Never: nodes; a point stays the author's text.

use super::fields::{Fields, doubled, texts, values};
use super::places::{Entry, Node};
use super::{AtSpec, CautionSpec, Key, LinkSpec, ObserveSpec, Placed, Plug, TestSpec};
use crate::finding::{Finding, Place, kinds};
use crate::quantity::{Dimension, read_quantity};
use std::collections::BTreeMap;

const KEYS: &[&str] = &[
    "title", "plug", "key", "volts", "ohms", "amps", "scan", "bridge", "through", "at", "when",
    "for", "why", "minutes", "cautions",
];
const OBSERVES: &[&str] = &["volts", "ohms", "amps", "scan"];
const PLUGS: &[(&str, Plug)] = &[
    ("unplugged", Plug::Unplugged),
    ("plugged", Plug::Plugged),
    ("back-probed", Plug::BackProbed),
];
const KEY_STATES: &[(&str, Key)] = &[("off", Key::Off), ("on", Key::On)];
const FOR: &[(&str, ())] = &[("derived value", ())];
const WHEN: &[&str] = &["low", "high", "off", "good"];
/// Minutes a test takes where it does not say.
const MINUTES: f64 = 2.0;

/// Reads the tests in the order written.
pub(super) fn read_tests(node: Option<&Node>, findings: &mut Vec<Finding>) -> Vec<TestSpec> {
    let Some(fields) = node.and_then(|node| Fields::unchecked(node, "`tests`", findings)) else {
        return Vec::new();
    };
    let mut tests = Vec::new();
    for (at, entry) in fields.entries().iter().enumerate() {
        if let Some(first) = fields.earlier(at) {
            findings.push(kinds::doubled_key(&entry.place, &entry.key, &first.place));
            continue;
        }
        tests.extend(read_test(entry, findings));
    }
    tests
}

fn read_test(entry: &Entry, findings: &mut Vec<Finding>) -> Option<TestSpec> {
    let fields = Fields::of(&entry.value, "a test", KEYS, findings)?;
    let title = fields.required("title", "title: Supply across the pins", findings);
    let plug = fields.required("plug", "plug: unplugged", findings);
    let plug = plug.and_then(|word| known_word(&word, "plug", PLUGS, findings));
    let key = fields.required("key", "key: on", findings);
    let key = key.and_then(|word| known_word(&word, "key", KEY_STATES, findings));
    let observes = observes(&fields, &entry.place, findings);
    let links = links(&fields, findings);
    if let Some(ObserveSpec::Ohms { red, black }) = &observes {
        let ends = links.iter().flat_map(|link| [&link.from, &link.to]);
        let battery = ends.chain([red, black]).find(|end| end.value == "battery");
        let live = key == Some(Key::On);
        let ohms = || fields.get("ohms").map_or(&entry.place, |node| &node.place);
        let place = battery.map(|end| &end.place).or(live.then(ohms));
        findings.extend(place.map(|place| kinds::ohms_live(place, &entry.key)));
    }
    let when = fields.text("when", findings);
    let when = when.filter(|when| check_when(when, findings));
    let only = fields.text("for", findings);
    let only = only.and_then(|word| known_word(&word, "for", FOR, findings));
    Some(TestSpec {
        id: Placed {
            value: entry.key.clone(),
            place: entry.place.clone(),
        },
        title: title?.value,
        plug: plug?,
        key: key?,
        links,
        observes: observes?,
        at: at(&fields, findings),
        when,
        for_derived: only.is_some(),
        why: fields.words("why", findings),
        minutes: minutes(&fields, findings),
        cautions: fields
            .texts("cautions", findings)
            .into_iter()
            .map(|caution| caution.value)
            .collect(),
    })
}

/// The value of a word from a short list.
pub(super) fn known_word<T: Copy>(
    typed: &Placed<String>,
    of: &str,
    words: &[(&str, T)],
    findings: &mut Vec<Finding>,
) -> Option<T> {
    let found = words.iter().find(|(word, _)| *word == typed.value);
    if found.is_none() {
        let words: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        findings.push(kinds::unknown_word(&typed.place, &typed.value, of, &words));
    }
    found.map(|(_, value)| *value)
}

fn observes(
    fields: &Fields<'_>,
    place: &Place,
    findings: &mut Vec<Finding>,
) -> Option<ObserveSpec> {
    let given: Vec<&str> = OBSERVES
        .iter()
        .copied()
        .filter(|key| fields.get(key).is_some())
        .collect();
    let [key] = given.as_slice() else {
        findings.push(kinds::one_key_of(place, "a test", OBSERVES, &given));
        return None;
    };
    if *key == "scan" {
        let input = fields.text("scan", findings)?;
        return Some(ObserveSpec::Scan { input });
    }
    let (red, black) = pair(fields, key, findings)?;
    Some(match *key {
        "volts" => ObserveSpec::Volts { red, black },
        "ohms" => ObserveSpec::Ohms { red, black },
        _ => ObserveSpec::Amps { red, black },
    })
}

fn pair(
    fields: &Fields<'_>,
    key: &str,
    findings: &mut Vec<Finding>,
) -> Option<(Placed<String>, Placed<String>)> {
    let node = fields.get(key)?;
    let points = texts(node, key, findings);
    match <[Placed<String>; 2]>::try_from(points) {
        Ok([red, black]) => {
            if red.value == black.value {
                findings.push(kinds::same_point(&black.place, &black.value));
            }
            Some((red, black))
        }
        Err(points) => {
            let found = format!("{} of them", points.len());
            let what = format!("`{key}`");
            let expected = "two points such as [signal, ground]";
            findings.push(kinds::wrong_shape(&node.place, &what, expected, &found));
            None
        }
    }
}

fn links(fields: &Fields<'_>, findings: &mut Vec<Finding>) -> Vec<LinkSpec> {
    let through = fields.toleranced("through", Dimension::Resistance, findings);
    if let (Some(through), None) = (&through, fields.get("bridge")) {
        let example = "bridge: [reference, ground]";
        findings.push(kinds::missing_key(
            &through.place,
            "bridge",
            "a load",
            example,
        ));
    }
    pair(fields, "bridge", findings)
        .map(|(from, to)| LinkSpec {
            from,
            to,
            through: through.map(|load| load.value),
        })
        .into_iter()
        .collect()
}

fn at(fields: &Fields<'_>, findings: &mut Vec<Finding>) -> AtSpec {
    match fields.text("at", findings) {
        None => AtSpec::Any,
        Some(words) => match words.value.as_str() {
            "each signal point" | "each state" => AtSpec::Each,
            name => AtSpec::Named(name.to_owned()),
        },
    }
}

/// `TEST is low`: the id is checked where all ids are known.
fn check_when(when: &Placed<String>, findings: &mut Vec<Finding>) -> bool {
    let sound = when
        .value
        .split_once(" is ")
        .is_some_and(|(_, word)| WHEN.contains(&word));
    if !sound {
        findings.push(kinds::unreadable_when(&when.place, &when.value));
    }
    sound
}

fn minutes(fields: &Fields<'_>, findings: &mut Vec<Finding>) -> f64 {
    let Some(typed) = fields.text("minutes", findings) else {
        return MINUTES;
    };
    let plain = read_quantity(&typed.value, Dimension::Ratio).map(|read| read.number);
    let timed = || read_quantity(&typed.value, Dimension::Time).map(|read| read.number / 60.0);
    match plain.or_else(|_| timed()) {
        Ok(minutes) if minutes > 0.0 && !typed.value.contains('%') => minutes,
        _ => {
            let what = "a number of minutes";
            findings.push(kinds::misread_number(&typed.place, &typed.value, what, "2"));
            MINUTES
        }
    }
}

/// Less than this between a battery and a pin is as good as nothing, ohm.
const BARE: f64 = 100.0;

/// Where a jumper or an ammeter leads battery voltage to a ground, or to what the module's own supply feeds.
fn bare_battery(ends: [&Placed<String>; 2]) -> Option<&Placed<String>> {
    let fed = match ends.map(|end| end.value.as_str()) {
        ["battery", _] => ends[1],
        [_, "battery"] => ends[0],
        _ => return None,
    };
    let burns = ["ground", "body", "return", "reference", "signal"];
    let burnt = burns.iter().any(|role| fed.value.contains(role));
    burnt.then_some(fed)
}

/// What a test's points, conditions and cautions may name.
pub(super) struct Names<'a> {
    /// Roles of the circuit.
    pub roles: Vec<&'a str>,
    /// Pin labels, where a card has them.
    pub labels: Vec<&'a str>,
    /// Ids of all tests.
    pub tests: Vec<&'a str>,
    /// Signal points and states; empty where they are not known yet.
    pub states: Vec<&'a str>,
}

impl Names<'_> {
    /// Checks every name in these tests.
    pub(super) fn check_tests(&self, tests: &[TestSpec], findings: &mut Vec<Finding>) {
        for test in tests {
            self.check_test(test, findings);
        }
    }

    fn check_test(&self, test: &TestSpec, findings: &mut Vec<Finding>) {
        match &test.observes {
            ObserveSpec::Scan { input } => {
                if !self.roles.contains(&input.value.as_str()) {
                    findings.push(kinds::unknown_role(&input.place, &input.value, &self.roles));
                }
            }
            ObserveSpec::Volts { red, black }
            | ObserveSpec::Ohms { red, black }
            | ObserveSpec::Amps { red, black } => {
                self.check_point(red, false, findings);
                self.check_point(black, false, findings);
                let is_amps = matches!(test.observes, ObserveSpec::Amps { .. });
                let burnt = bare_battery([red, black]).filter(|_| is_amps);
                findings.extend(burnt.map(|end| kinds::bare_battery(&end.place, &end.value)));
            }
        }
        for link in &test.links {
            self.check_point(&link.from, true, findings);
            self.check_point(&link.to, true, findings);
            let bare = link.through.is_none_or(|load| load.low < BARE);
            let burnt = bare_battery([&link.from, &link.to]).filter(|_| bare);
            findings.extend(burnt.map(|end| kinds::bare_battery(&end.place, &end.value)));
        }
        if let Some(when) = &test.when
            && let Some((id, _)) = when.value.split_once(" is ")
            && !self.tests.contains(&id)
        {
            findings.push(kinds::unknown_test(&when.place, id, &self.tests));
        }
        if let AtSpec::Named(name) = &test.at
            && !self.states.is_empty()
            && !self.states.contains(&name.as_str())
        {
            findings.push(kinds::unknown_state(&test.id.place, name, &self.states));
        }
    }

    fn check_point(&self, point: &Placed<String>, in_bridge: bool, findings: &mut Vec<Finding>) {
        let typed = point.value.as_str();
        let role = typed
            .strip_prefix("part.")
            .or_else(|| typed.strip_prefix("module."));
        let known = match role {
            Some(role) => self.roles.contains(&role),
            None => {
                self.roles.contains(&typed)
                    || self.labels.contains(&typed)
                    || matches!(typed, "good ground" | "battery")
                    || (in_bridge && typed == "other rail")
            }
        };
        if known {
            return;
        }
        let halves = ["part.", "module."];
        let mut names: Vec<String> = halves
            .iter()
            .flat_map(|half| self.roles.iter().map(move |role| format!("{half}{role}")))
            .collect();
        names.extend(["good ground", "battery"].map(str::to_owned));
        if in_bridge {
            names.push("other rail".into());
        }
        let mut known: Vec<&str> = self.roles.clone();
        known.extend(names.iter().map(String::as_str));
        findings.push(kinds::unknown_point(&point.place, typed, &known));
    }

    /// Checks an order of test ids.
    pub(super) fn check_order(&self, order: &[Placed<String>], findings: &mut Vec<Finding>) {
        for id in order {
            if !self.tests.contains(&id.value.as_str()) {
                findings.push(kinds::unknown_test(&id.place, &id.value, &self.tests));
            }
        }
        doubled(order, |id, first| {
            findings.push(kinds::doubled_test(&id.place, &id.value, first));
        });
    }
}

/// Checks caution ids; a text with a space in it is the author's own sentence.
pub(super) fn check_cautions(
    cautions: &[Placed<String>],
    table: &BTreeMap<String, CautionSpec>,
    findings: &mut Vec<Finding>,
) {
    let known: Vec<&str> = table.keys().map(String::as_str).collect();
    for caution in cautions {
        let own = caution.value.trim().contains(' ');
        if !own && !known.is_empty() && !known.contains(&caution.value.as_str()) {
            findings.push(kinds::unknown_caution(
                &caution.place,
                &caution.value,
                &known,
            ));
        }
    }
}

/// Checks the cautions of the tests in a map, which keep no places once read.
pub(super) fn check_test_cautions(
    node: Option<&Node>,
    table: &BTreeMap<String, CautionSpec>,
    findings: &mut Vec<Finding>,
) {
    let Some(tests) = node.and_then(|node| Fields::unchecked(node, "`tests`", &mut Vec::new()))
    else {
        return;
    };
    for entry in tests.entries() {
        let ignored = &mut Vec::new();
        if let Some(fields) = Fields::unchecked(&entry.value, "a test", ignored) {
            check_cautions(&fields.texts("cautions", ignored), table, findings);
        }
    }
}

/// Ids of tests.
pub(super) fn ids(tests: &[TestSpec]) -> Vec<&str> {
    tests.iter().map(|test| test.id.value.as_str()).collect()
}

/// Names of a family's or card's signal points and states.
pub(super) fn state_names<'a>(
    points: &'a [super::SignalPoint],
    states: &'a [super::StateSpec],
) -> Vec<&'a str> {
    let points = points.iter().map(|point| point.at.value.as_str());
    let states = states.iter().map(|state| state.name.value.as_str());
    points.chain(states).collect()
}

/// Texts without their places.
pub(super) fn owned(placed: &[Placed<String>]) -> Vec<String> {
    values(placed).into_iter().map(str::to_owned).collect()
}
