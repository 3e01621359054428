//! Lessons as pages: what an author typed, and nothing that runs, loads or leads nowhere.

use super::{check_reads_in_order, page, pages, solved};
use loomleaf::card::{Deck, Lesson};
use loomleaf::publish::{SiteOptions, site};

fn lesson(id: &str, title: &str, text: &str) -> Lesson {
    Lesson {
        id: id.to_owned(),
        file: format!("lessons/{id}.md"),
        title: title.to_owned(),
        text: text.to_owned(),
    }
}

fn with(text: &str) -> impl Fn(&mut Deck) {
    let lessons = vec![
        lesson("grounds", "Grounds & earths", text),
        lesson("loads", "Loads", "See [before](grounds.md)."),
    ];
    move |deck| deck.lessons.clone_from(&lessons)
}

#[test]
fn a_lesson_is_a_page_with_links_to_what_it_names() {
    let text = "A [sensor](coolant.yaml), [also](../cards/lift.yaml).\n\n## By hand\n\n| V | ohm |\n| --- | --- |\n\
        | 5 | 10 |\n\n[Drop](calculator:voltage-drop), [the web](https://wiring.example/).\n\n### Deeper\n";
    let files = pages(|deck, _| with(text)(deck));
    check_reads_in_order(
        &page(&files, "lessons/grounds/index.html"),
        &[
            "<h1>Grounds &amp; earths</h1>",
            "<a href=\"../../cards/coolant/index.html\">sensor</a>",
            "<a href=\"../../cards/lift/index.html\">also</a>",
            "<h2>By hand</h2>",
            "<div class=\"across\"><table>",
            "</table></div>",
            "<a href=\"../../calculators/voltage-drop/index.html\">Drop</a>",
            "<a href=\"https://wiring.example/\">the web</a>",
            "<h3>Deeper</h3>",
            "rel=\"next\" href=\"../../lessons/loads/index.html\">Next: Loads</a>",
        ],
    );
    check_reads_in_order(
        &page(&files, "lessons/loads/index.html"),
        &[
            "<a href=\"../../lessons/grounds/index.html\">before</a>",
            "rel=\"prev\" href=\"../../lessons/grounds/index.html\">Before: Grounds &amp; earths</a>",
        ],
    );
    check_reads_in_order(
        &page(&files, "index.html"),
        &[
            "<h2 id=\"lessons\">Lessons</h2>",
            "<a href=\"lessons/grounds/index.html\"><b>Grounds &amp; earths</b></a>",
            "<a href=\"lessons/loads/index.html\">",
        ],
    );
}

#[test]
fn nothing_in_a_lesson_runs_or_loads() {
    let text = "<script>alert(1)</script>\n\n<b onclick=\"x\">bold</b> [tap](javascript:alert(2)) \
        ![picture](https://elsewhere.example/x.png) [none](calculator:nothing)\n\n<table><tr><td>\n";
    let files = pages(|deck, _| with(text)(deck));
    let page = page(&files, "lessons/grounds/index.html");
    let own = page.split("class=\"notes lesson\"").nth(1).unwrap();
    let own = own.split("<nav").next().unwrap();
    for word in [
        "<script",
        "<b",
        "<img",
        "javascript:",
        "elsewhere",
        "<table",
        "calculator:",
    ] {
        assert!(!own.contains(word), "{word} in {own}");
    }
    assert!(own.contains("bold") && own.contains("tap") && own.contains("none"));
}

#[test]
fn a_link_of_a_lesson_that_leads_nowhere_is_the_lessons() {
    let (mut deck, sheets) = solved();
    with("[lost](lost.yaml)")(&mut deck);
    let (_, findings) = site(&deck, &sheets, &SiteOptions::default());
    let told: Vec<&str> = findings.iter().map(|one| &*one.place.file).collect();
    assert_eq!(told, ["lessons/grounds.md"]);
    assert!(
        findings[0].message.contains("`lost.yaml`"),
        "{}",
        findings[0].message
    );
}
