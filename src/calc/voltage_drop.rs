//! Voltage drop in a power circuit: the budget over cable, contacts, splices, switch and ground path.
//!
//! In: current, length, conductor, way back. Out: the drop and what is left of the limit, the longest
//! run, the least size.

use super::cable::{self, Cable, Loop};
use super::fitting::{self, Fitting};
use super::given::Given;
use super::limit::{self, Limit};
use super::shape::{Answer, Calculator, Input, Kind, Refusal, shown};
use crate::quantity::Dimension::{
    Area, Current, Length, Power, Ratio, Resistance, ResistancePerLength, Voltage,
};
use crate::quantity::write_number;

/// Whose limit the default is.
const PRACTICE: &str = "common practice for a whole power circuit at full load (0.5 V, or 3 to 5 % of \
    the supply), no standard";

/// Voltage drop of a circuit that is known.
pub(super) const VOLTAGE_DROP: Calculator = Calculator {
    name: "voltage-drop",
    title: "Voltage drop in a power circuit",
    says: "what a load loses over its cable, contacts, splices, switch and ground path, and what is left \
           of the limit",
    group: "Wires",
    inputs: &[
        cable::CURRENT,
        cable::LENGTH,
        cable::SIZE,
        cable::RETURN,
        cable::STANDARD,
        cable::METAL,
        cable::TEMPERATURE,
        cable::PER_LENGTH,
        cable::SUPPLY,
        Input::of("contacts", "Contacts in the loop", Kind::Count { low: 0, high: 999 }, "")
            .says("plugs and terminals, both ways counted")
            .default("0"),
        Input::quantity("contact", "Each contact", Resistance, (0.0, 1e6))
            .says("5 mohm is common practice, no source; 0.1 V is the most that is accepted")
            .unit("mohm")
            .default("5 mohm"),
        Input::of("splices", "Splices in the loop", Kind::Count { low: 0, high: 999 }, "").default("0"),
        Input::quantity("splice", "Each splice", Resistance, (0.0, 1e6))
            .says("2 mohm is common practice, no source")
            .unit("mohm")
            .default("2 mohm"),
        Input::any("switch", "Switch, relay or fuse", cable::OHMS_OR_VOLTS, (0.0, 1e5))
            .says("ohms, or volts as measured; 0.2 V is the most that is accepted (common practice)"),
        Input::any("ground", "Ground path", cable::OHMS_OR_VOLTS, (0.0, 1e5))
            .says("body, frame and their connections: ohms, or volts as measured; 0.1 V is good, 0.2 V the \
                   most that is accepted (common practice)"),
        limit::LIMIT,
        limit::WHOSE,
    ],
    formula: "drop = I (R' L k + n_contacts R_contact + n_splices R_splice) + switch + ground\n\
              R' = resistance per length at 20 C x (1 + 0.00393 (t - 20)) for copper, (238.1 + t) / 258.1 \
              for aluminium\n\
              k = 2 with the way back by wire, 1 through the body",
    source: cable::SOURCE,
    range: "direct current, up to 100 kA and 1000 km, -100 to 300 C; where the drop would be more than \
            the supply it says that this current can't flow. Sizes that a standard does not have are \
            refused with their neighbours",
    example: &[
        ("current", "10 A"),
        ("length", "5 m"),
        ("size", "2.5 mm2"),
        ("return", "wire"),
        ("temperature", "80 C"),
        ("contacts", "4"),
        ("ground", "50 mV"),
    ],
    work,
};

/// What the drop is made of, in volts.
struct Budget {
    cable: f64,
    contacts: f64,
    splices: f64,
    switch: f64,
    ground: f64,
}

impl Budget {
    fn beside_cable(&self) -> f64 {
        self.contacts + self.splices + self.switch + self.ground
    }

    fn drop(&self) -> f64 {
        self.cable + self.beside_cable()
    }
}

fn work(given: &Given) -> Result<Answer, Refusal> {
    let supply = given.need("supply")?;
    let cable = cable::cable(given)?;
    let run = Loop::of(given)?;
    let length = given.need("length")?;
    let budget = Budget {
        cable: run.current * cable.per_metre * length * run.ways,
        contacts: run.current * given.need("contacts")? * given.need("contact")?,
        splices: run.current * given.need("splices")? * given.need("splice")?,
        switch: cable::part(given, "switch", run.current),
        ground: cable::part(given, "ground", run.current),
    };
    limit::can_flow(budget.drop(), supply)?;
    let limit = limit::limit(given, supply, PRACTICE)?;
    let mut answer = Answer::default();
    tell_drop(&mut answer, &budget, supply, &limit);
    tell_parts(&mut answer, &budget);
    let loss = budget.drop() * run.current;
    answer.quantity(
        "implied",
        "Resistance of the whole path",
        budget.drop() / run.current,
        Resistance,
    );
    answer.quantity("loss", "Turned into heat on the way", loss, Power);
    let room = limit.volts - budget.beside_cable();
    tell_run(&mut answer, &cable, &run, room);
    tell_size(&mut answer, given, &run, length, room)?;
    steps(&mut answer, &cable, &run, length, &budget);
    answer.notes.extend(cable.notes);
    answer.note(limit.note);
    if given.choice("return") == "body" && given.quantity("ground").is_none() {
        answer.note(
            "the way through the body is taken as nothing: measure its drop and give it as ground",
        );
    }
    note_parts(&mut answer, given, &budget);
    answer.note(cable::NOT_HEAT);
    Ok(answer)
}

