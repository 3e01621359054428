//! Decks to pages: what stands on them, that links lead somewhere, that nothing can run.

mod calculators;
mod drawings;
mod lessons;
mod look;
mod told;

use loomleaf::card::{Deck, Seat, Shape, Side};
use loomleaf::finding::Severity;
use loomleaf::publish::pipeline::prepare;
use loomleaf::publish::{Files, SiteOptions, site};
use loomleaf::sheet::Sheet;
use std::collections::BTreeSet;
use std::sync::OnceLock;

const DECK: &str = "\
title: Tern Island Ferries workshop
says: Circuit cards for the shuttle vans and the ferry ramps
systems: {engine: Van engine}
";

const LIFT: &str = "\
title: Lift & ramp position sensor
family: position-pot
codes: [C1124]
fits: ['Harbour shuttle, 2017-2020']
also_called: [hinge sensor]
pins:
  A: {role: reference, wire: YE}
  B: {role: ground, wire: BK}
  C: {role: signal, wire: GNWH}
parameters: {pull: down}
signal:
  - {at: lift down, reads: 0.95 to 1.15 V}
  - {at: lift up, reads: 4.1 to 4.4 V}
scan: [{name: Lift 1, kind: raw}]
connector: {shape: rectangular, rows: [[A, B, C]], keying: left, view: harness mating face}
wires: {signal: {length: 3.5 m, size: 0.5 mm2}}
sources: [{kind: published, says: Drawing L-3, covers: [pins]}]
cautions: [moving-parts]
notes: |
  # Where it sits

  Behind the step; see [coolant](coolant.yaml) and *lift* it.
";

const COOLANT: &str = "\
title: Coolant temperature sensor
family: thermistor-2wire
system: engine
codes: [P0117, P0118]
fits: [Harbour shuttle 2017-2020]
pins:
  1: {role: signal, wire: GNYE}
  2: {role: ground, wire: BN}
";

/// The deck above, solved once.
fn solved() -> (Deck, Vec<Sheet>) {
    static SOLVED: OnceLock<(Deck, Vec<Sheet>)> = OnceLock::new();
    let solve = || {
        let folder = tempfile::tempdir().unwrap();
        std::fs::create_dir(folder.path().join("cards")).unwrap();
        for (name, text) in [
            ("deck.yaml", DECK),
            ("cards/lift.yaml", LIFT),
            ("cards/coolant.yaml", COOLANT),
        ] {
            std::fs::write(folder.path().join(name), text).unwrap();
        }
        let prepared = prepare(folder.path()).unwrap();
        assert_eq!(prepared.findings, []);
        (prepared.deck.unwrap(), prepared.sheets)
    };
    SOLVED.get_or_init(solve).clone()
}

/// The pages of the deck above after a change to it.
fn pages(change: impl FnOnce(&mut Deck, &mut Vec<Sheet>)) -> Files {
    let (mut deck, mut sheets) = solved();
    change(&mut deck, &mut sheets);
    let (files, findings) = site(&deck, &sheets, &SiteOptions::default());
    assert_eq!(findings, [], "a good deck gives no findings");
    files
}

fn page(files: &Files, path: &str) -> String {
    let bytes = files
        .get(path)
        .unwrap_or_else(|| panic!("{path} is missing"));
    // A space that keeps a number with its unit reads like any other here.
    String::from_utf8(bytes.clone())
        .unwrap()
        .replace('\u{a0}', " ")
}

/// A page's text holds every one of `expected`, in this order.
fn check_reads_in_order(html: &str, expected: &[&str]) {
    let mut rest = html;
    for words in expected {
        let at = rest
            .find(words)
            .unwrap_or_else(|| panic!("`{words}` not found in {rest}"));
        rest = &rest[at + words.len()..];
    }
}

#[test]
fn a_deck_becomes_a_page_for_each_thing_people_look_for() {
    let files = pages(|_, _| {});
    for path in [
        "about/index.html",
        "cards/coolant/index.html",
        "cards/lift/index.html",
        "codes/C1124/index.html",
        "codes/P0117/index.html",
        "codes/P0118/index.html",
        "families/position-pot/index.html",
        "families/thermistor-2wire/index.html",
        "index.html",
        "systems/engine/index.html",
        "systems/no-system/index.html",
        "vehicles/harbour-shuttle-2017-2020/index.html",
        "vehicles/harbour-shuttle-2017-2020-2/index.html",
    ] {
        assert!(files.contains_key(path), "{path} is missing");
    }
}

