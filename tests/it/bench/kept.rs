//! Runs on the phone: kept at every step, also where the battery dies; listed, opened, deleted; never sent.

use super::hand::Hand;
use crate::browser::chrome::Chrome;
use crate::browser::serve;
use serde_json::json;

const BENCH: &str = "cards/coolant-temperature/bench/index.html";

fn read_one(hand: &mut Hand) {
    hand.open(BENCH);
    hand.tap("[data-begin]");
    hand.read("supply", "5.01 V");
}

#[test]
fn a_run_outlives_a_dead_battery_and_can_be_deleted() {
    let profile = tempfile::tempdir().unwrap();
    let mut hand = Hand::with(Chrome::with_profile(profile.path()), serve(), "");
    read_one(&mut hand);
    // Dropped, the browser is killed in the middle of whatever it does; the site keeps its address.
    let Hand { chrome, server, .. } = hand;
    drop(chrome);
    let mut hand = Hand::with(Chrome::with_profile(profile.path()), server, "kept");
    hand.open("runs/index.html");
    hand.sees("[data-runs] li|Coolant temperature sensor");
    hand.picture();
    hand.tap("[data-runs] a");
    hand.sees("#verdict .meaning|Every reading");
    assert!(hand.text("[data-record]").contains("5.01 V"));
    hand.tap("#verdict a|Runs on this phone");
    hand.tap("[data-delete]");
    hand.sees("[data-delete]|for good");
    hand.tap("[data-delete]");
    hand.sees("[data-none]|deleted");
    hand.reload();
    hand.sees("[data-none]|No run is kept");
    hand.check_quiet();
}

#[test]
fn a_phone_that_keeps_nothing_says_so_and_works() {
    let mut hand = Hand::new("");
    let refusing = json!({"source": "IDBFactory.prototype.open = () => { throw new DOMException('full', 'QuotaExceededError') };"});
    hand.chrome
        .call("Page.addScriptToEvaluateOnNewDocument", refusing);
    hand.open(BENCH);
    hand.sees("[data-unkept]|keeps nothing");
    hand.tap("[data-begin]");
    hand.read("supply", "5.01 V");
    hand.tap("[data-go-verdict]");
    hand.sees("#verdict|a good circuit");
    assert!(hand.text("[data-record]").contains("5.01 V"));
}

#[test]
fn a_reading_can_be_corrected_and_one_that_makes_no_sense_is_refused_in_words() {
    let mut hand = Hand::new("");
    read_one(&mut hand);
    hand.tap("[data-change]");
    hand.sees("[data-entry]");
    hand.chrome
        .eval("document.querySelector('[data-reading]').value = '5 bananas'");
    hand.tap("button.enter");
    hand.sees("[data-wrong]|can't be taken here");
    hand.chrome
        .eval("document.querySelector('[data-reading]').value = ''");
    hand.read("supply", "20 mV");
    assert_eq!(hand.text("[data-read]"), "20 mV");
    assert!(hand.text("[data-meaning]").starts_with("Not good"));
    hand.check_quiet();
}

/// The file is what the desk's own reader takes without a word.
#[test]
fn known_good_readings_become_rows_that_the_deck_takes() {
    let mut hand = Hand::new("");
    hand.open(BENCH);
    hand.sees("[data-begin]");
    hand.chrome.eval(
        "(() => { const field = document.querySelector('[data-vehicle]'); field.value = 'Shuttle \"3\", blue';
            field.dispatchEvent(new Event('input', {bubbles: true})); })()",
    );
    hand.tap("[data-begin]");
    hand.read("supply", "5.01 V");
    hand.go_to("at-rest");
    hand.read("at-rest@20 C", "2.9 V");
    hand.tap("[data-go-verdict]");
    hand.tap("summary|Known-good readings");
    hand.chrome.eval(
        "(() => { const make = URL.createObjectURL; URL.createObjectURL = (file) => { file.text().then((text) => { window.filed = text; }); return make(file); }; })()",
    );
    hand.tap("[data-file]");
    let filed = hand.chrome.eval(
        "new Promise((told) => { const look = () => (window.filed ? told(window.filed) : requestAnimationFrame(look)); look(); })",
    );
    let room = tempfile::tempdir().unwrap();
    let demo = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("demo");
    for file in walkdir::WalkDir::new(&demo).into_iter().map(Result::unwrap) {
        let to = room.path().join(file.path().strip_prefix(&demo).unwrap());
        match file.file_type().is_dir() {
            true => std::fs::create_dir_all(to).unwrap(),
            false => drop(std::fs::copy(file.path(), to).unwrap()),
        }
    }
    let readings = room.path().join("readings/coolant-temperature.csv");
    std::fs::write(readings, filed.as_str().unwrap()).unwrap();
    let prepared = loomleaf::publish::pipeline::prepare(room.path()).unwrap();
    let said: Vec<_> = prepared.findings.iter().map(|one| &one.message).collect();
    assert!(said.is_empty(), "{said:?}\n{filed}");
    let sheet = prepared
        .sheets
        .iter()
        .find(|one| one.card == "coolant-temperature");
    let known: Vec<_> = sheet
        .unwrap()
        .known_good
        .iter()
        .flat_map(|one| &one.readings)
        .collect();
    assert_eq!(known.len(), 2, "{filed}");
    assert!(known.iter().all(|one| one.vehicle == "Shuttle \"3\", blue"));
}
