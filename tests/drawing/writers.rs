//! Writers: SVG and PDF of one demonstration sheet, read back.

use kurbo::{Circle, Point, Rect, Shape};
use lopdf::content::Content;
use lopdf::{Document, Object};
use rodwright::output::{pdf, svg};
use rodwright::paper::{Anchor, Mark, Pen, Role, Run, Sheet, Text, dash};

use crate::support::assert_near;

/// Every role once, text turned and stacked, dashes, fills and masks.
pub(crate) fn demonstration() -> Sheet {
    let mut marks = Vec::new();
    for (i, role) in Role::ALL.into_iter().enumerate() {
        let y = 20.0 + 8.0 * i as f64;
        let dash = match role {
            Role::Hidden => dash::HIDDEN,
            Role::Centre => dash::CENTRE,
            Role::Phantom => dash::PHANTOM,
            _ => dash::SOLID,
        };
        let pen = Pen { width: if role == Role::Outline { 0.5 } else { 0.25 }, dash };
        marks.push(Mark::line(Point::new(30.0, y), Point::new(130.0, y), pen, role));
        marks.push(Mark::text(Text::plain(Point::new(140.0, y + 1.0), role.name(), 2.5), Role::Note));
    }
    let runs =
        vec![Run::Plain("Ø 23".into()), Run::Fraction { num: 5, den: 8 }, Run::Plain("″ ± 45°".into())];
    marks.push(Mark::text(Text::new(Point::new(30.0, 200.0), runs.clone(), 3.5), Role::DimensionText));
    marks.push(Mark::text(Text::new(Point::new(190.0, 100.0), runs, 3.5).turned(90.0), Role::DimensionText));
    let title =
        Text::plain(Point::new(105.0, 270.0), "A < B & “C” Ångström", 7.0).anchored(Anchor::Middle).bold();
    marks.push(Mark::text(title, Role::Title));
    let ring = Circle::new((60.0, 230.0), 20.0).to_path(0.001);
    marks.push(Mark::fill(ring.clone(), 0.8, Role::Hatch));
    marks.push(Mark::mask(Rect::new(50.0, 226.0, 70.0, 234.0)));
    marks.push(Mark::stroke(ring, Pen { width: 0.7, dash: dash::SOLID }, Role::CutOutline));
    Sheet {
        number: "1".into(),
        title: "Demonstration".into(),
        bookmarks: vec![("Circle".into(), Point::new(60.0, 210.0))],
        width: 210.0,
        height: 297.0,
        space: Rect::new(20.0, 10.0, 200.0, 287.0),
        paper: "A4",
        marks,
        full_size: true,
    }
}

fn written() -> Vec<u8> {
    let info =
        pdf::Info { title: "Saltmarsh".into(), author: "Marram Workshop".into(), subject: "set".into() };
    pdf::write(&[demonstration(), demonstration()], &info).unwrap()
}

#[test]
fn two_documents_of_one_process_are_the_same_bytes() {
    assert_eq!(written(), written());
    assert_eq!(svg::write(&demonstration()), svg::write(&demonstration()));
}

#[test]
fn a_line_of_100_mm_is_100_mm_in_the_page_contents() {
    let bytes = written();
    let document = Document::load_mem(&bytes).unwrap();
    let page = *document.get_pages().get(&1).unwrap();
    let content = Content::decode(&document.get_page_content(page)).unwrap();
    let number = |o: &Object| f64::from(o.as_float().unwrap());
    let mut from = None;
    let mut found = 0;
    for op in &content.operations {
        match op.operator.as_str() {
            "m" => from = Some(number(&op.operands[0])),
            "l" => {
                let length = (number(&op.operands[0]) - from.unwrap()) / 72.0 * 25.4;
                if length > 50.0 {
                    // PDF 32000-1, 8.3.2.3: the default unit is 1/72 inch.
                    assert_near(length, 100.0, 0.001);
                    found += 1;
                }
            }
            _ => {}
        }
    }
    assert_eq!(found, Role::ALL.len());
}