/// Parts that drop more than common practice accepts of one such part, whatever the whole does.
fn note_parts(answer: &mut Answer, given: &Given, budget: &Budget) {
    let each = |volts: f64, count: &str| match given.get(count) {
        Some(count) if count > 0.0 => volts / count,
        _ => 0.0,
    };
    let parts = [
        ("each contact", each(budget.contacts, "contacts"), 0.1),
        ("each splice", each(budget.splices, "splices"), 0.1),
        ("the switch, relay or fuse", budget.switch, 0.2),
        ("the ground path", budget.ground, 0.2),
    ];
    for (name, volts, most) in parts {
        // A hair above the limit is what rounding leaves of the limit itself.
        if volts > most * (1.0 + 1e-9) {
            answer.note(format!(
                "{name} drops {}, and common practice accepts {} (no standard)",
                shown(volts, Voltage),
                shown(most, Voltage)
            ));
        }
    }
}

fn tell_drop(answer: &mut Answer, budget: &Budget, supply: f64, limit: &Limit) {
    let drop = budget.drop();
    answer.quantity("drop", "Voltage drop", drop, Voltage);
    answer.quantity("of-supply", "Of the supply", drop / supply, Ratio);
    answer.quantity("at-load", "Left at the load", supply - drop, Voltage);
    answer.quantity("left", "Left of the limit", limit.volts - drop, Voltage);
    answer.words("verdict", "Verdict", limit::verdict(drop, limit));
}

fn tell_parts(answer: &mut Answer, budget: &Budget) {
    answer.quantity("cable", "Of it the cable", budget.cable, Voltage);
    let others = [
        ("contacts", "Of it the contacts", budget.contacts),
        ("splices", "Of it the splices", budget.splices),
        ("switch", "Of it switch, relay or fuse", budget.switch),
        ("ground", "Of it the ground path", budget.ground),
    ];
    for (key, label, volts) in others.into_iter().filter(|(.., volts)| *volts > 0.0) {
        answer.quantity(key, label, volts, Voltage);
    }
}

/// The longest run of this cable that keeps the limit; `room` is what the other parts leave of it.
pub(super) fn tell_run(answer: &mut Answer, cable: &Cable, run: &Loop, room: f64) {
    let label = "Longest run of this cable, one way";
    match room > 0.0 {
        true => {
            let longest = room / (run.current * cable.per_metre * run.ways);
            answer.quantity("longest", label, longest, Length);
        }
        false => answer.words(
            "longest",
            label,
            "none: the other parts take the whole limit",
        ),
    }
}

/// The least area, and standard sizes that keep the limit.
pub(super) fn tell_size(
    answer: &mut Answer,
    given: &Given,
    run: &Loop,
    length: f64,
    room: f64,
) -> Result<(), Refusal> {
    let (metal, factor) = cable::metal(given)?;
    let label = "Least area, solid";
    if room <= 0.0 {
        answer.words("least", label, "none: the other parts take the whole limit");
        return Ok(());
    }
    let amp_metres = run.current * length * run.ways;
    let least = metal.resistivity() * factor * amp_metres / room;
    answer.quantity("least", label, least, Area);
    answer.step(format!(
        "least area = {} ohm mm2/m x {} x {} x {} x {} / {} = {}",
        write_number(metal.resistivity() * 1e6),
        write_number(factor),
        shown(length, Length),
        run.ways,
        shown(run.current, Current),
        shown(room, Voltage),
        shown(least, Area)
    ));
    let (standard, is_gauge) = fitting::family(given, metal)?;
    let sizes = fitting::fitting(standard, is_gauge, (metal, factor), room / amp_metres);
    tell_sizes(answer, &sizes, standard.title(), amp_metres);
    Ok(())
}

/// The first standard size that keeps the limit and the next one up, with their drops.
fn tell_sizes(answer: &mut Answer, sizes: &[Fitting], whose: &str, amp_metres: f64) {
    let label = "Standard size for it";
    let Some(one) = sizes.first() else {
        answer.words("size", label, format!("none of {whose} is thick enough"));
        return;
    };
    answer.words("size", label, format!("{} ({whose})", one.says));
    let drop = one.per_metre * amp_metres;
    answer.quantity("size-drop", "Drop in that cable", drop, Voltage);
    if let Some(up) = sizes.get(1) {
        answer.words("next", "Next size up", format!("{} ({whose})", up.says));
        let drop = up.per_metre * amp_metres;
        answer.quantity("next-drop", "Drop in the next size up", drop, Voltage);
    }
}

fn steps(answer: &mut Answer, cable: &Cable, run: &Loop, length: f64, budget: &Budget) {
    let mut steps = vec![cable.step()];
    let way = match run.ways > 1.0 {
        true => "there and back",
        false => "one way, back through the body",
    };
    steps.push(format!(
        "cable: {} x {} x {} x {} ({way}) = {}",
        shown(run.current, Current),
        shown(cable.per_metre, ResistancePerLength),
        shown(length, Length),
        run.ways,
        shown(budget.cable, Voltage)
    ));
    let volts = [
        budget.cable,
        budget.contacts,
        budget.splices,
        budget.switch,
        budget.ground,
    ];
    let parts: Vec<String> = volts
        .into_iter()
        .filter(|volts| *volts > 0.0)
        .map(|volts| shown(volts, Voltage))
        .collect();
    if parts.len() > 1 {
        let drop = shown(budget.drop(), Voltage);
        steps.push(format!("drop = {} = {drop}", parts.join(" + ")));
    }
    answer.steps.splice(0..0, steps);
}
