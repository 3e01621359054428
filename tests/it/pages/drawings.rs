//! Drawings of all families: each says all of its circuit, letters never lie over each other, leads stand where
//! the words send them.

use super::{check_reads_in_order, page, pages};
use loomleaf::card::{View, read, shipped};
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
        let drawn = html.split("id=\"drawn\"").nth(1).unwrap();
        let drawn = drawn.split_once("<desc>").unwrap().1;
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
    let deck = crate::families::long();
    let long = site(&deck, &sheets(&deck).0, &SiteOptions::default()).0;
    let short = families().1.iter().map(|one| (one, 410.0));
    for ((path, bytes), widest) in short.chain(long.iter().map(|one| (one, 480.0))) {
        if !path.starts_with("cards/") {
            continue;
        }
        let html = std::str::from_utf8(bytes).unwrap();
        let pictures = html.split("<svg").skip(1);
        // Charts have their own axes of numbers; these are the drawings of things.
        for picture in pictures.filter(|one| {
            ["<title>The circuit", "<title>Harness", "<title>The part"]
                .iter()
                .any(|what| one.contains(what))
        }) {
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
            assert!(width <= widest, "{path}: {width} wide");
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
        let drawing = html.split(&format!("id=\"test-{test}\"")).nth(1).unwrap();
        let drawing = drawing.split_once("<desc>").unwrap().1;
        drawing.split("</svg>").next().unwrap().to_owned()
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

/// The first words of the first drawing after a place on a page, and what stands under it.
fn seen(html: &str, after: &str) -> (String, String) {
    let drawn = html.split_once(after).unwrap().1;
    let says = drawn.split_once("<desc>").unwrap().1;
    let caption = drawn.split_once("<figcaption>").unwrap().1;
    let until = |text: &str, end: &str| text.split(end).next().unwrap().to_owned();
    (until(says, "</desc>"), until(caption, "</figcaption>"))
}

#[test]
fn a_card_shows_the_face_that_is_probed_as_bench_mode_does() {
    // Typed from the part's front: A at the left, the key at the left. The harness connector, looked into, is its mirror.
    let files = pages(|deck, _| {
        let lift = deck.cards.iter_mut().find(|card| card.id == "lift");
        lift.unwrap().connector.view = View::PartFace;
    });
    let (card, caption) = seen(&page(&files, "cards/lift/index.html"), "class=\"first\"");
    assert_eq!(
        caption,
        "Harness connector, looking into its mating face; key at the right."
    );
    assert!(
        card.starts_with("Left to right: C signal, B ground, A reference. Red lead on pin A."),
        "{card}"
    );
    let bench = page(&files, "cards/lift/bench/index.html");
    let (bench, view) = seen(&bench, "data-test=\"supply\"");
    assert_eq!((card, "mating face"), (bench, view.as_str()));
}

#[test]
fn a_connector_without_places_says_so_on_the_card_and_in_bench_mode() {
    let files = pages(|_, _| {});
    let (_, caption) = seen(&page(&files, "cards/coolant/index.html"), "class=\"first\"");
    let (_, view) = seen(
        &page(&files, "cards/coolant/bench/index.html"),
        "data-test=\"supply\"",
    );
    let not_given = "laces of the pins not given";
    assert!(
        caption.contains(not_given) && view.contains(not_given),
        "{caption} / {view}"
    );
}

/// A connector of three rows of ten that carries two pins of this circuit, and has one empty place.
const SHARED: &str = "\
title: Coolant temperature
family: thermistor-2wire
pins:
  4: {role: signal}
  17: {role: ground}
connector:
  rows:
    - [(1), (2), (3), 4, (5), (6), (7), (8), (9), (10)]
    - [(11), (12), (13), (14), (15), (16), 17, (18), (19), (20)]
    - [_, (22), (23), (24), (25), (26), (27), (28), (29), (30)]
";

#[test]
fn places_of_other_circuits_are_drawn_plainly_and_told_together() {
    let read_deck = |card: &str| {
        let files = [("deck.yaml", "title: Shared\n"), ("cards/one.yaml", card)];
        let files = files.map(|(path, text)| (path.to_owned(), text.as_bytes().to_vec()));
        read(&files.into_iter().collect(), &shipped())
    };
    let (deck, findings) = read_deck(SHARED);
    assert_eq!(findings, []);
    let deck = deck.unwrap();
    let files = site(&deck, &sheets(&deck).0, &SiteOptions::default()).0;
    let html = page(&files, "cards/one/index.html");
    let (says, _) = seen(&html, "class=\"first\"");
    let told =
        "Row 1, left to right: 3 places of no concern here, 4 signal, 6 places of no concern here.";
    assert!(says.starts_with(told), "{says}");
    assert!(
        says.contains("Red lead on pin 4. Black lead on pin 17."),
        "{says}"
    );
    for label in [4, 17, 1, 30] {
        assert!(html.contains(&format!(">{label}</text>")), "{label}");
    }
    // A pin of the card is none of another circuit's, and a label without brackets must be one of the card's.
    for (typed, wrong, hint) in [("(1)", "(4)", "without brackets"), ("(30)", "30", "`(30)`")] {
        let (_, findings) = read_deck(&SHARED.replace(typed, wrong));
        let hints = findings.iter().filter_map(|one| one.hint.as_deref());
        assert!(
            hints.into_iter().any(|one| one.contains(hint)),
            "{wrong}: {findings:?}"
        );
    }
}

/// Where no module has a hand in a circuit, nothing is drawn inside one; an unplugged pin is told with the relay on, too.
#[test]
fn a_load_fed_through_a_relay_has_no_module() {
    let (sheets, files) = families();
    let sheet = sheets
        .iter()
        .find(|one| one.card.starts_with("load-relay-fed"));
    let html = page(files, &format!("cards/{}/index.html", sheet.unwrap().card));
    let drawn = html.split("id=\"drawn\"").nth(1).unwrap();
    let drawn = drawn.split("</figure>").next().unwrap();
    assert!(
        !drawn.contains("module") && drawn.contains("outside the part"),
        "{drawn}"
    );
    let pins = html.split("id=\"pins\"").nth(1).unwrap();
    let supply = pins.split("data-label=\"Unplugged\">").nth(1).unwrap();
    let supply = supply.split("</td>").next().unwrap();
    assert!(
        supply.contains("drifts") && supply.contains("relay on: "),
        "{supply}"
    );
}
