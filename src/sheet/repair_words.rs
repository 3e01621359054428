//! Around a repair: what to look at before anything is replaced, and how to prove afterwards that it was that.
//!
//! In: what readings establish. Out: sentences; none before there is a fault to repair. The checks are common practice of
//! the trade, no source.

use super::taken::Taken;
use super::types::Sheet;
use super::verdict_words::band_words;
use crate::circuit::Site;
use crate::reason::{Establishes, Observation, Technique, Verdict};

const LOOK: &str =
    "Look into both halves of the connector: corrosion, moisture, terminals pushed back or spread.";
const GRIP: &str = "Try the grip of each terminal with a loose pin of the same kind.";
const PART: &str = "Plug the part in and move plug and wires while you read: what changes is a contact, not the part.";
const WIRE: &str =
    "Follow the wire with your hand while you read: clamps, splices, chafed and wet places.";
const MODULE: &str = "At the module: its own feeds and grounds under load, and the terminals of its connector. \
    Other parts on the same reference can pull it down: unplug them one at a time.";
const SUPPLY: &str = "Battery terminals, fuse and relay that feed this circuit, each under load.";
const CODE: &str =
    "Clear any code, work the circuit as when the code set, and read the codes again.";

/// What to look at before anything is replaced.
pub(super) fn before(establishes: &Establishes) -> Vec<String> {
    let sites: &[Site] = match establishes {
        Establishes::Repair { sites, .. } | Establishes::NotSeparable { sites, .. } => sites,
        Establishes::Place { site, .. } => std::slice::from_ref(site),
        _ => return Vec::new(),
    };
    let has = |kind: fn(&Site) -> bool| sites.iter().any(kind);
    let part = has(|site| matches!(site, Site::Part));
    let wire = has(|site| matches!(site, Site::Wire(_)));
    let plug = part || wire || has(|site| matches!(site, Site::Contact(_)));
    let module = has(|site| matches!(site, Site::Module | Site::ModuleGround));
    let supply = has(|site| matches!(site, Site::Supply));
    let lines = [
        (plug, LOOK),
        (plug, GRIP),
        (part, PART),
        (wire, WIRE),
        (module, MODULE),
        (supply, SUPPLY),
    ];
    let lines = lines.into_iter().filter(|(holds, _)| *holds);
    lines.map(|(_, says)| says.to_owned()).collect()
}

/// How to prove the repair: the readings that showed the fault must be good, and the circuit must work plugged in.
pub(super) fn afterwards(sheet: &Sheet, taken: &[Taken], verdict: &Verdict) -> Vec<String> {
    if before(&verdict.establishes).is_empty() {
        return Vec::new();
    }
    let signatures = &sheet.reasoning.signatures;
    let mut lines = Vec::new();
    let mut again = Vec::new();
    for one in verdict.rests_on.iter().filter_map(|at| taken.get(*at)) {
        let Observation { probe, .. } = one.observation;
        let good = signatures.healthy(probe);
        let Some(test) = sheet.test_at(probe) else {
            continue;
        };
        again.push(sheet.reasoning.of_test[probe]);
        let state = signatures
            .probes
            .get(probe)
            .map_or("", |probe| &probe.state);
        let state = if state.is_empty() {
            String::new()
        } else {
            format!(" ({state})")
        };
        lines.push(format!(
            "“{}”{state} must read {}.",
            test.title,
            band_words(&good, test.dimension)
        ));
    }
    lines.extend(working(sheet, &again));
    lines.push(CODE.to_owned());
    lines
}

/// The last test of the order that reads the circuit plugged in and working, where it was not named yet.
fn working(sheet: &Sheet, named: &[usize]) -> Option<String> {
    let reasoning = &sheet.reasoning;
    let works = |test: &usize| {
        let mut own = reasoning.of_test.iter().zip(&reasoning.signatures.probes);
        own.any(|(of, probe)| {
            of == test
                && matches!(
                    probe.technique,
                    Technique::VoltsBackProbed | Technique::ScanValue
                )
        })
    };
    let last = (0..sheet.in_order.min(sheet.tests.len()))
        .rev()
        .find(works)?;
    let title = &sheet.tests[last].title;
    (!named.contains(&last)).then(|| format!("Then plugged in: “{title}” must be good."))
}
