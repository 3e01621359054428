//! Findings about circuits and tests: elements, states, points, orders.
//!
//! In: a place, the name typed, the names there are. Out: a finding with the nearest right name.

use super::super::{Finding, Place};
use super::{FAMILY, Kind, error, name_hint};

/// The kinds made here.
pub(super) static KINDS: &[&Kind] = &[
    &UNKNOWN_TEST,
    &DOUBLED_TEST,
    &UNKNOWN_POINT,
    &UNKNOWN_STATE,
    &UNREADABLE_WHEN,
    &UNKNOWN_ELEMENT,
    &UNKNOWN_SWITCH,
    &LONELY_PLACE,
    &OHMS_LIVE,
    &SAME_POINT,
    &WAITS_FOR_ITSELF,
    &BARE_BATTERY,
];

static UNKNOWN_TEST: Kind = error(
    "unknown-test",
    "The order names a test that is not there",
    "a step of the order would be empty",
    "order: [suply, at-rest]",
    "order: [supply, at-rest]",
);

/// A test id that neither the family nor the card has.
pub fn unknown_test(place: &Place, typed: &str, known: &[&str]) -> Finding {
    Finding::new(&UNKNOWN_TEST, place, format!("there is no test `{typed}`"))
        .hint(name_hint(typed, known))
}

static DOUBLED_TEST: Kind = error(
    "doubled-test",
    "The order names a test twice",
    "the second time tells nothing new",
    "order: [supply, at-rest, supply]",
    "order: [supply, at-rest]",
);

/// A test that stands earlier in the order.
pub fn doubled_test(place: &Place, typed: &str, first: &Place) -> Finding {
    Finding::new(
        &DOUBLED_TEST,
        place,
        format!("`{typed}` stands in the order already"),
    )
    .hint("name every test once".to_owned())
    .beside(first, "the first is here")
}

static UNKNOWN_POINT: Kind = error(
    "unknown-point",
    "A test puts a lead where nothing is",
    "nobody can probe a point that is not on the connector",
    "tests:\n  mine: {title: Signal, plug: unplugged, key: on, volts: [signl, ground]}",
    "tests:\n  mine: {title: Signal, plug: unplugged, key: on, volts: [signal, ground]}",
);

/// A place for a lead, a jumper or an element's end that is not there.
pub fn unknown_point(place: &Place, typed: &str, known: &[&str]) -> Finding {
    let hint = name_hint(typed, known).unwrap_or_else(|| {
        "use a role, a pin label, `part.ROLE`, `module.ROLE`, `good ground` or `battery`".into()
    });
    Finding::new(
        &UNKNOWN_POINT,
        place,
        format!("`{typed}` is no place a lead can go to"),
    )
    .hint(hint)
}

static UNKNOWN_STATE: Kind = error(
    "unknown-state",
    "A test names a state the part does not have",
    "the test could not be done as it is written",
    "tests:\n  mine: {title: Signal, plug: back-probed, key: on, volts: [signal, ground], at: valve opn}",
    "tests:\n  mine: {title: Signal, plug: back-probed, key: on, volts: [signal, ground], at: valve open}",
);

/// `at` names neither a signal point nor a state.
pub fn unknown_state(place: &Place, typed: &str, known: &[&str]) -> Finding {
    Finding::new(
        &UNKNOWN_STATE,
        place,
        format!("`{typed}` is neither a signal point nor a state"),
    )
    .hint(name_hint(typed, known))
}

static UNREADABLE_WHEN: Kind = error(
    "unreadable-when",
    "A condition that can not be read",
    "the order would not know when the test is due",
    "tests:\n  mine: {title: Signal, plug: unplugged, key: on, volts: [signal, ground], when: the supply seems low}",
    "tests:\n  mine: {title: Signal, plug: unplugged, key: on, volts: [signal, ground], when: supply is low}",
);

/// `when` that is not `TEST is low|high|off|good`.
pub fn unreadable_when(place: &Place, typed: &str) -> Finding {
    Finding::new(
        &UNREADABLE_WHEN,
        place,
        format!("expected a condition such as `supply is low`, found `{typed}`"),
    )
    .hint("write a test's id, then `is low`, `is high`, `is off` or `is good`".to_owned())
}

static UNKNOWN_ELEMENT: Kind = Kind {
    file: FAMILY,
    ..error(
        "unknown-element",
        "An element of no known kind",
        "the circuit could not be solved without it",
        "part:\n  - {resitor: 5 kohm, between: [reference, ground]}",
        "part:\n  - {resistor: 5 kohm, between: [reference, ground]}",
    )
};

/// The first key of an element is no kind of element.
pub fn unknown_element(place: &Place, typed: &str, kinds: &[&str]) -> Finding {
    Finding::new(
        &UNKNOWN_ELEMENT,
        place,
        format!("`{typed}` is no kind of element"),
    )
    .hint(name_hint(typed, kinds))
}

