//! The lettering of the sheets: what a line of text measures and how it is set.
//!
//! The font is embedded in the program, so a sheet measures the same on every
//! machine. Writers draw exactly the pieces that [`set_line`] gives, at the places
//! it gives, so what the lint judged is what is printed. Kerning and ligatures
//! stay off: figures must stand in columns.

use std::sync::{LazyLock, OnceLock};

use kurbo::{BezPath, Line};
use ttf_parser::{Face, GlyphId};

use super::glyphs::{self, Substitute};
use super::{Run, Text, Weight};

/// The regular face, OFL 1.1, unmodified.
const REGULAR: &[u8] = include_bytes!("fonts/IBMPlexSansCondensed-Regular.ttf");
/// The semi-bold face, OFL 1.1, unmodified.
const SEMI_BOLD: &[u8] = include_bytes!("fonts/IBMPlexSansCondensed-SemiBold.ttf");

/// Greek and Cyrillic in the same weights, OFL 1.1, cut down to those letters.
const FURTHER_REGULAR: &[u8] = include_bytes!("fonts/GreekCyrillic-Regular.ttf");
/// The same, semi-bold.
const FURTHER_SEMI_BOLD: &[u8] = include_bytes!("fonts/GreekCyrillic-SemiBold.ttf");

/// Height of the figures of a stacked fraction, in cap heights: beside notes of
/// 2.5 mm they are 1.8 mm high, the smallest size of ISO 3098.
pub const FRACTION_HEIGHT: f64 = 0.72;
/// Height of the fraction bar above the base line, in cap heights. It stands a
/// little above the middle so that the lower figure stays clear of a dimension
/// line 1 mm below the text.
const BAR_AT: f64 = 0.62;
/// White space between the bar and either figure, in cap heights.
const BAR_GAP: f64 = 0.12;
/// Width of the fraction bar and of drawn signs, in cap heights (ISO 3098
/// stroke of type A, a fourteenth).
pub const BAR_WIDTH: f64 = 1.0 / 14.0;
/// White space before and after a fraction, in cap heights; the bar keeps out
/// of it, so that it does not run into the figures beside it.
const FRACTION_GAP: f64 = 0.16;

/// Characters below this code, Latin and its accents, are most of all text.
const COMMON: usize = 0x250;

/// A face with the figures that text is set by.
pub struct Lettering {
    /// The font file.
    pub data: &'static [u8],
    /// The parsed font.
    face: Face<'static>,
    /// Height of capitals, in font units.
    cap: f64,
    /// Glyphs of the characters below [`COMMON`], looked up when first asked for.
    glyphs: Vec<OnceLock<Option<GlyphId>>>,
    /// For each glyph its lowest and highest ink, read when first asked for:
    /// reading an outline takes far longer than everything else of measuring.
    extents: Vec<OnceLock<Option<(f64, f64)>>>,
}

/// Parsed once; constant for the life of the program.
static FACES: LazyLock<[Lettering; 2]> =
    LazyLock::new(|| [Lettering::parse(REGULAR), Lettering::parse(SEMI_BOLD)]);

/// The faces of further letters, read only by sets that hold some.
static FURTHER: LazyLock<[Lettering; 2]> =
    LazyLock::new(|| [Lettering::parse(FURTHER_REGULAR), Lettering::parse(FURTHER_SEMI_BOLD)]);

/// Which of the faces some letters are set in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct FaceOf {
    /// The weight.
    pub weight: Weight,
    /// Whether it is the face of further letters, Greek and Cyrillic.
    pub further: bool,
}

impl FaceOf {
    /// The usual face of a weight.
    pub fn usual(weight: Weight) -> Self {
        Self { weight, further: false }
    }

    /// The face of a weight that has Greek and Cyrillic.
    pub fn further(weight: Weight) -> Self {
        Self { weight, further: true }
    }
}

/// Whether the face of further letters has a character; it is not read for any other.
fn is_further(c: char, weight: Weight) -> bool {
    in_further(c) && Lettering::of_face(FaceOf::further(weight)).glyph(c).is_some()
}

