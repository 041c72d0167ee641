//! Flat parts as DXF, one file a face: the ASCII form of its release 12, which every
//! program for cutting machines reads.
//!
//! Written by the published group codes: a code on a line, its value on the next. Lengths
//! are in the unit of the drawings. What is cut, and how deep, is the name of its layer.

use std::fmt::Write as _;

use super::file::File;
use super::number;
use super::writer::{Finished, Writer};
use crate::exchange::{Depth, Does, FlatPart, FlatShape, Path};
use crate::measure::Unit;
use crate::model::Face;

/// Writes `-part-1.dxf` and so on.
pub(super) struct FlatParts;

impl Writer for FlatParts {
    fn code(&self) -> &'static str {
        "dxf"
    }

    fn makes(&self) -> &'static str {
        "the drawings of flat parts"
    }

    fn files(&self, set: &Finished<'_>) -> Result<Vec<File>, String> {
        let unit = set.words.lengths.unit;
        let named = |part: &FlatPart| {
            let back = if part.face == Face::Back { "-back" } else { "" };
            format!("-part-{}{back}.dxf", part.mark.replace(' ', "-"))
        };
        Ok(set.exchange.flats.iter().map(|part| File::text(&named(part), drawing(part, unit))).collect())
    }
}

/// Decimals of a length: a millimetre to a ten thousandth, an inch to as much.
const DECIMALS: [u32; 2] = [4, 6];

/// Height of the notes, and how far the first stands under the part, mm.
const NOTE: f64 = 6.0;

/// Colours of layers, by the numbers that programs agree on: white, red, blue, green, grey.
const COLOURS: [(Does, u8); 4] = [(Does::Outline, 7), (Does::Opening, 1), (Does::Pocket, 5), (Does::Hole, 3)];
const NOTE_COLOUR: u8 = 8;

/// The layer that notes stand on.
const NOTES: &str = "NOTES";

/// A file in the making.
struct Drawing {
    text: String,
    unit: Unit,
}

impl Drawing {
    fn code(&mut self, code: u32, value: &str) {
        // Writing to a text cannot fail.
        let _ = write!(self.text, "{code:>3}\r\n{value}\r\n");
    }

    fn codes(&mut self, all: &[(u32, &str)]) {
        for (code, value) in all {
            self.code(*code, value);
        }
    }

    fn plain(&mut self, code: u32, value: f64, decimals: u32) {
        let mut text = String::new();
        number::push(&mut text, value, decimals);
        // A real number has a point, by which some programs know it.
        if !text.contains('.') {
            text.push_str(".0");
        }
        self.code(code, &text);
    }

    /// A length in mm.
    fn length(&mut self, code: u32, mm: f64) {
        let [metric, inch] = DECIMALS;
        match self.unit {
            Unit::Mm => self.plain(code, mm, metric),
            Unit::Inch => self.plain(code, mm / Unit::Inch.in_mm(), inch),
        }
    }
}

/// The file of one face of a part.
fn drawing(part: &FlatPart, unit: Unit) -> String {
    let mut file = Drawing { text: String::new(), unit };
    file.code(999, if unit == Unit::Mm { "lengths in millimetres" } else { "lengths in inches" });
    file.codes(&[(0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, "AC1009"), (0, "ENDSEC")]);
    tables(&mut file, part);
    file.codes(&[(0, "SECTION"), (2, "ENTITIES")]);
    for shape in &part.shapes {
        entity(&mut file, shape);
    }
    notes(&mut file, &part.notes);
    file.codes(&[(0, "ENDSEC"), (0, "EOF")]);
    file.text
}

/// The tables: a line type and all layers.
fn tables(file: &mut Drawing, part: &FlatPart) {
    let mut layers: Vec<(String, u8)> = vec![(NOTES.into(), NOTE_COLOUR)];
    for shape in &part.shapes {
        let name = layer(shape, file.unit);
        if layers.iter().all(|known| known.0 != name) {
            let colour = COLOURS.iter().find(|(does, _)| *does == shape.does).map_or(NOTE_COLOUR, |c| c.1);
            layers.push((name, colour));
        }
    }
    file.codes(&[(0, "SECTION"), (2, "TABLES"), (0, "TABLE"), (2, "LTYPE"), (70, "1"), (0, "LTYPE")]);
    file.codes(&[(2, "CONTINUOUS"), (70, "0"), (3, "Solid line"), (72, "65"), (73, "0"), (40, "0.0")]);
    file.codes(&[(0, "ENDTAB"), (0, "TABLE"), (2, "LAYER"), (70, &layers.len().to_string())]);
    for (name, colour) in &layers {
        file.codes(&[(0, "LAYER"), (2, name), (70, "0"), (62, &colour.to_string()), (6, "CONTINUOUS")]);
    }
    file.codes(&[(0, "ENDTAB"), (0, "ENDSEC")]);
}

/// The layer of a shape: `OUTLINE`, `OPENING`, `POCKET-12_5MM`, `HOLE-THROUGH`. Names may
/// hold no point.
fn layer(shape: &FlatShape, unit: Unit) -> String {
    let what = match shape.does {
        Does::Outline => return "OUTLINE".into(),
        Does::Opening => return "OPENING".into(),
        Does::Pocket => "POCKET",
        Does::Hole => "HOLE",
    };
    let depth = match shape.depth {
        Depth::Through => return format!("{what}-THROUGH"),
        Depth::To(depth) => depth,
    };
    let mut figure = String::new();
    let name = match unit {
        Unit::Mm => {
            number::push(&mut figure, depth, 2);
            "MM"
        }
        Unit::Inch => {
            number::push(&mut figure, depth / Unit::Inch.in_mm(), 4);
            "IN"
        }
    };
    format!("{what}-{}{name}", figure.replace('.', "_"))
}

/// One shape.
fn entity(file: &mut Drawing, shape: &FlatShape) {
    let layer = layer(shape, file.unit);
    match &shape.path {
        Path::Circle { centre, radius } => {
            file.codes(&[(0, "CIRCLE"), (8, &layer)]);
            file.length(10, centre.x);
            file.length(20, centre.y);
            file.length(40, *radius);
        }
        Path::Ring(ring) => {
            // 66: corners follow; 70: closed.
            file.codes(&[(0, "POLYLINE"), (8, &layer), (66, "1"), (70, "1")]);
            file.codes(&[(10, "0.0"), (20, "0.0"), (30, "0.0")]);
            for vertex in ring {
                file.codes(&[(0, "VERTEX"), (8, &layer)]);
                file.length(10, vertex.at.x);
                file.length(20, vertex.at.y);
                if vertex.bulge.abs() > 0.0 {
                    file.plain(42, vertex.bulge, 9);
                }
            }
            file.codes(&[(0, "SEQEND"), (8, &layer)]);
        }
    }
}

/// Notes, line by line under the part.
fn notes(file: &mut Drawing, lines: &[String]) {
    let mut down = 2.0 * NOTE;
    for line in lines {
        file.codes(&[(0, "TEXT"), (8, NOTES)]);
        file.length(10, 0.0);
        file.length(20, -down);
        file.length(40, NOTE);
        file.code(1, &ascii(line));
        down += 2.0 * NOTE;
    }
}

/// A text in the letters of such files: others are named by their number.
fn ascii(text: &str) -> String {
    let mut out = String::new();
    for letter in text.chars() {
        match letter {
            ' '..='~' => out.push(letter),
            other => {
                let mut units = [0; 2];
                for unit in other.encode_utf16(&mut units) {
                    // Writing to a text cannot fail.
                    let _ = write!(out, "\\U+{unit:04X}");
                }
            }
        }
    }
    out
}
