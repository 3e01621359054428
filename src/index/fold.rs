//! Words of a text: the same for what a deck says and for what somebody types.
//!
//! In: any text. Out: words in small letters without accents, plurals as singulars, codes whole however they
//! were spaced, numbers with their units, colour letters of one wire and years of one range as one word. Never:
//! the index.

use super::{values, years};
use crate::card::{COLOURS, is_code};

/// What a word is, which decides how it may be stretched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Shape {
    /// An ordinary word.
    Plain,
    /// Colour letters of a wire: `gnwh`.
    Wire,
    /// A trouble code: `p0405`.
    Code,
    /// Digits, or letters and digits.
    Number,
    /// A number with its unit: `120ohm`.
    Value,
    /// The first and the last year of a range: `20172020`.
    Years,
}

/// A word, and where it stands in the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Word {
    /// As the index has it.
    pub(super) text: String,
    /// As written but for case and accents; what somebody has typed of it so far.
    pub(super) typed: String,
    pub(super) shape: Shape,
    /// Bytes of the text it stands on.
    pub(super) from: usize,
    pub(super) to: usize,
}

/// Longer words are cut: nobody types them, and they would cost a walk through the dictionary.
const LONGEST: usize = 40;

/// The words of a text, in order.
pub(super) fn words(text: &str) -> Vec<Word> {
    let pieces = pieces(text);
    let mut words = Vec::new();
    let mut at = 0;
    while let Some(piece) = pieces.get(at) {
        let taken = match run(text, &pieces[at..]) {
            Some((own, shape, taken)) => {
                let to = pieces[at + taken - 1].to;
                words.push(Word {
                    typed: own.clone(),
                    text: own,
                    shape,
                    from: piece.from,
                    to,
                });
                taken
            }
            None => {
                words.push(alone(piece));
                1
            }
        };
        at += taken;
        let is_code = words.last().is_some_and(|word| word.shape == Shape::Code);
        if is_code && fault_byte(text, pieces.get(at - 1), pieces.get(at)) {
            at += 1;
        }
    }
    words
}

/// The two hexadecimal digits that name the kind of fault behind a code, `P0405-1F`: what is looked for is the code.
fn fault_byte(text: &str, code: Option<&Piece>, next: Option<&Piece>) -> bool {
    let (Some(code), Some(next)) = (code, next) else {
        return false;
    };
    let gap = &text[code.to..next.from];
    let hexadecimal = next.text.bytes().all(|byte| byte.is_ascii_hexdigit());
    (gap == "-" || gap == ":") && next.text.len() == 2 && hexadecimal
}

/// Pieces at the front that are one word, and how many.
fn run(text: &str, pieces: &[Piece]) -> Option<(String, Shape, usize)> {
    let gap = |at: usize| -> &str {
        let next = pieces.get(at + 1);
        next.map_or("", |next| &text[pieces[at].to..next.from])
    };
    if let Some((own, taken)) = unit_apart(pieces, gap) {
        return Some((own, Shape::Value, taken));
    }
    if let [first, next, ..] = pieces
        && let Some((own, shape)) = joined(first, next, gap(0))
    {
        return Some((own, shape, 2));
    }
    if let Some((own, taken)) = range(pieces, gap) {
        let unit = pieces.get(taken).filter(|_| gap(taken - 1).len() < 2);
        let is_value = unit.is_some_and(|unit| values::value("1", &unit.text, false).is_some());
        return (!is_value).then_some((own, Shape::Years, taken));
    }
    let mut taken = usize::from(pieces.first().is_some_and(|piece| is_colour(&piece.text)));
    while taken > 0 && taken < 3 && matches!(gap(taken - 1).trim(), "" | "/" | "-") {
        match pieces.get(taken) {
            Some(next) if is_colour(&next.text) => taken += 1,
            _ => break,
        }
    }
    let letters = || pieces[..taken].iter().map(|piece| piece.text.as_str());
    (taken > 1).then(|| (letters().collect(), Shape::Wire, taken))
}

