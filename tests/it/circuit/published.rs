//! Published and hand-computed examples, row by row from `published.csv` (each names its source).

use super::build::{Ask, Sketch, about};
use loomleaf::circuit::{HookUp, Meter, Reading, Site, Values, solve::read};
use std::collections::BTreeMap;

type Numbers = BTreeMap<String, f64>;

/// Inner resistance of our sources, about 0.02 ohm, moves a reading by less than this.
const SOURCE: f64 = 1e-4;

fn numbers(text: &str) -> Numbers {
    let pairs = text.split(';').filter_map(|pair| pair.split_once('='));
    pairs
        .filter_map(|(key, value)| Some((key.trim().to_owned(), value.parse().ok()?)))
        .collect()
}

/// Calls `check` with inputs and expectations of every row of a topic; fails when there is none.
fn each(topic: &str, check: impl Fn(&str, &Numbers, &Numbers)) {
    let mut reader = csv::Reader::from_reader(include_str!("published.csv").as_bytes());
    let mut rows = 0;
    for row in reader.records().map(Result::unwrap) {
        if &row[0] == topic {
            assert!(!row[4].is_empty(), "a row without source: {row:?}");
            check(&row[1], &numbers(&row[1]), &numbers(&row[2]));
            rows += 1;
        }
    }
    assert!(0 < rows, "no rows of {topic}");
}

fn value(s: &Sketch, hookup: &HookUp) -> f64 {
    let values = Values::nominal(&s.network, &hookup.setting);
    match read(&s.network, hookup, &values).unwrap() {
        Reading::Value(value) => value,
        other => panic!("{other:?} in place of a number"),
    }
}

