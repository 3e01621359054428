//! Families, and the circuit a card may have of its own: the same keys, read the same way.
//!
//! In: the tree of a family file or of `circuit:`. Out: a [`Family`] and findings.

use super::check_tests::{Names, check_cautions, check_test_cautions, ids, state_names};
use super::fields::{Fields, doubled, misread, values};
use super::places::Node;
use super::read_elements::read_elements;
use super::read_parts::{read_codes, read_curve, read_signal};
use super::read_tests::{owned, read_tests};
use super::{
    CautionSpec, ElementSpec, Family, ParameterKind, ParameterSpec, Placed, StateSpec, Term,
};
use crate::finding::{Finding, Place, kinds};
use crate::quantity::{dimension_of, read_any, read_interval};
use std::collections::BTreeMap;

const KEYS: &[&str] = &[
    "family",
    "title",
    "says",
    "limits",
    "roles",
    "parameters",
    "states",
    "module",
    "part",
    "tests",
    "order",
    "cautions",
    "codes",
    "signal",
    "curve",
];

/// Reads a family file.
pub(super) fn read_family(
    node: &Node,
    cautions: &BTreeMap<String, CautionSpec>,
    findings: &mut Vec<Finding>,
) -> Option<Family> {
    let fields = Fields::of(node, "a family", KEYS, findings)?;
    let name = fields.required("family", "family: my-family", findings);
    let title = fields.required("title", "title: Three-wire position sensor", findings);
    let family = read_circuit(&fields, cautions, findings)?;
    Some(Family {
        name: name?.value,
        title: title?.value,
        ..family
    })
}

/// Reads the circuit a card has of its own; it needs no name and no title.
pub(super) fn read_own_circuit(
    node: &Node,
    cautions: &BTreeMap<String, CautionSpec>,
    findings: &mut Vec<Finding>,
) -> Option<Family> {
    let fields = Fields::of(node, "a circuit", KEYS, findings)?;
    read_circuit(&fields, cautions, findings)
}

fn read_circuit(
    fields: &Fields<'_>,
    cautions: &BTreeMap<String, CautionSpec>,
    findings: &mut Vec<Finding>,
) -> Option<Family> {
    let roles = fields.texts("roles", findings);
    if roles.is_empty() {
        let example = "roles: [reference, ground, signal]";
        let place = fields.place_of("roles");
        findings.push(kinds::missing_key(place, "roles", fields.of, example));
    }
    doubled(&roles, |role, first| {
        findings.push(kinds::doubled_role(&role.place, &role.value, first));
    });
    let parameters = read_parameters(fields.get("parameters"), &values(&roles), findings);
    let module = read_elements(fields.list("module", findings), &parameters, findings);
    let part = read_elements(fields.list("part", findings), &parameters, findings);
    check_names(module.iter().chain(&part), findings);
    check_places(&module, &values(&roles), findings);
    check_places(&part, &values(&roles), findings);
    let states = read_states(fields.list("states", findings), &part, &module, findings);
    let signal = read_signal(fields, findings);
    let tests = read_tests(fields.get("tests"), findings);
    let order = fields.texts("order", findings);
    let names = Names {
        roles: values(&roles),
        pins: Vec::new(),
        tests: ids(&tests),
        // The card's own signal points take the place of the family's.
        states: match states.is_empty() {
            true => Vec::new(),
            false => state_names(&signal, &states),
        },
    };
    names.check_tests(&tests, findings);
    names.check_order(&order, findings);
    let own_cautions = fields.texts("cautions", findings);
    check_cautions(&own_cautions, cautions, findings);
    check_test_cautions(fields.get("tests"), cautions, findings);
    let codes = read_codes(fields, findings);
    Some(Family {
        name: String::new(),
        file: fields.place.file.clone(),
        title: fields.words("title", findings),
        says: fields.words("says", findings),
        limits: fields.words("limits", findings),
        roles: owned(&roles),
        parameters,
        states,
        module,
        part,
        tests,
        order,
        cautions: owned(&own_cautions),
        codes: owned(&codes),
        signal,
        curve: read_curve(fields, findings).map(|curve| curve.value),
    })
}

fn read_parameters(
    node: Option<&Node>,
    roles: &[&str],
    findings: &mut Vec<Finding>,
) -> Vec<ParameterSpec> {
    let Some(fields) = node.and_then(|node| Fields::unchecked(node, "`parameters`", findings))
    else {
        return Vec::new();
    };
    let mut parameters = Vec::new();
    for (at, entry) in fields.entries().iter().enumerate() {
        if let Some(first) = fields.earlier(at) {
            findings.push(kinds::doubled_key(&entry.place, &entry.key, &first.place));
            continue;
        }
        let known = &["default", "choice", "limits", "follows", "between", "says"];
        let Some(given) = Fields::of(&entry.value, "a parameter", known, findings) else {
            continue;
        };
        let says = given.words("says", findings);
        if let Some(kind) = read_parameter(&given, &entry.place, roles, findings) {
            let name = Placed {
                value: entry.key.clone(),
                place: entry.place.clone(),
            };
            parameters.push(ParameterSpec { name, says, kind });
        }
    }
    parameters
}

