//! How each type of an assembled circuit is carried: its fields in order; of an enum first the number
//! of the case.
//!
//! A field named after `leaving` stays behind and is empty on the phone. A type that grows a field or
//! a case does not compile until it stands here too.

use super::pen::{Carry, Eye, Pen};
use super::{Carried, Worked};
use crate::card::{Curve, Key, Plug};
use crate::circuit::fault::{Change, Drift, Fault, FaultKind};
use crate::circuit::{
    Band, Element, ElementId, ElementKind, HookUp, Input, Link, Meter, Network, NodeId, Observe,
    Parameter, ParameterId, Powered, Reading, Setting, Site,
};
use crate::quantity::{Dimension, Interval, Toleranced};
use crate::reason::{Condition, Probe, ProbeKind, Technique, When};
use crate::sheet::{Caution, Expected, TestSheet};

macro_rules! carry_struct {
    ($name:ident { $($field:tt: $bound:ident),* } $(leaving $($left:ident),*)?) => {
        impl Carry for $name {
            fn put(&self, pen: &mut Pen) {
                let Self { $($field: $bound,)* $($($left: _,)*)? } = self;
                $($bound.put(pen);)*
            }

            fn take(eye: &mut Eye<'_>) -> Self {
                Self {
                    $($field: Carry::take(eye),)*
                    $($($left: Default::default(),)*)?
                }
            }
        }
    };
}

macro_rules! carry_enum {
    ($name:ident {
        0 $first:ident { $($first_field:tt: $first_bound:ident),* }
        $($number:literal $case:ident { $($field:tt: $bound:ident),* })*
    }) => {
        impl Carry for $name {
            fn put(&self, pen: &mut Pen) {
                match self {
                    Self::$first { $($first_field: $first_bound),* } => {
                        pen.count(0);
                        $($first_bound.put(pen);)*
                    }
                    $(Self::$case { $($field: $bound),* } => {
                        pen.count($number);
                        $($bound.put(pen);)*
                    })*
                }
            }

            fn take(eye: &mut Eye<'_>) -> Self {
                match eye.count() {
                    $($number => Self::$case { $($field: Carry::take(eye)),* },)*
                    other => {
                        if other != 0 {
                            eye.lost();
                        }
                        Self::$first { $($first_field: Carry::take(eye)),* }
                    }
                }
            }
        }
    };
}

/// Built again by the network's own rules: what they refuse was never carried.
impl Carry for Network {
    fn put(&self, pen: &mut Pen) {
        let nodes: Vec<String> = self.nodes().iter().skip(1).cloned().collect();
        nodes.put(pen);
        self.parameters().to_vec().put(pen);
        self.elements().to_vec().put(pen);
        self.inputs().to_vec().put(pen);
    }

    fn take(eye: &mut Eye<'_>) -> Self {
        let mut network = Network::new();
        for node in Vec::<String>::take(eye) {
            network.node(&node);
        }
        let mut refused = false;
        for parameter in Vec::take(eye) {
            refused |= network.parameter(parameter).is_err();
        }
        for element in Vec::take(eye) {
            refused |= network.add(element).is_err();
        }
        for input in Vec::take(eye) {
            network.input(input);
        }
        if refused {
            eye.lost();
        }
        network
    }
}

carry_struct!(Carried {
    card: card,
    in_order: in_order,
    curve: curve,
    tests: tests,
    of_test: of_test,
    variants: variants
});

carry_struct!(Worked {
    network: network,
    probes: probes,
    faults: faults
});

/// Of a test, what readings are told by; where the leads go is on the page.
impl Carry for TestSheet {
    fn put(&self, pen: &mut Pen) {
        self.id.put(pen);
        self.title.put(pen);
        self.scan.put(pen);
        self.dimension.put(pen);
        self.minutes.put(pen);
        self.cautions.put(pen);
        self.expected.put(pen);
    }

    fn take(eye: &mut Eye<'_>) -> Self {
        TestSheet {
            id: Carry::take(eye),
            title: Carry::take(eye),
            scan: Carry::take(eye),
            dimension: Carry::take(eye),
            minutes: Carry::take(eye),
            cautions: Carry::take(eye),
            expected: Carry::take(eye),
            plug: Plug::Unplugged,
            key: Key::Off,
            leads: None,
            links: Vec::new(),
            bridges: Vec::new(),
            when: String::new(),
            why: String::new(),
            outcomes: Vec::new(),
        }
    }
}

