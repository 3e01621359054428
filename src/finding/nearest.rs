//! "Did you mean": the nearest of some names to what was typed.

/// The nearest candidate by optimal string alignment, if near enough to be a slip (a third of its length).
pub fn nearest<'a>(typed: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let typed = typed.to_ascii_lowercase();
    candidates
        .into_iter()
        .map(|name| {
            (
                strsim::osa_distance(&typed, &name.to_ascii_lowercase()),
                name,
            )
        })
        .filter(|(distance, name)| distance * 3 <= name.chars().count().max(3))
        .min()
        .map(|(_, name)| name)
}
