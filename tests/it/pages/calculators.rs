//! Calculators on pages: every row of the table has one, complete without script; cards open them filled.

use super::{check_reads_in_order, page, pages};
use crate::browser::demo;
use loomleaf::calc::{Answer, CALCULATORS, Calculator, Kind, by_name, reckon};

fn place(calculator: &Calculator) -> String {
    format!("calculators/{}/index.html", calculator.name)
}

fn example(calculator: &Calculator) -> Answer {
    reckon(calculator, calculator.example).unwrap()
}

/// A text as it stands on a page.
fn escaped(text: &str) -> String {
    let escaped = text.replace('&', "&amp;").replace('<', "&lt;");
    escaped.replace('>', "&gt;").replace('"', "&quot;")
}

/// As it can be compared: one way of writing an apostrophe and a slash.
fn plain(html: &str) -> String {
    html.replace("&#x27;", "'")
        .replace("&#39;", "'")
        .replace("&#x2F;", "/")
}

#[test]
fn every_calculator_has_a_page_with_its_example_worked_out() {
    let files = pages(|_, _| {});
    for calculator in CALCULATORS {
        let html = plain(&page(&files, &place(calculator)));
        let answer = example(calculator);
        let shown = html.split("<h2 id=\"example\">").nth(1).unwrap();
        let results = answer.results.iter().map(|one| {
            let (label, says) = (escaped(&one.label), escaped(&one.value.says()));
            format!("<dt>{label}</dt><dd>{says}</dd>")
        });
        let steps = answer.steps.iter();
        let steps = steps.map(|step| format!("<li>{}</li>", escaped(step)));
        for expected in results.chain(steps) {
            let expected = expected.replace('\u{a0}', " ");
            assert!(
                shown.contains(&expected),
                "{}: no `{expected}` in {shown}",
                calculator.name
            );
        }
        for line in calculator.formula.lines() {
            let line = format!("<p class=\"formula\">{}</p>", escaped(line.trim()));
            assert!(html.contains(&line), "{}: no {line}", calculator.name);
        }
    }
}

#[test]
fn every_input_has_a_field_with_label_help_and_a_place_for_a_refusal() {
    let files = pages(|_, _| {});
    for calculator in CALCULATORS {
        let html = plain(&page(&files, &place(calculator)));
        for input in calculator.inputs {
            let key = input.key;
            let label = format!("<label for=\"in-{key}\">{}", escaped(input.label));
            let field = html.split(&label).nth(1);
            let field = field.unwrap_or_else(|| panic!("{}: no {label}", calculator.name));
            let own = format!("id=\"in-{key}\" name=\"{key}\"");
            let told = format!("aria-describedby=\"about-{key} wrong-{key}\"");
            let wrong = format!("id=\"wrong-{key}\" hidden>");
            check_reads_in_order(field, &[&own, &told, &wrong]);
            let field = field.split("class=\"wrong\"").next().unwrap();
            if let Kind::Choice(words) = input.kind {
                let options = field.matches("<option").count();
                let none = usize::from(input.default.is_none());
                assert_eq!(options, words.len() + none, "{} {key}", calculator.name);
            } else if let Some(default) = input.default {
                let default = escaped(default);
                assert!(field.contains(&default), "{} {key}", calculator.name);
            }
            assert_eq!(
                field.contains("<small>needed</small>"),
                input.needed,
                "{} {key}",
                calculator.name
            );
        }
    }
}

#[test]
fn all_calculators_are_listed_and_can_be_reached_from_every_page() {
    let files = pages(|_, _| {});
    let list = page(&files, "calculators/index.html");
    for calculator in CALCULATORS {
        let link = format!("href=\"../{}\"", place(calculator));
        assert_eq!(list.matches(&link).count(), 1, "{link}");
    }
    // Bench mode has a head of its own: its screen is needed for the test at hand.
    let plain = |path: &&String| path.ends_with(".html") && !path.contains("/bench/");
    for path in files.keys().filter(plain) {
        assert!(
            page(&files, path).contains("calculators/index.html\">Calculators</a>"),
            "{path}"
        );
    }
}

#[test]
fn drawings_of_examples_say_what_the_answer_says() {
    let files = pages(|_, _| {});
    for (name, keys) in [
        (
            "voltage-drop",
            &["cable", "contacts", "ground", "at-load"][..],
        ),
        ("divider", &["volts-1", "volts-2", "volts-3"]),
        ("signal-range", &["value"]),
        ("thermistor-beta", &["volts"]),
        ("thermistor-steinhart-hart", &["volts"]),
        ("rtd", &["volts"]),
    ] {
        let calculator = by_name(name).unwrap();
        let html = page(&files, &place(calculator));
        let picture = html.split("<svg").nth(1).unwrap();
        let picture = picture.split("</svg>").next().unwrap();
        let desc = picture.split("</desc>").next().unwrap();
        let answer = example(calculator);
        for key in keys {
            let one = answer.results.iter().find(|one| one.key == *key).unwrap();
            assert!(desc.contains(&one.value.says()), "{name}, {key}: {desc}");
        }
    }
}