#[test]
fn a_card_reads_in_the_order_of_the_work() {
    let html = page(&pages(|_, _| {}), "cards/lift/index.html");
    let words = [
        "Lift &amp; ramp position sensor</h1>",
        "C1124",
        "First: ",
        "Unplugged, key on.",
        "Red lead on <b>A</b>, black on <b>B</b>",
        "class=\"reads\">4.",
        "Moving parts",
        "<h2 id=\"pins\">",
        "published: Drawing L-3",
        "YE",
        "yellow",
        "<h2 id=\"expected\">",
        "lift down",
        "<h2 id=\"order\">",
        "A (reference)",
        "card: 0.95 to 1.15 V",
        "<h2 id=\"signal\">",
        "The module sets a code below",
        "<h2 id=\"values\">",
        "readings/index.html#values",
        "<h2 id=\"notes\">",
        "Where it sits",
        "Drawing L-3",
    ];
    check_reads_in_order(&html, &words);
}

#[test]
fn every_value_row_says_where_it_comes_from() {
    let html = page(&pages(|_, _| {}), "cards/lift/readings/index.html");
    let values = html.split("id=\"values\"").nth(1).unwrap();
    let body = values
        .split("<tbody>")
        .nth(1)
        .unwrap()
        .split("</tbody>")
        .next()
        .unwrap();
    let rows: Vec<&str> = body.split("<tr").skip(1).collect();
    assert_eq!(rows.len(), solved().1[1].values.len());
    for row in rows {
        let from = row.split("data-label=\"From\">").nth(1).unwrap();
        assert!(!from.starts_with("</td>"), "{row}");
    }
}

#[test]
fn a_lead_is_drawn_where_it_goes_from_the_side_that_is_probed() {
    // The key is at the left of the mating face, so from the wire side it is at the right.
    let html = page(&pages(|_, _| {}), "cards/lift/index.html");
    let described = |test: &str| {
        let drawing = html.split(&format!("id=\"test-{test}\"")).nth(1).unwrap();
        let drawing = drawing.split_once("<desc>").unwrap().1;
        drawing.split("</desc>").next().unwrap().to_owned()
    };
    let unplugged =
        "Left to right: A reference, B ground, C signal. Red lead on pin A. Black lead on pin B.";
    assert_eq!(described("supply"), unplugged);
    let behind =
        "Left to right: C signal, B ground, A reference. Red lead on pin C. Black lead on pin B.";
    assert_eq!(described("at-rest"), behind);
}

#[test]
fn what_each_reading_means_stands_beside_its_test() {
    let files = pages(|_, _| {});
    let html = page(&files, "cards/coolant/index.html");
    let words = [
        "id=\"test-supply\"",
        "What the reading means",
        "<b>Good.</b>",
        "the ground wire (pin 2) is open",
        "readings/index.html#test-supply\">Every reading",
        "id=\"test-",
        "<h2 id=\"apart\">",
        "<h2 id=\"resistance\">",
        "can pass with up to",
        "readings/index.html#resistance",
    ];
    check_reads_in_order(&html, &words);
    let words = [
        "id=\"test-supply\"",
        "Every reading, ",
        "<b>Good.</b>",
        "the ground wire (pin 2) is open",
        "This reading can never show: ",
        "<h2 id=\"resistance\">",
        "100 ohm changes the temperature shown by",
        "Signal against series resistance in the ground wire",
    ];
    check_reads_in_order(&page(&files, "cards/coolant/readings/index.html"), &words);
    let supply = html.split("id=\"test-supply\"").nth(1).unwrap();
    let short = supply.split("</details>").next().unwrap();
    assert!(
        short.contains("<details class=\"outcomes\" open>"),
        "the first is open"
    );
    let folded = html.matches("<details class=\"outcomes\">").count();
    assert!(folded >= 4, "the others are folded: {folded}");
    assert!(short.matches("<tr>").count() <= 7, "six rows and a head");
}

#[test]
fn pins_of_a_round_connector_change_places_from_behind() {
    let html = page(
        &pages(|deck, _| {
            deck.cards[1].connector.shape = Shape::Round;
            deck.cards[1].connector.keying = Some(Side::Top);
        }),
        "cards/lift/index.html",
    );
    let behind = "Clockwise from the top: A reference, C signal, B ground.";
    check_reads_in_order(
        &html,
        &[
            "Clockwise from the top: A reference, B ground, C signal.",
            behind,
        ],
    );
}

