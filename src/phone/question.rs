//! A question as script writes it: texts one after another, each as `5:hello`, its bytes counted.
//!
//! Texts need no quoting and no parser of a larger language, which would weigh more than the rest of
//! the door.

/// What is left of a question.
#[derive(Clone, Copy, Debug)]
pub(super) struct Question<'a> {
    rest: &'a str,
}

impl<'a> Question<'a> {
    pub(super) fn of(text: &'a str) -> Self {
        Self { rest: text }
    }

    /// The next text.
    ///
    /// # Errors
    /// Where there is none, or its length is wrong.
    pub(super) fn text(&mut self) -> Result<&'a str, String> {
        self.next()
            .ok_or_else(|| "the question is not whole".to_owned())
    }

    /// So many pairs as the next text says.
    ///
    /// # Errors
    /// As [`Question::text`].
    pub(super) fn pairs(&mut self) -> Result<Vec<(&'a str, &'a str)>, String> {
        let count: usize = self.text()?.parse().map_err(|_| "a number was expected")?;
        let mut pairs = Vec::new();
        for _ in 0..count {
            pairs.push((self.text()?, self.text()?));
        }
        Ok(pairs)
    }
}

impl<'a> Iterator for Question<'a> {
    type Item = &'a str;

    fn next(&mut self) -> Option<&'a str> {
        let (length, rest) = self.rest.split_once(':')?;
        let length: usize = length.parse().ok()?;
        let text = rest.get(..length)?;
        self.rest = &rest[length..];
        Some(text)
    }
}
