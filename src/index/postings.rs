//! Pages of a word: a list that tantivy wrote, read block by block.
//!
//! In: the bytes of a list and how many pages it has. Out: its pages, ascending. Never: writing, what a page counts.
//!
//! Pages stand as steps from the one before. As many as fill blocks of 128 are packed: in front the length of a
//! table, then the table, for each block its last page (4 bytes) and the bits a step less one takes (5 bits of a
//! byte); then the blocks, four steps beside each other in words of 32 bits. The rest takes seven bits a byte, the last of
//! a number marked. tantivy has code for each number of bits, more than half of all that a phone would have to
//! make ready for its first answer; this is one loop.

/// Pages of a block.
const BLOCK: usize = 128;
/// Steps that stand beside each other.
const LANES: usize = 4;
/// A row of the table: the last page, the bits.
const ROW: usize = 5;

/// Calls with each page of a list, as far as that is whole.
pub(super) fn pages(list: &[u8], count: u32, mut each: impl FnMut(u32)) -> Option<()> {
    let count = usize::try_from(count).ok()?;
    let (blocks, rest) = (count / BLOCK, count % BLOCK);
    let (mut at, mut table, mut before) = (0, &list[..0], None);
    if blocks > 0 {
        let long = usize::try_from(number(list, &mut at)?).ok()?;
        table = list.get(at..at.checked_add(long)?)?;
        at += long;
    }
    for block in 0..blocks {
        let row = table.get(block * ROW..(block + 1) * ROW)?;
        let (last, bits) = row.split_first_chunk::<4>()?;
        let bits = bits[0] & 0x1f;
        let to = at + usize::from(bits) * BLOCK / 8;
        unpack(list.get(at..to)?, bits, before, &mut each);
        (at, before) = (to, Some(u32::from_le_bytes(*last)));
    }
    let mut page = before.unwrap_or(0);
    for _ in 0..rest {
        page = page.checked_add(number(list, &mut at)?)?;
        each(page);
    }
    Some(())
}

/// The pages of a block behind the last of the one before. The first block has its first page as its first step.
fn unpack(block: &[u8], bits: u8, before: Option<u32>, each: &mut impl FnMut(u32)) {
    let (words, _) = block.as_chunks::<4>();
    let word = |at: usize| {
        words
            .get(at)
            .map_or(0, |word| u64::from(u32::from_le_bytes(*word)))
    };
    let mask = (1_u64 << bits) - 1;
    let mut page = before.unwrap_or(u32::MAX);
    for row in 0..BLOCK / LANES {
        let place = row * usize::from(bits);
        for lane in 0..LANES {
            let at = place / 32 * LANES + lane;
            let step = (word(at) | word(at + LANES) << 32) >> (place % 32) & mask;
            page = page.wrapping_add(step as u32 + 1);
            each(page);
        }
    }
}

/// A number of seven bits a byte.
fn number(list: &[u8], at: &mut usize) -> Option<u32> {
    let (mut number, mut shift) = (0_u32, 0);
    loop {
        let byte = *list.get(*at)?;
        *at += 1;
        number |= u32::from(byte & 0x7f).checked_shl(shift)?;
        if byte & 0x80 != 0 {
            return Some(number);
        }
        shift += 7;
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use tantivy::schema::{Field, IndexRecordOption, STRING, Schema};
    use tantivy::{Index, SegmentReader, TantivyDocument, Term};

    /// Every so many pages have a word: what tantivy reads of its lists is what is read here.
    #[test]
    fn lists_are_read_as_tantivy_reads_them() {
        let mut schema = Schema::builder();
        let field = schema.add_text_field("words", STRING);
        let index = Index::builder().schema(schema.build());
        let mut writer = index
            .single_segment_index_writer(tantivy::directory::RamDirectory::create(), 20_000_000)
            .unwrap();
        let steps = [1, 2, 3, 7, 100, 127, 128, 1_000, 4_099];
        for page in 0..9_000_u32 {
            let mut document = TantivyDocument::default();
            for step in steps {
                // Also lists that do not begin with the first page, and lists with gaps of many widths.
                if page % step == step / 2 || (step == 3 && page.is_power_of_two()) {
                    document.add_text(field, step.to_string());
                }
            }
            writer.add_document(document).unwrap();
        }
        let index = writer.finalize().unwrap();
        let segments = index.searchable_segments().unwrap();
        let segment = SegmentReader::open(&segments[0]).unwrap();
        let theirs = segment.inverted_index(field).unwrap();
        let lists = segments[0]
            .open_read(tantivy::index::SegmentComponent::Postings)
            .unwrap();
        let lists = tantivy::directory::CompositeFile::open(&lists).unwrap();
        let lists = lists
            .open_read(Field::from_field_id(0))
            .unwrap()
            .slice_from(8);
        for step in steps {
            let term = Term::from_field_text(field, &step.to_string());
            let about = theirs.get_term_info(&term).unwrap().unwrap();
            let mut blocks = theirs
                .read_block_postings_from_terminfo(&about, IndexRecordOption::Basic)
                .unwrap();
            let mut expected = Vec::new();
            while !blocks.docs().is_empty() {
                expected.extend_from_slice(blocks.docs());
                blocks.advance();
            }
            let list = lists
                .slice(about.postings_range.clone())
                .read_bytes()
                .unwrap();
            let mut own = Vec::new();
            assert!(pages(&list, about.doc_freq, |page| own.push(page)).is_some());
            assert_eq!(own, expected, "every {step}");
            assert!(expected.len() >= 2);
            assert!(pages(&list[..list.len() - 1], about.doc_freq, |_| {}).is_none());
        }
    }
}
