//! Years of vehicles: the range a text names as one word, and which years such a word holds.
//!
//! `2017-2020`, `2017 to 2020` and `2017-20` are all `20172020`; `from 2017` has no last year, `until 2015` no first.
//! A word of a range is all that an index needs: which ranges hold a year is worked out when somebody types one.

use std::ops::RangeInclusive;

/// Years that vehicles in service have; other numbers of four digits are none.
const YEARS: RangeInclusive<u16> = 1950..=2079;
/// In place of a year that is not named.
const FIRST: &str = "0000";
const LAST: &str = "9999";

/// The year that four digits are.
pub(super) fn year(word: &str) -> Option<u16> {
    let digits = word.len() == 4 && word.bytes().all(|byte| byte.is_ascii_digit());
    let year = digits.then(|| word.parse().ok())??;
    YEARS.contains(&year).then_some(year)
}

/// Two years of a range as one word; the last may leave out its century.
pub(super) fn range(first: &str, last: &str) -> Option<String> {
    let from = year(first)?;
    let whole = match last.len() {
        2 => format!("{}{last}", &first[..2]),
        _ => last.to_owned(),
    };
    (year(&whole)? > from).then(|| format!("{first}{whole}"))
}

/// The years of a word of the index: a range, or one alone.
pub(super) fn held(word: &str) -> Option<RangeInclusive<u16>> {
    if let Some(year) = year(word) {
        return Some(year..=year);
    }
    let (first, last) = word.split_at_checked(4).filter(|_| word.len() == 8)?;
    let known = |word: &str, open: &str| word == open || year(word).is_some();
    let is_range = known(first, FIRST) && known(last, LAST);
    is_range.then(|| Some(first.parse().ok()?..=last.parse().ok()?))?
}

/// The years that digits can become while they are typed: `201` is all from 2010 to 2019.
pub(super) fn begun(digits: &str) -> Option<RangeInclusive<u16>> {
    let plain = digits.bytes().all(|byte| byte.is_ascii_digit());
    let typed = plain && matches!(digits.len(), 2 | 3) && ["19", "20"].contains(&&digits[..2]);
    let filled = |with: &str| format!("{digits}{}", with.repeat(4 - digits.len())).parse();
    typed.then(|| Some(filled("0").ok()?..=filled("9").ok()?))?
}

/// Whether two ranges have a year in common.
pub(super) fn meet(one: &RangeInclusive<u16>, other: &RangeInclusive<u16>) -> bool {
    one.start() <= other.end() && other.start() <= one.end()
}

/// A word of a range as people write it.
pub(super) fn shown(word: &str) -> String {
    match word.split_at_checked(4) {
        Some((FIRST, last)) => format!("until {last}"),
        Some((first, LAST)) => format!("from {first}"),
        Some((first, last)) if !last.is_empty() => format!("{first}-{last}"),
        _ => word.to_owned(),
    }
}

/// The word of a range that names one year only: `from 2017`, `2017 on`, `2017-`, `until 2015`.
pub(super) fn open_ended(text: &str) -> Option<String> {
    let text = text.to_lowercase();
    let text = text.trim_end();
    let cut = |letter: char| !letter.is_alphanumeric();
    let words = text
        .split(cut)
        .filter(|word| !word.is_empty() && *word != "and");
    let words: Vec<&str> = words.collect();
    let mut found = words.iter().enumerate();
    let (at, own) = found.find(|(_, word)| year(word).is_some())?;
    let before = at.checked_sub(1).and_then(|at| words.get(at));
    let after = words.get(at + 1);
    let is = |word: Option<&&str>, known: &[&str]| word.is_some_and(|word| known.contains(word));
    if words.iter().filter(|word| year(word).is_some()).count() > 1 {
        return None;
    }
    let goes_on = ["-", "\u{2013}", "+"].iter().any(|end| text.ends_with(end));
    let later = ["on", "onward", "onwards", "up", "later", "newer"];
    if is(before, &["from", "since"]) || is(after, &later) || (after.is_none() && goes_on) {
        return Some(format!("{own}{LAST}"));
    }
    let earlier = is(before, &["until", "to", "before"]) || is(after, &["earlier", "older"]);
    earlier.then(|| format!("{FIRST}{own}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// How ranges are written is common practice, no source.
    #[test]
    fn ranges_hold_their_years() {
        assert_eq!(range("2017", "2020").as_deref(), Some("20172020"));
        assert_eq!(range("2017", "20").as_deref(), Some("20172020"));
        for (first, last) in [
            ("2020", "2017"),
            ("2017", "16"),
            ("0405", "0406"),
            ("2017", "2500"),
        ] {
            assert_eq!(range(first, last), None, "{first} {last}");
        }
        assert_eq!(held("20172020"), Some(2017..=2020));
        assert_eq!(held("2017"), Some(2017..=2017));
        assert_eq!(held("20179999"), Some(2017..=9999));
        assert_eq!((held("0405"), held("12345678")), (None, None));
        assert_eq!(begun("201"), Some(2010..=2019));
        assert_eq!((begun("2"), begun("405")), (None, None));
        assert!(meet(&(2017..=2020), &(2020..=2020)) && !meet(&(2017..=2020), &(2021..=2024)));
    }

    #[test]
    fn a_range_may_name_one_year_only() {
        for text in [
            "Van from 2017",
            "Van 2017 on",
            "Van 2017-",
            "Van, since 2017",
            "Van 2017+",
        ] {
            assert_eq!(open_ended(text).as_deref(), Some("20179999"), "{text}");
        }
        for text in ["Van until 2015", "Van, up to 2015", "Van 2015 and older"] {
            assert_eq!(open_ended(text).as_deref(), Some("00002015"), "{text}");
        }
        for text in ["Van 2017", "Van 2017-2020", "Van from 2017 to 2020", "Van"] {
            assert_eq!(open_ended(text), None, "{text}");
        }
        assert_eq!(shown("20172020"), "2017-2020");
        assert_eq!(shown("20179999"), "from 2017");
    }
}
