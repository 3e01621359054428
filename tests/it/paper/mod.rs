//! Cards and labels on paper: one sheet each, letters of eight points and more, QR codes that lead to the page.
//!
//! Read back by programs that know nothing of us: `pdfinfo` and `pdftoppm` (poppler), `zbarimg` (ZBar).

#![allow(clippy::print_stdout, reason = "a measure for whoever sets paper")]

use crate::browser::chrome::{Chrome, decoded};
use crate::browser::{ADDRESS, card_pages, published};
use loomleaf::card::Deck;
use loomleaf::preview::{Port, Server};
use loomleaf::publish::{SiteOptions, site};
use serde_json::json;
use std::path::{Path, PathBuf};
use std::process::Command;

/// A4 (ISO 216) and Letter (ANSI/ASME Y14.1), inches as the browser wants them.
const SHEETS: [(&str, f64, f64); 2] = [("A4", 8.27, 11.69), ("Letter", 8.5, 11.0)];

/// Dots an inch of a page as a picture, a third of what an office printer prints (600).
const DOTS: &str = "200";
/// The upper right corner of a card's sheet, dots: where its code stands. Less to draw and to look through.
const CORNER: [&str; 8] = ["-x", "1050", "-y", "0", "-W", "650", "-H", "600"];

fn serve() -> Server {
    let server = Server::start(Port::Free).unwrap();
    server.show(published().clone());
    server
}

/// The site of the least card of every shipped family, and of those that answer what a family leaves open; with what the
/// demo has not: two tracks, two supplies, pressure with temperature.
fn families() -> Server {
    serve_deck(&crate::families::deck().0)
}

fn serve_deck(deck: &Deck) -> Server {
    let (sheets, _) = loomleaf::sheet::sheets(deck);
    let options = SiteOptions {
        address: Some(ADDRESS.to_owned()),
        offline: true,
    };
    let server = Server::start(Port::Free).unwrap();
    server.show(site(deck, &sheets, &options).0);
    server
}

fn print(chrome: &mut Chrome, sheet: (&str, f64, f64), to: &Path) {
    let (_, width, height) = sheet;
    let paper = json!({"paperWidth": width, "paperHeight": height, "preferCSSPageSize": true});
    let printed = chrome.call("Page.printToPDF", paper);
    std::fs::write(to, decoded(printed["data"].as_str().unwrap())).unwrap();
}

fn pages_of(file: &Path) -> usize {
    let told = Command::new("pdfinfo").arg(file).output();
    let told = told.expect("pdfinfo is installed: run tests/run");
    let text = String::from_utf8(told.stdout).unwrap();
    let pages = text.lines().find_map(|line| line.strip_prefix("Pages:"));
    pages.unwrap().trim().parse().unwrap()
}

/// Every QR code on the pages of a file, or on a part of each.
fn codes_on(file: &Path, part: &[&str]) -> Vec<String> {
    let stem = file.with_extension("");
    let drawn = Command::new("pdftoppm")
        .args(["-r", DOTS, "-gray"])
        .args(part)
        .arg(file)
        .arg(&stem)
        .status();
    assert!(
        drawn
            .expect("pdftoppm is installed: run tests/run")
            .success()
    );
    let name = stem.file_name().unwrap().to_str().unwrap().to_owned();
    let pictures = std::fs::read_dir(file.parent().unwrap()).unwrap();
    let mut pictures: Vec<PathBuf> = pictures.map(|one| one.unwrap().path()).collect();
    pictures.retain(|path| {
        let file = path.file_name().unwrap().to_str().unwrap();
        file.starts_with(&format!("{name}-")) && file.ends_with(".pgm")
    });
    let read = Command::new("zbarimg")
        .args(["--quiet", "--raw"])
        .args(pictures)
        .output();
    let read = read.expect("zbarimg is installed: run tests/run");
    let text = String::from_utf8(read.stdout).unwrap();
    text.lines().map(str::to_owned).collect()
}

/// The smallest letters that print, in points, with where they stand; drawings count as they are scaled.
const SMALLEST: &str = "(() => {
  const shown = (e) => e.checkVisibility({ contentVisibilityAuto: true, visibilityProperty: true });
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  let least = [99, ''];
  for (let node = texts.nextNode(); node; node = texts.nextNode()) {
    const parent = node.parentElement;
    if (!node.data.trim() || parent.closest('title, desc, .hidden, .skip') || !shown(parent)) continue;
    if (!parent.getClientRects().length) continue;
    const drawing = parent.closest('svg');
    const scale = drawing ? parent.getScreenCTM().a : 1;
    const points = parseFloat(getComputedStyle(parent).fontSize) * scale * 72 / 96;
    if (points < least[0]) least = [points, node.data.trim().slice(0, 40)];
  }
  return least;
})()";

