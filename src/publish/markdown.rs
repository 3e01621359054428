//! Markdown: an author's notes and lessons as HTML, with nothing in it that could run, load or mislead.
//!
//! In: Markdown as typed. Out: HTML of a small, known set of elements. Raw HTML is dropped, images
//! become their text, headings start below the page's own. Never: links to anything but pages of the
//! site, web addresses and mail.

use pulldown_cmark::{CowStr, Event, HeadingLevel, Options, Parser, Tag, TagEnd, html};

/// The text as HTML, its headings so many levels below what they are. `page_of` gives the page of a file that an
/// author names (`egr.yaml`), as a link from the page on which the text stands.
pub(super) fn to_html(
    text: &str,
    below: usize,
    page_of: impl Fn(&str) -> Option<String>,
) -> String {
    let options = Options::ENABLE_TABLES | Options::ENABLE_STRIKETHROUGH;
    let mut inside = Inside {
        links: Vec::new(),
        below,
    };
    let events =
        Parser::new_ext(text, options).filter_map(|event| allowed(event, &mut inside, &page_of));
    let mut html = String::new();
    html::push_html(&mut html, events);
    // Nothing an author types can be a tag here: raw HTML is dropped and text is escaped.
    html.replace("<table>", "<div class=\"across\"><table>")
        .replace("</table>", "</table></div>")
}

/// What the events seen so far have left open, and where the text stands.
struct Inside {
    /// For each open link: whether it was kept.
    links: Vec<bool>,
    /// Levels by which headings go down.
    below: usize,
}

fn allowed<'a>(
    event: Event<'a>,
    inside: &mut Inside,
    page_of: &impl Fn(&str) -> Option<String>,
) -> Option<Event<'a>> {
    match event {
        Event::Html(_) | Event::InlineHtml(_) => None,
        Event::Start(Tag::HtmlBlock | Tag::Image { .. })
        | Event::End(TagEnd::HtmlBlock | TagEnd::Image) => None,
        Event::Start(Tag::Heading { level, .. }) => Some(Event::Start(Tag::Heading {
            level: below_page(level, inside.below),
            id: None,
            classes: Vec::new(),
            attrs: Vec::new(),
        })),
        Event::End(TagEnd::Heading(level)) => {
            let level = below_page(level, inside.below);
            Some(Event::End(TagEnd::Heading(level)))
        }
        Event::Start(Tag::Link {
            link_type,
            dest_url,
            title,
            id,
        }) => {
            let target = target(&dest_url, page_of);
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

/// The first level is the page's own title.
fn below_page(level: HeadingLevel, below: usize) -> HeadingLevel {
    let level = (level as usize).max(2) + below;
    HeadingLevel::try_from(level).unwrap_or(HeadingLevel::H6)
}

/// Where a link may lead: another card, a page of the site, the web, mail. None for anything else
/// (`javascript:` and its like), which then stays as plain text.
fn target(written: &str, page_of: &impl Fn(&str) -> Option<String>) -> Option<String> {
    if let Some(page) = page_of(written) {
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