static UNKNOWN_SWITCH: Kind = Kind {
    file: FAMILY,
    ..error(
        "unknown-switch",
        "A state closes a switch that is not there",
        "the state would be like every other",
        "part:\n  - {switch: output, between: [signal, ground], closed: 25 ohm}\nstates:\n  - {name: pressed, closes: [outptu]}",
        "part:\n  - {switch: output, between: [signal, ground], closed: 25 ohm}\nstates:\n  - {name: pressed, closes: [output]}",
    )
};

/// A state names a switch that is not there.
pub fn unknown_switch(place: &Place, typed: &str, switches: &[&str]) -> Finding {
    Finding::new(
        &UNKNOWN_SWITCH,
        place,
        format!("there is no switch `{typed}`"),
    )
    .hint(name_hint(typed, switches))
}

static LONELY_PLACE: Kind = Kind {
    file: FAMILY,
    ..error(
        "lonely-place",
        "A place of its own that only one element touches",
        "no current can flow there, so the element does nothing; most often a mistyped role",
        "part:\n  - {resistor: 5 kohm, between: [reference, grund]}",
        "part:\n  - {resistor: 5 kohm, between: [reference, ground]}",
    )
};

/// A private node that stands once only.
pub fn lonely_place(place: &Place, typed: &str, known: &[&str]) -> Finding {
    Finding::new(
        &LONELY_PLACE,
        place,
        format!("only this element touches `{typed}`"),
    )
    .hint(name_hint(typed, known))
}

static OHMS_LIVE: Kind = Kind {
    file: FAMILY,
    ..error(
        "ohms-live",
        "Ohms in a live circuit",
        "an ohmmeter sends its own small current; what a live module adds makes its number mean nothing",
        "tests:\n  part:\n    title: The sensor's own resistance\n    plug: unplugged\n    key: on\n    ohms: [part.signal, part.ground]",
        "tests:\n  part:\n    title: The sensor's own resistance\n    plug: unplugged\n    key: off\n    ohms: [part.signal, part.ground]",
    )
};

/// A test that measures ohms in a powered circuit.
pub fn ohms_live(place: &Place, test: &str) -> Finding {
    Finding::new(
        &OHMS_LIVE,
        place,
        format!("`{test}` measures ohms in a live circuit"),
    )
    .hint("write `key: off` and stay off the battery, or measure volts".to_owned())
}

static SAME_POINT: Kind = Kind {
    file: FAMILY,
    ..error(
        "same-point",
        "A test names one point twice",
        "both leads on one point read nothing, whatever is wrong",
        "tests:\n  mine: {title: Signal, plug: unplugged, key: on, volts: [signal, signal]}",
        "tests:\n  mine: {title: Signal, plug: unplugged, key: on, volts: [signal, ground]}",
    )
};

/// Two leads, or both ends of a jumper, on one point.
pub fn same_point(place: &Place, typed: &str) -> Finding {
    let message = format!("both ends are at `{typed}`");
    Finding::new(&SAME_POINT, place, message).hint("name the other point".to_owned())
}

static WAITS_FOR_ITSELF: Kind = Kind {
    file: FAMILY,
    ..error(
        "waits-for-itself",
        "A test done only after itself",
        "nobody could ever do it",
        "tests:\n  mine: {title: Signal, plug: unplugged, key: on, volts: [signal, ground], when: mine is low}",
        "tests:\n  first: {title: Signal, plug: unplugged, key: on, volts: [signal, ground]}\n  \
         mine: {title: To the body, plug: unplugged, key: on, volts: [signal, good ground], when: first is low}",
    )
};

/// A test whose condition names the test itself.
pub fn waits_for_itself(place: &Place, test: &str) -> Finding {
    let message = format!("`{test}` is to be done only after `{test}`");
    Finding::new(&WAITS_FOR_ITSELF, place, message)
        .hint("name a test that comes before it, or leave `when` out".to_owned())
}

static BARE_BATTERY: Kind = Kind {
    file: FAMILY,
    ..error(
        "bare-battery",
        "Battery voltage through a bare jumper",
        "it burns the lead or destroys the module; a resistor of a kilohm lets through no more than both can bear",
        "tests:\n  mine: {title: Ground fed, plug: unplugged, key: on, bridge: [battery, ground], volts: [ground, good ground]}",
        "tests:\n  mine: {title: Ground fed, plug: unplugged, key: on, bridge: [battery, ground], through: 1 kohm, volts: [ground, good ground]}",
    )
};

/// A jumper without a load from the battery to what is no feed.
pub fn bare_battery(place: &Place, typed: &str) -> Finding {
    let message = format!("nothing stands between the battery and `{typed}`");
    Finding::new(&BARE_BATTERY, place, message)
        .hint("add `through: 1 kohm`, or leave the battery out of the test".to_owned())
}
