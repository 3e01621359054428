//! SVG: one writer of elements; all text and attribute values are escaped here and nowhere else.
//!
//! In: names, numbers and text. Out: SVG text. Numbers are written to a tenth of a unit, so that the
//! same drawing is the same bytes on every machine.

use crate::publish::units::Both;

/// An element with its attributes and what is in it.
pub(super) struct Element {
    name: &'static str,
    attributes: String,
    content: String,
}

/// A drawing. Browsers take its title and description for what it is called and told as, so neither needs an id.
pub(super) struct Picture<'a> {
    /// What it is.
    pub(super) title: &'a str,
    /// What it shows, for those who can't see it.
    pub(super) describes: &'a str,
    /// Natural width in CSS pixels.
    pub(super) width: f64,
    /// Natural height in CSS pixels.
    pub(super) height: f64,
}

/// A drawing as it goes onto a page, with its natural size in CSS pixels for whoever lays it out.
pub(in crate::publish) struct Drawing {
    /// As written.
    pub(in crate::publish) svg: String,
    /// Across.
    pub(in crate::publish) width: f64,
    /// Down.
    pub(in crate::publish) height: f64,
}

impl Picture<'_> {
    /// The drawing with these elements in it, with its size.
    pub(super) fn sized(&self, elements: Vec<Element>) -> Drawing {
        Drawing {
            svg: self.of(elements),
            width: self.width,
            height: self.height,
        }
    }

    /// The drawing with these elements in it, for a page.
    pub(super) fn of(&self, elements: Vec<Element>) -> String {
        self.root(Element::new("svg"), elements)
    }

    /// The same as a file of its own.
    pub(super) fn file(&self, elements: Vec<Element>) -> String {
        let root = Element::new("svg").word("xmlns", "http://www.w3.org/2000/svg");
        self.root(root, elements)
    }

    fn root(&self, root: Element, elements: Vec<Element>) -> String {
        let mut root = root
            .word(
                "viewBox",
                &format!("0 0 {} {}", number(self.width), number(self.height)),
            )
            .number("width", self.width)
            .number("height", self.height)
            .word("role", "img")
            .child(Element::new("title").text(self.title))
            .child(Element::new("desc").text(self.describes));
        for element in elements {
            root = root.child(element);
        }
        root.written()
    }
}

impl Element {
    /// An empty element.
    pub(super) fn new(name: &'static str) -> Self {
        Self {
            name,
            attributes: String::new(),
            content: String::new(),
        }
    }

    /// With an attribute that is a word.
    pub(super) fn word(mut self, name: &str, value: &str) -> Self {
        self.attributes.push(' ');
        self.attributes.push_str(name);
        self.attributes.push_str("=\"");
        escape(value, &mut self.attributes);
        self.attributes.push('"');
        self
    }

    /// With an attribute that is a number.
    pub(super) fn number(self, name: &str, value: f64) -> Self {
        self.word(name, &number(value))
    }

    /// With text in it.
    pub(super) fn text(mut self, text: &str) -> Self {
        escape(text, &mut self.content);
        self
    }

    /// With an element in it.
    pub(super) fn child(mut self, child: Self) -> Self {
        self.content.push_str(&child.written());
        self
    }

    fn written(self) -> String {
        let Self {
            name,
            attributes,
            content,
        } = self;
        if content.is_empty() {
            return format!("<{name}{attributes}/>");
        }
        format!("<{name}{attributes}>{content}</{name}>")
    }
}

/// A rectangle.
pub(super) fn rectangle(x: f64, y: f64, width: f64, height: f64) -> Element {
    Element::new("rect")
        .number("x", x)
        .number("y", y)
        .number("width", width)
        .number("height", height)
}

/// A circle.
pub(super) fn circle(x: f64, y: f64, radius: f64) -> Element {
    Element::new("circle")
        .number("cx", x)
        .number("cy", y)
        .number("r", radius)
}

/// A straight line.
pub(super) fn line(from: (f64, f64), to: (f64, f64)) -> Element {
    Element::new("line")
        .number("x1", from.0)
        .number("y1", from.1)
        .number("x2", to.0)
        .number("y2", to.1)
        .word("stroke", "currentColor")
}

/// A word, its foot at `y`, its middle at `x`.
pub(super) fn label(x: f64, y: f64, size: f64, text: &str) -> Element {
    Element::new("text")
        .number("x", x)
        .number("y", y)
        .number("font-size", size)
        .word("text-anchor", "middle")
        .word("fill", "currentColor")
        .text(text)
}

/// Words in the units of each kind of reader; style shows one of the two.
pub(super) fn in_both(says: &Both, write: impl Fn(&str) -> Element) -> Vec<Element> {
    match says.us.is_empty() {
        true => vec![write(&says.si)],
        false => vec![
            write(&says.si).word("class", "si"),
            write(&says.us).word("class", "us"),
        ],
    }
}

/// Words from `x` on, their foot at `y`.
pub(super) fn words(x: f64, y: f64, size: f64, text: &str) -> Element {
    Element::new("text")
        .number("x", x)
        .number("y", y)
        .number("font-size", size)
        .word("fill", "currentColor")
        .text(text)
}

/// A path of these steps.
pub(super) fn path(steps: &str) -> Element {
    Element::new("path").word("d", steps)
}

/// An outline: nothing inside, drawn in the page's ink.
pub(super) fn outlined(element: Element, width: f64) -> Element {
    element
        .word("fill", "none")
        .word("stroke", "currentColor")
        .number("stroke-width", width)
}

/// To a tenth of a unit, without a trailing zero and without a negative zero.
fn number(value: f64) -> String {
    let mut text = format!("{value:.1}");
    if text.ends_with(".0") {
        text.truncate(text.len() - 2);
    }
    if text == "-0" { "0".to_owned() } else { text }
}

fn escape(text: &str, into: &mut String) {
    for letter in text.chars() {
        match letter {
            '&' => into.push_str("&amp;"),
            '<' => into.push_str("&lt;"),
            '>' => into.push_str("&gt;"),
            '"' => into.push_str("&quot;"),
            // Control characters are not allowed in SVG at all.
            letter if letter.is_control() => into.push(' '),
            letter => into.push(letter),
        }
    }
}
