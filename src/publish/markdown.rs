//! Markdown: an author's notes as HTML, with nothing in it that could run, load or mislead.
//!
//! In: Markdown as typed. Out: HTML of a small, known set of elements. Raw HTML is dropped, images
//! become their text, headings start below the page's own. Never: links to anything but pages of the
//! site, web addresses and mail.

use pulldown_cmark::{CowStr, Event, HeadingLevel, Options, Parser, Tag, TagEnd, html};

/// The notes as HTML. `card_address` gives the page of a card named by its file (`egr.yaml`), as a
/// link from the page on which the notes stand.
pub(super) fn to_html(notes: &str, card_address: impl Fn(&str) -> Option<String>) -> String {
    let options = Options::ENABLE_TABLES | Options::ENABLE_STRIKETHROUGH;
    let mut inside = Inside::default();
    let events = Parser::new_ext(notes, options)
        .filter_map(|event| allowed(event, &mut inside, &card_address));
    let mut html = String::new();
    html::push_html(&mut html, events);
    html
}

/// What the events seen so far have left open.
#[derive(Default)]
struct Inside {
    /// For each open link: whether it was kept.
    links: Vec<bool>,
}

fn allowed<'a>(
    event: Event<'a>,
    inside: &mut Inside,
    card_address: &impl Fn(&str) -> Option<String>,
) -> Option<Event<'a>> {
    match event {
        Event::Html(_) | Event::InlineHtml(_) => None,
        Event::Start(Tag::HtmlBlock | Tag::Image { .. })
        | Event::End(TagEnd::HtmlBlock | TagEnd::Image) => None,
        Event::Start(Tag::Heading { level, .. }) => Some(Event::Start(Tag::Heading {
            level: below_page(level),
            id: None,
            classes: Vec::new(),
            attrs: Vec::new(),
        })),
        Event::End(TagEnd::Heading(level)) => Some(Event::End(TagEnd::Heading(below_page(level)))),
        Event::Start(Tag::Link {
            link_type,
            dest_url,
            title,
            id,
        }) => {
            let target = target(&dest_url, card_address);
            inside.links.push(target.is_some());
            let dest_url = CowStr::from(target?);
            Some(Event::Start(Tag::Link {
                link_type,
                dest_url,
                title,
                id,
            }))
        }
        Event::End(TagEnd::Link) => inside.links.pop().unwrap_or(false).then_some(event),
        other => Some(other),
    }
}

/// Notes stand under a second-level heading of the page.
fn below_page(level: HeadingLevel) -> HeadingLevel {
    match level {
        HeadingLevel::H1 | HeadingLevel::H2 => HeadingLevel::H3,
        HeadingLevel::H3 => HeadingLevel::H4,
        HeadingLevel::H4 => HeadingLevel::H5,
        HeadingLevel::H5 | HeadingLevel::H6 => HeadingLevel::H6,
    }
}

/// Where a link may lead: another card, a page of the site, the web, mail. None for anything else
/// (`javascript:` and its like), which then stays as plain text.
fn target(written: &str, card_address: &impl Fn(&str) -> Option<String>) -> Option<String> {
    if let Some(page) = card_address(written) {
        return Some(page);
    }
    let scheme = written
        .split_once(':')
        .map(|(scheme, _)| scheme)
        .filter(|scheme| !scheme.contains(['/', '#', '?']));
    match scheme.map(str::to_lowercase).as_deref() {
        None | Some("http" | "https" | "mailto") => Some(written.to_owned()),
        Some(_) => None,
    }
}