/// Greek and Cyrillic as the standard of characters orders them (Unicode 16.0, blocks
/// "Greek and Coptic" and "Cyrillic"; "Greek Extended", which has the breathings and
/// accents of older spelling).
const FURTHER_LETTERS: [std::ops::RangeInclusive<char>; 2] = ['\u{370}'..='\u{4ff}', '\u{1f00}'..='\u{1fff}'];

/// Whether a character stands among those that the further face is for.
fn in_further(c: char) -> bool {
    FURTHER_LETTERS.iter().any(|block| block.contains(&c))
}

impl Lettering {
    /// The face of a weight.
    pub fn of(weight: Weight) -> &'static Self {
        match weight {
            Weight::Regular => &FACES[0],
            Weight::SemiBold => &FACES[1],
        }
    }

    /// One of the faces.
    pub fn of_face(face: FaceOf) -> &'static Self {
        match (face.further, face.weight) {
            (false, weight) => Self::of(weight),
            (true, Weight::Regular) => &FURTHER[0],
            (true, Weight::SemiBold) => &FURTHER[1],
        }
    }

    /// Reads an embedded font.
    fn parse(data: &'static [u8]) -> Self {
        let face = Face::parse(data, 0).expect("the embedded fonts are sound; tests read all");
        let cap = f64::from(face.capital_height().expect("the embedded fonts state their cap height"));
        let extents = vec![OnceLock::new(); usize::from(face.number_of_glyphs())];
        let glyphs = vec![OnceLock::new(); COMMON];
        Self { data, face, cap, glyphs, extents }
    }

    /// Font size for capitals of `height` mm, in mm per em. Drawing standards
    /// give text height as the height of capitals (ISO 3098).
    pub fn size(&self, height: f64) -> f64 {
        height * self.units_per_em() / self.cap
    }

    /// Font units per em.
    pub fn units_per_em(&self) -> f64 {
        f64::from(self.face.units_per_em())
    }

    /// The parsed font.
    pub fn face(&self) -> &Face<'static> {
        &self.face
    }

    /// The glyph of a character, if the font has it.
    pub fn glyph(&self, c: char) -> Option<GlyphId> {
        let look = || self.face.glyph_index(c).filter(|g| g.0 != 0);
        match self.glyphs.get(c as usize) {
            Some(known) => *known.get_or_init(look),
            None => look(),
        }
    }

    /// Advance width of a glyph in font units.
    pub fn advance(&self, glyph: GlyphId) -> u16 {
        self.face.glyph_hor_advance(glyph).unwrap_or(0)
    }

    /// Lowest and highest ink of a glyph in font units; nothing for a space.
    fn extent(&self, glyph: GlyphId) -> Option<(f64, f64)> {
        let read = || self.face.glyph_bounding_box(glyph).map(|b| (f64::from(b.y_min), f64::from(b.y_max)));
        match self.extents.get(usize::from(glyph.0)) {
            Some(known) => *known.get_or_init(read),
            None => read(),
        }
    }

    /// Width, lowest and highest ink, in font units, of characters the font has.
    fn measure(&self, text: &str) -> (f64, f64, f64) {
        let mut all = (0.0, 0.0_f64, 0.0_f64);
        for glyph in text.chars().filter_map(|c| self.glyph(c)) {
            all.0 += f64::from(self.advance(glyph));
            if let Some((low, high)) = self.extent(glyph) {
                all.1 = all.1.min(low);
                all.2 = all.2.max(high);
            }
        }
        all
    }
}

/// A line of text set: pieces side by side on one base line.
#[derive(Clone, Debug, PartialEq)]
pub struct SetLine {
    /// Whole width, mm.
    pub width: f64,
    /// Highest ink above the base line, mm; at least the cap height.
    pub top: f64,
    /// Lowest ink, mm above the base line: zero or negative.
    pub bottom: f64,
    /// The pieces from left to right.
    pub pieces: Vec<Piece>,
}

