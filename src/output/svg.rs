//! A sheet as SVG: true size in millimetres, text as text with its letters
//! embedded, one group for each run of marks of one role.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use kurbo::Point;
use svg::node::Text as Words;
use svg::node::element::{Element, SVG};

use super::number::short;
use super::{subset, webfont};
use crate::paper::lettering::{BAR_WIDTH, FaceOf, Lettering, Set};
use crate::paper::{Ink, Mark, Pen, Sheet, Text, Weight, dashes};

/// The sheet as one SVG document.
pub fn write(sheet: &Sheet) -> String {
    let mut document = SVG::new()
        .set("width", format!("{}mm", short(sheet.width)))
        .set("height", format!("{}mm", short(sheet.height)))
        .set("viewBox", format!("0 0 {} {}", short(sheet.width), short(sheet.height)))
        // Renderers that do not know `white-space` know this.
        .set("xml:space", "preserve")
        .add(labelled("title", &clean(&format!("{} {}", sheet.number, sheet.title))))
        .add(labelled("desc", &describe(sheet)))
        .add(labelled("style", &style(sheet)))
        .add(element("path", &[("class", "paper"), ("d", &paper(sheet))]));
    let mut marks = sheet.marks.as_slice();
    while let Some(first) = marks.first() {
        let n = marks.iter().take_while(|m| m.role == first.role).count();
        let mut group = element("g", &[("class", first.role.name())]);
        // A mark without a real place cannot be written; the lint names it.
        for mark in marks[..n].iter().filter(|m| m.is_finite()) {
            for mut shape in shapes(mark) {
                note(&mut shape, mark);
                svg::Node::append(&mut group, shape);
            }
        }
        document = document.add(group);
        marks = &marks[n..];
    }
    format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{document}\n")
}

/// What the sheet is, for readers that cannot see it.
fn describe(sheet: &Sheet) -> String {
    let (width, height) = (short(sheet.width), short(sheet.height));
    format!("Sheet {}, {}, {width} × {height} mm, drawn to true size", clean(&sheet.number), sheet.paper)
}

/// The white ground, so that the sheet reads on a dark page too.
fn paper(sheet: &Sheet) -> String {
    format!("M0 0H{}V{}H0Z", short(sheet.width), short(sheet.height))
}

/// Rules common to all marks, and the letters used.
fn style(sheet: &Sheet) -> String {
    let mut rules = String::from(
        "path{fill:none;stroke:#000;stroke-linecap:round;stroke-linejoin:round}\
         path.fill{stroke:none}path.paper{fill:#fff;stroke:none}\
         text{font-family:'rodwright sheet',sans-serif;font-kerning:none;\
         font-variant-ligatures:none;white-space:pre}text.b{font-weight:600}",
    );
    let used = subset::used(std::slice::from_ref(sheet));
    if used.keys().any(|of| of.further) {
        rules.push_str("text.f{font-family:'rodwright further',sans-serif}");
    }
    for (of, used) in &used {
        if let Some(font) = webfont::complete(used, *of) {
            let boldness = if of.weight == Weight::SemiBold { 600 } else { 400 };
            let family = if of.further { "rodwright further" } else { "rodwright sheet" };
            let face = format!(
                "@font-face{{font-family:'{family}';font-weight:{boldness};\
                 src:url(data:font/ttf;base64,{})}}",
                STANDARD.encode(&font)
            );
            rules.push_str(&face);
        }
    }
    rules
}

/// What the mark shows, so that a page can style it and answer a click.
fn note(shape: &mut Element, mark: &Mark) {
    let shows = &mark.shows;
    let attributes = shape.get_attributes_mut();
    if !shows.part.is_empty() {
        attributes.insert("data-part".into(), clean(&shows.part).into());
    }
    if shows.dimension > 0 {
        attributes.insert("data-dimension".into(), shows.dimension.into());
    }
    if shows.view > 0 {
        attributes.insert("data-view".into(), shows.view.into());
    }
}

fn shapes(mark: &Mark) -> Vec<Element> {
    match &mark.ink {
        Ink::Stroke { path, pen } => stroke(path, pen),
        Ink::Fill { path, grey } => {
            let level = (f64::from(*grey).clamp(0.0, 1.0) * 255.0).round();
            let shade = format!("rgb({0},{0},{0})", short(level));
            vec![element(
                "path",
                &[("class", "fill"), ("d", &outline(path)), ("style", &format!("fill:{shade}"))],
            )]
        }
        Ink::Text(text) => lettering(text),
    }
}

