//! Why a query found nothing: words that no page has with the nearest ones, or words that no page has
//! together; and a code without a page.

use super::answer::{Apart, Hit, Lost, Missing, Told};
use super::entry::{Kind, UNNAMED};
use super::fields::Field;
use super::fold::Shape;
use super::open::Search;
use super::query::{Need, Sought};
use super::search::code_of;
use super::slips::Slips;
use super::tally::Counted;
use super::years::held;
use crate::card::{code_system, is_code};
use std::collections::BTreeMap;

/// Near words told, and words that could be left out.
const TOLD: usize = 3;
/// Letters of each of two words that were typed as one.
const PART: usize = 3;
/// Slips within which a word is near.
const NEAR: u8 = 2;

/// Which of so many words could be left out: each where all are known, else the only one that is not.
fn could_go(words: usize, unknown: &[usize]) -> Vec<usize> {
    match unknown {
        _ if words < 2 => Vec::new(),
        [] => (0..words).collect(),
        [one] => vec![*one],
        _ => Vec::new(),
    }
}

impl Search {
    /// Why nothing was found, of how many pages have each need.
    pub(super) fn lost(&self, counted: &Counted<'_>, with: &[usize]) -> Lost {
        let needs = counted.needs;
        let without = needs.iter().zip(with).filter(|(_, with)| **with == 0);
        let missing: Vec<Missing> = without
            .map(|(need, _)| Missing {
                word: counted.typed(need).to_owned(),
                near: need
                    .ways
                    .first()
                    .filter(|_| !is_year(need, needs))
                    .map_or_else(Vec::new, |way| self.nearest(&way.words)),
            })
            .collect();
        let unknown: Vec<usize> = (0..needs.len()).filter(|at| with[*at] == 0).collect();
        let mut apart: Vec<Apart> = could_go(needs.len(), &unknown)
            .into_iter()
            .filter_map(|at| self.apart(counted, counted.all() & !(1 << at)))
            .collect();
        if apart.is_empty() {
            let most = self.most(counted).into_iter();
            apart.extend(most.filter_map(|left| self.apart(counted, left)));
        }
        apart.sort_unstable_by(|a, b| (b.cards, &a.without).cmp(&(a.cards, &b.without)));
        apart.truncate(TOLD);
        Lost { missing, apart }
    }

    /// What would be found with these needs alone.
    fn apart(&self, counted: &Counted<'_>, left: u16) -> Option<Apart> {
        let mut vehicle = self.one_vehicle(left, counted);
        let has = |page: &&u32| {
            counted.has(**page, left)
                && self.pages.kind(**page) == Some(Kind::Card)
                && vehicle.has(**page)
        };
        let cards = counted.tally.pages.iter().filter(has).count();
        let (mut kept, mut without) = (Vec::new(), Vec::new());
        for (at, need) in counted.needs.iter().enumerate() {
            let side = match left >> at & 1 {
                1 => &mut kept,
                _ => &mut without,
            };
            side.push(counted.typed(need).to_owned());
        }
        (cards > 0).then_some(Apart {
            without,
            left: kept,
            cards,
        })
    }

    /// The most needs that a card has, in each way that there is.
    fn most(&self, counted: &Counted<'_>) -> Vec<u16> {
        let mut most: Vec<u16> = Vec::new();
        for page in &counted.tally.pages {
            let has = counted.tally.has[*page as usize];
            let before = most.first().map_or(0, |most| most.count_ones());
            let is_card = self.pages.kind(*page) == Some(Kind::Card);
            if !is_card || has == counted.all() || has.count_ones() < before {
                continue;
            }
            if has.count_ones() > before {
                most.clear();
            }
            if !most.contains(&has) {
                most.push(has);
            }
        }
        most
    }

    /// The words of pages that are nearest to these.
    fn nearest(&self, sought: &[Sought]) -> Vec<String> {
        let [sought] = sought else {
            return Vec::new();
        };
        let mut near: BTreeMap<String, (usize, u32)> = BTreeMap::new();
        if let Some(code) = code_meant(&sought.text).filter(|code| self.means(code)) {
            return vec![code];
        }
        if code_of(&sought.text, sought.shape).is_some() {
            self.near_codes(sought, &mut near);
        } else if sought.shape == Shape::Plain && sought.text.chars().count() >= 3 {
            self.near_words(&sought.text, &mut near);
            if let Some(two) = self.two_words(&sought.text) {
                near.insert(two, (0, 0));
            }
        }
        let mut near: Vec<(String, (usize, u32))> = near.into_iter().collect();
        near.sort_unstable_by(|(a, (slips, pages)), (b, (other_slips, other_pages))| {
            (slips, other_pages, a).cmp(&(other_slips, pages, b))
        });
        near.truncate(TOLD);
        near.into_iter().map(|(text, _)| text).collect()
    }

    /// Two words of pages that were typed as one: `slackrope`.
    fn two_words(&self, text: &str) -> Option<String> {
        let mut ends = text.char_indices().map(|(end, _)| text.split_at(end));
        let is_word = |part: &str| part.chars().count() >= PART && self.has_word(part);
        let two = ends.find(|(one, other)| is_word(one) && is_word(other));
        two.map(|(one, other)| format!("{one} {other}"))
    }