/// A stretch of a set line.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Left end, mm from the left end of the line.
    pub x: f64,
    /// Width, mm.
    pub width: f64,
    /// What stands there.
    pub what: Set,
}

/// What a piece of a set line is.
#[derive(Clone, Debug, PartialEq)]
pub enum Set {
    /// Characters of the usual face.
    Chars(String),
    /// Characters that only the face of further letters has.
    Further(String),
    /// A stacked fraction; read as `num/den`.
    Fraction {
        /// Above the bar.
        num: Figure,
        /// Below the bar.
        den: Figure,
        /// The bar, mm: x from the piece's left end, y up from the base line.
        bar: Line,
    },
    /// A sign the font lacks, drawn as lines; also the box that stands for a
    /// character that can be shown in no other way.
    Sign {
        /// The character meant.
        meant: char,
        /// Its lines, mm, y up from the base line, x from the piece's left end.
        path: BezPath,
    },
}

/// One figure of a stacked fraction.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// The digits.
    pub digits: String,
    /// Left end, mm from the left end of the fraction.
    pub x: f64,
    /// Base line, mm above that of the line of text.
    pub y: f64,
    /// Width, mm.
    pub width: f64,
}

/// Sets a line of text. Control characters are dropped, tabs and line ends
/// become spaces, characters that no font or drawn sign covers become a box.
pub fn set_line(text: &Text) -> SetLine {
    let mut line = Setter::new(text.height, text.weight);
    for run in &text.runs {
        match run {
            Run::Plain(s) => line.plain(s),
            Run::Fraction { num, den } => line.fraction(*num, *den),
        }
    }
    line.finish()
}

/// Width of plain text at cap height `height`, mm.
pub fn width(text: &str, height: f64, weight: Weight) -> f64 {
    let mut line = Setter::new(height, weight);
    line.plain(text);
    line.finish().width
}

/// The characters of `text` that can only be shown as a box, each once, in
/// order of appearance.
pub fn missing(text: &str, weight: Weight) -> Vec<char> {
    let face = Lettering::of(weight);
    let has = |c: char| face.glyph(c).is_some() || is_further(c, weight);
    let mut lacking = Vec::new();
    for c in text.chars() {
        if matches!(glyphs::substitute(c, has), Substitute::Box) && !lacking.contains(&c) {
            lacking.push(c);
        }
    }
    lacking
}

/// Sets pieces one after another.
struct Setter {
    /// Weight of the faces set in.
    weight: Weight,
    /// The usual face.
    face: &'static Lettering,
    /// Cap height, mm.
    height: f64,
    /// Millimetres per font unit.
    unit: f64,
    /// Characters of one face not yet made into a piece.
    pending: String,
    /// Whether they are of the face of further letters.
    further: bool,
    /// What is set so far.
    line: SetLine,
}

impl Setter {
    /// An empty line.
    fn new(height: f64, weight: Weight) -> Self {
        let face = Lettering::of(weight);
        let unit = face.size(height) / face.units_per_em();
        let line = SetLine { width: 0.0, top: height, bottom: 0.0, pieces: Vec::new() };
        Self { weight, face, height, unit, pending: String::new(), further: false, line }
    }

    /// Adds plain characters.
    fn plain(&mut self, text: &str) {
        for c in text.chars() {
            match glyphs::substitute(c, |c| self.face.glyph(c).is_some() || is_further(c, self.weight)) {
                Substitute::Char(shown) => self.char(shown),
                Substitute::Nothing => {}
                Substitute::Sign => self.sign(c, glyphs::sign(c)),
                Substitute::Box => self.sign(c, Some(glyphs::missing_box())),
            }
        }
        self.flush();
    }

    /// Adds a character that one of the faces has.
    fn char(&mut self, shown: char) {
        let further = in_further(shown) && self.face.glyph(shown).is_none();
        if further != self.further {
            self.flush();
            self.further = further;
        }
        self.pending.push(shown);
    }

