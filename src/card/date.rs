//! A day of the calendar, as readings carry it. Never: the clock.

use std::fmt;

/// A day, written as ISO 8601 does: `2026-11-25`. Earlier days are less.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    year: u16,
    month: u8,
    day: u8,
}

impl Date {
    /// Reads `2026-11-25`; none for any other spelling, and for a day that no calendar has.
    ///
    /// ```
    /// use loomleaf::card::Date;
    /// assert_eq!(Date::read("2028-02-29").map(|day| day.to_string()).as_deref(), Some("2028-02-29"));
    /// assert_eq!(Date::read("2026-02-29"), None);
    /// assert_eq!(Date::read("25.11.2026"), None);
    /// ```
    pub fn read(text: &str) -> Option<Date> {
        let mut parts = text.split('-').zip([4, 2, 2]).map(|(part, length)| {
            let digits = part.len() == length && part.bytes().all(|byte| byte.is_ascii_digit());
            digits.then(|| part.parse::<u16>().ok())?
        });
        let (year, month, day) = (parts.next()??, parts.next()??, parts.next()??);
        // Zipping drops what stands after the third part.
        let whole = text.len() == "2026-11-25".len();
        let sound = whole && 0 < day && day <= days(year, month);
        sound.then_some(Date {
            year,
            month: u8::try_from(month).ok()?,
            day: u8::try_from(day).ok()?,
        })
    }
}

/// Days of a month in the Gregorian calendar; none where there is no such month.
fn days(year: u16, month: u16) -> u16 {
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    match month {
        2 if leap => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => 0,
    }
}

impl fmt::Display for Date {
    fn fmt(&self, words: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(words, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}