/// The years of a range, `2017-2020` or `2017 to 2020`, and on how many pieces they stand.
fn range<'a>(pieces: &[Piece], gap: impl Fn(usize) -> &'a str) -> Option<(String, usize)> {
    let texts: Vec<&str> = pieces.iter().take(3).map(|piece| &*piece.text).collect();
    let (last, taken) = match texts.as_slice() {
        [_, last, ..] if matches!(gap(0).trim(), "-" | "\u{2013}" | "\u{2014}") => (*last, 2),
        [_, "to", last] => (*last, 3),
        _ => return None,
    };
    let own = years::range(texts[0], last)?;
    // Two digits alone are a year only where nothing else stands between: `2017-20`.
    (last.len() == 4 || gap(0).chars().count() == 1).then_some((own, taken))
}

/// A value whose unit is two pieces: `4.7 k ohm`, `4.7k ohm`, `80 deg C`; and on how many pieces it stands.
fn unit_apart<'a>(pieces: &[Piece], gap: impl Fn(usize) -> &'a str) -> Option<(String, usize)> {
    let is_beside = |at: usize| gap(at).len() < 3 || gap(at).trim() == "\u{b0}";
    let is_ohm = |piece: &Piece| matches!(&*piece.text, "ohm" | "ohms");
    match pieces {
        [number, unit, ..] if is_ohm(unit) && is_beside(0) && !values::is_number(&number.text) => {
            let own = values::joined(&number.text, number.capital_m)?;
            own.ends_with("ohm").then_some((own, 2))
        }
        [number, first, second, ..] if is_beside(0) && is_beside(1) => {
            let is_unit = match &*first.text {
                "k" | "m" => is_ohm(second),
                "deg" => matches!(&*second.text, "c" | "f"),
                _ => false,
            };
            let unit = format!("{}{}", first.text, second.text);
            let is_value = is_unit && values::is_number(&number.text);
            let own = values::value(&number.text, unit.trim_end_matches('s'), first.capital_m);
            own.filter(|_| is_value).map(|own| (own, 3))
        }
        _ => None,
    }
}

/// Two pieces that are one word: `P 0405`, `120 ohm`.
fn joined(piece: &Piece, next: &Piece, gap: &str) -> Option<(String, Shape)> {
    let is_degrees = gap.trim() == "\u{b0}" && matches!(&*next.text, "c" | "f");
    if gap.len() > 2 && !is_degrees {
        return None;
    }
    if values::is_number(&piece.text) {
        let value = values::value(&piece.text, &next.text, next.capital_m)?;
        // `3-pin` is a value, `12-A` may be the name of a part.
        return (gap != "-" || value.ends_with("pin")).then_some((value, Shape::Value));
    }
    let code = format!("{}{}", piece.text, next.text);
    let spaced = piece.text.len() == 1 && is_code(&code.to_uppercase());
    spaced.then_some((code, Shape::Code))
}

fn alone(piece: &Piece) -> Word {
    let typed = piece.text.clone();
    let (text, shape) = if is_code(&typed.to_uppercase()) {
        (typed.clone(), Shape::Code)
    } else if let Some(value) = values::joined(&typed, piece.capital_m) {
        (value, Shape::Value)
    } else if values::is_number(&typed) {
        let plain = values::moved(&typed, 0).filter(|_| typed.contains('.'));
        (plain.unwrap_or_else(|| typed.clone()), Shape::Number)
    } else if typed.bytes().any(|byte| byte.is_ascii_digit()) {
        (typed.clone(), Shape::Number)
    } else if is_wire(&typed) {
        (typed.clone(), Shape::Wire)
    } else {
        (singular(&typed), Shape::Plain)
    };
    Word {
        text,
        typed,
        shape,
        from: piece.from,
        to: piece.to,
    }
}

/// Letters of at least two colours.
pub(super) fn is_wire(word: &str) -> bool {
    let known = |pair: &[u8]| std::str::from_utf8(pair).is_ok_and(is_colour);
    matches!(word.len(), 4 | 6) && word.is_ascii() && word.as_bytes().chunks(2).all(known)
}

/// The two letters of a colour.
fn is_colour(word: &str) -> bool {
    let mut letters = COLOURS.iter().map(|colour| colour.letters);
    letters.any(|letters| letters.eq_ignore_ascii_case(word))
}

/// The letters of a colour that is written as a word, as what people write for it, or as its letters.
pub(super) fn colour_letters(word: &str) -> Option<String> {
    let says = |also: &&str| also.len() > 2 && *also == word;
    let own = COLOURS.iter().find(|colour| {
        colour.word == word
            || colour.letters.eq_ignore_ascii_case(word)
            || colour.also.iter().any(says)
    });
    own.map(|colour| colour.letters.to_lowercase())
}

