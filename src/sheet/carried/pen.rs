//! The pen and the eye: how plain values stand in a carried text.
//!
//! `5:hello` is a text with its bytes counted, `4.7;` a number, a list its length and its values. No
//! escapes, no parser of a larger language, and whatever is wrong ends the reading.

use std::collections::BTreeMap;

/// First of every text, so that one of another make is not taken for one of ours.
const MAKE: &str = "circuit 1";

/// A value that can be carried.
pub(super) trait Carry: Sized {
    /// Writes it.
    fn put(&self, pen: &mut Pen);
    /// Reads it again; none where something else stands there.
    fn take(eye: &mut Eye<'_>) -> Option<Self>;
}

/// A text as it is written: `5:hello` is a text, `4.7;` a number, a list its length and its values.
pub(super) struct Pen {
    pub(super) text: String,
}

impl Pen {
    /// A text that says first which make it is.
    pub(super) fn of_a_text() -> Self {
        let mut pen = Pen {
            text: String::new(),
        };
        pen.word(MAKE);
        pen
    }

    fn word(&mut self, word: &str) {
        self.count(word.len());
        self.text.pop();
        self.text.push(':');
        self.text.push_str(word);
    }

    /// The shortest digits that are read as the same number again.
    fn number(&mut self, number: f64) {
        self.text.push_str(&format!("{number:?};"));
    }

    pub(super) fn count(&mut self, count: usize) {
        self.text.push_str(&format!("{count};"));
    }
}

/// A text as it is read: what is left of it.
pub(super) struct Eye<'a> {
    rest: &'a str,
}

impl<'a> Eye<'a> {
    /// The text after its make; none where it is of another.
    pub(super) fn on(text: &'a str) -> Option<Self> {
        let mut eye = Eye { rest: text };
        (eye.word()? == MAKE).then_some(eye)
    }

    fn before(&mut self, end: char) -> Option<&'a str> {
        let (before, rest) = self.rest.split_once(end)?;
        self.rest = rest;
        Some(before)
    }

    fn word(&mut self) -> Option<&'a str> {
        let length: usize = self.before(':')?.parse().ok()?;
        let word = self.rest.get(..length)?;
        self.rest = &self.rest[length..];
        Some(word)
    }

    pub(super) fn count(&mut self) -> Option<usize> {
        self.before(';')?.parse().ok()
    }
}

impl Carry for String {
    fn put(&self, pen: &mut Pen) {
        pen.word(self);
    }

    fn take(eye: &mut Eye<'_>) -> Option<Self> {
        eye.word().map(str::to_owned)
    }
}

impl Carry for f64 {
    fn put(&self, pen: &mut Pen) {
        pen.number(*self);
    }

    fn take(eye: &mut Eye<'_>) -> Option<Self> {
        eye.before(';')?.parse().ok()
    }
}

impl Carry for bool {
    fn put(&self, pen: &mut Pen) {
        pen.count(usize::from(*self));
    }

    fn take(eye: &mut Eye<'_>) -> Option<Self> {
        Some(eye.count()? == 1)
    }
}

impl<T: Carry> Carry for Option<T> {
    fn put(&self, pen: &mut Pen) {
        self.is_some().put(pen);
        if let Some(value) = self {
            value.put(pen);
        }
    }

    fn take(eye: &mut Eye<'_>) -> Option<Self> {
        match bool::take(eye)? {
            true => Some(Some(T::take(eye)?)),
            false => Some(None),
        }
    }
}

impl Carry for usize {
    fn put(&self, pen: &mut Pen) {
        pen.count(*self);
    }

    fn take(eye: &mut Eye<'_>) -> Option<Self> {
        eye.count()
    }
}

impl<A: Carry, B: Carry> Carry for (A, B) {
    fn put(&self, pen: &mut Pen) {
        self.0.put(pen);
        self.1.put(pen);
    }

    fn take(eye: &mut Eye<'_>) -> Option<Self> {
        Some((A::take(eye)?, B::take(eye)?))
    }
}

impl<T: Carry> Carry for Vec<T> {
    fn put(&self, pen: &mut Pen) {
        pen.count(self.len());
        for value in self {
            value.put(pen);
        }
    }

    fn take(eye: &mut Eye<'_>) -> Option<Self> {
        let mut values = Vec::new();
        for _ in 0..eye.count()? {
            values.push(T::take(eye)?);
        }
        Some(values)
    }
}

impl<T: Carry> Carry for BTreeMap<String, T> {
    fn put(&self, pen: &mut Pen) {
        pen.count(self.len());
        for (key, value) in self {
            pen.word(key);
            value.put(pen);
        }
    }

    fn take(eye: &mut Eye<'_>) -> Option<Self> {
        let mut values = BTreeMap::new();
        for _ in 0..eye.count()? {
            values.insert(String::take(eye)?, T::take(eye)?);
        }
        Some(values)
    }
}
