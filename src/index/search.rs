//! The query answered: every need counted, pages that have all of them put in order, reasons told.

use super::answer::{Answer, Hit, Reason};
use super::entry::{Kind, pair};
use super::expand::{Found, Reach};
use super::fields::Field;
use super::fold::{Shape, is_wire, words};
use super::open::{Line, Search};
use super::query::{Need, read_part};
use super::tally::Tally;

/// What a title that has nothing but what was asked for adds.
const WHOLE_TITLE: f64 = 0.3;
/// Ways of a need that are tried for pairs.
const WAYS: usize = 4;

impl Search {
    /// What a text finds. Nothing is found for a text without words, and nothing is lost.
    pub fn find(&mut self, query: &str) -> Answer {
        let query = read_part(query);
        let needs = self.needs(query);
        if needs.is_empty() {
            return Answer::default();
        }
        let mut tally = std::mem::take(&mut self.tally);
        let mut meant = self.meant(&needs, Reach::Near);
        let mut is_found = self.count_together(&meant, &mut tally);
        if !is_found {
            meant = self.meant(&needs, Reach::Far);
            is_found = self.count_together(&meant, &mut tally);
        }
        let (mut hits, mut lost) = (Vec::new(), None);
        if is_found {
            self.add_pairs(&needs, &mut meant.finds, &mut tally);
            hits = self.hits(query, &needs, &meant.finds, &tally);
        } else {
            let with = self.count_each(&meant, &mut tally);
            lost = Some(self.lost(query, &needs, &with, &tally));
        }
        self.tally = tally;
        Answer {
            code: self.code_without_page(&needs, &hits),
            hits,
            lost,
        }
    }

    /// Words beside each other that belong to one pin count more: `black ground`.
    fn add_pairs(&self, needs: &[Need], finds: &mut Vec<Found>, tally: &mut Tally) {
        let column = &self.columns[Field::Pairs.at()];
        let single = |need: &Need| -> Vec<String> {
            let ways = need.ways.iter().filter(|way| way.words.len() == 1);
            ways.take(WAYS)
                .map(|way| way.words[0].text.clone())
                .collect()
        };
        for two in needs.windows(2) {
            for one in single(&two[0]) {
                for other in single(&two[1]) {
                    let text = pair(&one, &other);
                    if let Ok(Some(term)) = column.terms.get(&text) {
                        let found = Found {
                            pages: f64::from(term.doc_freq),
                            term,
                            column: Field::Pairs.at(),
                            text,
                            weight: 1.0,
                        };
                        tally.add(column, &found);
                        finds.push(found);
                    }
                }
            }
        }
    }

    /// The best pages that have every need, by kind.
    fn hits(&self, query: &str, needs: &[Need], finds: &[Found], tally: &Tally) -> Vec<Hit> {
        let all = all(needs);
        let mut best: [Vec<(f64, u32)>; Kind::ALL.len()] = Default::default();
        for page in tally.pages.iter().copied() {
            let Some(kind) = self.pages.kind(page) else {
                continue;
            };
            if tally.has[page as usize] != all {
                continue;
            }
            let score = tally.total(page) * self.title_worth(page, needs, finds, tally);
            let own = &mut best[kind as usize];
            let place = own.partition_point(|(other, earlier)| {
                *other > score || (*other == score && *earlier < page)
            });
            if place < kind.most() {
                own.insert(place, (score, page));
                own.truncate(kind.most());
            }
        }
        let hit = |(score, page): &(f64, u32)| {
            let line = self.pages.line(*page)?;
            Some(self.hit(query, needs, finds, tally, &line, (*score, *page)))
        };
        best.iter().flatten().filter_map(hit).collect()
    }

    /// More than one where the page's title is what was asked for and little else.
    fn title_worth(&self, page: u32, needs: &[Need], finds: &[Found], tally: &Tally) -> f64 {
        let in_title = (0..needs.len())
            .filter(|need| in_title(finds, tally.by(*need, page)))
            .count();
        let lengths = self.columns[Field::Title.at()].lengths.as_ref();
        let long = lengths.map_or(1, |lengths| lengths.of_page(page));
        let in_title = u32::try_from(in_title).unwrap_or_default();
        1.0 + WHOLE_TITLE * (f64::from(in_title) / f64::from(long.max(1))).min(1.0)
    }

    fn hit(
        &self,
        query: &str,
        needs: &[Need],
        finds: &[Found],
        tally: &Tally,
        line: &Line<'_>,
        (score, page): (f64, u32),
    ) -> Hit {
        let mut why: Vec<Reason> = Vec::new();
        let mut marked: Vec<&str> = Vec::new();
        for (at, need) in needs.iter().enumerate() {
            let Some(found) = finds.get(tally.by(at, page) as usize) else {
                continue;
            };
            let field = self.columns[found.column].field;
            if field == Field::Title {
                marked.push(&found.text);
                continue;
            }
            let text = shown(query, need, field, &found.text);
            match why.iter_mut().find(|reason| reason.field == field) {
                // `wire wire` says nothing, nor does what is read in the line below.
                _ if text == field.label() => {}
                _ if field == Field::Body && line.line.to_ascii_lowercase().contains(&text) => {}
                Some(reason) if reason.text.split(' ').any(|own| own == text) => {}
                Some(reason) => reason.text = format!("{} {text}", reason.text),
                None => why.push(Reason { field, text }),
            }
        }
        Hit {
            kind: line.kind,
            id: line.id.to_owned(),
            title: parts(line.title, &marked),
            address: line.address.to_owned(),
            line: line.line.to_owned(),
            score,
            why,
        }
    }
}

/// All needs' bits.
pub(super) fn all(needs: &[Need]) -> u16 {
    u16::MAX >> (16 - needs.len().clamp(1, 16))
}

fn in_title(finds: &[Found], by: u32) -> bool {
    finds
        .get(by as usize)
        .is_some_and(|found| found.column == Field::Title.at())
}

/// A word found as a reader knows it: values as typed, codes and colour letters large.
fn shown(query: &str, need: &Need, field: Field, text: &str) -> String {
    let letters = is_wire(text) || (field == Field::Wires && text.len() == 2);
    let is_value = need
        .ways
        .iter()
        .any(|way| way.words[0].shape == Shape::Value);
    match field {
        _ if is_value => query[need.typed.clone()].trim().to_owned(),
        Field::Values => query[need.typed.clone()].trim().to_owned(),
        Field::Codes => text.to_uppercase(),
        _ if letters => text.to_uppercase(),
        _ => text.to_owned(),
    }
}

/// A title cut where marked words begin and end.
fn parts(title: &str, marked: &[&str]) -> Vec<(String, bool)> {
    let mut parts = Vec::new();
    let mut place = 0;
    for word in words(title) {
        let own = marked.contains(&word.text.as_str()) || marked.contains(&word.typed.as_str());
        if own && word.from >= place {
            if word.from > place {
                parts.push((title[place..word.from].to_owned(), false));
            }
            parts.push((title[word.from..word.to].to_owned(), true));
            place = word.to;
        }
    }
    if place < title.len() {
        parts.push((title[place..].to_owned(), false));
    }
    parts
}

/// The code a word names: itself, or four digits behind the letter of most codes.
pub(super) fn code_of(text: &str, shape: Shape) -> Option<String> {
    let digits = text.len() == 4 && text.bytes().all(|byte| byte.is_ascii_hexdigit());
    match shape {
        Shape::Code => Some(text.to_uppercase()),
        Shape::Number if digits && text < "4" => Some(format!("P{}", text.to_uppercase())),
        _ => None,
    }
}
