//! Circuits of the trade that many tests ask about.

use super::build::{Sketch, about};
use loomleaf::circuit::{ElementId, Site};
use loomleaf::quantity::Toleranced;

/// Two-wire thermistor with its pull-up in the module; input 0 is the signal.
pub(crate) fn thermistor() -> Sketch {
    let mut s = Sketch::default();
    s.module_ground();
    s.regulator(
        "vref",
        ["vref", "module"],
        about(5.0, 0.02),
        about(0.1, 0.2),
    );
    let pull = ["vref", "module.signal"];
    s.resistor("pull", Site::Module, pull, about(2490.0, 0.01));
    s.harness("signal");
    s.harness("ground");
    s.input("signal", Some("vref"));
    let sensor = ["part.signal", "part.ground"];
    s.resistor("sensor", Site::Part, sensor, about(3000.0, 0.05));
    s
}

/// Three-wire position potentiometer; input 0 is the signal; `pull` is `vref` or `module`.
pub(crate) fn position(pull: &str) -> Sketch {
    let mut s = Sketch::default();
    s.module_ground();
    s.battery();
    let out = ["module.reference", "module"];
    s.regulator("vref", out, about(5.0, 0.02), about(0.1, 0.2));
    let ends = ["module.signal", pull];
    s.resistor("bias", Site::Module, ends, about(220e3, 0.05));
    for role in ["reference", "signal", "ground"] {
        s.harness(role);
    }
    s.input("signal", Some("module.reference"));
    let nodes = ["part.ground", "part.signal", "part.reference"];
    let position = Toleranced {
        low: 0.14,
        nominal: 0.19,
        high: 0.24,
    };
    s.potentiometer("track", nodes, about(5e3, 0.2), position);
    s
}

/// Three-wire Hall switch fed from the battery; gives the switch too.
pub(crate) fn hall() -> (Sketch, ElementId) {
    let mut s = Sketch::default();
    s.module_ground();
    s.battery();
    let feed = ["battery", "module.supply"];
    s.resistor("feed", Site::Supply, feed, about(0.1, 0.5));
    s.regulator(
        "vref",
        ["vref", "module"],
        about(5.0, 0.02),
        about(0.1, 0.2),
    );
    let pull = ["vref", "module.signal"];
    s.resistor("pull", Site::Module, pull, about(4700.0, 0.05));
    for role in ["supply", "signal", "ground"] {
        s.harness(role);
    }
    s.input("signal", Some("vref"));
    s.sink(
        "sensor",
        ["part.supply", "part.ground"],
        about(6e-3, 0.4),
        3.0,
    );
    let output = s.switch(
        "output",
        Site::Part,
        ["part.signal", "part.ground"],
        about(20.0, 0.5),
        Some((["part.supply", "part.ground"], 3.5)),
    );
    (s, output)
}
