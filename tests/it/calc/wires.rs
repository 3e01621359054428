//! Wires: laws between the calculators, limits and whose they are, sizes that are none.

use super::{answer, number, refusal, words};

/// FAA AC 43.13-1B 11-66: L2 = L1 (254.5 / (234.5 + T2)) for tin-plated copper; L1 = 100 at 75 °C is 82.23.
#[test]
fn a_warm_conductor_reaches_less_far() {
    let given = "size=10 AWG|current=20 A|return=body|supply=28 V|limit=1 V";
    let at = |celsius: &str| {
        number(
            &answer("wire-run", &format!("{given}|temperature={celsius} C")),
            "longest",
        )
    };
    let (cold, warm) = (at("20").unwrap(), at("75").unwrap());
    assert!(
        (100.0 * warm / cold - 82.23).abs() < 0.02,
        "{warm} of {cold}"
    );
}

/// IEC 60228 class 5 and ISO 6722 differ in the same nominal area (identity of the two tables).
#[test]
fn one_and_a_half_square_is_not_the_same_in_two_standards() {
    let per_km = |standard: &str| {
        let given = format!("size=1.5 mm2|standard={standard}");
        number(&answer("wire-resistance", &given), "per-length").unwrap() * 1000.0
    };
    assert!((per_km("iec-60228") - 13.3).abs() < 1e-9);
    assert!((per_km("iso-6722") - 12.7).abs() < 1e-9);
}

/// Identity: the longest run just keeps the limit, the least area too, and a way back by wire is twice
/// the length.
#[test]
fn run_size_and_drop_agree() {
    let given = "current=7 A|length=6 m|size=2.5 mm2|return=wire|temperature=60 C|contacts=4|splices=2|ground=30 mV|limit=3 %";
    let drop = answer("voltage-drop", given);
    let longest = number(&drop, "longest").unwrap();
    let again = answer(
        "voltage-drop",
        &given.replace("length=6 m", &format!("length={longest} m")),
    );
    assert!((number(&again, "drop").unwrap() - 0.36).abs() < 1e-9);
    let least = number(&drop, "least").unwrap() * 1e6;
    let solid = given.replace("size=2.5 mm2", &format!("size={least} mm2|standard=solid"));
    assert!((number(&answer("voltage-drop", &solid), "drop").unwrap() - 0.36).abs() < 1e-9);
    let parts: f64 = ["cable", "contacts", "splices", "ground"]
        .iter()
        .filter_map(|key| number(&drop, key))
        .sum();
    assert!((parts - number(&drop, "drop").unwrap()).abs() < 1e-12);
    let cable = |given: &str| number(&answer("voltage-drop", given), "cable").unwrap();
    let body = given.replace("return=wire", "return=body");
    assert!((cable(given) - 2.0 * cable(&body)).abs() < 1e-12);
}

#[test]
fn the_limit_says_whose_it_is() {
    let given = "current=10 A|length=5 m|size=2.5 mm2|return=body";
    let notes = |more: &str| {
        answer("voltage-drop", &format!("{given}{more}"))
            .notes
            .join("\n")
    };
    assert!(notes("").contains("common practice for a whole power circuit"));
    assert!(notes("|limit=3 %").contains("the limit of 0.36 V is: as typed"));
    assert!(
        notes("|limit=3 %|whose=the ferry's own rule").contains("0.36 V is: the ferry's own rule")
    );
    assert!(notes("").contains("the way through the body is taken as nothing"));
    assert!(!notes("|ground=0.1 V").contains("taken as nothing"));
}

/// Limits of one part: common practice, no source.
#[test]
fn a_part_that_drops_more_than_its_kind_may_is_named() {
    let given = "current=10 A|length=1 m|size=6 mm2|return=wire|contacts=2";
    let notes = |more: &str| {
        answer("voltage-drop", &format!("{given}{more}"))
            .notes
            .join("\n")
    };
    for (more, name) in [
        ("|contact=15 mohm", "each contact drops 0.15 V"),
        ("|splices=1|splice=12 mohm", "each splice drops 0.12 V"),
        ("|switch=30 mohm", "the switch, relay or fuse drops 0.3 V"),
        ("|ground=0.25 V", "the ground path drops 0.25 V"),
    ] {
        assert!(notes(more).contains(name), "{more}: {}", notes(more));
    }
    let fine = "|contact=10 mohm|splices=1|switch=20 mohm|ground=0.2 V";
    assert!(
        !notes(fine).contains("common practice accepts"),
        "{}",
        notes(fine)
    );
}

