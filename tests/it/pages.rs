//! Deck and sheets to pages: what stands on them, that links lead somewhere, that nothing can run.
//!
//! The fixture is made by hand: its bands are placeholders, and no test here says they are right.

use loomleaf::card::*;
use loomleaf::circuit::{Band, HookUp, Meter, Network, NodeId, Observe, Reading, Setting};
use loomleaf::finding::{Place, Severity};
use loomleaf::publish::{Files, SiteOptions, site};
use loomleaf::quantity::{Dimension, Interval, Toleranced};
use loomleaf::sheet::*;
use std::collections::{BTreeMap, BTreeSet};

/// The pages of the fixture after a change to it.
fn pages(change: impl FnOnce(&mut Deck, &mut Vec<Sheet>)) -> Files {
    let (mut deck, mut sheets) = fixture();
    change(&mut deck, &mut sheets);
    let (files, findings) = site(&deck, &sheets, &SiteOptions::default());
    assert_eq!(findings, [], "a good deck gives no findings");
    files
}

fn page(files: &Files, path: &str) -> String {
    let bytes = files
        .get(path)
        .unwrap_or_else(|| panic!("{path} is missing"));
    String::from_utf8(bytes.clone()).unwrap()
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
    let paths: Vec<&str> = files
        .keys()
        .map(String::as_str)
        .filter(|path| path.ends_with(".html"))
        .collect();
    let expected = [
        "about/index.html",
        "cards/coolant/index.html",
        "cards/lift/index.html",
        "codes/C1124/index.html",
        "codes/P0117/index.html",
        "codes/P0118/index.html",
        "families/position-pot/index.html",
        "families/thermistor/index.html",
        "index.html",
        "systems/engine/index.html",
        "systems/no-system/index.html",
        "vehicles/harbour-shuttle-2017-2020/index.html",
        "vehicles/harbour-shuttle-2017-2020-2/index.html",
    ];
    assert_eq!(paths, sorted(&expected));
}

fn sorted<'a>(texts: &[&'a str]) -> Vec<&'a str> {
    texts
        .iter()
        .copied()
        .collect::<BTreeSet<_>>()
        .into_iter()
        .collect()
}

#[test]
fn a_card_reads_in_the_order_of_the_work() {
    let files = pages(|_, _| {});
    check_reads_in_order(
        &page(&files, "cards/lift/index.html"),
        &[
            "<h1>Lift &amp; ramp position sensor</h1>",
            "C1124",
            "First: ",
            "Unplugged, key on.",
            "Red lead on <b>A</b>, black on <b>B</b>",
            "4.87\u{a0}to\u{a0}5.13\u{a0}V",
            "Moving parts",
            "<h2 id=\"pins\">",
            "YE",
            "yellow",
            "<h2 id=\"expected\">",
            "lift down",
            "<h2 id=\"order\">",
            "Supply across the pins",
            "A (reference), harness side",
            "stated on the card",
            "More tests for this circuit",
            "<h2 id=\"signal\">",
            "Card states",
            "<h2 id=\"values\">",
            "family default",
            "<h2 id=\"notes\">",
            "Drawing L-3",
        ],
    );
}

#[test]
fn every_value_row_says_where_it_comes_from() {
    let html = page(&pages(|_, _| {}), "cards/lift/index.html");
    let values = html.split("id=\"values\"").nth(1).unwrap();
    let body = values
        .split("<tbody>")
        .nth(1)
        .unwrap()
        .split("</tbody>")
        .next()
        .unwrap();
    let rows: Vec<&str> = body.split("<tr").skip(1).collect();
    assert_eq!(rows.len(), 3);
    for row in rows {
        let from = row.split("data-label=\"From\">").nth(1).unwrap();
        assert!(!from.starts_with("</td>"), "{row}");
    }
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
    for (path, bytes) in &files {
        let text = std::str::from_utf8(bytes).unwrap();
        for banned in [
            "<script",
            "<img",
            "javascript:",
            "onclick",
            " style=\"",
            "<style",
            "elsewhere.example",
        ] {
            assert!(!text.contains(banned), "{banned} in {path}");
        }
    }
}

