//! Sheets as one PDF: true scale, text that can be selected, one layer for
//! each kind of mark, a bookmark for each sheet.
//!
//! The page contents and the fonts go through `printpdf`; `finish` then mends
//! what it leaves open and takes out everything that differs from run to run.

use std::collections::BTreeMap;

use kurbo::{Affine, BezPath, PathEl, Point};
use printpdf::{
    DictItem, FontId, Layer as PdfLayer, LayerIntent, LayerInternalId, LayerSubtype, Mm, Op, PdfDocument,
    PdfFont, PdfFontHandle, PdfPage, PdfSaveOptions, Pt, TextItem, TextMatrix,
};

use rayon::prelude::*;

use super::finish;
pub use super::info::Info;
use super::number::push;
use super::points::{POINTS, points};
use super::subset::{self, Subset};
use crate::paper::lettering::{BAR_WIDTH, FRACTION_HEIGHT, FaceOf, Lettering, Set};
use crate::paper::{Ink, Layer, Mark, Pen, Role, Sheet, Text, Weight, dashes};

/// A curve of one point of control is one of two that lie so far towards it.
const TWO_THIRDS: f64 = 2.0 / 3.0;

/// The sheets as one PDF file. `Err` only if the PDF library cannot write,
/// which no sheet of ours is known to cause.
pub fn write(sheets: &[Sheet], info: &Info) -> Result<Vec<u8>, String> {
    let mut document = PdfDocument::new(&info.title);
    document.metadata.info.author.clone_from(&info.author);
    document.metadata.info.subject.clone_from(&info.subject);
    document.metadata.info.creator = "rodwright".into();
    document.metadata.info.producer = "rodwright".into();
    let fonts = subset::used(sheets);
    for (of, used) in &fonts {
        document.resources.fonts.map.insert(font_id(*of), PdfFont::new(font(*of, used)));
    }
    for layer in Layer::ALL {
        let shown = PdfLayer {
            name: layer.name().into(),
            creator: "rodwright".into(),
            intent: LayerIntent::View,
            usage: LayerSubtype::Artwork,
        };
        document.resources.layers.map.insert(layer_id(layer), shown);
    }
    let page = |sheet: &Sheet| {
        #[expect(clippy::cast_possible_truncation, reason = "paper sizes are small")]
        let (width, height) = (Mm(sheet.width as f32), Mm(sheet.height as f32));
        let mut ops = Page::new(sheet, &fonts).ops();
        // All pages are held at once.
        ops.shrink_to_fit();
        PdfPage::new(width, height, ops)
    };
    document.pages = sheets.par_iter().map(page).collect();
    let options =
        PdfSaveOptions { optimize: false, subset_fonts: false, secure: false, image_optimization: None };
    let made = document.to_lopdf_document(&options, &mut Vec::new());
    // The pages of a thousand sheets would else be held twice while they are packed.
    drop(document);
    finish::finish(made, sheets, info)
}

fn font_id(of: FaceOf) -> FontId {
    FontId(format!("F{}", style(of)))
}

/// What a face is called within the file.
fn style(of: FaceOf) -> &'static str {
    match (of.weight, of.further) {
        (Weight::Regular, false) => "Regular",
        (Weight::SemiBold, false) => "SemiBold",
        (Weight::Regular, true) => "FurtherRegular",
        (Weight::SemiBold, true) => "FurtherSemiBold",
    }
}

fn layer_id(layer: Layer) -> LayerInternalId {
    let at = Layer::ALL.iter().position(|l| *l == layer).unwrap_or(0);
    LayerInternalId(format!("L{at:02}"))
}

/// The subset as the PDF library wants it.
fn font(of: FaceOf, used: &Subset) -> printpdf::ParsedFont {
    let face = Lettering::of_face(of);
    let whole = face.face();
    let style = style(of);
    let units = whole.units_per_em();
    let mut parsed = printpdf::ParsedFont::with_glyph_data(
        used.data.clone(),
        0,
        Some(format!("{}+RodwrightSheet-{style}", used.tag)),
        used.glyphs.iter().map(|(c, g)| (u32::from(*c), *g)).collect(),
        used.advances.clone(),
        units,
        printpdf::FontMetrics { ascent: whole.ascender(), descent: whole.descender() },
    );
    let bounds = whole.global_bounding_box();
    parsed.pdf_font_metrics.x_min = bounds.x_min;
    parsed.pdf_font_metrics.y_min = bounds.y_min;
    parsed.pdf_font_metrics.x_max = bounds.x_max;
    parsed.pdf_font_metrics.y_max = bounds.y_max;
    parsed.pdf_font_metrics.us_weight_class = whole.weight().to_number();
    parsed
}

