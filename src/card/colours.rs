//! Wire colours: the letters of IEC 60757 (1983 table), their words, and what people write instead.
//!
//! In: letters of a wire. Out: its colours. The only table of colours; pages, sheets and readers ask here.

/// A wire colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Colour {
    /// Its two letters: `GN`.
    pub letters: &'static str,
    /// Its word: `green`.
    pub word: &'static str,
    /// What else people write for it, in small letters.
    pub also: &'static [&'static str],
}

const fn colour(
    letters: &'static str,
    word: &'static str,
    also: &'static [&'static str],
) -> Colour {
    Colour {
        letters,
        word,
        also,
    }
}

/// Every colour, in the order pages list them.
pub const COLOURS: [Colour; 14] = [
    colour("BK", "black", &["bl", "blk", "sw"]),
    colour("BN", "brown", &["br", "brn"]),
    colour("RD", "red", &["rt"]),
    colour("OG", "orange", &["or", "org"]),
    colour("YE", "yellow", &["yl", "yel", "ge"]),
    colour("GN", "green", &["grn"]),
    colour("BU", "blue", &["blu"]),
    colour("VT", "violet", &["purple", "vi", "pu", "vio"]),
    colour("GY", "grey", &["gray", "gr", "gry"]),
    colour("WH", "white", &["wt", "wht", "ws"]),
    colour("PK", "pink", &["pnk"]),
    colour("GD", "gold", &[]),
    colour("TQ", "turquoise", &[]),
    colour("SR", "silver", &[]),
];

/// The colours of a wire, main colour first: `GNWH` is green, white. Letters that are none are left out.
pub fn colours_of(wire: &str) -> Vec<Colour> {
    let letters: Vec<char> = wire.chars().filter(char::is_ascii_alphabetic).collect();
    let pairs = letters
        .chunks(2)
        .map(|pair| pair.iter().collect::<String>());
    pairs
        .filter_map(|pair| COLOURS.into_iter().find(|one| one.letters == pair))
        .collect()
}
