//! `expect`: bands in words and numbers, and names that are not there.

use super::{DECK, GOOD, Room};

#[test]
fn expected_readings_come_with_their_bands() {
    let room = Room::with(&[DECK, GOOD]);
    let text = "\
Winch lever · P0120

 5  Signal with everything connected  [at-rest]
    Back-probed, key on
    red to 2 (signal)
    black to 3 (ground)
      rest  0.68 to 1.23 V  (card: 0.7 to 1.2 V)
      full  3.80 to 4.62 V  (card: 3.9 to 4.5 V)

Readings of a sound circuit, with the tolerances of its parts and of the meter.
The maker's service information and local rules come first.
";
    room.run("expect /deck lever --test at-rest")
        .check(0, text, "");
    let tests = room.run("expect /deck cards/lever.yaml --json").json();
    let supply = &tests["tests"][0];
    assert_eq!(
        (&tests["card"], &supply["test"]),
        (&"lever".into(), &"supply".into())
    );
    assert_eq!(
        (&supply["observes"], &supply["unit"]),
        (&"volts".into(), &"V".into())
    );
    let band: Vec<[f64; 2]> = serde_json::from_value(supply["healthy"]["bands"].clone()).unwrap();
    // The family's default reference, 5 V within 2 %, read by a meter within 0.5 % and 2 counts of
    // 1 mV (common practice, no source), and a track that draws too little to be seen.
    let [[low, high]] = band[..] else {
        panic!("{band:?}")
    };
    assert!((low - (4.9 * 0.995 - 0.002)).abs() < 0.002, "{low}");
    assert!((high - (5.1 * 1.005 + 0.002)).abs() < 0.002, "{high}");
}

#[test]
fn an_unknown_name_gives_the_nearest_and_all() {
    let room = Room::with(&[DECK, GOOD]);
    room.run("expect /deck levr").check(
        1,
        "",
        "no card is named `levr`; did you mean lever?\n  there are: lever\n",
    );
    let ran = room.run("expect /deck lever --test suply");
    assert_eq!((ran.status, ran.out.as_str()), (1, ""));
    let start = "no test of lever is named `suply`; did you mean supply?\n  there are: supply, ";
    assert!(ran.err.starts_with(start), "{}", ran.err);
}

#[test]
fn a_card_with_errors_says_why_it_expects_nothing() {
    let bad = GOOD.1.replace("position-pot", "position-pod");
    let room = Room::with(&[DECK, GOOD, ("deck/cards/other.yaml", &bad)]);
    let ran = room.run("expect /deck other");
    assert_eq!((ran.status, ran.out.as_str()), (1, ""));
    assert!(ran.err.contains("position-pod"), "{}", ran.err);
    assert_eq!(room.run("expect /deck lever").status, 0);
}
