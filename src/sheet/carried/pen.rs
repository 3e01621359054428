//! The pen and the eye: how plain values stand in a carried text.
//!
//! `5:hello` is a text with its bytes counted, `4.7;` a number, a list its length and its values. No
//! escapes and no parser of a larger language. An eye that meets something else is blind from there on:
//! it reads empty texts, lists and zeros, and who asked for the whole sees that it is [`Eye::blind`].
//! (Stopping at each value would weigh a fifth more in the phone.)

use crate::quantity::decimal;

/// First of every text, so that one of another make is not taken for one of ours.
const MAKE: &str = "circuit 2";

/// A value that can be carried.
pub(super) trait Carry: Sized {
    /// Writes it.
    fn put(&self, pen: &mut Pen);
    /// Reads it again.
    fn take(eye: &mut Eye<'_>) -> Self;
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
    blind: bool,
}

impl<'a> Eye<'a> {
    /// The text after its make.
    pub(super) fn on(text: &'a str) -> Self {
        let mut eye = Eye {
            rest: text,
            blind: false,
        };
        eye.blind = eye.word() != MAKE;
        eye
    }

    /// Whether something was met that no pen of this make writes.
    pub(super) fn blind(&self) -> bool {
        self.blind
    }

    /// What stands here is none of the cases there are.
    pub(super) fn lost(&mut self) {
        self.blind = true;
    }

    fn before(&mut self, end: char) -> &'a str {
        match self.rest.split_once(end) {
            Some((before, rest)) if !self.blind => {
                self.rest = rest;
                before
            }
            _ => {
                self.blind = true;
                ""
            }
        }
    }

    fn number(&mut self) -> f64 {
        let read = decimal(self.before(';'));
        self.blind |= read.is_none();
        read.unwrap_or_default()
    }

    fn whole(&mut self, end: char) -> usize {
        let read = self.before(end).parse();
        self.blind |= read.is_err();
        read.unwrap_or_default()
    }

    fn word(&mut self) -> &'a str {
        let length = self.whole(':');
        let word = self.rest.get(..length);
        self.blind |= word.is_none();
        self.rest = self.rest.get(length..).unwrap_or_default();
        word.unwrap_or_default()
    }

    pub(super) fn count(&mut self) -> usize {
        self.whole(';')
    }
}

impl Carry for String {
    fn put(&self, pen: &mut Pen) {
        pen.word(self);
    }

    fn take(eye: &mut Eye<'_>) -> Self {
        eye.word().to_owned()
    }
}

impl Carry for f64 {
    fn put(&self, pen: &mut Pen) {
        pen.number(*self);
    }

    fn take(eye: &mut Eye<'_>) -> Self {
        eye.number()
    }
}

impl Carry for bool {
    fn put(&self, pen: &mut Pen) {
        pen.count(usize::from(*self));
    }

    fn take(eye: &mut Eye<'_>) -> Self {
        eye.count() == 1
    }
}

impl Carry for usize {
    fn put(&self, pen: &mut Pen) {
        pen.count(*self);
    }

    fn take(eye: &mut Eye<'_>) -> Self {
        eye.count()
    }
}

impl<A: Carry, B: Carry> Carry for (A, B) {
    fn put(&self, pen: &mut Pen) {
        self.0.put(pen);
        self.1.put(pen);
    }

    fn take(eye: &mut Eye<'_>) -> Self {
        (A::take(eye), B::take(eye))
    }
}

impl<T: Carry> Carry for Option<T> {
    fn put(&self, pen: &mut Pen) {
        self.is_some().put(pen);
        if let Some(value) = self {
            value.put(pen);
        }
    }

    fn take(eye: &mut Eye<'_>) -> Self {
        bool::take(eye).then(|| T::take(eye))
    }
}

impl<T: Carry> Carry for Vec<T> {
    fn put(&self, pen: &mut Pen) {
        pen.count(self.len());
        for value in self {
            value.put(pen);
        }
    }

    fn take(eye: &mut Eye<'_>) -> Self {
        let mut values = Vec::new();
        for _ in 0..eye.count() {
            values.push(T::take(eye));
            if eye.blind() {
                break;
            }
        }
        values
    }
}

impl<T: Carry> Carry for [T; 2] {
    fn put(&self, pen: &mut Pen) {
        self.iter().for_each(|value| value.put(pen));
    }

    fn take(eye: &mut Eye<'_>) -> Self {
        [T::take(eye), T::take(eye)]
    }
}