#[test]
fn the_text_of_a_page_is_the_text_meant() {
    let bytes = written();
    let document = Document::load_mem(&bytes).unwrap();
    let text = document.extract_text(&[1]).unwrap();
    for words in ["dimension-text", "± 45°", "A < B & “C” Ångström"] {
        assert!(text.contains(words), "{words:?} in {text:?}");
    }
}

#[test]
fn the_svg_is_strict_xml_at_true_size() {
    let text = svg::write(&demonstration());
    let document = roxmltree::Document::parse(&text).unwrap();
    let root = document.root_element();
    assert_eq!(root.attribute("width"), Some("210mm"));
    assert_eq!(root.attribute("viewBox"), Some("0 0 210 297"));
    let line = root
        .descendants()
        .find(|n| n.has_tag_name("g") && n.attribute("class") == Some("outline"))
        .and_then(|g| g.first_element_child())
        .unwrap();
    assert_eq!(line.attribute("d"), Some("M30 36L130 36"));
    let words: String =
        root.descendants().filter(|n| n.has_tag_name("text")).filter_map(|n| n.text()).collect();
    assert!(words.contains("A < B & “C” Ångström"));
    assert!(text.len() < 60_000, "{}", text.len());
}

/// A sheet with only these marks.
fn bare(marks: Vec<Mark>) -> Sheet {
    Sheet { marks, bookmarks: vec![], ..demonstration() }
}

/// The decoded operations of the first page of a PDF.
fn operations(bytes: &[u8]) -> Vec<lopdf::content::Operation> {
    let document = Document::load_mem(bytes).unwrap();
    let page = *document.get_pages().get(&1).unwrap();
    Content::decode(&document.get_page_content(page)).unwrap().operations
}

#[test]
fn ink_without_a_place_spoils_no_file() {
    let pen = Pen { width: 0.25, dash: dash::HIDDEN };
    let good = Mark::line(Point::new(30.0, 30.0), Point::new(60.0, 30.0), pen, Role::Hidden);
    let mut bend = kurbo::BezPath::new();
    bend.move_to((30.0, 30.0));
    bend.curve_to((f64::INFINITY, 0.0), (50.0, 50.0), (f64::NAN, 1.0));
    let odd = vec![
        Mark::line(Point::new(f64::NAN, 30.0), Point::new(60.0, 30.0), pen, Role::Hidden),
        Mark::stroke(bend.clone(), pen, Role::Outline),
        Mark::fill(bend, f32::NAN, Role::Hatch),
        Mark::stroke(kurbo::BezPath::new(), pen, Role::Outline),
        Mark::text(Text::plain(Point::new(30.0, f64::NEG_INFINITY), "x", 2.5), Role::Note),
        Mark::text(Text::plain(Point::new(30.0, 40.0), "x", f64::NAN), Role::Note),
        Mark::text(Text::plain(Point::new(30.0, 40.0), "", 2.5), Role::Note),
        Mark::text(Text::plain(Point::new(30.0, 40.0), "\u{0}\u{7}\u{fffe}א\u{202e}🙂", 2.5), Role::Note),
        good,
    ];
    let sheet = bare(odd);
    let text = svg::write(&sheet);
    roxmltree::Document::parse(&text).unwrap();
    assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
    let info = pdf::Info { title: "\u{0}א (odd) \\".into(), ..pdf::Info::default() };
    let bytes = pdf::write(&[sheet], &info).unwrap();
    let lines = operations(&bytes).iter().filter(|o| o.operator == "l").count();
    assert!(lines >= 1, "what has a place is drawn");
    assert!(pdf::write(&[], &info).is_ok(), "a set without sheets is still a file");
}

