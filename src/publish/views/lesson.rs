//! A lesson: an author's text, and the way to the one before and the one after.

use super::Link;
use crate::card::Lesson;
use crate::publish::shelf::Shelf;
use crate::publish::{address, markdown};
use serde::Serialize;

/// The page of a lesson.
#[derive(Serialize)]
pub(super) struct LessonPage {
    title: String,
    text: String,
    before: Option<Link>,
    after: Option<Link>,
}

/// The page of the lesson at this place in the deck.
pub(super) fn view(shelf: &Shelf, at: usize) -> LessonPage {
    let lessons = &shelf.deck.lessons;
    let lesson = &lessons[at];
    LessonPage {
        title: lesson.title.clone(),
        text: markdown::to_html(&lesson.text, 0, |link| {
            let page = shelf.page_of(link)?;
            Some(format!(
                "{}{page}",
                address::root_from(&address::lesson(&lesson.id))
            ))
        }),
        before: at.checked_sub(1).and_then(|at| lessons.get(at)).map(to),
        after: lessons.get(at + 1).map(to),
    }
}

/// Every lesson of the deck.
pub(super) fn all(shelf: &Shelf) -> Vec<Link> {
    shelf.deck.lessons.iter().map(to).collect()
}

fn to(lesson: &Lesson) -> Link {
    Link {
        title: lesson.title.clone(),
        href: address::lesson(&lesson.id),
    }
}