    fn near_words(&self, text: &str, near: &mut BTreeMap<String, (usize, u32)>) {
        let slips = Slips::of(text, NEAR);
        for (_, column) in self.searched() {
            if matches!(column.field, Field::Pairs | Field::Codes | Field::Values) {
                continue;
            }
            let Ok(mut stream) = column.terms.search(&slips).into_stream() else {
                continue;
            };
            while let Some((key, term)) = stream.next() {
                let Ok(found) = std::str::from_utf8(key) else {
                    continue;
                };
                let slips = strsim::osa_distance(text, found);
                if slips * 2 <= text.chars().count() {
                    let known = near.entry(found.to_owned()).or_insert((slips, 0));
                    known.1 += term.doc_freq;
                }
            }
        }
    }

    /// Codes that differ in the last digit alone.
    fn near_codes(&self, sought: &Sought, near: &mut BTreeMap<String, (usize, u32)>) {
        let Some(code) = code_of(&sought.text, sought.shape) else {
            return;
        };
        let start = code.to_lowercase()[..4].to_owned();
        let end = format!("{start}\u{10ffff}");
        let terms = &self.columns[Field::Codes.at()].terms;
        let Ok(mut stream) = terms.range().ge(&start).lt(&end).into_stream() else {
            return;
        };
        while let Some((key, term)) = stream.next() {
            if let Ok(text) = std::str::from_utf8(key) {
                near.insert(text.to_uppercase(), (1, term.doc_freq));
            }
        }
    }

    /// Codes asked for that have no page, and where nothing was found those with one.
    pub(super) fn codes_told(&self, needs: &[Need], hits: &[Hit]) -> Vec<Told> {
        let words = needs.iter().filter(|need| !is_year(need, needs));
        let words = words.filter_map(|need| need.ways.first());
        let mut told: Vec<Told> = Vec::new();
        for word in words.flat_map(|way| &way.words) {
            let Some(code) = code_of(&word.text, word.shape) else {
                continue;
            };
            // Digits alone are any code that has them.
            let letters = match word.shape {
                Shape::Number => "PCBU",
                _ => &code[..1],
            };
            let codes = letters
                .chars()
                .map(|letter| format!("{letter}{}", &code[1..]));
            let known: Vec<Told> = codes.filter_map(|code| self.code_of_page(code)).collect();
            if known.is_empty() {
                let says = self.meaning(&code).map(str::to_owned);
                let is_named = false;
                // Digits that a card has by other means are told as a code only where one is known and nothing else was asked.
                let is_other = hits.iter().any(|hit| hit.kind == Kind::Card);
                if !is_other || (says.is_some() && needs.len() == 1) {
                    told.push(Told {
                        code,
                        says,
                        is_named,
                    });
                }
            } else if hits.is_empty() {
                told.extend(known);
            }
        }
        told
    }

    /// A code that has a page, by what stands there.
    fn code_of_page(&self, code: String) -> Option<Told> {
        let column = &self.columns[Field::Codes.at()];
        let term = column.terms.get(code.to_lowercase()).ok()??;
        let mut own = None;
        column.pages(&term, |page| {
            own = own.or((self.pages.kind(page) == Some(Kind::Code)).then_some(page));
        });
        let line = self.pages.line(own?)?.shown();
        let says = line.strip_suffix(UNNAMED);
        let is_named = says.is_none();
        let says = says.unwrap_or(&line);
        let says = (says != code_system(&code)).then(|| says.to_owned());
        Some(Told {
            code,
            says,
            is_named,
        })
    }

    /// The standard meaning of a code that has no page.
    fn meaning(&self, code: &str) -> Option<&str> {
        let mut lines = std::str::from_utf8(&self.codes).ok()?.lines();
        let own = lines.find(|line| line.split('\t').next() == Some(code))?;
        own.split_once('\t').map(|(_, says)| says)
    }

    /// Whether a code has a page or a meaning here.
    fn means(&self, code: &str) -> bool {
        let known = &self.columns[Field::Codes.at()].terms;
        matches!(known.get(code.to_lowercase()), Ok(Some(_))) || self.meaning(code).is_some()
    }
}

/// Whether digits are the year of a vehicle, and no code without its letter: they stand beside other words.
fn is_year(need: &Need, needs: &[Need]) -> bool {
    let word = need.ways.first().and_then(|way| way.words.first());
    needs.len() > 1 && word.is_some_and(|word| held(&word.text).is_some())
}

/// The code that was meant by letters and digits that are none: `p405`, `po405`, `405`. It is offered, never taken.
fn code_meant(text: &str) -> Option<String> {
    let (system, digits) = match text.chars().next()? {
        letter if "pcbu".contains(letter) => text.split_at(1),
        letter if letter.is_ascii_digit() && text.len() == 3 => ("p", text),
        _ => return None,
    };
    let digits = digits.chars().map(|letter| match letter {
        'o' => '0',
        'i' | 'l' => '1',
        other => other,
    });
    let digits: String = digits.collect();
    let zero = if digits.len() == 3 { "0" } else { "" };
    let code = format!("{system}{zero}{digits}").to_uppercase();
    (is_code(&code) && !code.eq_ignore_ascii_case(text)).then_some(code)
}