/// One page in the making.
struct Page<'a> {
    sheet: &'a Sheet,
    fonts: &'a BTreeMap<FaceOf, Subset>,
    /// From sheet mm, y down, to points, y up.
    turn: Affine,
    ops: Vec<Op>,
    pen: Option<(f64, Vec<f64>)>,
    grey: f32,
}

impl<'a> Page<'a> {
    fn new(sheet: &'a Sheet, fonts: &'a BTreeMap<FaceOf, Subset>) -> Self {
        let turn = Affine::new([POINTS, 0.0, 0.0, -POINTS, 0.0, sheet.height * POINTS]);
        Self { sheet, fonts, turn, ops: Vec::new(), pen: None, grey: 0.0 }
    }

    fn ops(mut self) -> Vec<Op> {
        self.raw("J", &[1.0]);
        self.raw("j", &[1.0]);
        let mut open: Option<Layer> = None;
        let marks = &self.sheet.marks;
        for (i, mark) in marks.iter().enumerate() {
            // A mark without a real place cannot be written; the lint names it.
            if !mark.is_finite() {
                continue;
            }
            // A mask lies in the layer of what it clears the ground for, which
            // comes after it, so that hiding that layer leaves no white patch.
            let layer = marks[i..].iter().find_map(|m| m.role.layer()).or(open);
            if layer != open {
                if open.is_some() {
                    self.ops.push(Op::EndLayer);
                }
                if let Some(layer) = layer {
                    self.ops.push(Op::BeginLayer { layer_id: layer_id(layer) });
                }
                open = layer;
            }
            self.mark(mark);
        }
        if open.is_some() {
            self.ops.push(Op::EndLayer);
        }
        self.ops
    }

    fn mark(&mut self, mark: &Mark) {
        match &mark.ink {
            Ink::Stroke { path, pen } => {
                for piece in dashes::pieces(path) {
                    self.pen(pen.width, dashes::fitted(pen, &piece));
                    self.path(&piece, self.turn, "S");
                }
            }
            Ink::Fill { path, grey } => {
                let grey = if mark.role == Role::Mask { 1.0 } else { *grey };
                self.shade(grey);
                self.path(path, self.turn, "f");
            }
            Ink::Text(text) => self.text(text),
        }
    }

    /// A line of text, piece by piece where it was set.
    fn text(&mut self, text: &Text) {
        let laid = text.line();
        let (along, up) = text.axes();
        let start = text.start(laid.width);
        // From the line's own mm (x along, y up) to points.
        let frame = self.turn * Affine::new([along.x, along.y, up.x, up.y, start.x, start.y]);
        let (usual, further) = (FaceOf::usual(text.weight), FaceOf::further(text.weight));
        let face = Lettering::of(text.weight);
        self.shade(0.0);
        for piece in &laid.pieces {
            match &piece.what {
                Set::Chars(s) => {
                    self.letters(s, usual, face.size(text.height), frame * Affine::translate((piece.x, 0.0)));
                }
                Set::Further(s) => {
                    let size = Lettering::of_face(further).size(text.height);
                    self.letters(s, further, size, frame * Affine::translate((piece.x, 0.0)));
                }
                Set::Fraction { num, den, bar } => {
                    // Read and copied as one: 5/8.
                    let meant = format!("{}/{}", num.digits, den.digits);
                    self.span(&meant);
                    let size = face.size(text.height * FRACTION_HEIGHT);
                    for figure in [num, den] {
                        let at = frame * Affine::translate((piece.x + figure.x, figure.y));
                        self.letters(&figure.digits, usual, size, at);
                    }
                    let mut rule = BezPath::new();
                    rule.move_to((piece.x + bar.p0.x, bar.p0.y));
                    rule.line_to((piece.x + bar.p1.x, bar.p1.y));
                    self.rule(&rule, text.height, frame);
                    self.ops.push(Op::EndMarkedContent);
                }
                Set::Sign { meant, path } => {
                    self.span(&meant.to_string());
                    let moved = Affine::translate((piece.x, 0.0)) * path.clone();
                    self.rule(&moved, text.height, frame);
                    self.letters(
                        " ",
                        usual,
                        face.size(text.height),
                        frame * Affine::translate((piece.x, 0.0)),
                    );
                    self.ops.push(Op::EndMarkedContent);
                }
            }
        }
    }

