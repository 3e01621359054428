//! Tables as a screen reader gets them: whatever style makes of one, it stays a table with rows and cells.

use super::chrome::Chrome;
use super::serve;
use serde_json::json;

/// Pages with tables that fold, scroll or become small sheets.
const PAGES: [&str; 5] = [
    "cards/coolant-temperature/index.html",
    "cards/coolant-temperature/readings/index.html",
    "cards/ramp-angle/index.html",
    "cards/ramp-angle/readings/index.html",
    "calculators/rtd/index.html",
];

/// Opens everything that folds; tells how many tables, rows and cells there are to be read.
const OPENED: &str = "(() => {
  for (const fold of document.querySelectorAll('details')) fold.open = true;
  for (const late of document.querySelectorAll('*')) if (getComputedStyle(late).contentVisibility === 'auto') late.style.contentVisibility = 'visible';
  const count = (selector) => [...document.querySelectorAll(selector)].filter((one) => one.checkVisibility()).length;
  return [count('table'), count('tr'), count('tbody th, td')];
})()";

/// How many nodes of Chromium's accessibility tree have one of these roles.
fn roles(chrome: &mut Chrome, wanted: &[&str]) -> usize {
    let tree = chrome.call("Accessibility.getFullAXTree", json!({}));
    let nodes = tree["nodes"].as_array().unwrap().iter();
    let named = nodes.filter(|node| node["ignored"] == false);
    named
        .filter(|node| wanted.contains(&node["role"]["value"].as_str().unwrap_or_default()))
        .count()
}

#[test]
fn a_table_stays_a_table_to_a_screen_reader() {
    let server = serve();
    let mut chrome = Chrome::start();
    let mut wrong = Vec::new();
    for page in PAGES {
        for (width, letters) in [(360, "100%"), (360, "200%"), (740, "100%"), (1280, "100%")] {
            chrome.screen(width, 740);
            chrome.open(&format!("{}{page}", server.address()));
            let larger = format!("document.documentElement.style.fontSize = '{letters}'");
            chrome.eval(&larger);
            let shown = chrome.eval(OPENED);
            let read = json!([
                roles(&mut chrome, &["table"]),
                roles(&mut chrome, &["row"]),
                roles(&mut chrome, &["cell", "gridcell", "rowheader"]),
            ]);
            assert_ne!(shown[0], 0, "{page}: no table is shown");
            if shown != read {
                wrong.push(format!(
                    "{page} {width} wide, letters {letters}: {shown} are shown, {read} read"
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