#[test]
fn the_way_back_is_never_guessed() {
    let refused = refusal("voltage-drop", "current=10 A|length=5 m|size=2.5 mm2");
    assert_eq!(refused.key, Some("return"));
}

#[test]
fn what_has_no_answer_is_refused_with_one_thing_to_do() {
    let base = "current=10 A|length=5 m|return=wire";
    for (more, key, hint) in [
        (
            "|size=1.6 mm2",
            "size",
            "take 1.5 mm2 or 2 mm2, or standard solid for any area",
        ),
        (
            "|size=20 AWG|standard=iso-6722",
            "size",
            "take 0.5 mm2 or 0.75 mm2, or standard solid for any area",
        ),
        (
            "|size=2.5 mm2|metal=aluminium|standard=iso-6722",
            "standard",
            "take standard solid for aluminium",
        ),
        (
            "|size=2.5 mm2|per-length=3 ohm/km",
            "per-length",
            "leave one of them empty",
        ),
        ("|size=10", "size", "type `10 mm2` or `10 AWG`"),
        ("", "size", "type a size such as 2.5 mm2 or 14 AWG"),
        (
            "|size=0.5 mm2|supply=2 V",
            "current",
            "check current, length and conductor",
        ),
        (
            "|size=2.5 mm2|limit=13 V",
            "limit",
            "type a limit such as 0.5 V or 3 %",
        ),
        (
            "|size=2.5 mm2|limit=0.5",
            "limit",
            "type it with its unit, such as 3.6 V or 50 %",
        ),
    ] {
        let refused = refusal("voltage-drop", &format!("{base}{more}"));
        assert_eq!(
            (refused.key, refused.hint.as_str()),
            (Some(key), hint),
            "{more}"
        );
    }
}

/// ISO 6722 sizes that no text confirms are never proposed.
#[test]
fn only_confirmed_sizes_are_proposed() {
    let proposed = |amps: &str| {
        let got = answer(
            "wire-size",
            &format!("current={amps} A|length=5 m|return=wire"),
        );
        (words(&got, "size"), words(&got, "next"))
    };
    // 0.5 V over 10 m at 7 A allows 7.14 mohm/m: 2.5 mm2 has 7.6, 3 mm2 (6.15, not confirmed) would do.
    assert_eq!(
        proposed("7"),
        ("4 mm2 (ISO 6722)".into(), "6 mm2 (ISO 6722)".into())
    );
    assert_eq!(
        proposed("0.1"),
        ("1 mm2 (ISO 6722)".into(), "1.5 mm2 (ISO 6722)".into())
    );
    assert_eq!(proposed("400").0, "none of ISO 6722 is thick enough");
}

/// Sizes by gauge, from the diameters of ASTM B258: 16 AWG 13.1742, 14 AWG 8.2853, 12 AWG 5.2107 ohm/km.
#[test]
fn a_gauge_is_answered_by_gauges() {
    let got = answer(
        "voltage-drop",
        "current=5 A|length=5 m|size=16 AWG|return=wire",
    );
    // 0.5 V over 10 m at 5 A allows 10 ohm/km.
    assert_eq!(words(&got, "size"), "14 AWG (solid conductor by area)");
    assert_eq!(words(&got, "next"), "13 AWG (solid conductor by area)");
    assert!((number(&got, "drop").unwrap() - 0.658_71).abs() < 1e-4);
}

/// Aluminium: FAA AC 43.13-1B, 11-66: (238.1 + T) / 258.1; 61 % of copper's conductivity.
#[test]
fn aluminium_is_warmed_by_its_own_line() {
    let at = |more: &str| {
        number(
            &answer(
                "wire-resistance",
                &format!("size=10 mm2|standard=solid{more}"),
            ),
            "resistance",
        )
        .unwrap()
    };
    let (cold, warm) = (
        at("|metal=aluminium"),
        at("|metal=aluminium|temperature=75 C"),
    );
    assert!((warm / cold - 313.1 / 258.1).abs() < 1e-9);
    assert!((at("") / cold - 0.61).abs() < 1e-9);
}

/// Limits of common practice, no source.
#[test]
fn a_measured_drop_is_held_against_its_piece() {
    let verdict = |given: &str| words(&answer("measured-drop", given), "verdict");
    assert_eq!(
        verdict("drop=0.20 V|current=10 A|piece=wire"),
        "within the limit of 0.2 V"
    );
    assert_eq!(
        verdict("drop=0.15 V|current=10 A|piece=connection"),
        "over the limit of 0.1 V by 50 mV"
    );
    assert_eq!(
        verdict("drop=0.15 V|current=10 A|piece=connection|limit=0.2 V"),
        "within the limit of 0.2 V"
    );
}
