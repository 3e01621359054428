//! Words a slip or two away: an automaton that walks a dictionary beside the letters of a word.
//!
//! In: a word and how many slips it may have: a letter too many, too few, another, or two swapped. Out: which words of
//! a dictionary those are; none with a digit among them, which is no slip. It keeps the row of the table of distances
//! in hand, only as wide as slips allow, so that nothing is made ready before the first letter. Never: what a slip
//! counts.

use tantivy_fst::Automaton;

/// Slips at most.
const MOST: usize = 2;
/// Columns of a row that can still be within them.
const WIDE: usize = 2 * MOST + 1;

/// A word and its slips.
pub(super) struct Slips {
    letters: Vec<u32>,
    most: u8,
    /// Whether a word may go on.
    goes_on: bool,
}

/// Where a walk stands: the last two rows of the table of distances.
#[derive(Clone)]
pub(super) struct Walk {
    /// Distances of what was walked from the word's starts that are `MOST` shorter to `MOST` longer than it.
    row: [u8; WIDE],
    before: [u8; WIDE],
    /// Letters walked, and the last of them.
    long: usize,
    last: u32,
    /// A letter of several bytes, and how many are to come.
    letter: u32,
    left: u32,
    /// What was walked is a start of a word that may go on.
    is_start: bool,
}

impl Slips {
    /// Words at most so many slips away.
    pub(super) fn of(word: &str, most: u8) -> Self {
        Self {
            letters: word.chars().map(u32::from).collect(),
            most: most.min(MOST as u8),
            goes_on: false,
        }
    }

    /// Words that go on from one at most so many slips away.
    pub(super) fn going_on(word: &str, most: u8) -> Self {
        Self {
            goes_on: true,
            ..Self::of(word, most)
        }
    }

    /// The row behind one more letter.
    fn step(&self, walk: &Walk, letter: u32) -> Walk {
        let long = walk.long + 1;
        let mut row = [u8::MAX; WIDE];
        for place in 0..WIDE {
            let Some(of) = (long + place).checked_sub(MOST) else {
                continue;
            };
            let Some(own) = of.checked_sub(1) else {
                row[place] = u8::try_from(long).unwrap_or(u8::MAX);
                continue;
            };
            let Some(wanted) = self.letters.get(own) else {
                break;
            };
            let mut least = walk.row[place].saturating_add(u8::from(*wanted != letter));
            let mut other = |distance: u8| least = least.min(distance.saturating_add(1));
            if place > 0 {
                other(row[place - 1]);
            }
            if place + 1 < WIDE {
                other(walk.row[place + 1]);
            }
            if own > 0 && *wanted == walk.last && self.letters[own - 1] == letter {
                other(walk.before[place]);
            }
            row[place] = least;
        }
        let mut next = Walk {
            row,
            before: walk.row,
            long,
            last: letter,
            ..walk.clone()
        };
        next.is_start |= self.goes_on && self.is_near(&next);
        next
    }

    /// Whether what was walked is near enough to the whole word.
    fn is_near(&self, walk: &Walk) -> bool {
        let place = (self.letters.len() + MOST).checked_sub(walk.long);
        let distance = place.and_then(|place| walk.row.get(place));
        walk.left == 0 && distance.is_some_and(|distance| *distance <= self.most)
    }
}

impl Automaton for Slips {
    type State = Walk;

    fn start(&self) -> Walk {
        let mut row = [u8::MAX; WIDE];
        row[MOST..].copy_from_slice(&[0, 1, 2]);
        Walk {
            row,
            before: [u8::MAX; WIDE],
            long: 0,
            last: 0,
            letter: 0,
            left: 0,
            is_start: false,
        }
    }

    fn is_match(&self, walk: &Walk) -> bool {
        walk.is_start || self.is_near(walk)
    }

    fn can_match(&self, walk: &Walk) -> bool {
        walk.is_start || walk.row.iter().any(|distance| *distance <= self.most)
    }

