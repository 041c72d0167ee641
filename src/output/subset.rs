//! The part of the lettering that a document uses.

use std::collections::{BTreeMap, BTreeSet};

use subsetter::GlyphRemapper;

use crate::paper::lettering::{FaceOf, Lettering, Set};
use crate::paper::{Ink, Sheet};

/// A face cut down to some characters.
pub(super) struct Subset {
    /// The font file; not for screens yet, see `webfont`.
    pub(super) data: Vec<u8>,
    /// Glyph of each character in `data`.
    pub(super) glyphs: BTreeMap<char, u16>,
    /// Advance of each glyph of `data` that stands for a character, font units.
    pub(super) advances: BTreeMap<u16, u16>,
    /// Six capitals that name the set of characters, as PDF asks.
    pub(super) tag: String,
}

/// The subset of each face that `sheets` use; faces not used are absent.
pub(super) fn used(sheets: &[Sheet]) -> BTreeMap<FaceOf, Subset> {
    let mut characters: BTreeMap<FaceOf, BTreeSet<char>> = BTreeMap::new();
    for text in sheets.iter().flat_map(|s| &s.marks).filter_map(|m| match &m.ink {
        Ink::Text(text) => Some(text),
        Ink::Stroke { .. } | Ink::Fill { .. } => None,
    }) {
        for piece in text.line().pieces {
            let further = matches!(piece.what, Set::Further(_));
            let all = characters.entry(FaceOf { weight: text.weight, further }).or_default();
            match piece.what {
                Set::Chars(s) | Set::Further(s) => all.extend(s.chars()),
                Set::Fraction { num, den, .. } => {
                    all.extend(num.digits.chars().chain(den.digits.chars()));
                }
                // A space carries the meaning of a drawn sign.
                Set::Sign { .. } => {
                    all.insert(' ');
                }
            }
        }
    }
    characters
        .into_iter()
        .filter(|(_, all)| !all.is_empty())
        .filter_map(|(face, all)| Some((face, cut(face, all.into_iter())?)))
        .collect()
}

/// Weights of a face: further faces are counted after the usual ones.
const WEIGHTS: u64 = 2;

/// Cuts a face down to `characters`, sorted and each once.
fn cut(of: FaceOf, characters: impl Iterator<Item = char>) -> Option<Subset> {
    let face = Lettering::of_face(of);
    let mut remap = GlyphRemapper::new();
    let (mut glyphs, mut advances) = (BTreeMap::new(), BTreeMap::new());
    let mut hash = Hash::new(of.weight as u64 + if of.further { WEIGHTS } else { 0 });
    for c in characters {
        let Some(old) = face.glyph(c) else { continue };
        let new = remap.remap(old.0);
        glyphs.insert(c, new);
        advances.insert(new, face.advance(old));
        hash.add(&u32::from(c).to_be_bytes());
    }
    // The subsetter fails only on a damaged font, and ours are embedded.
    let data = subsetter::subset(face.data, 0, &remap).ok()?;
    Some(Subset { data, glyphs, advances, tag: letters(hash.0) })
}

/// Six capitals from a number.
fn letters(mut n: u64) -> String {
    let mut tag = String::new();
    for _ in 0..6 {
        tag.push(char::from(b'A' + (n % 26) as u8));
        n /= 26;
    }
    tag
}

/// A checksum that is the same on every machine (FNV-1a, 64 bits).
pub(super) struct Hash(pub(super) u64);

impl Hash {
    /// Starts; different seeds give unrelated sums.
    pub(super) fn new(seed: u64) -> Self {
        let mut hash = Self(0xcbf2_9ce4_8422_2325);
        hash.add(&seed.to_be_bytes());
        hash
    }

    /// Takes bytes in.
    pub(super) fn add(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.0 = (self.0 ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3);
        }
    }
}
