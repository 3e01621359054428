//! Addresses: where each page of the site stands, and names that are safe in an address.
//!
//! In: ids and titles. Out: paths from the site's root, always ending in a file, so that links work
//! from any folder and without a server. Never: links of the deck's author.

use std::collections::BTreeMap;

/// The front page.
pub(super) const FRONT: &str = "index.html";
/// About the site, and the cautions that hold everywhere.
pub(super) const ABOUT: &str = "about/index.html";

/// What a web server shows in place of a page that is not there.
pub(super) const MISSING: &str = "404.html";

/// The site's root as a web server knows it: a page shown at any address can't climb to it. The path of
/// the site's address where one was given, `/` else.
pub(super) fn root_on_server(address: Option<&str>) -> String {
    let after_scheme = address.and_then(|address| address.split_once("://"));
    let path = after_scheme.and_then(|(_, rest)| rest.split_once('/'));
    let path = path.map_or("", |(_, path)| path.trim_matches('/'));
    if path.is_empty() || path.contains(['"', '?', '#']) {
        return "/".to_owned();
    }
    format!("/{path}/")
}

/// `cards/egr-position/index.html`.
pub(super) fn card(id: &str) -> String {
    format!("cards/{id}/index.html")
}

/// `cards/egr-position/bench/index.html`.
pub(super) fn bench(id: &str) -> String {
    format!("cards/{id}/bench/index.html")
}

/// `cards/egr-position/readings/index.html`.
pub(super) fn readings(id: &str) -> String {
    format!("cards/{id}/readings/index.html")
}

/// What a phone shows in place of a page it has not got.
pub(super) const OFFLINE: &str = "offline/index.html";
/// Labels with QR codes.
pub(super) const LABELS: &str = "labels/index.html";

/// Whether people elsewhere can open this: a scheme of the web and a host.
pub fn is_whole(site: &str) -> bool {
    let rest = ["https://", "http://"]
        .iter()
        .find_map(|scheme| site.strip_prefix(scheme));
    let plain = |letter: char| !(letter.is_whitespace() || "\"<>?#".contains(letter));
    rest.is_some_and(|rest| !rest.starts_with('/') && !rest.is_empty() && rest.chars().all(plain))
}

/// A page's whole address: `https://wiring.example/cards/egr-position/`.
pub(super) fn on_site(site: &str, path: &str) -> String {
    let folder = path.strip_suffix("index.html").unwrap_or(path);
    format!("{}/{folder}", site.trim_end_matches('/'))
}

/// `codes/P0405/index.html`.
pub(super) fn code(code: &str) -> String {
    format!("codes/{}/index.html", safe(code))
}

/// `families/position-pot/index.html`.
pub(super) fn family(name: &str) -> String {
    format!("families/{}/index.html", safe(name))
}

/// `systems/engine/index.html`.
pub(super) fn system(id: &str) -> String {
    format!("systems/{}/index.html", safe(id))
}

/// `vehicles/harbour-shuttle-2017-2020/index.html`.
pub(super) fn vehicle(slug: &str) -> String {
    format!("vehicles/{slug}/index.html")
}

/// Light and units, chosen for the phone.
pub(super) const COMFORT: &str = "comfort/index.html";

/// Runs of bench mode kept on the phone.
pub(super) const RUNS: &str = "runs/index.html";

/// `lessons/loaded-tests/index.html`.
pub(super) fn lesson(id: &str) -> String {
    format!("lessons/{id}/index.html")
}

/// All calculators.
pub(super) const CALCULATORS: &str = "calculators/index.html";

/// `calculators/voltage-drop/index.html`.
pub(super) fn calculator(name: &str) -> String {
    format!("calculators/{}/index.html", safe(name))
}

/// `?length=5%20m&size=2.5%20mm2`: values typed into a calculator, as its page reads them.
pub(super) fn query(pairs: &[(impl AsRef<str>, impl AsRef<str>)]) -> String {
    let mut query = String::new();
    for (key, text) in pairs {
        query.push(if query.is_empty() { '?' } else { '&' });
        percent_encode(key.as_ref(), &mut query);
        query.push('=');
        percent_encode(text.as_ref(), &mut query);
    }
    query
}

/// Everything but the letters that RFC 3986 leaves unreserved.
fn percent_encode(text: &str, into: &mut String) {
    for byte in text.bytes() {
        match byte {
            b'-' | b'.' | b'_' | b'~' => into.push(char::from(byte)),
            byte if byte.is_ascii_alphanumeric() => into.push(char::from(byte)),
            byte => into.push_str(&format!("%{byte:02X}")),
        }
    }
}

/// The way from a page back to the site's root: `../../` for a page two folders down.
pub(super) fn root_from(path: &str) -> String {
    "../".repeat(path.matches('/').count())
}

/// A slug for every text; two texts share one only if they differ in nothing but letter case.
pub(super) fn slugs<'a>(texts: impl IntoIterator<Item = &'a str>) -> BTreeMap<String, String> {
    let mut by_text: BTreeMap<String, String> = BTreeMap::new();
    let mut sorted: Vec<String> = texts.into_iter().map(str::to_lowercase).collect();
    sorted.sort();
    sorted.dedup();
    for text in sorted {
        let plain = slug(&text);
        let taken = |candidate: &String| by_text.values().any(|used| used == candidate);
        let free = std::iter::once(plain.clone())
            .chain((2..).map(|number: usize| format!("{plain}-{number}")))
            .find(|candidate| !taken(candidate))
            .unwrap_or(plain);
        by_text.insert(text, free);
    }
    by_text
}

/// Lower-case letters and digits, everything else a single hyphen; a hash where nothing is left.
fn slug(text: &str) -> String {
    let mut slug = String::new();
    for letter in text.to_lowercase().chars() {
        if letter.is_ascii_alphanumeric() {
            slug.push(letter);
        } else if !slug.is_empty() && !slug.ends_with('-') {
            slug.push('-');
        }
    }
    let slug = slug.trim_end_matches('-');
    if slug.is_empty() {
        return format!("v-{}", &blake3::hash(text.as_bytes()).to_hex()[..8]);
    }
    slug.to_owned()
}

/// The text itself where it is a plain word, so that addresses stay what people typed.
fn safe(text: &str) -> String {
    let plain = |letter: char| letter.is_ascii_alphanumeric() || letter == '-' || letter == '_';
    if !text.is_empty() && text.chars().all(plain) {
        return text.to_owned();
    }
    slug(text)
}