/// A plural's singular, by its ending alone; words that only look like plurals keep theirs. `batterie` is `batteries`
/// before its last letter, and must not be another word for that long.
fn singular(word: &str) -> String {
    let cut = |letters: usize| word[..word.len() - letters].to_owned();
    let ends = |endings: &[&str]| endings.iter().any(|ending| word.ends_with(ending));
    let stem = word.strip_suffix("ies").or_else(|| word.strip_suffix("ie"));
    if let Some(stem) = stem.filter(|_| word.len() > 4 && word.is_ascii() && word != "series") {
        return format!("{stem}y");
    }
    if word.len() <= 3 || !word.is_ascii() || !word.ends_with('s') {
        return word.to_owned();
    }
    if ends(&["ches", "shes", "sses", "xes", "zes"]) {
        return cut(2);
    }
    if ends(&["ss", "us", "is", "as", "os"]) || word == "series" {
        return word.to_owned();
    }
    cut(1)
}

/// A run of letters and digits.
struct Piece {
    text: String,
    from: usize,
    to: usize,
    /// It began with a capital M, which before `ohm` is a million.
    capital_m: bool,
}

fn pieces(text: &str) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = Vec::new();
    let mut open: Option<Piece> = None;
    let mut letters = text.char_indices().peekable();
    while let Some((at, letter)) = letters.next() {
        let end = at + letter.len_utf8();
        let next = letters.peek().map(|(_, next)| *next);
        let digit_next = next.is_some_and(|next| next.is_ascii_digit());
        if letter == '%' {
            pieces.extend(open.take());
            pieces.push(Piece::new(at, letter, end));
        } else if letter.is_alphanumeric() {
            match open.as_mut() {
                Some(piece) => {
                    fold(letter, &mut piece.text);
                    piece.to = end;
                }
                None => open = Some(Piece::new(at, letter, end)),
            }
        } else if let Some(piece) = open.as_mut().filter(|piece| {
            matches!(letter, '.' | ',') && digit_next && values::is_number(&piece.text)
        }) {
            if letter == '.' || !thousands(&piece.text, &text[end..]) {
                piece.text.push('.');
            }
            piece.to = end;
        } else if letter == '.' && digit_next && open.is_none() {
            // `.5 V` is half a volt.
            let mut piece = Piece::new(at, '0', end);
            piece.text.push('.');
            open = Some(piece);
        } else if !(is_mark(letter) && open.is_some()) {
            pieces.extend(open.take());
        }
    }
    pieces.extend(open);
    for piece in &mut pieces {
        if let Some((end, _)) = piece.text.char_indices().nth(LONGEST) {
            piece.text.truncate(end);
        }
    }
    pieces.retain(|piece| !piece.text.is_empty());
    pieces
}

impl Piece {
    fn new(from: usize, letter: char, to: usize) -> Self {
        let mut text = String::new();
        fold(letter, &mut text);
        Self {
            text,
            from,
            to,
            capital_m: letter == 'M',
        }
    }
}

/// `4,700`: a comma before exactly three digits, behind at most three that do not begin with zero.
fn thousands(before: &str, after: &str) -> bool {
    let digits = after.bytes().take_while(u8::is_ascii_digit).count();
    digits == 3 && before.len() <= 3 && !before.starts_with('0') && !before.contains('.')
}

/// An apostrophe inside a word, a combining accent.
fn is_mark(letter: char) -> bool {
    matches!(letter, '\'' | '\u{2019}' | '\u{300}'..='\u{36f}')
}

/// A letter as the index has it: small, without accent, symbols of units as letters.
fn fold(letter: char, into: &mut String) {
    for letter in letter.to_lowercase() {
        let plain = match letter {
            'a'..='z' | '0'..='9' => letter,
            '\u{3c9}' => {
                into.push_str("ohm");
                continue;
            }
            'ß' => {
                into.push_str("ss");
                continue;
            }
            'à'..='å' => 'a',
            'ç' => 'c',
            'è'..='ë' => 'e',
            'ì'..='ï' => 'i',
            'ñ' => 'n',
            'ò'..='ö' | 'ø' => 'o',
            'ù'..='ü' => 'u',
            'ý' | 'ÿ' => 'y',
            '\u{b5}' | '\u{3bc}' => 'u',
            '\u{b2}' => '2',
            mark if is_mark(mark) => continue,
            other => other,
        };
        into.push(plain);
    }
}