/// Words of the first test that lie over its drawing, which they should stand beside or below.
const CROWDED: &str = "(() => {
  const box = (e) => e.getBoundingClientRect();
  const meet = (a, b) => a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 1 && b.top < a.bottom - 1;
  const drawing = document.querySelector('.first svg');
  const words = drawing ? [...document.querySelectorAll('.first > :not(figure) *')] : [];
  const over = words.filter((one) => meet(box(drawing), box(one)));
  return over.map((one) => one.textContent.trim().slice(0, 40));
})()";

/// What a script says of the page as it prints, as wide as the paper between its margins.
fn on_paper(chrome: &mut Chrome, script: &str) -> serde_json::Value {
    chrome.screen(726, 1058);
    chrome.call("Emulation.setEmulatedMedia", json!({"media": "print"}));
    let said = chrome.eval(script);
    chrome.call("Emulation.setEmulatedMedia", json!({"media": ""}));
    said
}

/// Words and rules under the code's white square, and volts that reach into the next column or past the table of pins.
const COVERED: &str = "(() => {
  const code = document.querySelector('.on-paper img')?.getBoundingClientRect();
  const under = [...document.querySelectorAll('.first, .warnings li, .pins, .parts li, h2, .order > li')].filter((one) => {
    const area = one.getBoundingClientRect();
    return code && !one.closest('.on-paper, .hidden') && area.height && area.right > code.left && area.top < code.bottom && area.bottom > code.top;
  });
  const range = document.createRange();
  const wide = [...document.querySelectorAll('.pins td')].filter((cell) => {
    range.selectNodeContents(cell);
    return range.getBoundingClientRect().right > cell.getBoundingClientRect().right - parseFloat(getComputedStyle(cell).paddingRight) + 1;
  });
  // The name of the deck beside the address.
  const address = document.querySelector('.on-paper p')?.getBoundingClientRect();
  const name = document.querySelector('.mast p a');
  range.selectNodeContents(name);
  const meets = (area) => address && area.right > address.left && area.left < address.right && area.top < address.bottom && area.bottom > address.top;
  const titles = [...range.getClientRects()].some(meets) ? [name] : [];
  return [...under, ...wide, ...titles].map((one) => one.textContent.trim().slice(0, 40));
})()";

fn crowded(chrome: &mut Chrome, page: &str) -> Option<String> {
    let over = on_paper(chrome, CROWDED);
    let covered = on_paper(chrome, COVERED);
    (over != json!([]) || covered != json!([]))
        .then(|| format!("{page}: {over} over the drawing, {covered} covered or too wide"))
}

/// What may be on no sheet's back: which face is drawn, what the volts of the pins are held against, cautions that stand
/// nowhere else, and, where the sheet is not full, all the rest. Its answer is what does not show.
const UNTOLD: &str = "(() => {
  const shown = (e) => e && e.checkVisibility({ contentVisibilityAuto: true, visibilityProperty: true }) && e.getClientRects().length;
  const lost = (selector) => [...document.querySelectorAll(selector)].filter((e) => !shown(e)).map((e) => `${selector} is not on paper`);
  const paper = document.querySelector('h1').dataset.paper.split(' ');
  const must = ['.first figcaption', '.pins caption', '.warnings b', 'ol.order .brief'];
  const may = { cautions: '.warnings span', legend: '.drawn .parts', notes: '.notes', sources: '.sources' };
  if (!document.querySelector('.first figcaption').textContent.trim()) return ['an empty caption'];
  if (shown(document.querySelector('#facts')) && ![...document.querySelectorAll('#facts ~ dl dd')].some(shown)) return ['a heading over nothing'];
  // What a wrong reading means holds in one state of the part: the sheet names it as the page does.
  for (const test of document.querySelectorAll('ol.order > li:has(> .brief)')) {
    const place = test.querySelector('.outcomes caption').textContent.replace('What the reading means', '').trim();
    if (!test.querySelector('.brief').textContent.startsWith(place)) return [`${test.id}: wrong readings without ${place}`];
  }
  return [...must, ...Object.entries(may).filter(([word]) => paper.includes(word)).map(([, one]) => one)].flatMap(lost);
})()";

fn untold(chrome: &mut Chrome, page: &str) -> Option<String> {
    let said = on_paper(chrome, UNTOLD);
    (said != json!([])).then(|| format!("{page}: {said}"))
}

