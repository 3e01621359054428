//! The report of a search: cards first, other pages by kind, or why nothing was found.

use crate::card::code_about;
use crate::index::{Answer, Apart, Hit, Kind, Missing, Reason, Told};
use serde::Serialize;

/// The answer of `find`.
#[derive(Debug, Serialize)]
pub struct FindReport<'a> {
    /// The best cards.
    hits: Vec<HitReport<'a>>,
    /// Of how many cards that have every word.
    total: usize,
    others: Vec<GroupReport<'a>>,
    missing: Vec<MissingReport<'a>>,
    apart: Vec<ApartReport>,
    /// Codes that were asked for, those without a page and where nothing was found all.
    codes: Vec<CodeReport<'a>>,
    /// Words that say what is wrong and that no card has beside the others.
    left_out: &'a [String],
    /// That they were left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    without: Option<String>,
    /// Why nothing was found, where no single word is the reason.
    none: Option<&'static str>,
}

/// A page found.
#[derive(Debug, Serialize)]
struct HitReport<'a> {
    /// A card's id; other pages have none.
    #[serde(skip_serializing_if = "Option::is_none")]
    card: Option<&'a str>,
    title: String,
    address: &'a str,
    /// In thousandths, so that a phone needs no table to write fractions.
    score: u64,
    line: &'a str,
    /// The title in parts, each with whether it was asked for.
    parts: &'a [(String, bool)],
    why: Vec<String>,
}

/// Pages of a kind other than cards.
#[derive(Debug, Serialize)]
struct GroupReport<'a> {
    kind: &'static str,
    hits: Vec<HitReport<'a>>,
    total: usize,
}

/// A word that no page has.
#[derive(Debug, Serialize)]
struct MissingReport<'a> {
    word: &'a str,
    near: &'a [String],
}

/// What would be found without a word.
#[derive(Debug, Serialize)]
struct ApartReport {
    without: String,
    /// What to ask instead.
    left: String,
    says: String,
    cards: usize,
}

#[derive(Debug, Serialize)]
struct CodeReport<'a> {
    code: &'a str,
    /// Its meaning in the standard; null where none is known here.
    says: Option<&'a str>,
    about: String,
    /// Whether a circuit of this deck names it.
    is_named: bool,
}

impl<'a> FindReport<'a> {
    /// What terminal and page say of words that were left out.
    pub fn without(answer: &Answer) -> Option<String> {
        let words = answer.left_out.iter();
        let words: Vec<String> = words.map(|word| format!("`{word}`")).collect();
        let told = match words.as_slice() {
            [] => return None,
            [one] => one.clone(),
            [most @ .., last] => format!("{} and {last}", most.join(", ")),
        };
        Some(format!(
            "Found without {told}: what fits best does not say it."
        ))
    }

    /// What was found.
    pub fn of(answer: &'a Answer) -> Self {
        let of_kind = |kind: Kind| answer.hits.iter().filter(move |hit| hit.kind == kind);
        let group = |kind: Kind| GroupReport {
            kind: kind.heading(),
            hits: of_kind(kind).map(page).collect(),
            total: answer.totals[kind as usize],
        };
        let others = Kind::ALL.into_iter().filter(|kind| *kind != Kind::Card);
        let lost = answer.lost.iter();
        let missing = |one: &'a Missing| MissingReport {
            word: &one.word,
            near: &one.near,
        };
        let apart = |one: &Apart| ApartReport {
            without: one.without.join(" "),
            left: one.left.join(" "),
            says: match one.without.as_slice() {
                [one] => format!("Without {one}"),
                _ => format!("Only {}", one.left.join(" ")),
            },
            cards: one.cards,
        };
        Self {
            hits: of_kind(Kind::Card).map(page).collect(),
            total: answer.totals[Kind::Card as usize],
            others: others
                .map(group)
                .filter(|group| !group.hits.is_empty())
                .collect(),
            missing: lost
                .clone()
                .flat_map(|lost| &lost.missing)
                .map(missing)
                .collect(),
            apart: lost.flat_map(|lost| &lost.apart).map(apart).collect(),
            codes: answer.codes.iter().map(code).collect(),
            left_out: &answer.left_out,
            without: Self::without(answer),
            none: none(answer),
        }
    }
}

/// What is said where nothing was found and no word is told that nothing has.
fn none(answer: &Answer) -> Option<&'static str> {
    match &answer.lost {
        _ if !answer.hits.is_empty() => None,
        None => Some("Type a word, a code, a wire colour or a value to look for."),
        Some(lost) if lost.missing.is_empty() => Some("No page has all of these words."),
        Some(_) => None,
    }
}

fn code(told: &Told) -> CodeReport<'_> {
    CodeReport {
        code: &told.code,
        says: told.says.as_deref(),
        about: code_about(&told.code),
        is_named: told.is_named,
    }
}

fn page(hit: &Hit) -> HitReport<'_> {
    HitReport {
        card: (hit.kind == Kind::Card).then_some(hit.id.as_str()),
        title: hit.whole_title(),
        address: &hit.address,
        score: (hit.score * 1000.0) as u64,
        line: &hit.line,
        parts: &hit.title,
        why: hit.why.iter().map(Reason::words).collect(),
    }
}
