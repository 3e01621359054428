//! A set of small numbers (rows, repairs) as bits: cheap to compare, join and intersect.
//!
//! In: indices below the size it was made for. Out: the same, in ascending order. Never: grows.

/// A set of indices below a fixed size.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) struct Set(Vec<u64>);

impl Set {
    /// The empty set for indices below `size`.
    pub(crate) fn empty(size: usize) -> Self {
        Self(vec![0; size.div_ceil(64)])
    }

    /// Some indices below `size`.
    pub(crate) fn of(size: usize, indices: impl IntoIterator<Item = usize>) -> Self {
        let mut set = Self::empty(size);
        for index in indices {
            set.insert(index);
        }
        set
    }

    /// All indices below `size`.
    pub(crate) fn full(size: usize) -> Self {
        Self::of(size, 0..size)
    }

    /// Adds an index; one beyond the size is ignored.
    pub(crate) fn insert(&mut self, index: usize) {
        if let Some(word) = self.0.get_mut(index / 64) {
            *word |= 1 << (index % 64);
        }
    }

    /// Whether it holds the index.
    pub(crate) fn contains(&self, index: usize) -> bool {
        self.0
            .get(index / 64)
            .is_some_and(|word| word >> (index % 64) & 1 == 1)
    }

    /// Whether it holds nothing.
    pub(crate) fn is_empty(&self) -> bool {
        self.0.iter().all(|word| *word == 0)
    }

    /// Keeps what the other also holds.
    pub(crate) fn keep(&mut self, other: &Self) {
        for (mine, theirs) in self.0.iter_mut().zip(&other.0) {
            *mine &= theirs;
        }
    }

    /// Adds all the other holds.
    pub(crate) fn join(&mut self, other: &Self) {
        for (mine, theirs) in self.0.iter_mut().zip(&other.0) {
            *mine |= theirs;
        }
    }

    /// Its indices, ascending.
    pub(crate) fn iter(&self) -> impl Iterator<Item = usize> + '_ {
        indices(self.0.iter().copied())
    }

    /// What it holds of some and another does not, ascending.
    pub(crate) fn beyond(&self, other: &Self, of: &Self) -> impl Iterator<Item = usize> {
        let words = self.0.iter().zip(&other.0).zip(&of.0);
        indices(words.map(|((mine, theirs), of)| mine & !theirs & of))
    }
}

fn indices(words: impl Iterator<Item = u64>) -> impl Iterator<Item = usize> {
    words.zip((0..).step_by(64)).flat_map(|(mut left, from)| {
        std::iter::from_fn(move || {
            let bit = (left != 0).then(|| left.trailing_zeros() as usize)?;
            left &= left - 1;
            Some(from + bit)
        })
    })
}
