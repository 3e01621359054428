//! Views: what stands on each page, one struct a page, field names that read like the page.
//!
//! In: the shelf. Out: pages ready for their templates. The only place in publishing with
//! `Serialize`; templates print these fields and compute nothing.

mod about;
mod apart;
mod bench;
mod bench_units;
mod beside;
mod calculate;
mod calculator;
mod calculator_drawing;
mod calculator_field;
mod calculators;
mod card;
mod code;
mod comfort;
mod drawn;
mod drawn_parts;
mod expected;
mod face;
mod family;
mod front;
mod group;
mod known_good;
mod labels;
mod lesson;
mod order;
mod outcome;
mod paper;
mod pins;
mod readings;
mod resistance;
mod signal;

use super::assets::Assets;
use super::circuits::Circuits;
use super::codes::Codes;
use super::shelf::{Entry, Group, Shelf};
use super::{SiteOptions, address, words};
use crate::calc::{CALCULATORS, Calculator};
use serde::Serialize;

/// A page: where it stands, its template, its frame and what is on it.
#[derive(Serialize)]
pub(super) struct Page {
    /// Path inside the site.
    #[serde(skip)]
    pub(super) path: String,
    /// File in `templates/`.
    #[serde(skip)]
    pub(super) template: &'static str,
    frame: Frame,
    page: Content,
}

/// What every page has around its content.
#[derive(Serialize)]
struct Frame {
    /// Name of the shop or school.
    site: String,
    /// Title of the page.
    title: String,
    /// One sentence about the page.
    describes: String,
    /// The way to the site's root.
    root: String,
    /// Path of the style sheet from the root.
    style: String,
    /// Path of the style of paper from the root.
    print_style: String,
    /// Path of the icon from the root.
    icon: String,
    /// Path of the icon of the site as an app from the root.
    app_icon: String,
    /// Path of the script that tells whether the site is on the phone, or empty where it is not taken along.
    offline_script: String,
    /// Path of the script that dresses the page as its reader chose, from the root.
    comfort: String,
    /// Path of a style of the page's own kind from the root, or empty.
    own_style: String,
    /// Path of its script from the root, or empty.
    own_script: String,
    /// Where the page is found, printed on paper.
    address: Option<String>,
    /// True on the front page, which needs no link to itself.
    is_front: bool,
}

/// What is on a page.
#[derive(Serialize)]
#[serde(untagged)]
enum Content {
    Front(front::Front),
    Card(Box<card::CardPage>),
    Bench(bench::BenchPage),
    Code(code::CodePage),
    Family(family::FamilyPage),
    Group(group::GroupPage),
    Lesson(lesson::LessonPage),
    About(about::About),
    Readings(Box<readings::ReadingsPage>),
    Labels(labels::LabelsPage),
    /// All their words stand in the template.
    Missing {},
    /// The list itself is on the phone.
    Runs {},
    Comfort(comfort::ComfortPage),
    Calculators(calculators::CalculatorsPage),
    Calculator(Box<calculator::CalculatorPage>),
}

/// A link: what it says and where it leads, from the site's root.
#[derive(Clone, Serialize)]
struct Link {
    title: String,
    href: String,
}

/// A card in a list: all a search on the page should find.
#[derive(Serialize)]
struct CardRow {
    title: String,
    href: String,
    codes: String,
    family: String,
    also_called: String,
    fits: String,
}

/// Files of the site that pages call.
#[derive(Clone, Copy)]
pub(super) struct Own<'a> {
    /// Style, scripts, icons.
    pub(super) assets: &'a Assets,
    /// What a phone is handed of each card.
    pub(super) circuits: &'a Circuits,
    /// QR codes.
    pub(super) codes: &'a Codes,
    /// Where what is searched stands.
    pub(super) pack: &'a str,
}