    /// Makes a piece of the characters collected.
    fn flush(&mut self) {
        if self.pending.is_empty() {
            return;
        }
        let text = std::mem::take(&mut self.pending);
        if self.further {
            let face = Lettering::of_face(FaceOf::further(self.weight));
            // Its capitals are as high as those of the usual face.
            let unit = face.size(self.height) / face.units_per_em();
            let (width, low, high) = face.measure(&text);
            self.grow(low * unit, high * unit);
            self.push(width * unit, Set::Further(text));
            return;
        }
        let (width, low, high) = self.face.measure(&text);
        self.grow(low * self.unit, high * self.unit);
        self.push(width * self.unit, Set::Chars(text));
    }

    /// Adds a drawn sign, given in cap heights.
    fn sign(&mut self, meant: char, drawn: Option<(BezPath, f64)>) {
        self.flush();
        if let Some((mut path, width)) = drawn {
            path.apply_affine(kurbo::Affine::scale(self.height));
            self.push(width * self.height, Set::Sign { meant, path });
        }
    }

    /// Adds a stacked fraction.
    fn fraction(&mut self, num: u32, den: u32) {
        self.flush();
        let h = self.height;
        let (num, den) = (num.to_string(), den.to_string());
        let scale = self.unit * FRACTION_HEIGHT;
        let widths = (self.face.measure(&num).0 * scale, self.face.measure(&den).0 * scale);
        let inner = widths.0.max(widths.1);
        let gap = FRACTION_GAP * h;
        let figure = |digits: String, width: f64, y: f64| Figure {
            digits,
            x: gap + (inner - width) / 2.0,
            y: y * h,
            width,
        };
        let (above, below) = (BAR_AT + BAR_GAP, BAR_AT - BAR_GAP - FRACTION_HEIGHT);
        self.grow(below * h, (above + FRACTION_HEIGHT) * h);
        let what = Set::Fraction {
            num: figure(num, widths.0, above),
            den: figure(den, widths.1, below),
            bar: Line::new((gap, BAR_AT * h), (gap + inner, BAR_AT * h)),
        };
        self.push(inner + 2.0 * gap, what);
    }

    /// Widens the line's ink downwards and upwards.
    fn grow(&mut self, low: f64, high: f64) {
        self.line.bottom = self.line.bottom.min(low);
        self.line.top = self.line.top.max(high);
    }

    /// Adds a piece at the end of the line.
    fn push(&mut self, width: f64, what: Set) {
        self.line.pieces.push(Piece { x: self.line.width, width, what });
        self.line.width += width;
    }

