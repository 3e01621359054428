//! Search in a phone: a pack once, then words as they are typed; the answer of the terminal's `find --json`.

use super::{Answered, write};
use crate::index::Search;
use crate::report::FindReport;

/// A search that waits for its pack.
#[derive(Debug, Default)]
pub struct Finder {
    search: Option<Search>,
}

impl Finder {
    /// Opens a pack; false where it is damaged or of another make.
    pub fn open(&mut self, pack: Vec<u8>) -> bool {
        self.search = Search::open(pack).ok();
        self.search.is_some()
    }

    /// What these words find, as JSON; or why there is no answer, as [`super::Engine`] says it.
    pub fn answer(&mut self, query: &str) -> String {
        super::told(self.found(query))
    }

    fn found(&mut self, query: &str) -> Answered {
        let search = self.search.as_mut().ok_or("no pack is open")?;
        write(&FindReport::of(&search.find(query)))
    }
}