fn read_parameter(
    given: &Fields<'_>,
    place: &Place,
    roles: &[&str],
    findings: &mut Vec<Finding>,
) -> Option<ParameterKind> {
    if given.get("choice").is_some() {
        return read_choice(given, findings);
    }
    if let Some(follows) = given.text("follows", findings) {
        if !roles.contains(&follows.value.as_str()) {
            findings.push(kinds::unknown_role(&follows.place, &follows.value, roles));
        }
        let between = given.required("between", "between: 0 to 100 %", findings)?;
        let (dimension, between) = read_limits(&between, findings)?;
        let role = follows.value;
        return Some(ParameterKind::FollowsSignal {
            role,
            dimension,
            between,
        });
    }
    let Some(default) = given.text("default", findings) else {
        let example = "default: 5 V ± 2 %";
        findings.push(kinds::missing_key(place, "default", given.of, example));
        return None;
    };
    let limits = given.text("limits", findings);
    if limits.is_some_and(|limits| limits.value == "true") {
        let (dimension, default) = read_limits(&default, findings)?;
        return Some(ParameterKind::Limits { dimension, default });
    }
    match read_any(&default.value) {
        Ok((default, dimension)) => Some(ParameterKind::Value { dimension, default }),
        Err(slip) => {
            findings.push(misread(&default.place, &slip));
            None
        }
    }
}

fn read_choice(given: &Fields<'_>, findings: &mut Vec<Finding>) -> Option<ParameterKind> {
    let choices = owned(&given.texts("choice", findings));
    let default = given.text("default", findings);
    let words: Vec<&str> = choices.iter().map(String::as_str).collect();
    if let Some(default) = &default
        && default.value != "unknown"
        && !words.contains(&default.value.as_str())
    {
        findings.push(kinds::unknown_choice(
            &default.place,
            &default.value,
            "default",
            &words,
        ));
        return None;
    }
    let default = default.map_or_else(|| "unknown".to_owned(), |default| default.value);
    Some(ParameterKind::Choice { choices, default })
}

fn read_limits(
    typed: &Placed<String>,
    findings: &mut Vec<Finding>,
) -> Option<(crate::quantity::Dimension, crate::quantity::Interval)> {
    let read = match dimension_of(&typed.value) {
        Some(dimension) => read_interval(&typed.value, dimension).map(|read| (dimension, read)),
        None => read_any(&typed.value).map(|(read, dimension)| (dimension, read.interval())),
    };
    match read {
        Ok(read) => Some(read),
        Err(slip) => {
            findings.push(misread(&typed.place, &slip));
            None
        }
    }
}

fn read_states(
    nodes: &[Node],
    part: &[ElementSpec],
    module: &[ElementSpec],
    findings: &mut Vec<Finding>,
) -> Vec<StateSpec> {
    let switches: Vec<&str> = part
        .iter()
        .chain(module)
        .filter(|element| element.kind.value == "switch")
        .filter_map(|element| word(&element.main.value))
        .collect();
    let mut states = Vec::new();
    for node in nodes {
        let Some(fields) = Fields::of(node, "a state", &["name", "closes"], findings) else {
            continue;
        };
        let closes = fields.texts("closes", findings);
        for name in &closes {
            if !switches.contains(&name.value.as_str()) {
                findings.push(kinds::unknown_switch(&name.place, &name.value, &switches));
            }
        }
        if let Some(name) = fields.required("name", "name: pressed", findings) {
            states.push(StateSpec { name, closes });
        }
    }
    states
}

fn word(term: &Term) -> Option<&str> {
    match term {
        Term::Word(word) => Some(word),
        _ => None,
    }
}

/// The name pages and faults call an element by, where it has one.
fn name(element: &ElementSpec) -> Option<Placed<String>> {
    let named = match element.kind.value.as_str() {
        "regulator" | "source" | "diode" | "switch" => Some(&element.main),
        _ => element.fields.get("name"),
    }?;
    Some(Placed {
        value: word(&named.value)?.to_owned(),
        place: named.place.clone(),
    })
}

fn check_names<'a>(elements: impl Iterator<Item = &'a ElementSpec>, findings: &mut Vec<Finding>) {
    let names: Vec<Placed<String>> = elements.filter_map(name).collect();
    doubled(&names, |name, first| {
        findings.push(kinds::doubled_name(&name.place, &name.value, first));
    });
}

/// Fields that hold places, by kind of field.
const PLACE_FIELDS: &[&str] = &[
    "between", "from", "to", "feeds", "plus", "minus", "anode", "cathode", "powered", "ends",
    "slider", "against",
];

/// A place of its own that one element touches leads nowhere: most often a mistyped role.
fn check_places(half: &[ElementSpec], roles: &[&str], findings: &mut Vec<Finding>) {
    let mut known: Vec<&str> = roles.to_vec();
    known.extend(["module", "battery", "good ground"]);
    known.extend(
        half.iter()
            .filter(|element| element.kind.value == "regulator")
            .filter_map(|element| word(&element.main.value)),
    );
    let mut touched: Vec<(&str, &Place)> = Vec::new();
    for element in half {
        let fields = element.fields.iter();
        let ends = fields.filter(|(key, _)| PLACE_FIELDS.contains(&key.as_str()));
        let roles_named = matches!(element.kind.value.as_str(), "input" | "tied");
        let main = roles_named.then_some(&element.main);
        for term in ends.map(|(_, term)| term).chain(main) {
            let words: Vec<&str> = match &term.value {
                Term::Word(word) => vec![word],
                Term::Words(words) => words.iter().map(String::as_str).collect(),
                Term::Choice(places) => places.values().map(String::as_str).collect(),
                _ => Vec::new(),
            };
            touched.extend(words.into_iter().map(|word| (word, &term.place)));
        }
    }
    for (word, place) in &touched {
        let once = touched.iter().filter(|(other, _)| other == word).count() == 1;
        if once && !known.contains(word) {
            findings.push(kinds::lonely_place(place, word, &known));
        }
    }
}