#[test]
fn a_fraction_is_read_whole() {
    let runs = vec![Run::Plain("23".into()), Run::Fraction { num: 5, den: 8 }, Run::Plain("″".into())];
    let sheet = bare(vec![Mark::text(Text::new(Point::new(30.0, 30.0), runs, 2.5), Role::DimensionText)]);
    let svg = svg::write(&sheet);
    assert!(svg.contains("aria-label=\"23 5/8″\""), "{svg}");
    let bytes = pdf::write(&[sheet], &pdf::Info::default()).unwrap();
    let spans: Vec<String> = operations(&bytes)
        .iter()
        .filter(|o| o.operator == "BDC" && o.operands[0].as_name().is_ok_and(|n| n == b"Span"))
        .map(|o| {
            let actual = o.operands[1].as_dict().unwrap().get(b"ActualText").unwrap().as_str().unwrap();
            let units: Vec<u16> = actual[2..].chunks(2).map(|c| u16::from_be_bytes([c[0], c[1]])).collect();
            String::from_utf16(&units).unwrap()
        })
        .collect();
    // PDF 32000-1, 14.9.4: ActualText replaces what the span shows.
    assert_eq!(spans.concat().trim(), "5/8");
}

#[test]
fn a_mask_is_hidden_with_what_it_clears_the_ground_for() {
    let pen = Pen { width: 0.5, dash: dash::SOLID };
    let sheet = bare(vec![
        Mark::line(Point::new(30.0, 30.0), Point::new(60.0, 30.0), pen, Role::Outline),
        Mark::mask(Rect::new(40.0, 28.0, 50.0, 32.0)),
        Mark::text(Text::plain(Point::new(41.0, 31.0), "900", 2.5), Role::DimensionText),
    ]);
    let bytes = pdf::write(&[sheet], &pdf::Info::default()).unwrap();
    let mut layer = Vec::new();
    let mut drawn = Vec::new();
    for op in operations(&bytes) {
        match op.operator.as_str() {
            "BDC" => layer.push(format!("{:?}", op.operands[1])),
            "EMC" => drop(layer.pop()),
            "S" | "f" | "Tj" => drawn.push((op.operator, layer.clone())),
            _ => {}
        }
    }
    let names: Vec<&str> = drawn.iter().map(|(o, _)| o.as_str()).collect();
    assert_eq!(names, ["S", "f", "Tj"]);
    assert_eq!(drawn[1].1, drawn[2].1, "mask and figure lie in one layer");
    assert_ne!(drawn[0].1, drawn[1].1);
}

#[test]
fn bookmarks_layers_and_print_scale_are_set() {
    let document = Document::load_mem(&written()).unwrap();
    assert_eq!(document.version, "1.7");
    let catalog = document.catalog().unwrap();
    assert_eq!(catalog.get(b"PageMode").unwrap().as_name().unwrap(), b"UseOutlines");
    let preferences = catalog.get(b"ViewerPreferences").unwrap().as_dict().unwrap();
    // PDF 32000-1, table 150: no scaling, so that a ruler can be laid on the print.
    assert_eq!(preferences.get(b"PrintScaling").unwrap().as_name().unwrap(), b"None");
    let toc = document.get_toc().unwrap().toc;
    let lines: Vec<(usize, &str, usize)> = toc.iter().map(|e| (e.level, e.title.as_str(), e.page)).collect();
    let (sheet, place) = ("1  Demonstration", "Circle");
    assert_eq!(lines, [(1, sheet, 1), (2, place, 1), (1, sheet, 2), (2, place, 2)]);
    let layers = document
        .objects
        .values()
        .filter_map(|o| o.as_dict().ok())
        .filter(|d| d.get(b"Type").and_then(Object::as_name).is_ok_and(|n| n == b"OCG") && d.has(b"Name"))
        .count();
    assert_eq!(layers, rodwright::paper::Layer::ALL.len());
    let info = document.trailer.get(b"Info").and_then(|i| document.dereference(i)).unwrap().1;
    let info = info.as_dict().unwrap();
    assert!(!info.has(b"CreationDate") && !info.has(b"ModDate"), "no clock in the file");
}

/// Writes the sheet for a look; see DEVELOPERS.md.
#[test]
#[ignore = "writes files to look at"]
fn write_the_demonstration() {
    let folder = std::env::temp_dir().join("rodwright-demonstration");
    std::fs::create_dir_all(&folder).unwrap();
    std::fs::write(folder.join("sheet.pdf"), written()).unwrap();
    std::fs::write(folder.join("sheet.svg"), svg::write(&demonstration())).unwrap();
}
