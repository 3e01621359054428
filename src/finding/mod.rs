//! Findings: one problem in a deck each, as data. Places, text, hint; never printed here.
//!
//! A finding is made only by the named constructors in [`kinds`].

pub mod kinds;
mod nearest;

pub use kinds::Kind;
pub use nearest::nearest;

/// How much a finding matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The deck can't be published.
    Error,
    /// It can, but a reader would be misled.
    Warning,
    /// It could be better.
    Advice,
}

/// Where in a deck: a file (deck-relative, `/` between folders) and a span of it.
/// `line` and `column` count from 1 (column in characters); `line == 0` means the file as a whole.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// Deck-relative path.
    pub file: String,
    /// Line from 1, or 0 for the whole file.
    pub line: usize,
    /// Column from 1, in characters.
    pub column: usize,
    /// Characters underlined, at least 1 where `line > 0`.
    pub length: usize,
}

impl Place {
    /// A file as a whole.
    pub fn whole_file(file: &str) -> Place {
        Place {
            file: file.to_owned(),
            line: 0,
            column: 0,
            length: 0,
        }
    }
}

/// One problem: place, what was found, what was expected, what to do.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Which kind, from the table.
    pub kind: &'static Kind,
    /// Where.
    pub place: Place,
    /// Lower case, no full stop; quotes the author's own text; says what was expected.
    pub message: String,
    /// One thing to do, with the corrected text where known.
    pub hint: Option<String>,
    /// Other places that explain it, each with a few words.
    pub related: Vec<(Place, String)>,
}

impl Finding {
    fn new(kind: &'static Kind, place: &Place, message: String) -> Finding {
        Finding {
            kind,
            place: place.clone(),
            message,
            hint: None,
            related: Vec::new(),
        }
    }

    fn hint(self, hint: impl Into<Option<String>>) -> Finding {
        Finding {
            hint: hint.into(),
            ..self
        }
    }

    fn beside(mut self, place: &Place, says: &str) -> Finding {
        self.related.push((place.clone(), says.to_owned()));
        self
    }
}

/// Sorts findings by place, then by kind, so that two runs list them alike.
pub fn sort(findings: &mut [Finding]) {
    findings.sort_by(|a, b| {
        (&a.place, a.kind.code, &a.message).cmp(&(&b.place, b.kind.code, &b.message))
    });
}
