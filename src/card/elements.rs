//! The kinds of element a circuit is written with: one table, walked by the reader, the reference
//! page and the tests.
//!
//! Knows which fields an element has and what each takes; never their values.

use crate::quantity::Dimension;

/// What a field of an element takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    /// A name that is no place.
    Name,
    /// A place: a role, a node of its own.
    Place,
    /// A place, or one a choice by a parameter.
    PlaceOrChoice,
    /// Two places.
    TwoPlaces,
    /// The name of a parameter that is a choice.
    ChoiceName,
    /// A value with tolerance, or `$name` of one.
    Value(Dimension),
    /// Two limits, or `$name` of such.
    Limits(Dimension),
}

/// A field of an element.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FieldSpec {
    /// Its key.
    pub name: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// Whether the element means nothing without it.
    pub needed: bool,
}

/// A kind of element as families write it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ElementKindSpec {
    /// The word its first key is.
    pub word: &'static str,
    /// What stands after that word.
    pub main: Takes,
    /// The other fields.
    pub fields: &'static [FieldSpec],
}

const fn needs(name: &'static str, takes: Takes) -> FieldSpec {
    FieldSpec {
        name,
        takes,
        needed: true,
    }
}

const fn may(name: &'static str, takes: Takes) -> FieldSpec {
    FieldSpec {
        name,
        takes,
        needed: false,
    }
}

const OHMS: Takes = Takes::Value(Dimension::Resistance);
const VOLTS: Takes = Takes::Value(Dimension::Voltage);
const AMPS: Takes = Takes::Value(Dimension::Current);

/// Every kind of element.
pub static ELEMENT_KINDS: &[ElementKindSpec] = &[
    ElementKindSpec {
        word: "resistor",
        main: OHMS,
        fields: &[
            may("name", Takes::Name),
            may("between", Takes::TwoPlaces),
            may("from", Takes::Place),
            may("to", Takes::PlaceOrChoice),
            may("by", Takes::ChoiceName),
        ],
    },
    ElementKindSpec {
        word: "regulator",
        main: Takes::Name,
        fields: &[
            may("feeds", Takes::Place),
            needs("volts", VOLTS),
            needs("series", OHMS),
            needs("limit", AMPS),
        ],
    },
    ElementKindSpec {
        word: "source",
        main: Takes::Name,
        fields: &[
            needs("plus", Takes::Place),
            needs("minus", Takes::Place),
            needs("volts", VOLTS),
            needs("series", OHMS),
        ],
    },
    ElementKindSpec {
        word: "sink",
        main: AMPS,
        fields: &[
            may("name", Takes::Name),
            needs("from", Takes::Place),
            needs("to", Takes::Place),
            needs("compliance", VOLTS),
        ],
    },
    ElementKindSpec {
        word: "diode",
        main: Takes::Name,
        fields: &[
            needs("anode", Takes::Place),
            needs("cathode", Takes::Place),
            needs("forward", VOLTS),
            needs("series", OHMS),
        ],
    },
    ElementKindSpec {
        word: "switch",
        main: Takes::Name,
        fields: &[
            needs("between", Takes::TwoPlaces),
            needs("closed", OHMS),
            may("powered", Takes::TwoPlaces),
            may("needs", VOLTS),
        ],
    },
    ElementKindSpec {
        word: "potentiometer",
        main: OHMS,
        fields: &[
            may("name", Takes::Name),
            needs("ends", Takes::TwoPlaces),
            needs("slider", Takes::Place),
            needs("at", Takes::Value(Dimension::Ratio)),
        ],
    },
    ElementKindSpec {
        word: "input",
        main: Takes::Place,
        fields: &[
            may("against", Takes::Place),
            needs("series", OHMS),
            may("valid", Takes::Limits(Dimension::Voltage)),
            may("full", VOLTS),
        ],
    },
    ElementKindSpec {
        word: "tied",
        main: Takes::Place,
        fields: &[],
    },
];