#[test]
fn nothing_a_deck_says_can_run_or_load() {
    let files = pages(|deck, _| {
        deck.title = "<script>alert(1)</script>".to_owned();
        deck.cards[0].title.value = "\"><img src=x onerror=alert(1)>".to_owned();
        deck.cards[0].notes = "<script>alert(2)</script>\n\n<b onclick=\"x\">bold</b> \
            [tap](javascript:alert(3)) ![picture](https://elsewhere.example/x.png)"
            .to_owned();
    });
    let banned = [
        "<script",
        "<img",
        "javascript:",
        "onclick",
        " style=\"",
        "<style",
        "elsewhere.example",
    ];
    // Scripts that ship with the program, by their hashed names, are no deck's.
    for path in files.keys().filter(|path| path.ends_with(".html")) {
        let root = match path.as_str() {
            "404.html" => "/".to_owned(),
            path => "../".repeat(path.matches('/').count()),
        };
        let own = format!("<script type=\"module\" src=\"{root}assets/parts/");
        let comfort = format!("<script src=\"{root}assets/parts/comfort-");
        let text = page(&files, path).replace(&own, "").replace(&comfort, "");
        for word in banned {
            assert!(!text.contains(word), "{word} in {path}");
        }
    }
}

#[test]
fn every_page_defers_to_the_maker() {
    let files = pages(|_, _| {});
    for path in files.keys().filter(|path| path.ends_with(".html")) {
        let html = page(&files, path);
        check_reads_in_order(
            &html,
            &[
                "<html lang=\"en\">",
                "default-src 'none'",
                "<main id=\"content\">",
                "<h1",
                "service information, local codes and licensed practice",
            ],
        );
        assert_eq!(html.matches("<h1").count(), 1, "{path}");
    }
}

#[test]
fn no_page_has_two_places_of_one_name() {
    let files = pages(|_, _| {});
    for path in files.keys().filter(|path| path.ends_with(".html")) {
        let text = page(&files, path);
        let ids = text
            .split(" id=\"")
            .skip(1)
            .map(|rest| rest.split('"').next().unwrap());
        let ids: Vec<&str> = ids.collect();
        assert_eq!(
            ids.len(),
            ids.iter().collect::<BTreeSet<_>>().len(),
            "{path}: {ids:?}"
        );
    }
}

#[test]
fn the_same_deck_gives_the_same_bytes() {
    assert_eq!(pages(|_, _| {}), pages(|_, _| {}));
}

#[test]
fn a_link_that_leads_nowhere_stops_publishing() {
    let (mut deck, sheets) = solved();
    deck.cards[1].notes =
        "See [there](coolant.yaml), [here](lost.yaml), [up](#nowhere).".to_owned();
    let (_, findings) = site(&deck, &sheets, &SiteOptions::default());
    let told: Vec<(&str, &str)> = findings
        .iter()
        .map(|finding| (finding.place.file.as_str(), finding.message.as_str()))
        .collect();
    let on = "on page cards/lift/index.html leads nowhere, expected a page of the site";
    let (nowhere, lost) = (
        format!("link `#nowhere` {on}"),
        format!("link `lost.yaml` {on}"),
    );
    assert_eq!(
        told,
        [
            ("cards/lift.yaml", nowhere.as_str()),
            ("cards/lift.yaml", lost.as_str())
        ]
    );
    assert!(
        findings
            .iter()
            .all(|finding| finding.kind.severity == Severity::Error)
    );
}

#[test]
fn a_card_without_a_sheet_has_no_page() {
    let files = pages(|deck, sheets| {
        sheets.pop();
        deck.cards[0].notes.clear();
    });
    assert!(!files.contains_key("cards/lift/index.html"));
    assert!(!page(&files, "index.html").contains("Lift &amp; ramp"));
}

#[test]
fn an_empty_deck_says_what_to_do() {
    let files = pages(|deck, sheets| {
        deck.cards.clear();
        sheets.clear();
    });
    check_reads_in_order(
        &page(&files, "index.html"),
        &["no cards yet", "families/position-pot"],
    );
}

#[test]
fn a_sheet_with_nothing_in_it_is_still_a_page() {
    let files = pages(|deck, sheets| {
        deck.cards[1].connector.rows = vec![vec![Seat::Pin("Z".to_owned())], Vec::new()];
        deck.cards[1].connector.shape = Shape::Round;
        let sheet = &mut sheets[1];
        sheet.pins.clear();
        sheet.tests.clear();
        sheet.in_order = 7;
        sheet.signal = None;
        sheet.values.clear();
        sheet.cautions.clear();
    });
    let html = page(&files, "cards/lift/index.html");
    check_reads_in_order(&html, &["No test for this circuit yet"]);
    assert!(!html.contains("NaN") && !html.contains("=\"inf"), "{html}");
}
