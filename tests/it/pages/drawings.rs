//! Drawings of all families: each says all of its circuit, letters never lie over each other, leads stand where
//! the words send them.

use super::{check_reads_in_order, page, pages};
use loomleaf::circuit::{ElementKind, Network, Site};
use loomleaf::publish::{Files, SiteOptions, site};
use loomleaf::sheet::{Sheet, sheets};
use std::sync::OnceLock;

/// A site with a card of every family, in every answer to what a card may leave open.
fn families() -> &'static (Vec<Sheet>, Files) {
    static BUILT: OnceLock<(Vec<Sheet>, Files)> = OnceLock::new();
    BUILT.get_or_init(|| {
        let (deck, _) = crate::families::deck();
        let (sheets, _) = sheets(&deck);
        let (files, findings) = site(&deck, &sheets, &SiteOptions::default());
        assert_eq!(findings, []);
        (sheets, files)
    })
}

/// What lies in the parts of a circuit: all but battery, wires, contacts, supplies and inputs.
fn inner(network: &Network) -> Vec<&str> {
    let reads = |element: &loomleaf::circuit::Element| {
        let nodes = element.kind.nodes();
        network
            .inputs()
            .iter()
            .any(|input| nodes.contains(&input.node))
    };
    network
        .elements()
        .iter()
        .filter(|one| {
            !matches!(
                one.site,
                Site::Wire(_) | Site::Contact(_) | Site::ModuleGround
            )
        })
        .filter(|one| !matches!(one.kind, ElementKind::Regulator { .. }) && !reads(one))
        .map(|one| one.name.as_str())
        .filter(|name| !["battery", "module draw"].contains(name))
        .collect()
}

#[test]
fn the_drawn_circuit_names_every_pin_and_every_part() {
    let (sheets, files) = families();
    assert!(sheets.len() > 25, "{} cards", sheets.len());
    for sheet in sheets {
        let html = page(files, &format!("cards/{}/index.html", sheet.card));
        let drawn = html.split("id=\"circuit-drawing-desc\">").nth(1).unwrap();
        let (says, rest) = drawn.split_once("</desc>").unwrap();
        let (picture, list) = rest.split_once("</svg>").unwrap();
        let list = list.split("</ul>").next().unwrap();
        for pin in &sheet.pins {
            let told = format!("Pin {} ({})", pin.label, pin.role);
            assert!(says.contains(&told), "{}: {told}\n{says}", sheet.card);
            assert!(
                picture.contains(&format!(">{}</text>", pin.label)),
                "{}",
                sheet.card
            );
        }
        let parts = inner(&sheet.variants[0].network);
        assert!(!parts.is_empty(), "{}", sheet.card);
        for part in &parts {
            assert!(
                says.contains(&format!(", {part}: ")),
                "{}: {part}\n{says}",
                sheet.card
            );
            let line = list
                .split("<li>")
                .find(|line| line.contains(&format!("</b> {part}")));
            let line = line.unwrap_or_else(|| panic!("{}: {part} is not in {list}", sheet.card));
            let tag = line.split("</b>").next().unwrap().trim_start_matches("<b>");
            assert!(
                picture.contains(&format!(">{tag}</text>")),
                "{}: {tag}",
                sheet.card
            );
        }
        assert_eq!(list.matches("<li>").count(), parts.len(), "{}", sheet.card);
    }
}

/// A text in a drawing: its box, by a mean width of letters.
#[derive(Debug)]
struct Text {
    words: String,
    left: f64,
    right: f64,
    top: f64,
    foot: f64,
}

fn texts(picture: &str) -> Vec<Text> {
    let number = |tag: &str, name: &str| -> f64 {
        let value = tag.split(&format!(" {name}=\"")).nth(1).unwrap();
        value.split('"').next().unwrap().parse().unwrap()
    };
    let text = |part: &str| {
        let (tag, rest) = part.split_once('>').unwrap();
        let words = rest.split('<').next().unwrap().to_owned();
        let (x, y, size) = (number(tag, "x"), number(tag, "y"), number(tag, "font-size"));
        let width = words.chars().count() as f64 * size * 0.55;
        let left = if tag.contains("\"middle\"") {
            x - width / 2.0
        } else {
            x
        };
        Text {
            words,
            left,
            right: left + width,
            top: y - size * 0.75,
            foot: y,
        }
    };
    picture.split("<text").skip(1).map(text).collect()
}

#[test]
fn letters_of_a_drawing_lie_inside_it_and_never_over_each_other() {
    let mut seen = 0;
    for (path, bytes) in &families().1 {
        if !path.starts_with("cards/") {
            continue;
        }
        let html = std::str::from_utf8(bytes).unwrap();
        let pictures = html.split("<svg").skip(1);
        // Charts have their own axes of numbers; these are the drawings of things.
        for picture in
            pictures.filter(|one| one.contains("\"circuit-drawing") || one.contains("\"face"))
        {
            let picture = picture.split("</svg>").next().unwrap();
            let size = picture.split("viewBox=\"0 0 ").nth(1).unwrap();
            let mut size = size.split('"').next().unwrap().split(' ');
            let width: f64 = size.next().unwrap().parse().unwrap();
            let height: f64 = size.next().unwrap().parse().unwrap();
            let texts = texts(picture);
            for (number, one) in texts.iter().enumerate() {
                let inside = one.left > -1.0 && one.right < width + 1.0 && one.foot < height;
                assert!(
                    inside && one.top > 0.0,
                    "{path}: {one:?} in {width} x {height}"
                );
                for other in &texts[number + 1..] {
                    let apart = one.right <= other.left
                        || other.right <= one.left
                        || one.foot <= other.top
                        || other.foot <= one.top;
                    assert!(apart, "{path}: `{}` lies over `{}`", one.words, other.words);
                }
            }
            // A phone's column: wider is made smaller, and letters with it.
            assert!(width <= 410.0, "{path}: {width} wide");
            seen += 1;
        }
    }
    assert!(seen > 100, "{seen} drawings");
}

#[test]
fn jumpers_loads_and_good_ground_are_drawn_and_told() {
    let files = pages(|_, _| {});
    let says = |card: &str, test: &str| {
        let html = page(&files, &format!("cards/{card}/index.html"));
        let drawing = html.split(&format!("id=\"face-{test}-desc\">")).nth(1);
        drawing.unwrap().split("</svg>").next().unwrap().to_owned()
    };
    // The lift's open input rests low, so its signal is forced to the reference.
    check_reads_in_order(
        &says("lift", "force"),
        &["Jumper from pin C to pin A.</desc>", ">jumper: C to A<"],
    );
    check_reads_in_order(
        &says("coolant", "loaded"),
        &[
            "Red lead on pin 1. Black lead on pin 2.",
            "A load of 1 kohm from pin 1 to pin 2.",
        ],
    );
    check_reads_in_order(
        &says("coolant", "ground-load"),
        &[
            "Black lead on good ground.",
            "from battery plus to pin 2.",
            ">good ground<",
            ">battery plus<",
        ],
    );
    // The part's own pins, looked at from its front: the harness connector mirrored.
    let alone = says("lift", "track-ohms");
    let mirrored = "Left to right: C signal, B ground, A reference. Red lead on pin A.";
    check_reads_in_order(&alone, &[mirrored, "part's pins"]);
}
