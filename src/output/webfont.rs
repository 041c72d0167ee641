//! A subset made fit for browsers, with the tables that PDF does without.
//!
//! Table layouts: OpenType 1.9 (`cmap` format 12 and 4, `OS/2`, `name`, `post`
//! format 3). The family name is our own, since the font's licence reserves
//! its name for the unmodified font.

use super::subset::Subset;
use crate::paper::lettering::{FaceOf, Lettering};

/// The family name inside the files.
const FAMILY: &str = "rodwright sheet";

/// A complete TrueType file with the glyphs of `subset`; `None` only if the
/// subset is no font.
pub(super) fn complete(subset: &Subset, of: FaceOf) -> Option<Vec<u8>> {
    let whole = ttf_parser::RawFace::parse(Lettering::of_face(of).data, 0).ok()?;
    let part = ttf_parser::RawFace::parse(&subset.data, 0).ok()?;
    let mut tables: Vec<([u8; 4], Vec<u8>)> = part
        .table_records
        .into_iter()
        .filter(|r| !matches!(&r.tag.to_bytes(), b"cmap" | b"OS/2" | b"name" | b"post"))
        .filter_map(|r| Some((r.tag.to_bytes(), part.table(r.tag)?.to_vec())))
        .collect();
    let os2 = whole.table(ttf_parser::Tag::from_bytes(b"OS/2"))?.to_vec();
    tables.push((*b"OS/2", os2));
    tables.push((*b"cmap", cmap(subset)));
    tables.push((*b"name", name()));
    tables.push((*b"post", post()));
    tables.sort_by_key(|(tag, _)| *tag);
    Some(assemble(tables))
}

/// A count as the font's tables hold it. A subset has a few hundred glyphs and
/// a few dozen kilobytes, far from either limit.
fn short(count: usize) -> u16 {
    u16::try_from(count).unwrap_or(u16::MAX)
}

