//! `reckon`: calculators by name, values as people type them, answers, refusals and their statuses.

use super::Room;

#[test]
fn an_answer_shows_formula_numbers_source_and_whose_limit() {
    let ran = Room::with(&[]).run("reckon divider supply=45 V resistors=5k;10k;7.5k");
    ran.check(
        0,
        "Voltage divider

  Current                  2 mA
  Resistance of the chain  22.5 kohm
  Across resistor 1        10 V
  Across resistor 2        20 V
  Across resistor 3        15 V

Formula:
  I = V / (R1 + R2 + ...)
  V1 = I R1, V2 = I R2, ...
With the numbers:
  I = 45 V / 22.5 kohm = 2 mA
  V = 2 mA x 5 kohm = 10 V
  V = 2 mA x 10 kohm = 20 V
  V = 2 mA x 7.5 kohm = 15 V
Source:  Ohm's and Kirchhoff's laws
The maker's service information and local rules come first.
",
        "",
    );
    let drop =
        Room::with(&[]).run("reckon voltage-drop current=10 A length=5 m size=2.5 mm2 return=body");
    for line in [
        "  Voltage drop                        0.38 V\n",
        "Not typed, so taken:  metal=copper, temperature=20 C, supply=12 V,",
        "Note:    the limit of 0.5 V is: common practice",
    ] {
        assert!(drop.out.contains(line), "{line}: {}", drop.out);
    }
}

#[test]
fn json_keeps_its_shape() {
    let ran = Room::with(&[]).run("reckon signal-range volts=2.4 V reference=4.8 V --json");
    let json = ran.json();
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    assert_eq!(json["calculator"], "signal-range");
    assert!(json["source"].as_str().unwrap().contains("common practice"));
    let results = json["results"].as_array().unwrap();
    let named = |name: &str| results.iter().find(|one| one["name"] == name).unwrap();
    assert!((named("part")["value"].as_f64().unwrap() - 0.5).abs() < 1e-12);
    assert_eq!(named("part")["unit"], "1");
    assert_eq!(named("span")["value"].as_array().unwrap().len(), 2);
    assert_eq!(named("span")["unit"], "V");
    assert_eq!(named("code")["value"], "none");
}

#[test]
fn without_a_name_it_lists_and_without_values_it_says_what_it_needs() {
    let room = Room::with(&[]);
    let list = room.run("reckon");
    assert_eq!((list.status, list.err.as_str()), (0, ""));
    for calculator in loomleaf::calc::CALCULATORS {
        assert!(list.out.contains(calculator.name), "{}", list.out);
        let needs = room.run(&format!("reckon {}", calculator.name));
        assert_eq!((needs.status, needs.err.as_str()), (0, ""));
        for input in calculator.inputs {
            assert!(needs.out.contains(input.key), "{}", needs.out);
        }
        assert!(
            needs.out.contains("Example:  loomleaf reckon "),
            "{}",
            needs.out
        );
        let json = room
            .run(&format!("reckon {} --json", calculator.name))
            .json();
        assert_eq!(
            json["needs"].as_array().unwrap().len(),
            calculator.inputs.len()
        );
    }
    let all = room.run("reckon --json").json();
    let rows = all["calculators"].as_array().unwrap();
    assert_eq!(rows.len(), loomleaf::calc::CALCULATORS.len());
}

/// The example a person sees can be typed as it stands: quoted for a shell, each pair one word.
#[test]
fn the_example_shown_is_one_that_works() {
    let room = Room::with(&[]);
    for calculator in loomleaf::calc::CALCULATORS {
        let shown = room.run(&format!("reckon {}", calculator.name)).out;
        let line = shown.rsplit("Example:  loomleaf ").next().unwrap().trim();
        let ran = room.run(&line.replace('"', ""));
        assert_eq!((ran.status, ran.err.as_str()), (0, ""), "{line}");
    }
}

#[test]
fn a_name_that_is_none_has_a_nearest_one() {
    let ran = Room::with(&[]).run("reckon voltage-drpo current=1 A");
    assert_eq!((ran.status, ran.out.as_str()), (1, ""));
    let first = "no calculator is named `voltage-drpo`; did you mean voltage-drop?\n  there are: ";
    assert!(ran.err.starts_with(first), "{}", ran.err);
}

#[test]
fn wrong_keys_and_values_are_told_with_one_thing_to_do() {
    let room = Room::with(&[]);
    for (line, err) in [
        (
            "reckon divider suply=5 V resistors=1k",
            "no value of divider is named `suply`; did you mean supply?\n  there are: supply and resistors\n",
        ),
        (
            "reckon divider supply=5 A resistors=1k",
            "supply: expected a voltage such as 3.6 V, found `5 A` is a current\n  type it as in 3.6 V\n",
        ),
        (
            "reckon divider supply=5",
            "resistors: resistors is needed\n  type it as in `5 kohm; 10 kohm; 7.5 kohm`\n",
        ),
        (
            "reckon measured-drop drop=0.2 current=10 piece=swich",
            "piece: expected one of connection, switch, heavy-switch, wire, heavy-cable, ground, starter-feed, \
             starter-ground, sensor-ground, module-ground, module-feed, whole, found `swich`\n  did you mean \
             switch?\n",
        ),
        (
            "reckon divider supply=5 supply=6 resistors=1k",
            "supply: `supply` is given twice\n  keep one of them\n",
        ),
        (
            "reckon divider 5",
            "expected KEY=VALUE, found `5`; type it as in loomleaf reckon divider supply=\"45 V\" \
             resistors=\"5 kohm; 10 kohm; 7.5 kohm\"\n",
        ),
        (
            "reckon divider supply=-5 V resistors=1k",
            "supply: expected a voltage from 0 V to 100 kV, found `-5 V`\n  type a value in that range\n",
        ),
    ] {
        room.run(line).check(2, "", err);
    }
}

#[test]
fn both_of_two_wrong_values_are_told_at_once() {
    let ran = Room::with(&[]).run("reckon divider supply=x resistors=y");
    assert_eq!(ran.status, 2);
    assert!(
        ran.err.contains("supply: ") && ran.err.contains("resistors: "),
        "{}",
        ran.err
    );
}
