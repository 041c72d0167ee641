//! What outside programs see of a set: renders of SVG and PDF compared, text in
//! reading order, sizes measured on the render of full-size pages.
//!
//! They need `pdftoppm` and `pdftotext`, which `.ci/run` installs; it runs these
//! tests by `--ignored`, so that `cargo test` alone needs no outside program and
//! says what it leaves out. A program that is not there fails them.

use std::fs;
use std::path::Path;
use std::process::Command;

use rodwright::draw;
use rodwright::drawing::{Look, Paper, Profile};
use rodwright::measure::Unit;
use rodwright::output::{pdf, svg};
use rodwright::paper::{Ink, Mark, Role, Sheet};

use crate::support::sets::{scripts, worked};

/// A picture in grey, 0 black to 255 white.
struct Picture {
    wide: usize,
    high: usize,
    grey: Vec<u8>,
}

impl Picture {
    /// Reads a binary PGM.
    fn read(path: &Path) -> Self {
        let bytes = fs::read(path).unwrap();
        let mut fields = Vec::new();
        let mut at = 0;
        while fields.len() < 4 {
            let end = at + bytes[at..].iter().position(u8::is_ascii_whitespace).unwrap();
            fields.push(String::from_utf8(bytes[at..end].to_vec()).unwrap());
            at = end + 1;
        }
        assert_eq!((&*fields[0], &*fields[3]), ("P5", "255"), "{}", path.display());
        let (wide, high) = (fields[1].parse().unwrap(), fields[2].parse().unwrap());
        let grey = bytes[at..].to_vec();
        assert_eq!(grey.len(), wide * high);
        Self { wide, high, grey }
    }

    /// Keeps it for looking at, as a PGM.
    fn keep(&self, name: &str) {
        let mut bytes = format!("P5\n{} {}\n255\n", self.wide, self.high).into_bytes();
        bytes.extend(&self.grey);
        fs::write(Path::new(env!("CARGO_TARGET_TMPDIR")).join(name).with_extension("pgm"), bytes).unwrap();
    }

    fn dark(&self, x: usize, y: usize) -> bool {
        self.grey[y * self.wide + x] < 140
    }
}

fn run(program: &str, arguments: &[&str]) -> String {
    let done = Command::new(program).args(arguments).output();
    let done = done.unwrap_or_else(|e| panic!("`{program}` cannot be run ({e}); .ci/run installs it"));
    assert!(done.status.success(), "{program} {arguments:?}: {}", String::from_utf8_lossy(&done.stderr));
    String::from_utf8_lossy(&done.stdout).into_owned()
}

/// A page of a PDF in grey at so many pixels to the inch.
fn render(document: &Path, page: usize, resolution: usize) -> Picture {
    let (page, resolution) = (page.to_string(), resolution.to_string());
    let stem = document.with_file_name("page");
    let (document, name) = (document.to_string_lossy(), stem.to_string_lossy());
    run("pdftoppm", &["-gray", "-singlefile", "-r", &resolution, "-f", &page, "-l", &page, &document, &name]);
    Picture::read(&stem.with_extension("pgm"))
}

fn sheets(script: &str, look: &Look) -> Vec<Sheet> {
    let (job, parts) = worked(script, &[]);
    draw(&job, &parts, look).sheets
}

fn written(sheets: &[Sheet], to: &Path) {
    let info =
        pdf::Info { title: "Saltmarsh".into(), author: "Marram Workshop".into(), subject: "set".into() };
    fs::write(to, pdf::write(sheets, &info).unwrap()).unwrap();
}