    /// Lines that belong to a text of cap height `height`.
    fn rule(&mut self, path: &BezPath, height: f64, frame: Affine) {
        let pen = Pen { width: height * BAR_WIDTH, dash: &[] };
        self.pen(pen.width, Vec::new());
        self.path(path, frame, "S");
    }

    /// Opens a stretch that reads as `meant`.
    fn span(&mut self, meant: &str) {
        let mut data = vec![0xFE, 0xFF];
        data.extend(meant.encode_utf16().flat_map(u16::to_be_bytes));
        let text = DictItem::String { data, literal: false };
        let map = BTreeMap::from([("ActualText".to_string(), text)]);
        let properties = DictItem::Dict { map };
        self.ops.push(Op::BeginMarkedContentWithProperties { tag: "Span".into(), properties });
    }

    fn letters(&mut self, s: &str, of: FaceOf, size: f64, at: Affine) {
        if !self.fonts.contains_key(&of) || s.is_empty() {
            return;
        }
        // The frame's scale is in the matrix of the page: take it out again.
        let [a, b, c, d, e, f] = at.as_coeffs();
        let matrix = [a / POINTS, b / POINTS, c / POINTS, d / POINTS, e, f].map(points);
        self.ops.push(Op::StartTextSection);
        let font = PdfFontHandle::External(font_id(of));
        self.ops.push(Op::SetFont { font, size: Pt(points(size * POINTS)) });
        self.ops.push(Op::SetTextMatrix { matrix: TextMatrix::Raw(matrix) });
        self.ops.push(Op::ShowText { items: vec![TextItem::Text(s.into())] });
        self.ops.push(Op::EndTextSection);
    }

    fn pen(&mut self, width: f64, dash: Vec<f64>) {
        let wanted = (width, dash);
        if self.pen.as_ref() == Some(&wanted) {
            return;
        }
        self.raw("w", &[width * POINTS]);
        let list = wanted.1.iter().map(|d| DictItem::Real(points(d * POINTS))).collect();
        let value = vec![DictItem::Array(list), DictItem::Int(0)];
        self.ops.push(Op::Unknown { key: "d".into(), value });
        self.pen = Some(wanted);
    }

    fn shade(&mut self, grey: f32) {
        if self.grey.to_bits() != grey.to_bits() {
            self.raw("g", &[f64::from(grey)]);
            self.grey = grey;
        }
    }

    /// A path and what is done with it (`S` or `f`). It goes to the library as
    /// one operator spelt out, as an operator of its own for each point takes
    /// most of the time a file takes.
    fn path(&mut self, path: &BezPath, frame: Affine, paint: &str) {
        let mut spelt = String::new();
        let mut operate = |operator: &str, points: &[Point]| {
            for p in points {
                let q = frame * *p;
                for value in [q.x, q.y] {
                    push(&mut spelt, value, 4);
                    spelt.push(' ');
                }
            }
            spelt.push_str(operator);
            spelt.push(' ');
        };
        let mut last = Point::ZERO;
        for element in path.elements() {
            match *element {
                PathEl::MoveTo(p) => operate("m", &[p]),
                PathEl::LineTo(p) => operate("l", &[p]),
                PathEl::QuadTo(a, p) => {
                    let third = |q: Point| q + (a - q) * TWO_THIRDS;
                    operate("c", &[third(last), third(p), p]);
                }
                PathEl::CurveTo(a, b, p) => operate("c", &[a, b, p]),
                PathEl::ClosePath => operate("h", &[]),
            }
            if let Some(end) = element.end_point() {
                last = end;
            }
        }
        spelt.push_str(paint);
        self.ops.push(Op::Unknown { key: spelt, value: Vec::new() });
    }

    fn raw(&mut self, operator: &str, numbers: &[f64]) {
        let value = numbers.iter().map(|n| DictItem::Real(points(*n))).collect();
        self.ops.push(Op::Unknown { key: operator.into(), value });
    }
}