fn with_meter(mut ask: Ask<'_>, ohms: f64) -> Ask<'_> {
    ask.hookup.meter.input = ohms;
    ask
}

/// A source over resistors in a row, nodes `n0` (top), `n1`, ...
fn row(volts: f64, ohms: &[f64]) -> Sketch {
    let mut s = Sketch::default();
    s.source("e", Site::Supply, ["n0", "good ground"], about(volts, 0.0));
    let count = ohms.len();
    for (place, &ohms) in ohms.iter().enumerate() {
        let (high, low) = (format!("n{place}"), format!("n{}", place + 1));
        let low = if place + 1 == count {
            "good ground"
        } else {
            &low
        };
        s.resistor(
            &format!("r{place}"),
            Site::Part,
            [&high, low],
            about(ohms, 0.0),
        );
    }
    s
}

#[test]
fn divider() {
    each("divider", |name, given, wanted| {
        let s = row(given["V"], &[given["R1"], given["R2"], given["R3"]]);
        let ideal = || with_meter(s.hookup(), 1e15);
        for (drop, ends) in [
            ("V1", ["n0", "n1"]),
            ("V2", ["n1", "n2"]),
            ("V3", ["n2", "good ground"]),
        ] {
            let volts = value(&s, &ideal().volts(ends[0], ends[1]));
            assert!((volts - wanted[drop]).abs() < SOURCE, "{name}: {volts}");
        }
        let solved = loomleaf::circuit::solve::solve(
            &s.network,
            &ideal().volts("n0", "n1"),
            &Values::nominal(&s.network, &Default::default()),
        );
        let amps = solved.unwrap().amps(s.network.element_named("r1").unwrap());
        assert!((amps * 1e3 - wanted["I_mA"]).abs() < 1e-5, "{name}: {amps}");
    });
}

#[test]
fn meter_loading() {
    each("meter_loading", |name, given, wanted| {
        let lower = given.get("R2").copied();
        let s = match lower {
            Some(lower) => row(given["V"], &[given["R1"], lower]),
            None => {
                let mut s = Sketch::default();
                s.source(
                    "e",
                    Site::Supply,
                    ["n0", "good ground"],
                    about(given["V"], 0.0),
                );
                s.resistor(
                    "pull",
                    Site::Module,
                    ["n0", "n1"],
                    about(given["Rpullup"], 0.0),
                );
                s
            }
        };
        let ask = with_meter(s.hookup(), given["Rmeter"]);
        let volts = value(&s, &ask.volts("n1", "good ground"));
        assert!((volts - wanted["v_read"]).abs() < 2e-4, "{name}: {volts}");
    });
}

#[test]
fn open_input_behind_a_pull_up() {
    each("pullup_open", |name, given, wanted| {
        let mut s = Sketch::default();
        s.source(
            "e",
            Site::Supply,
            ["n0", "good ground"],
            about(given["V"], 0.0),
        );
        s.resistor(
            "pull",
            Site::Module,
            ["n0", "n1"],
            about(given["Rpullup"], 0.0),
        );
        let ask = with_meter(s.hookup(), given["Rmeter"]);
        let volts = value(&s, &ask.volts("n1", "good ground"));
        assert!((volts - wanted["v_read"]).abs() < 1e-4, "{name}: {volts}");
    });
}

/// Part of full scale that a slider at `x` gives into a load.
fn loaded(x: f64, track: f64, load: f64) -> f64 {
    let mut s = Sketch::default();
    s.source("e", Site::Supply, ["top", "good ground"], about(1.0, 0.0));
    let nodes = ["good ground", "slider", "top"];
    s.potentiometer("track", nodes, about(track, 0.0), about(x, 0.0));
    s.resistor(
        "load",
        Site::Module,
        ["slider", "good ground"],
        about(load, 0.0),
    );
    let ask = with_meter(s.hookup(), 1e15);
    value(&s, &ask.volts("slider", "good ground"))
}

#[test]
fn loaded_potentiometer() {
    each("pot_loading", |name, given, wanted| {
        let load = 10e3 / given["Rp_over_RL"];
        if let Some(share) = wanted.get("v_fraction") {
            let got = loaded(given["x"], 10e3, load);
            assert!((got - share).abs() < 1e-5, "{name}: {got}");
            return;
        }
        let error = |x: f64| 100.0 * (x - loaded(x, 10e3, load));
        let worst = (1..1000)
            .map(|k| error(f64::from(k) * 1e-3))
            .fold(0.0, f64::max);
        let wanted = wanted["max_error_percent_fs"];
        assert!((worst - wanted).abs() < 2e-3, "{name}: {worst}");
    });
}

#[test]
fn meter_accuracy() {
    each("dmm_accuracy", |name, given, wanted| {
        let meter = Meter {
            of_reading: given["percent"] / 100.0,
            counts: given["counts"],
            ..Meter::common()
        };
        let seen = meter.interval_at(given["reading"], given["resolution"]);
        let near = |a: f64, b: f64| (a - b).abs() < 6e-4;
        match wanted.get("plus_minus") {
            Some(error) => assert!(near(seen.high - given["reading"], *error), "{name}"),
            None => assert!(
                near(seen.low, wanted["low"]) && near(seen.high, wanted["high"]),
                "{name}: {seen:?}"
            ),
        }
    });
}

#[test]
fn ratiometric_converter() {
    each("ratiometric", |name, given, wanted| {
        // The converter shows v / vref of its full scale; a span of 10 to 90 % makes a percentage of it.
        let mut s = Sketch::default();
        s.source(
            "vref",
            Site::Module,
            ["vref", "module"],
            about(given["vref"], 0.0),
        );
        s.resistor(
            "common",
            Site::ModuleGround,
            ["module", "good ground"],
            about(0.01, 0.0),
        );
        s.source(
            "sensor",
            Site::Part,
            ["module.signal", "module"],
            about(given["v"], 0.0),
        );
        let input = s.input("signal", Some("vref"));
        let shown = value(&s, &s.hookup().scan(input)) / 5.0;
        let percent = (shown - 0.1) / 0.8 * 100.0;
        assert!(
            (percent - wanted["percent_fs"]).abs() < 1e-3,
            "{name}: {percent}"
        );
    });
}

#[test]
fn thermistor_with_pull_up() {
    // Steinhart-Hart coefficients of the 3 kohm example, published with the rows.
    let (a, b, c) = (1.40e-3, 2.37e-4, 9.90e-8);
    each("ntc_pullup", |name, given, wanted| {
        let kelvin = wanted.get("t_c").or(given.get("t_c")).unwrap() + 273.15;
        let volts = wanted.get("v").unwrap();
        let ohms = bisect(|ln| 1.0 / (a + b * ln + c * ln * ln * ln) - kelvin).exp();
        let mut s = Sketch::default();
        s.source(
            "vref",
            Site::Module,
            ["vref", "good ground"],
            about(given["Vref"], 0.0),
        );
        s.resistor(
            "pull",
            Site::Module,
            ["vref", "signal"],
            about(given["Rpullup"], 0.0),
        );
        s.resistor(
            "sensor",
            Site::Part,
            ["signal", "good ground"],
            about(ohms, 0.0),
        );
        let ask = with_meter(s.hookup(), 1e15);
        let got = value(&s, &ask.volts("signal", "good ground"));
        assert!((got - volts).abs() < 1e-3, "{name}: {got} against {volts}");
    });
}

/// Root of a falling function of the logarithm of ohms.
fn bisect(f: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (0.0, 20.0);
    for _ in 0..80 {
        let middle = f64::midpoint(low, high);
        if 0.0 < f(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}