/// Every page of the site, in no order that matters.
pub(super) fn all(shelf: &Shelf, own: &Own, options: &SiteOptions) -> Vec<Page> {
    let binder = Binder {
        shelf,
        assets: own.assets,
        circuits: own.circuits,
        codes: own.codes,
        options,
    };
    let mut pages = vec![
        front_page(&binder, own.pack),
        binder.page(
            address::ABOUT.to_owned(),
            (
                "about.html",
                "About and cautions",
                "How to read these pages, and what can hurt",
            ),
            Content::About(about::view(shelf)),
        ),
    ];
    pages.push(beside::missing_page(&binder));
    pages.push(beside::runs_page(&binder));
    pages.extend(beside::kept_pages(&binder));
    pages.push(beside::comfort_page(&binder));
    pages.extend(shelf.entries.iter().map(|entry| card_page(&binder, entry)));
    pages.extend(
        shelf
            .entries
            .iter()
            .map(|entry| readings_page(&binder, entry)),
    );
    pages.extend(shelf.entries.iter().map(|entry| bench_page(&binder, entry)));
    pages.extend(grouped_pages(&binder));
    pages.extend((0..shelf.deck.lessons.len()).map(|at| lesson_page(&binder, at)));
    pages.push(calculators_page(&binder));
    pages.extend(CALCULATORS.iter().map(|one| calculator_page(&binder, one)));
    pages
}

/// A page for each code, family, system and vehicle.
fn grouped_pages(binder: &Binder) -> Vec<Page> {
    let shelf = binder.shelf;
    let mut pages = Vec::new();
    pages.extend(shelf.codes.iter().map(|group| {
        let describes = format!("Circuits that can set {}", group.title);
        let content = Content::Code(code::view(shelf, group));
        binder.page(
            group.path.clone(),
            ("code.html", &group.title, &describes),
            content,
        )
    }));
    pages.extend(shelf.families.iter().filter_map(|group| {
        let content = Content::Family(family::view(shelf, group)?);
        let names = (
            "family.html",
            group.title.as_str(),
            "A kind of circuit and how it is tested",
        );
        Some(binder.page(group.path.clone(), names, content))
    }));
    for (groups, what) in [
        (&shelf.systems, "System"),
        (&shelf.vehicles, "Vehicle or machine"),
    ] {
        pages.extend(groups.iter().map(|group| {
            let content = Content::Group(group::view(what, group));
            let names = ("group.html", group.title.as_str(), "Circuits in one list");
            binder.page(group.path.clone(), names, content)
        }));
    }
    pages
}

fn lesson_page(binder: &Binder, at: usize) -> Page {
    let lesson = &binder.shelf.deck.lessons[at];
    let content = Content::Lesson(lesson::view(binder.shelf, at));
    let names = ("lesson.html", lesson.title.as_str(), "A lesson");
    binder.page(address::lesson(&lesson.id), names, content)
}

fn readings_page(binder: &Binder, entry: &Entry) -> Page {
    let title = format!("{}: every reading", entry.card.title.value);
    let content = Content::Readings(Box::new(readings::view(entry)));
    let names = (
        "readings.html",
        title.as_str(),
        "What every reading of every test means, in each state of the part",
    );
    binder.page(address::readings(&entry.card.id), names, content)
}

fn front_page(binder: &Binder, pack: &str) -> Page {
    let deck = binder.shelf.deck;
    let content = Content::Front(front::view(binder.shelf, pack));
    let names = ("front.html", "Circuits", deck.says.as_str());
    let mut page = binder.page(address::FRONT.to_owned(), names, content);
    page.frame.own_style.clone_from(&binder.assets.search_style);
    page.frame
        .own_script
        .clone_from(&binder.assets.search_script);
    page
}

fn calculators_page(binder: &Binder) -> Page {
    binder.page(
        address::CALCULATORS.to_owned(),
        (
            "calculators.html",
            "Calculators",
            "Wires, signals, temperature and meters, each with its formula and a worked example",
        ),
        Content::Calculators(calculators::view()),
    )
}

