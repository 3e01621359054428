//! Findings about the folder: what is missing, what is in no known place, what is there twice.
//!
//! In: a place. Out: a finding.

use super::super::{Finding, Place, Severity};
use super::{CARD, DECK, Kind, LESSON};

/// The kinds made here.
pub(super) static KINDS: &[&Kind] = &[
    &NO_DECK_FILE,
    &EMPTY_DECK,
    &BAD_ADDRESS,
    &DOUBLED_TITLE,
    &DOUBLED_CARD,
    &YML_ENDING,
    &STRAY_FILE,
    &LINK_OUTSIDE,
    &BROKEN_LINK,
    &LONE_WORD,
    &NO_PHRASE,
    &UNTITLED_LESSON,
];

static NO_DECK_FILE: Kind = Kind {
    code: "no-deck-file",
    severity: Severity::Error,
    title: "The folder has no deck.yaml",
    why: "the pages would not say whose deck this is",
    file: DECK,
    wrong: "",
    right: "title: Our workshop",
};

/// No `deck.yaml` in the folder.
pub fn no_deck_file() -> Finding {
    Finding::new(
        &NO_DECK_FILE,
        &Place::whole_file("deck.yaml"),
        "there is no `deck.yaml` in this folder".into(),
    )
    .hint(
        "write a file `deck.yaml` with one line: `title: ` and the name of your workshop"
            .to_owned(),
    )
}

static EMPTY_DECK: Kind = Kind {
    code: "empty-deck",
    severity: Severity::Warning,
    title: "The deck has no cards",
    why: "there would be nothing to look up",
    file: DECK,
    wrong: "title: Our workshop",
    right: "title: Our workshop",
};

/// No card in the deck.
pub fn empty_deck() -> Finding {
    Finding::new(
        &EMPTY_DECK,
        &Place::whole_file("deck.yaml"),
        "the deck has no cards yet".into(),
    )
    .hint("write the first card as `cards/NAME.yaml`".to_owned())
}

static BAD_ADDRESS: Kind = Kind {
    code: "bad-address",
    severity: Severity::Error,
    title: "A file name that makes no good address",
    why: "the page's address is made from it, and must survive being typed and sent around",
    file: "cards/Example One.yaml",
    wrong: "system: engine",
    right: "system: engine",
};

/// A file stem that is more than small letters, digits and hyphens.
pub fn bad_address(file: &str, stem: &str, meant: &str) -> Finding {
    Finding::new(
        &BAD_ADDRESS,
        &Place::whole_file(file),
        format!("`{stem}` is no good address: expected small letters a to z, digits and hyphens"),
    )
    .hint(format!("name the file `{meant}.yaml`"))
}

static DOUBLED_TITLE: Kind = Kind {
    code: "doubled-title",
    severity: Severity::Warning,
    title: "Two cards with one title",
    why: "in a list nobody could tell them apart",
    file: CARD,
    wrong: "title: Throttle position sensor",
    right: "title: Throttle position sensor, second track",
};

/// A title another card has already.
pub fn doubled_title(place: &Place, title: &str, first: &Place) -> Finding {
    Finding::new(
        &DOUBLED_TITLE,
        place,
        format!("another card is titled `{title}` too"),
    )
    .hint("say in the title what tells them apart".to_owned())
    .beside(first, "the other is here")
}

static DOUBLED_CARD: Kind = Kind {
    code: "doubled-card",
    severity: Severity::Error,
    title: "Two files for one address",
    why: "only one of them could be shown",
    file: CARD,
    wrong: "system: engine",
    right: "system: engine",
};

/// A second file with the same stem.
pub fn doubled_card(file: &str, first: &str) -> Finding {
    Finding::new(
        &DOUBLED_CARD,
        &Place::whole_file(file),
        format!("`{first}` has the same name but for its ending"),
    )
    .hint("rename or remove one of the two".to_owned())
    .beside(&Place::whole_file(first), "the first is this file")
}

static YML_ENDING: Kind = Kind {
    code: "yml-ending",
    severity: Severity::Warning,
    title: "A file that ends in .yml",
    why: "two endings in one deck invite two files for one card",
    file: "cards/example.yml",
    wrong: "system: engine",
    right: "system: engine",
};

/// `.yml` where `.yaml` is meant; read all the same.
pub fn yml_ending(file: &str) -> Finding {
    let meant = file.strip_suffix(".yml").unwrap_or(file);
    Finding::new(
        &YML_ENDING,
        &Place::whole_file(file),
        "the file ends in `.yml`".into(),
    )
    .hint(format!("name it `{meant}.yaml`"))
}