carry_struct!(NodeId { 0: place });
carry_struct!(ParameterId { 0: place });
carry_struct!(ElementId { 0: place });
carry_struct!(Parameter {
    name: name,
    range: range,
    dimension: dimension
});
carry_struct!(Element {
    name: name,
    site: site,
    kind: kind
});
carry_struct!(Powered {
    plus: plus,
    minus: minus,
    volts: volts
});
carry_struct!(Input {
    role: role,
    node: node,
    minus: minus,
    against: against,
    full: full,
    valid: valid
});
carry_struct!(HookUp {
    mated: mated,
    powered: powered,
    links: links,
    observe: observe,
    setting: setting,
    meter: meter
});
carry_struct!(Link {
    a: a,
    b: b,
    ohms: ohms
});
carry_struct!(Setting {
    overrides: overrides,
    closed: closed
});
carry_struct!(Meter {
    input: input,
    of_reading: of_reading,
    counts: counts,
    display: display
});
carry_struct!(Band {
    nominal: nominal,
    intervals: intervals,
    floating: floating,
    no_path: no_path
});
carry_struct!(Fault {
    name: name,
    says: says,
    repair: repair,
    subject: subject,
    site: site,
    kind: kind,
    prior: prior,
    range: range,
    changes: changes
});
carry_struct!(Probe {
    test: test,
    state: state,
    hookup: hookup,
    minutes: minutes,
    kind: kind,
    technique: technique,
    when: when
});
carry_struct!(When { test: test, is: is });
carry_struct!(Expected {
    state: state,
    band: band,
    stated: stated,
    instead: instead
});
carry_struct!(Caution { says: says, can_hurt: can_hurt } leaving id, title);
carry_struct!(Toleranced {
    low: low,
    nominal: nominal,
    high: high
});
carry_struct!(Interval {
    low: low,
    high: high
});

carry_enum!(Site {
    0 Module { }
    1 ModuleGround { }
    2 Wire { 0: role }
    3 Contact { 0: role }
    4 Part { }
    5 Supply { }
});
carry_enum!(FaultKind {
    0 Open { }
    1 High { }
    2 ToGround { }
    3 ToReference { }
    4 ToBattery { }
    5 Crossed { }
    6 Shorted { }
    7 OutOfRange { }
    8 Stuck { }
    9 Dead { }
    10 PulledDown { }
    11 NearlyOpen { }
    12 ToWire { }
});
carry_enum!(Change {
    0 Open { 0: element }
    1 Series { 0: element, 1: ohms }
    2 Load { 0: a, 1: b, 2: ohms }
    3 Detach { 0: element, 1: node }
    4 Swap { 0: elements, 1: nodes }
    5 Drift { 0: parameter, 1: drift }
    6 StuckSlider { 0: position }
    7 StuckClosed { 0: element }
    8 DeadInput { 0: input, 1: volts }
    9 Held { 0: node, 1: below }
});
carry_enum!(Drift {
    0 Above { 0: times, 1: reach }
    1 Below { 0: part, 1: reach }
});
carry_enum!(ElementKind {
    0 Resistor { a: a, b: b, ohms: ohms }
    1 Source { plus: plus, minus: minus, volts: volts, series: series }
    2 Regulator { out: out, minus: minus, volts: volts, series: series, limit: limit }
    3 Sink { from: from, to: to, amps: amps, compliance: compliance }
    4 Diode { anode: anode, cathode: cathode, forward: forward, series: series }
    5 Switch { a: a, b: b, ohms: ohms, powered: powered }
    6 Potentiometer { low: low, high: high, slider: slider, track: track, position: position }
});
carry_enum!(Curve {
    0 Beta { r25: r25, beta: beta }
    1 SteinhartHart { a: a, b: b, c: c, within: within }
    2 Platinum { r0: r0 }
});
carry_enum!(Observe {
    0 Volts { red: red, black: black }
    1 Ohms { red: red, black: black }
    2 Amps { red: red, black: black }
    3 Scan { input: input }
});
carry_enum!(Reading {
    0 Value { 0: number }
    1 Floating { }
    2 NoPath { }
});
carry_enum!(ProbeKind {
    0 Meter { }
    1 Raw { }
    2 Derived { valid: valid }
});
carry_enum!(Technique {
    0 VoltsUnplugged { }
    1 VoltsBackProbed { }
    2 VoltsLoaded { }
    3 ForceSignal { }
    4 ForceInRange { }
    5 ScanValue { }
    6 MeasurePart { }
    7 MeasureHarness { }
    8 MeasureCurrent { }
    9 MeasureInsulation { }
});
carry_enum!(Condition {
    0 Low { }
    1 High { }
    2 Off { }
    3 Good { }
});
carry_enum!(Dimension {
    0 Voltage { }
    1 Resistance { }
    2 Current { }
    3 Power { }
    4 Temperature { }
    5 TemperatureSpan { }
    6 Pressure { }
    7 Frequency { }
    8 Time { }
    9 Length { }
    10 Area { }
    11 Angle { }
    12 Ratio { }
    13 Speed { }
    14 Rotation { }
    15 ResistancePerLength { }
});