/// Share of pixels of `a` with no like pixel of `b` next to them.
fn astray(a: &Picture, b: &Picture) -> f64 {
    let near = |x: usize, y: usize, dark: bool| {
        (y.saturating_sub(1)..=(y + 1).min(b.high - 1))
            .any(|v| (x.saturating_sub(1)..=(x + 1).min(b.wide - 1)).any(|u| b.dark(u, v) == dark))
    };
    let all = (0..a.high.min(b.high)).flat_map(|y| (0..a.wide.min(b.wide)).map(move |x| (x, y)));
    let (mut ink, mut lost) = (0_usize, 0_usize);
    for (x, y) in all.filter(|(x, y)| a.dark(*x, *y)) {
        ink += 1;
        lost += usize::from(!near(x, y, true));
    }
    assert!(ink > 1000, "a sheet with hardly any ink");
    lost as f64 / ink as f64
}

/// A sheet's SVG as a renderer shows it that shares no code with ours or with the
/// PDF's, at so many pixels to the inch. It takes no letters from inside a
/// document, so it is given the project's fonts by their own name.
fn render_svg(sheet: &Sheet, resolution: usize) -> Picture {
    use resvg::{tiny_skia, usvg};
    let mut options = usvg::Options { dpi: resolution as f32, ..usvg::Options::default() };
    for font in ["Regular", "SemiBold"] {
        let file = format!("src/paper/fonts/IBMPlexSansCondensed-{font}.ttf");
        let letters = fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join(file)).unwrap();
        options.fontdb_mut().load_font_data(letters);
    }
    let text = svg::write(sheet).replace("rodwright sheet", "IBM Plex Sans Condensed");
    let tree = usvg::Tree::from_str(&text, &options).unwrap();
    let size = tree.size().to_int_size();
    let mut map = tiny_skia::Pixmap::new(size.width(), size.height()).unwrap();
    resvg::render(&tree, tiny_skia::Transform::default(), &mut map.as_mut());
    let grey = map.pixels().iter().map(|p| p.red().midpoint(p.green())).collect();
    Picture { wide: size.width() as usize, high: size.height() as usize, grey }
}

/// Both writers show the same ink: no dark pixel of the one, at 150 to the inch,
/// is without a dark one of the other beside it, but for a few in a thousand at
/// the ends of dashes and in the smallest letters. Two renderers see them, resvg
/// the SVG and poppler the PDF.
#[test]
#[ignore = "needs pdftoppm; .ci/run runs it"]
fn svg_and_pdf_renders_agree() {
    let folder = tempfile::tempdir().unwrap();
    let (mut compared, mut wrong) = (0, Vec::new());
    for (script, look) in [
        ("periodicals_cabinet", Look::new(Paper::A3, Unit::Mm, Profile::Iso)),
        ("notice_frame", Look::new(Paper::Letter, Unit::Inch, Profile::Asme)),
    ] {
        let sheets = sheets(script, &look);
        let document = folder.path().join("set.pdf");
        written(&sheets, &document);
        for (page, sheet) in (1..).zip(&sheets) {
            let (ours, theirs) = (render(&document, page, 150), render_svg(sheet, 150));
            assert!(
                ours.wide.abs_diff(theirs.wide) <= 1 && ours.high.abs_diff(theirs.high) <= 1,
                "{script} {page}: {} x {} against {} x {}",
                ours.wide,
                ours.high,
                theirs.wide,
                theirs.high
            );
            let worst = astray(&ours, &theirs).max(astray(&theirs, &ours));
            if worst > 0.006 {
                for (name, picture) in [("pdf", &ours), ("svg", &theirs)] {
                    picture.keep(&format!("{script}-{page}-{name}"));
                }
                wrong.push(format!("{script} sheet {page}: {worst:.4} of the ink differs"));
            }
            compared += 1;
        }
    }
    assert!(wrong.is_empty(), "pictures in {}\n{}", env!("CARGO_TARGET_TMPDIR"), wrong.join("\n"));
    assert!(compared > 20, "only {compared} sheets compared");
}

/// Words as they stand, white space aside.
fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Words without any space between.
fn bare(text: &str) -> String {
    text.split_whitespace().collect()
}

