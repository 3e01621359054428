//! The card an engine holds: as carried, and worked out once.
//!
//! In: the text a page has of its card. Out: what readings of it are held against.

use crate::sheet::{Sheet, unpack};

/// The last card that was worked out.
#[derive(Debug, Default)]
pub(super) struct Held {
    last: Option<(String, Sheet)>,
}

impl Held {
    /// The sheet of a card; solved only where it is another than the last.
    ///
    /// # Errors
    /// Texts that were not carried whole, and circuits without an answer, in words.
    pub(super) fn sheet(&mut self, carried: &str) -> Result<&Sheet, String> {
        let held = match self.last.take().filter(|(text, _)| text == carried) {
            Some(known) => known,
            None => (carried.to_owned(), solved(carried)?),
        };
        Ok(&self.last.insert(held).1)
    }
}

fn solved(carried: &str) -> Result<Sheet, String> {
    let carried = unpack(carried).ok_or("the page and the engine are of different make")?;
    carried.sheet().map_err(|error| error.to_string())
}