    fn accept(&self, walk: &Walk, byte: u8) -> Walk {
        if walk.is_start {
            return walk.clone();
        }
        if byte.is_ascii_digit() {
            let row = [u8::MAX; WIDE];
            return Walk {
                row,
                ..walk.clone()
            };
        }
        let ones = byte.leading_ones();
        let (letter, left) = match ones {
            0 => (u32::from(byte), 0),
            1 => (
                walk.letter << 6 | u32::from(byte & 0x3f),
                walk.left.saturating_sub(1),
            ),
            _ => (u32::from(byte & (0x7f_u8 >> ones.min(7))), ones - 1),
        };
        match left {
            0 => self.step(
                &Walk {
                    left,
                    ..walk.clone()
                },
                letter,
            ),
            _ => Walk {
                letter,
                left,
                ..walk.clone()
            },
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use tantivy::Term;
    use tantivy::query::FuzzyTermQuery;
    use tantivy::schema::Field;

    const WORDS: [&str; 12] = [
        "a",
        "ab",
        "earth",
        "heart",
        "sensor",
        "senser",
        "bearing",
        "größe",
        "grösse",
        "ventilátor",
        "коса",
        "馬力計",
    ];

    /// Every word with one change, and those with another.
    fn changed(words: &[String]) -> Vec<String> {
        let mut all = words.to_vec();
        for word in words {
            let letters: Vec<char> = word.chars().collect();
            for at in 0..=letters.len() {
                let (start, end) = letters.split_at(at);
                let made = |middle: &[char], from: usize| -> String {
                    let end = end.iter().skip(from);
                    start.iter().chain(middle).chain(end).collect()
                };
                all.push(made(&['r'], 0));
                all.push(made(&[], 1));
                all.push(made(&['ö'], 1));
                if let [one, other, ..] = end {
                    all.push(made(&[*other, *one], 2));
                }
            }
        }
        all.sort();
        all.dedup();
        all
    }

    /// Whether an automaton takes a word, if a walk is not given up before its end.
    fn takes(automaton: &impl Automaton, word: &str) -> bool {
        let mut state = automaton.start();
        for byte in word.bytes() {
            if !automaton.can_match(&state) {
                return false;
            }
            state = automaton.accept(&state, byte);
        }
        automaton.is_match(&state)
    }

    #[test]
    fn slips_are_those_of_the_table_of_distances_and_of_the_automata_of_tantivy() {
        let words = WORDS.map(str::to_owned);
        let some: Vec<String> = changed(&words).into_iter().step_by(3).collect();
        let others = changed(&some);
        assert!(others.len() > 1_000);
        for (word, most) in words.iter().flat_map(|word| [(word, 1), (word, 2)]) {
            let term = Term::from_field_text(Field::from_field_id(0), word);
            let theirs = FuzzyTermQuery::new(term, most, true);
            let theirs = theirs.automaton().unwrap();
            let (own, starting) = (Slips::of(word, most), Slips::going_on(word, most));
            for other in words.iter().chain(&others) {
                let near = strsim::osa_distance(word, other) <= usize::from(most);
                assert_eq!(takes(&own, other), near, "{word} {other} {most}");
                assert_eq!(takes(&theirs, other), near, "{word} {other} {most}");
                let ends = (0..=other.len()).filter(|end| other.is_char_boundary(*end));
                let mut starts = ends.map(|end| strsim::osa_distance(word, &other[..end]));
                let start = starts.any(|slips| slips <= usize::from(most));
                assert_eq!(takes(&starting, other), start, "{word} {other} {most}");
            }
        }
    }

    #[test]
    fn a_digit_is_no_slip_and_may_stand_behind_a_start() {
        let near = Slips::of("sensor", 2);
        assert!(takes(&near, "sensar") && !takes(&near, "sens0r"));
        assert!(!takes(&near, "sensor2"));
        let starts = Slips::going_on("senso", 1);
        assert!(takes(&starts, "sensr42") && !takes(&starts, "se1so"));
    }
}
