//! Packed copies of text files and engines, `.gz` and `.br`, for servers that send them as they are.
//!
//! In: a file's name and bytes. Out: its copies; same bytes in, same bytes out: no time and no name
//! goes into them.

use super::Files;
use std::io::{self, Write};

/// Text files shorter than this many bytes travel in one network packet anyway, so they get no packed copy.
const PACK_FROM: usize = 1_000;

/// Bytes from which on packing a search pack as hard as an engine would take too long.
const LARGE: usize = 1_000_000;

/// Endings of files that shrink when packed; an engine or a search pack shrinks to under half.
const TEXT_ENDINGS: [&str; 12] = [
    "html",
    "css",
    "js",
    "mjs",
    "svg",
    "json",
    "txt",
    "xml",
    "webmanifest",
    "csv",
    "wasm",
    "pack",
];

/// Endings of copies, the one that packs best first.
const COPIES: [&str; 2] = ["br", "gz"];

/// The copy that a phone fetches of a file, where it has one.
pub(super) fn least(name: &str) -> String {
    format!("{name}.{}", COPIES[0])
}

/// Whether this is the packed copy of another of these files.
pub(super) fn is_copy(name: &str, of: &Files) -> bool {
    let whole = name.rsplit_once('.');
    whole.is_some_and(|(whole, ending)| COPIES.contains(&ending) && of.contains_key(whole))
}

/// Whether these files hold a copy of this one already.
pub(super) fn has_copy(name: &str, of: &Files) -> bool {
    let mut copies = COPIES.iter();
    copies.any(|ending| of.contains_key(&format!("{name}.{ending}")))
}

/// The copies of a file with their endings; none where packing gains nothing.
pub(super) fn packed(name: &str, bytes: &[u8]) -> Vec<(&'static str, Vec<u8>)> {
    let ending = name.rsplit_once('.').map_or("", |(_, ending)| ending);
    if bytes.len() < PACK_FROM || !TEXT_ENDINGS.contains(&ending) {
        return Vec::new();
    }
    [
        ("gz", gzip(bytes)),
        ("br", brotli(bytes, quality(ending, bytes.len()))),
    ]
    .into_iter()
    .filter_map(|(ending, packed)| Some((ending, packed.ok()?)))
    .filter(|(_, packed)| packed.len() < bytes.len())
    .collect()
}

/// How hard brotli packs a file. An engine is the same in every site and the heaviest file of a page: a second is well
/// spent on it; and on a search pack as long as it is small, since it comes before the first answer.
fn quality(ending: &str, bytes: usize) -> i32 {
    match ending {
        "wasm" => 11,
        "pack" if bytes < LARGE => 11,
        _ => 9,
    }
}

/// The packed bytes that a phone fetches of a search pack, for who measures it.
pub fn sent(pack: &[u8]) -> usize {
    brotli(pack, quality("pack", pack.len())).map_or(pack.len(), |packed| packed.len())
}

fn gzip(bytes: &[u8]) -> io::Result<Vec<u8>> {
    let mut packer = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::best());
    packer.write_all(bytes)?;
    packer.finish()
}

fn brotli(bytes: &[u8], quality: i32) -> io::Result<Vec<u8>> {
    let settings = brotli::enc::BrotliEncoderParams {
        quality,
        // A window just wide enough: the usual one costs megabytes of memory a file.
        lgwin: i32::try_from(bytes.len().ilog2() + 1).map_or(22, |bits| bits.clamp(10, 22)),
        size_hint: bytes.len(),
        ..Default::default()
    };
    let mut packed = Vec::new();
    brotli::BrotliCompress(&mut &bytes[..], &mut packed, &settings)?;
    Ok(packed)
}
