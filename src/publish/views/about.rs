//! About and cautions: how to read the pages, and every caution of the shipped table.

use crate::card::COLOURS;
use crate::publish::shelf::Shelf;
use crate::publish::words;
use crate::quantity::{Dimension, write_toleranced};
use crate::sheet::Caution;
use serde::Serialize;

/// The page about the site.
#[derive(Serialize)]
pub(super) struct About {
    meter: String,
    battery: String,
    dangers: Vec<CautionLine>,
    cares: Vec<CautionLine>,
    colours: Vec<ColourLine>,
}

/// A caution.
#[derive(Clone, Serialize)]
pub(super) struct CautionLine {
    title: String,
    says: String,
}

/// A wire colour: letters and word.
#[derive(Serialize)]
struct ColourLine {
    letters: &'static str,
    word: &'static str,
}

impl CautionLine {
    /// Its title alone, where it stands in full elsewhere on the page.
    pub(super) fn reminder(caution: &Caution) -> Self {
        Self {
            title: caution.title.clone(),
            says: String::new(),
        }
    }

    /// Letters on paper, where a reminder is left out: it stands in full above.
    pub(super) fn letters(&self) -> usize {
        match self.says.is_empty() {
            true => 0,
            false => self.title.chars().count() + 2 + self.says.chars().count(),
        }
    }

    /// Those of a list that can hurt a person, or the others.
    pub(super) fn all(list: &[Caution], can_hurt: bool) -> Vec<Self> {
        let kept = list.iter().filter(|caution| caution.can_hurt == can_hurt);
        kept.map(Self::of).collect()
    }

    /// A caution as a page shows it.
    pub(super) fn of(caution: &Caution) -> Self {
        Self {
            title: caution.title.clone(),
            says: caution.says.clone(),
        }
    }
}

/// The page of this deck.
pub(super) fn view(shelf: &Shelf) -> About {
    let lines = |can_hurt: bool| {
        let all = shelf.deck.cautions.values();
        let kept = all.filter(|caution| caution.can_hurt == can_hurt);
        kept.map(|caution| CautionLine {
            title: caution.title.clone(),
            says: caution.says.trim().to_owned(),
        })
        .collect()
    };
    About {
        meter: words::meter(shelf.deck.meter),
        battery: write_toleranced(shelf.deck.battery, Dimension::Voltage),
        dangers: lines(true),
        cares: lines(false),
        colours: COLOURS
            .into_iter()
            .map(|one| ColourLine {
                letters: one.letters,
                word: one.word,
            })
            .collect(),
    }
}