fn calculator_page(binder: &Binder, calculator: &'static Calculator) -> Page {
    let names = (
        "calculator.html",
        calculator.title,
        &*words::sentence(calculator.says),
    );
    let content = Content::Calculator(Box::new(calculator::view(
        calculator,
        binder.shelf.deck.drop_limit.as_ref(),
    )));
    let mut page = binder.page(address::calculator(calculator.name), names, content);
    page.frame
        .own_style
        .clone_from(&binder.assets.calculator_style);
    page.frame
        .own_script
        .clone_from(&binder.assets.calculator_script);
    page
}

fn card_page(binder: &Binder, entry: &Entry) -> Page {
    let title = &entry.card.title.value;
    let describes = format!("{title}: pins, expected readings and test order");
    let id = &entry.card.id;
    let path = |known: Option<&String>| known.cloned().unwrap_or_default();
    let files = card::CardFiles {
        circuit: path(binder.circuits.of_card.get(id)),
        code: path(binder.codes.of_card.get(id)),
    };
    let content = Content::Card(Box::new(card::view(binder.shelf, entry, &files)));
    let path = address::card(&entry.card.id);
    binder.page(path, ("card.html", title, &describes), content)
}

fn bench_page(binder: &Binder, entry: &Entry) -> Page {
    let title = format!("{}: bench mode", entry.card.title.value);
    let circuit = binder.circuits.of_card.get(&entry.card.id);
    let circuit = circuit.map_or("", String::as_str);
    let content = Content::Bench(bench::view(entry, circuit));
    let names = (
        "bench.html",
        title.as_str(),
        "One test a screen: type what you read and see what it means",
    );
    let mut page = binder.page(address::bench(&entry.card.id), names, content);
    page.frame.own_style.clone_from(&binder.assets.bench_style);
    page.frame
        .own_script
        .clone_from(&binder.assets.bench_script);
    page
}

/// What all pages share.
struct Binder<'a> {
    shelf: &'a Shelf<'a>,
    assets: &'a Assets,
    circuits: &'a Circuits,
    codes: &'a Codes,
    options: &'a SiteOptions,
}

impl Binder<'_> {
    /// A page of template, title and one sentence about it.
    fn page(&self, path: String, names: (&'static str, &str, &str), page: Content) -> Page {
        let (template, title, describes) = names;
        let site = self.options.address.as_ref();
        let address = site.map(|site| address::on_site(site, &path));
        let (assets, offline) = (self.assets, self.options.offline);
        let frame = Frame {
            site: self.shelf.deck.title.clone(),
            title: title.to_owned(),
            describes: describes.to_owned(),
            root: address::root_from(&path),
            style: assets.style.clone(),
            print_style: assets.print_style.clone(),
            icon: assets.icon.clone(),
            app_icon: assets.app_icons[0].clone(),
            offline_script: match offline {
                true => assets.offline_script.clone(),
                false => String::new(),
            },
            comfort: assets.comfort.clone(),
            own_style: String::new(),
            own_script: String::new(),
            address,
            is_front: path == address::FRONT,
        };
        Page {
            path,
            template,
            frame,
            page,
        }
    }
}

impl Link {
    fn to(group: &Group) -> Self {
        Self {
            title: group.title.clone(),
            href: group.path.clone(),
        }
    }
}

impl CardRow {
    fn of(entry: &Entry) -> Self {
        let listed = |values: &[crate::card::Placed<String>], between: &str| {
            let values: Vec<&str> = values.iter().map(|placed| placed.value.as_str()).collect();
            values.join(between)
        };
        Self {
            title: entry.card.title.value.clone(),
            href: address::card(&entry.card.id),
            codes: listed(&entry.card.codes, " "),
            family: entry
                .family
                .map(|family| family.title.clone())
                .unwrap_or_default(),
            also_called: listed(&entry.card.also_called, ", "),
            fits: listed(&entry.card.fits, ", "),
        }
    }

    fn all(group: &Group) -> Vec<Self> {
        group.entries.iter().map(Self::of).collect()
    }
}

/// `3 circuits`.
fn counted_circuits(group: &Group) -> String {
    words::counted(group.entries.len(), "circuit", "circuits")
}