fn stroke(path: &kurbo::BezPath, pen: &Pen) -> Vec<Element> {
    let width = short(pen.width);
    if pen.dash.is_empty() {
        return vec![element("path", &[("d", &outline(path)), ("stroke-width", &width)])];
    }
    dashes::pieces(path)
        .iter()
        .map(|piece| {
            let mut shape = element("path", &[("d", &outline(piece)), ("stroke-width", &width)]);
            let fitted = dashes::fitted(pen, piece);
            if !fitted.is_empty() {
                let list = fitted.iter().map(|d| short(*d)).collect::<Vec<_>>().join(" ");
                shape.get_attributes_mut().insert("stroke-dasharray".into(), list.into());
            }
            shape
        })
        .collect()
}

/// A line of text, piece by piece where it was set.
fn lettering(text: &Text) -> Vec<Element> {
    let laid = text.line();
    let start = text.start(laid.width);
    let turn = text.turn.rem_euclid(360.0);
    let place = if turn == 0.0 {
        format!("translate({} {})", short(start.x), short(start.y))
    } else {
        format!("translate({} {})rotate({})", short(start.x), short(start.y), short(-turn))
    };
    let mut group = element("g", &[("transform", &place)]);
    // Where a fraction or sign breaks the line into pieces, readers still get it whole.
    if laid.pieces.len() > 1 || laid.pieces.iter().any(|p| !matches!(p.what, Set::Chars(_))) {
        group.get_attributes_mut().insert("aria-label".into(), clean(&text.reading()).into());
    }
    let (usual, further) = (FaceOf::usual(text.weight), FaceOf::further(text.weight));
    let face = Lettering::of(text.weight);
    let mut add = |shape| svg::Node::append(&mut group, shape);
    for piece in &laid.pieces {
        match &piece.what {
            Set::Chars(s) => {
                add(letters(s, usual, face.size(text.height), Point::new(piece.x, 0.0), piece.width));
            }
            Set::Further(s) => {
                let size = Lettering::of_face(further).size(text.height);
                add(letters(s, further, size, Point::new(piece.x, 0.0), piece.width));
            }
            Set::Fraction { num, den, bar } => {
                let size = face.size(text.height * crate::paper::lettering::FRACTION_HEIGHT);
                for figure in [num, den] {
                    let at = Point::new(piece.x + figure.x, -figure.y);
                    add(letters(&figure.digits, usual, size, at, figure.width));
                }
                let [from, to] = [bar.p0, bar.p1].map(|p| short(piece.x + p.x));
                let d = format!("M{from} {}H{to}", short(-bar.p0.y));
                add(element("path", &[("d", &d), ("stroke-width", &short(text.height * BAR_WIDTH))]));
            }
            Set::Sign { path, .. } => {
                let moved = kurbo::Affine::translate((piece.x, 0.0)) * kurbo::Affine::FLIP_Y * path.clone();
                add(element(
                    "path",
                    &[("d", &outline(&moved)), ("stroke-width", &short(text.height * BAR_WIDTH))],
                ));
            }
        }
    }
    vec![group]
}

fn letters(words: &str, of: FaceOf, size: f64, at: Point, width: f64) -> Element {
    let mut shape = element(
        "text",
        &[
            ("x", &short(at.x)),
            ("y", &short(at.y)),
            ("font-size", &short(size)),
            ("textLength", &short(width)),
        ],
    );
    let class = match (of.weight, of.further) {
        (Weight::Regular, false) => "",
        (Weight::SemiBold, false) => "b",
        (Weight::Regular, true) => "f",
        (Weight::SemiBold, true) => "b f",
    };
    if !class.is_empty() {
        shape.get_attributes_mut().insert("class".into(), class.into());
    }
    svg::Node::append(&mut shape, Words::new(clean(words)));
    shape
}

fn element(name: &str, attributes: &[(&str, &str)]) -> Element {
    let mut shape = Element::new(name);
    for (key, value) in attributes {
        shape.get_attributes_mut().insert((*key).into(), (*value).into());
    }
    shape
}

fn labelled(name: &str, words: &str) -> Element {
    let mut shape = Element::new(name);
    svg::Node::append(&mut shape, Words::new(words));
    shape
}

/// Without the control characters that XML 1.0 forbids.
fn clean(words: &str) -> String {
    words.chars().filter(|c| !c.is_control() && !matches!(c, '\u{fffe}' | '\u{ffff}')).collect()
}

/// Path data with our own numbers.
fn outline(path: &kurbo::BezPath) -> String {
    use kurbo::PathEl;
    let mut d = String::new();
    let mut step = |letter: char, points: &[Point]| {
        d.push(letter);
        for (i, p) in points.iter().enumerate() {
            if i > 0 {
                d.push(' ');
            }
            d.push_str(&short(p.x));
            d.push(' ');
            d.push_str(&short(p.y));
        }
    };
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(p) => step('M', &[p]),
            PathEl::LineTo(p) => step('L', &[p]),
            PathEl::QuadTo(a, p) => step('Q', &[a, p]),
            PathEl::CurveTo(a, b, p) => step('C', &[a, b, p]),
            PathEl::ClosePath => step('Z', &[]),
        }
    }
    d
}
