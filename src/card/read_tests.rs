//! Tests of a family or a card: one hook-up and one observation each, and the points they name.
//!
//! In: the map `tests`. Out: [`TestSpec`]s and findings. Never: nodes; a point stays the author's text.

use super::fields::{Fields, texts, values};
use super::places::{Entry, Node};
use super::{AtSpec, Key, LinkSpec, ObserveSpec, Placed, Plug, TestSpec};
use crate::finding::{Finding, Place, kinds};
use crate::quantity::{Dimension, read_quantity};

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
        Ok([red, black]) => Some((red, black)),
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

/// Texts without their places.
pub(super) fn owned(placed: &[Placed<String>]) -> Vec<String> {
    values(placed).into_iter().map(str::to_owned).collect()
}