/// Name of the calculator and the values of every link to a filled calculator on a page.
fn filled(html: &str) -> Vec<(String, Vec<(String, String)>)> {
    let links = html.split("href=\"../../calculators/").skip(1);
    let links = links.filter_map(|rest| rest.split('"').next()?.split_once("/index.html?"));
    links
        .map(|(name, query)| {
            let pairs = query.replace("&amp;", "&");
            let pairs = pairs.split('&').map(|pair| {
                let (key, text) = pair.split_once('=').unwrap();
                (decoded(key), decoded(text))
            });
            (name.to_owned(), pairs.collect())
        })
        .collect()
}

fn decoded(text: &str) -> String {
    let mut bytes = Vec::new();
    let mut rest = text.as_bytes();
    while let Some((first, more)) = rest.split_first() {
        let hex = (*first == b'%').then(|| std::str::from_utf8(&more[..2]).unwrap());
        match hex {
            Some(hex) => bytes.push(u8::from_str_radix(hex, 16).unwrap()),
            None => bytes.push(*first),
        }
        rest = if hex.is_some() { &more[2..] } else { more };
    }
    String::from_utf8(bytes).unwrap()
}

#[test]
fn cards_fill_calculators_with_values_that_they_take() {
    let (mut links, mut answered) = (0, 0);
    for path in demo()
        .keys()
        .filter(|path| path.starts_with("cards/") && path.ends_with(".html"))
    {
        for (name, pairs) in filled(&page(demo(), path)) {
            let calculator = by_name(&name).unwrap();
            let pairs: Vec<(&str, &str)> = pairs
                .iter()
                .map(|(key, text)| (key.as_str(), text.as_str()))
                .collect();
            links += 1;
            // What is left to type may be missing; what is filled in may not be refused.
            match reckon(calculator, &pairs) {
                Ok(_) => answered += 1,
                Err(refusals) => {
                    for refusal in refusals {
                        let given = pairs.iter().any(|(key, _)| Some(*key) == refusal.key);
                        assert!(
                            !given && refusal.key.is_some(),
                            "{path}, {name}: {refusal:?}"
                        );
                    }
                }
            }
        }
    }
    assert!(
        links >= 40 && answered >= 20,
        "{links}, {answered} answered"
    );
}

/// The answer of the calculator that a demo card opens.
fn from_card(card: &str, name: &str) -> Answer {
    let html = page(demo(), &format!("cards/{card}/index.html"));
    let links = filled(&html);
    let (_, pairs) = links.iter().find(|(own, _)| own == name).unwrap();
    let pairs: Vec<(&str, &str)> = pairs
        .iter()
        .map(|(key, text)| (key.as_str(), text.as_str()))
        .collect();
    reckon(by_name(name).unwrap(), &pairs).unwrap()
}

#[test]
fn a_calculator_filled_from_a_card_answers_for_that_card() {
    // By hand: 2.8 kohm exp(3960 (1/273.15 - 1/298.15)) = 9.443 kohm, 5 V x 9.443 / (9.443 + 2.49) = 3.957 V;
    // the card's own band there is 3.75 to 4.15 V.
    let says = |answer: &Answer, key: &str| {
        let one = answer.results.iter().find(|one| one.key == key).unwrap();
        one.value.says()
    };
    let coolant = from_card("coolant-temperature", "thermistor-beta");
    assert_eq!(says(&coolant, "resistance"), "9.443 kohm");
    assert_eq!(says(&coolant, "volts"), "3.957 V");
    // The middle of the lowest stated band, 0.95 to 1.15 V at 0 deg, is where the line begins.
    let ramp = from_card("ramp-angle", "signal-range");
    assert_eq!(says(&ramp, "value"), "0 deg");
    assert_eq!(says(&ramp, "input"), "0.3 to 4.7 V");
}

/// A deck's own limit stands in the fields of a whole circuit's drop, with whose it is; not in those of one piece.
#[test]
fn a_deck_may_have_a_limit_of_its_own() {
    let typed = "drop_limit: {limit: 0.3 V, whose: the training room}\n";
    let deck = format!("title: x\n{typed}").into_bytes();
    let read = |deck: Vec<u8>| {
        let files = std::collections::BTreeMap::from([("deck.yaml".to_owned(), deck)]);
        loomleaf::card::read(&files, &loomleaf::card::shipped())
    };
    let (deck, _) = read(deck);
    let own = deck.unwrap().drop_limit;
    let files = pages(|deck, _| deck.drop_limit.clone_from(&own));
    for (name, stands) in [
        ("voltage-drop", true),
        ("wire-size", true),
        ("measured-drop", false),
    ] {
        let html = page(&files, &place(by_name(name).unwrap()));
        assert_eq!(html.contains("value=\"0.3 V\""), stands, "{name}");
        assert_eq!(
            html.contains("value=\"the training room\""),
            stands,
            "{name}"
        );
    }
    for bad in ["0 V", "-0.1 V", "3 ohm", "little"] {
        let deck = format!("title: x\ndrop_limit: {{limit: {bad}}}\n");
        let (deck, findings) = read(deck.into_bytes());
        assert_eq!(deck.unwrap().drop_limit, None, "{bad}");
        let misread = |one: &loomleaf::finding::Finding| one.kind.code == "misread-quantity";
        assert!(findings.iter().any(misread), "{bad}");
    }
}
