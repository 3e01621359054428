//! Marks of the leads on connectors with many places, as large as a phone shows them: read, told apart, covering nothing.

use super::hand::Hand;
use crate::browser::chrome::Chrome;
use loomleaf::card::{read, shipped};
use loomleaf::preview::{Port, Server};
use loomleaf::publish::SiteOptions;
use serde_json::json;

/// Sixteen places in two rows and thirty in three; two pins beside each other, two above each other, two apart.
const DENSE: [&str; 4] = [
    "pins:\n  5: {role: ground}\n  14: {role: signal}\nconnector:\n  rows:\n    - [(1), (2), (3), (4), 5, (6), (7), (8)]\n    - [(9), (10), (11), (12), (13), 14, (15), (16)]\n",
    "pins:\n  10: {role: signal}\n  11: {role: ground}\nconnector:\n  rows:\n    - [(1), (2), (3), (4), (5), (6), (7), (8)]\n    - [(9), 10, 11, (12), (13), (14), (15), (16)]\n",
    "pins:\n  7: {role: signal}\n  15: {role: ground}\nconnector:\n  keying: top\n  rows:\n    - [(1), (2), (3), (4), (5), (6), 7, (8)]\n    - [(9), (10), (11), (12), (13), (14), 15, _]\n",
    "pins:\n  1: {role: signal}\n  30: {role: ground}\nconnector:\n  rows:\n    - [1, (2), (3), (4), (5), (6), (7), (8), (9), (10)]\n    - [(11), (12), (13), (14), (15), (16), (17), (18), (19), (20)]\n    - [(21), (22), (23), (24), (25), (26), (27), (28), (29), 30]\n",
];

/// Of every drawing shown: marks that lie over a label, touch no pin or two, are small, or are told by colour alone.
const MARKS: &str = "(() => {
  const box = (e) => e.getBoundingClientRect();
  const meet = (a, b) => a.left < b.right - 0.5 && b.left < a.right - 0.5 && a.top < b.bottom - 0.5 && b.top < a.bottom - 0.5;
  const wrong = [];
  let seen = 0;
  for (const drawing of document.querySelectorAll('.first svg, .where svg, .setup svg')) {
    if (!drawing.checkVisibility() || !box(drawing).width) continue;
    const { a: scale } = drawing.getScreenCTM();
    const labels = [...drawing.querySelectorAll(':scope > text')];
    const pins = [...drawing.querySelectorAll(':scope > rect[rx=\"4\"]')];
    for (const mark of drawing.querySelectorAll(':scope > g')) {
      const [body, sign] = mark.children;
      seen += 1;
      const at = box(body);
      const says = (what) => wrong.push(`${drawing.closest('section')?.id} ${sign.textContent}: ${what}`);
      if (at.width < 15) says(`${at.width} wide`);
      if (parseFloat(sign.getAttribute('font-size')) * scale < 10) says('a small sign');
      if ({ '+': 'circle', '\u{2212}': 'rect' }[sign.textContent] !== body.localName) says('shape');
      for (const label of labels) if (meet(at, box(label))) says(`lies over ${label.textContent}`);
      const on = pins.filter((pin) => meet(at, box(pin)));
      const covers = (line) => [...Array(41).keys()].some((step) => {
        const { x, y } = line.getPointAtLength((line.getTotalLength() * step) / 40);
        const point = new DOMPoint(x, y).matrixTransform(line.getScreenCTM());
        return at.left + 1 < point.x && point.x < at.right - 1 && at.top + 1 < point.y && point.y < at.bottom - 1;
      });
      if ([...drawing.querySelectorAll(':scope > path[stroke-width=\"3\"]')].some(covers)) says('lies over a jumper or load');
      if (on.length > 1) says(`touches ${on.length} pins`);
      if (at.left < box(drawing).left || at.right > box(drawing).right) says('is cut');
    }
    for (const label of labels) {
      const size = parseFloat(label.getAttribute('font-size')) * scale;
      if (label.getAttribute('font-weight') && size < 12) wrong.push(`${label.textContent} is ${size} high`);
    }
  }
  return [wrong, seen > 0];
})()";

#[test]
fn marks_on_a_dense_connector_are_read_and_cover_nothing() {
    let mut files = vec![("deck.yaml".to_owned(), b"title: Dense\n".to_vec())];
    for (number, pins) in DENSE.iter().enumerate() {
        let card = format!("title: Coolant temperature\nfamily: thermistor-2wire\n{pins}");
        files.push((format!("cards/dense{number}.yaml"), card.into_bytes()));
    }
    let (deck, findings) = read(&files.into_iter().collect(), &shipped());
    let deck = deck.unwrap_or_else(|| panic!("{findings:?}"));
    let sheets = loomleaf::sheet::sheets(&deck).0;
    let server = Server::start(Port::Free).unwrap();
    server.show(loomleaf::publish::site(&deck, &sheets, &SiteOptions::default()).0);
    let mut hand = Hand::with(Chrome::start(), server, "dense");
    for number in 0..DENSE.len() {
        hand.open(&format!("cards/dense{number}/index.html"));
        hand.picture();
        let found = hand.chrome.eval(MARKS);
        assert_eq!(found, json!([[], true]), "card {number}");
        hand.open(&format!("cards/dense{number}/bench/index.html"));
        hand.sees("[data-begin]");
        for test in ["supply", "loaded", "signal-to-ground", "ground-load"] {
            hand.go_to(test);
            hand.picture();
            let found = hand.chrome.eval(MARKS);
            assert_eq!(found, json!([[], true]), "{test} on card {number}");
        }
    }
    hand.check_quiet();
}