/// Where the lowest word of the columns stands on a sheet that lacks something: room for it must not be left.
fn half_blank(chrome: &mut Chrome, file: &Path, page: &str) -> Option<String> {
    let lacks = "!['cautions', 'legend', 'notes', 'sources'].every((one) => document.querySelector('h1').dataset.paper.includes(one))";
    let told = Command::new("pdftotext")
        .arg("-bbox")
        .arg(file)
        .arg("-")
        .output();
    let told =
        String::from_utf8(told.expect("pdftotext is installed: run tests/run").stdout).unwrap();
    let number = |rest: &str| {
        rest.split('"')
            .next()
            .and_then(|one| one.parse::<f64>().ok())
    };
    let lowest = told
        .split("yMax=\"")
        .skip(1)
        .filter_map(number)
        .fold(0.0, f64::max);
    // Letter is the lower sheet, of 792 points; the lowest word is the foot's.
    (chrome.eval(lacks) == json!(true) && lowest < FULL)
        .then(|| format!("{page}: ends at {lowest} points and lacks something"))
}

/// A sheet is full when its last word stands below this many points; a block that is not broken may not fit in the rest.
const FULL: f64 = 640.0;

#[test]
fn every_card_prints_on_one_sheet_and_its_code_leads_back_to_it() {
    let server = serve();
    let mut chrome = Chrome::start();
    let room = tempfile::tempdir().unwrap();
    let (mut wrong, mut cards, mut least) = (Vec::new(), 0, 99.0_f64);
    for page in card_pages() {
        chrome.open(&format!("{}{page}", server.address()));
        for sheet in SHEETS {
            let file = room.path().join(format!("card{cards}{}.pdf", sheet.0));
            print(&mut chrome, sheet, &file);
            let sheets = pages_of(&file);
            if sheets != 1 {
                wrong.push(format!("{page}: {sheets} sheets of {}", sheet.0));
            }
            let folder = page.trim_end_matches("index.html");
            let code = codes_on(&file, &CORNER);
            if code != [format!("{ADDRESS}{folder}")] {
                wrong.push(format!("{page}: {code:?} on {}", sheet.0));
            }
        }
        let smallest = on_paper(&mut chrome, SMALLEST);
        least = least.min(smallest[0].as_f64().unwrap());
        if smallest[0].as_f64().unwrap() < 7.99 {
            wrong.push(format!("{page}: {smallest} points"));
        }
        wrong.extend(crowded(&mut chrome, page));
        wrong.extend(untold(&mut chrome, page));
        cards += 1;
    }
    let long = crate::families::long();
    for (server, deck) in [
        (families(), crate::families::deck().0),
        (serve_deck(&long), long),
    ] {
        for card in deck.cards {
            let page = format!("cards/{}/index.html", card.id);
            chrome.open(&format!("{}{page}", server.address()));
            for sheet in SHEETS {
                let file = room.path().join(format!("family{cards}{}.pdf", sheet.0));
                print(&mut chrome, sheet, &file);
                let sheets = pages_of(&file);
                if sheets != 1 {
                    wrong.push(format!("{page}: {sheets} sheets of {}", sheet.0));
                }
                wrong.extend(half_blank(&mut chrome, &file, &page));
            }
            wrong.extend(crowded(&mut chrome, &page));
            wrong.extend(untold(&mut chrome, &page));
            cards += 1;
        }
    }
    println!("{cards} cards, smallest letters {least:.1} points");
    assert!(cards > 10 && wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_sheet_of_labels_has_a_code_for_every_card() {
    let server = serve();
    let mut chrome = Chrome::start();
    let room = tempfile::tempdir().unwrap();
    chrome.open(&format!("{}labels/index.html", server.address()));
    let file = room.path().join("labels.pdf");
    print(&mut chrome, SHEETS[0], &file);
    let mut codes = codes_on(&file, &[]);
    let mut cards: Vec<String> = card_pages()
        .map(|page| format!("{ADDRESS}{}", page.trim_end_matches("index.html")))
        .collect();
    // 21 labels of 70 x 42.3 mm, as the page says.
    assert_eq!(pages_of(&file), cards.len().div_ceil(21));
    codes.sort();
    cards.sort();
    assert_eq!(codes, cards);
}

#[test]
fn without_an_address_there_is_no_code_and_the_page_says_so() {
    let site = crate::browser::demo();
    let text = |path: &str| std::str::from_utf8(&site[path]).unwrap();
    assert!(
        text("cards/ramp-angle/index.html")
            .contains("No QR code: the site was published without its address.")
    );
    assert!(text("labels/index.html").contains("Publish again with <code>--address"));
    assert!(!site.keys().any(|path| path.starts_with("assets/codes/")));
}
