//! `record` in the terminal: what it says, what it writes, what it refuses.

use super::{HEADER, Room};
use std::process::Command;

#[test]
fn readings_are_added_and_told() {
    let room = Room::new();
    let (status, out, err) = room.record(&[
        "supply=5.01",
        "at-rest=0.95 V",
        "--at",
        "rest",
        "--vehicle",
        "Ferry 2, deck",
        "--meter",
        "bench",
        "--note",
        "after \"service\"",
    ]);
    let text = "\
Winch lever

recorded in DECK/readings/lever.csv
  2026-11-25 supply  5.01 V  inside the computed band, 4.87 to 5.13 V
  2026-11-25 at-rest@rest  0.95 V  inside the computed band, 0.68 to 1.23 V

measured here
  supply
    1 reading, 1 vehicle, 2026-11-25
    5.01 V
  at-rest@rest
    1 reading, 1 vehicle, 2026-11-25
    0.95 V
";
    assert_eq!((status, out.as_str(), err.as_str()), (0, text, ""));
    let rows = format!(
        "{HEADER}2026-11-25,\"Ferry 2, deck\",supply,,5.01 V,bench,\"after \"\"service\"\"\"\n\
         2026-11-25,\"Ferry 2, deck\",at-rest,rest,0.95 V,bench,\"after \"\"service\"\"\"\n"
    );
    assert_eq!(room.rows(), rows);
    assert!(room.known().1.is_empty());
}

#[test]
fn a_reading_outside_the_band_is_kept_told_at_once_and_found() {
    let room = Room::new();
    let (status, out, _) = room.record(&["supply=6.01 V", "at-rest@full=4.2"]);
    assert_eq!(status, 0);
    assert!(
        out.contains("supply  6.01 V  OUTSIDE the computed band, 4.87 to 5.13 V"),
        "{out}"
    );
    assert!(
        out.contains("left out: 6.01 V of 2026-11-25, outside the computed band"),
        "{out}"
    );
    let (status, told, err) = room.run("inspect", &[]);
    assert_eq!(status, 0, "{err}");
    assert!(
        told.contains("reading-out-of-band") && told.contains("readings/lever.csv:2:"),
        "{told}"
    );
    assert_eq!(room.run("expect", &["lever"]).0, 0);
}

#[test]
fn what_makes_no_sense_is_refused_and_nothing_is_written() {
    let room = Room::new();
    for (words, says) in [
        (&["supply"][..], "has no `=`"),
        (&["supply=5.01 V", "suply=5"], "did you mean supply?"),
        (&["at-rest=0.95 V"], "write at-rest@STATE=READING"),
        (&["at-rest=0.95 V", "--at", "fall"], "did you mean full?"),
        (&["supply=5.01 A"], "is a current"),
        (&["supply=cannot measure"], "no reading of a good circuit"),
        (&["force=no change"], "no reading of a good circuit"),
        (
            &["supply=5 V", "--note", "two\nlines"],
            "--note must stand on one line",
        ),
    ] {
        let (status, out, err) = room.record(words);
        assert_eq!((status, out.as_str()), (2, ""), "{words:?}: {err}");
        assert!(err.contains(says), "{words:?}: {err}");
    }
    for date in ["25.11.2026", "2026-13-01", "2026-02-29", "tomorrow", ""] {
        let (status, _, err) = room.run("record", &["lever", "supply=5 V", "--date", date]);
        assert_eq!(status, 2, "{date}");
        assert!(err.contains("is no day"), "{err}");
    }
    let (status, _, err) = room.run("record", &["levr", "supply=5 V"]);
    assert_eq!(status, 1);
    assert!(err.contains("did you mean lever?"), "{err}");
    assert!(!room.path("readings").exists());
}

#[test]
fn the_answer_for_programs_has_the_same_numbers() {
    let room = Room::new();
    for volts in ["0.93", "0.94", "0.95", "0.95", "0.96"] {
        let reading = format!("at-rest@rest={volts}");
        assert_eq!(room.record(&[&reading, "--vehicle", volts]).0, 0);
    }
    let words = [
        "lever",
        "at-rest@rest=970 mV",
        "--vehicle",
        "new",
        "--date",
        "2026-11-26",
    ];
    let told = room.json("record", &words);
    assert_eq!(told["card"], "lever");
    let row = &told["rows"][0];
    assert_eq!(
        (&row["test"], &row["state"], &row["unit"]),
        (&"at-rest".into(), &"rest".into(), &"V".into())
    );
    assert_eq!(
        (&row["value"], &row["inside"]),
        (&0.97.into(), &true.into())
    );
    let measured = &told["measured"][0];
    assert_eq!(
        (&measured["count"], &measured["vehicles"]),
        (&6.into(), &5.into())
    );
    assert_eq!(
        (&measured["source"], &measured["to"]),
        (&"measured here".into(), &"2026-11-26".into())
    );
    let near = |value: &serde_json::Value, wanted: f64| {
        let found = value.as_f64().unwrap();
        assert!((found - wanted).abs() < 1e-5, "{found}, not {wanted}");
    };
    // By hand, with scipy's factor 4.4222 at six readings.
    let s = 0.01 * 2.0_f64.sqrt();
    near(&measured["mean"], 0.95);
    near(&measured["spread"], s);
    near(&measured["interval"][0], 0.95 - 4.4222 * s);
    near(&measured["interval"][1], 0.95 + 4.4222 * s);
    let expected = room.json("expect", &["lever", "--test", "at-rest"]);
    assert_eq!(&expected["tests"][0]["measured"][0], measured);
    let supply = room.json("expect", &["lever", "--test", "supply"]);
    assert_eq!(supply["tests"][0]["measured"], serde_json::json!([]));
    let (_, out, _) = room.run("expect", &["lever", "--test", "at-rest"]);
    let line = "mean 0.95 V, spread 14 mV, known-good band 0.89 to 1.01 V (with 95 % confidence it holds 95 % of good readings)";
    assert!(
        out.contains("measured here at rest") && out.contains(line),
        "{out}"
    );
}

/// At the same moment it is another day at either end of the world: 26 hours lie between these zones.
#[test]
fn the_day_is_today_where_the_machine_is() {
    let room = Room::new();
    for zone in ["WEST+12", "EAST-14"] {
        let mut run = Command::new(env!("CARGO_BIN_EXE_loomleaf"));
        run.env("TZ", zone).arg("record").arg(room.0.path());
        let ran = run.args(["lever", "supply=5.01 V"]).output().unwrap();
        assert!(ran.status.success(), "{ran:?}");
    }
    let days: Vec<String> = room
        .rows()
        .lines()
        .skip(1)
        .map(|row| row[..10].to_owned())
        .collect();
    assert!(days[0] < days[1], "{days:?}");
    assert!(room.known().1.is_empty(), "the days are days");
}
