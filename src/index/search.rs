//! The query answered: every need counted, pages that have all of them put in order, reasons told.

use super::answer::{Answer, Hit, Reason};
use super::entry::{Kind, pair};
use super::expand::{Found, Reach};
use super::fields::Field;
use super::fold::{Shape, Word, colour_letters, is_wire, words};
use super::names::Near;
use super::open::{Line, Search};
use super::query::{Asked, Need, is_empty, read_part};
use super::tally::{Counted, Tally};
use super::widen::Widened;
use super::wrong::Wrong;
use super::{values, years};

/// What a title that has nothing but what was asked for adds.
const WHOLE_TITLE: f64 = 0.3;
/// Ways of a need that are tried for pairs.
const WAYS: usize = 4;
/// What a wire counts that has both colours, beside two wires.
const STRIPE: f64 = 2.0;

impl Search {
    /// What a text finds. Nothing is found for a text without words, and nothing is lost. Words that say what is wrong
    /// with a part are left out, and told, where no card says them: they do not tell which circuit is meant. So is a
    /// last word that has only begun, where nothing has it.
    pub fn find(&mut self, query: &str) -> Answer {
        let mut tally = std::mem::take(&mut self.tally);
        let mut answer = self.found_by(query, &mut tally);
        if self.pages.before(Kind::Lesson) < self.pages.before(Kind::Calculator) {
            self.in_lessons = true;
            let (hits, totals) = self.lessons(query, &mut tally);
            self.in_lessons = false;
            answer.totals[Kind::Lesson as usize] = totals[Kind::Lesson as usize];
            // What a lesson says is said here.
            if let Some(lost) = answer.lost.as_mut().filter(|_| !hits.is_empty()) {
                lost.missing.clear();
            }
            answer.hits.extend(hits);
            answer.hits.sort_by_key(|hit| hit.kind);
        }
        self.tally = tally;
        answer
    }

    /// Lessons that have every word as it was typed, or another for the same.
    fn lessons(&self, query: &str, tally: &mut Tally) -> (Vec<Hit>, [usize; Kind::ALL.len()]) {
        let asked = self.asked(read_part(query));
        let needs = self.needs(&asked, Near::Whole);
        let meant = self.meant(&needs, Reach::Near);
        if needs.is_empty() || !self.count_together(&meant, tally) {
            return Default::default();
        }
        self.hits(&Counted::of(asked.query, &needs, &meant.finds, tally))
    }

    fn found_by(&self, query: &str, tally: &mut Tally) -> Answer {
        let asked = self.asked(read_part(query));
        let answer = self.answer(&asked, tally);
        let best = answer.hits.first().filter(|hit| hit.kind == Kind::Card);
        let mentions = |hit: &Hit| hit.why.iter().any(|reason| reason.field == Field::Body);
        if let Some(best) = best.filter(|best| !mentions(best)) {
            let other = self.without_phrases(&asked, best, tally);
            return other.unwrap_or(answer);
        }
        let is_nothing = answer.hits.is_empty();
        for (less, left_out) in asked.fewer(is_nothing, self) {
            let other = self.answer(&less, tally);
            let Some(better) = other.hits.first().filter(|hit| hit.kind == Kind::Card) else {
                continue;
            };
            // What is only mentioned somewhere must not hide the circuit that the other words name.
            if best.is_none_or(|best| best.id != better.id) {
                return Answer { left_out, ..other };
            }
        }
        if asked.is_wide || best.is_some() {
            return answer;
        }
        let is_wide = true;
        self.answer(&Asked { is_wide, ..asked }, tally)
    }

