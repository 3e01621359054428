//! Recorded readings become bands beside the computed ones: by hand, and where they must not.

use super::{Room, rows_of};
use loomleaf::sheet::{KnownGood, LeftOut};

fn at_rest(readings: &[&str]) -> (KnownGood, Vec<&'static str>) {
    let room = Room::with(&rows_of("at-rest", "rest", readings));
    let (mut known, findings) = room.known();
    assert_eq!(known.len(), 1);
    let codes = findings.iter().map(|one| one.kind.code).collect();
    (known.remove(0), codes)
}

/// Mean 0.95 and s 0.01 sqrt(10/5) by hand: deviations -2, -1, 0, 0, 1, 2 hundredths; the factor at six readings,
/// 4.4222, is scipy 1.17.1's.
#[test]
fn six_readings_give_the_exact_tolerance_interval() {
    let (known, codes) = at_rest(&["0.93 V", "0.94 V", "0.95 V", "950 mV", "0.96 V", "0.97 V"]);
    assert!(codes.is_empty(), "{codes:?}");
    let spread = known.spread.unwrap();
    let s = 0.01 * 2.0_f64.sqrt();
    assert_eq!(spread.count, 6);
    assert!((spread.mean - 0.95).abs() < 1e-12 && (spread.deviation - s).abs() < 1e-12);
    let interval = known.interval.unwrap();
    assert!(
        (interval.low - (0.95 - 4.4222 * s)).abs() < 1e-6,
        "{interval:?}"
    );
    assert!(
        (interval.high - (0.95 + 4.4222 * s)).abs() < 1e-6,
        "{interval:?}"
    );
    assert_eq!((known.vehicles, known.state.as_str()), (6, "rest"));
    assert_eq!(
        (known.from.to_string(), known.to.to_string()),
        ("2026-11-01".into(), "2026-11-06".into())
    );
    // The computed band and the card's stand beside it, as they would without it.
    let bare = Room::new().sheet().0;
    let test = bare.tests.iter().find(|test| test.id == "at-rest").unwrap();
    assert_eq!(known.computed.intervals, test.expected[0].band.intervals);
    assert_eq!(known.stated, test.expected[0].stated);
}

#[test]
fn four_readings_give_themselves_and_no_interval() {
    let (known, codes) = at_rest(&["0.93 V", "0.94 V", "0.95 V", "0.96 V"]);
    assert!(codes.is_empty(), "{codes:?}");
    assert_eq!((known.interval, known.used().count()), (None, 4));
}

/// Out of band first, then doubtful: neither widens the band of the others, both are kept and told.
#[test]
fn strange_readings_are_left_out_and_told() {
    let good = ["0.95 V", "0.96 V", "0.94 V", "0.95 V", "0.97 V", "0.95 V"];
    let (without, _) = at_rest(&good);
    let (known, codes) = at_rest(&[&good[..], &["3 V", "1.18 V"]].concat());
    assert_eq!(codes, ["reading-out-of-band", "doubtful-reading"]);
    assert_eq!(
        (known.spread, known.interval),
        (without.spread, without.interval)
    );
    let left: Vec<LeftOut> = known.left_out().map(|(_, why)| why).collect();
    assert_eq!(left, [LeftOut::OutOfBand, LeftOut::Doubtful]);
    assert_eq!(known.to.to_string(), "2026-11-06");
}

/// Nine meters that show 0.95 V and one that shows 0.96 V: the digit is no slip, though Grubbs' test alone says so.
#[test]
fn a_last_digit_is_no_slip() {
    let mut readings = ["0.95 V"; 10];
    readings[4] = "0.96 V";
    let (known, codes) = at_rest(&readings);
    assert!(codes.is_empty(), "{codes:?}");
    assert_eq!(known.spread.unwrap().count, 10);
    assert!(known.interval.is_some());
    let (alike, codes) = at_rest(&["0.95 V"; 8]);
    assert!(codes.is_empty());
    assert_eq!((alike.interval, alike.spread.unwrap().count), (None, 8));
}

