//! Elements of a circuit, each read against the table of kinds.
//!
//! In: the lists `module` and `part` of a family or a card's own circuit. Out: [`ElementSpec`]s and
//! findings. Never: nodes and numbers of a network; those are made in `sheet`.

use super::elements::{ELEMENT_KINDS, Takes};
use super::fields::{Fields, measured, text, texts};
use super::places::{Entry, Node, NodeKind};
use super::{ElementSpec, ParameterKind, ParameterSpec, Placed, Term};
use crate::finding::{Finding, kinds};
use crate::quantity::{Dimension, read_interval, read_toleranced};
use std::collections::BTreeMap;

/// Reads the elements of one half of a circuit.
pub(super) fn read_elements(
    nodes: &[Node],
    parameters: &[ParameterSpec],
    findings: &mut Vec<Finding>,
) -> Vec<ElementSpec> {
    nodes
        .iter()
        .filter_map(|node| read_element(node, parameters, findings))
        .collect()
}

fn read_element(
    node: &Node,
    parameters: &[ParameterSpec],
    findings: &mut Vec<Finding>,
) -> Option<ElementSpec> {
    let fields = Fields::unchecked(node, "an element", findings)?;
    let first = fields.entries().first()?;
    let Some(kind) = ELEMENT_KINDS.iter().find(|kind| kind.word == first.key) else {
        let words: Vec<&str> = ELEMENT_KINDS.iter().map(|kind| kind.word).collect();
        findings.push(kinds::unknown_element(&first.place, &first.key, &words));
        return None;
    };
    let mut known: Vec<&str> = kind.fields.iter().map(|field| field.name).collect();
    known.push(kind.word);
    Fields::of(node, "this element", &known, findings)?;
    let terms = TermReader { parameters };
    let main = terms.read(first, kind.main, findings);
    let mut read = BTreeMap::new();
    for field in kind.fields {
        match fields.entry(field.name) {
            Some(entry) => {
                if let Some(term) = terms.read(entry, field.takes, findings) {
                    read.insert(field.name.to_owned(), term);
                }
            }
            None if field.needed => {
                let example = format!("{}: {}", field.name, example(field.takes));
                let of = format!("this {}", kind.word);
                findings.push(kinds::missing_key(&first.place, field.name, &of, &example));
            }
            None => {}
        }
    }
    check_ends(&fields, first, &terms, findings);
    Some(ElementSpec {
        kind: Placed {
            value: kind.word.to_owned(),
            place: first.place.clone(),
        },
        main: main?,
        fields: read,
    })
}

fn example(takes: Takes) -> String {
    match takes {
        Takes::Name | Takes::Place | Takes::PlaceOrChoice | Takes::ChoiceName => "NAME".into(),
        Takes::TwoPlaces => "[signal, ground]".into(),
        Takes::Value(Dimension::Ratio) => "$position".into(),
        Takes::Value(dimension) => dimension.example().into(),
        Takes::Limits(_) => "0.25 to 4.75 V".into(),
    }
}

/// A resistor stands between two places, or from one to another; a switch that needs power says how much.
fn check_ends(
    fields: &Fields<'_>,
    first: &Entry,
    terms: &TermReader<'_>,
    findings: &mut Vec<Finding>,
) {
    let has = |key: &str| fields.get(key).is_some();
    let mut missing = |key: &str, of: &str, example: &str| {
        findings.push(kinds::missing_key(&first.place, key, of, example));
    };
    match first.key.as_str() {
        "resistor" if !(has("between") || has("from") && has("to")) => {
            missing("between", "this resistor", "between: [signal, ground]");
        }
        "switch" if has("powered") && !has("needs") => {
            missing("needs", "this switch", "needs: 3.5 V");
        }
        _ => {}
    }
    if let Some(to) = fields.get("to")
        && matches!(to.kind, NodeKind::Map(_))
    {
        match fields.text("by", &mut Vec::new()) {
            None => missing("by", "this resistor", "by: NAME"),
            Some(by) => terms.check_choices(to, &by.value, findings),
        }
    }
}

/// Reads fields of elements; knows the parameters that `$name` may mean.
struct TermReader<'a> {
    parameters: &'a [ParameterSpec],
}