    /// What is found without phrases of several words for what is wrong, where that is another circuit: of `no reference`
    /// beside a part the pins of a third one would be found.
    fn without_phrases(&self, asked: &Asked<'_>, best: &Hit, tally: &mut Tally) -> Option<Answer> {
        let phrases = asked.wrongs.iter();
        let phrases = phrases.filter(|wrong| wrong.is_whole && wrong.long > 1);
        let phrases = phrases.filter(|wrong| !says(best, &asked.query[wrong.place.clone()]));
        let phrases: Vec<Wrong> = phrases.cloned().collect();
        if phrases.is_empty() {
            return None;
        }
        let (less, left_out) = asked.without(&phrases)?;
        let other = self.answer(&less, tally);
        let better = other.hits.first().filter(|hit| hit.kind == Kind::Card)?;
        (better.id != best.id).then_some(Answer { left_out, ..other })
    }

    fn answer(&self, asked: &Asked<'_>, tally: &mut Tally) -> Answer {
        let needs = self.needs(asked, Near::Whole);
        if needs.is_empty() {
            return Answer::default();
        }
        let Widened {
            needs,
            mut meant,
            is_found,
        } = self.widened(asked, needs, tally);
        let (mut hits, mut totals) = Default::default();
        if is_found {
            self.add_pairs(&needs, &mut meant.finds, tally);
            let counted = Counted::of(asked.query, &needs, &meant.finds, tally);
            (hits, totals) = self.hits(&counted);
        }
        // What is looked for again, wider, is not lost yet.
        let lost = (hits.is_empty() && asked.is_wide).then(|| {
            let with = self.count_each(&meant, tally);
            let counted = Counted::of(asked.query, &needs, &meant.finds, tally);
            self.lost(&counted, &with)
        });
        Answer {
            codes: self.codes_told(&needs, &hits),
            hits,
            totals,
            lost,
            left_out: Vec::new(),
        }
    }