    /// The line set.
    fn finish(mut self) -> SetLine {
        self.flush();
        self.line
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Point;

    #[test]
    fn capitals_are_as_high_as_asked() {
        // ISO 3098: nominal size is the height of capitals. The face states 698/1000.
        for weight in [Weight::Regular, Weight::SemiBold] {
            let face = Lettering::of(weight);
            assert!((face.size(3.5) - 3.5 / 0.698).abs() < 1e-9);
            let h = face.face().glyph_bounding_box(face.glyph('H').unwrap()).unwrap();
            assert!((f64::from(h.y_max) * face.size(3.5) / 1000.0 - 3.5).abs() < 1e-9);
        }
    }

    #[test]
    fn figures_stand_in_columns() {
        let one = width("1", 2.5, Weight::Regular);
        for digit in "0234567890".chars() {
            assert!((width(&digit.to_string(), 2.5, Weight::Regular) - one).abs() < 1e-9);
        }
        assert!((width("111", 2.5, Weight::Regular) - 3.0 * one).abs() < 1e-9);
        assert!((width("1", 5.0, Weight::Regular) - 2.0 * one).abs() < 1e-9);
    }

    #[test]
    fn a_stacked_fraction_is_as_wide_as_its_wider_figure() {
        let text = Text::new(Point::ZERO, vec![Run::Fraction { num: 5, den: 16 }], 3.5);
        let line = set_line(&text);
        let figures = width("16", 3.5 * FRACTION_HEIGHT, Weight::Regular);
        assert!((line.width - figures - 2.0 * FRACTION_GAP * 3.5).abs() < 1e-9);
        assert!(line.top > 3.5 && line.bottom > -1.0 + 0.125, "clear of a dimension line 1 mm below");
        // ISO 3098 as given in public tables: 1.8 mm is the smallest size.
        assert!((FRACTION_HEIGHT * 2.5 - 1.8).abs() < 1e-9);
        let Set::Fraction { bar, .. } = &line.pieces[0].what else { panic!("a fraction") };
        assert!(bar.p0.x > 0.0 && bar.p1.x < line.width, "the bar keeps clear of what stands beside it");
    }

    #[test]
    fn characters_the_font_lacks_are_boxes_and_named() {
        assert_eq!(missing("Ø 35 א ½ 🙂 א", Weight::Regular), vec!['א', '🙂']);
        let line = set_line(&Text::plain(Point::ZERO, "aאb", 2.5));
        assert_eq!(line.pieces.len(), 3);
        assert!(matches!(line.pieces[1].what, Set::Sign { meant: 'א', .. }));
        assert!(line.pieces[1].width > 1.0);
        // Signs the font lacks but drawings need are drawn, not boxed.
        assert!(missing("⌀ □ △ ∠ ↧ ø é ß ″ ′ × − ° ±", Weight::SemiBold).is_empty());
    }

    #[test]
    fn greek_and_cyrillic_are_set_in_the_further_face_as_high_as_the_others() {
        let line = set_line(&Text::plain(Point::ZERO, "Shelf Полка 2 Ράφι", 2.5));
        let set: Vec<Set> = line.pieces.iter().map(|piece| piece.what.clone()).collect();
        let (usual, further) = (|s: &str| Set::Chars(s.into()), |s: &str| Set::Further(s.into()));
        assert_eq!(set, [usual("Shelf "), further("Полка"), usual(" 2 "), further("Ράφι")]);
        for weight in [Weight::Regular, Weight::SemiBold] {
            let modern =
                ('А'..='я').chain('Ѐ'..='џ').chain('Α'..='Ρ').chain('Σ'..='ω').chain("άέήίόύώΐΰς".chars());
            assert_eq!(missing(&modern.collect::<String>(), weight), Vec::<char>::new());
            let face = Lettering::of_face(FaceOf::further(weight));
            let flat = face.face().glyph_bounding_box(face.glyph('П').unwrap()).unwrap();
            let high = f64::from(flat.y_max) * face.size(2.5) / face.units_per_em();
            assert!((high - 2.5).abs() < 0.01, "{high}");
        }
    }

    #[test]
    fn greek_of_older_spelling_is_set_with_all_its_accents() {
        let line = set_line(&Text::plain(Point::ZERO, "Shelf ᾠδή ῥάβδος", 2.5));
        assert_eq!(line.pieces[1].what, Set::Further("ᾠδή".into()), "one piece, not torn at its accents");
        // Unicode 16.0, "Greek Extended": 256 places, of which 23 are not given out.
        let places: Vec<char> = ('\u{1f00}'..='\u{1fff}').collect();
        for weight in [Weight::Regular, Weight::SemiBold] {
            let face = Lettering::of_face(FaceOf::further(weight));
            assert_eq!(places.iter().filter(|c| face.glyph(**c).is_some()).count(), 256 - 23);
            assert_eq!(missing(&places.iter().collect::<String>(), weight).len(), 23);
        }
    }

    #[test]
    fn control_characters_do_not_print() {
        let line = set_line(&Text::plain(Point::ZERO, "a\u{7}\u{200f}b\tc\nd\u{feff}", 2.5));
        assert_eq!(line.pieces.len(), 1);
        assert_eq!(line.pieces[0].what, Set::Chars("ab c d".into()));
    }
}
