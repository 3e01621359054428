//! The card an engine holds: as carried, and worked out once.
//!
//! In: the text a page has of its card. Out: what readings of it are held against.

use crate::sheet::{Sheet, unpack};

/// The last card that was worked out, and at which points of its reader.
#[derive(Debug, Default)]
pub(super) struct Held {
    last: Option<(String, Sheet)>,
}

impl Held {
    /// The sheet of a card, with those of these places that the card does not name; solved only where it is
    /// another than the last.
    ///
    /// # Errors
    /// Texts that were not carried whole, and circuits without an answer, in words.
    pub(super) fn sheet<'p>(
        &mut self,
        text: &str,
        places: impl IntoIterator<Item = &'p str>,
    ) -> Result<&Sheet, String> {
        let mut carried = unpack(text).ok_or("the page and the engine are of different make")?;
        let mut key = text.to_owned();
        for place in places {
            if carried.add_point(place) {
                key.push_str(place);
            }
        }
        let held = match self.last.take().filter(|(known, _)| *known == key) {
            Some(known) => known,
            None => (key, carried.sheet().map_err(|error| error.to_string())?),
        };
        Ok(&self.last.insert(held).1)
    }
}