    /// Words beside each other that belong to one pin count more, `black ground`, and two colours that one wire has.
    fn add_pairs(&self, needs: &[Need], finds: &mut Vec<Found>, tally: &mut Tally) {
        let column = &self.columns[Field::Pairs.at()];
        let single = |need: &Need| -> Vec<String> {
            let ways = need.ways.iter().filter(|way| way.words.len() == 1);
            ways.take(WAYS)
                .map(|way| way.words[0].text.clone())
                .collect()
        };
        for wire in stripes(needs) {
            self.add_stripe(wire, finds, tally);
        }
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

    /// A wire that has both colours that were asked for.
    fn add_stripe(&self, text: String, finds: &mut Vec<Found>, tally: &mut Tally) {
        let column = &self.columns[Field::Wires.at()];
        if let Ok(Some(term)) = column.terms.get(&text) {
            let found = Found {
                pages: f64::from(term.doc_freq),
                term,
                column: Field::Wires.at(),
                text,
                weight: STRIPE,
            };
            tally.add(column, &found);
            finds.push(found);
        }
    }

    /// The best pages that have every need, by kind; and of how many of each.
    fn hits(&self, counted: &Counted<'_>) -> (Vec<Hit>, [usize; Kind::ALL.len()]) {
        let all = counted.all();
        let mut vehicle = self.one_vehicle(all, counted);
        let mut best: [Vec<(f64, u32)>; Kind::ALL.len()] = Default::default();
        let mut totals = [0; Kind::ALL.len()];
        for page in counted.tally.pages.iter().copied() {
            let Some(kind) = self.pages.kind(page) else {
                continue;
            };
            if !counted.has(page, all) || (kind == Kind::Card && !vehicle.has(page)) {
                continue;
            }
            totals[kind as usize] += 1;
            let score = counted.tally.total(page) * self.title_worth(page, counted);
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
            Some(self.hit(counted, &line, (*score, *page)))
        };
        (best.iter().flatten().filter_map(hit).collect(), totals)
    }

    /// More than one where the page's title is what was asked for and little else.
    fn title_worth(&self, page: u32, counted: &Counted<'_>) -> f64 {
        let title = Field::Title.at();
        let by = (0..counted.needs.len()).filter_map(|need| counted.by(need, page));
        let in_title = by.filter(|found| found.column == title).count();
        let lengths = self.columns[Field::Title.at()].lengths.as_ref();
        let long = lengths.map_or(1, |lengths| lengths.of_page(page));
        let in_title = u32::try_from(in_title).unwrap_or_default();
        1.0 + WHOLE_TITLE * (f64::from(in_title) / f64::from(long.max(1))).min(1.0)
    }

    fn hit(&self, counted: &Counted<'_>, line: &Line<'_>, (score, page): (f64, u32)) -> Hit {
        let under = line.shown();
        let mut why: Vec<Reason> = Vec::new();
        let mut marked: Vec<&str> = Vec::new();
        for (at, need) in counted.needs.iter().enumerate() {
            let Some(found) = counted.by(at, page) else {
                continue;
            };
            let field = self.columns[found.column].field;
            if field == Field::Title {
                marked.push(&found.text);
                continue;
            }
            let text = shown(counted.typed(need), need, field, &found.text);
            match why.iter_mut().find(|reason| reason.field == field) {
                // `wire wire` says nothing, nor does what is read in the line below.
                _ if text == field.label() => {}
                _ if field == Field::Body && under.to_ascii_lowercase().contains(&text) => {}
                Some(reason) if reason.text.split(' ').any(|own| own == text) => {}
                Some(reason) => {
                    // One code that says two words is named once.
                    let code = reason
                        .text
                        .split(' ')
                        .next()
                        .filter(|_| field == Field::Codes);
                    let own = code.and_then(|code| text.strip_prefix(code));
                    reason.text = format!("{} {}", reason.text, own.unwrap_or(&text).trim_start());
                }
                None => why.push(Reason { field, text }),
            }
        }
        Hit {
            kind: line.kind,
            id: line.id.to_owned(),
            title: parts(line.title, &marked),
            address: self.pages.address(line),
            line: under,
            score,
            why,
        }
    }
}

/// Whether a hit's title, other names or meanings of its codes say all of a phrase.
fn says(hit: &Hit, phrase: &str) -> bool {
    let own = hit.why.iter();
    let own = own.filter(|reason| matches!(reason.field, Field::Names | Field::Codes));
    let own: Vec<&str> = own.map(|reason| reason.text.as_str()).collect();
    let own = words(&[hit.whole_title(), own.join(" ")].join(" "));
    let mut phrase = words(phrase);
    phrase.retain(|word| !is_empty(&word.typed));
    let has = |word: &Word| own.iter().any(|own| own.text == word.text);
    phrase.iter().all(has)
}

/// Wires of a colour with a stripe, where what was typed may also be two wires: `black blue`, `gn wh`.
fn stripes(needs: &[Need]) -> Vec<String> {
    let only = |need: &Need| match need.ways.first()?.words.as_slice() {
        [only] => Some((only.start.clone(), only.shape)),
        _ => None,
    };
    let letters = |need: &Need| colour_letters(&only(need)?.0);
    let two = |two: &[Need]| Some(letters(&two[0])? + &letters(&two[1])?);
    let apart = needs.iter().filter(|need| need.ways.len() > 1);
    let apart = apart
        .filter_map(only)
        .filter(|(_, shape)| *shape == Shape::Wire);
    let apart = apart.map(|(text, _)| text);
    needs.windows(2).filter_map(two).chain(apart).collect()
}

/// A word found as a reader knows it: values as typed, codes and colour letters large.
fn shown(typed: &str, need: &Need, field: Field, text: &str) -> String {
    let letters = is_wire(text) || (field == Field::Wires && text.len() == 2);
    let is_value = need
        .ways
        .iter()
        .any(|way| way.words[0].shape == Shape::Value);
    let lent = need.ways[0].words[0].shape == Shape::Plain;
    let is_range = text.len() == 8 && years::held(text).is_some();
    match field {
        _ if is_value => typed.trim().to_owned(),
        // `3` alone found a value: which one.
        Field::Values => values::shown(text),
        Field::Codes if lent => format!("{} {}", text.to_uppercase(), typed),
        Field::Codes => text.to_uppercase(),
        _ if is_range => years::shown(text),
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