impl TermReader<'_> {
    fn read(
        &self,
        entry: &Entry,
        takes: Takes,
        findings: &mut Vec<Finding>,
    ) -> Option<Placed<Term>> {
        let (node, key) = (&entry.value, entry.key.as_str());
        let value = match (takes, &node.kind) {
            (Takes::TwoPlaces, _) => return two_places(node, key, findings),
            (Takes::PlaceOrChoice, NodeKind::Map(choices)) => {
                let choices = choices.iter().filter_map(|choice| {
                    let to = text(&choice.value, &choice.key, findings)?;
                    Some((choice.key.clone(), to.value))
                });
                Term::Choice(choices.collect())
            }
            (Takes::Value(_) | Takes::Limits(_), _) => {
                let typed = text(node, key, findings)?;
                match typed.value.strip_prefix('$') {
                    Some(name) => self.variable(&typed, name, key, takes, findings)?,
                    None => literal(&typed, takes, findings)?,
                }
            }
            (Takes::ChoiceName, _) => {
                let typed = text(node, key, findings)?;
                self.choice(&typed, findings)?;
                Term::Word(typed.value)
            }
            _ => Term::Word(text(node, key, findings)?.value),
        };
        Some(Placed {
            value,
            place: node.place.clone(),
        })
    }

    fn names(&self) -> Vec<&str> {
        let names = self.parameters.iter().map(|known| &known.name.value);
        names.map(String::as_str).collect()
    }

    fn find(&self, name: &str) -> Option<&ParameterSpec> {
        self.parameters
            .iter()
            .find(|known| known.name.value == name)
    }

    fn variable(
        &self,
        typed: &Placed<String>,
        name: &str,
        key: &str,
        takes: Takes,
        findings: &mut Vec<Finding>,
    ) -> Option<Term> {
        let Some(parameter) = self.find(name) else {
            findings.push(kinds::unknown_parameter(
                &typed.place,
                &typed.value,
                &self.names(),
            ));
            return None;
        };
        let (is, fits) = match (&parameter.kind, takes) {
            (ParameterKind::Choice { .. }, _) => ("a choice of words", false),
            (
                ParameterKind::Value { dimension, .. }
                | ParameterKind::FollowsSignal { dimension, .. },
                Takes::Value(wanted),
            )
            | (ParameterKind::Limits { dimension, .. }, Takes::Limits(wanted)) => {
                (dimension.name(), *dimension == wanted)
            }
            (ParameterKind::Limits { .. }, _) => ("a pair of limits", false),
            (_, _) => ("one value", false),
        };
        if !fits {
            let takes = match takes {
                Takes::Limits(_) => "a pair of limits",
                Takes::Value(dimension) => dimension.name(),
                _ => "a word",
            };
            findings.push(kinds::wrong_dimension(
                &typed.place,
                &typed.value,
                is,
                key,
                takes,
            ));
            return None;
        }
        Some(Term::Parameter(name.to_owned()))
    }

    fn choice(&self, typed: &Placed<String>, findings: &mut Vec<Finding>) -> Option<&[String]> {
        let name = typed.value.trim_start_matches('$');
        match self.find(name).map(|known| &known.kind) {
            Some(ParameterKind::Choice { choices, .. }) => Some(choices),
            Some(_) => {
                findings.push(kinds::wrong_dimension(
                    &typed.place,
                    name,
                    "a value",
                    "by",
                    "a choice of words",
                ));
                None
            }
            None => {
                findings.push(kinds::unknown_parameter(&typed.place, name, &self.names()));
                None
            }
        }
    }

    /// Every choice of the parameter has a place, and there is no other.
    fn check_choices(&self, to: &Node, by: &str, findings: &mut Vec<Finding>) {
        let (NodeKind::Map(entries), Some(parameter)) = (&to.kind, self.find(by)) else {
            return;
        };
        let ParameterKind::Choice { choices, .. } = &parameter.kind else {
            return;
        };
        let words: Vec<&str> = choices.iter().map(String::as_str).collect();
        for entry in entries
            .iter()
            .filter(|entry| !words.contains(&entry.key.as_str()))
        {
            findings.push(kinds::unknown_choice(&entry.place, &entry.key, by, &words));
        }
        for word in words
            .iter()
            .filter(|word| !entries.iter().any(|entry| entry.key == **word))
        {
            let example = format!("{word}: NAME");
            findings.push(kinds::missing_key(&to.place, word, "this `to`", &example));
        }
    }
}

fn literal(typed: &Placed<String>, takes: Takes, findings: &mut Vec<Finding>) -> Option<Term> {
    let (dimension, read) = match takes {
        Takes::Limits(dimension) => {
            measured(typed, findings, |text| read_interval(text, dimension))?;
            (dimension, read_toleranced(&typed.value, dimension).ok()?)
        }
        Takes::Value(dimension) => {
            let read = measured(typed, findings, |text| read_toleranced(text, dimension))?;
            (dimension, read.value)
        }
        _ => return None,
    };
    Some(Term::Value(read, dimension))
}

fn two_places(node: &Node, key: &str, findings: &mut Vec<Finding>) -> Option<Placed<Term>> {
    let ends = texts(node, key, findings);
    if ends.len() != 2 {
        let what = format!("`{key}`");
        let found = format!("{} of them", ends.len());
        let expected = "two places such as [signal, ground]";
        findings.push(kinds::wrong_shape(&node.place, &what, expected, &found));
        return None;
    }
    Some(Placed {
        value: Term::Words(ends.into_iter().map(|end| end.value).collect()),
        place: node.place.clone(),
    })
}