/// A length or place in the file as the font's tables hold it.
fn long(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

/// Big-endian bytes of 16-bit numbers.
fn words(values: &[u16]) -> Vec<u8> {
    values.iter().flat_map(|v| v.to_be_bytes()).collect()
}

/// Character to glyph: one format 4 table, which every browser reads. The
/// lettering has no character above U+FFFF.
fn cmap(subset: &Subset) -> Vec<u8> {
    let pairs: Vec<(u16, u16)> =
        subset.glyphs.iter().filter_map(|(c, g)| Some((u16::try_from(u32::from(*c)).ok()?, *g))).collect();
    // One segment per character; runs are not worth the code for a hundred.
    let segments = pairs.len() + 1;
    let (mut ends, mut starts, mut deltas) = (Vec::new(), Vec::new(), Vec::new());
    for (c, g) in &pairs {
        ends.push(*c);
        starts.push(*c);
        deltas.push(g.wrapping_sub(*c));
    }
    ends.push(0xFFFF);
    starts.push(0xFFFF);
    deltas.push(1);
    let (range, selector, shift) = search(segments, 2);
    let length = 16 + 8 * segments;
    let mut out = words(&[0, 1, 3, 1, 0, 12]);
    out.extend(words(&[4, short(length), 0, short(2 * segments), range, selector, shift]));
    out.extend(words(&ends));
    out.extend(words(&[0]));
    out.extend(words(&starts));
    out.extend(words(&deltas));
    out.extend(words(&vec![0; segments]));
    out
}

/// Binary search aids of `count` records of `size` bytes: range, selector, shift.
fn search(count: usize, size: u16) -> (u16, u16, u16) {
    let selector = short(count.max(1).ilog2() as usize);
    let range = size << selector;
    (range, selector, short(count).wrapping_mul(size).wrapping_sub(range))
}

/// Family, style and full name, Windows Unicode.
fn name() -> Vec<u8> {
    let entries = [(1u16, FAMILY), (2, "Regular"), (4, FAMILY), (6, "rodwright-sheet")];
    let mut records = words(&[0, short(entries.len()), short(6 + 12 * entries.len())]);
    let mut strings: Vec<u8> = Vec::new();
    for (id, text) in entries {
        let bytes: Vec<u8> = text.encode_utf16().flat_map(u16::to_be_bytes).collect();
        records.extend(words(&[3, 1, 0x409, id, short(bytes.len()), short(strings.len())]));
        strings.extend(bytes);
    }
    records.extend(strings);
    records
}

/// No glyph names; underline as usual.
fn post() -> Vec<u8> {
    let mut out = vec![0, 3, 0, 0];
    out.extend([0; 4]);
    out.extend(words(&[0xFF9C, 50]));
    out.extend([0; 20]);
    out
}

/// A font file from tables sorted by tag.
fn assemble(mut tables: Vec<([u8; 4], Vec<u8>)>) -> Vec<u8> {
    let (range, selector, shift) = search(tables.len(), 16);
    let mut head = vec![0, 1, 0, 0];
    head.extend(words(&[short(tables.len()), range, selector, shift]));
    let mut body: Vec<u8> = Vec::new();
    let start = 12 + 16 * tables.len();
    let mut adjust_at = None;
    for (tag, data) in &mut tables {
        if tag == b"head" && data.len() >= 12 {
            data[8..12].fill(0);
            adjust_at = Some(start + body.len() + 8);
        }
        head.extend(*tag);
        head.extend(sum(data).to_be_bytes());
        head.extend(long(start + body.len()).to_be_bytes());
        head.extend(long(data.len()).to_be_bytes());
        body.extend_from_slice(data);
        body.resize(body.len().next_multiple_of(4), 0);
    }
    head.extend(body);
    if let Some(at) = adjust_at {
        let adjustment = 0xB1B0_AFBA_u32.wrapping_sub(sum(&head));
        head[at..at + 4].copy_from_slice(&adjustment.to_be_bytes());
    }
    head
}

/// Sum of big-endian 32-bit words, the last padded with zeros.
fn sum(data: &[u8]) -> u32 {
    data.chunks(4).fold(0, |all, chunk| {
        let mut word = [0; 4];
        word[..chunk.len()].copy_from_slice(chunk);
        all.wrapping_add(u32::from_be_bytes(word))
    })
}

#[cfg(test)]
mod tests {
    use super::super::subset;
    use super::*;
    use crate::paper::{Mark, Role, Sheet, Text, Weight};
    use kurbo::{Point, Rect};

    #[test]
    fn the_completed_font_maps_the_same_letters_to_the_same_shapes() {
        for (letters, of) in [
            ("Ø 35 × 18 ″ gÅ", FaceOf::usual(Weight::Regular)),
            ("ПолкаΡάφι", FaceOf::further(Weight::Regular)),
        ] {
            let data = completed(letters, of);
            assert_eq!(sum(&data), 0xB1B0_AFBA, "whole-file checksum of OpenType");
            // ttf-parser is the outside reader here.
            let face = ttf_parser::Face::parse(&data, 0).unwrap();
            let whole = Lettering::of_face(of);
            for c in letters.chars().filter(|c| *c != ' ') {
                let (new, old) = (face.glyph_index(c).unwrap(), whole.glyph(c).unwrap());
                assert_eq!(face.glyph_bounding_box(new), whole.face().glyph_bounding_box(old), "{c}");
                assert_eq!(face.glyph_hor_advance(new), Some(whole.advance(old)), "{c}");
            }
            assert!(face.glyph_index('z').is_none());
            assert!(data.len() < 12_000, "{}", data.len());
            assert_eq!(face.capital_height(), whole.face().capital_height());
        }
    }

    /// The face of a sheet with one line on it.
    fn completed(letters: &str, of: FaceOf) -> Vec<u8> {
        let text = Text::plain(Point::ZERO, letters, 2.5);
        let sheet = Sheet {
            number: "1".into(),
            title: String::new(),
            bookmarks: vec![],
            width: 210.0,
            height: 297.0,
            space: Rect::ZERO,
            paper: "A4",
            marks: vec![Mark::text(text, Role::Note)],
            full_size: false,
        };
        complete(&subset::used(&[sheet])[&of], of).unwrap()
    }
}