/// A lead that hangs on nothing, or no path at all, is what a good circuit shows at some tests; words are counted, never averaged.
#[test]
fn words_are_kept_beside_numbers() {
    let room = Room::new();
    room.put(
        "cards/lever.yaml",
        "title: Door switch\nfamily: switch-ground\npins:\n  1: {role: signal}\n  2: {role: ground}\n",
    );
    let (sheet, _) = room.sheet();
    let open = sheet.tests.iter().find_map(|test| {
        let expected = test.expected.iter().find(|one| one.band.no_path)?;
        Some((test.id.clone(), expected.state.clone()))
    });
    let (test, state) = open.unwrap();
    let rows = rows_of(&test, &state, &["OL"; 6]);
    room.put("readings/lever.csv", &format!("{}{rows}", super::HEADER));
    let (sheet, findings) = room.sheet();
    assert!(findings.is_empty(), "{findings:?}");
    let known = &sheet.known_good[0];
    assert_eq!(
        (known.spread, known.interval, known.used().count()),
        (None, None, 6)
    );
}

#[test]
fn a_deck_may_claim_more_or_less() {
    let rows = rows_of(
        "at-rest",
        "rest",
        &["0.93 V", "0.94 V", "0.95 V", "0.95 V", "0.96 V", "0.97 V"],
    );
    let room = Room::with(&rows);
    let usual = room.known().0[0].interval.unwrap();
    room.put(
        "deck.yaml",
        "title: x\nknown_good: {confidence: 90 %, coverage: 99 %}\n",
    );
    let known = &room.known().0[0];
    assert_eq!(
        (known.claim.confidence(), known.claim.coverage()),
        (0.9, 0.99)
    );
    assert!(known.interval.unwrap().width() > usual.width());
    for bad in ["50 %", "100 %", "0.95 V", "most"] {
        room.put(
            "deck.yaml",
            &format!("title: x\nknown_good: {{coverage: {bad}}}\n"),
        );
        let (_, findings) = room.known();
        assert_eq!(findings[0].kind.code, "misread-quantity", "{bad}");
        assert_eq!((findings[0].place.line, findings[0].place.column), (2, 24));
    }
}

/// The page shows both, the computed band where it always stood, and names what was left out.
#[test]
fn the_page_shows_what_was_measured_beside_what_was_computed() {
    let good = rows_of(
        "at-rest",
        "rest",
        &["0.93 V", "0.94 V", "0.95 V", "0.95 V", "0.96 V", "0.97 V"],
    );
    let few = rows_of("supply", "", &["5.01 V", "5.03 V"]);
    let strange = "2026-11-09,<b>shuttle</b>,supply,,6.01 V,,\n";
    let page = |room: &Room| {
        let site = tempfile::tempdir().unwrap();
        let to = site.path().join("site");
        let (status, _, err) = room.run("publish", &["--to", to.to_str().unwrap()]);
        assert_eq!(status, 0, "{err}");
        std::fs::read_to_string(to.join("cards/lever/index.html"))
            .unwrap()
            .replace('\u{a0}', " ")
    };
    let with = page(&Room::with(&format!("{good}{few}{strange}")));
    let section = with.split("<section class=\"known-good\"").nth(1).unwrap();
    let section = section.split("</section>").next().unwrap();
    for words in [
        "0.89 to 1.01 V",
        "mean 0.95 V, spread 14 mV",
        "6 readings, 6 vehicles, 2026-11-01 to 2026-11-06",
        "with 95 % confidence it holds 95 % of good readings",
        "5.01 V, 5.03 V",
        "0.68 to 1.23 V",
        "0.7 to 1.2 V",
        "6.01 V",
        "&lt;b&gt;shuttle",
        "outside the computed band",
    ] {
        assert!(section.contains(words), "{words} in {section}");
    }
    let without = page(&Room::new());
    assert!(!without.contains("known-good\""));
    let (before, rest) = with.split_once("<section class=\"known-good\"").unwrap();
    let (_, after) = rest.split_once("</section>").unwrap();
    let lines = |page: &str| -> Vec<String> {
        // The calculators that a card opens take its recorded readings too.
        let (head, rest) = page.split_once("<section class=\"calculate\"").unwrap();
        let (_, tail) = rest.split_once("</section>").unwrap();
        let lines = head.lines().chain(tail.lines()).map(str::trim);
        lines
            .filter(|line| !line.is_empty())
            .map(str::to_owned)
            .collect()
    };
    assert!(lines(&format!("{before}{after}")) == lines(&without));
}