static STRAY_FILE: Kind = Kind {
    code: "stray-file",
    severity: Severity::Advice,
    title: "A file in no place a deck knows",
    why: "it is not read, though somebody may think it is",
    file: "notes.txt",
    wrong: "call the parts store",
    right: "call the parts store",
};

/// A file nothing reads.
pub fn stray_file(file: &str) -> Finding {
    let hint = if file.ends_with(".yaml") || file.ends_with(".yml") {
        "put cards in `cards/` and families in `families/`, not in folders below"
    } else {
        "move it out of the deck, or begin its name with a dot"
    };
    Finding::new(
        &STRAY_FILE,
        &Place::whole_file(file),
        "nothing in a deck reads this file".into(),
    )
    .hint(hint.to_owned())
}

static LINK_OUTSIDE: Kind = Kind {
    code: "link-outside",
    severity: Severity::Warning,
    title: "A link that leaves the deck",
    why: "the deck would change with files that nobody sees in it, or lose them on another machine",
    file: "cards/linked.yaml",
    wrong: "system: engine",
    right: "system: engine",
};

/// A link to a file outside the deck, or to nothing; not followed.
pub fn link_outside(file: &str) -> Finding {
    Finding::new(
        &LINK_OUTSIDE,
        &Place::whole_file(file),
        "this is a link to something outside the deck and is not followed".into(),
    )
    .hint("copy the file into the deck".to_owned())
}

static BROKEN_LINK: Kind = Kind {
    code: "broken-link",
    severity: Severity::Error,
    title: "A link that leads nowhere",
    why: "somebody at the vehicle taps it and gets nothing",
    file: "cards/example.yaml",
    wrong: "notes: see [the EGR valve](egr-valv.yaml)",
    right: "notes: see the EGR valve",
};

/// A link on a page of the site leads nowhere.
pub fn broken_link(place: &Place, page: &str, link: &str) -> Finding {
    Finding::new(
        &BROKEN_LINK,
        place,
        format!("link `{link}` on page {page} leads nowhere, expected a page of the site"),
    )
    .hint(
        "name another card by its file, such as `egr-position.yaml`, or give a full web address"
            .to_owned(),
    )
}

static LONE_WORD: Kind = Kind {
    code: "lone-word",
    severity: Severity::Warning,
    title: "A word that is said to mean the same as itself",
    why: "search would find nothing more by it",
    file: DECK,
    wrong: "words:\n  - [gooseneck]",
    right: "words:\n  - [gooseneck, crane hook]",
};

/// A word alone in its group, or there twice.
pub fn lone_word(place: &Place, typed: &str) -> Finding {
    Finding::new(
        &LONE_WORD,
        place,
        format!("`{typed}` stands beside no other word"),
    )
    .hint("write at least two words that mean the same: `[gooseneck, crane hook]`".to_owned())
}

static NO_PHRASE: Kind = Kind {
    code: "no-phrase",
    severity: Severity::Warning,
    title: "A text too long or too bare to be searched for",
    why: "nobody would type it, so it finds nothing",
    file: DECK,
    wrong: "words:\n  - [gooseneck, \"?\", crane hook]",
    right: "words:\n  - [gooseneck, crane hook]",
};

/// A text of a group without letters or digits, or of more than so many words.
pub fn no_phrase(place: &Place, typed: &str, most: usize) -> Finding {
    Finding::new(
        &NO_PHRASE,
        place,
        format!("expected one to {most} words, found `{typed}`"),
    )
    .hint("write the word or short name that people type".to_owned())
}

static UNTITLED_LESSON: Kind = Kind {
    code: "untitled-lesson",
    severity: Severity::Warning,
    title: "A lesson without a title",
    why: "it stands in lists and in the search under its file's name",
    file: LESSON,
    wrong: "A meter alone draws almost nothing.",
    right: "# Loaded tests\n\nA meter alone draws almost nothing.",
};

/// A lesson that does not begin with a heading.
pub fn untitled_lesson(file: &str, id: &str) -> Finding {
    let place = Place {
        line: 1,
        column: 1,
        ..Place::whole_file(file)
    };
    let message = "expected a title such as `# Loaded tests` in the first line".to_owned();
    Finding::new(&UNTITLED_LESSON, &place, message).hint(format!(
        "write one, or it is called `{}`",
        id.replace('-', " ")
    ))
}
