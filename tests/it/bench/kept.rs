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
    let focused = "document.activeElement.matches('[data-none]')";
    assert_eq!(hand.chrome.eval(focused), true, "the focus is lost");
    hand.reload();
    hand.sees("[data-none]|No run is kept");
    hand.open(&format!("{BENCH}?run=gone#verdict"));
    hand.sees("#verdict [data-unknown]|not on this phone");
    hand.check_quiet();
}

#[test]
fn a_phone_that_keeps_nothing_says_so_and_works() {
    let mut hand = Hand::new("");
    let refusing = json!({"source": "IDBFactory.prototype.open = () => { throw new DOMException('full', 'QuotaExceededError') };"});
    hand.chrome
        .call("Page.addScriptToEvaluateOnNewDocument", refusing);
    hand.open(BENCH);
    hand.sees("#start [data-unkept]|keeps nothing");
    hand.tap("[data-begin]");
    hand.sees("[data-entry] [data-unkept]|Not kept");
    hand.read("supply", "5.01 V");
    hand.sees("[data-told] [data-unkept]|Not kept");
    hand.tap("[data-go-verdict]");
    hand.sees("#verdict [data-unkept]|Not kept");
    hand.sees("#verdict|a good circuit");
    assert!(hand.text("[data-record]").contains("5.01 V"));
    assert_eq!(
        hand.chrome.eval("location.search"),
        "",
        "a run that is nowhere has no address"
    );
}

#[test]
fn a_phone_that_is_full_in_the_middle_of_a_run_says_so_where_one_types() {
    let mut hand = Hand::new("");
    read_one(&mut hand);
    hand.chrome.eval("IDBObjectStore.prototype.put = () => { throw new DOMException('full', 'QuotaExceededError') }");
    hand.tap("[data-change]");
    hand.read("supply", "20 mV");
    hand.sees("[data-told] [data-unkept]|Not kept");
    hand.tap("[data-go-verdict]");
    hand.sees("#verdict [data-unkept]|Not kept");
    assert!(hand.text("[data-record]").contains("20 mV"));
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

/// A run that found a fault has nothing that is known to be good; then its reading is corrected.
fn a_fault_is_not_offered(hand: &mut Hand) {
    hand.read("supply", "20 mV");
    hand.tap("[data-go-verdict]");
    hand.sees("#verdict .meaning|There is a fault");
    let offered = "document.querySelector('[data-known-good]').checkVisibility()";
    assert_eq!(
        hand.chrome.eval(offered),
        false,
        "a fault is known to be good"
    );
    hand.go_to("supply");
    hand.tap("[data-told] [data-change]");
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
    a_fault_is_not_offered(&mut hand);
    hand.read("supply", "5.01 V");
    hand.go_to("at-rest");
    hand.read("at-rest@20 C", "2.9 V");
    hand.tap("[data-go-verdict]");
    hand.tap("summary|Known-good readings");
    hand.tap("[data-file]");
    hand.sees("[data-unnamed]|Name the vehicle and the meter");
    hand.tap("#meter");
    hand.type_text("bench meter");
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

/// What another tab does to the run that is kept.
const OTHER_TAB: &str =
    "new Promise((told) => { const asked = indexedDB.open('bench', 1); asked.onsuccess = () => {
    const shelf = asked.result.transaction('runs', 'readwrite').objectStore('runs');
    shelf.getAll().onsuccess = ({ target }) => { const [run] = target.result; DOES; };
    shelf.transaction.oncomplete = () => { asked.result.close(); told(true); };
  }; })";

#[test]
fn two_tabs_on_one_run_lose_nothing_and_a_deleted_run_stays_deleted() {
    let mut hand = Hand::new("");
    read_one(&mut hand);
    let adds = "shelf.put({ ...run, readings: [...run.readings, ['signal-to-ground', '5.02 V']] })";
    hand.chrome.eval(&OTHER_TAB.replace("DOES", adds));
    hand.tap("[data-told] [data-change]");
    hand.read("supply", "20 mV");
    hand.tap("header a|All tests");
    hand.sees("[data-overview=signal-to-ground]|5.02 V");
    hand.sees("[data-overview=supply]|20 mV");
    hand.chrome
        .eval(&OTHER_TAB.replace("DOES", "shelf.delete(run.id)"));
    hand.go_to("supply");
    hand.tap("[data-told] [data-change]");
    hand.read("supply", "5.01 V");
    hand.sees("[data-told] [data-unkept]|deleted in another tab");
    hand.open("runs/index.html");
    hand.sees("[data-none]|No run is kept");
}