#[test]
fn every_page_carries_the_policy_and_defers_to_the_maker() {
    for (path, bytes) in pages(|_, _| {}) {
        let text = String::from_utf8(bytes).unwrap();
        if path.ends_with(".html") {
            check_reads_in_order(
                &text,
                &[
                    "<html lang=\"en\">",
                    "default-src 'none'",
                    "<main id=\"content\">",
                    "<h1",
                    "service information, local codes and licensed practice",
                ],
            );
            assert_eq!(text.matches("<h1").count(), 1, "{path}");
        }
    }
}

#[test]
fn no_page_has_two_places_of_one_name() {
    for (path, bytes) in pages(|_, _| {}) {
        let text = String::from_utf8(bytes).unwrap();
        let ids: Vec<&str> = text
            .split(" id=\"")
            .skip(1)
            .map(|rest| rest.split('"').next().unwrap())
            .collect();
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
    let (mut deck, sheets) = fixture();
    deck.cards[1].notes =
        "See [there](coolant.yaml), [here](lost.yaml), [up](#nowhere).".to_owned();
    let (_, findings) = site(&deck, &sheets, &SiteOptions::default());
    let told: Vec<(&str, &str)> = findings
        .iter()
        .map(|finding| (finding.place.file.as_str(), finding.message.as_str()))
        .collect();
    let on = "on page cards/lift/index.html leads nowhere, expected a page of the site";
    assert_eq!(
        told,
        [
            ("cards/lift.yaml", format!("link `#nowhere` {on}").as_str()),
            ("cards/lift.yaml", format!("link `lost.yaml` {on}").as_str()),
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
    let files = pages(|_, sheets| {
        sheets.pop();
    });
    assert!(!files.contains_key("cards/lift/index.html"));
    assert!(!page(&files, "index.html").contains("lift"));
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
        deck.cards[1].connector.rows = vec![vec!["Z".to_owned()], Vec::new()];
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

#[test]
fn a_card_and_the_style_arrive_in_the_first_round_trip() {
    // 14.6 kB is what ten packets of 1460 bytes carry: the usual first window of a connection
    // (RFC 6928).
    let files = pages(|_, _| {});
    let style = files.keys().find(|path| path.ends_with(".css")).unwrap();
    assert!(
        files[style].len() < 12_000,
        "style is {} bytes",
        files[style].len()
    );
    let together = squeezed(&files["cards/lift/index.html"]) + squeezed(&files[style]);
    assert!(together < 14_600, "{together} bytes");
}

fn squeezed(mut bytes: &[u8]) -> usize {
    let mut out = Vec::new();
    let parameters = brotli::enc::BrotliEncoderParams {
        quality: 9,
        ..Default::default()
    };
    brotli::BrotliCompress(&mut bytes, &mut out, &parameters).unwrap();
    out.len()
}

#[test]
fn ink_on_paper_can_be_read_by_day_and_night() {
    let files = pages(|_, _| {});
    let style = files.keys().find(|path| path.ends_with(".css")).unwrap();
    let css = page(&files, style);
    let night = css.split("prefers-color-scheme: dark").nth(1).unwrap();
    for (name, tokens) in [("day", css.as_str()), ("night", night)] {
        // 7:1 and 4.5:1: WCAG 2.2, success criteria 1.4.6 and 1.4.3.
        for (ink, paper, least) in [
            ("ink", "paper", 7.0),
            ("ink", "sheet", 7.0),
            ("ink", "straw", 7.0),
            ("quiet", "paper", 7.0),
            ("quiet", "sheet", 7.0),
            ("thread", "paper", 7.0),
            ("thread", "sheet", 7.0),
            ("rust", "straw", 7.0),
        ] {
            let ratio = contrast(token(tokens, ink), token(tokens, paper));
            assert!(ratio >= least, "{name}: {ink} on {paper} is {ratio:.2}");
        }
    }
}

/// The first value of a colour token in some style text.
fn token(css: &str, name: &str) -> [f64; 3] {
    let value = css.split(&format!("--{name}: #")).nth(1).unwrap();
    let digits: Vec<u32> = value
        .chars()
        .map_while(|digit| digit.to_digit(16))
        .collect();
    let pair = |at: usize| f64::from(digits[at] * 16 + digits[at + 1]);
    [pair(0), pair(2), pair(4)]
}

/// Contrast of two colours after WCAG 2.2 (relative luminance of sRGB).
fn contrast(one: [f64; 3], other: [f64; 3]) -> f64 {
    let luminance = |colour: [f64; 3]| {
        let linear = colour.map(|channel| {
            let part = channel / 255.0;
            if part <= 0.04045 {
                part / 12.92
            } else {
                libm::pow((part + 0.055) / 1.055, 2.4)
            }
        });
        0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    };
    let (a, b) = (luminance(one), luminance(other));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

#[test]
fn every_drawing_has_a_title_and_a_description() {
    for (path, bytes) in pages(|_, _| {}) {
        let text = String::from_utf8(bytes).unwrap();
        for drawing in text
            .split("<svg")
            .skip(1)
            .filter(|_| path.ends_with(".html"))
        {
            check_reads_in_order(
                drawing,
                &[
                    "role=\"img\"",
                    "aria-labelledby=",
                    "<title id=",
                    "<desc id=",
                    "</svg>",
                ],
            );
        }
    }
}

// The fixture.

fn at(file: &str) -> Place {
    Place {
        file: file.to_owned(),
        line: 1,
        column: 1,
        length: 1,
    }
}

fn placed(text: &str) -> Placed<String> {
    Placed {
        value: text.to_owned(),
        place: at("cards/lift.yaml"),
    }
}

fn all_placed(texts: &[&str]) -> Vec<Placed<String>> {
    texts.iter().map(|text| placed(text)).collect()
}

fn around(nominal: f64, part: f64) -> Toleranced {
    Toleranced {
        low: nominal * (1.0 - part),
        nominal,
        high: nominal * (1.0 + part),
    }
}

fn family(name: &str, title: &str, roles: &[&str], codes: &[&str]) -> Family {
    Family {
        name: name.to_owned(),
        file: format!("shipped/{name}.yaml"),
        title: title.to_owned(),
        says: "a sliding resistor between a 5 V reference and ground; the slider is the signal"
            .to_owned(),
        limits: "slow drift of the part with heat".to_owned(),
        roles: roles.iter().map(|&role| role.to_owned()).collect(),
        parameters: vec![
            ParameterSpec {
                name: placed("reference"),
                says: "what the module supplies".to_owned(),
                kind: ParameterKind::Value {
                    dimension: Dimension::Voltage,
                    default: around(5.0, 0.02),
                },
            },
            ParameterSpec {
                name: placed("pull"),
                says: "where the open input rests".to_owned(),
                kind: ParameterKind::Choice {
                    choices: vec!["up".to_owned(), "down".to_owned()],
                    default: "unknown".to_owned(),
                },
            },
        ],
        states: Vec::new(),
        module: Vec::new(),
        part: Vec::new(),
        tests: vec![TestSpec {
            id: placed("supply"),
            title: "Supply across the pins".to_owned(),
            plug: Plug::Unplugged,
            key: Key::On,
            links: Vec::new(),
            observes: ObserveSpec::Volts {
                red: placed("reference"),
                black: placed("ground"),
            },
            at: AtSpec::Any,
            when: None,
            why: "Proves reference and ground together.".to_owned(),
            minutes: 1.0,
            cautions: Vec::new(),
        }],
        order: all_placed(&["supply"]),
        cautions: Vec::new(),
        codes: codes.iter().map(|&code| code.to_owned()).collect(),
        signal: Vec::new(),
        curve: None,
    }
}

fn card(id: &str, title: &str, family: &str, pins: &[(&str, &str, &str)]) -> Card {
    Card {
        id: id.to_owned(),
        file: format!("cards/{id}.yaml"),
        title: placed(title),
        family: placed(family),
        circuit: None,
        system: None,
        codes: Vec::new(),
        fits: Vec::new(),
        also_called: Vec::new(),
        pins: pins
            .iter()
            .map(|(label, role, wire)| Pin {
                label: placed(label),
                role: placed(role),
                wire: Some(placed(wire)),
            })
            .collect(),
        signal: Vec::new(),
        parameters: BTreeMap::new(),
        curve: None,
        scan: Vec::new(),
        order: Vec::new(),
        tests: Vec::new(),
        connector: Connector::default(),
        wires: Vec::new(),
        sources: Vec::new(),
        cautions: Vec::new(),
        notes: String::new(),
    }
}

fn lift_card() -> Card {
    let pins = [
        ("A", "reference", "YE"),
        ("B", "ground", "BK"),
        ("C", "signal", "GNWH"),
    ];
    let mut card = card("lift", "Lift & ramp position sensor", "position-pot", &pins);
    card.codes = all_placed(&["C1124"]);
    card.fits = all_placed(&["Harbour shuttle, 2017-2020"]);
    card.also_called = all_placed(&["hinge sensor"]);
    card.connector = Connector {
        shape: Shape::Rectangular,
        rows: vec![vec!["A".to_owned(), "B".to_owned(), "C".to_owned()]],
        keying: Some(Side::Top),
        view: View::HarnessMatingFace,
    };
    card.scan = vec![
        ScanValue {
            name: placed("Lift 1"),
            role: "signal".to_owned(),
            kind: ScanKind::Raw,
            says: None,
        },
        ScanValue {
            name: placed("Lift"),
            role: "signal".to_owned(),
            kind: ScanKind::Derived {
                valid: Some(Interval {
                    low: 0.3,
                    high: 4.7,
                }),
                substitute: Some("shows 0 degrees".to_owned()),
            },
            says: Some("what the controller works with".to_owned()),
        },
    ];
    card.wires = vec![WireSpec {
        role: placed("signal"),
        length: Some(3.5),
        area: Some(0.5e-6),
    }];
    card.sources = vec![SourceNote {
        kind: SourceKind::Published,
        says: placed("Drawing L-3"),
        covers: all_placed(&["pins"]),
    }];
    card.notes = "# Where it sits\n\nBehind the step; see [coolant](coolant.yaml) and *lift* it.\n\n| a | b |\n|---|---|\n| 1 | 2 |".to_owned();
    card
}

fn coolant_card() -> Card {
    let pins = [("1", "signal", "GNYE"), ("2", "ground", "BN")];
    let mut card = card("coolant", "Coolant temperature sensor", "thermistor", &pins);
    card.system = Some(placed("engine"));
    card.codes = all_placed(&["P0117", "P0118"]);
    card.fits = all_placed(&["Harbour shuttle 2017-2020"]);
    card.connector.shape = Shape::Round;
    card
}

fn volts(low: f64, high: f64) -> Band {
    Band {
        nominal: Some(Reading::Value(f64::midpoint(low, high))),
        intervals: vec![Interval { low, high }],
        floating: false,
        no_path: false,
    }
}

fn expected(state: &str, band: Band, stated: Option<Interval>) -> Expected {
    let hookup = HookUp {
        mated: false,
        powered: true,
        links: Vec::new(),
        observe: Observe::Volts {
            red: NodeId(0),
            black: NodeId(1),
        },
        setting: Setting::default(),
        meter: Meter {
            input: 10e6,
            of_reading: 0.005,
            counts: 2.0,
            display: 6000.0,
        },
    };
    Expected {
        state: state.to_owned(),
        band,
        stated,
        hookup,
    }
}

fn lead(pin: &str, role: &str) -> Lead {
    Lead {
        pin: Some(pin.to_owned()),
        words: format!("{pin} ({role}), harness side"),
        short: pin.to_owned(),
    }
}

fn good_ground() -> Lead {
    Lead {
        pin: None,
        words: "good ground: bare metal of the body or battery minus".to_owned(),
        short: "good ground".to_owned(),
    }
}

fn test(id: &str, title: &str, leads: Option<Leads>, expected: Vec<Expected>) -> TestSheet {
    TestSheet {
        id: id.to_owned(),
        title: title.to_owned(),
        plug: if id == "at-rest" {
            Plug::BackProbed
        } else {
            Plug::Unplugged
        },
        key: Key::On,
        links: Vec::new(),
        scan: None,
        leads,
        dimension: Dimension::Voltage,
        when: String::new(),
        why: String::new(),
        minutes: 1.0,
        cautions: Vec::new(),
        expected,
    }
}

fn pin(label: &str, role: &str, wire: (&str, &str), unplugged: Band, plugged: Band) -> PinSheet {
    PinSheet {
        label: label.to_owned(),
        role: role.to_owned(),
        wire: wire.0.to_owned(),
        wire_words: wire.1.to_owned(),
        unplugged: Some(unplugged),
        plugged: Some(plugged),
    }
}

fn lift_tests() -> Vec<TestSheet> {
    let supply = Leads {
        red: lead("A", "reference"),
        black: lead("B", "ground"),
    };
    let far = Leads {
        red: lead("A", "reference"),
        black: good_ground(),
    };
    let signal = Leads {
        red: lead("C", "signal"),
        black: lead("B", "ground"),
    };
    let mut reference_far = test(
        "reference-far",
        "Reference to good ground",
        Some(far),
        vec![expected("", volts(4.88, 5.13), None)],
    );
    reference_far.when = "supply is low".to_owned();
    reference_far.why = "A good reading here puts the fault into the ground wire.".to_owned();
    let mut force = test(
        "force",
        "Force the signal",
        None,
        vec![expected("", volts(0.0, 0.05), None)],
    );
    force.links = vec!["bridge C (signal) to B (ground)".to_owned()];
    force.scan = Some("Lift 1".to_owned());
    force.cautions = vec![caution(
        "no-battery-on-reference",
        "No battery voltage on a 5 V pin",
        false,
    )];
    let stated = Some(Interval {
        low: 0.95,
        high: 1.15,
    });
    vec![
        test(
            "supply",
            "Supply across the pins",
            Some(supply),
            vec![expected("", volts(4.87, 5.13), None)],
        ),
        reference_far,
        force,
        test(
            "at-rest",
            "Signal at rest",
            Some(signal),
            vec![
                expected("lift down", volts(0.93, 1.18), stated),
                expected("lift up", volts(4.05, 4.43), None),
            ],
        ),
        test(
            "open",
            "Open signal pin",
            Some(Leads {
                red: lead("C", "signal"),
                black: good_ground(),
            }),
            vec![expected(
                "",
                Band {
                    floating: true,
                    ..volts(4.8, 5.1)
                },
                None,
            )],
        ),
    ]
}

fn caution(id: &str, title: &str, can_hurt: bool) -> Caution {
    Caution {
        id: id.to_owned(),
        title: title.to_owned(),
        says: "Block or disconnect what can move before you reach in.".to_owned(),
        can_hurt,
    }
}

fn value(name: &str, text: &str, source: Source) -> ValueLine {
    ValueLine {
        name: name.to_owned(),
        text: text.to_owned(),
        says: "what the module supplies".to_owned(),
        source,
    }
}

fn lift_sheet() -> Sheet {
    let line = |at: &str, x: f64, low: f64, high: f64, stated| SignalLine {
        at: at.to_owned(),
        x: Some((x, Dimension::Angle)),
        band: Interval { low, high },
        stated,
        ohms: Some(around(5000.0, 0.2)),
    };
    let stated = Some(Interval {
        low: 0.95,
        high: 1.15,
    });
    Sheet {
        card: "lift".to_owned(),
        network: Network::default(),
        pins: vec![
            pin(
                "A",
                "reference",
                ("YE", "yellow"),
                volts(4.88, 5.13),
                volts(4.87, 5.12),
            ),
            pin(
                "B",
                "ground",
                ("BK", "black"),
                volts(-0.002, 0.002),
                volts(0.0, 0.048),
            ),
            pin(
                "C",
                "signal",
                ("GNWH", "green, white"),
                volts(4.8, 5.1),
                volts(0.45, 4.6),
            ),
        ],
        tests: lift_tests(),
        in_order: 4,
        signal: Some(SignalSheet {
            pin: "C".to_owned(),
            points: vec![
                line("0 deg", 0.0, 0.93, 1.18, stated),
                line("35 deg", 35.0, 2.28, 2.63, None),
                line("80 deg", 80.0, 4.05, 4.43, None),
            ],
            valid: Some(Interval {
                low: 0.3,
                high: 4.7,
            }),
            full: 5.0,
        }),
        values: vec![
            value(
                "reference",
                "5 V ± 2 %",
                Source::Published("Drawing L-3".to_owned()),
            ),
            value("track", "5 kohm ± 20 %", Source::FamilyDefault),
            value("slider at 0 deg", "0.21", Source::Computed),
        ],
        cautions: vec![
            caution("moving-parts", "Moving parts", true),
            caution("probe-gently", "Probe gently", false),
        ],
    }
}

fn coolant_sheet() -> Sheet {
    let across = Leads {
        red: lead("1", "signal"),
        black: lead("2", "ground"),
    };
    Sheet {
        card: "coolant".to_owned(),
        network: Network::default(),
        pins: vec![
            pin(
                "1",
                "signal",
                ("GNYE", "green, yellow"),
                volts(4.9, 5.1),
                volts(0.2, 4.8),
            ),
            pin(
                "2",
                "ground",
                ("BN", "brown"),
                volts(0.0, 0.001),
                volts(0.0, 0.03),
            ),
        ],
        tests: vec![test(
            "supply",
            "Full supply at the open connector",
            Some(across),
            vec![expected("", volts(4.87, 5.12), None)],
        )],
        in_order: 1,
        signal: None,
        values: Vec::new(),
        cautions: Vec::new(),
    }
}

fn fixture() -> (Deck, Vec<Sheet>) {
    let families = [
        family(
            "position-pot",
            "Three-wire position sensor",
            &["reference", "ground", "signal"],
            &["C1124"],
        ),
        family(
            "thermistor",
            "Two-wire temperature sensor",
            &["signal", "ground"],
            &["P0117"],
        ),
    ];
    let deck = Deck {
        title: "Tern Island Ferries workshop".to_owned(),
        says: "Circuit cards for the shuttle vans and the ferry ramps.".to_owned(),
        systems: vec![("engine".to_owned(), "Van engine".to_owned())],
        meter: MeterSpec {
            of_reading: 0.005,
            counts: 2.0,
            display: 6000.0,
        },
        battery: Toleranced {
            low: 11.8,
            nominal: 12.6,
            high: 14.8,
        },
        cards: vec![coolant_card(), lift_card()],
        families: families
            .into_iter()
            .map(|family| (family.name.clone(), family))
            .collect(),
        cautions: BTreeMap::from([(
            "moving-parts".to_owned(),
            CautionSpec {
                title: "Moving parts".to_owned(),
                says: "Block what can move.".to_owned(),
                can_hurt: true,
            },
        )]),
    };
    (deck, vec![coolant_sheet(), lift_sheet()])
}
