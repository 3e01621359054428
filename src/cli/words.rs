//! Words for sizes and lists in the terminal; those that pages and phone use too stand in `report::words`.

/// What every answer about a circuit ends with.
pub(super) const LAST_WORD: &str = "The maker's service information and local rules come first.";

/// `1 card`, `2 cards`; pages keep number and word together, a terminal wraps as it likes.
pub(super) fn counted(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// `312 bytes`, `48 kB`, `1.2 MB`.
pub(super) fn size(bytes: u64) -> String {
    match bytes {
        0..1_000 => format!("{bytes} bytes"),
        1_000..1_000_000 => format!("{} kB", bytes.div_ceil(1_000)),
        _ => format!("{}.{} MB", bytes / 1_000_000, bytes % 1_000_000 / 100_000),
    }
}

/// `a, b and c`.
pub(super) fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