/// Every title and note of every sheet comes out of the PDF as written, and each
/// row of the cutting list on one line, from the number to the last figure.
#[test]
#[ignore = "needs pdftotext; .ci/run runs it"]
fn text_comes_out_in_reading_order() {
    let folder = tempfile::tempdir().unwrap();
    let document = folder.path().join("set.pdf");
    let mut rows = 0;
    for script in scripts() {
        let sheets = sheets(&script, &Look::new(Paper::A3, Unit::Mm, Profile::Iso));
        written(&sheets, &document);
        for (page, sheet) in (1..).zip(&sheets) {
            let page = page.to_string();
            let name = document.to_string_lossy();
            let text = run("pdftotext", &["-layout", "-f", &page, "-l", &page, &name, "-"]);
            let all = squeezed(&text);
            let texts = || {
                sheet.marks.iter().filter_map(|m| match &m.ink {
                    Ink::Text(text) if text.turn == 0.0 => Some((m, text)),
                    Ink::Text(_) | Ink::Stroke { .. } | Ink::Fill { .. } => None,
                })
            };
            for (_, title) in texts().filter(|(m, _)| m.role == Role::Title) {
                let words = squeezed(&title.reading());
                let found = words.split(' ').all(|word| all.contains(word));
                assert!(found, "{script} sheet {page}: `{words}` is not in\n{text}");
            }
            // Parts may share its sheet.
            if !sheet.title.split("; ").any(|title| title == "Cutting list") {
                continue;
            }
            for (_, number) in texts().filter(|(m, t)| m.role == Role::Note && m.shows.part == t.reading()) {
                let mut cells: Vec<(f64, String)> = texts()
                    .filter(|(m, t)| m.role == Role::Note && (t.at.y - number.at.y).abs() < 0.01)
                    .map(|(_, t)| (t.bounds().x0, squeezed(&t.reading())))
                    .collect();
                cells.sort_by(|a, b| a.0.total_cmp(&b.0));
                let row = cells.into_iter().map(|c| c.1).collect::<Vec<_>>().join(" ");
                assert!(
                    // Thin spaces within a figure may come out as none.
                    text.lines().any(|line| bare(line).contains(&bare(&row))),
                    "{script}: no line reads `{row}`\n{text}"
                );
                rows += 1;
            }
        }
    }
    assert!(rows > 15, "only {rows} rows looked for");
}

/// Pixels to the inch at which a millimetre is ten pixels.
const FINE: usize = 254;

/// Middles of the dark stretches along a scan line at `at`, from pixel `from` to
/// `to`.
fn lines_across(picture: &Picture, upright: bool, at: usize, (from, to): (usize, usize)) -> Vec<f64> {
    let dark = |i: usize| if upright { picture.dark(at, i) } else { picture.dark(i, at) };
    let mut found = Vec::new();
    let mut start = None;
    for i in from..=to {
        match (dark(i), start) {
            (true, None) => start = Some(i),
            (false, Some(first)) => {
                found.push((first + i - 1) as f64 / 2.0);
                start = None;
            }
            _ => {}
        }
    }
    found
}

fn pixels(mm: f64) -> usize {
    (mm * 10.0).round() as usize
}

/// A dimension line with its figure's value: across or up the sheet.
fn sized(marks: &[Mark]) -> Vec<(kurbo::Line, f64)> {
    let line = |m: &Mark| match &m.ink {
        Ink::Stroke { path, .. } => {
            let b = kurbo::Shape::bounding_box(path);
            Some(kurbo::Line::new((b.x0, b.y0), (b.x1, b.y1)))
        }
        Ink::Fill { .. } | Ink::Text(_) => None,
    };
    marks
        .iter()
        .filter(|m| m.role == Role::Dimension)
        .filter_map(|m| {
            let value = marks
                .iter()
                .filter(|t| t.role == Role::DimensionText && t.shows.dimension == m.shows.dimension)
                .find_map(|t| t.shows.value)?;
            Some((line(m)?, value))
        })
        .collect()
}

