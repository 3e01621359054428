//! The pack: files of the index in one, with a sum that a damaged download does not pass.
//!
//! `LLSP`, the sum of all that follows (8 bytes), how many files (4 bytes), then for each the length of its
//! name, the name and its length; then the files in that order, each at a place that eight divides. Numbers
//! have their least byte first.

#[cfg(not(target_arch = "wasm32"))]
use std::collections::BTreeMap;
use tantivy::directory::OwnedBytes;

const MARK: &[u8; 4] = b"LLSP";
/// Mark and sum.
const HEAD: usize = 12;

/// Files of a pack, each a view of its bytes.
pub(super) struct Pack(Vec<(String, OwnedBytes)>);

/// Puts files into one.
#[cfg(not(target_arch = "wasm32"))]
pub(super) fn packed(files: &BTreeMap<String, Vec<u8>>) -> Option<Vec<u8>> {
    let number = |number: usize| u32::try_from(number).ok().map(u32::to_le_bytes);
    let mut body = number(files.len())?.to_vec();
    for (name, bytes) in files {
        body.extend(number(name.len())?);
        body.extend(name.as_bytes());
        body.extend(number(bytes.len())?);
    }
    for bytes in files.values() {
        body.resize(aligned(body.len()), 0);
        body.extend(bytes);
    }
    let mut pack = MARK.to_vec();
    pack.extend(sum(&body).to_le_bytes());
    pack.extend(body);
    Some(pack)
}

/// The next place in the body that lies at a multiple of eight in the pack.
fn aligned(place: usize) -> usize {
    (place + HEAD).next_multiple_of(8) - HEAD
}

/// A sum over eight bytes at a time: each is mixed in by a multiplication and a turn (the multiplier is the
/// 64-bit prime of the Fowler-Noll-Vo hash). It tells damage, not malice.
fn sum(bytes: &[u8]) -> u64 {
    const PRIME: u64 = 0x0000_0100_0000_01b3;
    let mix = |sum: u64, word: u64| (sum ^ word).wrapping_mul(PRIME).rotate_left(29);
    let (words, rest) = bytes.as_chunks::<8>();
    let sum = words.iter().fold(bytes.len() as u64, |sum, word| {
        mix(sum, u64::from_le_bytes(*word))
    });
    mix(
        rest.iter()
            .fold(sum, |sum, byte| mix(sum, u64::from(*byte))),
        0,
    )
}

/// Takes numbers and names from the front.
struct Front<'a>(&'a [u8]);

impl<'a> Front<'a> {
    fn take(&mut self, length: usize) -> Option<&'a [u8]> {
        let (taken, rest) = self.0.split_at_checked(length)?;
        self.0 = rest;
        Some(taken)
    }

    fn number(&mut self) -> Option<usize> {
        let bytes = self.take(4)?.try_into().ok()?;
        usize::try_from(u32::from_le_bytes(bytes)).ok()
    }
}

impl Pack {
    /// The files of a pack; none where it is not whole.
    pub(super) fn open(bytes: Vec<u8>) -> Option<Self> {
        let body = bytes.get(HEAD..)?;
        let told = u64::from_le_bytes(bytes.get(4..HEAD)?.try_into().ok()?);
        if !bytes.starts_with(MARK) || sum(body) != told {
            return None;
        }
        let mut front = Front(body);
        let count = front.number()?;
        let mut names = Vec::new();
        for _ in 0..count {
            let length = front.number()?;
            let name = std::str::from_utf8(front.take(length)?).ok()?.to_owned();
            names.push((name, front.number()?));
        }
        let mut place = body.len() - front.0.len();
        let whole = OwnedBytes::new(bytes);
        let mut files = Vec::new();
        for (name, length) in names {
            let from = aligned(place);
            place = from.checked_add(length)?;
            if place > whole.len() - HEAD {
                return None;
            }
            files.push((name, whole.slice(from + HEAD..place + HEAD)));
        }
        Some(Self(files))
    }

    /// The bytes of a file.
    pub(super) fn file(&self, name: &str) -> Option<OwnedBytes> {
        let own = self.0.iter().find(|(own, _)| own == name);
        own.map(|(_, bytes)| bytes.clone())
    }
}
