//! Pages: views poured into templates.
//!
//! In: views. Out: path to HTML. Templates ship inside the program and hold no logic beyond loop, if
//! and include; everything they print is escaped unless a view made it as markup.

use super::{Files, views::Page};
use crate::card::embedded;
use include_dir::{Dir, include_dir};
use rayon::prelude::*;
use tera::{Context, Tera};

/// The folder `templates/`.
static TEMPLATES: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/templates");

/// Every page as HTML under its path.
pub(super) fn render(pages: &[Page]) -> Files {
    let tera = templates();
    pages
        .par_iter()
        .map(|page| (page.path.clone(), fill(&tera, page).into_bytes()))
        .collect()
}

fn templates() -> Tera {
    let mut tera = Tera::new();
    let files: Vec<(&str, String)> = embedded(&TEMPLATES)
        .into_iter()
        .map(|(name, bytes)| (name, String::from_utf8_lossy(bytes).into_owned()))
        .collect();
    tera.add_raw_templates(files)
        .expect("shipped templates parse: the tests render every one of them");
    tera
}

/// A view always serialises, and templates name only fields that views always have.
fn fill(tera: &Tera, page: &Page) -> String {
    Context::from_serialize(page)
        .and_then(|context| tera.render(page.template, &context))
        .expect("shipped templates fit their views: the tests render every one of them")
}