/// On a full-size page of details, laid under a rule, extension lines are as far
/// apart as the figure between them says, and the page is as large as its paper.
#[test]
#[ignore = "needs pdftoppm; .ci/run runs it"]
fn full_size_details_measure_what_they_say() {
    let folder = tempfile::tempdir().unwrap();
    let document = folder.path().join("set.pdf");
    let mut measured = 0;
    for script in scripts() {
        let sheets = sheets(&script, &Look::new(Paper::A3, Unit::Mm, Profile::Iso));
        // A section beside them has sizes too, at a scale of its own.
        let alone = |title: &str| title.ends_with("joint details") && !title.contains("section");
        let page = sheets.iter().position(|s| s.full_size && alone(&s.title));
        let Some(page) = page else { continue };
        written(&sheets, &document);
        let picture = render(&document, page + 1, FINE);
        assert!(picture.wide.abs_diff(4200) <= 1 && picture.high.abs_diff(2970) <= 1);
        for (line, value) in sized(&sheets[page].marks) {
            let upright = (line.p1.x - line.p0.x).abs() < 1e-6;
            let long = (line.p1 - line.p0).hypot();
            // Details at other scales share the sheet; those with heads inside are
            // as long as they say at full size.
            if (long - value).abs() > 0.02 || value < 10.0 {
                continue;
            }
            // Extension lines run 2 mm past the dimension line: 1 mm past it they
            // stand alone.
            let (along, across) = if upright {
                ((line.p0.y, line.p1.y), line.p0.x)
            } else {
                ((line.p0.x, line.p1.x), line.p0.y)
            };
            let span = (pixels(along.0 - 1.0), pixels(along.1 + 1.0));
            let either = [-1.0, 1.0].map(|by| lines_across(&picture, upright, pixels(across + by), span));
            let found = either
                .iter()
                .filter_map(|l| Some(l.last()? - l.first()?))
                .find(|d| (d - 10.0 * value).abs() < 2.0);
            assert!(found.is_some(), "{script}: {value} mm reads {either:?} at {along:?}, {across}");
            measured += 1;
        }
    }
    assert!(measured >= 3, "only {measured} sizes measured");
}

/// The check bars of a full-size template are 100 mm long on the page.
#[test]
#[ignore = "needs pdftoppm; .ci/run runs it"]
fn check_bars_measure_a_hundred_millimetres() {
    let folder = tempfile::tempdir().unwrap();
    let document = folder.path().join("set.pdf");
    let mut measured = 0;
    for script in scripts() {
        let sheets = sheets(&script, &Look::new(Paper::A4, Unit::Mm, Profile::Iso));
        let template = sheets.iter().position(|s| s.full_size && s.title.starts_with("Template"));
        if let Some(sheet) = template {
            let page = sheet + 1;
            let bar = |m: &Mark| match &m.ink {
                Ink::Stroke { path, .. } => {
                    let b = kurbo::Shape::bounding_box(path);
                    ((b.width() - 100.0).abs() < 1e-6 && b.height() < 4.5).then_some(b)
                }
                Ink::Fill { .. } | Ink::Text(_) => None,
            };
            let Some(bar) = sheets[sheet].marks.iter().find_map(bar) else {
                panic!("{script} sheet {page} has no check bar")
            };
            written(&sheets, &document);
            let picture = render(&document, page, FINE);
            let y = pixels(bar.center().y);
            // The longest dark stretch near the bar, to half a line width at each end.
            let dark = |x: usize| (y - 4..=y + 4).any(|v| picture.dark(x, v));
            let from = (0..picture.wide).skip(pixels(bar.x0 - 1.0)).find(|x| dark(*x)).unwrap();
            let long = (from..picture.wide).take_while(|x| dark(*x)).count() as f64;
            assert!(
                (1000.0..=1008.0).contains(&long),
                "{script} sheet {page}: {long} tenths of a millimetre"
            );
            measured += 1;
        }
    }
    assert!(measured >= 1, "no template measured");
}
